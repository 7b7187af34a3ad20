package cutting

import (
	"math"
	"sort"
)

// master chooses how often each pattern is cut: a linear programme over
// patterns, grown by column generation (Gilmore and Gomory), then rounded by
// diving. Every sheet on sale is priced in every round.
type master struct {
	f     *filler
	bound int64
	pool  []candidate // all patterns seen, in the order they were found
	known map[string]bool
	unit  float64 // costs are divided by it inside the programme
	sums  *sums
	best  *plan
}

func newMaster(f *filler, bound int64) *master {
	unit := math.Inf(1)
	for _, s := range f.stock {
		unit = min(unit, float64(s.Cost))
	}
	each := make([]int64, len(f.stock))
	for i, s := range f.stock {
		each[i] = s.Cost
	}
	return &master{f: f, bound: bound, known: map[string]bool{}, unit: unit, sums: newSums(each)}
}

// remember adds c to the pool unless a pattern of the same sheet and use is in it.
func (m *master) remember(c candidate) bool {
	key := make([]byte, 0, 8+8*len(c.u))
	put := func(n int) { key = append(key, byte(n), byte(n>>8), byte(n>>16), byte(n>>24)) }
	put(c.stock)
	for _, e := range c.u {
		put(e.shape)
		put(e.n)
	}
	if m.known[string(key)] {
		return false
	}
	m.known[string(key)] = true
	m.pool = append(m.pool, c)
	return true
}

// offer keeps p if it is the cheapest so far.
func (m *master) offer(p *plan) {
	if p == nil {
		return
	}
	m.f.settle(p)
	if m.best == nil || p.cost < m.best.cost {
		m.best = p
	}
}

func (m *master) done() bool { return m.best != nil && m.best.cost <= m.bound }

// relaxation is the linear programme for what is left to cut.
type relaxation struct {
	rows []int // shape of each row
	row  []int // row of each shape, −1 if none of it is left
	lp   *linear
	cand []candidate // of each column
}

// relax sets up the programme for left from singles and the pool.
func (m *master) relax(left []int) *relaxation {
	r := &relaxation{row: make([]int, len(left))}
	var need []float64
	var first []column
	for s, n := range left {
		r.row[s] = -1
		if n > 0 {
			r.row[s] = len(r.rows)
			r.rows = append(r.rows, s)
			need = append(need, float64(n))
		}
	}
	for _, s := range r.rows {
		c := m.alone(s, left)
		r.cand = append(r.cand, c)
		first = append(first, r.column(c, m.cost(c)))
	}
	r.lp = newLinear(need, first)
	for _, c := range m.pool {
		if c.u.within(left) {
			r.add(c, m.cost(c))
		}
	}
	return r
}

func (m *master) cost(c candidate) float64 { return float64(m.f.stock[c.stock].Cost) / m.unit }

func (r *relaxation) column(c candidate, cost float64) column {
	k := column{cost: cost}
	for _, e := range c.u {
		k.row, k.coef = append(k.row, int32(r.row[e.shape])), append(k.coef, float64(e.n))
	}
	return k
}

func (r *relaxation) add(c candidate, cost float64) {
	r.cand = append(r.cand, c)
	r.lp.cols = append(r.lp.cols, r.column(c, cost))
}

// alone returns the cheapest way to cut shape s by itself.
func (m *master) alone(s int, left []int) candidate {
	price := make([]float64, len(left))
	price[s] = 1
	var best candidate
	for _, c := range m.f.patterns(price, left) {
		if best.b == nil || m.cost(c)*best.value < m.cost(best)*c.value {
			best = c
		}
	}
	return best
}

// generate adds columns until none lowers the cost, rounds are used up, or the
// value rounds up to the bound.
func (m *master) generate(r *relaxation, left []int, rounds int) {
	price := make([]float64, len(left))
	for ; ; rounds-- {
		r.lp.optimise(20*r.lp.m + 500)
		if rounds <= 0 {
			return
		}
		for i := range price {
			price[i] = 0
		}
		for i, s := range r.rows {
			price[s] = max(r.lp.dual[i], 0)
		}
		added := false
		for _, c := range m.f.patterns(price, left) {
			if c.value > m.cost(c)*(1+1e-7) && m.remember(c) {
				r.add(c, m.cost(c))
				added = true
			}
		}
		if !added {
			return
		}
	}
}

// dive rounds the relaxation: it fixes the patterns nearest to a whole number,
// solves what is left again and so on. share is the part of the sheets fixed at
// a time; skew shifts which fractions come first.
func (m *master) dive(left []int, first, again int, share, skew float64) {
	rest := append([]int(nil), left...)
	fixed := &plan{}
	for anyLeft(rest) {
		r := m.relax(rest)
		m.generate(r, rest, first)
		first = again
		x, value := r.lp.solution()
		if fixed.cost+m.sums.up(value*m.unit*(1-1e-9)) > m.limit() {
			return // cannot come out cheaper than what is known
		}
		m.offer(m.finish(fixed, r, rest))
		if m.done() {
			return
		}
		m.fix(fixed, r, x, rest, share, skew)
	}
	m.offer(fixed)
}

// limit is the highest cost still worth finding.
func (m *master) limit() int64 {
	if m.best == nil {
		return math.MaxInt64
	}
	return m.best.cost - 1
}

// finish completes fixed by filling sheet after sheet at the prices of r.
func (m *master) finish(fixed *plan, r *relaxation, rest []int) *plan {
	price := make([]float64, len(rest))
	for i, s := range r.rows {
		price[s] = max(r.lp.dual[i], 0) + 1e-6*m.f.shapes[s].area/m.f.shapes[0].area
	}
	tail := m.f.sequential(price, rest)
	if tail == nil {
		return nil
	}
	return &plan{cuts: append(append([]planned(nil), fixed.cuts...), tail.cuts...), cost: fixed.cost + tail.cost}
}

// fix moves patterns from x into fixed and takes them off rest.
func (m *master) fix(fixed *plan, r *relaxation, x []float64, rest []int, share, skew float64) {
	var sum float64
	order := make([]int, 0, len(x))
	for j, v := range x {
		if v > 1e-7 {
			order = append(order, j)
			sum += v
		}
	}
	rank := func(j int) float64 {
		whole, frac := math.Modf(x[j] + 1e-9)
		if whole >= 1 {
			return 2 + whole
		}
		return frac + skew*float64(uint64(j)*2654435761%1000)/1000
	}
	sort.SliceStable(order, func(a, b int) bool { return rank(order[a]) > rank(order[b]) })
	budget := max(1, int(sum*share))
	for _, j := range order {
		n := int(x[j] + 1e-9)
		if n == 0 {
			if budget <= 0 {
				break
			}
			n = 1
		}
		c := r.cand[j]
		for k := 0; k < n; k++ {
			b := prune(c.b, rest)
			if b == nil {
				break
			}
			if k == 0 && int(x[j]+1e-9) == 0 && len(b.u) < len(c.u) {
				break // no longer the pattern that was worth fixing
			}
			p := m.f.candidate(c.stock, b, make([]float64, len(rest)))
			p.u.take(rest, 1)
			fixed.add(p, 1, m.f.stock[c.stock].Cost)
			budget--
		}
	}
}

// prune returns b without the blanks that rest no longer wants; b itself if all
// are wanted, nil if none is.
func prune(b *block, rest []int) *block {
	if b.u.within(rest) {
		return b
	}
	return pruned(b, append([]int(nil), rest...))
}

func pruned(b *block, rest []int) *block {
	wanted := func(v variant) bool {
		if rest[v.shape] > 0 {
			rest[v.shape]--
			return true
		}
		return false
	}
	switch b.kind {
	case single:
		if wanted(b.a) {
			return b
		}
	case pair:
		low, high := wanted(b.a), wanted(b.b)
		switch {
		case low && high:
			return b
		case low:
			return singleBlock(b.a)
		case high:
			return singleBlock(b.b)
		}
	default:
		var kids []*block
		for _, k := range b.kids {
			if k = pruned(k, rest); k != nil {
				kids = append(kids, k)
			}
		}
		switch {
		case len(kids) == 0:
			return nil
		case b.kind == row:
			return rowOf(kids...)
		}
		return stackOf(kids...)
	}
	return nil
}
