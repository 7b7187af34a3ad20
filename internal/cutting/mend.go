package cutting

import (
	"cmp"
	"slices"
)

// mend takes a few sheets of the best plan apart at a time, badly filled ones
// first, and looks for a cheaper way to cut what is on them, with the jigsaw and
// by filling. Others join them in an order that depends on the try alone.
func (m *master) mend(left []int, tries int) {
	if tries == 0 || m.done() {
		return
	}
	sheets := m.sheets()
	turn := uint64(1)
	for try := 0; try < tries && !m.done(); try++ {
		if len(sheets) < 3 {
			return
		}
		// The worst sheets in turn, joined by two or three of the badly filled half.
		chosen := []int{try % max(len(sheets)/2, 1)}
		for want := 3 + try%2; len(chosen) < min(want, len(sheets)); {
			turn = turn*6364136223846793005 + 1442695040888963407
			k := int(turn >> 33 % uint64(len(sheets)))
			if try%3 > 0 {
				k = int(turn >> 33 % uint64((len(sheets)+1)/2))
			}
			if !slices.Contains(chosen, k) {
				chosen = append(chosen, k)
			} else if len(chosen) >= (len(sheets)+1)/2 {
				break
			}
		}
		if p := m.again(sheets, chosen, len(left)); p != nil {
			rest := &plan{}
			for i, s := range sheets {
				if !slices.Contains(chosen, i) {
					rest.add(s.candidate, 1, m.f.stock[s.stock].Cost)
				}
			}
			for _, c := range p.cuts {
				rest.add(c.candidate, c.times, m.f.stock[c.stock].Cost)
			}
			m.offer(rest)
			sheets = m.sheets()
		}
	}
}

// sheets returns the sheets of the best plan one by one, the worst filled first.
func (m *master) sheets() []planned {
	var out []planned
	filled := func(c planned) float64 {
		var area float64
		for _, e := range c.u {
			area += float64(e.n) * m.f.shapes[e.shape].area
		}
		st := m.f.stock[c.stock]
		return area / (float64(st.Width) * float64(st.Length))
	}
	for _, c := range m.best.cuts {
		for k := 0; k < c.times; k++ {
			out = append(out, planned{c.candidate, 1})
		}
	}
	slices.SortStableFunc(out, func(a, b planned) int { return cmp.Compare(filled(a), filled(b)) })
	return out
}

// again cuts what is on the chosen sheets anew and returns a plan that costs
// less than they, nil if none is found.
func (m *master) again(sheets []planned, chosen []int, shapes int) *plan {
	left := make([]int, shapes)
	var cost int64
	var area float64
	for _, k := range chosen {
		cost += m.f.stock[sheets[k].stock].Cost
		for _, e := range sheets[k].u {
			left[e.shape] += e.n
			area += float64(e.n) * m.f.shapes[e.shape].area
		}
	}
	if m.sums.up(area*m.rate()) >= cost {
		return nil
	}
	sub := newMaster(m.f, m.sums.down(cost-1))
	sub.offer(m.f.greedy(left, 4, nil, func(*plan) {}))
	if !sub.done() {
		sub.puzzle(left, jigsawWork{spreads: []float64{0.1, 0.4, 1}, loose: 3000, full: 3000, looks: 1 << 20, tight: 1, pieces: few}, 3)
	}
	if sub.best.cost >= cost {
		return nil
	}
	return sub.best
}
