package report

import (
	"math"

	"boardrun/internal/plan"
)

// Standing is what stands on a storey and is not taken off: walls that stay or
// go, walls left out with the reason, columns and structure.
type Standing struct {
	Storey    string   `json:"storey"`
	Kind      string   `json:"kind"` // existing, demolish, left out; of what is no wall its name: column, structure
	Reason    string   `json:"reason"`
	OutlineMM Poly     `json:"outline_mm"`
	LengthMM  MM       `json:"length_mm"` // of a wall
	Source    []Source `json:"source"`
}

// standing lists the walls no run stands for and the obstacles of the plan, and
// gives models, which have no linework, the outlines of their walls to look at.
func (b *builder) standing() {
	p := b.s.Plan
	left := map[int]bool{}
	for _, l := range b.s.Runs.Left {
		w := &p.Walls[l.Wall]
		left[l.Wall] = true
		kind := "left out"
		if w.Status != plan.New {
			kind = w.Status.String()
		}
		b.t.Standing = append(b.t.Standing, Standing{w.Storey, kind, l.Reason, bandOf(w), Millimetres(l.Length), sources(w.Sources)})
	}
	for i := range p.Obstacles {
		o := &p.Obstacles[i]
		b.t.Standing = append(b.t.Standing, Standing{Storey: o.Storey, Kind: o.Kind, OutlineMM: Outline(o.Outline), Source: sources(o.Sources)})
	}
	drawn := map[string]bool{}
	for _, l := range p.Linework {
		drawn[l.Drawing] = true
	}
	for i := range p.Walls {
		w := &p.Walls[i]
		if len(w.Sources) == 0 || drawn[w.Sources[0].File] {
			continue
		}
		q := Line{Drawing: w.Sources[0].File, Storey: w.Storey, Layer: w.Layer, Use: "used"}
		if left[i] {
			q.Use = "ignored"
		}
		if q.Points = bandOf(w); len(q.Points) > 0 {
			q.Points = append(q.Points, q.Points[0])
			b.t.Linework = append(b.t.Linework, q)
		}
	}
}

// bandOf is the outline of a wall as it was read.
func bandOf(w *plan.Wall) Poly {
	r := Run{AxisMM: []UV{Point(w.Axis[0]), Point(w.Axis[1])}, ThicknessMM: Millimetres(w.Thickness)}
	a, b := r.AxisMM[0], r.AxisMM[1]
	r.LengthMM = MM(math.Hypot(float64(b[0]-a[0]), float64(b[1]-a[1])))
	if w.Arc != nil {
		r.Arc = &Arc{Point(w.Arc.Centre), Millimetres(w.Arc.Radius), w.Arc.Sweep}
		r.LengthMM = MM(float64(r.Arc.RadiusMM) * math.Abs(w.Arc.Sweep) * math.Pi / 180)
	}
	if r.LengthMM <= 0 {
		return nil
	}
	return Band(&r)
}
