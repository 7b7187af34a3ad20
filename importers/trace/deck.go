package trace

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// decks makes decks of the closed outlines on layers the job maps as decks: an
// outline with elevations gives the plane through three of its corners, one at
// elevation 0 only where the deck lies, which is told, since a plan seldom says
// how high.
func (t *tracer) decks() {
	var st []stroke
	z := map[pt]Length{}
	for i := range t.d.Segments {
		s := &t.d.Segments[i]
		if _, role := t.roleOf(&s.Common); role != Decks {
			continue
		}
		id, _ := t.enter(&s.Common, s.A, s.B)
		if id < 0 {
			continue
		}
		a, b := t.local(s.A[0], s.A[1]), t.local(s.B[0], s.B[1])
		st = append(st, stroke{a, b, id})
		z[a], z[b] = measure.FromMM(s.ZA), measure.FromMM(s.ZB)
	}
	for _, r := range rings(st) {
		d := plan.Deck{Storey: t.opt.Storey}
		for _, k := range r {
			d.Outline = append(d.Outline, t.global(st[k.stroke].end(k.back)))
			d.Sources = append(d.Sources, t.source(st[k.stroke].src))
			t.usedEnt[t.src[st[k.stroke].src].c.Entity] = true
		}
		if areaM2(d.Outline) < 0 {
			slices.Reverse(d.Outline)
		}
		d.Outline, d.Sources = canonical(d.Outline), sortSources(d.Sources)
		level := true
		for i, k := range spread(d.Outline) {
			p := d.Outline[k]
			d.Plane[i] = plan.Point3{X: p.X, Y: p.Y, Z: z[p.Sub(t.origin)]}
			level = level && d.Plane[i].Z == 0
		}
		if level {
			at := d.Outline[0]
			t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
				Severity: plan.Person, Code: CodeDeck, At: &at, Source: d.Sources[0],
				Message: "an outline on a deck layer has no elevation", Did: "its extent is kept; give the deck's height in the job"})
		}
		t.out.Decks = append(t.out.Decks, d)
	}
	slices.SortFunc(t.out.Decks, func(a, b plan.Deck) int {
		return cmp.Or(cmp.Compare(a.Outline[0].Y, b.Outline[0].Y), cmp.Compare(a.Outline[0].X, b.Outline[0].X), cmp.Compare(len(a.Outline), len(b.Outline)))
	})
}

// spread picks three corners of an outline that span a plane best: the first,
// the one farthest from it, and the one farthest from the line between.
func spread(p geom.Poly) [3]int {
	far, off := 0, 0
	best := -1.0
	for i := range p {
		if d := norm2(p[i].Sub(p[0])); d > best {
			best, far = d, i
		}
	}
	best = -1
	u := p[far].Sub(p[0])
	for i := range p {
		v := p[i].Sub(p[0])
		d := float64(u.X)*float64(v.Y) - float64(u.Y)*float64(v.X)
		if d*d > best {
			best, off = d*d, i
		}
	}
	return [3]int{0, far, off}
}
