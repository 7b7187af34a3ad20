package cutting

import (
	"math"
	"testing"

	"boardrun/internal/measure"
)

// Oracle: hand sums in square feet over 4x8, 4x10 and 4x12 sheets (32, 40, 48).
func TestLeastSheets(t *testing.T) {
	ft := measure.Foot
	stock := []Stock{{Width: 4 * ft, Length: 8 * ft}, {Width: 4 * ft, Length: 10 * ft}, {Width: 4 * ft, Length: 12 * ft}}
	sf := measure.Times(ft, ft).M2()
	for hung, want := range map[float64]float64{0: 0, 1: 32, 32: 32, 33: 40, 41: 48, 49: 64, 65: 72, 73: 80, 396: 400, 1e9: 1e9} {
		if got := LeastSheets(hung*sf, stock); math.Abs(got-want*sf) > 1e-9 {
			t.Errorf("%v sf hung: %v sf, want %v", hung, got/sf, want)
		}
	}
}
