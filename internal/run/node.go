package run

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
)

// How junctions are solved. Every meeting of bands is a node. A band that ends
// there sends one arm into the node, a band that passes through sends two, one
// each way. The arms are sorted counter-clockwise; between each arm and the
// next lies a wedge, and the left side of the one meets the right side of the
// other at a corner: the crossing of the two side lines.
//
//	        │ next │             a: arm's left side, b: next's right side
//	        │      │             corner at a × b: inside where the wedge is
//	  wedge b      │             under 180°, outside where it is over
//	────a───┘      │
//	  arm
//	───────────────┘
//
// Corners come from the bands' side lines and not from how far an axis happens
// to be drawn; axes that end on a node, on a face or beyond give the same faces.

// arm is one band's part of a node.
type arm struct {
	b     *band
	at    int     // 0 start, 1 end of the band; 2, 3 inside it: towards its end, its start
	s     Length  // station of o
	o     geom.Pt // on the axis
	d     dir     // away from the node, along the band
	sides [2]cut  // left, right of d
	node  *node
}

// forward reports whether d is the band's own direction.
func (a *arm) forward() bool { return a.at == 0 || a.at == 2 }

// bandSide returns which side of the band (0 left, 1 right) side k of the arm is.
func (a *arm) bandSide(k int) int {
	if a.forward() {
		return k
	}
	return 1 - k
}

// station converts a distance from o along d to a station of the band's axis.
func (a *arm) station(c Length, k int) Length {
	c = a.b.onAxis(c, a.bandSide(k))
	if a.forward() {
		return a.s + c
	}
	return a.s - c
}

// cut is where one side of an arm ends at the node.
type cut struct {
	c      Length // from the arm's o along d
	to     *arm   // arm across the wedge; the arm itself at a free end
	passes bool   // no corner: the side goes straight on past the node
	kind   EndKind
	sin    Length // of the angle of the wedge, times one; one where it has none
	edge   int    // index into the edges of the band's side
}

// node is one meeting.
type node struct {
	arms []*arm // counter-clockwise
	kind JunctionKind
	at   geom.Pt
	odd  string // what is wrong with it
}

// end is one end of a band; inner a place inside it where others meet it.
type end struct {
	arm   *arm
	shift Length // from the end as drawn out to the node
	face  *Face  // of a free end
}

type inner struct {
	s          Length
	plus, back *arm
}

// place is a candidate of a node: a band with one of its ends or a station.
type place struct {
	b  int
	at int // 0, 1 end; 2 inside
	s  Length
}

// meeting is a pair of bands that meet.
type meeting struct{ a, b place }

// findMeetings returns every meeting of two bands.
func findMeetings(list []*band) []meeting {
	var out []meeting
	for _, q := range nearPairs(list) {
		a, b := list[q[0]], list[q[1]]
		if m, ok := inLine(a, b); ok {
			m.a.b, m.b.b = q[0], q[1]
			out = append(out, m)
			continue
		}
		for _, x := range crossings(a, b) {
			if m, ok := meets(a, b, x); ok {
				m.a.b, m.b.b = q[0], q[1]
				out = append(out, m)
			}
		}
	}
	return firstMet(list, out)
}

// crossings returns pairs of stations where two axes, carried on, cross.
func crossings(a, b *band) [][2]Length {
	switch {
	case a.arc == nil && b.arc == nil:
		s, ok := a.axis.meet(0, b.axis, 0)
		if !ok {
			return nil
		}
		t, _ := b.axis.meet(0, a.axis, 0)
		return [][2]Length{{s, t}}
	case a.arc == nil:
		var out [][2]Length
		for _, t := range b.meetLine(a.axis) {
			out = append(out, [2]Length{a.axis.along(b.pointAt(t, 0)), t})
		}
		return out
	case b.arc == nil:
		out := crossings(b, a)
		for i, x := range out {
			out[i] = [2]Length{x[1], x[0]}
		}
		return out
	}
	// Two curves: where their ends lie within reach.
	var out [][2]Length
	for _, s := range [...]Length{0, a.length} {
		for _, t := range [...]Length{0, b.length} {
			if d := a.pointAt(s, 0).Sub(b.pointAt(t, 0)); hypot(d.X, d.Y) <= a.half()+b.half()+slack {
				out = append(out, [2]Length{s, t})
			}
		}
	}
	return out
}

// meets decides whether two bands whose axes cross at stations x meet there,
// and whether each ends there or passes.
func meets(a, b *band, x [2]Length) (meeting, bool) {
	da, db := a.tangent(x[0]).d, b.tangent(x[1]).d
	sin, cos := da.cross(db).Abs(), da.dot(db).Abs()
	if sin < leastSin {
		return meeting{}, false
	}
	reach := func(own, other *band) Length {
		return geom.MulDiv(other.half(), one, sin) + geom.MulDiv(own.half(), cos, sin) + slack
	}
	pa, oka := a.placeAt(x[0], reach(a, b))
	pb, okb := b.placeAt(x[1], reach(b, a))
	return meeting{pa, pb}, oka && okb
}

// placeAt says whether station s is at one of the band's ends, within reach, or
// inside it.
func (b *band) placeAt(s, reach Length) (place, bool) {
	ds, de := s.Abs(), (b.length - s).Abs()
	switch {
	case ds <= reach && ds <= de:
		return place{at: 0, s: s}, true
	case de <= reach:
		return place{at: 1, s: s}, true
	case s > 0 && s < b.length:
		return place{at: 2, s: s}, true
	}
	return place{}, false
}

// inLine reports whether two bands, nearly parallel, meet end to end.
func inLine(a, b *band) (meeting, bool) {
	for i, s := range [...]Length{0, a.length} {
		for k, t := range [...]Length{0, b.length} {
			la, lb := a.tangent(s), b.tangent(t)
			if la.d.cross(lb.d).Abs() >= leastSin {
				continue
			}
			// Bodies on opposite sides of the meeting.
			if away := la.d.dot(lb.d) > 0; away == (i == k) {
				continue
			}
			if la.along(lb.o).Abs() <= slack && la.left(lb.o).Abs() < a.half()+b.half() {
				return meeting{place{at: i, s: s}, place{at: k, s: t}}, true
			}
		}
	}
	return meeting{}, false
}

// firstMet keeps, for each end of a band, what it meets first coming along the
// band: of two walls back to back a stem ends at the nearer.
func firstMet(list []*band, all []meeting) []meeting {
	type key struct{ b, at int }
	first := map[key]Length{}
	depth := func(p place) Length { // how far out from the band's middle
		if p.at == 0 {
			return -p.s
		}
		return p.s - list[p.b].length
	}
	for _, m := range all {
		for _, p := range [...]place{m.a, m.b} {
			if p.at == 2 {
				continue
			}
			k := key{p.b, p.at}
			if d, ok := first[k]; !ok || depth(p) < d {
				first[k] = depth(p)
			}
		}
	}
	var out []meeting
	for _, m := range all {
		keep := true
		for _, p := range [...]place{m.a, m.b} {
			keep = keep && (p.at == 2 || depth(p) <= first[key{p.b, p.at}]+slack)
		}
		if keep {
			out = append(out, m)
		}
	}
	return out
}

// buildNodes gathers meetings into nodes, gives every band its arms and solves
// the corners. Ends that meet nothing are nodes of one arm.
func buildNodes(list []*band, all []meeting) []*node {
	places, parent := gather(list, all)
	byRoot := map[int]*node{}
	var nodes []*node
	for i, p := range places {
		root := i
		for parent[root] != root {
			root = parent[root]
		}
		n := byRoot[root]
		if n == nil {
			n = &node{}
			byRoot[root], nodes = n, append(nodes, n)
		}
		n.admit(list[p.b], p)
	}
	for _, b := range list {
		slices.SortFunc(b.inner, func(x, y inner) int { return cmp.Compare(x.s, y.s) })
	}
	for _, n := range nodes {
		n.solve()
	}
	return nodes
}

// gather lists the distinct places of all meetings, every band's two ends
// among them, joined where they belong to one node.
func gather(list []*band, all []meeting) (places []place, parent []int) {
	for i := range list {
		places = append(places, place{b: i, at: 0}, place{b: i, at: 1, s: list[i].length})
	}
	inside := map[int][]int{} // band → its inner places
	index := func(p place) int {
		if p.at < 2 {
			return 2*p.b + p.at
		}
		for _, k := range inside[p.b] {
			if (places[k].s - p.s).Abs() <= slack {
				return k
			}
		}
		places = append(places, p)
		inside[p.b] = append(inside[p.b], len(places)-1)
		return len(places) - 1
	}
	var pairs [][2]int
	for _, m := range all {
		pairs = append(pairs, [2]int{index(m.a), index(m.b)})
	}
	parent = make([]int, len(places))
	for i := range parent {
		parent[i] = i
	}
	for _, q := range pairs {
		a, b := q[0], q[1]
		for parent[a] != a {
			a = parent[a]
		}
		for parent[b] != b {
			b = parent[b]
		}
		parent[max(a, b)] = min(a, b)
	}
	return places, parent
}

// admit adds the arms of one place to the node.
func (n *node) admit(b *band, p place) {
	t := b.tangent(p.s)
	add := func(at int, d dir) *arm {
		a := &arm{b: b, at: at, s: p.s, o: t.o, d: d, node: n}
		n.arms = append(n.arms, a)
		return a
	}
	switch p.at {
	case 0:
		b.ends[0].arm = add(0, t.d)
	case 1:
		b.ends[1].arm = add(1, t.d.back())
	default:
		b.inner = append(b.inner, inner{p.s, add(2, t.d), add(3, t.d.back())})
	}
}

// solve sorts the arms and finds the corner of every wedge.
func (n *node) solve() {
	slices.SortStableFunc(n.arms, func(a, b *arm) int {
		switch {
		case a.d.before(b.d):
			return -1
		case b.d.before(a.d):
			return 1
		}
		return cmp.Or(cmp.Compare(a.o.X, b.o.X), cmp.Compare(a.o.Y, b.o.Y), cmp.Compare(a.b.thickness, b.b.thickness))
	})
	for i, a := range n.arms {
		n.wedge(a, n.arms[(i+1)%len(n.arms)])
	}
	n.name()
}

// wedge solves the corner between the left side of a and the right side of the
// next arm counter-clockwise, b.
func (n *node) wedge(a, b *arm) {
	ca, cb := &a.sides[0], &b.sides[1]
	ca.to, cb.to = b, a
	ca.sin, cb.sin = one, one
	if a == b { // a free end
		ca.kind, cb.kind = EndFree, EndFree
		return
	}
	if a.b == b.b && a.at >= 2 && b.at >= 2 {
		ca.passes, cb.passes = true, true
		return
	}
	la, lb := line{a.o, a.d}, line{b.o, b.d}
	sin := a.d.cross(b.d)
	s, ok := la.meet(a.b.half(), lb, -b.b.half())
	if !ok {
		n.abut(a, b)
		return
	}
	t, _ := lb.meet(-b.b.half(), la, a.b.half())
	kind := EndInside
	if sin < 0 {
		kind = EndOutside
	}
	ca.c, cb.c, ca.kind, cb.kind, ca.sin, cb.sin = s, t, kind, kind, sin.Abs(), sin.Abs()
}

// abut ends two arms in one line where they meet: half way between their ends.
func (n *node) abut(a, b *arm) {
	ca, cb := &a.sides[0], &b.sides[1]
	ca.kind, cb.kind = EndInLine, EndInLine
	if a.d.dot(b.d) > 0 {
		n.odd = "two walls lie on one another"
		return
	}
	g := line{a.o, a.d}.along(b.o)
	ca.c = g / 2
	cb.c = g - g/2
}

// name says what kind of junction the node is and where.
func (n *node) name() {
	n.at = n.arms[0].o
	through := map[*band]int{}
	for _, a := range n.arms {
		through[a.b]++
		if a.at >= 2 {
			n.at = a.o
		}
	}
	solid := 0
	for b := range through {
		if b.make == nil {
			solid++
		}
	}
	switch arms := len(n.arms); {
	case arms == 1:
		n.kind = FreeEnd
	case len(through)-solid <= 1:
		n.kind = AgainstStructure
	case arms == 2 && n.arms[0].sides[0].kind == EndInLine:
		n.kind = InLine
	case arms == 2:
		n.kind = Corner
	case arms == 3:
		n.kind = Tee
	default:
		n.kind = Cross
	}
	if len(n.arms) > 1 && n.arms[0].at < 2 {
		n.at = n.crossing()
	}
}

// crossing returns the point where the axes of a node's arms cross.
func (n *node) crossing() geom.Pt {
	a := n.arms[0]
	for _, b := range n.arms {
		if b.at >= 2 {
			return b.o
		}
		if s, ok := (line{a.o, a.d}).meet(0, line{b.o, b.d}, 0); ok {
			return line{a.o, a.d}.at(s, 0)
		}
	}
	return a.o
}
