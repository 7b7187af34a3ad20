package ifc

import (
	"math"
)

// A face, a section or a plan outline is a region of a plane: polygons with
// holes that do not overlap each other, in mm.

type pt struct{ u, v float64 }

// ring is a simple closed polygon, the first point not repeated.
type ring []pt

// shape is one polygon: outer counter-clockwise, holes clockwise.
type shape struct {
	outer ring
	holes []ring
}

type region []shape

// area returns the signed area, positive counter-clockwise. It is taken from
// the first point, so that distance from the origin costs no digits.
func (r ring) area() float64 {
	var a float64
	for i := 1; i+1 < len(r); i++ {
		a += (r[i].u-r[0].u)*(r[i+1].v-r[0].v) - (r[i+1].u-r[0].u)*(r[i].v-r[0].v)
	}
	return a / 2
}

func (r ring) reversed() ring {
	out := make(ring, len(r))
	for i, p := range r {
		out[len(r)-1-i] = p
	}
	return out
}

// turned returns r counter-clockwise, or clockwise where ccw is false.
func (r ring) turned(ccw bool) ring {
	if (r.area() >= 0) == ccw {
		return r
	}
	return r.reversed()
}

// convex reports whether r turns one way only, within rounding.
func (r ring) convex() bool {
	n := len(r)
	sign := 0.0
	for i := range r {
		a, b, c := r[i], r[(i+1)%n], r[(i+2)%n]
		x := (b.u-a.u)*(c.v-b.v) - (b.v-a.v)*(c.u-b.u)
		if math.Abs(x) < 1e-9*(math.Hypot(b.u-a.u, b.v-a.v)*math.Hypot(c.u-b.u, c.v-b.v)+1e-9) {
			continue
		}
		if sign*x < 0 {
			return false
		}
		sign = x
	}
	return true
}

// tidy drops repeated points and points on the straight line between their
// neighbours; nil if nothing with an area is left.
func (r ring) tidy() ring {
	out := make(ring, 0, len(r))
	for i, p := range r {
		if len(out) > 0 && near(out[len(out)-1], p) || i == len(r)-1 && len(out) > 0 && near(out[0], p) {
			continue
		}
		out = append(out, p)
	}
	for changed := true; changed && len(out) >= 3; {
		changed = false
		for i := 0; i < len(out) && len(out) >= 3; i++ {
			a, b, c := out[(i+len(out)-1)%len(out)], out[i], out[(i+1)%len(out)]
			if offLine(a, b, c) < flatTol {
				out = append(out[:i], out[i+1:]...)
				changed = true
				i--
			}
		}
	}
	if len(out) < 3 || math.Abs(out.area()) < sliver {
		return nil
	}
	return out
}

// Tolerances of plane geometry, in mm and mm². None is visible in a takeoff,
// whose finest step is 0.1 mm.
const (
	pointTol = 1e-4 // points nearer than this are one
	flatTol  = 1e-5 // points nearer to a line than this are on it: only rounding, so that no area is lost
	sliver   = 0.01 // rings smaller than this come from rounding
)

func near(a, b pt) bool { return math.Abs(a.u-b.u) < pointTol && math.Abs(a.v-b.v) < pointTol }

// offLine returns the distance of b from the line through a and c, or from a
// where these are one point.
func offLine(a, b, c pt) float64 {
	l := math.Hypot(c.u-a.u, c.v-a.v)
	if l < pointTol {
		return 0
	}
	return math.Abs((c.u-a.u)*(b.v-a.v)-(c.v-a.v)*(b.u-a.u)) / l
}

// box is a rectangle parallel to the axes.
type box struct{ lo, hi pt }

var noBox = box{pt{math.Inf(1), math.Inf(1)}, pt{math.Inf(-1), math.Inf(-1)}}

func (b box) empty() bool { return b.lo.u > b.hi.u }

func (b box) with(p pt) box {
	return box{pt{min(b.lo.u, p.u), min(b.lo.v, p.v)}, pt{max(b.hi.u, p.u), max(b.hi.v, p.v)}}
}

// apart reports whether b and c share no area.
func (b box) apart(c box) bool {
	return b.hi.u <= c.lo.u+pointTol || c.hi.u <= b.lo.u+pointTol || b.hi.v <= c.lo.v+pointTol || c.hi.v <= b.lo.v+pointTol
}

func (r ring) bounds() box {
	b := noBox
	for _, p := range r {
		b = b.with(p)
	}
	return b
}

func (g region) bounds() box {
	b := noBox
	for _, s := range g {
		for _, p := range s.outer {
			b = b.with(p)
		}
	}
	return b
}

// area returns the area of g, holes taken off.
func (g region) area() float64 {
	var a float64
	for _, s := range g {
		a += math.Abs(s.outer.area())
		for _, h := range s.holes {
			a -= math.Abs(h.area())
		}
	}
	return a
}

// single returns the one convex polygon g is, nil if it is anything else.
func (g region) single() ring {
	if len(g) == 1 && len(g[0].holes) == 0 && g[0].outer.convex() {
		return g[0].outer
	}
	return nil
}

func regionOf(r ring) region {
	if r = r.tidy(); r == nil {
		return nil
	}
	return region{{outer: r.turned(true)}}
}

// clip keeps the part of g where a·u + b·v ≤ c.
func (g region) clip(a, b, c float64) region {
	bb := g.bounds()
	if bb.empty() {
		return nil
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range []pt{bb.lo, {bb.hi.u, bb.lo.v}, bb.hi, {bb.lo.u, bb.hi.v}} {
		d := a*p.u + b*p.v - c
		lo, hi = min(lo, d), max(hi, d)
	}
	switch {
	case hi <= 0:
		return g
	case lo >= 0:
		return nil
	}
	if r := g.single(); r != nil {
		return regionOf(clipConvex(r, a, b, c))
	}
	return intersect(g, region{{outer: halfPlane(bb, a, b, c)}})
}

// clipConvex cuts a convex polygon (Sutherland and Hodgman 1974).
func clipConvex(r ring, a, b, c float64) ring {
	out := make(ring, 0, len(r)+1)
	for i, p := range r {
		q := r[(i+1)%len(r)]
		dp, dq := a*p.u+b*p.v-c, a*q.u+b*q.v-c
		if dp <= 0 {
			out = append(out, p)
		}
		if dp < 0 && dq > 0 || dp > 0 && dq < 0 {
			t := dp / (dp - dq)
			out = append(out, pt{p.u + t*(q.u-p.u), p.v + t*(q.v-p.v)})
		}
	}
	return out
}

// halfPlane returns the part of a generous rectangle round bb on the side
// a·u + b·v ≤ c.
func halfPlane(bb box, a, b, c float64) ring {
	m := bb.hi.u - bb.lo.u + bb.hi.v - bb.lo.v + 1000
	r := ring{{bb.lo.u - m, bb.lo.v - m}, {bb.hi.u + m, bb.lo.v - m}, {bb.hi.u + m, bb.hi.v + m}, {bb.lo.u - m, bb.hi.v + m}}
	return clipConvex(r, a, b, c).turned(true)
}

// intersect returns the common part of g and h.
func intersect(g, h region) region {
	if len(g) == 0 || len(h) == 0 || g.bounds().apart(h.bounds()) {
		return nil
	}
	if r := h.single(); r != nil {
		return within(g, r.turned(true))
	}
	if r := g.single(); r != nil {
		return within(h, r.turned(true))
	}
	return overlay(g, h, intersection)
}

// within returns the part of g inside a convex counter-clockwise polygon. Its
// convex shapes are cut edge by edge, only the others by a general boolean.
func within(g region, s ring) region {
	var out region
	for _, a := range g {
		if len(a.holes) > 0 || !a.outer.convex() {
			out = append(out, overlay(region{a}, region{{outer: s}}, intersection)...)
			continue
		}
		r := a.outer.turned(true)
		for i, p := range s {
			q := s[(i+1)%len(s)]
			x, y := q.v-p.v, p.u-q.u
			if r = clipConvex(r, x, y, x*p.u+y*p.v); len(r) < 3 {
				break
			}
		}
		out = append(out, regionOf(r)...)
	}
	return out
}

// subtract returns g without h.
func subtract(g, h region) region {
	if len(g) == 0 || len(h) == 0 || g.bounds().apart(h.bounds()) {
		return g
	}
	return overlay(g, h, difference)
}

// union returns all that is in g or h.
func union(g, h region) region {
	switch {
	case len(g) == 0:
		return h
	case len(h) == 0:
		return g
	case g.bounds().apart(h.bounds()) && !touching(g.bounds(), h.bounds()):
		return append(append(region{}, g...), h...)
	}
	return overlay(g, h, joining)
}

func touching(b, c box) bool {
	return b.hi.u >= c.lo.u-pointTol && c.hi.u >= b.lo.u-pointTol && b.hi.v >= c.lo.v-pointTol && c.hi.v >= b.lo.v-pointTol
}
