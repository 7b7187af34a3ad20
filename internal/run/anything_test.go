package run

import (
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"

	"pgregory.net/rapid"
)

// TestBuild_anything: whatever walls and openings a drawing holds, Build does
// not panic, loses no wall and returns faces that can be laid out.
func TestBuild_anything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, j := wildPlan(t), testJob(measure.Metric)
		side := job.Side{Plies: []string{"12.5", "12.5"}}
		j.Types = []job.WallType{
			{Name: "A", StudDepth: measure.FromMM(75), Sides: [2]job.Side{side, side}},
			{Name: "B", StudDepth: measure.FromMM(100), Sides: [2]job.Side{side, {}}, Rank: 1},
		}
		j.Decks = []job.Deck{{Points: []job.Point3{{Z: measure.FromMM(2800)}, {X: measure.FromMM(3000), Z: measure.FromMM(3100)}, {Y: measure.FromMM(4000), Z: measure.FromMM(2500)}}}}
		s, err := Build(p, j)
		if err != nil {
			return
		}
		found := map[int]bool{}
		for _, l := range s.Left {
			found[l.Wall] = true
		}
		for _, r := range s.Runs {
			for _, q := range r.Sources {
				found[q.Line] = true
			}
			for _, f := range r.Faces {
				sound(t, f)
			}
		}
		for i, w := range p.Walls {
			if !found[i] && w.Axis[0] != w.Axis[1] {
				t.Errorf("wall %d is lost", i)
			}
		}
	})
}

func sound(t *rapid.T, f *Face) {
	if f.Length <= 0 || f.Boarded != (len(f.Plies) > 0) || !f.Boarded && f.Reason == "" {
		t.Errorf("face %s: %+v", f.ID, f)
	}
	for _, p := range f.Plies {
		if p.U1 <= p.U0 {
			t.Errorf("%s: ply %v … %v", f.ID, p.U0, p.U1)
		}
	}
	for i := 1; i < len(f.Top); i++ {
		if f.Top[i].X <= f.Top[i-1].X {
			t.Errorf("%s: top %v", f.ID, f.Top)
		}
	}
	if len(f.Top) < 2 {
		t.Errorf("%s has no top", f.ID)
	}
	for _, h := range f.Holes {
		if h.Rect.Empty() || h.Rect.Min.X < 0 || h.Rect.Max.X > f.Length || h.Rect.Min.Y < f.Bottom {
			t.Errorf("%s: hole %v", f.ID, h.Rect)
		}
	}
}

// wildPlan draws walls on a coarse grid, so that they meet, overlap, cross,
// repeat and end on one another.
func wildPlan(t *rapid.T) *plan.Plan {
	p := &plan.Plan{Storeys: []plan.Storey{{Name: "1"}}}
	coord := rapid.Custom(func(t *rapid.T) Length {
		return Length(rapid.IntRange(0, 8).Draw(t, "cell"))*500*measure.Millimetre + Length(rapid.IntRange(-2, 2).Draw(t, "off"))*10*measure.Millimetre
	})
	for i := range rapid.IntRange(1, 12).Draw(t, "walls") {
		w := plan.Wall{
			Storey: "1", Tag: rapid.SampledFrom([]string{"A", "A", "B", "none"}).Draw(t, "tag"),
			Thickness: Length(rapid.SampledFrom([]int{100, 125, 300, 0, -5}).Draw(t, "thickness")) * measure.Millimetre,
			Axis:      [2]geom.Pt{{X: coord.Draw(t, "x"), Y: coord.Draw(t, "y")}, {X: coord.Draw(t, "x"), Y: coord.Draw(t, "y")}},
			Sources:   []plan.Source{{Line: i}},
		}
		if rapid.IntRange(0, 9).Draw(t, "curved") == 0 {
			w.Arc = &plan.Arc{Centre: w.Axis[0], Radius: coord.Draw(t, "radius"), Start: rapid.Float64Range(-720, 720).Draw(t, "start"), Sweep: rapid.Float64Range(-360, 360).Draw(t, "sweep")}
			w.Axis[1] = w.Axis[0].Add(geom.Pt{X: w.Arc.Radius})
		}
		p.Walls = append(p.Walls, w)
	}
	for range rapid.IntRange(0, 5).Draw(t, "openings") {
		p.Openings = append(p.Openings, plan.Opening{
			Wall: rapid.IntRange(0, len(p.Walls)-1).Draw(t, "wall"), At: coord.Draw(t, "at"), Width: coord.Draw(t, "width") / 2,
			Sill: coord.Draw(t, "sill") / 4, Head: coord.Draw(t, "head"), Kind: plan.OpeningKind(rapid.IntRange(0, 5).Draw(t, "kind")),
		})
	}
	return p
}
