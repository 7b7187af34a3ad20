package trace

import (
	"cmp"
	"math"
	"slices"

	"boardrun/internal/measure"
)

// joinSlack is how far a wall's end may stop short of, or run past, the wall it
// meets. Source: common practice (1 in), none published.
const joinSlack = 25 * measure.Millimetre

// endKind says what stands at a wall's end.
type endKind uint8

const (
	freeEnd endKind = iota
	teeEnd
	cornerEnd
	inlineEnd
)

// wall is a finished strand: its ends moved onto the nodes.
type wall struct {
	strand
	from, to Length // stations of the axis' ends
	ends     [2]endKind
	meets    [2]int32 // wall met, −1
	doubt    string
	over     []opening // cut into faces that are drawn through
}

// openings returns the wall's openings in order along it.
func (w *wall) openings() []opening {
	var out []opening
	for i := range w.gaps {
		out = append(out, w.gaps[i].ops...)
	}
	out = append(out, w.over...)
	slices.SortFunc(out, func(a, b opening) int { return cmp.Or(cmp.Compare(a.s0, b.s0), cmp.Compare(a.s1, b.s1)) })
	return out
}

// class is what most of the wall is drawn on; of equals the first by name.
func (w *wall) class() int32 {
	by := map[int32]Length{}
	best := w.pieces[0].class
	for i := range w.pieces {
		p := &w.pieces[i]
		by[p.class] += p.s1 - p.s0
	}
	for c, l := range by {
		if l > by[best] || l == by[best] && c < best {
			best = c
		}
	}
	return best
}

// solveEnds moves each end of each wall onto the node where it meets another:
// the crossing of the two axes. The plan of ends is made first and carried out
// after, so that no wall's end depends on the order of walls.
func (t *tracer) solveEnds() {
	var tree boxIndex
	for i := range t.walls2 {
		w := &t.walls2[i]
		tree.add(int32(i), bandBox(&t.bundles[w.fr].fr, w.s0(), w.s1(), w.ra, w.rb)...)
	}
	for i := range t.walls2 {
		w := &t.walls2[i]
		for e := 0; e < 2; e++ {
			t.solveEnd(int32(i), e, &tree)
		}
		if w.from >= w.to { // a stub eaten by its neighbours
			w.from, w.to = w.s0(), w.s1()
			w.ends = [2]endKind{}
		}
	}
}

// candidate is a wall that an end could meet.
type candidate struct {
	wall int32
	kind endKind
	at   Length
	off  Length // how far the end is from where it would be drawn
}

func (t *tracer) solveEnd(i int32, e int, tree *boxIndex) {
	w := &t.walls2[i]
	s, sign := w.s0(), Length(-1)
	if e == 1 {
		s, sign = w.s1(), 1
	}
	fr := &t.bundles[w.fr].fr
	var best candidate
	best.wall = -1
	pick := func(c candidate) {
		if best.wall < 0 || t.better(c, best) {
			best = c
		}
	}
	tree.search(maxThick, func(k int32) {
		if k != i {
			if c, ok := t.meet(w, &t.walls2[k], k, s, sign); ok {
				pick(c)
			}
		}
	}, fr.from(s, w.ra), fr.from(s, w.rb))
	at := s
	if best.wall >= 0 {
		at = best.at
	}
	w.ends[e], w.meets[e] = best.kind, best.wall
	if e == 0 {
		w.from = at
	} else {
		w.to = at
	}
}

// better prefers a wall across to one in line, then the nearer node, then the
// thicker and the earlier wall.
func (t *tracer) better(a, b candidate) bool {
	if (a.kind == inlineEnd) != (b.kind == inlineEnd) {
		return b.kind == inlineEnd
	}
	return cmp.Or(cmp.Compare(a.off/Eps, b.off/Eps), cmp.Compare(t.walls2[b.wall].thick(), t.walls2[a.wall].thick()),
		cmp.Compare(a.wall, b.wall)) < 0
}

// meet reports how the end of w at station s meets wall o.
func (t *tracer) meet(w, o *wall, k int32, s, sign Length) (candidate, bool) {
	if w.fr == o.fr {
		return t.meetInLine(w, o, k, s, sign)
	}
	c, ok := t.crossOf(&w.strand, &o.strand, s)
	if !ok {
		return candidate{}, false
	}
	past := (c.at - s) * sign // how far the node lies beyond the end
	if past > c.half+joinSlack || past < -c.half-joinSlack {
		return candidate{}, false
	}
	reach := round((float64(w.thick())/2+float64(o.thick())/2*math.Abs(c.cos))/math.Abs(c.sin)) + joinSlack
	if c.on < o.s0()-reach || c.on > o.s1()+reach {
		return candidate{}, false
	}
	kind := teeEnd
	if c.on < o.s0()+reach || c.on > o.s1()-reach {
		kind = cornerEnd
	}
	return candidate{k, kind, c.at, (past - c.half).Abs()}, true
}

// meetInLine is meet for walls of one direction: end to end, of different
// thickness or layer, with the axes apart by no more than the step that leaves
// one face in line.
func (t *tracer) meetInLine(w, o *wall, k int32, s, sign Length) (candidate, bool) {
	off := ((w.ra + w.rb) - (o.ra + o.rb)).Abs() / 2
	if off > (w.thick()-o.thick()).Abs()/2+10*mm {
		return candidate{}, false
	}
	other := o.s0()
	if sign < 0 {
		other = o.s1()
	}
	d := (other - s).Abs()
	if d > joinSlack {
		return candidate{}, false
	}
	return candidate{k, inlineEnd, (s + other) / 2, d}, true
}
