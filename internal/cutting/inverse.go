package cutting

import "math"

// refactor inverts the basis by Gauss–Jordan elimination with row pivoting. If
// noise has made it singular, pivoting starts again from the first columns.
func (p *linear) refactor() {
	if !p.invert() {
		for i := range p.basis {
			p.basis[i] = i
		}
		p.invert()
	}
	p.since = 0
	p.x = make([]float64, p.m)
	for i := range p.x {
		for k := 0; k < p.m; k++ {
			p.x[i] += p.binv[i*p.m+k] * p.perturbed(k)
		}
	}
	p.prices()
}

// invert sets binv; false if the basis is singular.
func (p *linear) invert() bool {
	m := p.m
	a := make([]float64, m*m)
	inv := make([]float64, m*m)
	for j, b := range p.basis {
		if b < 0 {
			a[(-1-b)*m+j] = -1
		} else {
			for k, r := range p.cols[b].row {
				a[int(r)*m+j] = p.cols[b].coef[k]
			}
		}
	}
	for i := 0; i < m; i++ {
		inv[i*m+i] = 1
	}
	var fullA, fullI []int32
	for c := 0; c < m; c++ {
		best := c
		for r := c + 1; r < m; r++ {
			if math.Abs(a[r*m+c]) > math.Abs(a[best*m+c]) {
				best = r
			}
		}
		swapRows(a, m, c, best)
		swapRows(inv, m, c, best)
		piv := a[c*m+c]
		if math.Abs(piv) < 1e-13 {
			return false
		}
		fullA, fullI = scaleRow(a[c*m:c*m+m], piv, fullA), scaleRow(inv[c*m:c*m+m], piv, fullI)
		for r := 0; r < m; r++ {
			if f := a[r*m+c]; r != c && f != 0 {
				ar, ir := a[r*m:r*m+m], inv[r*m:r*m+m]
				for _, k := range fullA {
					ar[k] -= f * a[c*m+int(k)]
				}
				for _, k := range fullI {
					ir[k] -= f * inv[c*m+int(k)]
				}
			}
		}
	}
	p.binv = inv
	return true
}

// scaleRow divides a row by piv and returns the places that are not 0.
func scaleRow(row []float64, piv float64, full []int32) []int32 {
	full = full[:0]
	for k, v := range row {
		if v != 0 {
			row[k] = v / piv
			full = append(full, int32(k))
		}
	}
	return full
}

func swapRows(a []float64, m, i, j int) {
	if i == j {
		return
	}
	for k := 0; k < m; k++ {
		a[i*m+k], a[j*m+k] = a[j*m+k], a[i*m+k]
	}
}
