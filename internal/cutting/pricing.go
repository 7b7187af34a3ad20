package cutting

import (
	"math"
	"slices"

	"boardrun/internal/measure"
)

// pricing is the linear programme of Gilmore and Gomory for bars (see bars) of
// which any number of a length may lie on one: its prices hold for all pieces of
// these lengths or longer, however many there are.
type pricing struct {
	sizes  []int // of the rows, rising
	need   []float64
	stock  []barStock
	lp     *linear
	centre []float64 // prices per row, as good as any seen, that no bar beats
	known  *barPool
	row    map[int]int // of each length needed
	val    []float64   // dearest filling of each length
	last   []int32     // row that ends it, −1 for none
}

// mostSizes is how many lengths a programme tells apart, pricingRounds how often
// it looks for bars, programmeGap how close to its best it has to come: prices
// are changed again anyway.
const (
	mostSizes     = 96
	pricingRounds = 80
	programmeGap  = 5e-4
)

// barPool is bars found for other needs: they begin the next programme.
type barPool struct{ bars []knownBar }

type knownBar struct {
	cost  float64
	sizes []int
}

// mostKnown is how many bars are kept.
const mostKnown = 400

func (b *barPool) add(cost float64, sizes []int) {
	b.bars = append(b.bars, knownBar{cost, sizes})
	if n := len(b.bars) - mostKnown; n > 0 {
		b.bars = b.bars[n:]
	}
}

func newPricing(need map[int]float64, step measure.Length, lengths []measure.Length, known *barPool) *pricing {
	all := make([]int, 0, len(need))
	for k := range need {
		all = append(all, k)
	}
	slices.Sort(all)
	p := &pricing{known: known, row: make(map[int]int, len(all))}
	for coarse := 1; len(p.sizes) == 0 || len(p.sizes) > mostSizes; coarse *= 2 { // told apart less finely where there are many
		p.sizes = p.sizes[:0]
		for i, k := range all {
			if i == 0 || k/coarse != all[i-1]/coarse {
				p.sizes = append(p.sizes, k)
			}
			p.row[k] = len(p.sizes) - 1
		}
	}
	p.need = make([]float64, len(p.sizes))
	for _, k := range all {
		p.need[p.row[k]] += need[k]
	}
	longest := lengths[len(lengths)-1]
	first := make([]column, len(p.sizes))
	p.centre = make([]float64, len(p.sizes))
	for _, l := range lengths {
		p.stock = append(p.stock, barStock{int(2 * l / step), float64(l) / float64(longest)})
	}
	most := p.stock[len(p.stock)-1].size
	for i, k := range p.sizes {
		first[i] = column{cost: 1, row: []int32{int32(i)}, coef: []float64{float64(max(1, most/k))}}
		p.centre[i] = float64(k) / float64(most)
	}
	p.lp = newLinear(p.need, first)
	for _, b := range known.bars {
		n := make([]float64, len(p.sizes))
		for _, k := range b.sizes {
			if i, ok := p.row[k]; ok { // as one of the shortest told alike: it fits all the same
				n[i]++
			}
		}
		if c := p.sparse(b.cost, n); len(c.row) > 0 {
			p.lp.cols = append(p.lp.cols, c)
		}
	}
	p.val, p.last = make([]float64, most+1), make([]int32, most+1)
	return p
}

// run generates bars until prices and needs agree, prices smoothed as those of
// bars are.
func (p *pricing) run() {
	best := p.worth(p.centre)
	at := make([]float64, len(p.sizes))
	keep := smoothing
	for range pricingRounds {
		p.lp.optimise(20*p.lp.m + 200)
		for i, y := range p.lp.dual {
			at[i] = float64(keep*p.centre[i]) + float64((1-keep)*max(y, 0))
		}
		p.fill(at)
		over := p.over()
		if v := p.worth(at) / over; v > best {
			best = v
			for i := range at {
				p.centre[i] = at[i] / over
			}
		}
		added := false
		for _, s := range p.stock {
			if c, sizes := p.column(s); len(c.row) > 0 && p.lp.reduced(c) < -reducedTol*c.cost {
				p.known.add(s.cost, sizes)
				p.lp.cols = append(p.lp.cols, c)
				added = true
			}
		}
		if _, value := p.lp.solution(); best >= value*(1-programmeGap) || !added && keep == 0 {
			return
		}
		if keep /= 2; added {
			keep = smoothing
		} else if keep < 0.1 {
			keep = 0
		}
	}
}

func (p *pricing) worth(y []float64) float64 {
	var z float64
	for i, v := range y {
		z += float64(v * p.need[i])
	}
	return z
}

// over is how much the dearest filling of a bar is worth of what it costs.
func (p *pricing) over() float64 {
	over := math.SmallestNonzeroFloat64
	for _, s := range p.stock {
		over = max(over, p.val[s.size]/s.cost)
	}
	return over
}

// fill works out the dearest filling of every length at prices y.
func (p *pricing) fill(y []float64) {
	p.val[0], p.last[0] = 0, -1
	for k := 1; k < len(p.val); k++ {
		best, last := p.val[k-1], int32(-1)
		for i := 0; i < len(p.sizes) && p.sizes[i] <= k; i++ {
			if v := p.val[k-p.sizes[i]] + y[i]; v > best {
				best, last = v, int32(i)
			}
		}
		p.val[k], p.last[k] = best, last
	}
}

// column reads the dearest filling of s back.
func (p *pricing) column(s barStock) (column, []int) {
	n := make([]float64, len(p.sizes))
	var sizes []int
	for k := s.size; k > 0; {
		i := p.last[k]
		if i < 0 {
			k--
			continue
		}
		n[i]++
		sizes = append(sizes, p.sizes[i])
		k -= p.sizes[i]
	}
	return p.sparse(s.cost, n), sizes
}

func (p *pricing) sparse(cost float64, n []float64) column {
	c := column{cost: cost}
	for i, v := range n {
		if v > 0 {
			c.row, c.coef = append(c.row, int32(i)), append(c.coef, v)
		}
	}
	return c
}
