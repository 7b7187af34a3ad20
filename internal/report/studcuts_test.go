package report

import (
	"slices"
	"testing"
)

// By hand, in feet. One 9 takes the 10, the other the 12, 7 the 8: no 5 finds a
// length. Then 7 opens the 8, and both 5 come out of the 12.
func TestStudBarsByHand(t *testing.T) {
	const ft = 304.8
	bars, none := studBars([]MM{5 * ft, 9 * ft, 7 * ft, 9 * ft, 5 * ft}, map[MM]int{8 * ft: 1, 10 * ft: 1, 12 * ft: 1})
	want := []studBar{{10 * ft, []MM{9 * ft}, 1 * ft}, {12 * ft, []MM{9 * ft}, 3 * ft}, {8 * ft, []MM{7 * ft}, 1 * ft}}
	if !slices.Equal(none, []MM{5 * ft, 5 * ft}) {
		t.Errorf("without a length: %v, by hand both of 5 ft", none)
	}
	same(t, bars, want)
	bars, none = studBars([]MM{5 * ft, 7 * ft, 5 * ft}, map[MM]int{8 * ft: 1, 12 * ft: 1})
	same(t, bars, []studBar{{8 * ft, []MM{7 * ft}, 1 * ft}, {12 * ft, []MM{5 * ft, 5 * ft}, 2 * ft}})
	if len(none) > 0 {
		t.Errorf("without a length: %v, by hand none", none)
	}
}

func same(t *testing.T, got []*studBar, want []studBar) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d lengths opened, by hand %d", len(got), len(want))
	}
	for i := range want {
		if got[i].stock != want[i].stock || !slices.Equal(got[i].cuts, want[i].cuts) {
			t.Errorf("length %d: %v, by hand %v", i, *got[i], want[i])
		}
	}
}
