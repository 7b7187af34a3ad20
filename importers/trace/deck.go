package trace

import (
	"cmp"
	"math"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// decks makes decks of the closed outlines on layers the job maps as decks: an
// outline with elevations gives the plane through its corners, one at elevation 0
// takes the elevations written in it. Where none is, only the deck's place is
// known, which is told. Faces in space are decks too.
func (t *tracer) decks() {
	t.faceDecks()
	var flat []int
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
			flat = append(flat, len(t.out.Decks))
		} else {
			t.deckCorners(&d, z)
		}
		t.out.Decks = append(t.out.Decks, d)
	}
	t.liftDecks(flat)
	for _, i := range flat {
		d := &t.out.Decks[i]
		if d.Plane[0].Z == 0 && d.Plane[1].Z == 0 && d.Plane[2].Z == 0 {
			at := d.Outline[0]
			t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
				Severity: plan.Person, Code: CodeDeck, At: &at, Source: d.Sources[0],
				Message: "an outline on a deck layer has no elevation, and none is written in it", Did: "its extent is kept; give the deck's height in the job"})
		}
	}
	slices.SortFunc(t.out.Decks, func(a, b plan.Deck) int {
		if len(a.Outline) == 0 || len(b.Outline) == 0 {
			return cmp.Compare(len(a.Outline), len(b.Outline))
		}
		return cmp.Or(cmp.Compare(a.Outline[0].Y, b.Outline[0].Y), cmp.Compare(a.Outline[0].X, b.Outline[0].X), cmp.Compare(len(a.Outline), len(b.Outline)))
	})
}

// deckCorners holds the corners of an outline against the plane through three of
// them; where one lies off it the plane of least squares takes its place.
func (t *tracer) deckCorners(d *plan.Deck, z map[pt]Length) {
	p := d.Plane
	ux, uy, uz := float64(p[1].X-p[0].X), float64(p[1].Y-p[0].Y), float64(p[1].Z-p[0].Z)
	vx, vy, vz := float64(p[2].X-p[0].X), float64(p[2].Y-p[0].Y), float64(p[2].Z-p[0].Z)
	n := float64(ux*vy) - float64(uy*vx)
	var hs []heightAt
	off := 0.0
	for _, q := range d.Outline {
		h := heightAt{plan.Point3{X: q.X, Y: q.Y, Z: z[q.Sub(t.origin)]}, d.Sources[0]}
		hs = append(hs, h)
		x, y := float64(q.X-p[0].X), float64(q.Y-p[0].Y)
		a, b := (float64(x*vy)-float64(y*vx))/n, (float64(ux*y)-float64(uy*x))/n
		off = max(off, math.Abs(float64(h.Z-p[0].Z)-float64(a*uz)-float64(b*vz)))
	}
	if n != 0 && off > float64(deckTol) {
		t.fitDeck(d, hs, "corner")
	}
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
