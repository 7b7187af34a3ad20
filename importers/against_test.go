package importers

import (
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// Oracle: the changes made by hand between the two plans below.
func TestAgainst(t *testing.T) {
	m := measure.Metre
	wall := func(ref string, x0, y0, x1, y1 measure.Length) plan.Wall {
		return plan.Wall{Storey: "1", Axis: [2]geom.Pt{{X: x0, Y: y0}, {X: x1, Y: y1}}, Thickness: 125 * measure.Millimetre, Layer: "W", Sources: []plan.Source{{Ref: ref}}}
	}
	door := func(ref, mark string, w int, at measure.Length) plan.Opening {
		return plan.Opening{Wall: w, At: at, Width: 900 * measure.Millimetre, Mark: mark, Sources: []plan.Source{{Ref: ref}}}
	}
	old := surveyOf("old.dxf", &plan.Plan{
		Walls:    []plan.Wall{wall("1", 0, 0, 10*m, 0), wall("2", 0, 0, 0, 5*m), wall("3", 4*m, 0, 4*m, 5*m), wall("4", 7*m, 0, 7*m, 5*m)},
		Openings: []plan.Opening{door("A", "D1", 0, 2*m), door("B", "D2", 2, 2*m), door("C", "D3", 0, 8*m)},
	}, nil)
	now := surveyOf("new.dxf", &plan.Plan{
		Walls:    []plan.Wall{wall("1", 0, 0, 12*m, 0), wall("2", 0, 0, 0, 5*m), wall("3", 4200*measure.Millimetre, 0, 4200*measure.Millimetre, 5*m), wall("9", 0, 5*m, 6*m, 5*m)},
		Openings: []plan.Opening{door("A", "D1", 0, 2*m), door("B", "D2", 2, 2500*measure.Millimetre), door("E", "D9", 3, m)},
	}, nil)
	r := now.Against(old)
	want := []string{
		"wall 1 was 10.000 m, is 12.000 m", "wall 9 added, 6.000 m", "wall 3 moved by (0.200, 0.000) m", "wall 4 removed, 5.000 m",
		"opening B moved by (0.200, 0.500) m", "opening E added, 0.900 m", "opening C removed, 0.900 m",
	}
	var got []string
	for _, c := range r.Changes {
		got = append(got, c.Text)
	}
	if len(got) != len(want) {
		t.Fatalf("changes %q, want %q", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("change %d is %q, want %q", i, got[i], want[i])
		}
	}
	if r.Same != 1 || r.AddedMM != 8000 || r.RemovedMM != 5000 {
		t.Errorf("unchanged %d, added %.0f, removed %.0f; want 1, 8000, 5000", r.Same, r.AddedMM, r.RemovedMM)
	}
	if n := len(now.Against(now).Changes); n != 0 {
		t.Errorf("a drawing against itself has %d changes", n)
	}
}
