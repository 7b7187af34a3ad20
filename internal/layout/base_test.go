package layout

import (
	"testing"

	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// A wall on a kerb of 6 in: studs stand on it and are that much shorter; a
// cripple under a window of sill 40 in is 34 in; nothing stands under a door.
// Oracle: worked by hand; the deck gap is 3/4 in.
func TestStuds_onBase(t *testing.T) {
	s := sketch{length: 240 * in, spacing: 16 * in, deck: level(120 * in), plies: 1, board: fourFoot(),
		openings: []run.Opening{door(36*in, 76*in, 84*in), window(140*in, 180*in, 40*in, 84*in)},
		edit:     func(r *run.Run, _ *rules.Set) { r.Base = 6 * in }}
	under := 0
	for _, st := range s.best(t).Studs {
		switch {
		case st.Kind == CrippleStud && st.Bottom == 6*in:
			if under++; st.Station < 140*in || st.Length != 34*in {
				t.Errorf("a cripple of %v in from the kerb at %v in", st.Length.Inches(), st.Station.Inches())
			}
		case st.Kind == CrippleStud:
		case st.Bottom != 6*in || st.Length != inch(113.25):
			t.Errorf("%s at %v in from %v in, %v in long", st.ID, st.Station.Inches(), st.Bottom.Inches(), st.Length.Inches())
		}
	}
	if under == 0 {
		t.Error("no cripple under the window")
	}
}
