package quantity

import (
	"sort"

	"boardrun/internal/geom"
	"boardrun/internal/layout"
	"boardrun/internal/run"
)

// work places the screws of one piece.
type work struct {
	s    *Screwer
	l    *layout.Layout
	p    *layout.Piece
	pat  Pattern
	box  geom.Rect
	low  bool // lowest row: its track row is counted apart
	tack bool // stands tacked until the run stands
	out  []Screw
}

// mark is one screw of a line, before it is placed.
type mark struct {
	v       Length
	opening bool
}

// line places the screws of one stud line: the ordinary positions from the
// piece's bottom to its top, those in holes left out; beside a hole the closer
// ones instead.
func (w *work) line(index int, ln studLine) {
	free := board(w.p, ln.u, w.s.set.EdgeDistance)
	if len(free) == 0 {
		return
	}
	step, place := w.pat.Field, PlaceField
	if ln.edge {
		step, place = w.pat.Edge, PlaceEdge
	}
	marks := w.ordinary(ln.u, step, free)
	for _, r := range ln.holes {
		marks = w.beside(marks, ln.u, r, step, free)
	}
	marks = w.fit(marks, free)
	item := w.s.item(w.l, w.p, ln.stud)
	first := len(w.out)
	for _, m := range marks {
		sc := Screw{At: geom.Pt{X: ln.u, Y: m.v}, Place: place, Item: item, Line: index}
		if m.opening {
			sc.Place = PlaceOpening
		}
		w.out = append(w.out, sc)
	}
	w.tackLine(w.out[first:], ln.edge)
}

// ordinary returns the positions of an undisturbed line. First screw: one
// spacing up in the lowest row, else TopScrew above the joint. Topmost: the
// slip line, one spacing under a fixed top track, TopScrew under a joint; a
// line that ends at a hole just runs out.
func (w *work) ordinary(u, step Length, free []span) []mark {
	base, top := w.box.Min.Y, w.topAt(u, free)
	f := w.s.set.TopScrew
	if w.low {
		f = step
	}
	limit := top - base
	openEnded := false
	switch {
	case w.underHole(u, top):
		openEnded = true
	case w.reachesTop(u, top) && w.p.Face.Head == run.Slip:
		limit -= w.s.set.SlipLeg + w.s.set.SlipClear
	case w.reachesTop(u, top):
		limit -= step
	default:
		limit -= w.s.set.TopScrew
	}
	limit = min(limit, w.highest(u)-base)
	var marks []mark
	if openEnded {
		for v := f; v <= limit; v += step {
			marks = append(marks, mark{v: base + v})
		}
		return marks
	}
	for _, v := range line(f, step, limit) {
		marks = append(marks, mark{v: base + v})
	}
	return marks
}

// topAt is where the board ends at u itself; free, taken a little to both
// sides of u, ends lower under a slope.
func (w *work) topAt(u Length, free []span) Length {
	top := free[len(free)-1].hi
	for _, c := range crossings(w.p.Outline, u) {
		if c.hi >= top && c.lo < top {
			return c.hi
		}
	}
	return top
}

// highest is the slip line of the face at u: nothing is screwed above it.
func (w *work) highest(u Length) Length {
	v := w.p.Face.Top.At(u)
	if w.p.Face.Head == run.Slip {
		v -= w.s.set.SlipLeg + w.s.set.SlipClear
	}
	return v
}

// headReach is how near to the face's top a piece ends that reaches it; a top
// is rounded once, so this only guards the measuring step.
const headReach = inch / 2

func (w *work) reachesTop(u, v Length) bool {
	return len(w.p.Face.Top) > 0 && v >= w.p.Face.Top.At(u)-headReach
}

// underHole reports whether the board at u ends at v because a hole begins.
func (w *work) underHole(u, v Length) bool {
	for i := range w.p.Face.Holes {
		r := w.p.Face.Holes[i].Rect
		if u > r.Min.X && u < r.Max.X && (v-r.Min.Y).Abs() < headReach {
			return true
		}
	}
	return false
}

// beside replaces the positions along a hole's side by n(8, 8, height of the
// side) measured from the side's bottom. Under a sill, where that leaves more
// than one spacing down to the next screw, one stands at the sill.
func (w *work) beside(marks []mark, u Length, r geom.Rect, step Length, free []span) []mark {
	base, top := free[0].lo, w.topAt(u, free)
	lo, hi := max(r.Min.Y, base), min(r.Max.Y, top)
	if hi <= lo || w.pat.Opening == 0 {
		return marks
	}
	f, height := w.pat.Opening, hi-lo
	if lo == w.box.Min.Y && !w.low {
		f = w.s.set.TopScrew
	}
	if hi == top {
		height -= w.s.set.TopScrew
	}
	height = min(height, w.highest(u)-lo)
	kept := marks[:0:0]
	for _, m := range marks {
		if m.v < lo || m.v > hi {
			kept = append(kept, m)
		}
	}
	for _, v := range line(f, w.pat.Opening, height) {
		kept = append(kept, mark{lo + v, true})
	}
	below := base
	for _, m := range kept {
		if m.v < lo && m.v > below {
			below = m.v
		}
	}
	if lo > base && lo+f-below > step {
		kept = append(kept, mark{lo, true})
	}
	sort.Slice(kept, func(i, k int) bool { return kept[i].v < kept[k].v })
	for i := 1; i+1 < len(kept); i++ { // an ordinary one just above a hole's last moves between its neighbours
		if !kept[i].opening && kept[i].v-kept[i-1].v < tooClose {
			kept[i].v = (kept[i-1].v + kept[i+1].v) / 2
		}
	}
	return kept
}

// tooClose is how near two screws of a line tear the board between them.
// Source: common practice, no source.
const tooClose = 2 * inch

// fit drops the marks in holes and moves those too near to a hole's head or
// sill off it.
func (w *work) fit(marks []mark, free []span) []mark {
	edge := w.s.set.EdgeDistance
	var out []mark
	for _, m := range marks {
		for _, c := range free {
			if m.v < c.lo || m.v > c.hi || c.hi-c.lo < 2*edge {
				continue
			}
			m.v = min(max(m.v, c.lo+edge), c.hi-edge)
			if n := len(out); n == 0 || out[n-1].v < m.v {
				out = append(out, m)
			}
			break
		}
	}
	return out
}

// tackLine marks the tack pass of one line of a sheet that stands: its topmost
// screw sets the stud; a joint edge takes one every TackEdge below it.
func (w *work) tackLine(line []Screw, edge bool) {
	if len(line) == 0 {
		return
	}
	line[len(line)-1].Tack = true
	if !edge {
		return
	}
	last := w.box.Min.Y
	for i := 0; i+1 < len(line); i++ {
		if line[i+1].At.Y-last > w.s.set.TackEdge {
			line[i].Tack = true
			last = line[i].At.Y
		}
	}
}

// rows places the rows that run along the wall: floor track, fixed top track,
// heads and sills of holes.
func (w *work) rows() {
	set := w.s.set
	item := w.s.item(w.l, w.p, nil)
	add := func(u, v Length, place string) {
		w.out = append(w.out, Screw{At: geom.Pt{X: u, Y: v}, Place: place, Item: item, Line: -1, Tack: place == PlaceTrack})
	}
	if w.low {
		for _, f := range feet(w.p) {
			for _, u := range row(f.lo, f.hi, w.pat.Track, set.EdgeDistance, w.s.metric) {
				add(u, w.box.Min.Y+set.TopScrew, PlaceTrack)
			}
		}
	}
	if w.p.Face.Head == run.FixedTop {
		for _, u := range row(w.box.Min.X, w.box.Max.X, w.pat.Track, set.EdgeDistance, w.s.metric) {
			if c := board(w.p, u, set.EdgeDistance); len(c) > 0 && w.reachesTop(u, c[len(c)-1].hi) {
				add(u, c[len(c)-1].hi-set.TopScrew, PlaceTop)
			}
		}
	}
	if w.pat.Opening > 0 {
		for i := range w.p.Face.Holes {
			r := w.p.Face.Holes[i].Rect
			for _, u := range between(r.Min.X, r.Max.X, w.pat.Opening) {
				w.across(u, r.Max.Y, r.Max.Y+set.TopScrew, add)
				w.across(u, r.Min.Y, r.Min.Y-set.TopScrew, add)
			}
		}
	}
}

// across places one screw of a head or sill row where this piece covers it,
// moved off the piece's sides.
func (w *work) across(u, hole, v Length, add func(u, v Length, place string)) {
	edge := w.s.set.EdgeDistance
	if u < w.box.Min.X || u >= w.box.Max.X || v > w.highest(u) {
		return
	}
	u = min(max(u, w.box.Min.X+edge), w.box.Max.X-edge)
	lo, hi := hole, v+edge // over a head
	if v < hole {
		lo, hi = v-edge, hole // under a sill
	}
	for _, c := range crossings(w.p.Outline, u) {
		if c.lo <= lo && c.hi >= hi {
			add(u, v, PlaceOpening)
			return
		}
	}
}
