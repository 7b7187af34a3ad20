package layout

import (
	"cmp"
	"slices"
)

// track is all that one depth of a stretch has from left to right: lanes one
// after the other, each from its start over the stations between to its end.
type track struct {
	depth int
	nodes []node
}

type node struct {
	lane  *lane
	at    Length
	first int // node where its lane starts
	end   bool
	moves []move // columns from here, to each node after it within a sheet
}

// move is one column of a sweep.
type move struct {
	cost   tally
	narrow bool // narrower than the sheet
	ok     bool
	known  bool
	inner  int32 // 1: away from the lane's ends
	added  int32
}

// label is the cheapest way to a state: one node for each of up to two tracks
// and whether the last column of each is narrower than the sheet.
type label struct {
	at     [2]int
	narrow [2]bool
	cost   tally
	inner  int
	added  int
	from   *label
}

// sweep hangs one or two tracks from left to right. State: where the last
// joint of each is and what edge was left there; the track that is further
// behind moves on. A new joint can then be near a neighbour's only if it is
// near that neighbour's last one, so the state tells whether a stud is shared.
// Joints of depths swept before are given. Exact for the stations it is given;
// rips are charged a sheet each.
func (w *wall) sweep(tracks []*track, given map[*lane][]Length, start Length, rows stack, give licence) *label {
	last := 0
	for _, t := range tracks {
		last += len(t.nodes) - 1
	}
	// Few states have one sum: the tracks keep within a sheet of each other.
	buckets := make([][]*label, last+1)
	put := func(l label) {
		at, k := l.at[0]+l.at[1], l.key()
		for _, old := range buckets[at] {
			if old.key() == k {
				if w.better(&l, old) {
					*old = l
				}
				return
			}
		}
		buckets[at] = append(buckets[at], w.newLabel(l))
	}
	put(label{})
	for sum := range last {
		labels := buckets[sum]
		slices.SortFunc(labels, func(a, b *label) int { return cmp.Compare(a.key(), b.key()) })
		for _, l := range labels {
			w.step(tracks, l, given, start, rows, give, put)
		}
	}
	var best *label
	for _, l := range buckets[last] {
		if best == nil || w.better(l, best) || !w.better(best, l) && l.key() < best.key() {
			best = l
		}
	}
	return best
}

func (l *label) key() uint64 {
	k := uint64(l.at[0])<<32 | uint64(l.at[1])<<2
	if l.narrow[0] {
		k |= 1
	}
	if l.narrow[1] {
		k |= 2
	}
	return k
}

// better compares labels: rules broken, narrow pieces, then the cost.
func (w *wall) better(a, b *label) bool {
	if c := cmp.Or(cmp.Compare(a.cost.broken, b.cost.broken), cmp.Compare(a.inner, b.inner)); c != 0 {
		return c < 0
	}
	return cmp.Or(w.compareCost(&a.cost, a.added, &b.cost, b.added), cmp.Compare(a.cost.warnings, b.cost.warnings)) < 0
}

// tracks lists the stations of every depth.
func (w *wall) tracks(s *stretch, start Length, give licence) []*track {
	var out []*track
	for i := range s.lanes {
		ln := &s.lanes[i]
		if len(out) == 0 || out[len(out)-1].depth != ln.depth {
			out = append(out, &track{depth: ln.depth})
		}
		t := out[len(out)-1]
		first := len(t.nodes)
		t.nodes = append(t.nodes, node{lane: ln, at: ln.s0, first: first})
		for _, x := range w.stations(ln, start, give) {
			if x > ln.s0 && x < ln.s1 {
				t.nodes = append(t.nodes, node{lane: ln, at: x, first: first})
			}
		}
		t.nodes = append(t.nodes, node{lane: ln, at: ln.s1, first: first, end: true})
		moves := 0
		for k := first; k < len(t.nodes); k++ {
			moves += t.within(k)
		}
		room := make([]move, moves)
		for k := first; k < len(t.nodes); k++ {
			n := t.within(k)
			t.nodes[k].moves, room = room[:n], room[n:]
		}
	}
	return out
}

// within returns how many nodes after node k its lane has within a sheet.
func (t *track) within(k int) int {
	from := &t.nodes[k]
	n := k + 1
	for n < len(t.nodes) && t.nodes[n].lane == from.lane && t.nodes[n].at-from.at <= from.lane.width {
		n++
	}
	return n - k - 1
}

// stations returns where joints of ln may stand, sorted: the grid and, where
// there is none or the licence leaves it, offStations. Good until the next call.
func (w *wall) stations(ln *lane, start Length, give licence) []Length {
	out := w.where[:0]
	defer func() { w.where = out }()
	if w.Spacing > 0 {
		for x := ln.s0 + mod(start-ln.s0, w.Spacing); x < ln.s1; x += w.Spacing {
			out = append(out, x)
		}
	}
	if !give.stations && w.Spacing > 0 {
		return out
	}
	out = append(out, w.offStations(ln, give)...)
	slices.Sort(out)
	return slices.Compact(out)
}

// offKey names the stations off the grid of one lane.
type offKey struct {
	ply    *ply
	s0, s1 Length
	any    bool
}

// offStations returns the stations off the grid where joints of ln may stand,
// sorted: the limits of the bands, middles of openings, and a sheet to either
// side of those and of the lane's ends.
func (w *wall) offStations(ln *lane, give licence) []Length {
	k := offKey{ln.ply, ln.s0, ln.s1, give.any}
	if out, ok := w.off[k]; ok {
		return out
	}
	base := []Length{ln.s0, ln.s1}
	for i := range ln.holes {
		base = append(base, w.limits(&ln.holes[i])...)
	}
	out := make([]Length, 0, 3*len(base))
	for _, b := range base {
		out = append(out, b-ln.width, b, b+ln.width)
	}
	if w.Spacing <= 0 || give.any {
		for x := ln.s0 + ln.width; x < ln.s1; x += ln.width {
			out = append(out, x)
		}
	}
	slices.Sort(out)
	out = slices.Compact(out)
	if w.off == nil {
		w.off = map[offKey][]Length{}
	}
	w.off[k] = out
	return out
}

// step puts the states that follow l: the track further behind hangs one more
// column.
func (w *wall) step(tracks []*track, l *label, given map[*lane][]Length, start Length, rows stack, give licence, put func(label)) {
	k := -1
	for i, t := range tracks {
		if l.at[i] < len(t.nodes)-1 && (k < 0 || t.nodes[l.at[i]].at < tracks[k].nodes[l.at[k]].at) {
			k = i
		}
	}
	t := tracks[k]
	from := &t.nodes[l.at[k]]
	if from.end { // the next lane of this depth
		put(l.to(k, l.at[k]+1, &move{}))
		return
	}
	for n := range from.moves {
		j := l.at[k] + 1 + n
		to := &t.nodes[j]
		m := w.move(from, to, n, start, rows, give)
		if !m.ok {
			continue
		}
		worse := 0
		if !to.end && !w.freeStud(tracks, l, k, to, given) {
			if !give.any {
				continue
			}
			worse += 20
		}
		if m.narrow && l.narrow[k] {
			// Two rips make up a lane that no sheet and legal rip can.
			two := to.end && from.at-from.lane.s0 < from.lane.width
			if !give.any && !two {
				continue
			}
			worse++
		}
		next := l.to(k, j, m)
		next.cost.broken += worse
		put(next)
	}
}

// to returns the label after a move of track k to node j.
func (l *label) to(k, j int, m *move) label {
	n := *l
	n.from = l
	n.at[k], n.narrow[k] = j, m.narrow
	n.cost.add(m.cost)
	n.inner += int(m.inner)
	n.added += int(m.added)
	return n
}

// newLabel returns a label that stays.
func (w *wall) newLabel(l label) *label {
	if len(w.labelRoom) == cap(w.labelRoom) {
		w.labelRoom = make([]label, 0, slabSize)
	}
	w.labelRoom = append(w.labelRoom, l)
	return &w.labelRoom[len(w.labelRoom)-1]
}

// freeStud reports whether no neighbour's joint is near the node: the last one
// of the track swept beside it, or a given one.
func (w *wall) freeStud(tracks []*track, l *label, k int, to *node, given map[*lane][]Length) bool {
	for i, t := range tracks {
		other := &t.nodes[l.at[i]]
		if i == k || other.end || l.at[i] == other.first {
			continue // an end of board, no joint
		}
		if to.lane.neighbours(other.lane.ply) && (other.at-to.at).Abs() < w.distance(other.lane.ply, to.lane.ply) {
			return false
		}
	}
	for ln, joints := range given {
		if !ln.neighbours(to.lane.ply) {
			continue
		}
		least := w.distance(ln.ply, to.lane.ply)
		i, _ := slices.BinarySearch(joints, to.at-least+1)
		if i < len(joints) && joints[i] < to.at+least {
			return false
		}
	}
	return true
}

// move costs the column between two nodes, k nodes apart.
func (w *wall) move(from, to *node, k int, start Length, rows stack, give licence) *move {
	m := &from.moves[k]
	if !m.known {
		*m = w.newMove(from, to, start, rows, give)
		m.known = true
	}
	return m
}

func (w *wall) newMove(from, to *node, start Length, rows stack, give licence) move {
	ln, r := from.lane, w.env.Rules
	a, b := from.at, to.at
	m := move{ok: true, narrow: b-a < ln.width}
	atEnd := a == ln.s0 || to.end
	whole := a == ln.s0 && to.end
	if m.narrow && !whole {
		if !atEnd {
			m.inner = 1
		}
		if b-a < r.RipHard {
			m.cost.broken += 5
		} else if b-a < r.RipWarn {
			m.cost.warnings++
		}
	}
	if !to.end {
		hard, warn := w.judge(ln.ply, b)
		if hard {
			m.cost.broken += 10
		} else if warn {
			m.cost.warnings++
		}
		if w.Spacing > 0 && mod(b-start, w.Spacing) != 0 && !w.fixedAt(b) {
			m.added = 1
		}
	}
	if m.cost.broken > 0 && !give.any {
		return move{}
	}
	known := w.known(ln.ply, rows.of(ln.ply))
	if !to.end {
		kind := TaperedJoint
		if m.inner == 1 {
			kind = TaperedCut
		}
		m.cost.add(*known.uprights.of(b, Length(kind), func() tally { return w.upright(ln.ply, b, kind) }))
	}
	if m.narrow {
		m.cost.add(*w.ripColumn(ln.ply, known, a, b))
	} else {
		m.cost.add(*w.fullColumn(ln.ply, known, a, b))
	}
	m.ok = give.any || m.cost.broken == 0
	return m
}

// ripColumn costs a column of p narrower than the sheet, a sheet for each of
// its pieces.
func (w *wall) ripColumn(p *ply, known *costs, a, b Length) *tally {
	return known.columns.of(a, b-a, func() tally {
		bits, t := w.fill(p, a, b, known.rows, true)
		w.alone = w.ripsOf(w.alone[:0], p, a, b, bits)
		t.add(w.chargeRips(w.alone))
		return t
	})
}

// trace adds the joints of the cheapest way, sorted, by lane.
func trace(tracks []*track, best *label, joints map[*lane][]Length) {
	for l := best; l.from != nil; l = l.from {
		for k, t := range tracks {
			if n := &t.nodes[l.at[k]]; l.at[k] != l.from.at[k] && !n.end && l.at[k] != n.first {
				joints[n.lane] = append(joints[n.lane], n.at)
			}
		}
	}
	for _, t := range tracks {
		for i := range t.nodes {
			if n := &t.nodes[i]; n.end {
				slices.Reverse(joints[n.lane])
			}
		}
	}
}

// newSwept returns the lay of a lane with the joints found.
func newSwept(ln *lane, joints map[*lane][]Length) *lay {
	l := &lay{lane: ln, joints: joints[ln]}
	l.columns(func(i int, a, b Length) {
		if i > 0 && i < len(l.joints) && b-a < ln.width {
			l.narrow = append(l.narrow, i)
		}
	})
	return l
}
