package trace

import (
	"fmt"

	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

// siteDoubt tells of a sheet that looks like a plan of a site: single lines in
// closed outlines that stand apart inside one that runs round them all, and not
// one opening. Buildings' outlines and a plot's edge are no partitions.
func (t *tracer) siteDoubt() {
	if len(t.out.Openings) > 0 || len(t.out.Walls) == 0 {
		return
	}
	groups := newSets(len(t.walls))
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead {
			continue
		}
		if !w.centre {
			return
		}
		for _, k := range w.meets {
			if k >= 0 && !t.walls[k].dead {
				groups.join(int32(i), k)
			}
		}
	}
	var order []int32
	box := map[int32]geom.Rect{}
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead {
			continue
		}
		a, b := t.axisOf(w)
		r := boundsOf([]pt{a, b})
		k := groups.of(int32(i))
		if old, ok := box[k]; ok {
			r = join(old, r)
		} else {
			order = append(order, k)
		}
		box[k] = r
	}
	if len(order) < 4 {
		return
	}
	out := order[0]
	for _, k := range order {
		if box[k].W() > box[out].W() {
			out = k
		}
	}
	o := box[out]
	for _, k := range order {
		r := box[k]
		if k != out && (r.Min.X <= o.Min.X || r.Min.Y <= o.Min.Y || r.Max.X >= o.Max.X || r.Max.Y >= o.Max.Y) {
			return
		}
	}
	at := t.global(o.Min)
	t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
		Severity: plan.Person, Code: CodeSite, At: &at, Source: plan.Source{File: t.d.File}, Span: max(o.W(), o.H()),
		Message: fmt.Sprintf("%d outlines stand apart inside one of %.1f by %.1f m and none has an opening: this looks like a plan of a site, not of a floor", len(order)-1, o.W().Metres(), o.H().Metres()),
		Did:     "all read as walls; give the plan of a floor, or name in the job the region or the layers that hold its walls",
	})
}
