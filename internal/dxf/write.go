package dxf

import (
	"bufio"
	"io"
	"math"
	"strconv"
	"strings"
)

// Version is the release Write writes: 2013. Text is UTF-8 from 2007 on.
const Version = "AC1027"

// Write writes a drawing as ASCII DXF. The same drawing gives the same bytes.
// The error is about the first thing that cannot be written, nothing being
// written then, or from out.
func (d *Drawing) Write(out io.Writer) error {
	if err := d.check(); err != nil {
		return err
	}
	w := &writer{out: bufio.NewWriterSize(out, 64<<10), d: d, next: 0x100}
	w.number()
	w.header()
	w.section("CLASSES")
	w.group(0, "ENDSEC")
	w.tables()
	w.blocks()
	w.section("ENTITIES")
	w.entities(d.Entities, hModelRecord)
	w.group(0, "ENDSEC")
	w.objects()
	w.group(0, "EOF")
	if w.err != nil {
		return w.err
	}
	return w.out.Flush()
}

// Handles of what every drawing has.
const (
	hBlockTable  = 0x1
	hLayerTable  = 0x2
	hStyleTable  = 0x3
	hLtypeTable  = 0x5
	hViewTable   = 0x6
	hUCSTable    = 0x7
	hVportTable  = 0x8
	hAppidTable  = 0x9
	hDimTable    = 0xA
	hRoot        = 0xC
	hGroups      = 0xD
	hPlotStyles  = 0xE
	hPlotNormal  = 0xF
	hLayouts     = 0x1A
	hStyle       = 0x11
	hModelRecord = 0x1F
	hModelLayout = 0x22
	hPaperRecord = 0x58
	hPaperLayout = 0x59
)

// writer writes groups. Handles are given in the order of writing, those of
// blocks beforehand, because tables name them.
type writer struct {
	out  *bufio.Writer
	d    *Drawing
	err  error
	next uint64
	buf  []byte

	blockRecord map[string]uint64 // by name in upper case
	seed        uint64
}

// number gives block records their handles and finds the seed: one above the
// last handle. Every entity takes one; an insert with attributes takes one more
// for each and for its end.
func (w *writer) number() {
	w.blockRecord = map[string]uint64{}
	for _, b := range w.d.Blocks {
		w.blockRecord[strings.ToUpper(b.Name)] = w.handle()
	}
	n := w.next + uint64(len(w.d.Layers)+len(Linetypes)) + 20
	count := func(list []Entity) {
		for _, e := range list {
			n++
			if in, ok := e.(Insert); ok && len(in.Attribs) > 0 {
				n += uint64(len(in.Attribs)) + 1
			}
		}
	}
	count(w.d.Entities)
	for _, b := range w.d.Blocks {
		n += 2
		count(b.Entities)
	}
	w.seed = n + 16
}

func (w *writer) handle() uint64 {
	w.next++
	return w.next - 1
}

// group writes one group. Values are strings, whole numbers or float64;
// a uint64 is a handle.
func (w *writer) group(code int, value any) {
	b := w.buf[:0]
	if code < 10 {
		b = append(b, ' ')
	}
	if code < 100 {
		b = append(b, ' ')
	}
	b = strconv.AppendInt(b, int64(code), 10)
	b = append(b, '\n')
	switch v := value.(type) {
	case string:
		b = append(b, v...)
	case int:
		b = strconv.AppendInt(b, int64(v), 10)
	case uint64:
		b = append(b, strings.ToUpper(strconv.FormatUint(v, 16))...)
	case float64:
		b = appendReal(b, v)
	}
	w.buf = append(b, '\n')
	if _, err := w.out.Write(w.buf); err != nil && w.err == nil {
		w.err = err
	}
}

// groups writes pairs of a code and a value.
func (w *writer) groups(pairs ...any) {
	for i := 0; i < len(pairs); i += 2 {
		w.group(pairs[i].(int), pairs[i+1])
	}
}

// appendReal writes the shortest number that reads back the same, with a point
// and without an exponent.
func appendReal(b []byte, x float64) []byte {
	if x == 0 || math.IsNaN(x) {
		x = 0 // not "-0"
	}
	n := len(b)
	b = strconv.AppendFloat(b, x, 'f', -1, 64)
	for _, c := range b[n:] {
		if c == '.' {
			return b
		}
	}
	return append(b, ".0"...)
}

// escape writes text so that PlainText gives it back: signs that begin a code
// are doubled or spelled.
func escape(s string) string {
	if !strings.ContainsAny(s, `%^\`) {
		return s
	}
	s = strings.ReplaceAll(s, "^", "^ ")
	s = strings.ReplaceAll(s, `\U+`, `\U+005CU+`)
	s = strings.ReplaceAll(s, `\M+`, `\U+005CM+`)
	return strings.ReplaceAll(s, "%%", "%%%%%%")
}

func (w *writer) section(name string) { w.groups(0, "SECTION", 2, name) }

func (w *writer) header() {
	d := w.d
	lunits := d.LUnits
	if lunits == 0 {
		lunits = 2
	}
	lo, hi := d.extents()
	w.section("HEADER")
	w.groups(9, "$ACADVER", 1, Version, 9, "$DWGCODEPAGE", 3, "ANSI_1252",
		9, "$INSBASE", 10, 0.0, 20, 0.0, 30, 0.0,
		9, "$EXTMIN", 10, lo[0], 20, lo[1], 30, 0.0,
		9, "$EXTMAX", 10, hi[0], 20, hi[1], 30, 0.0,
		9, "$LTSCALE", 40, 1.0, 9, "$TEXTSTYLE", 7, "Standard", 9, "$CLAYER", 8, "0",
		9, "$DIMSTYLE", 2, "Standard", 9, "$LUNITS", 70, lunits, 9, "$LUPREC", 70, 4,
		9, "$INSUNITS", 70, d.InsUnits, 9, "$MEASUREMENT", 70, d.Measurement,
		9, "$HANDSEED", 5, w.seed, 0, "ENDSEC")
}

// extents bounds modelspace; circles, arcs and bulges by their whole circle,
// inserts by their point.
func (d *Drawing) extents() (lo, hi [2]float64) {
	lo, hi = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	add := func(x, y, r float64) {
		lo[0], lo[1] = math.Min(lo[0], x-r), math.Min(lo[1], y-r)
		hi[0], hi[1] = math.Max(hi[0], x+r), math.Max(hi[1], y+r)
	}
	vertices := func(v []Vertex) {
		for i, p := range v {
			q := v[(i+1)%len(v)]
			add(p.X, p.Y, 0)
			if b := math.Abs(p.Bulge); b > 0 { // the rise of the arc is b times half its chord
				add((p.X+q.X)/2, (p.Y+q.Y)/2, math.Max(b, 1)*math.Hypot(q.X-p.X, q.Y-p.Y)/2)
			}
		}
	}
	for _, e := range d.Entities {
		switch e := e.(type) {
		case Line:
			add(e.A[0], e.A[1], 0)
			add(e.B[0], e.B[1], 0)
		case Polyline:
			vertices(e.Vertices)
		case Arc:
			add(e.Centre[0], e.Centre[1], e.Radius)
		case Circle:
			add(e.Centre[0], e.Centre[1], e.Radius)
		case Text:
			add(e.At[0], e.At[1], 0)
		case Hatch:
			for _, r := range e.Rings {
				vertices(r)
			}
		case Insert:
			add(e.At[0], e.At[1], 0)
		}
	}
	if lo[0] > hi[0] {
		return [2]float64{}, [2]float64{}
	}
	return lo, hi
}
