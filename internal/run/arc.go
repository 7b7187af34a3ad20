package run

import (
	"math"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// Curved walls keep their importer's angles, so this file is the one place of
// the package that computes with floats. What it returns is on the grid.

// bend makes b a curved band along arc; reversed where the band runs against
// the arc's own direction.
func (b *band) bend(arc plan.Arc, reversed bool) {
	if arc.Radius <= 0 || arc.Sweep == 0 {
		return
	}
	if reversed {
		arc.Start, arc.Sweep = arc.Start+arc.Sweep, -arc.Sweep
	}
	b.arc = &arc
	b.length = Length(math.Round(float64(arc.Radius) * math.Abs(arc.Sweep) * (math.Pi / 180)))
	b.axis = b.tangent(0)
}

// turn is +1 for an arc that runs counter-clockwise, its left side then being
// the concave one.
func (b *band) turn() Length {
	if b.arc.Sweep < 0 {
		return -1
	}
	return 1
}

// pointAt returns the point at station s, w to the left of the axis.
func (b *band) pointAt(s, w Length) geom.Pt {
	if b.arc == nil {
		return b.axis.at(s, w)
	}
	a := b.angle(s)
	r := float64(b.arc.Radius - w*b.turn())
	return b.arc.Centre.Add(geom.Pt{X: Length(math.Round(r * math.Cos(a))), Y: Length(math.Round(r * math.Sin(a)))})
}

func (b *band) angle(s Length) float64 {
	return b.arc.Start*(math.Pi/180) + float64(s*b.turn())/float64(b.arc.Radius)
}

// tangent returns the axis' line at station s, in the band's direction.
func (b *band) tangent(s Length) line {
	if b.arc == nil {
		return line{b.axis.at(s, 0), b.axis.d}
	}
	a := b.angle(s)
	t := float64(b.turn())
	return line{b.pointAt(s, 0), dir{
		Length(math.Round(-math.Sin(a) * t * float64(one))),
		Length(math.Round(math.Cos(a) * t * float64(one))),
	}}
}

// onSide converts a length along the axis to the length along a side, which
// on a curve is longer outside and shorter inside.
func (b *band) onSide(s Length, k int) Length {
	if b.arc == nil {
		return s
	}
	w := b.half()
	if k == 1 {
		w = -w
	}
	return geom.MulDiv(s, b.arc.Radius-w*b.turn(), b.arc.Radius)
}

// onAxis is the reverse of onSide.
func (b *band) onAxis(s Length, k int) Length {
	if b.arc == nil {
		return s
	}
	w := b.half()
	if k == 1 {
		w = -w
	}
	r := b.arc.Radius - w*b.turn()
	if r <= 0 {
		return s
	}
	return geom.MulDiv(s, b.arc.Radius, r)
}

// points returns points along both sides, enough for its bounds and for paper.
func (b *band) points() []geom.Pt {
	n := Length(1)
	if b.arc != nil {
		n = 2 + b.length/(300*measure.Millimetre)
	}
	var out []geom.Pt
	for i := Length(0); i <= n; i++ {
		s := geom.MulDiv(b.length, i, n)
		out = append(out, b.pointAt(s, b.half()), b.pointAt(s, -b.half()))
	}
	return out
}

// meetLine returns the stations at which a curved band's axis, carried on at
// both ends, crosses a straight line.
func (b *band) meetLine(l line) []Length {
	c := b.arc.Centre
	off, r := float64(l.left(c)), float64(b.arc.Radius)
	h := r*r - off*off
	if h <= 0 {
		return nil
	}
	var out []Length
	for _, k := range [...]float64{-1, 1} {
		p := l.at(l.along(c)+Length(math.Round(k*math.Sqrt(h))), 0).Sub(c)
		a := math.Atan2(float64(p.Y), float64(p.X)) - b.arc.Start*(math.Pi/180)
		a *= float64(b.turn())
		mid := math.Abs(b.arc.Sweep) * (math.Pi / 360)
		a -= 2 * math.Pi * math.Round((a-mid)/(2*math.Pi)) // within half a turn of the arc's middle
		out = append(out, Length(math.Round(a*r)))
	}
	return out
}
