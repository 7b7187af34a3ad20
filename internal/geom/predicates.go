package geom

import (
	"math/bits"

	"boardrun/internal/measure"
)

// Orient returns +1 if a, b, c turn left, −1 if they turn right, 0 if they are
// in line. Exact for any coordinates: products go through 128 bits.
func Orient(a, b, c Pt) int {
	return compareProducts(b.X-a.X, c.Y-a.Y, b.Y-a.Y, c.X-a.X)
}

// compareProducts returns the sign of a*b − c*d.
func compareProducts(a, b, c, d Length) int {
	s1, s2 := sign(a)*sign(b), sign(c)*sign(d)
	if s1 != s2 {
		if s1 > s2 {
			return 1
		}
		return -1
	}
	h1, l1 := bits.Mul64(uint64(a.Abs()), uint64(b.Abs()))
	h2, l2 := bits.Mul64(uint64(c.Abs()), uint64(d.Abs()))
	switch {
	case h1 == h2 && l1 == l2:
		return 0
	case h1 > h2 || h1 == h2 && l1 > l2:
		return s1
	}
	return -s1
}

func sign(l Length) int {
	switch {
	case l > 0:
		return 1
	case l < 0:
		return -1
	}
	return 0
}

// turnsLeft reports whether the simple polygon p runs counter-clockwise: the
// turn at its lowest left vertex tells.
func turnsLeft(p Poly) bool {
	at := 0
	for i := range p {
		if comparePt(p[i], p[at]) < 0 {
			at = i
		}
	}
	n := len(p)
	for k := 1; k < n; k++ { // skip vertices in line
		if o := Orient(p[(at+n-1)%n], p[at], p[(at+k)%n]); o != 0 {
			return o > 0
		}
	}
	return false
}

// Contains reports whether q lies inside p or on its boundary.
func (p Poly) Contains(q Pt) bool {
	in := false
	for i, a := range p {
		b := p[(i+1)%len(p)]
		o := Orient(a, b, q)
		if o == 0 && between(a.X, q.X, b.X) && between(a.Y, q.Y, b.Y) {
			return true
		}
		if (a.Y > q.Y) != (b.Y > q.Y) && (o > 0) == (b.Y > a.Y) {
			in = !in
		}
	}
	return in
}

func between(a, q, b Length) bool { return min(a, b) <= q && q <= max(a, b) }

// around reports whether every vertex of h lies in or on p.
func (p Poly) around(h Poly) bool {
	for _, q := range h {
		if !p.Contains(q) {
			return false
		}
	}
	return true
}

// Area returns the signed area of p, counter-clockwise positive. Exact to half
// a square unit; p's sides must be below 268 m.
func (p Poly) Area() measure.Area {
	if len(p) < 3 {
		return 0
	}
	var twice measure.Area
	o := p[0]
	for i := 1; i+1 < len(p); i++ {
		a, b := p[i].Sub(o), p[i+1].Sub(o)
		twice += measure.Times(a.X, b.Y) - measure.Times(a.Y, b.X)
	}
	return twice / 2
}
