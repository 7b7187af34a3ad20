package cutting

// work limits the search; none of it looks at the clock.
type work struct {
	greedy  int     // sequential fillings
	first   int     // rounds of column generation to begin with
	again   int     // rounds after each fixing
	dives   int     // roundings, each with another order
	share   float64 // of the sheets fixed at a time
	buckets int     // lengths told apart when stacking
	// Of the jigsaw: waste in one sheet as parts of all that may be wasted; bricks
	// kept without and with waste; full sheets kept; looks of the cover.
	spreads                    []float64
	bricks, loose, full, looks int
	remembered                 int     // full sheets kept for the dives
	tight                      float64 // tried where no larger part of the area is to be wasted
}

// workFor scales the limits with the size of the job.
func workFor(e Effort, shapes int) work {
	w := work{greedy: 2, first: 60, again: 6, dives: 1, share: 0.25, buckets: 768,
		spreads: []float64{0}, bricks: 1000, loose: 600, full: 600, looks: 1 << 20, remembered: 600, tight: 0.01}
	if e == Best {
		w = work{greedy: 20, first: 2000, again: 20, dives: 8, share: 0.1, buckets: 4096,
			spreads: []float64{0, 0.1, 0.3, 1}, bricks: 40000, loose: 4000, full: 4000, looks: 1 << 24, remembered: 4000, tight: 1}
	}
	if shapes > 150 && e == Quick {
		w.first, w.again, w.share = 30, 2, 0.4
	}
	return w
}

// search returns the best plan found for what is left to cut; it stops once the
// bound is met. q is asked for linear programmes only if the area does not
// settle it.
func search(shapes []*shape, left []int, stock []Stock, q *relaxed, e Effort) *plan {
	w := workFor(e, len(shapes))
	f := newFiller(shapes, stock, w.buckets)
	m := newMaster(f, q.cost)
	begun := f.greedy(left, 1, nil)
	m.offer(begun.clone())
	q.met = m.best.cost
	if !m.done() {
		m.puzzle(left, w, w.spreads[:1])
	}
	if m.done() {
		return m.best
	}
	m.offer(f.greedy(left, w.greedy, begun))
	q.met = m.best.cost
	m.bound = q.prove()
	for _, c := range m.best.cuts {
		m.remember(c.candidate)
	}
	if !m.done() {
		m.puzzle(left, w, w.spreads)
	}
	for k := 0; k < w.dives && !m.done(); k++ {
		m.dive(left, w.first, w.again, w.share, 0.3*float64(k))
	}
	return m.best
}

// puzzle looks for a plan at the bound made of sheets that come out full, with
// ever more waste allowed in one sheet, and leaves what it finds in the pool.
func (m *master) puzzle(left []int, w work, spreads []float64) {
	var area float64
	for i, s := range m.f.shapes {
		area += s.area * float64(left[i])
	}
	slack := max(0, float64(m.bound)/m.rate()-area) // waste a plan at the bound may have
	if slack < 1e-9*area {
		slack = 0
	}
	if slack > w.tight*area {
		return
	}
	for _, part := range spreads {
		z := newJigsaw(m.f.shapes, left, m.f.stock, slack*part, w.bricks)
		if z == nil {
			return
		}
		if slack > 0 && part > 0 {
			z.max = min(z.max, w.loose)
		}
		z.build()
		full := z.sheets(w.full)
		m.offer(m.cover(z, full, left, m.bound, w.looks))
		for _, f := range full[:min(len(full), w.remembered)] {
			m.remember(z.candidate(f))
		}
		if m.done() || slack == 0 {
			return
		}
	}
}
