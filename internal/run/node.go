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
//	│ next │
//	│      │  wedge
//	│      b
//	│      └──────a──────────   a: the arm's left side, b: next's right side;
//	│                   arm     corner at a × b: inside where the wedge is under
//	└────────────────────────   180°, outside where it is over
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
	step   Length // in line: how far this side stands out over the other
}

// node is one meeting.
type node struct {
	arms []*arm // counter-clockwise
	kind JunctionKind
	at   geom.Pt
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
	sin := a.d.cross(b.d)
	if sin.Abs() < leastSin {
		n.abut(a, b)
		return
	}
	kind := EndInside
	if sin < 0 {
		kind = EndOutside
	}
	ca.c, cb.c = corner(a, b)
	ca.kind, cb.kind, ca.sin, cb.sin = kind, kind, sin.Abs(), sin.Abs()
}

// corner returns how far along each arm the left side of a crosses the right
// side of b. Curved sides are met by stepping along their tangents.
func corner(a, b *arm) (ca, cb Length) {
	steps := 1
	if a.b.arc != nil || b.b.arc != nil {
		steps = 8
	}
	for range steps {
		la, lb := a.sideLine(0, ca), b.sideLine(1, cb)
		s, ok := la.meet(0, lb, 0)
		if !ok {
			break
		}
		t, _ := lb.meet(0, la, 0)
		ca, cb = ca+s, cb+t
	}
	return ca, cb
}

// sideLine returns the line of an arm's side k at c from o, away from the node.
func (a *arm) sideLine(k int, c Length) line {
	w := a.b.half()
	if k == 1 {
		w = -w
	}
	if a.b.arc == nil {
		return line{line{a.o, a.d}.at(c, w), a.d}
	}
	t := a.b.tangent(a.station(c, k))
	if !a.forward() {
		t.d = t.d.back()
	}
	return line{t.at(0, w), t.d}
}

// abut ends two arms in one line where they meet: half way between their ends,
// or, where a third wall makes a corner with the thicker of them, at that
// wall's far side, up to which the thicker one goes.
//
//	────────────┐
//	  thicker   │┌─────────
//	            ││ thinner
//	────────┐  ┌┘└─────────
//	        │  │
//	        third
func (n *node) abut(a, b *arm) {
	ca, cb := &a.sides[0], &b.sides[1]
	ca.kind, cb.kind = EndInLine, EndInLine
	if a.d.dot(b.d) > 0 { // they lie on one another, which is listed elsewhere
		return
	}
	g := line{a.o, a.d}.along(b.o)
	ca.c, cb.c = g/2, g-g/2
	la, lb := a.sideLine(0, 0), b.sideLine(1, 0)
	ca.step = -la.left(lb.o)
	cb.step = -ca.step
	for _, c := range n.arms {
		thick, thin, side := a, b, la
		if cb.step > 0 {
			thick, thin, side = b, a, lb
		}
		if c == a || c == b || ca.step.Abs() <= lateral || thick.at >= 2 || thin.at >= 2 {
			continue
		}
		w := c.b.half()
		if c.d.cross(thin.d) < 0 {
			w = -w
		}
		if s, ok := side.meet(0, line{c.o, c.d}, w); ok {
			at := side.at(s, 0)
			ca.c, cb.c = la.along(at), lb.along(at)
		}
	}
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
