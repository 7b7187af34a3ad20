package layout

import (
	"encoding/binary"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/run"
)

// What any layout must hang. A bound on all layouts of a job prices the board
// they take and asks for the cheapest; Ways tells it what there is to choose
// from, without saying which choices go together: every ply by itself, every
// place of its joints, every set of horizontal joints. What it leaves out (joints
// of two plies kept apart, joints on one grid of studs) only makes the real
// choice narrower, so the cheapest of these ways is no dearer than any layout.

// Blank is the least that one piece takes of a sheet, before notches: so wide,
// so high at its left and at its right. Turn: it may lie across the sheet.
type Blank struct {
	Width, Left, Right Length
	Turn               bool
}

// Column is the ways to cut one column.
type Column []Fill

// Fill is one way to cut a column: the blanks it takes and the length of
// horizontal joint in it, both at least.
type Fill struct {
	Blanks []Blank
	Level  Length
}

// key tells columns of equal fills alike.
func (c Column) key() string {
	var b []byte
	for _, f := range c {
		b = binary.AppendVarint(binary.AppendUvarint(b, uint64(len(f.Blanks))), int64(f.Level))
		for _, q := range f.Blanks {
			turn := int64(0)
			if q.Turn {
				turn = 1
			}
			for _, v := range [4]int64{int64(q.Width), int64(q.Left), int64(q.Right), turn} {
				b = binary.AppendVarint(b, v)
			}
		}
	}
	return string(b)
}

// Lane is a part of a ply between full-height frames and control joints: its
// different columns, and the ways to hang it, each the numbers of its columns.
type Lane struct {
	Columns []Column
	Ways    [][]int32
}

// PlyWays is the ways to hang one ply of one face: by choice of control joints
// the lanes. Where Open is set its ways are not listed, and nothing but its net
// area can be counted on.
type PlyWays struct {
	Face   *run.Face
	Ply    int
	Board  string
	Choice [][]Lane
	Open   bool
}

// waySteps is into how many steps a sheet's width is cut when its joints are
// moved along, fewSteps the same with Quick: each step stands for all places in
// it and counts the least of them.
const waySteps, fewSteps = 192, 48

// Ways lists the ways to hang the plies of r along the studs. Ends and reveals
// are strips that all layouts hang alike: they are one way. Plies hung in
// courses or in several boards are left open.
func Ways(r *run.Run, env Env) []PlyWays {
	w := newWall(r, env)
	w.settleBend()
	var out []PlyWays
	if len(w.plies) > 0 {
		sets := w.controlSets()
		if len(w.unbroken()) > 0 {
			sets = append(sets, w.shiftedControls()...)
		}
		stretches := w.stretches()
		cut := make([][]stretch, len(sets))
		for i, controls := range sets {
			cut[i] = stretches
			if len(controls) > 0 {
				cut[i] = w.withControls(stretches, controls)
			}
		}
		for _, p := range w.plies {
			out = append(out, w.plyWays(p, cut))
		}
	}
	for _, p := range w.strips {
		out = append(out, w.stripWays(p))
	}
	return out
}

func (w *wall) plyWays(p *ply, cut [][]stretch) PlyWays {
	out := PlyWays{Face: p.face, Ply: p.spec.Number, Board: p.board.Name}
	if w.alongStuds() && p.bands == nil {
		for _, stretches := range cut {
			if lanes := w.lanesOf(p, stretches); lanes != nil {
				out.Choice = append(out.Choice, lanes)
			}
		}
	}
	out.Open = out.Choice == nil
	return out
}

// alongStuds reports whether the run is hung along the studs alone.
func (w *wall) alongStuds() bool { return w.Layout == job.Vertical || !w.mayLie() }

// lanesOf lists the ways of the lanes of p; nil if one has none.
func (w *wall) lanesOf(p *ply, stretches []stretch) []Lane {
	var out []Lane
	for i := range stretches {
		for k := range stretches[i].lanes {
			ln := &stretches[i].lanes[k]
			if ln.ply != p {
				continue
			}
			l := laneWays{wall: w, lane: ln, seen: map[columnKey]int32{}, alike: map[string]int32{}, known: map[string]bool{}}
			if l.list(); len(l.out.Ways) == 0 {
				return nil
			}
			out = append(out, l.out)
		}
	}
	return out
}

// stripWays counts the pieces of a strip that are rectangles.
func (w *wall) stripWays(p *ply) PlyWays {
	var blanks []Blank
	for _, h := range w.strip(p) {
		if b := h.Outline.Bounds(); len(h.Outline) == 4 && h.Area == measure.Times(b.W(), b.H()) {
			blanks = append(blanks, Blank{Width: b.W(), Left: b.H(), Right: b.H(), Turn: true})
		}
	}
	lane := Lane{Columns: []Column{{{Blanks: blanks}}}, Ways: [][]int32{{0}}}
	return PlyWays{Face: p.face, Ply: p.spec.Number, Board: p.board.Name, Choice: [][]Lane{{lane}}}
}

// laneWays collects the ways of one lane.
type laneWays struct {
	*wall
	lane  *lane
	out   Lane
	seen  map[columnKey]int32
	alike map[string]int32 // columns by what they hold
	known map[string]bool  // ways
	whole bool             // the lane is one column
}

// columnKey is a column whose left side stands in [a0, a1], its right side in
// [b0, b1], under one set of horizontal joints.
type columnKey struct {
	a0, a1, b0, b1 Length
	rows           int
}

// list goes through the sets of horizontal joints and the places of the first
// joint, a step at a time.
func (l *laneWays) list() {
	ln, width := l.lane, l.lane.width
	var rows [][]Length
	for _, g := range l.rowGroups() {
		for _, s := range g {
			if v := s.of(ln.ply); !slices.ContainsFunc(rows, func(o []Length) bool { return slices.Equal(o, v) }) {
				rows = append(rows, v)
			}
		}
	}
	step := max(1, width/waySteps)
	if l.env.Effort == Quick {
		step = max(1, width/fewSteps)
	}
	for k, v := range rows {
		if ln.s1-ln.s0 <= width {
			l.whole = true
			l.add([]int32{l.column(columnKey{ln.s0, ln.s0, ln.s1, ln.s1, k}, v)})
			l.whole = false
		}
		for x := ln.s0; x < ln.s0+width; x += step {
			l.from(x, min(x+step, ln.s0+width), k, v)
		}
	}
}

// from lists the ways whose first joint stands in [x0, x1].
func (l *laneWays) from(x0, x1 Length, k int, rows []Length) {
	ln, r := l.lane, l.env.Rules
	if x1-ln.s0 < r.RipHard {
		return
	}
	var way []int32
	a0, a1 := ln.s0, ln.s0
	for b0, b1 := x0, x1; b0 <= ln.s1-r.RipHard; b0, b1 = b0+ln.width, b1+ln.width {
		if l.barred(b0, b1) {
			return
		}
		way = append(way, l.column(columnKey{a0, a1, b0, b1, k}, rows))
		a0, a1 = b0, min(b1, ln.s1-r.RipHard)
		if ln.s1-a1 <= ln.width {
			last := l.column(columnKey{a0, a1, ln.s1, ln.s1, k}, rows)
			l.add(append(slices.Clone(way), last))
		}
	}
}

// barred reports whether a joint may stand nowhere in [x0, x1].
func (l *laneWays) barred(x0, x1 Length) bool {
	band := max(l.env.Rules.JambBandHard, 1)
	for i := range l.lane.holes {
		h := &l.lane.holes[i]
		if !h.banded || l.lane.open(h) {
			continue
		}
		for _, e := range [2]Length{h.x0, h.x1} {
			if x0 > e-band && x1 < e+band {
				return true
			}
		}
	}
	return false
}

// add keeps a way unless a column of it cannot be cut, or it is known.
func (l *laneWays) add(way []int32) {
	key := make([]byte, 0, 4*len(way))
	sorted := slices.Clone(way)
	slices.Sort(sorted)
	for _, c := range sorted {
		if len(l.out.Columns[c]) == 0 {
			return
		}
		key = append(key, byte(c), byte(c>>8), byte(c>>16), byte(c>>24))
	}
	if !l.known[string(key)] {
		l.known[string(key)] = true
		l.out.Ways = append(l.out.Ways, sorted)
	}
}

// column returns the number of a column; columns of equal blanks share one.
func (l *laneWays) column(k columnKey, rows []Length) int32 {
	if n, ok := l.seen[k]; ok {
		return n
	}
	c := l.cut(k, rows)
	key := c.key()
	n, ok := l.alike[key]
	if !ok {
		n = int32(len(l.out.Columns))
		l.out.Columns = append(l.out.Columns, c)
		l.alike[key] = n
	}
	l.seen[k] = n
	return n
}

// cut lists the ways to cut a column: for every choice of the openings that may
// take its whole width, its parts above each other; for every part the joints
// that may run through it.
func (l *laneWays) cut(k columnKey, rows []Length) Column {
	p := l.lane.ply
	ways := []parting{{lo: p.bottom}}
	for i := range p.holes {
		h := &p.holes[i]
		if h.x0 > k.a1 || h.x1 < k.b0 {
			continue // no place of the column is all in it
		}
		may := h.x0 > k.a0 || h.x1 < k.b1
		var next []parting
		for _, q := range ways {
			if may {
				next = append(next, q)
			}
			under := q
			if h.y0 > q.lo {
				under.done = append(slices.Clone(q.done), [2]Length{q.lo, h.y0})
			}
			under.lo = max(h.y1, q.lo)
			next = append(next, under)
		}
		ways = next
	}
	var out Column
	for _, q := range ways {
		sum := Column{{}}
		for _, part := range q.done {
			sum = cross(sum, l.part(k, part[0], part[1], true, rows))
		}
		if q.lo < p.top.Max(k.a0, k.b1) {
			sum = cross(sum, l.part(k, q.lo, 0, false, rows))
		}
		out = append(out, sum...)
	}
	return out
}

// parting is a column cut at the openings over all its width: the parts below
// lo, and what begins there.
type parting struct {
	done [][2]Length
	lo   Length
}

// cross puts each of b on each of a.
func cross(a, b Column) Column {
	var out Column
	for _, x := range a {
		for _, y := range b {
			out = append(out, Fill{slices.Concat(x.Blanks, y.Blanks), x.Level + y.Level})
		}
	}
	return out
}

// part lists the ways to cut the part of a column from lo to hi, or to the top
// where level is not set: without a joint, at the lowest that runs through it,
// at the lowest two, and so on.
func (l *laneWays) part(k columnKey, lo, hi Length, level bool, rows []Length) Column {
	p, r := l.lane.ply, l.env.Rules
	long, high := hi, hi // the least its longest side, the most its shortest can be
	if !level {
		hi, long, high = p.top.Max(k.a0, k.b1), l.peak(k), p.top.Min(k.a1, max(k.a1, k.b0))
	}
	var cuts []Length
	for _, v := range rows {
		if v > lo && v < hi {
			cuts = append(cuts, v)
		}
	}
	var out Column
	for n := range len(cuts) + 1 {
		at, f, legal := lo, Fill{}, true
		for _, v := range cuts[:n] {
			f.Blanks = l.blanks(f.Blanks, k, at, v, true)
			if k.a1 < k.b0 {
				f.Level += max(0, p.levelLength(k.a1, k.b0, v))
			}
			legal = legal && v-at <= p.longest() && v-at >= r.TopHard
			at = v
		}
		if legal && long-at <= p.longest() && (n == 0 || high-at >= r.TopHard) {
			f.Blanks = l.blanks(f.Blanks, k, at, hi, level)
			out = append(out, f)
		}
	}
	return out
}

// peak returns the least that the greatest height of the top over the column
// can be, wherever the column stands.
func (l *laneWays) peak(k columnKey) Length {
	if k.a1 > k.b0 {
		return l.lane.top.Min(k.a0, k.b1)
	}
	return l.lane.top.Max(k.a1, k.b0)
}

// blanks appends what the bit of a column from lo to hi takes at least: as wide
// as the column at its narrowest, less what openings as high as the bit take.
func (l *laneWays) blanks(out []Blank, k columnKey, lo, hi Length, level bool) []Blank {
	p := l.lane.ply
	for _, leg := range p.legs { // what stands beside an opening is hung by itself: above it and below it only
		if leg.Min.X < k.b1 && leg.Max.X > k.a0 && leg.Min.Y < hi && leg.Max.Y > lo {
			if leg.Min.Y > lo {
				out = l.blanks(out, k, lo, leg.Min.Y, true)
			}
			if lo = leg.Max.Y; lo >= hi {
				return out
			}
		}
	}
	width := k.b0 - k.a1
	if k.a0 < k.a1 && k.b0 < k.b1 { // between two joints: a sheet, wherever it stands
		width = p.width
	}
	high := hi
	if !level {
		high = max(lo, p.top.Min(k.a0, k.b1))
	}
	gaps := l.gaps(k, lo, high)
	if len(gaps) > 0 || width <= 0 {
		return append(out, beside(k, gaps, high-lo)...)
	}
	b := Blank{Width: width, Left: high - lo, Right: high - lo, Turn: p.board.Square || l.whole}
	if !level && !slices.ContainsFunc(p.top, func(q geom.Pt) bool { return q.X > k.a0 && q.X < k.b1 }) {
		b.Left = max(0, min(p.top.At(k.a0), p.top.At(k.a1))-lo)
		b.Right = max(0, min(p.top.At(k.b0), p.top.At(k.b1))-lo)
	}
	if b.Left > 0 || b.Right > 0 {
		out = append(out, b)
	}
	return out
}

// gaps returns what openings take of the whole height of the bit of a column
// from lo to hi at some place, from left to right.
func (l *laneWays) gaps(k columnKey, lo, hi Length) [][2]Length {
	var out [][2]Length
	for i := range l.lane.holes {
		if h := &l.lane.holes[i]; h.y0 <= lo && h.y1 >= hi && h.x0 < k.b1 && h.x1 > k.a0 {
			out = append(out, [2]Length{h.x0, h.x1})
		}
	}
	return out
}

// beside returns the blanks so high that gaps leave of a column.
func beside(k columnKey, gaps [][2]Length, high Length) []Blank {
	var out []Blank
	at := k.a1
	for _, g := range append(gaps, [2]Length{k.b0, k.b0}) {
		if to := min(g[0], k.b0); to > at && high > 0 {
			out = append(out, Blank{Width: to - at, Left: high, Right: high, Turn: true})
		}
		at = max(at, g[1])
	}
	return out
}
