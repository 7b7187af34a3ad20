package trace

import (
	"math"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/internal/measure"
)

// looseSwings finds door swings drawn line by line on a layer that says nothing:
// a quarter circle of a door's radius with a leaf of that length from its centre
// to one of its ends. Found so, and only where it is hinged in a wall and closes
// along it, is it a door; furniture has arcs too, so what stands in no wall is
// left alone and not told.
func (t *tracer) looseSwings() {
	var arcs []int
	for i := range t.d.Arcs {
		a := &t.d.Arcs[i]
		sweep := a.End - a.Start
		if _, role := t.roleOf(&a.Common); role != Background || a.Full || a.Hidden && !t.opt.Hidden || a.Radius < 550 || a.Radius > 1300 ||
			sweep < 75 || sweep > 105 || !finite(a.Centre) || len(t.hostOf(a.Handle)) > 0 {
			continue
		}
		arcs = append(arcs, i)
	}
	if len(arcs) == 0 {
		return
	}
	var leaves boxIndex
	for i := range t.d.Segments {
		s := &t.d.Segments[i]
		if _, role := t.roleOf(&s.Common); role != Background && role != Doors || !finite(s.A) || !finite(s.B) {
			continue
		}
		if l := math.Hypot(s.A[0]-s.B[0], s.A[1]-s.B[1]); l > 450 && l < 1400 {
			leaves.add(int32(i), t.local(s.A[0], s.A[1]), t.local(s.B[0], s.B[1]))
		}
	}
	for _, i := range arcs {
		a := &t.d.Arcs[i]
		if !t.hasLeaf(&leaves, a) || !t.inRegion(a.Centre, a.Centre) {
			continue
		}
		id := int32(len(t.src))
		t.src = append(t.src, source{c: &a.Common, class: -1, role: Doors})
		t.marks.swings = append(t.marks.swings, bend{t.local(a.Centre[0], a.Centre[1]), measure.FromMM(a.Radius), a.Start, a.End, id})
		if t.looseSrc == nil {
			t.looseSrc = map[int32]bool{}
		}
		t.looseSrc[id] = true
	}
}

// hasLeaf reports whether a line as long as the radius runs from near the centre
// of an arc to near one of its ends.
func (t *tracer) hasLeaf(leaves *boxIndex, a *linework.Arc) bool {
	const near = 60.0 // mm: the thickness of a leaf, and the stop it closes against
	found := false
	at := func(deg float64) orb.Point {
		x := deg * math.Pi / 180
		return orb.Point{a.Centre[0] + a.Radius*math.Cos(x), a.Centre[1] + a.Radius*math.Sin(x)}
	}
	is := func(p, q orb.Point) bool { return math.Hypot(p[0]-q[0], p[1]-q[1]) <= near }
	p, q := at(a.Start), at(a.End)
	leaves.search(measure.FromMM(near), func(i int32) {
		s := &t.d.Segments[i]
		for _, e := range [2]orb.Point{p, q} {
			found = found || is(s.A, a.Centre) && is(s.B, e) || is(s.B, a.Centre) && is(s.A, e)
		}
	}, t.local(a.Centre[0], a.Centre[1]))
	return found
}

// loose reports whether a host is made of loose swings alone.
func (t *tracer) loose(h *host) bool {
	for _, s := range h.swings {
		if !t.looseSrc[t.marks.swings[s].src] {
			return false
		}
	}
	return h.insert < 0
}
