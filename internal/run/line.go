package run

import (
	"math/big"

	"boardrun/internal/geom"
)

// one is 1 in the fixed-point directions of this package. With 40 bits a 300 m
// wall's far end is placed within a thousandth of a unit, and axis-parallel
// directions are exact, so that a drawing turned by 90° gives the same lengths.
const one Length = 1 << 40

// dir is a unit vector times one.
type dir struct{ x, y Length }

func (d dir) back() dir { return dir{-d.x, -d.y} }

// cross returns sin of the angle from d to e, times one; dot its cosine.
func (d dir) cross(e dir) Length {
	return geom.MulDiv(d.x, e.y, one) - geom.MulDiv(d.y, e.x, one)
}

func (d dir) dot(e dir) Length {
	return geom.MulDiv(d.x, e.x, one) + geom.MulDiv(d.y, e.y, one)
}

// upper reports whether d points into [0°, 180°).
func (d dir) upper() bool { return d.y > 0 || d.y == 0 && d.x > 0 }

// before orders directions counter-clockwise from +x.
func (d dir) before(e dir) bool {
	if d.upper() != e.upper() {
		return d.upper()
	}
	return d.cross(e) > 0
}

// line is a directed straight line: a point and a direction. Its frame is s
// along, w to the left.
type line struct {
	o geom.Pt
	d dir
}

// lineThrough returns the line from a towards b and their distance; the
// distance is 0 where a and b coincide.
func lineThrough(a, b geom.Pt) (line, Length) {
	v := b.Sub(a)
	l := hypot(v.X, v.Y)
	if l == 0 {
		return line{o: a, d: dir{x: one}}, 0
	}
	return line{a, dir{geom.MulDiv(v.X, one, l), geom.MulDiv(v.Y, one, l)}}, l
}

// hypot returns the distance √(dx² + dy²), rounded to the grid.
func hypot(dx, dy Length) Length {
	if dx == 0 {
		return dy.Abs()
	}
	if dy == 0 {
		return dx.Abs()
	}
	// √(4n) rounded down, halved and rounded up at one half, is √n to the nearest.
	x, y := big.NewInt(int64(dx)), big.NewInt(int64(dy))
	n := x.Mul(x, x)
	n.Add(n, y.Mul(y, y)).Lsh(n, 2).Sqrt(n)
	return Length((n.Int64() + 1) / 2)
}

// along returns s of p, left returns w of p.
func (l line) along(p geom.Pt) Length {
	v := p.Sub(l.o)
	return geom.MulDiv(v.X, l.d.x, one) + geom.MulDiv(v.Y, l.d.y, one)
}

func (l line) left(p geom.Pt) Length {
	v := p.Sub(l.o)
	return geom.MulDiv(v.Y, l.d.x, one) - geom.MulDiv(v.X, l.d.y, one)
}

// at returns the point at s along and w to the left.
func (l line) at(s, w Length) geom.Pt {
	return geom.Pt{
		X: l.o.X + geom.MulDiv(s, l.d.x, one) - geom.MulDiv(w, l.d.y, one),
		Y: l.o.Y + geom.MulDiv(s, l.d.y, one) + geom.MulDiv(w, l.d.x, one),
	}
}

// meet returns s on l, shifted w to its left, of the point where it crosses m
// shifted mw to its left. ok is false within 5° of parallel: closer than that
// the crossing of two walls is not a corner anybody builds.
//
// In l's frame m runs through (bu, bv) in the direction (cos, sin); a point
// (s, w) lies mw to the left of m where −(s − bu)·sin + (w − bv)·cos = mw.
func (l line) meet(w Length, m line, mw Length) (s Length, ok bool) {
	sin, cos := l.d.cross(m.d), l.d.dot(m.d)
	if sin.Abs() < leastSin {
		return 0, false
	}
	bu, bv := l.along(m.o), l.left(m.o)
	return bu + geom.MulDiv(w-bv, cos, sin) - geom.MulDiv(mw, one, sin), true
}

// leastSin is sin 5°: walls closer to parallel do not cross.
// Source: common practice, none published.
const leastSin = one / 1000 * 87

// toStep puts a length on the measuring step, ties upwards. What a slanted line
// loses to the grid is less than noise, and must not decide a tie: the same wall
// drawn from its other end would go the other way.
func toStep(l, step Length) Length { return (l + step/2 + noise).FloorTo(step) }

// noise is half a micrometre: a few units of the grid.
const noise Length = 4
