package cutting

import (
	"fmt"
	"math/rand"
	"testing"

	"boardrun/internal/measure"
)

// randomOptions is a job of a few runs in two rooms, each with a few ways to be
// hung that make about as much board.
func randomOptions(r *rand.Rand) [][]Option {
	runs := make([][]Option, 2+r.Intn(4))
	n := 0
	for i := range runs {
		for k := 0; k < 1+r.Intn(4); k++ {
			o := Option{Rest: int64(r.Intn(3))}
			for q := 0; q < 2+r.Intn(4); q++ {
				n++
				w := measure.Length(12+r.Intn(37)) * in
				h := measure.Length(24+r.Intn(100)) * in
				o.Pieces = append(o.Pieces, Piece{ID: fmt.Sprintf("%04d", n), Board: "A", Group: fmt.Sprint((i + q) % 2), Outline: rect(w, h), Left: Tapered})
			}
			runs[i] = append(runs[i], o)
		}
	}
	return runs
}

// cutFor cuts all pieces of a choice together.
func cutFor(runs [][]Option, at []int, stock []Stock) []Bound {
	p := Problem{Stock: stock, Keep: Keep{WasteNotches: true}}
	for r, k := range at {
		p.Pieces = append(p.Pieces, runs[r][k].Pieces...)
	}
	return Solve(p, Best).Bounds
}

// boughtFor returns what the sheets of a choice cost when all is cut together.
func boughtFor(runs [][]Option, at []int, stock []Stock) (sheets int64) {
	for _, b := range cutFor(runs, at, stock) {
		sheets += b.Cost
	}
	return sheets
}

// everyChoice calls f with each choice of one option a run.
func everyChoice(runs [][]Option, f func(at []int)) {
	at := make([]int, len(runs))
	for r := 0; r < len(runs); {
		f(at)
		for r = 0; r < len(runs) && at[r] == len(runs[r])-1; r++ {
			at[r] = 0
		}
		if r < len(runs) {
			at[r]++
			r = 0
		}
	}
}

// Oracle: every choice tried. Changing one run at a time need not find the best,
// but never leaves the first options dearer than they were, and mostly finds it.
func TestChoose_againstAllChoices(t *testing.T) {
	stock := boards(96, 120, 144)
	met, better, total := 0, 0, 25
	for seed := int64(0); seed < int64(total); seed++ {
		runs := randomOptions(rand.New(rand.NewSource(seed)))
		at := Choose(runs, stock, Keep{WasteNotches: true}, 3)
		got, first := boughtFor(runs, at, stock), boughtFor(runs, make([]int, len(runs)), stock)
		if got > first {
			t.Errorf("seed %d: chosen %d, the first options %d", seed, got, first)
		}
		best := got
		everyChoice(runs, func(at []int) { best = min(best, boughtFor(runs, at, stock)) })
		if got == best {
			met++
		}
		if got < first {
			better++
		}
	}
	t.Logf("%d of %d at the best of all choices, %d cheaper than the first options", met, total, better)
	if met*100 < 60*total || better == 0 {
		t.Errorf("%d of %d at the best choice, %d cheaper than the first", met, total, better)
	}
}
