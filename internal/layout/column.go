package layout

import (
	"boardrun/internal/job"
	"boardrun/internal/measure"
)

// tally is the cost of a part of a layout before rips share sheets.
type tally struct {
	broken   int // hard rules broken
	warnings int
	money    int64
	area     measure.Area
	joints   int64
	pieces   int
}

func (t *tally) add(u tally) {
	t.broken += u.broken
	t.warnings += u.warnings
	t.money += u.money
	t.area += u.area
	t.joints += u.joints
	t.pieces += u.pieces
}

// bit is one piece of a column before its holes are cut: from bottom up to
// top, or to the profile where top is 0. Row counts the horizontal joints
// below it.
type bit struct {
	bottom, top Length
	row         int
	board       *job.Board
	lengths     []Length
	over        bool // over an opening that takes the whole column
}

// part is the height of a column between openings that take all its width.
type part struct {
	lo, hi Length // hi 0: up to the profile
	over   bool
	board  *job.Board
}

// parts cuts the column [a, b] of p at openings over its whole width and at
// the edges of zones.
func (p *ply) parts(out []part, a, b Length) []part {
	out = append(out, part{lo: p.bottom, board: p.board})
	for i := range p.holes {
		h := &p.holes[i]
		if h.x0 > a {
			break
		}
		if h.x1 < b {
			continue
		}
		last := out[len(out)-1]
		out = out[:len(out)-1]
		if h.y0 > last.lo {
			last.hi = h.y0
			out = append(out, last)
		}
		out = append(out, part{lo: max(h.y1, last.lo), over: true, board: p.board})
	}
	if last := out[len(out)-1]; p.top.Max(a, b) <= last.lo {
		out = out[:len(out)-1]
	}
	if p.bands == nil {
		return out
	}
	return p.zoned(out, a, b)
}

// zoned cuts parts where another board begins.
func (p *ply) zoned(parts []part, a, b Length) []part {
	var out []part
	for _, q := range parts {
		hi := q.hi
		if hi == 0 {
			hi = p.top.Max(a, b)
		}
		for _, z := range p.bands {
			lo, to := max(q.lo, z.from), min(hi, z.to)
			if lo >= to {
				continue
			}
			r := part{lo: lo, hi: to, over: q.over && lo == q.lo, board: z.board}
			if q.hi == 0 && to == hi {
				r.hi = 0
			}
			out = append(out, r)
		}
	}
	return out
}

// fill cuts the column [a, b] of p along the horizontal joints rows in the
// cheapest way and returns its bits, good until the next call, with their
// cost. A full-width column (rip false) is charged its share of sheets; the
// bits of a rip are charged when rips are put together.
func (w *wall) fill(p *ply, a, b Length, rows []Length, rip bool) ([]bit, tally) {
	w.bits = w.bits[:0]
	w.parts = p.parts(w.parts[:0], a, b)
	var sum tally
	for _, q := range w.parts {
		sum.add(w.fillPart(p, a, b, q, rows, rip))
	}
	return w.bits, sum
}

// fillPart appends the bits of one part of a column to w.bits.
func (w *wall) fillPart(p *ply, a, b Length, q part, rows []Length, rip bool) tally {
	hi := q.hi
	if hi == 0 {
		hi = p.top.Max(a, b)
	}
	from, to := 0, 0 // rows[from:to] are inside the part
	for _, v := range rows {
		if v <= q.lo {
			from++
		}
		if v < hi {
			to++
		}
	}
	lengths := p.lengths
	if q.board != p.board {
		lengths = lengthsOf(q.board, p.width)
	}
	if from >= to {
		return w.cut(p, a, b, q, nil, from, lengths, rip)
	}
	cuts := rows[from:to]
	at := len(w.bits)
	var least tally
	for i := range len(cuts) + 1 {
		k := i
		if q.over { // keep to the straight line where it can be kept
			k = len(cuts) - i
		}
		n := len(w.bits)
		t := w.cut(p, a, b, q, cuts[:k], from, lengths, rip)
		switch {
		case i == 0:
			least = t
		case w.cheaper(t, least):
			least = t
			w.bits = append(w.bits[:at], w.bits[n:]...)
		default:
			w.bits = w.bits[:n]
		}
		if least.broken == 0 && w.env.Prices == nil {
			break // the fewest horizontal joints that are legal
		}
	}
	return least
}

func (w *wall) cheaper(a, b tally) bool {
	if a.broken != b.broken {
		return a.broken < b.broken
	}
	return w.env.Prices != nil && a.money < b.money
}

// cut appends the bits of one way to cut a part of a column to w.bits and
// costs them.
func (w *wall) cut(p *ply, a, b Length, q part, cuts []Length, below int, lengths []Length, rip bool) (t tally) {
	lo := q.lo
	for i := 0; i <= len(cuts); i++ {
		c := bit{bottom: lo, top: q.hi, row: below + i, board: q.board, lengths: lengths, over: q.over && i == 0}
		if i < len(cuts) {
			c.top = cuts[i]
			t.joints += w.level(p, a, b, cuts[i])
			t.money += w.levelMoney(p, a, b, cuts[i])
			lo = cuts[i]
		}
		w.judgeBit(p, a, b, c, len(cuts) > 0, &t)
		if !rip {
			w.charge(p, a, b, c, &t)
		}
		t.pieces++
		w.bits = append(w.bits, c)
	}
	return t
}

// peak returns the greatest height of c, low its least.
func (c bit) peak(p *ply, a, b Length) Length {
	if c.top != 0 {
		return c.top - c.bottom
	}
	return p.top.Max(a, b) - c.bottom
}

func (c bit) low(p *ply, a, b Length) Length {
	if c.top != 0 {
		return min(c.top, p.top.Min(a, b)) - c.bottom
	}
	return p.top.Min(a, b) - c.bottom
}

// judgeBit counts the rules that c breaks.
func (w *wall) judgeBit(p *ply, a, b Length, c bit, cut bool, t *tally) {
	r := w.env.Rules
	if c.peak(p, a, b) > c.lengths[len(c.lengths)-1] {
		t.broken += 100 // no sheet is that long: any other way is better
	}
	if low := c.low(p, a, b); cut && low < r.TopHard {
		t.broken++
	} else if cut && low < r.TopWarn {
		t.warnings++
	}
	top := c.top
	if top == 0 {
		top = p.top.Max(a, b)
	}
	for i := range p.holes {
		h := &p.holes[i]
		if h.x0 >= b {
			break
		}
		if h.x1 <= a || h.x0 <= a && h.x1 >= b || h.y1 <= c.bottom || h.y0 >= top {
			continue
		}
		if h.first && h.x0 > a && h.x1 < b && h.y0 > c.bottom && h.y1 < c.lowOver(p, h) {
			t.broken++
		}
		if !cut || !h.banded {
			continue // a tongue no horizontal joint makes is the building's doing
		}
		for _, tongue := range [2]Length{h.y0 - c.bottom, c.lowOver(p, h) - h.y1} {
			if tongue > 0 && tongue < r.StemHard {
				t.broken++
			} else if tongue > 0 && tongue < r.StemWarn {
				t.warnings++
			}
		}
	}
}

// lowOver returns the least height of c's top over h.
func (c bit) lowOver(p *ply, h *hole) Length {
	v := p.top.Min(h.x0, h.x1)
	if c.top != 0 {
		v = min(v, c.top)
	}
	return v
}

// level returns the weighted exposed length of a horizontal joint.
func (w *wall) level(p *ply, a, b, v Length) int64 {
	if p.exposed(v, v+1) == 0 {
		return 0
	}
	return int64(p.levelLength(a, b, v)) * int64(w.env.Rules.WeightButt)
}

// levelLength returns how much of [a, b] is board at height v.
func (p *ply) levelLength(a, b, v Length) Length {
	n := b - a
	at := a
	for i := range p.holes {
		h := &p.holes[i]
		if h.y0 < v && v < h.y1 {
			lo, hi := max(h.x0, at), min(h.x1, b)
			if lo < hi {
				n -= hi - lo
				at = hi
			}
		}
	}
	return n
}

// share returns the length of sheet that a blank of height h takes where like
// blanks are stacked in one sheet. A stack is charged one grid unit a blank
// more, so that of two equal shares the one that needs no partner wins.
func share(lengths []Length, h Length) Length {
	best := lengths[len(lengths)-1]
	for _, l := range lengths {
		if h <= l && h > 0 {
			n := l / h
			best = min(best, (l+n-1)/n+n-1)
		}
	}
	return best
}

// charge adds the board that a full-width bit takes.
func (w *wall) charge(p *ply, a, b Length, c bit, t *tally) {
	t.area += measure.Times(p.width, share(c.lengths, c.peak(p, a, b)))
	t.money += w.boardMoney(p, a, b, c)
}
