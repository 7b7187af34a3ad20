package cutting

import "math"

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
	need  []float64
	items []barItem
	stock []barStock
	lp    *linear
	val   []float64
	took  [][]bool
	moves []move
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
	return &bars{need: need, items: items, stock: stock, lp: newLinear(need, first)}
}

// bound returns a lower bound on the cost of all bars. It stops after rounds
// columns per bar length, or once enough says that the bound will not come out
// better by going on to value.
func (b *bars) bound(rounds int, enough func(bound, value float64) bool) float64 {
	best := 0.0
	for ; rounds > 0; rounds-- {
		if !b.lp.optimise(20*b.lp.m + 200) {
			// Duals are usable all the same: Farley's bound holds for any.
			rounds = min(rounds, 5)
		}
		b.price()
		over, added := 1.0, false
		for _, s := range b.stock {
			v := b.val[s.size]
			over = max(over, v/s.cost)
			if v > s.cost*(1+1e-9) {
				b.lp.cols = append(b.lp.cols, b.column(s))
				added = true
			}
		}
		best = max(best, b.lp.dualValue()/over)
		_, value := b.lp.solution()
		if !added || enough(best, value) {
			break
		}
	}
	return best
}

// price solves the bounded knapsack for all bar lengths at once.
func (b *bars) price() {
	longest := 0
	for _, s := range b.stock {
		longest = max(longest, s.size)
	}
	if b.val == nil {
		b.val = make([]float64, longest+1)
	}
	for i := range b.val {
		b.val[i] = 0
	}
	b.moves = b.moves[:0]
	for i, it := range b.items {
		y := b.lp.dual[it.row] * it.coef
		if y <= 1e-15 || it.size > longest {
			continue
		}
		left := min(it.max, longest/it.size)
		for k := 1; left > 0; k *= 2 {
			k = min(k, left)
			b.pass(i, k, y*float64(k), it.size*k, longest)
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
	for k := 0; k < size && k <= longest; k++ {
		took[k] = false
	}
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

// column reads the best bar of size s back from the table.
func (b *bars) column(s barStock) column {
	coef := map[int32]float64{}
	at := s.size
	for m := len(b.moves) - 1; m >= 0; m-- {
		if b.took[m][at] {
			it := b.items[b.moves[m].part]
			coef[int32(it.row)] += it.coef * float64(b.moves[m].times)
			at -= it.size * b.moves[m].times
		}
	}
	c := column{cost: s.cost}
	for i := range b.need {
		if v, ok := coef[int32(i)]; ok {
			c.row, c.coef = append(c.row, int32(i)), append(c.coef, v)
		}
	}
	return c
}

// never is an enough that goes on to the end.
func never(_, _ float64) bool { return false }

// settled stops once rounding up gives the same for the bound and the value.
func settled(each []int64) func(bound, value float64) bool {
	return func(bound, value float64) bool {
		return bound >= value*(1-1e-9) || roundUp(bound, each) == roundUp(value, each) && !math.IsInf(value, 0)
	}
}
