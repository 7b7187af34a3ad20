package layout

import (
	"slices"

	"boardrun/internal/run"
)

// chooseStart chooses the end both sides start at and the side hung first: the
// one that begins with an uncut sheet, at the board's edge the grid begins at,
// at the run's start, with the widest first piece.
func (w *wall) chooseStart(f *find) {
	best := f.score
	f.first = nil
	for _, fromEnd := range []bool{false, true} {
		for _, first := range w.outermost(fromEnd) {
			if first.spec.Number != 1 || w.unwanted(first, fromEnd) {
				continue
			}
			s := f.score
			w.rankStart(f, &s, fromEnd, first)
			if f.first == nil || s.less(&best) {
				best, f.fromEnd, f.first = s, fromEnd, first
			}
		}
	}
	f.score = best
}

// unwanted reports whether the job wants the first sheet at the other end.
func (w *wall) unwanted(first *ply, fromEnd bool) bool {
	from := "left"
	if (first.face.Side == run.Left) != fromEnd {
		from = "right"
	}
	return w.HangFrom != "" && w.HangFrom != from
}

// outermost returns the ply of each depth that is nearest to one end, by
// depth.
func (w *wall) outermost(fromEnd bool) []*ply {
	var out []*ply
	for _, p := range w.plies {
		n := len(out)
		switch {
		case n == 0 || out[n-1].depth != p.depth:
			out = append(out, p)
		case fromEnd && p.s1 > out[n-1].s1:
			out[n-1] = p
		}
	}
	return out
}

func (w *wall) rankStart(f *find, s *score, fromEnd bool, first *ply) {
	width := f.startWidth(first, fromEnd)
	if width < first.width {
		s[byStart] = 1
	}
	edge := first.s0
	if fromEnd {
		edge = first.s1
		s[byEnd] = 2
	}
	if w.Spacing > 0 && mod(edge-f.start, w.Spacing) != 0 {
		s[byGrid] = 1
	}
	if first.face.Side == run.Right {
		s[byEnd]++
	}
	s[byWidth] = -int64(width)
	n := byWidth + 1
	for _, p := range w.outermost(fromEnd) {
		if p != first && n < byRows {
			s[n] = -int64(f.startWidth(p, fromEnd))
			n++
		}
	}
}

// startWidth returns the width of the first piece of a ply from one end.
func (f *find) startWidth(p *ply, fromEnd bool) Length {
	if fromEnd {
		for _, l := range slices.Backward(f.lays) {
			if l.lane.ply == p {
				return l.last()
			}
		}
		return 0
	}
	for _, l := range f.lays {
		if l.lane.ply == p {
			return l.first()
		}
	}
	return 0
}
