package trace

import (
	"cmp"
	"slices"
)

// piece is a slice with its faces' positions: the stretch of a strand on which
// both faces are drawn.
type piece struct {
	s0, s1 Length
	ra, rb Length // faces, ra < rb
	a, b   int32  // edges of the bundle; -1 where it was not made of edges
	class  int32
}

func (p *piece) mid2() Length { return p.ra + p.rb } // twice the axis position

// strand is every piece on one axis line of one thickness, in order along it,
// with no gap wider than an opening can be.
type strand struct {
	fr     int32
	ra, rb Length // faces, as most of its length is drawn
	pieces []piece
	gaps   []gap // between pieces: gaps[i] after pieces[i]
	centre bool  // drawn as a centreline: ends lie on nodes
	arc    bool
	dead   bool
}

func (t *strand) thick() Length { return t.rb - t.ra }
func (t *strand) s0() Length    { return t.pieces[0].s0 }
func (t *strand) s1() Length    { return t.pieces[len(t.pieces)-1].s1 }
func (t *strand) drawn() Length {
	var l Length
	for i := range t.pieces {
		l += t.pieces[i].s1 - t.pieces[i].s0
	}
	return l
}

const (
	// axisTol is how far pieces of one wall may lie off each other's axis.
	axisTol = 3 * mm

	// maxOpening is the widest gap that can be an opening with something drawn
	// in it; maxCased the widest plain one between two jambs, a doubt beyond
	// wideCased; minOpening the narrowest.
	// Source: common practice, none published.
	maxOpening = 6000 * mm
	maxCased   = 2500 * mm
	wideCased  = 1900 * mm
	minOpening = 300 * mm

	// slip is a gap nobody meant. Source: common practice, none published.
	slip = 5 * mm
)

// piecesOf turns a bundle's slices into pieces, cut where both faces change
// their layer.
func (t *tracer) piecesOf(b *bundle) []piece {
	var out []piece
	for _, s := range b.slices {
		if s.s1-s.s0 <= Eps {
			continue
		}
		ea, eb := &b.edges[s.a], &b.edges[s.b]
		p := piece{s.s0, s.s1, ea.r, eb.r, s.a, s.b, -1}
		for _, c := range t.classCuts(ea, eb, s.s0, s.s1) {
			q := p
			q.s1, p.s0 = c, c
			q.class = t.classOf(ea, eb, q.s0, q.s1)
			out = append(out, q)
		}
		p.class = t.classOf(ea, eb, p.s0, p.s1)
		out = append(out, p)
	}
	return out
}

// strandsOf groups pieces on one axis line.
func strandsOf(fr int32, pieces []piece) []strand {
	slices.SortFunc(pieces, func(a, b piece) int {
		return cmp.Or(cmp.Compare(a.mid2(), b.mid2()), cmp.Compare(a.s0, b.s0), cmp.Compare(a.rb, b.rb))
	})
	var out []strand
	for i := 0; i < len(pieces); {
		j := i + 1
		for j < len(pieces) && pieces[j].mid2()-pieces[j-1].mid2() <= 2*axisTol {
			j++
		}
		line := pieces[i:j]
		slices.SortStableFunc(line, func(a, b piece) int { return cmp.Compare(a.rb-a.ra, b.rb-b.ra) })
		for k := 0; k < len(line); {
			l := k + 1
			for l < len(line) && (line[l].rb-line[l].ra)-(line[l-1].rb-line[l-1].ra) <= thickTol {
				l++
			}
			out = append(out, splitLine(fr, line[k:l])...)
			k = l
		}
		i = j
	}
	return out
}

// splitLine makes strands of the pieces of one axis line and thickness.
func splitLine(fr int32, line []piece) []strand {
	slices.SortFunc(line, func(a, b piece) int {
		return cmp.Or(cmp.Compare(a.s0, b.s0), cmp.Compare(a.s1, b.s1), cmp.Compare(a.ra, b.ra))
	})
	var out []strand
	for i := 0; i < len(line); {
		cur := []piece{line[i]}
		j := i + 1
		for ; j < len(line); j++ {
			last := &cur[len(cur)-1]
			g := line[j].s0 - last.s1
			if g > maxOpening {
				break
			}
			if line[j].s1 <= last.s1 { // drawn twice
				continue
			}
			if g <= Eps && line[j].class == last.class && line[j].ra == last.ra && line[j].rb == last.rb {
				last.s1 = line[j].s1
				continue
			}
			p := line[j]
			p.s0 = max(p.s0, last.s1)
			cur = append(cur, p)
		}
		s := strand{fr: fr, pieces: cur}
		s.ra = mode(cur, func(p *piece) Length { return p.ra })
		s.rb = mode(cur, func(p *piece) Length { return p.rb })
		out = append(out, s)
		i = j
	}
	return out
}

// mode returns the value that most of the length has; of equals the mean of
// the least and the greatest.
func mode(ps []piece, val func(*piece) Length) Length {
	same := true
	for i := range ps {
		same = same && val(&ps[i]) == val(&ps[0])
	}
	if same {
		return val(&ps[0])
	}
	by := slices.Clone(ps)
	slices.SortFunc(by, func(a, b piece) int { return cmp.Compare(val(&a), val(&b)) })
	best, lo, hi := Length(-1), Length(0), Length(0)
	for i := 0; i < len(by); {
		var l Length
		j := i
		for ; j < len(by) && val(&by[j]) == val(&by[i]); j++ {
			l += by[j].s1 - by[j].s0
		}
		if l > best {
			best, lo, hi = l, val(&by[i]), val(&by[i])
		} else if l == best {
			hi = val(&by[i])
		}
		i = j
	}
	return (lo + hi) / 2
}
