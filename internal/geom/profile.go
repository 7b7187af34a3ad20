package geom

import (
	"math/bits"

	"boardrun/internal/measure"
)

// Profile is a piecewise-linear function v(u): the top of a face, the deck
// over a wall. Vertices are sorted by strictly increasing U; a level top has
// two. Outside its vertices the profile is constant.
type Profile []Pt

// Level returns the profile at constant height v from u0 to u1.
func Level(u0, u1, v Length) Profile { return Profile{{u0, v}, {u1, v}} }

// At returns v(u), rounded to the grid (halves up): the one place where a
// sloped top is rounded, so that pieces left and right of a joint agree.
func (p Profile) At(u Length) Length {
	if len(p) == 0 {
		return 0
	}
	if u <= p[0].X {
		return p[0].Y
	}
	for i := 1; i < len(p); i++ {
		if u <= p[i].X {
			a, b := p[i-1], p[i]
			if a.Y == b.Y {
				return a.Y
			}
			return a.Y + MulDiv(b.Y-a.Y, u-a.X, b.X-a.X)
		}
	}
	return p[len(p)-1].Y
}

// Min returns the least value of p on [u0, u1].
func (p Profile) Min(u0, u1 Length) Length {
	m := min(p.At(u0), p.At(u1))
	for _, q := range p {
		if q.X > u0 && q.X < u1 {
			m = min(m, q.Y)
		}
	}
	return m
}

// Max returns the greatest value of p on [u0, u1].
func (p Profile) Max(u0, u1 Length) Length {
	m := max(p.At(u0), p.At(u1))
	for _, q := range p {
		if q.X > u0 && q.X < u1 {
			m = max(m, q.Y)
		}
	}
	return m
}

// Mean returns the mean of p on [u0, u1], u0 < u1, rounded to the grid.
func (p Profile) Mean(u0, u1 Length) Length {
	vs := p.Vertices(u0, u1)
	base := vs[0].Y
	var twice Length // area over base in lengths of the span, rounded per part
	for i := 1; i < len(vs); i++ {
		twice += MulDiv(vs[i-1].Y+vs[i].Y-2*base, vs[i].X-vs[i-1].X, u1-u0)
	}
	return base + twice/2
}

// Reaches returns the stations in (u0, u1) where p crosses height v on a slope,
// each rounded towards the side where p is not above v.
func (p Profile) Reaches(v, u0, u1 Length) []Length {
	var out []Length
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		if a.Y == b.Y || v < min(a.Y, b.Y) || v > max(a.Y, b.Y) {
			continue
		}
		u := a.X + MulDiv(v-a.Y, b.X-a.X, b.Y-a.Y)
		for step := Length(1); p.At(u) > v && step < 8; step++ {
			if b.Y > a.Y {
				u--
			} else {
				u++
			}
		}
		if u > u0 && u < u1 {
			out = append(out, u)
		}
	}
	return out
}

// Shift returns p raised by dv and moved along by du.
func (p Profile) Shift(du, dv Length) Profile {
	q := make(Profile, len(p))
	for i, a := range p {
		q[i] = Pt{a.X + du, a.Y + dv}
	}
	return q
}

// Mirror returns p seen from the other side of a face of the given length:
// u becomes length − u.
func (p Profile) Mirror(length Length) Profile {
	q := make(Profile, len(p))
	for i, a := range p {
		q[len(p)-1-i] = Pt{length - a.X, a.Y}
	}
	return q
}

// Vertices returns the profile's vertices strictly inside (u0, u1) together
// with its values at both ends.
func (p Profile) Vertices(u0, u1 Length) []Pt {
	out := []Pt{{u0, p.At(u0)}}
	for _, q := range p {
		if q.X > u0 && q.X < u1 {
			out = append(out, q)
		}
	}
	return append(out, Pt{u1, p.At(u1)})
}

// MulDiv returns a*b/c through 128 bits, rounded to the nearest unit, halves
// towards plus infinity; c must not be 0 and the result must fit.
func MulDiv(a, b, c measure.Length) measure.Length {
	neg := (a < 0) != (b < 0)
	if c < 0 {
		neg, c = !neg, -c
	}
	hi, lo := bits.Mul64(uint64(a.Abs()), uint64(b.Abs()))
	q, r := bits.Div64(hi, lo, uint64(c))
	twice := r << 1 // r < c ≤ 2^63, so this does not overflow
	if neg {
		if twice > uint64(c) {
			q++
		}
		return -measure.Length(q)
	}
	if twice >= uint64(c) {
		q++
	}
	return measure.Length(q)
}
