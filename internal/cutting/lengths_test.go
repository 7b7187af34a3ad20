package cutting

import (
	"math/rand"
	"testing"

	"boardrun/internal/measure"
)

// By hand: of five studs of 6 ft none but two go into 12 ft, so three bars of
// 12; out of 10 ft each needs its own. Three of 5 ft and 12 ft bars: two to a
// bar although 15 ft would fit 24 ft with 9 to spare.
func TestLeastStockByHand(t *testing.T) {
	ft := measure.Foot
	for _, c := range []struct {
		cuts        []BarPiece
		stock       []measure.Length
		want        measure.Length
		description string
	}{
		{[]BarPiece{{6 * ft, 5}}, []measure.Length{12 * ft}, 36 * ft, "pairs"},
		{[]BarPiece{{6 * ft, 5}}, []measure.Length{10 * ft}, 50 * ft, "one each"},
		{[]BarPiece{{5 * ft, 3}}, []measure.Length{12 * ft}, 24 * ft, "two to a bar"},
		{[]BarPiece{{9 * ft, 2}, {3 * ft, 2}}, []measure.Length{10 * ft, 12 * ft}, 24 * ft, "no waste"},
		{[]BarPiece{{9 * ft, 4}}, []measure.Length{8 * ft, 10 * ft, 12 * ft}, 40 * ft, "shortest that fits"},
		{[]BarPiece{{13 * ft, 1}}, []measure.Length{12 * ft}, 0, "longer than stock"},
		{nil, []measure.Length{12 * ft}, 0, "nothing"},
	} {
		if got := LeastStock(c.cuts, c.stock); got != c.want {
			t.Errorf("%s: %v ft, by hand %v ft", c.description, float64(got)/float64(ft), float64(c.want)/float64(ft))
		}
	}
}

// Bars cut up at random and put back: what was cut is a way, so no bound may be
// above it; with no waste at all it must be equal.
func TestLeastStockOfBarsCutUp(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	stock := []measure.Length{96 * measure.Inch, 120 * measure.Inch, 144 * measure.Inch}
	for n := 0; n < 80; n++ {
		var cuts []BarPiece
		var bought measure.Length
		waste := n%2 == 1
		for bars := 1 + r.Intn(12); bars > 0; bars-- {
			left := stock[r.Intn(3)]
			bought += left
			for left > 0 {
				c := min(left, measure.Length(1+r.Intn(144))*measure.Inch)
				left -= c
				if !waste || r.Intn(4) > 0 {
					cuts = append(cuts, BarPiece{c, 1})
				}
			}
		}
		var sum measure.Length
		for _, c := range cuts {
			sum += c.Length
		}
		got := LeastStock(cuts, stock)
		if got > bought || got < sum || !waste && got != bought {
			t.Fatalf("job %d: bound %v, pieces %v, bought %v", n, got, sum, bought)
		}
	}
}
