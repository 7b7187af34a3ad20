package geom

import (
	"cmp"
	"slices"
)

// Shape is one connected piece of a region: a counter-clockwise outline and
// the clockwise holes inside it.
type Shape struct {
	Outline Poly
	Holes   []Poly
}

// Shapes returns the connected pieces of r, sorted by their lowest left point.
// Pieces that touch in a point only are separate.
func (r Region) Shapes() []Shape {
	loops := stitch(r.boundary())
	var out []Shape
	var holes []Poly
	for _, l := range loops {
		if turnsLeft(l) {
			out = append(out, Shape{Outline: l})
		} else {
			holes = append(holes, l)
		}
	}
	slices.SortFunc(out, func(a, b Shape) int { return comparePt(a.Outline[0], b.Outline[0]) })
	for _, h := range holes {
		for i := range out {
			if out[i].Outline.around(h) {
				out[i].Holes = append(out[i].Holes, h)
				break
			}
		}
	}
	return out
}

func comparePt(a, b Pt) int {
	return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
}

// side is one directed bit of a boundary, the figure on its left. Bits of one
// line have the same rise and melt into one edge.
type side struct {
	from, to Pt
	line     Rise
	upright  bool
}

// boundary returns the directed boundary of r, bit by bit.
func (r Region) boundary() []side {
	var out []side
	for i, s := range r {
		for _, b := range s.Bands {
			out = append(out,
				side{Pt{s.U0, b.Bottom.At(s.U0)}, Pt{s.U1, b.Bottom.At(s.U1)}, b.Bottom, false},
				side{Pt{s.U1, b.Top.At(s.U1)}, Pt{s.U0, b.Top.At(s.U0)}, b.Top, false})
		}
		var left, right []Band
		if i > 0 && r[i-1].U1 == s.U0 {
			left = r[i-1].Bands
		}
		if i+1 < len(r) && r[i+1].U0 == s.U1 {
			right = r[i+1].Bands
		}
		out = upright(out, s.U0, s.Bands, left, false)
		out = upright(out, s.U1, s.Bands, right, true)
	}
	return out
}

// upright appends the parts of the bands' sides at u that no band of the
// neighbouring slab covers; up is their direction.
func upright(out []side, u Length, bands, next []Band, up bool) []side {
	for _, b := range bands {
		v := b.Bottom.At(u)
		top := b.Top.At(u)
		add := func(to Length) {
			if to <= v {
				return
			}
			s := side{from: Pt{u, v}, to: Pt{u, to}, upright: true}
			if !up {
				s.from, s.to = s.to, s.from
			}
			out = append(out, s)
		}
		for _, n := range next {
			nb, nt := n.Bottom.At(u), n.Top.At(u)
			if nt <= v || nb >= top || nt <= nb {
				continue
			}
			add(min(nb, top))
			v = max(v, nt)
		}
		add(top)
	}
	return out
}

// stitch joins directed bits head to tail into closed loops. Where several
// leave a point the sharpest left turn is taken, which keeps figures that
// touch in a point apart.
func stitch(bits []side) []Poly {
	bits = slices.DeleteFunc(bits, func(s side) bool { return s.from == s.to })
	slices.SortStableFunc(bits, func(a, b side) int { return comparePt(a.from, b.from) })
	used := make([]bool, len(bits))
	var loops []Poly
	for i := range bits {
		if used[i] {
			continue
		}
		loop := []side{bits[i]}
		used[i] = true
		for at := bits[i]; at.to != bits[i].from; {
			k := next(bits, used, at)
			if k < 0 {
				loop = nil // rounding left a bit of no area open: nothing to draw
				break
			}
			used[k] = true
			at = bits[k]
			loop = append(loop, at)
		}
		if p := melt(loop); len(p) >= 3 {
			loops = append(loops, p)
		}
	}
	return loops
}

func next(bits []side, used []bool, at side) int {
	lo, _ := slices.BinarySearchFunc(bits, at.to, func(s side, p Pt) int { return comparePt(s.from, p) })
	best := -1
	for k := lo; k < len(bits) && bits[k].from == at.to; k++ {
		if used[k] {
			continue
		}
		if best < 0 || sharper(at, bits[k], bits[best]) {
			best = k
		}
	}
	return best
}

// sharper reports whether a turns further left from at than b does.
func sharper(at, a, b side) bool {
	d := at.to.Sub(at.from)
	return quarter(d, a.to.Sub(a.from)) > quarter(d, b.to.Sub(b.from))
}

// quarter ranks a turn from d to e: 3 left, 2 straight on, 1 right, 0 back.
func quarter(d, e Pt) int {
	switch c := Orient(Pt{}, d, e); {
	case c > 0:
		return 3
	case c < 0:
		return 1
	case (d.X > 0) == (e.X > 0) && (d.Y > 0) == (e.Y > 0):
		return 2
	}
	return 0
}

// melt turns a loop of bits into a polygon with a vertex wherever the line
// changes, starting at the lowest left one.
func melt(loop []side) Poly {
	var p Poly
	for i, s := range loop {
		before := loop[(i+len(loop)-1)%len(loop)]
		same := s.upright && before.upright && sameWay(before, s) ||
			!s.upright && !before.upright && collinear(before, s)
		if !same {
			p = append(p, s.from)
		}
	}
	if len(p) == 0 {
		return nil
	}
	at := 0
	for i := range p {
		if comparePt(p[i], p[at]) < 0 {
			at = i
		}
	}
	return append(slices.Clone(p[at:]), p[:at]...)
}

func sameWay(a, b side) bool { return (a.to.Y > a.from.Y) == (b.to.Y > b.from.Y) }

func collinear(a, b side) bool {
	if (a.to.X > a.from.X) != (b.to.X > b.from.X) {
		return false
	}
	return a.line == b.line || a.from.Y == a.to.Y && b.from.Y == b.to.Y
}
