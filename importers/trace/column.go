package trace

import (
	"cmp"
	"math"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// columns makes obstacles of the closed outlines on column layers: rings of
// lines however they are drawn, circles, and fills that no outline surrounds.
func (t *tracer) columns() {
	var st []stroke
	d := t.d
	for i := range d.Segments {
		s := &d.Segments[i]
		if _, role := t.roleOf(&s.Common); role != Columns {
			continue
		}
		if id, _ := t.enter(&s.Common, s.A, s.B); id >= 0 {
			st = append(st, stroke{t.local(s.A[0], s.A[1]), t.local(s.B[0], s.B[1]), id})
		}
	}
	var found []plan.Obstacle
	for _, r := range rings(st) {
		o := plan.Obstacle{Storey: t.opt.Storey, Kind: "column"}
		for _, k := range r {
			o.Outline = append(o.Outline, t.global(st[k.stroke].end(k.back)))
			o.Sources = append(o.Sources, t.source(st[k.stroke].src))
			t.usedEnt[t.src[st[k.stroke].src].c.Entity] = true
		}
		o.Sources = sortSources(o.Sources)
		found = append(found, o)
	}
	for i := range d.Arcs {
		a := &d.Arcs[i]
		if _, role := t.roleOf(&a.Common); role != Columns || !a.Full {
			continue
		}
		id, _ := t.enter(&a.Common, a.Centre, a.Centre)
		if id < 0 {
			continue
		}
		c := t.global(t.local(a.Centre[0], a.Centre[1]))
		o := plan.Obstacle{Storey: t.opt.Storey, Kind: "column", Sources: []plan.Source{t.source(id)}}
		r := measure.FromMM(a.Radius)
		for k := 0; k < 24; k++ {
			x := float64(k) * math.Pi / 12
			o.Outline = append(o.Outline, geom.Pt{X: c.X + round(float64(r)*math.Cos(x)), Y: c.Y + round(float64(r)*math.Sin(x))})
		}
		t.usedEnt[a.Entity] = true
		found = append(found, o)
	}
	t.columnFills(&found)
	for i := range found {
		if areaM2(found[i].Outline) < 0 {
			slices.Reverse(found[i].Outline)
		}
		found[i].Outline = canonical(found[i].Outline)
	}
	slices.SortFunc(found, func(a, b plan.Obstacle) int {
		return cmp.Or(cmp.Compare(a.Outline[0].Y, b.Outline[0].Y), cmp.Compare(a.Outline[0].X, b.Outline[0].X), cmp.Compare(len(a.Outline), len(b.Outline)))
	})
	t.out.Obstacles = append(t.out.Obstacles, found...)
}

// columnFills counts fills inside known columns as used and makes columns of
// the others.
func (t *tracer) columnFills(found *[]plan.Obstacle) {
	var ix boxIndex
	for i := range *found {
		ix.add(int32(i), (*found)[i].Outline...)
	}
	for i := range t.d.Fills {
		f := &t.d.Fills[i]
		if _, role := t.roleOf(&f.Common); role != Columns || len(f.Rings) == 0 || len(f.Rings[0]) < 3 || f.Hidden && !t.opt.Hidden {
			continue
		}
		var poly geom.Poly
		for _, p := range f.Rings[0] {
			if finite(p) {
				poly = append(poly, gridPt(p))
			}
		}
		poly = tidy(poly)
		if len(poly) < 3 || !t.inRegion(f.Rings[0][0], f.Rings[0][0]) {
			continue
		}
		t.usedEnt[f.Entity] = true
		r := poly.Bounds()
		mid := geom.Pt{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}
		known := false
		ix.search(0, func(int32) { known = true }, mid)
		if !known {
			*found = append(*found, plan.Obstacle{Storey: t.opt.Storey, Kind: "column", Outline: poly, Sources: []plan.Source{t.sourceOf(&f.Common)}})
		}
	}
}

// step is one stroke of a ring, walked backwards or not.
type step struct {
	stroke int
	back   bool
}

func (s *stroke) end(back bool) pt {
	if back {
		return s.b
	}
	return s.a
}

// rings chains strokes end to end into closed rings. Strokes with an end that
// is shared by none or by several others are left out.
func rings(st []stroke) [][]step {
	ends := map[pt][]step{}
	snap := func(p pt) pt { return pt{X: p.X.RoundTo(Eps), Y: p.Y.RoundTo(Eps)} }
	for i := range st {
		ends[snap(st[i].a)] = append(ends[snap(st[i].a)], step{i, false})
		ends[snap(st[i].b)] = append(ends[snap(st[i].b)], step{i, true})
	}
	used := make([]bool, len(st))
	var out [][]step
	for i := range st {
		if used[i] || st[i].a == st[i].b {
			continue
		}
		var ring []step
		cur := step{i, false}
		for !used[cur.stroke] {
			used[cur.stroke] = true
			ring = append(ring, cur)
			at := ends[snap(st[cur.stroke].end(!cur.back))]
			next := step{-1, false}
			for _, s := range at {
				if !used[s.stroke] {
					if next.stroke >= 0 {
						next.stroke = -2
						break
					}
					next = s
				}
			}
			if next.stroke < 0 {
				break
			}
			cur = next
		}
		last := ring[len(ring)-1]
		if len(ring) > 2 && snap(st[last.stroke].end(!last.back)) == snap(st[i].a) {
			out = append(out, ring)
		}
	}
	return out
}
