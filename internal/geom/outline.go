package geom

import (
	"cmp"
	"math"
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
	var before [][2]Length // the slab before, at its right side
	for i, s := range r {
		left, right := s.at(s.U0), s.at(s.U1)
		for k, b := range s.Bands {
			out = append(out,
				side{Pt{s.U0, left[k][0]}, Pt{s.U1, right[k][0]}, b.Bottom, false},
				side{Pt{s.U1, right[k][1]}, Pt{s.U0, left[k][1]}, b.Top, false})
		}
		if i == 0 || r[i-1].U1 != s.U0 {
			before = nil
		}
		out = upright(out, s.U0, left, before, false)
		var after [][2]Length
		if i+1 < len(r) && r[i+1].U0 == s.U1 {
			after = r[i+1].at(s.U1)
		}
		out = upright(out, s.U1, right, after, true)
		before = right
	}
	return out
}

// at returns the bottom and top of every band at a side of the slab. Where
// lines meet, rounding may put them a grid unit past each other: they are put
// in order, so that what one slab ends with another can begin with.
func (s Slab) at(u Length) [][2]Length {
	out := make([][2]Length, len(s.Bands))
	least := Length(math.MinInt64)
	for i, b := range s.Bands {
		lo := max(b.Bottom.At(u), least)
		hi := max(b.Top.At(u), lo)
		out[i] = [2]Length{lo, hi}
		least = hi
	}
	return out
}

// upright appends the parts of the bands' sides at u that no band of the
// neighbouring slab covers; up is their direction.
func upright(out []side, u Length, bands, next [][2]Length, up bool) []side {
	for _, b := range bands {
		v := b[0]
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
			if n[1] <= v || n[0] >= b[1] || n[1] <= n[0] {
				continue
			}
			add(n[0])
			v = max(v, n[1])
		}
		add(b[1])
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
