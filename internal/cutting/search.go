package cutting

// work limits the search; none of it looks at the clock.
type work struct {
	greedy  int     // sequential fillings
	first   int     // rounds of column generation to begin with
	again   int     // rounds after each fixing
	dives   int     // roundings, each with another order
	share   float64 // of the sheets fixed at a time
	buckets int     // lengths told apart when stacking
	jigsaw  jigsawWork
	deep    jigsawWork // for few pieces that nothing else settles
	mends   int        // few sheets taken apart and put together anew
}

// jigsawWork limits the jigsaw.
type jigsawWork struct {
	spreads            []float64 // waste in one sheet as parts of all that may be wasted
	bricks, loose      int       // bricks kept without and with waste
	full, looks, known int       // full sheets kept, looks of the cover, full sheets kept for the dives
	tight              float64   // tried where no larger part of the area is to be wasted
	pieces             int       // and where there are no more of them
}

// few is a number of pieces that the jigsaw can settle.
const few = 40

// workFor scales the limits with the size of the job.
func workFor(e Effort, shapes int) work {
	w := work{greedy: 2, first: 60, again: 6, dives: 1, share: 0.25, buckets: 768,
		jigsaw: jigsawWork{spreads: []float64{0}, bricks: 1000, loose: 600, full: 600, looks: 1 << 20, known: 600, tight: 0.01, pieces: 1 << 20}}
	if e == Best {
		w = work{greedy: 20, first: 2000, again: 20, dives: 4, share: 0.1, buckets: 4096, mends: 40,
			jigsaw: jigsawWork{spreads: []float64{0, 0.1, 0.3, 1}, bricks: 40000, loose: 4000, full: 4000, looks: 1 << 24, known: 1000, tight: 1, pieces: 1 << 20},
			deep:   jigsawWork{spreads: []float64{0.1, 0.3, 1}, loose: 60000, full: 20000, looks: 1 << 26, tight: 0.06, pieces: few}}
	}
	switch {
	case shapes > 150 && e == Quick:
		w.first, w.again, w.share = 30, 2, 0.4
	case shapes > 150:
		w.greedy, w.again, w.dives, w.share = 6, 10, 2, 0.2
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
	begun := f.greedy(left, 1, nil, func(*plan) {})
	m.offer(begun.clone())
	q.met = m.best.cost
	if !m.done() {
		m.puzzle(left, w.jigsaw, 1)
	}
	if m.done() {
		return m.best
	}
	m.offer(f.greedy(left, w.greedy, begun, func(p *plan) {
		for _, c := range p.cuts {
			m.remember(c.candidate)
		}
	}))
	q.met = m.best.cost
	m.bound = q.prove()
	if !m.done() {
		m.puzzle(left, w.jigsaw, len(w.jigsaw.spreads))
	}
	for k := 0; k < w.dives && !m.done(); k++ {
		m.dive(left, w.first, w.again, w.share, 0.3*float64(k))
		if k == 0 && !m.done() {
			m.bound = q.bySets(m)
			m.puzzle(left, w.deep, len(w.deep.spreads))
			m.mend(left, w.mends)
		}
	}
	return m.best
}

// puzzle looks for a plan at the bound made of sheets that come out full, with
// ever more waste allowed in one sheet, and leaves what it finds in the pool.
func (m *master) puzzle(left []int, w jigsawWork, spreads int) {
	var area float64
	pieces := 0
	for i, s := range m.f.shapes {
		area += s.area * float64(left[i])
		pieces += left[i]
	}
	slack := max(0, float64(m.bound)/m.rate()-area) // waste a plan at the bound may have
	if slack < 1e-9*area {
		slack = 0
	}
	if slack > w.tight*area || pieces > w.pieces {
		return
	}
	for _, part := range w.spreads[:spreads] {
		most := w.bricks
		if slack > 0 && part > 0 {
			most = w.loose
		}
		z := newJigsaw(m.f.shapes, left, m.f.stock, slack*part, most)
		if z == nil {
			return
		}
		z.build()
		full := z.sheets(w.full)
		m.offer(m.cover(z, full, left, m.bound, w.looks))
		for _, f := range full[:min(len(full), w.known)] {
			m.remember(z.candidate(f))
		}
		if m.done() || slack == 0 {
			return
		}
	}
}
