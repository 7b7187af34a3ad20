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
	tag      string
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
// the crossing of the two axes. Ends are found first and moved after, so that
// none depends on the order of walls; then again, since a wall that ran on to
// its corner may now be met there.
func (t *tracer) solveEnds() {
	for i := range t.walls {
		w := &t.walls[i]
		w.from, w.to = w.s0(), w.s1()
	}
	for pass := range 4 {
		t.reindexWalls()
		type move struct {
			wall int32
			end  int
			candidate
		}
		var moves []move
		for i := range t.walls {
			for e := range 2 {
				if t.walls[i].ends[e] != freeEnd || t.walls[i].dead {
					continue
				}
				if c, ok := t.solveEnd(int32(i), e, pass > 0); ok {
					moves = append(moves, move{int32(i), e, c})
				}
			}
		}
		if len(moves) == 0 && pass > 0 {
			break
		}
		for _, m := range moves {
			w := &t.walls[m.wall]
			w.ends[m.end], w.meets[m.end] = m.kind, m.candidate.wall
			if m.end == 0 {
				w.from = m.at
			} else {
				w.to = m.at
			}
		}
	}
	for i := range t.walls {
		w := &t.walls[i]
		for _, op := range w.openings() { // no node lies in an opening
			if op.s0 < w.from {
				w.from, w.ends[0], w.meets[0] = min(op.s0, w.s0()), freeEnd, -1
			}
			if op.s1 > w.to {
				w.to, w.ends[1], w.meets[1] = max(op.s1, w.s1()), freeEnd, -1
			}
		}
		if w.from >= w.to { // a stub eaten by its neighbours
			w.from, w.to, w.ends, w.meets = w.s0(), w.s1(), [2]endKind{}, [2]int32{-1, -1}
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

func (t *tracer) solveEnd(i int32, e int, far bool) (candidate, bool) {
	w := &t.walls[i]
	s, sign := w.s0(), Length(-1)
	if e == 1 {
		s, sign = w.s1(), 1
	}
	var more Length
	if far {
		more = t.runOn(w, e)
	}
	fr := &t.bundles[w.fr].fr
	best := candidate{wall: -1}
	t.wallTree.search(maxThick, func(k int32) {
		if k == i {
			return
		}
		if c, ok := t.meet(w, &t.walls[k], k, s, sign, more); ok && (best.wall < 0 || t.better(c, best)) {
			best = c
		}
	}, fr.from(s, w.ra), fr.from(s, w.rb))
	return best, best.wall >= 0
}

// runOn is how far the longer face of a wall goes on beyond its end, where a
// third wall hides the other face: at a corner that is also a tee.
func (t *tracer) runOn(w *wall, e int) Length {
	if e == 0 {
		p := &w.pieces[0]
		if p.a < 0 {
			return 0
		}
		b := &t.bundles[w.fr]
		return max(0, min(maxThick/2, p.s0-min(b.edges[p.a].s0, b.edges[p.b].s0)))
	}
	p := &w.pieces[len(w.pieces)-1]
	if p.a < 0 {
		return 0
	}
	b := &t.bundles[w.fr]
	return max(0, min(maxThick/2, max(b.edges[p.a].s1, b.edges[p.b].s1)-p.s1))
}

// better prefers a wall across to one in line, then the nearer node, then the
// thicker and the earlier wall.
func (t *tracer) better(a, b candidate) bool {
	if (a.kind == inlineEnd) != (b.kind == inlineEnd) {
		return b.kind == inlineEnd
	}
	return cmp.Or(cmp.Compare(a.off/Eps, b.off/Eps), cmp.Compare(t.walls[b.wall].thick(), t.walls[a.wall].thick()),
		cmp.Compare(a.wall, b.wall)) < 0
}

// meet reports how the end of w at station s meets wall o.
func (t *tracer) meet(w, o *wall, k int32, s, sign, more Length) (candidate, bool) {
	if w.fr == o.fr {
		return t.meetInLine(w, o, k, s, sign)
	}
	c, ok := t.crossOf(&w.strand, &o.strand, s)
	if !ok {
		return candidate{}, false
	}
	past := (c.at - s) * sign // how far the node lies beyond the end
	if past > c.half+joinSlack+more || past < -c.half-joinSlack {
		return candidate{}, false
	}
	reach := round((float64(w.thick())/2+float64(o.thick())/2*math.Abs(c.cos))/math.Abs(c.sin)) + joinSlack
	lo, hi := min(o.from, o.s0()), max(o.to, o.s1())
	if c.on < lo-reach || c.on > hi+reach {
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
