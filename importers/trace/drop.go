package trace

import "slices"

// dropSwallowed removes short strands that lie across a longer wall, within
// its faces: pairs of jambs, ends and corners.
func (t *tracer) dropSwallowed() {
	var tree boxIndex
	for i := range t.strands {
		s := &t.strands[i]
		tree.add(int32(i), bandBox(&t.bundles[s.fr].fr, s.s0()-maxThick, s.s1()+maxThick, s.ra, s.rb)...)
	}
	for i := range t.strands {
		s := &t.strands[i]
		all := true
		for k := range s.pieces {
			all = all && t.swallowed(&tree, int32(i), &s.pieces[k])
		}
		s.dead = all
	}
}

// swallowed reports whether a piece of strand i, no longer than a wall is
// thick, lies across a longer strand of a likelier thickness, within its faces. Jambs of two walls may be
// in line and make one strand of several such pieces.
func (t *tracer) swallowed(tree *boxIndex, i int32, p *piece) bool {
	s := &t.strands[i]
	if p.s1-p.s0 > maxThick+slip {
		return false
	}
	in := false
	box := bandBox(&t.bundles[s.fr].fr, p.s0, p.s1, p.ra, p.rb)
	tree.search(0, func(k int32) {
		o := &t.strands[k]
		if in || o.fr == s.fr || t.h.likely(o.thick()) < t.h.likely(s.thick()) && !o.centre || o.drawn() < s.drawn() || o.drawn() == s.drawn() && k > i {
			return
		}
		s0, s1, r0, r1 := extent(&t.bundles[o.fr].fr, box)
		in = r0 >= o.ra-2*Eps && r1 <= o.rb+2*Eps && s0 >= o.s0()-maxThick && s1 <= o.s1()+maxThick && s1 > o.s0() && s0 < o.s1()
	}, box...)
	return in
}

// dropGlazing removes strands that run inside the gaps of a thicker strand on
// the same line: the glass and sills of windows drawn on the wall layer,
// between jambs. They become marks of windows.
func (t *tracer) dropGlazing() {
	var tree boxIndex
	for i := range t.strands {
		s := &t.strands[i]
		if !s.dead && len(s.pieces) > 1 {
			tree.add(int32(i), bandBox(&t.bundles[s.fr].fr, s.s0(), s.s1(), s.ra, s.rb)...)
		}
	}
	left := make([][]piece, len(t.strands))
	for i := range t.strands {
		s := &t.strands[i]
		if s.dead {
			continue
		}
		for _, p := range s.pieces {
			if p.a < 0 || !t.inGapOf(&tree, int32(i), &p) {
				left[i] = append(left[i], p)
			}
		}
	}
	for i := range t.strands {
		s := &t.strands[i]
		if s.dead || len(left[i]) == len(s.pieces) {
			continue
		}
		fr, b := &t.bundles[s.fr].fr, &t.bundles[s.fr]
		for _, p := range s.pieces {
			if slices.Contains(left[i], p) {
				continue
			}
			for _, e := range [2]int32{p.a, p.b} {
				t.marks.addLine(mark{fr.from(p.s0, b.edges[e].r), fr.from(p.s1, b.edges[e].r), b.edges[e].parts[0].src, Windows})
			}
		}
		s.dead = len(left[i]) == 0
		if !s.dead {
			s.pieces = left[i]
		}
	}
}

// inGapOf reports whether a piece of strand i runs within a gap of a thicker
// strand of its direction, between its faces.
func (t *tracer) inGapOf(tree *boxIndex, i int32, p *piece) bool {
	s := &t.strands[i]
	in := false
	tree.search(0, func(k int32) {
		o := &t.strands[k]
		if in || k == i || o.fr != s.fr || 4*s.thick() > 3*o.thick() || t.h.likely(o.thick()) < 0.9 || o.drawn() < 3*o.thick() || p.ra < o.ra-Eps || p.rb > o.rb+Eps {
			return
		}
		for g := 1; g < len(o.pieces); g++ {
			if p.s0 < o.pieces[g-1].s1-joinSlack || p.s1 > o.pieces[g].s0+joinSlack {
				continue
			}
			var op opening
			if t.jambAt(o, o.pieces[g-1].s1, &op) && t.jambAt(o, o.pieces[g].s0, &op) {
				in = true
			}
		}
	}, bandBox(&t.bundles[s.fr].fr, p.s0, p.s1, p.ra, p.rb)...)
	return in
}

// dropNoise removes walls shorter than they are thick that are no nib of
// another wall.
func (t *tracer) dropNoise() {
	for i := range t.walls {
		w := &t.walls[i]
		joined := 0
		for _, e := range w.ends {
			if e == teeEnd || e == cornerEnd {
				joined++
			}
		}
		l := w.drawn()
		switch {
		case joined == 0 && len(w.gaps) == 0 && 2*l < 3*w.thick(): // a pier
			w.dead = true
		case 3*w.longest() < w.thick(): // thin walls across, seen from the side
			w.dead = true
		case l >= max(w.thick(), minWall):
		case joined == 2 && l >= w.thick()/2:
		case joined == 1 && l >= w.thick()*4/5:
		default:
			w.dead = true
		}
	}
}

// dropFurniture removes, where no layer's name speaks of walls, what pairs up
// and stands apart without an opening: furniture, frames, legends. What hangs
// together with the longest set of walls that has openings stays, and so does
// any other set with an opening.
func (t *tracer) dropFurniture() {
	guessed := false
	for i := range t.classes {
		guessed = guessed || t.classes[i].use.Guessed
	}
	if !guessed {
		return
	}
	groups := newSets(len(t.walls))
	for i := range t.walls {
		for _, k := range t.walls[i].meets {
			if k >= 0 {
				groups.join(int32(i), k)
			}
		}
	}
	open := map[int32]bool{}
	for i := range t.walls {
		for _, op := range t.walls[i].openings() {
			if op.kind != Walls || op.host >= 0 {
				open[groups.of(int32(i))] = true
			}
		}
	}
	if len(open) == 0 {
		return
	}
	for i := range t.walls {
		w := &t.walls[i]
		if t.classes[w.class()].use.Guessed && !open[groups.of(int32(i))] {
			w.dead = true
		}
	}
}
