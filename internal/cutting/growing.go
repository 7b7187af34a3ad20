package cutting

import (
	"math"
	"slices"
)

// growing is a covering programme whose columns are found as they are wanted.
type growing struct {
	need   []float64
	lp     *linear
	centre []float64 // prices per row that no column can beat, as good as any seen
}

// pricer finds columns.
type pricer interface {
	// price seeks columns at prices y per row. No column is worth more than over
	// times its cost; ok is false if that could not be found out.
	price(y []float64) (over float64, ok bool)
	// each calls f with the columns just found, the most valuable first.
	each(f func(c column))
}

// smoothing is the part of the centre in the prices that columns are sought at.
// Prices of a vertex leap about; those near the best bound so far find columns
// that last. Source: Wentges, Int. Trans. Oper. Res. 4, 1997; the value is our
// own choice by trial.
const smoothing = 0.7

// bound returns a lower bound on the cost, at any stop: Farley's (Operations
// Research 38, 1990). It stops after rounds of pricing, when the pricer gives up,
// or once enough says that the bound will not come out better by going on to
// value.
func (g *growing) bound(p pricer, rounds int, enough func(bound, value float64) bool) float64 {
	best := g.worth(g.centre)
	at := make([]float64, len(g.need))
	keep := smoothing
	for ; rounds > 0; rounds-- {
		if !g.lp.optimise(20*g.lp.m + 200) {
			// Duals are usable all the same: Farley's bound holds for any.
			rounds = min(rounds, 5)
		}
		for i, y := range g.lp.dual {
			at[i] = keep*g.centre[i] + (1-keep)*max(y, 0)
		}
		over, ok := p.price(at)
		if !ok {
			break
		}
		if v := g.worth(at) / over; v > best {
			best = v
			for i := range at {
				g.centre[i] = at[i] / over
			}
		}
		added := g.grow(p)
		_, value := g.lp.solution()
		if enough(best, value) || added == 0 && keep == 0 {
			break
		}
		if keep = keep / 2; added > 0 {
			keep = smoothing
		} else if keep < 0.1 {
			keep = 0
		}
	}
	return best
}

// worth is what all needs come to at prices y per row.
func (g *growing) worth(y []float64) float64 {
	var z float64
	for i, v := range y {
		z += v * g.need[i]
	}
	return z
}

// grow gives the programme the columns just found that lower its cost: the best,
// and others that share no row with those before them.
func (g *growing) grow(p pricer) (added int) {
	used := make([]bool, len(g.need))
	p.each(func(c column) {
		fresh := true
		for _, r := range c.row {
			fresh = fresh && !used[r]
		}
		if !fresh || g.lp.reduced(c) > -reducedTol*c.cost {
			return
		}
		for _, r := range c.row {
			used[r] = true
		}
		g.lp.cols = append(g.lp.cols, c)
		added++
	})
	return added
}

// put adds v to the coefficient of a row.
func (c *column) put(row int32, v float64) {
	k, found := slices.BinarySearch(c.row, row)
	if found {
		c.coef[k] += v
		return
	}
	c.row, c.coef = slices.Insert(c.row, k, row), slices.Insert(c.coef, k, v)
}

// never is an enough that goes on to the end.
func never(_, _ float64) bool { return false }

// settled stops once rounding up gives the same for the bound and the value.
func settled(each []int64) func(bound, value float64) bool {
	sums := newSums(each)
	return func(bound, value float64) bool {
		return bound >= value*(1-1e-9) || sums.up(bound) == sums.up(value) && !math.IsInf(value, 0)
	}
}
