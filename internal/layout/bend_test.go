package layout

import (
	"strings"
	"testing"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// Oracle: least radii of GA-226-08: 1/2 in along its length 10 ft, across its
// width not at all; 5/8 in 15 ft along; 1/4 in 5 ft along, 15 ft across; 3/8 in
// 25 ft across.
func TestSolve_bend(t *testing.T) {
	const ft = measure.Foot
	for name, tt := range map[string]struct {
		board    float64 // thickness, in
		radius   Length
		slope    bool
		courses  bool
		severity plan.Severity // of the worst word on bending
		says     string
	}{
		"1/2 at 9 ft: refused, 3/8 named": {0.5, 9 * ft, false, false, plan.Person, "3/8 in"},
		"5/8 at 20 ft: in courses":        {0.625, 20 * ft, false, true, plan.Warning, "hung in courses"},
		"5/8 at 20 ft under a slope":      {0.625, 20 * ft, true, false, plan.Person, "cannot be bent dry across its width"},
		"3/8 at 30 ft stands":             {0.375, 30 * ft, false, false, plan.Warning, "at most 6 in apart"},
		"1/4 at 100 ft stands, as spaced": {0.25, 100 * ft, false, false, plan.Note, ""},
	} {
		s := sketch{length: 16 * ft, spacing: 16 * in, deck: level(96 * in), fixedTop: true,
			board: stock("board", inch(tt.board), 48*in, 96*in, 144*in)}
		if tt.slope {
			s.deck, s.fixedTop = slope(16*ft, 96*in, 100*in), false
		}
		s.edit = func(r *run.Run, _ *rules.Set) {
			r.Thickness, r.Arc = 5*in, &plan.Arc{Radius: tt.radius, Sweep: 40}
		}
		l := s.best(t)
		if l.Faces[0].Ends != tt.courses || len(l.Pieces) == 0 {
			t.Errorf("%s: courses %v, %d pieces", name, l.Faces[0].Ends, len(l.Pieces))
		}
		worst, said := plan.Note, false
		for _, e := range l.Exceptions {
			if e.Code == codeBend {
				worst, said = max(worst, e.Severity), said || strings.Contains(e.Message+e.Did, tt.says)
			}
		}
		if worst != tt.severity || !said && tt.says != "" {
			t.Errorf("%s: %v", name, l.Exceptions)
		}
	}
}

// Each side has the radius of its own face: the concave one is refused first.
func TestSolve_bendBySide(t *testing.T) {
	s := sketch{length: 16 * measure.Foot, spacing: 6 * in, deck: level(96 * in), fixedTop: true, board: stock("board", inch(0.5), 48*in, 96*in, 144*in)}
	s.edit = func(r *run.Run, set *rules.Set) {
		lying(r, set)
		r.Thickness, r.Arc = 5*in, &plan.Arc{Radius: 10 * measure.Foot, Sweep: 90} // counter-clockwise: the left side is concave
	}
	for _, e := range s.best(t).Exceptions {
		if e.Code == codeBend && e.Severity == plan.Person && e.Target != "1-W001-L1" {
			t.Error(e)
		}
	}
	if l := s.best(t); !says(l, codeBend, plan.Person, "9'-9 1/2\"") && !says(l, codeBend, plan.Person, "117-1/2 in") {
		t.Errorf("concave side: %v", l.Exceptions)
	}
}
