package run

import (
	"cmp"
	"slices"
	"strings"

	"boardrun/internal/plan"
)

// meetObstacles ends free ends at the columns and structure they run into.
func (bld *builder) meetObstacles() {
	for _, n := range bld.nodes {
		if len(n.arms) != 1 {
			continue
		}
		for i := range bld.p.Obstacles {
			o := &bld.p.Obstacles[i]
			if o.Storey == "" || o.Storey == n.arms[0].b.storey {
				n.stopAt(o)
			}
		}
	}
}

// stopAt ends a free end's two sides where they enter an obstacle, if its end
// as drawn lies in it or within reach of it.
func (n *node) stopAt(o *plan.Obstacle) {
	a := n.arms[0]
	touched := false
	for k := range a.sides {
		w := a.b.half()
		if k == 1 {
			w = -w
		}
		l := line{line{a.o, a.d}.at(0, w), a.d}
		var entry Length
		hit := false
		for _, s := range crossingsOf(o.Outline, l) {
			// The face towards the wall is the crossing furthest along it.
			if s >= -slack && s < a.b.length/2 && (!hit || s > entry) {
				entry, hit = s, true
			}
		}
		if hit {
			a.sides[k].c, touched = entry, true
		}
	}
	if !touched && inside(o.Outline, line{a.o, a.d}.at(-slack, 0)) {
		touched = true
	}
	if touched {
		n.kind = AgainstStructure
		for k := range a.sides {
			a.sides[k].kind = EndStructure
		}
	}
}

// junctions lists every node that a run takes part in.
func (bld *builder) junctions() {
	for _, n := range bld.nodes {
		j := Junction{Kind: n.kind, At: n.at}
		if n.kind == FreeEnd && n.arms[0].b.isolated() {
			j.Kind = AgainstStructure // not drawn, and taken to be there
		}
		in := map[*band]bool{}
		for _, a := range n.arms {
			if a.b.run != nil && !in[a.b] {
				in[a.b] = true
				j.Runs = append(j.Runs, a.b.run.ID)
			}
		}
		if len(j.Runs) == 0 {
			continue
		}
		slices.SortFunc(j.Runs, compareMarks)
		j.Through = n.through()
		j.Laps = n.laps()
		bld.set.Junctions = append(bld.set.Junctions, j)
	}
	slices.SortStableFunc(bld.set.Junctions, func(a, b Junction) int {
		return cmp.Or(compareMarks(a.Runs[0], b.Runs[0]), strings.Compare(strings.Join(a.Runs, " "), strings.Join(b.Runs, " ")),
			cmp.Compare(a.At.X, b.At.X), cmp.Compare(a.At.Y, b.At.Y))
	})
}

// through names the run whose board goes through a node: at a corner the one
// boarded first; elsewhere the one that outranks all others, none between
// equals.
func (n *node) through() string {
	var arms []*arm
	for _, a := range n.arms {
		if a.b.run != nil {
			arms = append(arms, a)
		}
	}
	switch {
	case len(arms) < 2:
		return ""
	case n.kind == Corner:
		if boardedFirst(arms[0], arms[1]) {
			return arms[0].b.run.ID
		}
		return arms[1].b.run.ID
	case n.kind != Tee && n.kind != Cross:
		return ""
	}
	for _, a := range arms {
		if a.at >= 2 && a.b.runsThrough(a) {
			return a.b.run.ID
		}
	}
	best := arms[0]
	for _, a := range arms {
		if outranks(a.b, best.b) > 0 {
			best = a
		}
	}
	for _, a := range arms {
		if a.b != best.b && outranks(best.b, a.b) <= 0 {
			return ""
		}
	}
	return best.b.run.ID
}

// runsThrough reports whether a band's board runs on behind everything that
// meets it where arm a is.
func (b *band) runsThrough(a *arm) bool {
	in := b.innerOf(a)
	return b.behind(in, 0) && b.behind(in, 1)
}

// laps lists the laps of the faces that end at a node.
func (n *node) laps() []Lap {
	var out []Lap
	for _, a := range n.arms {
		for k := range a.sides {
			if a.b.run == nil || a.sides[k].passes {
				continue
			}
			f := a.edgeOf(k).face
			if f == nil {
				continue
			}
			i := 0 // the end of the face at this arm: its left one where the side is walked away from the node with u
			if (a.bandSide(k) == 0) == a.forward() {
				i = 1
			}
			if !f.endsAt(a.edgeOf(k), a.forward()) || !f.Boarded {
				continue
			}
			out = append(out, Lap{f.ID, [2]string{"left", "right"}[i], f.Ends[i].Lap})
		}
	}
	slices.SortFunc(out, func(x, y Lap) int { return cmp.Or(cmp.Compare(x.Face, y.Face), cmp.Compare(x.End, y.End)) })
	return out
}

// endsAt reports whether edge e holds the face's first (start) or last station;
// a face whose board runs behind a stem does not end there.
func (f *Face) endsAt(e *edge, start bool) bool {
	if start {
		return f.first == e
	}
	return f.last == e
}
