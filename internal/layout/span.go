package layout

import (
	"cmp"
	"slices"

	"boardrun/internal/measure"
)

// span is one way to hang a course: sheets of one length, ends on studs.
type span struct {
	*course
	sheet   Length // length of the sheets
	joints  []Length
	factory bool // ends of full sheets meet uncut
	cost    tally
	rests   []rip // pieces that may share a sheet: width is along the wall
}

// spans returns the ways to hang a course with its ends on the grid.
func (w *wall) spans(c *course, start Length) []*span {
	var out []*span
	for _, sheet := range slices.Backward(c.lengths) {
		step := sheet.FloorTo(w.Spacing)
		if step <= 0 {
			continue
		}
		if c.s1-c.s0 <= sheet {
			out = append(out, &span{course: c, sheet: sheet})
		}
		first := c.s0 + mod(start-c.s0, w.Spacing)
		for x := first; x <= c.s0+sheet && x < c.s1; x += w.Spacing {
			s := &span{course: c, sheet: sheet, factory: step == sheet}
			for y := x; y < c.s1; y += step {
				s.joints = append(s.joints, y)
				if c.s1-y <= sheet {
					break
				}
			}
			if x > c.s0 && w.endsStand(s) {
				out = append(out, s)
			}
		}
	}
	for _, s := range out {
		w.costSpan(s)
	}
	return out
}

// endsStand reports whether no piece is shorter than a bay and no end stands
// in the band of an opening beside, over or under it.
func (w *wall) endsStand(s *span) bool {
	r := w.env.Rules
	least := min(w.Spacing, (s.s1-s.s0)/2)
	if s.joints[0]-s.s0 < least || s.s1-s.joints[len(s.joints)-1] < least {
		return false
	}
	for _, x := range s.joints {
		for i := range s.ply.holes {
			h := &s.ply.holes[i]
			if !h.banded || h.y1+r.JambBandHard <= s.lo || h.y0-r.JambBandHard >= s.hi {
				continue
			}
			if d := min((x - h.x0).Abs(), (x - h.x1).Abs()); d < r.JambBandHard {
				return false
			} else if d < r.JambBandWarn {
				s.cost.warnings++
			}
		}
	}
	return true
}

// pieces calls f with the ends of every piece.
func (s *span) pieces(f func(i int, a, b Length)) {
	a := s.s0
	for i, x := range s.joints {
		f(i, a, x)
		a = x
	}
	f(len(s.joints), a, s.s1)
}

// costSpan charges whole sheets at once and leaves shorter pieces to share.
func (w *wall) costSpan(s *span) {
	p := s.ply
	kind := CutJoint
	if s.factory {
		kind = Butt
	}
	s.pieces(func(_ int, a, b Length) {
		s.cost.pieces++
		if 2*(b-a) > s.sheet && s.sheet-(b-a) < w.Spacing {
			s.cost.area += measure.Times(s.width, s.sheet)
			s.cost.money += w.sheetMoney(p.board, s.width, s.sheet)
			return
		}
		s.rests = append(s.rests, rip{board: p.board, width: b - a, sheet: s.sheet, across: s.width, row: s.number})
	})
	for _, x := range s.joints {
		for _, v := range p.solid(x, s.hi) {
			if lo := max(v[0], s.lo); lo < v[1] {
				s.cost.joints += int64(p.exposed(lo, v[1])) * w.weight(kind)
				s.cost.money += w.jointMoney(p, lo, v[1], kind)
			}
		}
	}
	if s.number > 0 { // the joint along its upper edge: taper to taper
		n := p.levelLength(s.s0, s.s1, s.hi)
		if p.exposed(s.hi, s.hi+1) > 0 {
			s.cost.joints += int64(n) * w.weight(TaperedJoint)
		}
		s.cost.money += w.jointMoney(p, 0, 0, TaperedJoint)
		if w.env.Prices != nil {
			s.cost.money += w.perMetre(n, TaperedJoint)
		}
	}
}

// chargeRests adds the board of pieces shorter than a sheet: those of one row
// that fit one sheet end to end share it.
func (w *wall) chargeRests(b *branch) (t tally) {
	rests := w.rips[:0]
	for ; b.span != nil; b = b.from {
		for _, r := range b.span.rests {
			r.lengths = b.span.lengths
			rests = append(rests, r)
		}
	}
	w.rips = rests
	slices.SortFunc(rests, func(a, b rip) int {
		return cmp.Or(cmp.Compare(a.row, b.row), cmp.Compare(a.across, b.across), cmp.Compare(a.board.Name, b.board.Name), cmp.Compare(b.width, a.width))
	})
	for lo := 0; lo < len(rests); {
		hi := lo + 1
		for hi < len(rests) && rests[hi].row == rests[lo].row && rests[hi].across == rests[lo].across && rests[hi].board == rests[lo].board {
			hi++
		}
		w.used = packBest(w.used[:0], rests[lo:hi])
		for _, l := range w.used {
			t.area += measure.Times(rests[lo].across, l)
			t.money += w.sheetMoney(rests[lo].board, rests[lo].across, l)
		}
		lo = hi
	}
	return t
}

// packRests appends the lengths of sheet that pieces of one row, longest first,
// take: each sheet holds what fits, the fullest first. A heuristic; cutting
// does better.
func packRests(fill []Length, rests []rip) []Length {
	lengths := rests[0].lengths
	longest := lengths[len(lengths)-1]
	for _, r := range rests {
		at := -1
		for i, f := range fill {
			if f+r.width <= longest && (at < 0 || f > fill[at]) {
				at = i
			}
		}
		if at < 0 {
			fill = append(fill, r.width)
		} else {
			fill[at] += r.width
		}
	}
	for i, f := range fill {
		for _, l := range lengths {
			if f <= l {
				fill[i] = l
				break
			}
		}
	}
	return fill
}

// packBest is packRests where there are many; up to exactRests pieces it is the
// packing that takes the least length of sheet.
func packBest(fill []Length, rests []rip) []Length {
	if len(rests) > exactRests {
		return packRests(fill, rests)
	}
	lengths := rests[0].lengths
	longest := lengths[len(lengths)-1]
	price := func(f Length) Length {
		for _, l := range lengths {
			if f <= l {
				return l
			}
		}
		return longest
	}
	var now, best [exactRests]Length
	count, least := 0, Length(maxLength)
	var put func(i, used int, sum Length)
	put = func(i, used int, sum Length) {
		if sum >= least {
			return
		}
		if i == len(rests) {
			least, best, count = sum, now, used
			return
		}
		for k := 0; k <= used; k++ {
			f := now[k]
			if k == used {
				f = 0
			}
			if f > 0 && f+rests[i].width > longest {
				continue
			}
			before := price(f)
			if f == 0 {
				before = 0
			}
			old := now[k]
			now[k] = f + rests[i].width
			put(i+1, max(used, k+1), sum-before+price(now[k]))
			now[k] = old
		}
	}
	put(0, 0, 0)
	for _, f := range best[:count] {
		fill = append(fill, price(f))
	}
	return fill
}

// exactRests is up to how many pieces of one row are packed in all ways.
const exactRests = 6
