package run

import (
	"cmp"

	"boardrun/internal/job"
	"boardrun/internal/measure"
)

// edge is a stretch of one side of a band that can be seen: from one corner to
// the next, in drawn stations of the band.
type edge struct {
	from, to Length
	ends     [2]*cut // at from, at to
	arms     [2]*arm
	room     int  // index into Set.Rooms, -1 unknown
	space    int  // the same of the closed space it is round
	passed   bool // hidden, its neighbours meet without it
	face     *Face
}

// hidden reports whether corners on both sides leave nothing of the edge.
func (e edge) hidden() bool { return e.to <= e.from }

// side is one side of a band: its edges by station.
type side struct{ edges []edge }

// layEdges fills in the edges of both sides of a band from its solved arms.
func (b *band) layEdges() {
	for k := range b.sides {
		var list []edge
		open := func(a *arm) edge { // forward arm: its side k is the band's
			c := &a.sides[k]
			c.edge = len(list)
			return edge{from: a.station(c.c, k), ends: [2]*cut{c}, arms: [2]*arm{a}, room: -1, space: -1}
		}
		shut := func(e edge, a *arm) { // backward arm: its other side is the band's
			c := &a.sides[1-k]
			c.edge = len(list)
			e.to, e.ends[1], e.arms[1] = a.station(c.c, 1-k), c, a
			list = append(list, e)
		}
		e := open(b.ends[0].arm)
		for _, in := range b.inner {
			if in.plus.sides[k].passes {
				in.plus.sides[k].edge, in.back.sides[1-k].edge = len(list), len(list)
				continue
			}
			shut(e, in.back)
			e = open(in.plus)
		}
		shut(e, b.ends[1].arm)
		b.sides[k].edges = list
	}
}

// closeOver takes hidden edges out of their rings: where two nodes lie so close
// that nothing is left between their corners, the sides beyond meet each other.
func closeOver(list []*band) {
	for range 3 { // a gap may hide the next; deeper nests than three are not built
		for _, b := range list {
			for k := range b.sides {
				for i := range b.sides[k].edges {
					if e := &b.sides[k].edges[i]; e.hidden() && !e.passed {
						e.passed = pass(e.ends[k].to, e.ends[1-k].to)
					}
				}
			}
		}
	}
}

// pass makes the right side of arm x and the left side of arm y meet; false if
// they are parallel.
func pass(x, y *arm) bool {
	sin := y.d.cross(x.d)
	if x == y || sin.Abs() < leastSin {
		return false
	}
	cy, cx := &y.sides[0], &x.sides[1]
	cy.c, cx.c = corner(y, x)
	cy.to, cx.to = x, y
	cy.kind, cx.kind = EndInside, EndInside
	if sin < 0 {
		cy.kind, cx.kind = EndOutside, EndOutside
	}
	cy.sin, cx.sin = sin.Abs(), sin.Abs()
	y.moveEnd(0)
	x.moveEnd(1)
	return true
}

// moveEnd sets the end of an edge from its arm's cut.
func (a *arm) moveEnd(k int) {
	e := a.edgeOf(k)
	if s := a.station(a.sides[k].c, k); a.forward() {
		e.from = s
	} else {
		e.to = s
	}
}

// toNode moves the ends of a straight band's axis out or in to the nodes they
// belong to: L at the crossing of the axes, T on the through run's axis, against
// structure at its face.
func (b *band) toNode() {
	if b.arc != nil {
		return
	}
	for i := range b.ends {
		a := b.ends[i].arm
		if a.node.kind == AgainstStructure && b.make != nil {
			b.ends[i].shift = -(a.sides[0].c + a.sides[1].c) / 2
		} else if s, ok := a.nodeDistance(); ok {
			b.ends[i].shift = -s
		}
	}
}

// nodeDistance returns how far from o along d the arm's axis crosses that of
// the run passing through the node, or else of the first arm that it crosses.
func (a *arm) nodeDistance() (Length, bool) {
	found, best := false, Length(0)
	for _, through := range [...]bool{true, false} {
		for _, o := range a.node.arms {
			if o.b == a.b || (o.at >= 2) != through {
				continue
			}
			s, ok := line{a.o, a.d}.meet(0, line{o.o, o.d}, 0)
			if ok && (!found || s.Abs() < best.Abs()) {
				found, best = true, s
			}
		}
		if found {
			return best, true
		}
	}
	for _, o := range a.node.arms {
		if o.b != a.b && o.at < 2 {
			return line{a.o, a.d}.along(o.o) / 2, true
		}
	}
	return 0, false
}

// edgeOf returns the edge that side k (0 left, 1 right) of an arm belongs to.
func (a *arm) edgeOf(k int) *edge {
	return &a.b.sides[a.bandSide(k)].edges[a.sides[k].edge]
}

// plies returns the boards of side k of a band; none on structure.
func (b *band) plies(k int) []string {
	if b.make == nil {
		return nil
	}
	return b.made(k).Plies
}

// made returns the make-up of side k of a band, after a flip.
func (b *band) made(k int) *job.Side {
	if b.flip {
		k = 1 - k
	}
	return &b.make.Sides[k]
}

// rule returns how high side k of a band goes.
func (b *band) rule(k int) job.HeightRule {
	if h := b.height[k]; h != nil {
		return *h
	}
	return b.made(k).Height
}

// rated reports whether the run needs a listed make-up, toDeck whether one of
// its boarded sides reaches the structure.
func (b *band) rated() bool { return b.make.Rating != "" || b.make.Listing != "" }

func (b *band) toDeck() bool {
	for k := range b.sides {
		if len(b.plies(k)) > 0 && b.rule(k).Kind == job.ToDeck {
			return true
		}
	}
	return false
}

// outranks compares two runs at a junction: rated first, then to the deck, then
// the type's rank, then the thicker. It returns a number above 0 where a's
// board runs through, below 0 where b's does, 0 between equals.
// Source: common practice, none published.
func outranks(a, b *band) int {
	return cmp.Or(
		compareBool(a.rated(), b.rated()), compareBool(a.toDeck(), b.toDeck()),
		cmp.Compare(a.make.Rank, b.make.Rank), compareLoosely(a.thickness, b.thickness, thicknessTol))
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

func compareLoosely(a, b, tol Length) int {
	if (a - b).Abs() <= tol {
		return 0
	}
	return cmp.Compare(a, b)
}

// boardedFirst reports whether a's board goes up before its neighbour b's at
// the corner between them, b's then butting against it inside or lapping its
// edge outside. Equals are settled by length, then the run that passes through
// the node, then by the turn of the corner: that a drawing turned by 90° keeps,
// where coordinates would not.
func boardedFirst(a, b *arm) bool {
	n := cmp.Or(outranks(a.b, b.b),
		compareLoosely(a.b.length, b.b.length, slack),
		compareBool(a.at >= 2, b.at >= 2))
	if n != 0 {
		return n > 0
	}
	return a.d.cross(b.d) > 0 // a comes before b counter-clockwise, across the inside
}

// behind reports whether the board of side k of a band runs on behind what
// meets it at in: a run that outranks its stem is boarded before the stem is
// framed against it, and so is one whose side goes higher, or an L-shaped scrap
// would be left above the stem. Structure is there first and interrupts it.
func (b *band) behind(in inner, k int) bool {
	if b.make == nil {
		return false
	}
	for _, a := range b.stems(in, k) {
		if a.b.make == nil {
			return false
		}
		n := outranks(b, a.b)
		if n < 0 || n == 0 && b.reach(k) <= max(a.b.reach(0), a.b.reach(1)) {
			return false
		}
	}
	return true
}

// reach is how high side k goes as far as its rule tells, for comparing: a
// ceiling nobody knows yet is taken as usual.
func (b *band) reach(k int) Length {
	if len(b.plies(k)) == 0 {
		return 0
	}
	const usual = 9 * measure.Foot
	switch h := b.rule(k); h.Kind {
	case job.FixedHeight:
		return h.Value
	case job.ToCeiling:
		return usual
	case job.AboveCeiling:
		return usual + max(h.Value, measure.Inch)
	}
	return 100 * usual
}

// stems returns the arms that meet side k of a band at in.
func (b *band) stems(in inner, k int) []*arm {
	from, to := in.plus, in.back
	if k == 1 {
		from, to = to, from
	}
	var out []*arm
	arms := in.plus.node.arms
	at := 0
	for i, a := range arms {
		if a == from {
			at = i
		}
	}
	for i := 1; i < len(arms); i++ {
		a := arms[(at+i)%len(arms)]
		if a == to {
			break
		}
		out = append(out, a)
	}
	return out
}
