package trace

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// drawLines hands the linework to the review page: each entity's pieces joined
// where they meet, with what became of it; what of a wall line no wall explains
// comes again, on top.
func (t *tracer) drawLines() {
	d := t.d
	var cur *plan.Line
	entity := -1
	for i := range d.Segments {
		s := &d.Segments[i]
		if !finite(s.A) || !finite(s.B) {
			continue
		}
		a, b := gridPt(s.A), gridPt(s.B)
		if cur != nil && s.Entity == entity && cur.Points[len(cur.Points)-1] == a {
			cur.Points = append(cur.Points, b)
			continue
		}
		t.out.Linework = append(t.out.Linework, plan.Line{Points: []geom.Pt{a, b}, Layer: s.Layer, Use: t.useOf(&s.Common)})
		cur, entity = &t.out.Linework[len(t.out.Linework)-1], s.Entity
	}
	for i := range d.Arcs {
		a := &d.Arcs[i]
		if !finite(a.Centre) || !finite(orb.Point{a.Radius, 0}) {
			continue
		}
		t.out.Linework = append(t.out.Linework, plan.Line{Points: flatten(a), Layer: a.Layer, Use: t.useOf(&a.Common)})
	}
	slices.SortStableFunc(t.out.Linework, func(a, b plan.Line) int {
		return cmp.Or(cmpPt(a.Points[0], b.Points[0]), cmpPt(a.Points[1], b.Points[1]), cmp.Compare(len(a.Points), len(b.Points)),
			cmp.Compare(a.Layer, b.Layer), cmp.Compare(a.Use, b.Use))
	})
	for _, u := range t.unread {
		t.out.Linework = append(t.out.Linework, plan.Line{Points: []geom.Pt{t.global(u.a), t.global(u.b)}, Layer: t.src[u.src].c.Layer, Use: plan.Unread})
	}
}

func (t *tracer) useOf(c *linework.Common) plan.Use {
	f := &t.fates[c.Entity]
	switch {
	case !f.read:
		return plan.Background
	case f.used:
		return plan.Used
	}
	return plan.Ignored
}

func cmpPt(a, b pt) int { return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X)) }

func gridPt(p orb.Point) geom.Pt { return geom.Pt{X: measure.FromMM(p[0]), Y: measure.FromMM(p[1])} }

// flatten draws an arc as chords of at most 9 degrees.
func flatten(a *linework.Arc) []geom.Pt {
	n := max(2, min(40, int(math.Ceil((a.End-a.Start)/9))))
	out := make([]geom.Pt, 0, n+1)
	for i := 0; i <= n; i++ {
		x := (a.Start + (a.End-a.Start)*float64(i)/float64(n)) * math.Pi / 180
		out = append(out, gridPt(orb.Point{a.Centre[0] + a.Radius*math.Cos(x), a.Centre[1] + a.Radius*math.Sin(x)}))
	}
	return out
}
