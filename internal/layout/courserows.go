package layout

import (
	"cmp"
	"slices"
)

// courseRow is the place of one course of a ply: its height may be less than
// its sheet's width, cut at the floor, or at the head where a listed design
// staggers the courses of two plies.
type courseRow struct {
	lo, hi           Length
	width            Length // of the sheets
	cutTop, cutFloor bool
}

// mostRows is up to how many courses widths are mixed; a higher wall is hung in
// the widest sheets.
const mostRows = 6

// rowsOf returns the courses of p from the top: the fewest that leave a legal
// lowest one, of equals those that take least sheet, widths mixed where that
// saves a joint. Their joints keep least from those in off. Nil where none do.
func (w *wall) rowsOf(p *ply, off []Length, least Length) []courseRow {
	top, height := p.top.At(p.s0), p.top.At(p.s0)-p.bottom
	var widths []Length
	for _, s := range p.board.Sheets {
		if len(s.Lengths) > 0 && s.Width >= leastSheet {
			widths = append(widths, s.Width)
		}
	}
	if len(widths) == 0 || height <= 0 {
		return nil
	}
	slices.Sort(widths)
	slices.Reverse(widths)
	if widths = slices.Compact(widths); height.CeilDiv(widths[0]) > mostRows {
		widths = widths[:1]
	}
	var best []courseRow
	try := func(first Length) { // height of a first course cut at the head; 0 = none is
		most := height.CeilDiv(widths[0]) + 1
		var rows []courseRow
		var build func(at Length)
		build = func(at Length) {
			if at <= p.bottom {
				if betterRows(rows, best) && keepApart(joinsOf(rows), off, least) {
					best = slices.Clone(rows)
				}
				return
			}
			if Length(len(rows)) >= Length(most) {
				return
			}
			for _, width := range widths {
				r := courseRow{lo: max(p.bottom, at-width), hi: at, width: width, cutFloor: at-width < p.bottom}
				if len(rows) == 0 && first > 0 {
					if first > width {
						continue
					}
					r.lo, r.cutTop, r.cutFloor = at-first, first < width, false
				}
				if r.cutFloor && r.hi-r.lo < w.env.Rules.TopHard && len(rows) > 0 {
					continue
				}
				rows = append(rows, r)
				build(r.lo)
				rows = rows[:len(rows)-1]
			}
		}
		build(top)
	}
	if try(0); best == nil {
		for _, v := range off {
			for _, at := range [2]Length{v + least, v - least} {
				if first := top - at; first >= w.env.Rules.TopHard && first < height {
					try(first)
				}
			}
		}
	}
	return best
}

// betterRows reports whether a is the better stack of courses: fewer, less
// sheet, the joints lower.
func betterRows(a, b []courseRow) bool {
	if b == nil {
		return true
	}
	sum := func(rows []courseRow) (s Length) {
		for _, r := range rows {
			s += r.width
		}
		return s
	}
	return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(sum(a), sum(b)), slices.Compare(joinsOf(a), joinsOf(b))) < 0
}

// joinsOf returns the heights of the joints between courses, from the top.
func joinsOf(rows []courseRow) []Length {
	var out []Length
	for _, r := range rows[:max(0, len(rows)-1)] {
		out = append(out, r.lo)
	}
	return out
}

// rowJoints returns the heights of the joints between the courses of f, by the
// parity of their plies' depth.
func (f *find) rowJoints() (s stack) {
	for _, c := range f.spans {
		if c.number > 0 && !slices.Contains(s[c.ply.depth&1], c.hi) {
			s[c.ply.depth&1] = append(s[c.ply.depth&1], c.hi)
		}
	}
	return s
}
