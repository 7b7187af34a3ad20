package cutting

// work limits the search; none of it looks at the clock.
type work struct {
	greedy  int     // sequential fillings
	first   int     // rounds of column generation to begin with
	again   int     // rounds after each fixing
	dives   int     // roundings, each with another order
	share   float64 // of the sheets fixed at a time
	buckets int     // lengths told apart when stacking
}

// workFor scales the limits with the size of the job.
func workFor(e Effort, shapes int) work {
	w := work{greedy: 6, first: 60, again: 6, dives: 1, share: 0.25, buckets: 1536}
	if e == Best {
		w = work{greedy: 20, first: 2000, again: 20, dives: 8, share: 0.1, buckets: 4096}
	}
	if shapes > 150 && e == Quick {
		w.first, w.again, w.share = 30, 2, 0.4
	}
	return w
}

// search returns the best plan found for what is left to cut; it stops once the
// bound is met.
func search(shapes []*shape, left []int, stock []Stock, bound int64, e Effort) *plan {
	w := workFor(e, len(shapes))
	f := newFiller(shapes, stock, w.buckets)
	m := newMaster(f, bound)
	m.offer(f.greedy(left, w.greedy))
	if m.done() {
		return m.best
	}
	for _, c := range m.best.cuts {
		m.remember(c.candidate)
	}
	for k := 0; k < w.dives && !m.done(); k++ {
		m.dive(left, w.first, w.again, w.share, 0.3*float64(k))
	}
	return m.best
}
