package report

import (
	"strings"
	"testing"
)

// What a bid leaves out, has in and asks, worked by hand on one wall of two sides
// with a control joint 9 m along it.
func TestScope_byHand(t *testing.T) {
	tk := &Takeoff{
		Job: JobInfo{System: "metric", Notes: []string{"Backing is not in this takeoff."}, Types: []TypeInfo{{Name: "W100", StudDepthMM: 75, SpacingMM: 400}},
			Assumptions: []Assumption{{"types.W100.height", "to deck", "nobody gave one"}}},
		Runs:     []Run{{ID: "1-W001", Type: "W100", Storey: "1", Status: "new", AxisMM: []UV{{0, 0}, {18000, 0}}, LengthMM: 18000, ThicknessMM: 100}},
		Faces:    []Face{{ID: "1-W001-L1", Run: "1-W001", Side: "left", Boarded: true, LengthMM: 18000}, {ID: "1-W001-R1", Run: "1-W001", Side: "right", Boarded: true, LengthMM: 18000}},
		Joints:   []Joint{{Face: "1-W001-L1", Kind: "control", FromUV: UV{9000, 0}, ToUV: UV{9000, 3000}}, {Face: "1-W001-R1", Kind: "control", FromUV: UV{9000, 0}, ToUV: UV{9000, 3000}}},
		Openings: []Opening{{ID: "1-W001-O1", Kind: "door"}, {ID: "1-W001-O2", Kind: "door"}},
		Standing: []Standing{{Kind: "existing", LengthMM: 4000}, {Kind: "column"}},
		Drawings: []Drawing{{File: "a.dxf", Storey: "1"}},
		Cost:     &Cost{Currency: "EUR", Total: 1234567.891, Lines: []CostLine{{Item: "board", Priced: true}, {Item: "trim"}}},
		Exceptions: []Exception{
			{Severity: "note", Code: "control-joint", Target: "1-W001", Message: "a control joint at station 9000 mm"},
			{Severity: "warning", Code: "narrow-rip", Target: "1-W001-L1", Message: "the crew's business"},
			{Severity: "warning", Code: "opening-doubtful", Message: "nothing drawn in the gap says what it is", Source: Source{File: "a.dxf"}, AtMM: &UV{5, 6}},
			{Severity: "person", Code: "height-missing", Target: "1-W001-L1", Message: "no height was given"},
		},
	}
	s := NewDraft(tk).Scope()
	if s.Sum != "EUR 1,234,567.89" {
		t.Errorf("sum %q", s.Sum)
	}
	all := func(list []string) string { return strings.Join(list, "\n") }
	for _, want := range []string{"Backing is not", "the sum leaves out: trim.", "1 wall drawn as existing, 4 m."} {
		if !strings.Contains(all(s.Excluded), want) {
			t.Errorf("%q is not among what is left out:\n%s", want, all(s.Excluded))
		}
	}
	for _, want := range []string{"W100: 1 wall, 18 m,", "2 doors."} {
		if !strings.Contains(all(s.Included), want) {
			t.Errorf("%q is not among what is in:\n%s", want, all(s.Included))
		}
	}
	if len(s.Rests) != 1 || !strings.HasPrefix(s.Rests[0], "Nobody gave one: taken as to deck (types.W100.height") {
		t.Errorf("it rests on %q", s.Rests)
	}
	if len(s.Questions) != 3 {
		t.Fatalf("%d questions: %+v", len(s.Questions), s.Questions)
	}
	if q := s.Questions[0]; q.Run != "1-W001" || q.At == nil || *q.At != (UV{9000, 0}) {
		t.Errorf("the control joint is asked about at %+v", q)
	}
	if q := s.Questions[1]; q.Storey != "1" || q.At == nil || !strings.HasPrefix(q.Text, "Nothing drawn") {
		t.Errorf("the gap: %+v", q)
	}
	if q := s.Questions[2]; q.Run != "1-W001" || !strings.HasSuffix(q.Text, "no height was given. Please confirm.") {
		t.Errorf("the height: %+v", q)
	}
}
