package cutting

import (
	"math"
	"slices"
	"sort"
)

// The bar relaxation. Every line across a sheet meets pieces whose lengths on
// that line add up to at most the sheet's: so cut the sheet into thin bars, and
// let each bar hold any set of pieces whose lengths add up. What every piece
// then needs is bars of its length as wide as the piece. The cheapest bars are
// no dearer than any real cutting, straight cuts or not, and for pieces as wide
// as the sheet they are the classical one-dimensional cutting-stock programme of
// Gilmore and Gomory (Operations Research 9, 1961). Bounds of an unfinished
// column generation follow Farley (Operations Research 38, 1990).

// barItem is one way a row's need is met: a length on the bar.
type barItem struct {
	row  int
	size int     // grid units, above 0
	coef float64 // how much of the row one crossing by a bar of width 1 meets
	max  int     // crossings on one bar
}

// barStock is a bar on sale; width 1.
type barStock struct {
	size int // grid units
	cost float64
}

type bars struct {
	need    []float64
	items   []barItem
	order   []int // of items, longest first
	stock   []barStock
	lp      *linear
	centre  []float64 // prices per row that no bar can beat, as good as any seen
	val     []float64
	took    [][]bool
	moves   []move
	endings []ending
}

// ending is the best bar whose shortest item is that of a move.
type ending struct {
	move, stock int
	value       float64
}

// newBars returns nil if some row cannot be met by any bar (then nothing is
// proven by bars).
func newBars(need []float64, items []barItem, stock []barStock) *bars {
	first := make([]column, len(need))
	for _, it := range items {
		for _, s := range stock {
			n := min(it.max, s.size/it.size)
			if n == 0 {
				continue
			}
			c := column{cost: s.cost, row: []int32{int32(it.row)}, coef: []float64{it.coef * float64(n)}}
			if old := first[it.row]; old.row == nil || c.cost*old.coef[0] < old.cost*c.coef[0] {
				first[it.row] = c
			}
		}
	}
	for _, c := range first {
		if c.row == nil {
			return nil
		}
	}
	b := &bars{need: need, items: items, stock: stock, lp: newLinear(need, first)}
	for i := range items {
		b.order = append(b.order, i)
	}
	sort.SliceStable(b.order, func(i, j int) bool { return items[b.order[i]].size > items[b.order[j]].size })
	b.centre = b.proportional()
	return b
}

// proportional prices every item at most by its length: no bar is worth more
// than it costs at such prices.
func (b *bars) proportional() []float64 {
	rate := math.Inf(1)
	for _, s := range b.stock {
		rate = min(rate, s.cost/float64(s.size))
	}
	y := make([]float64, len(b.need))
	for i := range y {
		y[i] = math.Inf(1)
	}
	for _, it := range b.items {
		y[it.row] = min(y[it.row], float64(it.size)*rate/it.coef)
	}
	return y
}

// smoothing is the part of the centre in the prices that bars are sought at.
// Prices of a vertex leap about; those near the best bound so far find bars that
// last. Source: Wentges, Int. Trans. Oper. Res. 4, 1997; the value is our own
// choice by trial.
const smoothing = 0.7

// bound returns a lower bound on the cost of all bars. It stops after rounds
// of pricing, or once enough says that the bound will not come out better by
// going on to value.
func (b *bars) bound(rounds int, enough func(bound, value float64) bool) float64 {
	best := b.worth(b.centre)
	at := make([]float64, len(b.need))
	keep := smoothing
	for ; rounds > 0; rounds-- {
		if !b.lp.optimise(20*b.lp.m + 200) {
			// Duals are usable all the same: Farley's bound holds for any.
			rounds = min(rounds, 5)
		}
		for i, y := range b.lp.dual {
			at[i] = keep*b.centre[i] + (1-keep)*max(y, 0)
		}
		b.price(at)
		over := 1e-300
		for _, s := range b.stock {
			over = max(over, b.val[s.size]/s.cost)
		}
		if v := b.worth(at) / over; v > best {
			best = v
			for i := range at {
				b.centre[i] = at[i] / over
			}
		}
		added := b.grow()
		_, value := b.lp.solution()
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
func (b *bars) worth(y []float64) float64 {
	var z float64
	for i, v := range y {
		z += v * b.need[i]
	}
	return z
}

// grow gives the programme the bars just found that lower its cost: of each
// length the best, and others that share no item with those before them.
func (b *bars) grow() (added int) {
	sort.SliceStable(b.endings, func(i, j int) bool {
		x, y := b.endings[i], b.endings[j]
		return x.value*b.stock[y.stock].cost > y.value*b.stock[x.stock].cost
	})
	used := make([]bool, len(b.need))
	for _, e := range b.endings {
		c := b.column(e)
		fresh := true
		for _, r := range c.row {
			fresh = fresh && !used[r]
		}
		if !fresh || b.lp.reduced(c) > -reducedTol*c.cost {
			continue
		}
		for _, r := range c.row {
			used[r] = true
		}
		b.lp.cols = append(b.lp.cols, c)
		added++
	}
	return added
}

// price solves the bounded knapsack for all bar lengths at once, longest items
// first.
func (b *bars) price(y []float64) {
	longest := 0
	for _, s := range b.stock {
		longest = max(longest, s.size)
	}
	if b.val == nil {
		b.val = make([]float64, longest+1)
	}
	clear(b.val)
	b.moves, b.endings = b.moves[:0], b.endings[:0]
	for _, i := range b.order {
		it := b.items[i]
		v := y[it.row] * it.coef
		if v <= 1e-15 || it.size > longest {
			continue
		}
		left := min(it.max, longest/it.size)
		for k := 1; left > 0; k *= 2 {
			k = min(k, left)
			b.pass(i, k, v*float64(k), it.size*k, longest)
			left -= k
		}
	}
}

func (b *bars) pass(item, times int, v float64, size, longest int) {
	n := len(b.moves)
	if n == len(b.took) {
		b.took = append(b.took, make([]bool, longest+1))
	}
	took := b.took[n]
	b.moves = append(b.moves, move{item, times, 0})
	for i, s := range b.stock {
		if size <= s.size {
			b.endings = append(b.endings, ending{n, i, b.val[s.size-size] + v})
		}
	}
	clear(took[:min(size, longest+1)])
	val := b.val
	for k := longest; k >= size; k-- {
		w := val[k-size] + v
		better := w > val[k]
		took[k] = better
		if better {
			val[k] = w
		}
	}
}

// column reads a bar back from the table.
func (b *bars) column(e ending) column {
	c := column{cost: b.stock[e.stock].cost}
	at := b.stock[e.stock].size
	for m := e.move; m >= 0; m-- {
		if m != e.move && !b.took[m][at] {
			continue
		}
		it := b.items[b.moves[m].part]
		at -= it.size * b.moves[m].times
		c.put(int32(it.row), it.coef*float64(b.moves[m].times))
	}
	return c
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
	return func(bound, value float64) bool {
		return bound >= value*(1-1e-9) || roundUp(bound, each) == roundUp(value, each) && !math.IsInf(value, 0)
	}
}
