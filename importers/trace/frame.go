package trace

import (
	"math"

	"boardrun/internal/geom"
)

// frame is the coordinate system of one direction: s along it, r to its left.
// A straight frame is a unit vector in the first quadrant and a number of
// quarter turns; a polar one is a centre, with r the radius and s the arc
// length at radius scale, counted from the angle cut.
type frame struct {
	c, s  float64 // unit vector of the family, c > 0, s ≥ 0
	sub   int     // 1: a quarter turn counter-clockwise from it
	polar bool
	ctr   geom.Pt
	scale Length
	cut   float64 // radians
}

// to returns p in the frame.
func (f *frame) to(p geom.Pt) (s, r Length) {
	if f.polar {
		dx, dy := float64(p.X-f.ctr.X), float64(p.Y-f.ctr.Y)
		a := math.Atan2(dy, dx) - f.cut
		for a < 0 {
			a += 2 * math.Pi
		}
		return round(a * float64(f.scale)), round(math.Hypot(dx, dy))
	}
	if f.sub == 1 {
		p = geom.Pt{X: p.Y, Y: -p.X}
	}
	if f.s == 0 {
		return p.X, p.Y
	}
	x, y := float64(p.X), float64(p.Y)
	return round(float64(f.c*x) + float64(f.s*y)), round(float64(f.c*y) - float64(f.s*x))
}

// from is the inverse of to, up to one unit of the grid.
func (f *frame) from(s, r Length) geom.Pt {
	if f.polar {
		a := float64(s)/float64(f.scale) + f.cut
		return geom.Pt{X: f.ctr.X + round(float64(r)*math.Cos(a)), Y: f.ctr.Y + round(float64(r)*math.Sin(a))}
	}
	p := geom.Pt{X: s, Y: r}
	if f.s != 0 {
		x, y := float64(s), float64(r)
		p = geom.Pt{X: round(float64(f.c*x) - float64(f.s*y)), Y: round(float64(f.s*x) + float64(f.c*y))}
	}
	if f.sub == 1 {
		p = geom.Pt{X: -p.Y, Y: p.X}
	}
	return p
}

// dir returns the unit vector along s at station s.
func (f *frame) dir(s Length) (x, y float64) {
	if f.polar {
		a := float64(s)/float64(f.scale) + f.cut
		return -math.Sin(a), math.Cos(a)
	}
	if f.sub == 1 {
		return -f.s, f.c
	}
	return f.c, f.s
}

// along returns the true length of a stretch ds at offset r: on a curve it
// grows with the radius.
func (f *frame) along(ds, r Length) Length {
	if !f.polar {
		return ds
	}
	return round(float64(ds) * float64(r) / float64(f.scale))
}

// stretch is the inverse of along.
func (f *frame) stretch(l, r Length) Length {
	if !f.polar || r == 0 {
		return l
	}
	return round(float64(l) * float64(f.scale) / float64(r))
}

// round is to the nearest unit, halves away from zero: symmetric under turns.
type pt = geom.Pt

func round(x float64) Length { return Length(math.Round(x)) }

// quarter turns v by quarter turns into the first quadrant (x > 0, y ≥ 0) and
// says whether the number of turns was odd. Directions are taken without sign.
func quarter(v geom.Pt) (geom.Pt, int) {
	switch {
	case v.X > 0 && v.Y >= 0:
		return v, 0
	case v.X <= 0 && v.Y > 0:
		return geom.Pt{X: v.Y, Y: -v.X}, 1
	case v.X < 0 && v.Y <= 0:
		return geom.Pt{X: -v.X, Y: -v.Y}, 0
	default:
		return geom.Pt{X: -v.Y, Y: v.X}, 1
	}
}
