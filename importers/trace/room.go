package trace

import (
	"cmp"
	"math"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

// minRoom is the least area of a closed space that is told as a room; smaller
// ones are voids between walls. Source: common practice, none published.
const minRoom = 0.1 // m²

// rooms walks round every face of the net of axes, half a wall off it: the
// inner finished outline with all openings closed. Free ends of walls in a room
// are walked round.
func (t *tracer) rooms() {
	g := t.axisGraph()
	done := make([]bool, len(g.halfs))
	for i := range g.halfs {
		if done[i] {
			continue
		}
		var ring []int32
		for k := int32(i); !done[k]; k = g.next(k) {
			done[k] = true
			ring = append(ring, k)
		}
		poly := t.outline(g, ring)
		t.netArea -= areaM2(poly) // an outer outline runs clockwise
		if len(poly) < 3 || areaM2(poly) < minRoom || !t.simpleEnough(poly) {
			continue
		}
		out := make(geom.Poly, len(poly))
		for k, p := range poly {
			out[k] = t.global(p)
		}
		t.out.Rooms = append(t.out.Rooms, plan.Room{Storey: t.opt.Storey, Outline: canonical(out)})
	}
	slices.SortFunc(t.out.Rooms, func(a, b plan.Room) int {
		return cmp.Or(cmp.Compare(a.Outline[0].Y, b.Outline[0].Y), cmp.Compare(a.Outline[0].X, b.Outline[0].X), cmp.Compare(len(a.Outline), len(b.Outline)))
	})
	t.nameRooms()
}

// simpleEnough drops faces whose two sides touch: slivers between walls that
// overlap.
func (t *tracer) simpleEnough(p geom.Poly) bool {
	per := 0.0
	for i := range p {
		d := p[(i+1)%len(p)].Sub(p[i])
		per += math.Hypot(d.X.Metres(), d.Y.Metres())
	}
	return areaM2(p) > per*0.02 // narrower than about 4 cm
}

// outline offsets a ring of halves to the left by half a wall each and joins
// the offset lines at the corners.
func (t *tracer) outline(g *graph, ring []int32) geom.Poly {
	n := len(ring)
	corners := make([][]pt, n) // after ring[i]
	for i, k := range ring {
		m := ring[(i+1)%n]
		corners[i] = t.corner(g, &g.halfs[k], &g.halfs[m], m == k^1)
	}
	var out geom.Poly
	for i, k := range ring {
		t.faceLine(&g.halfs[k], corners[(i+n-1)%n], corners[i], &out)
		out = append(out, corners[i]...)
	}
	return tidy(cutLoops(tidy(out)))
}

// leftOf is the offset, in its frame, of the face on the left of a half.
func (t *tracer) leftOf(h *half) Length {
	w := &t.walls[h.wall]
	left := h.s1 > h.s0
	if t.bundles[w.fr].fr.polar { // r grows to the right of s
		left = !left
	}
	if left {
		return w.rb
	}
	return w.ra
}

// faceLine adds the points of a curved face between its corners.
func (t *tracer) faceLine(h *half, before, after []pt, out *geom.Poly) {
	w := &t.walls[h.wall]
	fr := &t.bundles[w.fr].fr
	if !fr.polar {
		return
	}
	s0, s1, r := h.s0, h.s1, t.leftOf(h)
	if len(before) > 0 {
		s0, _ = fr.to(before[len(before)-1])
	}
	if len(after) > 0 {
		s1, _ = fr.to(after[0])
	}
	if (s1 > s0) != (h.s1 > h.s0) {
		return
	}
	n := int(math.Abs(float64(s1-s0))/float64(fr.scale)/(2*math.Pi/180)) + 1
	for i := 1; i < n; i++ {
		*out = append(*out, fr.from(s0+(s1-s0)*Length(i)/Length(n), r))
	}
}

// corner returns the corner between the left faces of two halves that follow
// each other round a face.
func (t *tracer) corner(g *graph, a, b *half, turn bool) []pt {
	wa, wb := &t.walls[a.wall], &t.walls[b.wall]
	fa, fb := &t.bundles[wa.fr].fr, &t.bundles[wb.fr].fr
	ra, rb := t.leftOf(a), t.leftOf(b)
	switch {
	case turn: // round a free end
		return []pt{fa.from(a.s1, ra), fb.from(b.s0, rb)}
	case a.wall == b.wall: // straight on
		return nil
	case wa.fr == wb.fr:
		s := t.stepAt(g, a, b)
		return []pt{fa.from(s, ra), fb.from(s, rb)}
	}
	if p, ok := t.meetFaces(fa, ra, a.s1, fb, rb); ok {
		return []pt{p}
	}
	return []pt{fa.from(a.s1, ra), fb.from(b.s0, rb)}
}

// stepAt is the station where the face steps between two walls in line: at the
// node, or, where the thicker wall turns a corner there, at the far face of the
// wall it turns into.
func (t *tracer) stepAt(g *graph, a, b *half) Length {
	wa, wb := &t.walls[a.wall], &t.walls[b.wall]
	var across Length
	for _, k := range g.out[b.node] {
		w := &t.walls[g.halfs[k].wall]
		if w.fr != wa.fr {
			across = max(across, w.thick())
		}
	}
	walk := Length(1) // along the axis, or against it
	if a.s1 < a.s0 {
		walk = -1
	}
	if wa.thick() > wb.thick() {
		return a.s1 + walk*across/2
	}
	return a.s1 - walk*across/2
}

// meetFaces intersects face ra of frame fa, near station s, with face rb of fb.
func (t *tracer) meetFaces(fa *frame, ra, s Length, fb *frame, rb Length) (pt, bool) {
	at := s
	for range 20 { // one step for straight faces, Newton for curves
		so, ro := fb.to(fa.from(at, ra))
		ax, ay := fa.dir(at)
		bx, by := fb.dir(so)
		sin := float64(bx*ay) - float64(by*ax)
		if fb.polar { // r grows to the right
			sin = -sin
		}
		if math.Abs(sin) < 0.05 {
			return pt{}, false
		}
		step := fa.stretch(round(float64(rb-ro)/sin), ra)
		at += step
		if step.Abs() <= 1 || !fa.polar && !fb.polar {
			break
		}
	}
	if (at - s).Abs() > 4*maxThick {
		return pt{}, false
	}
	return fa.from(at, ra), true
}
