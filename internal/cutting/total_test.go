package cutting

import (
	"math"
	"math/big"
	"math/rand"
	"testing"

	"boardrun/internal/measure"
)

// Oracle: math/big.
func TestTotal_againstBig(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	var sum Total
	want := new(big.Int)
	for k := 0; k < 2000; k++ {
		a := measure.Area(r.Int63())
		if k%3 == 2 {
			a = -a / 2
		}
		sum = sum.Plus(a)
		want.Add(want, big.NewInt(int64(a)))
		m2, _ := new(big.Float).Quo(new(big.Float).SetInt(want), big.NewFloat(64e12)).Float64()
		if math.Abs(sum.M2()-m2) > 1e-9*math.Abs(m2)+1e-9 {
			t.Fatalf("step %d: %.6f m², want %.6f", k, sum.M2(), m2)
		}
		if back := sum.Minus(sum); back != (Total{}) || sum.Less(sum) || !sum.Less(sum.Plus(1)) {
			t.Fatalf("step %d: difference or order of %v", k, sum)
		}
	}
}

// 400,000 m² of one board, all whole sheets: nothing runs over, and the bound is
// what is bought. Oracle: hand product, 134,546 × 2.97289728 m².
func TestSolve_moreThanAnAreaHolds(t *testing.T) {
	p := Problem{Stock: boards(96)}
	p.Pieces = []Piece{{ID: "a", Board: "A", Count: 134546, Outline: rect(48*in, 96*in), Left: Tapered, Right: Tapered}}
	b := Solve(p, Quick).Bounds[0]
	if math.Abs(b.Bought.M2()-134546*2.97289728) > 1e-3 || b.ForThese != b.Bought || b.Waste != (Total{}) || b.Cost != b.CostAt || b.Status != Optimal {
		t.Errorf("%+v: %.3f m²", b, b.Bought.M2())
	}
}
