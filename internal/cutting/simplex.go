package cutting

import "math"

// linear is the covering programme
//
//	minimise Σ c_j x_j   subject to   Σ a_ij x_j ≥ need_i,   x ≥ 0
//
// with columns added as it goes. It keeps a basis between calls (warm start): a
// new column never makes the basis infeasible. The inverse of the basis is dense
// and built anew every refactorEvery + m pivots, or when the duals at an optimum
// do not price its columns at their cost.
//
// Degenerate vertices are the rule here, so the right side is perturbed by
// distinct tiny amounts while pivoting, which keeps the simplex method from
// cycling; if it stalls all the same, Bland's rule takes over. Values and duals
// handed out belong to the unperturbed right side.
type linear struct {
	m     int
	need  []float64
	cols  []column
	basis []int // column per row; −1−i stands for the surplus of row i
	binv  []float64
	x     []float64 // values of the basis, perturbed right side
	dual  []float64
	full  []int32
	since int   // pivots since the inverse was built
	short []int // columns that lowered the cost when all were last looked at
}

// column is sparse: rows rising, all coefficients above 0.
type column struct {
	cost float64
	row  []int32
	coef []float64
}

const (
	reducedTol    = 1e-9 // least gain worth a pivot, relative to the cost of a column
	pivotTol      = 1e-9 // least pivot element; guards against dividing by noise
	driftTol      = 1e-7 // most that a basic column may be priced off its cost
	shortList     = 40   // columns looked at again before all are
	refactorEvery = 100
	perturb       = 1e-7 // of the need; far above rounding, far below what is printed
)

// newLinear starts from one column per row that covers it alone.
func newLinear(need []float64, first []column) *linear {
	p := &linear{m: len(need), need: need}
	p.basis = make([]int, p.m)
	p.dual = make([]float64, p.m)
	for i, c := range first {
		p.cols = append(p.cols, c)
		p.basis[i] = i
	}
	p.refactor()
	return p
}

// perturbed is the right side pivoted on: distinct, so that no two rows tie.
func (p *linear) perturbed(i int) float64 {
	return p.need[i] + perturb*(1+math.Abs(p.need[i]))*(1+float64((i*7919)%1009)/1009)
}

// prices recomputes the duals: the costs of the basis times its inverse.
func (p *linear) prices() {
	for k := range p.dual {
		p.dual[k] = 0
	}
	for i, b := range p.basis {
		if b >= 0 && p.cols[b].cost != 0 {
			c := p.cols[b].cost
			for k, v := range p.binv[i*p.m : i*p.m+p.m] {
				p.dual[k] += c * v
			}
		}
	}
}

func (p *linear) reduced(c column) float64 {
	d := c.cost
	for k, r := range c.row {
		d -= p.dual[r] * c.coef[k]
	}
	return d
}

// optimise pivots until no column, nor the surplus of a row, lowers the cost, or
// maxPivots is used up; it reports whether the optimum was reached.
func (p *linear) optimise(maxPivots int) bool {
	stall := 0
	for ; maxPivots > 0; maxPivots-- {
		enter, gain := p.entering(stall > 2*p.m+50)
		if gain >= 0 {
			if p.since > 0 && p.drifted() {
				p.refactor()
				continue
			}
			return true
		}
		step := p.pivot(enter, gain)
		if step < 0 {
			return false // unbounded: cannot be with costs ≥ 0; noise
		}
		if step*-gain > 1e-13 {
			stall = 0
		} else {
			stall++
		}
	}
	return false
}

// drifted reports whether the duals no longer price the basis at its cost.
func (p *linear) drifted() bool {
	for _, b := range p.basis {
		if b >= 0 && math.Abs(p.reduced(p.cols[b])) > driftTol*(1+math.Abs(p.cols[b].cost)) {
			return true
		}
		if b < 0 && math.Abs(p.dual[-1-b]) > driftTol {
			return true
		}
	}
	return false
}

// entering returns a column of negative reduced cost: the most negative of the
// short list, of all once the list has none; the first negative one of all under
// Bland's rule. gain is 0 if there is none. Surplus of row i is −1−i.
func (p *linear) entering(bland bool) (enter int, gain float64) {
	if !bland {
		for _, j := range p.short {
			if d := p.gain(j); d < gain {
				enter, gain = j, d
			}
		}
		if gain < 0 {
			return enter, gain
		}
	}
	p.short = p.short[:0]
	worst := 0.0 // gain of the last on the list, once it is full
	var gains [shortList]float64
	for j := -p.m; j < len(p.cols); j++ {
		d := p.gain(j)
		if d >= worst {
			continue
		}
		if bland {
			return j, d
		}
		n := len(p.short)
		if n < shortList {
			p.short = append(p.short, 0)
		} else {
			n--
		}
		for ; n > 0 && gains[n-1] > d; n-- {
			gains[n], p.short[n] = gains[n-1], p.short[n-1]
		}
		gains[n], p.short[n] = d, j
		if len(p.short) == shortList {
			worst = gains[shortList-1]
		}
	}
	if len(p.short) > 0 {
		return p.short[0], gains[0]
	}
	return 0, 0
}

// gain is the reduced cost of column j where it is worth a pivot, else 0.
func (p *linear) gain(j int) float64 {
	if j < 0 { // the reduced cost of a surplus is its row's dual
		if y := p.dual[-1-j]; y < -reducedTol {
			return y
		}
		return 0
	}
	c := p.cols[j]
	if d := p.reduced(c); d < -reducedTol*(1+math.Abs(c.cost)) {
		return d
	}
	return 0
}

// pivot brings column enter into the basis and returns how far it was raised,
// −1 if nothing limits it.
func (p *linear) pivot(enter int, gain float64) float64 {
	m := p.m
	dir := make([]float64, m)
	for i := range dir {
		row := p.binv[i*m : i*m+m]
		if enter < 0 {
			dir[i] = -row[-1-enter]
			continue
		}
		c := p.cols[enter]
		for k, r := range c.row {
			dir[i] += row[r] * c.coef[k]
		}
	}
	leave, step := -1, math.Inf(1)
	for i, d := range dir {
		if d <= pivotTol {
			continue
		}
		t := max(p.x[i], 0) / d
		if t < step-1e-14 || t <= step+1e-14 && leave >= 0 && d > dir[leave] {
			leave, step = i, t
		}
	}
	if leave < 0 {
		return -1
	}
	p.swap(enter, leave, gain, step, dir)
	return step
}

// swap replaces the basic column of row leave; gain is the reduced cost of enter.
func (p *linear) swap(enter, leave int, gain, step float64, dir []float64) {
	m := p.m
	lrow := p.binv[leave*m : leave*m+m]
	full := p.full[:0] // places of lrow that are not 0
	for k := range lrow {
		if lrow[k] != 0 {
			lrow[k] /= dir[leave]
			full = append(full, int32(k))
		}
	}
	p.full = full
	for i, d := range dir {
		if i == leave || d == 0 {
			continue
		}
		row := p.binv[i*m : i*m+m]
		if 2*len(full) > m {
			for k, v := range lrow {
				row[k] -= d * v
			}
		} else {
			for _, k := range full {
				row[k] -= d * lrow[k]
			}
		}
		p.x[i] -= step * d
	}
	p.x[leave] = step
	p.basis[leave] = enter
	if p.since++; p.since >= refactorEvery+p.m {
		p.refactor()
		return
	}
	for _, k := range full {
		p.dual[k] += gain * lrow[k]
	}
}

// solution returns the value of every column at the unperturbed right side and
// their cost. Values are cleaned of noise below zero.
func (p *linear) solution() (x []float64, cost float64) {
	x = make([]float64, len(p.cols))
	for i, b := range p.basis {
		if b < 0 {
			continue
		}
		var v float64
		for k, a := range p.binv[i*p.m : i*p.m+p.m] {
			v += a * p.need[k]
		}
		if v > 0 {
			x[b] = v
			cost += v * p.cols[b].cost
		}
	}
	return x, cost
}

// dualValue is the cost that the duals prove, provided that no column costs less
// than they pay for it.
func (p *linear) dualValue() float64 {
	var z float64
	for i, y := range p.dual {
		z += max(y, 0) * p.need[i]
	}
	return z
}
