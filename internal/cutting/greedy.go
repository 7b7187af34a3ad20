package cutting

import (
	"math"
	"sort"
)

// plan is patterns with how often each is cut.
type plan struct {
	cuts []planned
	cost int64
}

type planned struct {
	candidate
	times int
}

// clone returns a copy of p; settling the one leaves the other alone.
func (p *plan) clone() *plan {
	if p == nil {
		return nil
	}
	return &plan{cuts: append([]planned(nil), p.cuts...), cost: p.cost}
}

func (p *plan) add(c candidate, times int, cost int64) {
	p.cuts = append(p.cuts, planned{c, times})
	p.cost += cost * int64(times)
}

// sequential fills sheet after sheet with the pattern that is worth most for its
// cost, and returns nil if some piece fits no sheet.
func (f *filler) sequential(price []float64, left []int) *plan {
	rest := append([]int(nil), left...)
	p := &plan{}
	for anyLeft(rest) {
		best, rate := candidate{stock: -1}, 0.0
		for _, c := range f.patterns(price, rest) {
			if r := c.value / float64(f.stock[c.stock].Cost); r > rate*(1+1e-12) {
				best, rate = c, r
			}
		}
		if best.stock < 0 {
			return nil
		}
		times := math.MaxInt
		for _, e := range best.u {
			times = min(times, rest[e.shape]/e.n)
		}
		best.u.take(rest, times)
		p.add(best, times, f.stock[best.stock].Cost)
	}
	return p
}

func anyLeft(left []int) bool {
	for _, n := range left {
		if n > 0 {
			return true
		}
	}
	return false
}

// greedy is the best of a few sequential fillings. The first values pieces by
// area, large ones a little more; each later one raises the price of what lay
// on badly filled sheets (sequential value correction).
// begun is the plan of the first filling where that is known already. each is
// called with every plan.
func (f *filler) greedy(left []int, rounds int, begun *plan, each func(p *plan)) *plan {
	price := make([]float64, len(f.shapes))
	for i, s := range f.shapes {
		price[i] = math.Pow(s.area, 1.02)
	}
	var best *plan
	for i := 0; i < rounds; i++ {
		p := begun
		if i > 0 || p == nil {
			p = f.sequential(price, left)
		}
		if p == nil {
			return best
		}
		if each(p); best == nil || p.cost < best.cost {
			best = p
		}
		f.correct(price, p)
	}
	return best
}

// correct moves prices towards what each shape's sheets cost in plan p.
func (f *filler) correct(price []float64, p *plan) {
	paid := make([]float64, len(price))
	n := make([]float64, len(price))
	for _, c := range p.cuts {
		var area float64
		for _, e := range c.u {
			area += float64(e.n) * math.Pow(f.shapes[e.shape].area, 1.02)
		}
		rate := float64(f.stock[c.stock].Cost) / area
		for _, e := range c.u {
			m := float64(e.n * c.times)
			paid[e.shape] += m * rate * math.Pow(f.shapes[e.shape].area, 1.02)
			n[e.shape] += m
		}
	}
	var sumOld, sumNew float64
	for i := range price {
		if n[i] > 0 {
			sumOld += price[i] * n[i]
			sumNew += paid[i]
		}
	}
	for i := range price {
		if n[i] > 0 && sumNew > 0 {
			price[i] = 0.6*price[i] + 0.4*paid[i]/n[i]*sumOld/sumNew
		}
	}
}

// settle orders a plan's patterns and lets each take the cheapest sheet that
// holds it.
func (f *filler) settle(p *plan) {
	p.cost = 0
	for i := range p.cuts {
		c := &p.cuts[i]
		for s, k := range f.stock {
			cheaper := k.Cost < f.stock[c.stock].Cost
			if cheaper && c.b.h <= k.Length && (c.b.w == k.Width || c.b.w < k.Width && !wantsBoth(c.b)) {
				c.stock = s
			}
		}
		p.cost += f.stock[c.stock].Cost * int64(c.times)
	}
	sort.SliceStable(p.cuts, func(i, j int) bool {
		a, b := p.cuts[i], p.cuts[j]
		if a.stock != b.stock {
			return a.stock < b.stock
		}
		if len(a.u) == 0 || len(b.u) == 0 {
			return len(a.u) < len(b.u)
		}
		return a.u[0].shape < b.u[0].shape
	})
}

// wantsBoth reports whether a block must span its sheet from edge to edge.
func wantsBoth(b *block) bool {
	both := false
	b.each(func(v variant) { both = both || v.need == 2 })
	return both || b.kind == pair && b.need == 2 || hasWide(b)
}

func hasWide(b *block) bool {
	for _, k := range b.kids {
		if k.kind == pair && k.need == 2 || hasWide(k) {
			return true
		}
	}
	return false
}
