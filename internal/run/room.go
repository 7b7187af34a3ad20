package run

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// leastRoom is the smallest closed space that is called a room; less is a
// shaft's corner or the gap between two walls. Source: common practice, none
// published.
const leastRoom = measure.Metre / 2 // side of a square of that area

// roomName is what a job file calls a room by: its name, or its number.
func roomName(r *plan.Room) string {
	if r.Name != "" {
		return r.Name
	}
	return r.Number
}

// ring is a closed chain of edges, the space inside on its left.
type ring struct {
	edges   []*edge
	outline geom.Poly
	storey  string
	drawing int
}

// findRooms tells every edge its room: the one whose own outline lies before it,
// as models tell them, else that of the closed space it is round. Rooms of the
// plan without an outline get that of their space; a space that no room of the
// plan is in becomes a room.
func (bld *builder) findRooms() {
	bld.set.Rooms = slices.Clone(bld.p.Rooms)
	outlines, names := outlinesOf(bld.p.Rooms), namesOf(bld.p.Rooms)
	for _, b := range bld.bands {
		for k := range b.sides {
			for i := range b.sides[k].edges {
				if e := &b.sides[k].edges[i]; !e.hidden() {
					e.room = bld.roomBeside(outlines, b, e, k)
				}
			}
		}
	}
	for _, r := range bld.rings() {
		if twiceArea(r.outline) < 2*float64(leastRoom)*float64(leastRoom) {
			continue // the outside, or too small
		}
		i := bld.roomIn(names, r)
		if i < 0 && !slices.ContainsFunc(r.edges, func(e *edge) bool { return e.room >= 0 }) {
			i = len(bld.set.Rooms)
			bld.set.Rooms = append(bld.set.Rooms, plan.Room{Storey: r.storey, At: within(r.outline)})
		}
		if i < 0 { // the model's rooms lie before its edges and have their names elsewhere
			i = r.edges[slices.IndexFunc(r.edges, func(e *edge) bool { return e.room >= 0 })].room
		}
		if len(bld.set.Rooms[i].Outline) == 0 {
			bld.set.Rooms[i].Outline = r.outline
		}
		for _, e := range r.edges {
			if e.space = i; e.room < 0 {
				e.room = i
			}
		}
	}
}

// roomBeside returns the room of the plan whose own outline lies before the
// middle of an edge, −1 for none: a model tells spaces that walls do not close,
// and several within one that they do.
func (bld *builder) roomBeside(outlines *boxes, b *band, e *edge, k int) int {
	w := b.half() + beside
	if k == 1 {
		w = -w
	}
	p := b.pointAt((e.from+e.to)/2, w)
	return outlines.first(p, func(i int) bool {
		q := &bld.p.Rooms[i]
		return (q.Storey == b.storey || q.Storey == "") && inside(q.Outline, p)
	})
}

// beside is how far before a face its room is looked for.
const beside = 100 * measure.Millimetre

// within returns a point inside a counter-clockwise outline, beside the middle
// of its longest edge.
func within(outline geom.Poly) geom.Pt {
	var best line
	var longest Length
	for i, p := range outline {
		if l, n := lineThrough(p, outline[(i+1)%len(outline)]); n > longest {
			best, longest = l, n
		}
	}
	return best.at(longest/2, beside)
}

// roomIn returns the room of the plan that a ring goes round, by where its name
// stands; of several the first. −1 for none.
func (bld *builder) roomIn(names *places, r ring) int {
	return names.first(r.outline.Bounds(), func(i int) bool {
		q := &bld.p.Rooms[i]
		return (q.Storey == r.storey || q.Storey == "") && inside(r.outline, q.At)
	})
}

// roomOf returns the name of the room an edge is in, "" if unknown.
func (bld *builder) roomOf(e *edge) string {
	if e.room < 0 {
		return ""
	}
	return roomName(&bld.set.Rooms[e.room])
}

// enter tells a face which room and which closed space its edge is in.
func (bld *builder) enter(f *Face, e *edge) {
	f.Room = bld.roomOf(e)
	if f.Space = f.Room; e.space >= 0 {
		f.Space = roomName(&bld.set.Rooms[e.space])
	}
}

// rings returns every closed chain of edges, in the order of their lower left
// points.
//
// With the space on the left one walks into a node along the right side of an
// arm and out along the left side of the arm across the wedge.
func (bld *builder) rings() []ring {
	type key struct {
		b *band
		k int
		i int
	}
	seen := map[key]bool{}
	var out []ring
	for _, b := range bld.bands {
		for k := range b.sides {
			for i := range b.sides[k].edges {
				if seen[key{b, k, i}] || b.sides[k].edges[i].passed {
					continue
				}
				r := ring{storey: b.storey, drawing: b.drawing}
				at := key{b, k, i}
				for !seen[at] {
					seen[at] = true
					e := &at.b.sides[at.k].edges[at.i]
					r.edges = append(r.edges, e)
					r.outline = append(r.outline, at.b.trace(e, at.k)...)
					o := e.ends[1-at.k].to // the left side is walked along the stations, the right against them
					side, idx := o.bandSide(0), o.sides[0].edge
					at = key{o.b, side, idx}
				}
				r.outline = distinct(r.outline)
				if len(r.outline) >= 3 {
					out = append(out, r)
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b ring) int {
		p, q := a.outline.Bounds().Min, b.outline.Bounds().Min
		return cmp.Or(cmp.Compare(a.storey, b.storey), cmp.Compare(p.Y, q.Y), cmp.Compare(p.X, q.X))
	})
	return out
}

// trace returns the points of an edge in the order it is walked with its space
// on the left.
func (b *band) trace(e *edge, k int) []geom.Pt {
	n := Length(1)
	if b.arc != nil {
		n = 1 + (e.to-e.from).Abs()/(100*measure.Millimetre)
	}
	w := b.half()
	if k == 1 {
		w = -w
	}
	var out []geom.Pt
	for i := Length(0); i <= n; i++ {
		out = append(out, b.pointAt(e.from+geom.MulDiv(e.to-e.from, i, n), w))
	}
	if k == 1 {
		reverse(out)
	}
	return out
}

// distinct drops points that repeat the one before.
func distinct(p geom.Poly) geom.Poly {
	var out geom.Poly
	for _, q := range p {
		if n := len(out); n == 0 || out[n-1] != q {
			out = append(out, q)
		}
	}
	for len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	return out
}

// twiceArea returns twice the signed area of a polygon, in square units;
// counter-clockwise positive. A float is enough for a sign and a threshold.
func twiceArea(p geom.Poly) float64 {
	var sum float64
	for i := range p {
		a, b := p[i].Sub(p[0]), p[(i+1)%len(p)].Sub(p[0])
		sum += float64(float64(a.X)*float64(b.Y)) - float64(float64(b.X)*float64(a.Y))
	}
	return sum
}
