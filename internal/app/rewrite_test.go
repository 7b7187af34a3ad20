package app

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"boardrun/internal/dxf"
	"boardrun/internal/report"
)

// The sample drawings are rewritten as text: group codes in, group codes out,
// nothing of the importer in between.

type pair struct {
	code  int
	value string
}

// placed is one entity of modelspace with what follows it (ATTRIBs, SEQEND).
type placed []pair

func (e placed) kind() string { return e[0].value }

func (e placed) text(code int) string {
	for _, p := range e {
		if p.code == code {
			return p.value
		}
	}
	return ""
}

// drawn is a drawing as text.
type drawn struct {
	head, tail []pair // up to and with ENTITIES; from its ENDSEC on
	entities   []placed
}

func readDrawn(t *testing.T, path string) *drawn {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s, err := dxf.NewScanner(path, bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	d := &drawn{}
	state := &d.head
	for s.Next() {
		p := pair{s.Code, string(s.Bytes())}
		switch {
		case state != nil:
			*state = append(*state, p)
			if state == &d.head && p == (pair{2, "ENTITIES"}) {
				state = nil
			}
		case p == (pair{0, "ENDSEC"}):
			state = &d.tail
			d.tail = append(d.tail, p)
		case p.code == 0 && p.value != "ATTRIB" && p.value != "SEQEND":
			d.entities = append(d.entities, placed{p})
		default:
			k := len(d.entities) - 1
			d.entities[k] = append(d.entities[k], p)
		}
	}
	if s.Err() != nil || s.Truncated() && len(d.tail) == 0 {
		t.Fatal(path, s.Err())
	}
	return d
}

func (d *drawn) bytes() []byte {
	var b bytes.Buffer
	write := func(list []pair) {
		for _, p := range list {
			fmt.Fprintf(&b, "%3d\n%s\n", p.code, p.value)
		}
	}
	write(d.head)
	for _, e := range d.entities {
		write(e)
	}
	write(d.tail)
	if n := len(d.tail); d.tail[n-1] != (pair{0, "EOF"}) {
		write([]pair{{0, "EOF"}})
	}
	return b.Bytes()
}

// header sets a variable of the header.
func (d *drawn) header(name, value string) {
	for i := range d.head {
		if d.head[i] == (pair{9, name}) {
			d.head[i+1].value = value
		}
	}
}

func num(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}

// digits are enough to give the same float again.
func digits(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// motion maps a drawing: x' = a·x + b·y + e, y' = c·x + d·y + f, times scale.
type motion struct {
	a, b, c, d, e, f float64
	scale            float64
}

var (
	still        = motion{a: 1, d: 1, scale: 1}
	quarter      = motion{b: -1, c: 1, scale: 1}
	half         = motion{a: -1, d: -1, scale: 1}
	threeQuarter = motion{b: 1, c: -1, scale: 1}
	mirrorX      = motion{a: -1, d: 1, scale: 1}
)

func (m motion) point(x, y float64) (float64, float64) {
	return (m.a*x + m.b*y + m.e) * m.scale, (m.c*x + m.d*y + m.f) * m.scale
}

func (m motion) mirrors() bool { return m.a*m.d-m.b*m.c < 0 }

// angle of a direction of deg degrees.
func (m motion) angle(deg float64) float64 {
	x, y := math.Cos(deg*math.Pi/180), math.Sin(deg*math.Pi/180)
	a := math.Atan2(m.c*x+m.d*y, m.a*x+m.b*y) * 180 / math.Pi
	return math.Mod(math.Round(a*1e6)/1e6+360, 360)
}

// move maps every entity of modelspace. Blocks stay as they are: inserts carry
// scale and turn.
func (d *drawn) move(m motion) {
	for i := range d.entities {
		d.entities[i] = m.entity(d.entities[i])
	}
	for i := 0; i+2 < len(d.head); i++ {
		if v := d.head[i]; v == (pair{9, "$EXTMIN"}) || v == (pair{9, "$EXTMAX"}) {
			x, y := m.point(num(d.head[i+1].value), num(d.head[i+2].value))
			d.head[i+1].value, d.head[i+2].value = digits(x), digits(y)
		}
	}
}

func (m motion) entity(e placed) placed {
	out := append(placed(nil), e...)
	kind := ""
	turned := false
	for i := 0; i < len(out); i++ {
		p := &out[i]
		switch {
		case p.code == 0:
			if kind == "INSERT" && !turned {
				break
			}
			kind = p.value
		case p.code >= 10 && p.code <= 14 && i+1 < len(out) && out[i+1].code == p.code+10:
			if kind == "HATCH" && out[i+2].code == p.code+20 { // its elevation
				continue
			}
			x, y := m.point(num(p.value), num(out[i+1].value))
			p.value, out[i+1].value = digits(x), digits(y)
		case p.code == 40 && (kind == "CIRCLE" || kind == "ARC" || kind == "TEXT" || kind == "ATTRIB"):
			p.value = digits(num(p.value) * m.scale)
		case p.code == 50 && kind != "ARC":
			p.value = digits(m.angle(num(p.value)))
			turned = true
		}
	}
	return m.finish(out)
}

// finish adds what entities leave out where it is the default.
func (m motion) finish(e placed) placed {
	switch e.kind() {
	case "INSERT":
		return m.insert(e)
	case "ARC":
		i, k := e.index(50), e.index(51)
		from, to := m.angle(num(e[i].value)), m.angle(num(e[k].value))
		if m.mirrors() {
			from, to = to, from
		}
		e[i].value, e[k].value = digits(from), digits(to)
	}
	return e
}

func (e placed) index(code int) int {
	for i, p := range e {
		if i > 0 && p.code == 0 {
			break
		}
		if p.code == code {
			return i
		}
	}
	return -1
}

// insert sets turn and scale: a mirrored insert has its x scale the other way
// and is turned by what its mirrored x axis then points to.
func (m motion) insert(e placed) placed {
	scale := map[int]float64{41: m.scale, 42: m.scale, 43: m.scale}
	turn := m.angle(0)
	if m.mirrors() {
		scale[41] = -m.scale
		turn = math.Mod(turn+180, 360)
	}
	if i := e.index(50); i >= 0 { // m.angle has been applied to it
		turn = num(e[i].value)
		if m.mirrors() {
			turn = math.Mod(turn+180, 360)
		}
		e[i].value = digits(turn)
	} else if turn != 0 {
		at := e.index(43) + 1
		e = append(e[:at:at], append(placed{{50, digits(turn)}}, e[at:]...)...)
	}
	for code, s := range scale {
		i := e.index(code)
		e[i].value = digits(num(e[i].value) * s)
	}
	return e
}

// reverse draws every line from its other end.
func (d *drawn) reverse() {
	for i, e := range d.entities {
		if e.kind() != "LINE" {
			continue
		}
		out := append(placed(nil), e...)
		for k := range out {
			switch out[k].code {
			case 10, 20, 30:
				out[k].value = e.text(out[k].code + 1)
			case 11, 21, 31:
				out[k].value = e.text(out[k].code - 1)
			}
		}
		d.entities[i] = out
	}
}

// split draws every line in n pieces, each an entity of its own.
func (d *drawn) split(n int) {
	var list []placed
	handle := 0xA0000
	for _, e := range d.entities {
		if e.kind() != "LINE" {
			list = append(list, e)
			continue
		}
		at := func(lo, hi, k int) string {
			a, b := num(e.text(lo)), num(e.text(hi))
			if k == n {
				return digits(b)
			}
			return digits(a + (b-a)*float64(k)/float64(n))
		}
		for k := range n {
			out := append(placed(nil), e...)
			for i := range out {
				switch out[i].code {
				case 5:
					handle++
					out[i].value = fmt.Sprintf("%X", handle)
				case 10, 20:
					out[i].value = at(out[i].code, out[i].code+1, k)
				case 11, 21:
					out[i].value = at(out[i].code-1, out[i].code, k+1)
				}
			}
			list = append(list, out)
		}
	}
	d.entities = list
}

// variant is a sample with its drawings and its job file changed.
type variant struct {
	sample string
	draw   func(*drawn)
	job    func(string) string
	save   func(*drawn) []byte // nil: as text
	effort string
}

// files returns the job file and drawings by name.
func (v variant) files(t *testing.T) map[string][]byte {
	t.Helper()
	dir := filepath.Join("..", "..", "samples", v.sample)
	out := map[string][]byte{}
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range list {
		path := filepath.Join(dir, f.Name())
		switch filepath.Ext(f.Name()) {
		case ".dxf":
			d := readDrawn(t, path)
			if v.draw != nil {
				v.draw(d)
			}
			out[f.Name()] = d.bytes()
			if v.save != nil {
				out[f.Name()] = v.save(d)
			}
		case ".yaml":
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if v.job != nil {
				changed := v.job(string(b))
				if changed == string(b) {
					t.Fatal("the job file has not what is to be changed")
				}
				b = []byte(changed)
			}
			out[f.Name()] = b
		case ".csv": // the job's price list
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			out[f.Name()] = b
		}
	}
	return out
}

// write puts the variant into a folder of its own.
func (v variant) write(t *testing.T) (jobFile, dir string) {
	t.Helper()
	dir = t.TempDir()
	for name, b := range v.files(t) {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(dir, "job.yaml"), dir
}

// take takes the variant off.
func (v variant) take(t *testing.T) (*report.Takeoff, error) {
	t.Helper()
	path, _ := v.write(t)
	effort := v.effort
	if effort == "" {
		effort = "quick"
	}
	p := &pipeline{effort: effort, out: io.Discard}
	return p.run(context.Background(), path)
}

func (v variant) must(t *testing.T) *report.Takeoff {
	t.Helper()
	out, err := v.take(t)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// replace is a change of the job file.
func replace(pairs ...string) func(string) string {
	return func(s string) string { return strings.NewReplacer(pairs...).Replace(s) }
}

var listLine = regexp.MustCompile(`(?m)^  list: .*\n`)

// withoutList takes the price list out of a job.
func withoutList(s string) string { return listLine.ReplaceAllString(s, "") }

var plainTakeoffs = map[string]*report.Takeoff{}

// plain is a sample as it is, rewritten but not changed. It is shared: not to be
// written to.
func plain(t *testing.T, name string) *report.Takeoff {
	t.Helper()
	if plainTakeoffs[name] == nil {
		plainTakeoffs[name] = variant{sample: name}.must(t)
	}
	return plainTakeoffs[name]
}

// long asks for the tests that take minutes.
func long() bool { return os.Getenv("BOARDRUN_LONG") != "" }

// someSamples are the samples that a short run looks at.
func someSamples() []string {
	if testing.Short() {
		return bothSamples[:1]
	}
	return bothSamples
}
