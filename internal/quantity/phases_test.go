package quantity

import (
	"math"
	"testing"

	"boardrun/internal/job"
)

// Case C-1, by hand: 240 by 118-3/4 in a side, both hung in full sheets: the
// order of the work, an inspection after the side hung first, 2 h per 1000 sf.
func TestPhases_caseC1(t *testing.T) {
	b := caseC1().build()
	b.job.Prices = &job.Prices{Hour: 60_0000, List: []job.PriceRow{{Key: "hang", Unit: "1000 sf", Hours: 2}}}
	res := b.take()
	want := []string{DoFrame, DoSide1, Inspect, DoSide2, "tape level 4"}
	if len(res.Phases) != len(want) {
		t.Fatalf("%+v", res.Phases)
	}
	sheets := 0
	for i, p := range res.Phases {
		sheets += p.Sheets
		if p.Name != want[i] {
			t.Errorf("phase %d is %s, want %s", i, p.Name, want[i])
		}
		if side := 240 * 118.75 / 144 / 1000 * 2; (p.Name == DoSide1 || p.Name == DoSide2) && math.Abs(p.Hours-side) > 1e-6 {
			t.Errorf("%s: %g h, want %g", p.Name, p.Hours, side)
		}
	}
	bought := 0
	for _, x := range b.input().Bought {
		bought += x.Count
	}
	if sheets != bought {
		t.Errorf("%d sheets in phases, %d bought", sheets, bought)
	}
}
