package cutting

// cover looks for full sheets that use every copy and cost at most a budget. It
// gives up after so many looks at a sheet.
type cover struct {
	full   []fullSheet
	area   []float64 // of the pieces in each
	cost   []int64
	rate   float64   // least cost per area
	at     []counter // of the shapes wanted
	holds  [][]int32 // shapes in each, as places in at
	looks  int
	chosen []int32
}

// cover returns a plan made of the full sheets of z at a cost within budget, or
// nil.
func (m *master) cover(z *jigsaw, full []fullSheet, left []int, budget int64, looks int) *plan {
	v := &cover{full: full, looks: looks, rate: m.rate()}
	var area float64
	for s, n := range left {
		if n > 0 {
			v.at = append(v.at, z.at[s])
			area += m.f.shapes[s].area * float64(n)
		}
	}
	feasible := make([]int32, len(full))
	for i, f := range full {
		st := &m.f.stock[f.stock]
		v.cost = append(v.cost, st.Cost)
		v.area = append(v.area, float64(st.Width)*float64(st.Length)-f.waste)
		var in []int32
		for s, n := range v.at {
			if n.of(&f.u) > 0 {
				in = append(in, int32(s))
			}
		}
		v.holds = append(v.holds, in)
		feasible[i] = int32(i)
	}
	if !v.search(tally{z.copies.limit, z.copies.guard}, feasible, budget, area) {
		return nil
	}
	p := &plan{}
	for _, i := range v.chosen {
		p.add(z.candidate(full[i]), 1, v.cost[i])
	}
	return p
}

// rate is the least cost per area of sheet.
func (m *master) rate() float64 {
	rate := 1e300
	for _, s := range m.f.stock {
		rate = min(rate, float64(s.Cost)/(float64(s.Width)*float64(s.Length)))
	}
	return rate
}

// search covers rest from the sheets in from; it branches on the shape that the
// fewest of them hold.
func (v *cover) search(rest tally, from []int32, budget int64, area float64) bool {
	if rest.limit == (counts{}) {
		return true
	}
	able := make([]int32, 0, len(from))
	ways := make([]int32, len(v.at))
	if v.looks -= len(from); v.looks < 0 {
		return false
	}
	for _, i := range from {
		if i < 0 {
			continue
		}
		left := float64(budget-v.cost[i]) * (1 + 1e-9)
		if (area-v.area[i])*v.rate > left || v.cost[i] > budget || !rest.within(&v.full[i].u) {
			continue
		}
		able = append(able, i)
		for _, s := range v.holds[i] {
			ways[s]++
		}
	}
	pick := -1
	for s, n := range ways {
		if v.at[s].of(&rest.limit) > 0 && (pick < 0 || n < ways[pick]) {
			pick = s
		}
	}
	if ways[pick] == 0 {
		return false
	}
	for k, i := range able {
		if v.at[pick].of(&v.full[i].u) == 0 {
			continue
		}
		after := rest
		for w := range after.limit {
			after.limit[w] -= v.full[i].u[w]
		}
		v.chosen = append(v.chosen, i)
		if v.search(after, able, budget-v.cost[i], area-v.area[i]) {
			return true
		}
		v.chosen = v.chosen[:len(v.chosen)-1]
		able[k] = -1 // all plans with it were tried
	}
	return false
}
