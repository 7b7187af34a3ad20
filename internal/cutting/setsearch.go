package cutting

import (
	"cmp"
	"math"
	"slices"

	"boardrun/internal/measure"
)

// search tries all sets of sheet k; false if that takes too long.
func (z *sheetSets) search(k int) bool {
	var open []int32
	for i := range z.members {
		if m := &z.members[i]; m.value > 1e-12 && m.h <= z.length && m.mean <= z.length && m.w <= z.width {
			open = append(open, int32(i))
		}
	}
	for s := range z.byRate {
		z.byRate[s] = append(z.byRate[s][:0], open...)
		slices.SortStableFunc(z.byRate[s], func(a, b int32) int {
			x, y := &z.members[a], &z.members[b]
			return cmp.Compare(y.value*x.size[s], x.value*y.size[s])
		})
	}
	slices.SortStableFunc(open, func(a, b int32) int {
		return cmp.Compare(z.members[b].value, z.members[a].value)
	})
	z.chosen = z.chosen[:0]
	return z.extend(k, open, 0, [sizesOfSet]float64{})
}

// extend adds members of open, in its order, to the chosen.
func (z *sheetSets) extend(k int, open []int32, value float64, taken [sizesOfSet]float64) bool {
	for n, i := range open {
		m := &z.members[i]
		if value+z.most(open[n:], taken) <= z.bestCost {
			return z.looks > 0
		}
		if z.looks -= len(open) * (1 + len(z.chosen)); z.looks < 0 {
			return false
		}
		z.chosen, z.count[m.row] = append(z.chosen, i), z.count[m.row]+1
		v, after := value+m.value, taken
		for s := range after {
			after[s] += m.size[s]
		}
		if v > z.bestCost {
			z.bestCost = v
			z.found = append(z.found, foundSet{k, slices.Clone(z.chosen), v / z.cost})
		}
		next := make([]int32, 0, len(open)-n)
		for _, j := range open[n:] {
			if z.count[z.members[j].row] < z.copies[z.members[j].row] && after[0]+z.members[j].size[0] <= z.full*(1+1e-9) && z.joins(j) {
				next = append(next, j)
			}
		}
		ok := z.extend(k, next, v, after)
		z.chosen, z.count[m.row] = z.chosen[:len(z.chosen)-1], z.count[m.row]-1
		if !ok {
			return false
		}
	}
	return true
}

// most bounds what members of open can add: for each way to measure them, as
// much of those worth most for their size as there is room for, the last in part.
func (z *sheetSets) most(open []int32, taken [sizesOfSet]float64) float64 {
	for _, i := range open {
		z.open[i] = true
	}
	best := math.Inf(1)
	for s := range z.byRate {
		room := z.full*(1+1e-9) - taken[s]
		var sum float64
		for _, i := range z.byRate[s] {
			if !z.open[i] {
				continue
			}
			m := &z.members[i]
			n := float64(z.copies[m.row] - z.count[m.row])
			if n*m.size[s] > room {
				sum += m.value * room / m.size[s]
				break
			}
			sum += n * m.value
			room -= n * m.size[s]
		}
		best = min(best, sum)
	}
	for _, i := range open {
		z.open[i] = false
	}
	return best
}

// joins reports whether nothing simple speaks against member j with the chosen.
func (z *sheetSets) joins(j int32) bool {
	m := &z.members[j]
	var beside, above [32]*member
	nb, na := 0, 0
	for _, i := range z.chosen {
		c := &z.members[i]
		b := m.h+c.h > z.length                            // they share a line across
		a := m.w+c.w > z.width || m.need+c.need > barEdges // they share no line across
		if a && b {
			return false
		}
		if a && na < len(above) {
			above[na] = c
			na++
		}
		if b && nb < len(beside) {
			beside[nb] = c
			nb++
		}
	}
	return z.fitsBeside(beside[:nb], m.w, m.need) && z.stacks(above[:na], m.h, m.half())
}

// fitsBeside reports whether the members that can only lie beside each other,
// with others that come to so much, do.
func (z *sheetSets) fitsBeside(of []*member, w measure.Length, need int) bool {
	if w > z.width || need > barEdges {
		return false
	}
	allW, allNeed := w, need
	for _, c := range of {
		allW, allNeed = allW+c.w, allNeed+c.need
	}
	if allW <= z.width && allNeed <= barEdges {
		return true
	}
	for n, c := range of {
		var with [32]*member
		k := 0
		for _, d := range of[n+1:] {
			if c.h+d.h > z.length {
				with[k] = d
				k++
			}
		}
		if !z.fitsBeside(with[:k], w+c.w, need+c.need) {
			return false
		}
	}
	return true
}

// stacks does so for members that can only lie one above the other: by the
// heights they surely take, and by half.
func (z *sheetSets) stacks(of []*member, h, half measure.Length) bool {
	if h > z.length || half > z.length {
		return false
	}
	allH, allHalf := h, half
	for _, c := range of {
		allH, allHalf = allH+c.h, allHalf+c.half()
	}
	if allH <= z.length && allHalf <= z.length {
		return true
	}
	for n, c := range of {
		var with [32]*member
		k := 0
		for _, d := range of[n+1:] {
			if c.w+d.w > z.width || c.need+d.need > barEdges {
				with[k] = d
				k++
			}
		}
		if !z.stacks(with[:k], h+c.h, half+c.half()) {
			return false
		}
	}
	return true
}
