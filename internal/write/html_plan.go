package write

import (
	"math"
	"sort"
	"strconv"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/report"
)

// tenths is how many of the page's units one millimetre has.
const tenths = 10

// farMM bounds what of a drawing is shown: what lies further from the walls is
// a slip of the hand or another sheet, and would cost the page its precision.
const farMM = 1e7

func itoa(i int) string { return strconv.Itoa(i) }

// plies names the boards of a side, base first: "2 × 5/8 type X".
func plies(boards []string) string {
	var out []string
	for i := 0; i < len(boards); {
		n := 1
		for i+n < len(boards) && boards[i+n] == boards[i] {
			n++
		}
		if n > 1 {
			out = append(out, itoa(n)+" × "+boards[i])
		} else {
			out = append(out, boards[i])
		}
		i += n
	}
	return strings.Join(out, " + ")
}

// axis is the middle line of a run; a curved one is a polyline.
func axis(r *report.Run) []report.UV {
	b := report.Band(r)
	n := len(b) / 2
	out := make([]report.UV, n)
	for i := range out {
		q := b[len(b)-1-i]
		out[i] = report.UV{(b[i][0] + q[0]) / 2, (b[i][1] + q[1]) / 2}
	}
	return out
}

// box is an extent in millimetres; the zero value is empty.
type box struct {
	lo, hi report.UV
	some   bool
}

func (b *box) add(p report.UV) {
	if !b.some {
		b.lo, b.hi, b.some = p, p, true
		return
	}
	for k := range p {
		b.lo[k], b.hi[k] = min(b.lo[k], p[k]), max(b.hi[k], p[k])
	}
}

func (b *box) pack(org report.UV) [4]int {
	return [4]int{unit(b.lo[0] - org[0]), unit(b.lo[1] - org[1]), unit(b.hi[0] - org[0]), unit(b.hi[1] - org[1])}
}

func unit(v report.MM) int { return int(math.Round(float64(v) * tenths)) }

func finite(p report.UV) bool {
	return !math.IsNaN(float64(p[0]+p[1])) && !math.IsInf(float64(p[0]), 0) && !math.IsInf(float64(p[1]), 0)
}

// storeys lists the storeys in the order their first wall or line comes, and
// gives each an origin in the middle of its walls.
func (p *page) storeys() {
	p.out.Storeys = []pageStorey{}
	fit := []box{}
	at := func(name string) int {
		i, ok := p.storey[name]
		if !ok {
			i = len(p.out.Storeys)
			p.storey[name] = i
			p.out.Storeys = append(p.out.Storeys, pageStorey{Name: name, Lines: []lineSet{}, Rooms: []pageRoom{}, Decks: []pageDeck{}, Stand: []pageStand{}})
			fit = append(fit, box{})
		}
		return i
	}
	for i := range p.t.Runs {
		s := at(p.t.Runs[i].Storey)
		for _, q := range p.band[i] {
			fit[s].add(q)
		}
	}
	for i := range p.t.Rooms {
		s := at(p.t.Rooms[i].Storey)
		for _, q := range p.t.Rooms[i].OutlineMM {
			fit[s].add(q)
		}
	}
	for i := range p.t.Standing {
		s := at(p.t.Standing[i].Storey)
		for _, q := range p.t.Standing[i].OutlineMM {
			if finite(q) {
				fit[s].add(q)
			}
		}
	}
	rest := make([]box, 0)
	for i := range p.t.Linework {
		l := &p.t.Linework[i]
		s := at(l.Storey)
		for len(rest) < len(fit) {
			rest = append(rest, box{})
		}
		for _, q := range l.Points {
			if !finite(q) {
				continue
			}
			if l.Use == "unread" {
				fit[s].add(q)
			}
			rest[s].add(q)
		}
	}
	if len(p.out.Storeys) == 0 {
		at("1")
	}
	for i := range fit {
		if !fit[i].some && i < len(rest) {
			fit[i] = rest[i]
		}
		s := &p.out.Storeys[i]
		for k := range s.org {
			s.org[k] = report.MM(math.Round(float64(fit[i].lo[k]+fit[i].hi[k]) / 2))
		}
		s.Fit = fit[i].pack(s.org)
	}
	p.files()
}

// files tells which storeys each drawing shows.
func (p *page) files() {
	seen := map[[2]string]bool{}
	add := func(file, storey string) {
		if s, ok := p.storey[storey]; ok && !seen[[2]string{file, storey}] {
			seen[[2]string{file, storey}] = true
			p.byFile[file] = append(p.byFile[file], s)
		}
	}
	for _, d := range p.t.Drawings {
		add(d.File, d.Storey)
	}
	for i := range p.t.Runs {
		for _, s := range p.t.Runs[i].Source {
			add(s.File, p.t.Runs[i].Storey)
		}
	}
}

// path packs a polyline: the first point, then the steps from point to point.
// Points that fall together are one.
func path(pts []report.UV, org report.UV) []int {
	out := make([]int, 0, 2*len(pts))
	x, y := 0, 0
	for _, q := range pts {
		if !finite(q) || math.Abs(float64(q[0]-org[0])) > farMM || math.Abs(float64(q[1]-org[1])) > farMM {
			continue
		}
		nx, ny := unit(q[0]-org[0]), unit(q[1]-org[1])
		if len(out) > 0 && nx == x && ny == y {
			continue
		}
		out = append(out, nx-x, ny-y)
		x, y = nx, ny
	}
	return out
}

// lines packs linework, rooms and decks.
func (p *page) lines() {
	type key struct {
		storey, layer int
		use           string
	}
	set := map[key]int{}
	all := make([]box, len(p.out.Storeys))
	for i := range p.t.Linework {
		l := &p.t.Linework[i]
		k := key{p.storey[l.Storey], p.layerOf(l.Layer), l.Use}
		s := &p.out.Storeys[k.storey]
		line := path(l.Points, s.org)
		if len(line) < 4 {
			continue
		}
		n, ok := set[k]
		if !ok {
			n = len(s.Lines)
			set[k] = n
			s.Lines = append(s.Lines, lineSet{Layer: k.layer, Use: k.use})
		}
		s.Lines[n].Paths = append(s.Lines[n].Paths, line)
		for _, q := range l.Points {
			if finite(q) && math.Abs(float64(q[0]-s.org[0])) <= farMM && math.Abs(float64(q[1]-s.org[1])) <= farMM {
				all[k.storey].add(q)
			}
		}
	}
	for i := range all {
		s := &p.out.Storeys[i]
		s.All = s.Fit
		if all[i].some {
			s.All = union(all[i].pack(s.org), s.Fit)
		}
	}
	for i := range p.t.Rooms {
		r := &p.t.Rooms[i]
		s := &p.out.Storeys[p.storey[r.Storey]]
		var more []string
		if r.AreaM2 > 0 {
			more = append(more, measure.OrderArea(float64(r.AreaM2), p.sys))
		}
		if r.CeilingMM > 0 {
			more = append(more, "ceiling "+p.long(r.CeilingMM))
		}
		s.Rooms = append(s.Rooms, pageRoom{strings.TrimSpace(r.Number + " " + r.Name), strings.Join(more, ", "), path(r.OutlineMM, s.org)})
	}
	for i := range p.t.Decks {
		d := &p.t.Decks[i]
		if n, ok := p.storey[d.Storey]; ok {
			s := &p.out.Storeys[n]
			s.Decks = append(s.Decks, pageDeck{d.Text, path(d.Outline, s.org)})
		}
	}
}

// standing packs what is not taken off, the longest first.
func (p *page) standing() {
	for i := range p.t.Standing {
		x := &p.t.Standing[i]
		s := &p.out.Storeys[p.storey[x.Storey]]
		q := pageStand{Kind: x.Kind, Text: x.Reason, Len: unit(x.LengthMM), Source: []string{}, Path: path(x.OutlineMM, s.org)}
		if x.LengthMM > 0 {
			q.Length = p.long(x.LengthMM)
		}
		for _, o := range x.Source[:min(len(x.Source), 6)] {
			q.Source = append(q.Source, handle(&o))
		}
		s.Stand = append(s.Stand, q)
	}
	for i := range p.out.Storeys {
		l := p.out.Storeys[i].Stand
		sort.SliceStable(l, func(a, b int) bool { return l[a].Len > l[b].Len })
	}
}

func union(a, b [4]int) [4]int {
	return [4]int{min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3])}
}

func (p *page) layerOf(name string) int {
	i, ok := p.layer[name]
	if !ok {
		i = len(p.out.Layers)
		p.layer[name] = i
		p.out.Layers = append(p.out.Layers, name)
	}
	return i
}
