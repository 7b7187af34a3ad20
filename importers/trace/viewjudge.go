package trace

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// titleOf reads a view's title: +1 a plan, −1 a section or an elevation.
func titleOf(s string) int {
	l := strings.ToLower(s)
	if len(l) > 60 {
		return 0
	}
	for _, w := range []string{"section", "elevation", "schnitt", "ansicht", "sezione", "prospetto", "sección", "seccion", "alzado", "coupe", "élévation", "разрез", "фасад"} {
		if strings.Contains(l, w) {
			return -1
		}
	}
	for _, w := range []string{"floor plan", "plan level", "level plan", "grundriss", "pianta", "planta", "plan de", "plan du", "plattegrond", "план этажа"} {
		if strings.Contains(l, w) {
			return 1
		}
	}
	return 0
}

// absorb gives the small views within or beside a larger one to it: columns of
// a porch, a free wall in the garden.
func (v *viewer) absorb() {
	var keep []View
	for _, w := range v.views {
		if w.WallMM > 0 {
			keep = append(keep, w)
		}
	}
	slices.SortStableFunc(keep, func(a, b View) int { return -cmp.Compare(a.WallMM, b.WallMM) })
	var out []View
	for _, w := range keep {
		into := -1
		for i := range out {
			b := out[i].Bounds
			d := 2 * measure.FromMM(viewGap)
			b.Min.X, b.Min.Y, b.Max.X, b.Max.Y = b.Min.X-d, b.Min.Y-d, b.Max.X+d, b.Max.Y+d
			if w.WallMM < 0.1*out[i].WallMM && !b.Intersect(w.Bounds).Empty() {
				into = i
				break
			}
		}
		if into < 0 {
			out = append(out, w)
			continue
		}
		o := &out[into]
		o.Share = (o.Share*o.WallMM + w.Share*w.WallMM) / (o.WallMM + w.WallMM)
		o.Bounds, o.WallMM, o.Doors, o.Rooms = join(o.Bounds, w.Bounds), o.WallMM+w.WallMM, o.Doors+w.Doors, o.Rooms+w.Rooms
	}
	v.views = out
}

// judge says which views are plans.
func (v *viewer) judge() []View {
	doors, rooms, best := 0, 0, 0.0
	for i := range v.views {
		w := &v.views[i]
		doors, rooms = max(doors, w.Doors), max(rooms, w.Rooms)
		best = max(best, w.Share*w.WallMM)
	}
	for i := range v.views {
		w := &v.views[i]
		t := titleOf(w.Title)
		switch {
		case t != 0:
			w.Plan, w.Evidence = t > 0, "its title says so"
		case w.Doors >= 2 && 10*w.Doors >= doors || w.Rooms >= 2 && w.Share >= 0.5:
			w.Plan, w.Evidence = w.Share >= 0.2 || w.Doors >= 2, "door swings or rooms' names stand in it"
		case doors >= 2 || rooms >= 2:
			w.Evidence = "neither door swings nor rooms' names, and another view has them"
		default:
			w.Plan = w.Share >= 0.4 && w.Share*w.WallMM >= 0.2*best
			w.Evidence = "how much of its wall line pairs up"
		}
		w.Evidence = fmt.Sprintf("%s: %d door swings, %d rooms named, %.0f %% of %.0f m of wall line pairs up", w.Evidence, w.Doors, w.Rooms, 100*w.Share, w.WallMM/1000)
	}
	if len(v.views) == 1 {
		v.views[0].Plan = true
	}
	return v.views
}

// chooseViews restricts the reading to the views that are plans and lists the
// others.
func (t *tracer) chooseViews() {
	views := Views(t.d, t.m)
	if len(views) < 2 {
		return
	}
	plans, others := 0, 0
	for _, w := range views {
		if w.Plan {
			plans++
		} else {
			others++
		}
	}
	if plans == 0 {
		return
	}
	for _, w := range views {
		at := w.Bounds.Min
		if w.Plan && others == 0 {
			continue
		}
		if w.Plan {
			b := w.Bounds
			b.Min.X, b.Min.Y, b.Max.X, b.Max.Y = b.Min.X-500*mm, b.Min.Y-500*mm, b.Max.X+500*mm, b.Max.Y+500*mm
			t.region = append(t.region, b.Poly())
			continue
		}
		t.out.Exceptions = append(t.out.Exceptions, plan.Exception{Severity: plan.Warning, Code: CodeView, At: &at,
			Source: plan.Source{File: t.d.File}, Span: measure.FromMM(w.WallMM),
			Message: fmt.Sprintf("the part of the sheet from (%.1f, %.1f) to (%.1f, %.1f) m is no plan: %s", w.Bounds.Min.X.Metres(), w.Bounds.Min.Y.Metres(),
				w.Bounds.Max.X.Metres(), w.Bounds.Max.Y.Metres(), w.Evidence),
			Did: "left out; name a region to read it"})
	}
	if plans > 1 {
		at := views[0].Bounds.Min
		t.out.Exceptions = append(t.out.Exceptions, plan.Exception{Severity: plan.Note, Code: CodePlans, At: &at,
			Source:  plan.Source{File: t.d.File},
			Message: fmt.Sprintf("%d plans stand on the sheet", plans), Did: "all are read as one storey; give each its region if they are storeys"})
	}
}
