package layout

import (
	"cmp"
	"slices"
)

// Lanes of one depth stand one after the other, and a lay has to keep apart
// only from lays of the depths beside it that it overlaps. Taken by where they
// start, each lane can overlap no earlier lane of another depth but the last:
// so the choices form a chain whose state is the last lay of each depth, and
// the best ones are found lane by lane without trying them all together.

const (
	maxDepths = 8
	chainKeep = 4 // ways kept to each state
)

// chainWidth returns how many states are kept after each lane, and of how many
// whole ways the rips are put together.
func (w *wall) chainWidth() (states, ends int) {
	if w.env.Effort == Quick {
		return 20, 6
	}
	return 240, 48
}

// link is a way to a state: the lays of the lanes so far. Its cost charges each
// lane's rips by themselves; only whole ways have theirs put together.
type link struct {
	from  *link
	lay   *lay
	lane  int
	last  [maxDepths]*lay // by depth, from the left face ply
	cost  tally
	added int
	off   int
}

// chain returns the best choices of one lay per lane whose neighbours keep
// apart. It is exact but for rips that share a sheet across lanes, which are
// weighed among the best whole ways, and for the states it drops beyond
// chainWidth.
func (w *wall) chain(choices [][]choice) []combo {
	order, base := w.chainOrder(choices)
	if order == nil {
		return nil
	}
	wide, ends := w.chainWidth()
	beam := []*link{{}}
	tries := w.tried
	defer func() { w.tried = tries }()
	for _, i := range order {
		tries = w.tries(tries[:0], beam, choices[i], len(choices), base)
		rank := make([]int32, len(tries))
		for n := range rank {
			rank[n] = int32(n)
		}
		slices.SortStableFunc(rank, func(a, b int32) int {
			t, u := &tries[a], &tries[b]
			return w.compareCost(&t.cost, t.added, &u.cost, u.added)
		})
		next := make([]*link, 0, min(wide, len(tries)))
		slab := make([]link, 0, cap(next)) // the links stand together
		for _, n := range rank {
			t := &tries[n]
			c := &choices[i][t.choice]
			last := beam[t.from].last
			last[c.lane.depth-base] = c.lay
			seen := 0
			for _, l := range next {
				if l.last == last {
					seen++
				}
			}
			if seen == chainKeep {
				continue
			}
			slab = append(slab, link{from: beam[t.from], lay: c.lay, lane: i, last: last, cost: t.cost, added: t.added, off: t.off})
			next = append(next, &slab[len(slab)-1])
			if len(next) == wide {
				w.pruned = true
				break
			}
		}
		beam = next
	}
	return w.wholeWays(beam[:min(len(beam), ends)], len(choices))
}

// try is one choice after one way.
type try struct {
	from, choice int
	added, off   int
	cost         tally
}

// tries appends every choice of a lane after every way that it keeps apart
// from.
func (w *wall) tries(out []try, beam []*link, choices []choice, lanes, base int) []try {
	for k := range choices {
		choices[k].chargeAlone(w)
	}
	for n, b := range beam {
		for k, c := range choices {
			off := b.off + min(1, c.added)
			if off == lanes && w.Framing != framed || !w.keepsApart(b, c.lay, base) {
				continue
			}
			t := try{from: n, choice: k, added: b.added + c.added, off: off, cost: b.cost}
			t.cost.add(c.cost)
			t.cost.area += c.alone.area
			t.cost.money += c.alone.money
			out = append(out, t)
		}
	}
	return out
}

// chainOrder returns the lanes by where they start and the least depth; nil
// where the wall has more depths than a state holds.
func (w *wall) chainOrder(choices [][]choice) (order []int, base int) {
	least, most := 0, 0
	for i, cs := range choices {
		if len(cs) == 0 {
			return nil, 0
		}
		order = append(order, i)
		d := cs[0].lane.depth
		if i == 0 {
			least, most = d, d
		}
		least, most = min(least, d), max(most, d)
	}
	if most-least >= maxDepths {
		return nil, 0
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(choices[a][0].lane.s0, choices[b][0].lane.s0)
	})
	return order, least
}

// keepsApart reports whether l keeps apart from the last lays of the depths beside
// it.
func (w *wall) keepsApart(b *link, l *lay, base int) bool {
	d := l.lane.depth - base
	for _, k := range [2]int{d - 1, d + 1} {
		if k < 0 || k >= maxDepths || b.last[k] == nil {
			continue
		}
		if m := b.last[k]; m.lane.neighbours(l.lane.ply) && !w.apart(m, l) {
			return false
		}
	}
	return true
}

// wholeWays turns ways into combos in the order of the lanes, rips put
// together, best first.
func (w *wall) wholeWays(ends []*link, lanes int) []combo {
	out := make([]combo, 0, len(ends))
	for _, e := range ends {
		c := combo{lays: make([]*lay, lanes), added: e.added, off: e.off}
		for n := e; n.lay != nil; n = n.from {
			c.lays[n.lane] = n.lay
		}
		for _, l := range c.lays {
			c.cost.add(l.cost)
		}
		out = append(out, c)
	}
	w.rankCombos(out, true)
	return out
}
