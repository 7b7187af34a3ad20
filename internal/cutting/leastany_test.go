package cutting

import (
	"math"
	"math/rand"
	"testing"

	"boardrun/internal/measure"
)

// hangOptions puts options of runs as ways to hang plies.
func hangOptions(runs [][]Option) Hanging {
	var h Hanging
	for _, options := range runs {
		var l Lane
		for k, o := range options {
			var f Fill
			for _, p := range o.Pieces {
				b := p.Outline.Bounds()
				f.Blanks = append(f.Blanks, Blank{Width: b.W(), Left: b.H(), Right: b.H(), Turn: p.Turn})
			}
			l.Columns = append(l.Columns, Column{f})
			l.Ways = append(l.Ways, []int32{int32(k)})
		}
		h.Plies = append(h.Plies, [][]Lane{{l}})
	}
	h.Met = math.Inf(1)
	return h
}

// Oracle: every choice of ways, cut by Solve: none buys less than the bound.
func TestLeastOfAny_underEveryChoice(t *testing.T) {
	stock := boards(96, 120, 144)
	var gap float64
	const total = 20
	for seed := int64(0); seed < total; seed++ {
		r := rand.New(rand.NewSource(seed))
		runs := randomOptions(r)
		for _, options := range runs {
			for _, o := range options {
				for i := range o.Pieces {
					o.Pieces[i].Group = ""
					if r.Intn(4) == 0 {
						o.Pieces[i].Left, o.Pieces[i].Turn = CutEdge, true
					}
				}
			}
		}
		least := LeastOfAny(hangOptions(runs), stock, Best)
		best := math.Inf(1)
		everyChoice(runs, func(at []int) { best = min(best, areaFor(runs, at, stock)) })
		if least > best+1e-9 {
			t.Errorf("seed %d: bound %.4f m², a choice buys %.4f m²", seed, least, best)
		}
		gap += (best - least) / best / total
	}
	t.Logf("bound of %d jobs on average %.1f %% below the best choice", total, 100*gap)
	if gap > 0.2 {
		t.Errorf("bound on average %.1f %% below the best choice", 100*gap)
	}
}

func areaFor(runs [][]Option, at []int, stock []Stock) (m2 float64) {
	for _, b := range cutFor(runs, at, stock) {
		m2 += b.Bought.M2()
	}
	return m2
}

// Two walls 9 ft 5 in high with four full sheets and a rip 16 in wide each: eight
// sheets of 10 ft and one more for both rips, since nothing shorter is as high
// and the two fit side by side. Worked by hand.
func TestLeastOfAny_whole(t *testing.T) {
	f := Fill{}
	for range 4 {
		f.Blanks = append(f.Blanks, Blank{Width: 48 * in, Left: 113 * in, Right: 113 * in})
	}
	f.Blanks = append(f.Blanks, Blank{Width: 16 * in, Left: 113 * in, Right: 113 * in})
	ply := [][]Lane{{{Columns: []Column{{f}}, Ways: [][]int32{{0}}}}}
	h := Hanging{Plies: [][][]Lane{ply, ply}, Met: math.Inf(1)}
	want := 9 * measure.Times(48*in, 120*in).M2()
	if got := LeastOfAny(h, boards(96, 120, 144), Best); math.Abs(got-want) > 1e-9 {
		t.Errorf("%.4f m², want %.4f", got, want)
	}
}

// Horizontal joints save board where they are allowed, and not where they are
// not: a wall 10 ft high hung in 10 ft sheets, or in 8 ft sheets with tops 2 ft
// high of which four come from one sheet. Only the second is less with 8 ft
// sheets alone on sale.
func TestLeastOfAny_level(t *testing.T) {
	blank := func(h measure.Length) Blank { return Blank{Width: 48 * in, Left: h, Right: h} }
	c := Column{{Blanks: []Blank{blank(120 * in)}}, {Blanks: []Blank{blank(96 * in), blank(24 * in)}, Level: 48 * in}}
	ply := [][]Lane{{{Columns: []Column{c}, Ways: [][]int32{{0, 0, 0, 0}}}}}
	stock := boards(96, 144)
	sheet := func(n float64, l measure.Length) float64 { return n * measure.Times(48*in, l).M2() }
	for _, x := range []struct {
		level measure.Length
		want  float64
	}{{0, sheet(4, 144*in)}, {192 * in, sheet(5, 96*in)}} {
		h := Hanging{Plies: [][][]Lane{ply}, Level: x.level, Met: math.Inf(1)}
		if got := LeastOfAny(h, stock, Best); math.Abs(got-x.want) > 1e-9 {
			t.Errorf("%d in of joint: %.4f m², want %.4f", x.level/in, got, x.want)
		}
	}
}
