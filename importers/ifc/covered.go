package ifc

// readCovered finds what walls that a model says are joined hide of each other:
// where the end of one stands against the side of another. It is measured apart
// from the sides, as board may run behind a wall that comes later.
func (m *model) readCovered(all []*found) {
	if len(m.rel.joined) == 0 {
		return
	}
	m.each(len(all), func(g *geo, i int) {
		if w := all[i]; !w.round {
			w.cover(g, m.rel.joined.of(w.id))
		}
	})
}

// cover measures what the walls joined to w hide of its sides: their sections by
// the planes of the sides, seen from without. A wall whose body cannot be read
// has been told and hides nothing.
func (w *found) cover(g *geo, joined links) {
	var left, right region
	for _, l := range joined {
		if l.to == w.id {
			continue
		}
		rec, err := g.r.Get(l.to)
		if err != nil {
			continue
		}
		p, err := g.product(rec)
		if err != nil {
			continue
		}
		shift := identity
		shift.o = p.place.o
		own := shift.then(w.frame)
		solids := make([]solid, len(p.solids))
		for i, s := range p.solids {
			solids[i] = s.moved(own)
		}
		left = union(left, intersect(section(solids, plane{y: w.t / 2, side: -1}), w.body.left))
		right = union(right, intersect(section(solids, plane{y: -w.t / 2, side: 1}), w.body.right))
	}
	if !left.isPoisoned() && !right.isPoisoned() {
		w.q.LeftCoveredM2, w.q.RightCoveredM2 = left.area()*m2, right.area()*m2
	}
}
