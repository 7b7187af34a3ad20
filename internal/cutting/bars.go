package cutting

import (
	"cmp"
	"math"
	"slices"
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
	need int     // tapered edges it takes of those the bar crosses
}

// barEdges is how many tapered edges a bar across a sheet crosses.
const barEdges = 2

// barStock is a bar on sale; width 1.
type barStock struct {
	size int // grid units
	cost float64
}

type bars struct {
	growing
	items   []barItem
	order   []int // of items, longest first
	stock   []barStock
	edges   int       // tapered edges a bar has to give, 0 if no item needs one
	val     []float64 // by edges taken at most, then by length
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
	b := &bars{growing: growing{need: need, lp: newLinear(need, first)}, items: items, stock: stock}
	for i, it := range items {
		b.order = append(b.order, i)
		if it.need > 0 {
			b.edges = barEdges
		}
	}
	slices.SortStableFunc(b.order, func(i, j int) int { return cmp.Compare(items[j].size, items[i].size) })
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

// bound returns a lower bound on the cost of all bars; see growing.
func (b *bars) bound(rounds int, enough func(bound, value float64) bool) float64 {
	return b.growing.bound(b, rounds, enough)
}

// each calls f with the bars just found: of each length the best, and the best
// that end with each item.
func (b *bars) each(f func(c column)) {
	slices.SortStableFunc(b.endings, func(x, y ending) int {
		return cmp.Compare(y.value*b.stock[x.stock].cost, x.value*b.stock[y.stock].cost)
	})
	for _, e := range b.endings {
		f(b.column(e))
	}
}

// price solves the bounded knapsack for all bar lengths at once, longest items
// first, and returns how often the best bar is worth its cost.
func (b *bars) price(y []float64) (over float64, ok bool) {
	longest := 0
	for _, s := range b.stock {
		longest = max(longest, s.size)
	}
	if b.val == nil {
		b.val = make([]float64, (longest+1)*(b.edges+1))
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
		if it.need > 0 {
			left = min(left, b.edges/it.need)
		}
		for k := 1; left > 0; k *= 2 {
			k = min(k, left)
			b.pass(i, k, v*float64(k), it.size*k, it.need*k)
			left -= k
		}
	}
	for _, s := range b.stock {
		over = max(over, b.worthOf(s.size)/s.cost)
	}
	return over, over > 0
}

// worthOf is what the best bar of a size is worth.
func (b *bars) worthOf(size int) float64 { return b.val[len(b.val)/(b.edges+1)*b.edges+size] }

func (b *bars) pass(item, times int, v float64, size, need int) {
	n := len(b.moves)
	if n == len(b.took) {
		b.took = append(b.took, make([]bool, len(b.val)))
	}
	b.moves = append(b.moves, move{item, times, 0})
	cells := len(b.val) / (b.edges + 1)
	clear(b.took[n][:min(need*cells, len(b.val))])
	for e := b.edges; e >= need; e-- {
		val, from, took := b.val[e*cells:(e+1)*cells], b.val[(e-need)*cells:(e-need+1)*cells], b.took[n][e*cells:(e+1)*cells]
		if e == b.edges {
			for i, s := range b.stock {
				if size <= s.size {
					b.endings = append(b.endings, ending{n, i, from[s.size-size] + v})
				}
			}
		}
		clear(took[:min(size, cells)])
		for k := cells - 1; k >= size; k-- {
			w := from[k-size] + v
			better := w > val[k]
			took[k] = better
			if better {
				val[k] = w
			}
		}
	}
}

// column reads a bar back from the table.
func (b *bars) column(e ending) column {
	c := column{cost: b.stock[e.stock].cost}
	cells := len(b.val) / (b.edges + 1)
	at := b.edges*cells + b.stock[e.stock].size
	for m := e.move; m >= 0; m-- {
		if m != e.move && !b.took[m][at] {
			continue
		}
		it, times := b.items[b.moves[m].part], b.moves[m].times
		at -= (it.size + it.need*cells) * times
		c.put(int32(it.row), it.coef*float64(times))
	}
	return c
}
