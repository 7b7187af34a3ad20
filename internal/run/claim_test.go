package run

import (
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

// Without any deck the model's own tops count, as a claim: 3/4 in under them.
// Oracle: worked by hand.
func TestTop_claimed(t *testing.T) {
	gable := geom.Poly{pt(0, 0), pt(240, 0), pt(240, 100), pt(120, 130), pt(0, 100)}
	tests := []struct {
		name  string
		give  func(w *plan.Wall)
		left  [3]float64 // of the left face at its left end, middle, right end
		right [3]float64
	}{
		{"height", func(w *plan.Wall) { w.Height = in(110) }, [3]float64{109.25, 109.25, 109.25}, [3]float64{109.25, 109.25, 109.25}},
		{"top", func(w *plan.Wall) { w.Top = geom.Profile{pt(0, 100), pt(240, 124)} }, [3]float64{123.25, 111.25, 99.25}, [3]float64{99.25, 111.25, 123.25}},
		{"top of a wall drawn backwards", func(w *plan.Wall) {
			w.Axis[0], w.Axis[1] = w.Axis[1], w.Axis[0]
			w.Top = geom.Profile{pt(0, 100), pt(240, 124)}
		}, [3]float64{99.25, 111.25, 123.25}, [3]float64{123.25, 111.25, 99.25}},
		{"a gable on the right side only", func(w *plan.Wall) { w.Height, w.Sides[1].Outline = in(90), gable }, [3]float64{89.25, 89.25, 89.25}, [3]float64{99.25, 129.25, 99.25}},
		{"the same, drawn backwards", func(w *plan.Wall) {
			w.Axis[0], w.Axis[1] = w.Axis[1], w.Axis[0]
			w.Height, w.Sides[0].Outline = in(90), gable
		}, [3]float64{89.25, 89.25, 89.25}, [3]float64{99.25, 129.25, 99.25}},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			p := planIn(wallIn{0, 0, 240, 0, 4.875, ""})
			c.give(&p.Walls[0])
			j := inchJob()
			j.Decks = nil
			s := mustBuild(t, p, j)
			for id, want := range map[string][3]float64{"1-W001-L1": c.left, "1-W001-R1": c.right} {
				f := s.face(id)
				got := [3]float64{f.Top.At(0).Inches(), f.Top.At(f.Length / 2).Inches(), f.Top.At(f.Length).Inches()}
				if got != want || f.HeightBy != "model" || f.Head != Slip {
					t.Errorf("%s: top %v by %s, want %v", id, got, f.HeightBy, want)
				}
			}
			if len(s.Runs[0].Assumed) == 0 {
				t.Error("the claim is not among the run's assumptions")
			}
		})
	}
}
