package geom

import "boardrun/internal/measure"

// Length is measure.Length, repeated here because every line of this package
// needs it.
type Length = measure.Length

// Pt is a point: (x, y) in plan, (u, v) on a face, (x across, y along) on a
// sheet.
type Pt struct{ X, Y Length }

// Sub returns the vector from q to p.
func (p Pt) Sub(q Pt) Pt { return Pt{p.X - q.X, p.Y - q.Y} }

// Add returns p moved by q.
func (p Pt) Add(q Pt) Pt { return Pt{p.X + q.X, p.Y + q.Y} }

// Poly is a simple polygon, first point not repeated; counter-clockwise where
// it is an outline.
type Poly []Pt

// Rect is an axis-parallel rectangle, Min below and left of Max.
type Rect struct{ Min, Max Pt }

// W returns the width of r.
func (r Rect) W() Length { return r.Max.X - r.Min.X }

// H returns the height of r.
func (r Rect) H() Length { return r.Max.Y - r.Min.Y }

// Empty reports whether r has no area.
func (r Rect) Empty() bool { return r.Max.X <= r.Min.X || r.Max.Y <= r.Min.Y }

// Poly returns the outline of r, counter-clockwise from its lower left corner.
func (r Rect) Poly() Poly {
	return Poly{r.Min, {r.Max.X, r.Min.Y}, r.Max, {r.Min.X, r.Max.Y}}
}

// Intersect returns the part of r inside s; it may be Empty.
func (r Rect) Intersect(s Rect) Rect {
	return Rect{
		Pt{max(r.Min.X, s.Min.X), max(r.Min.Y, s.Min.Y)},
		Pt{min(r.Max.X, s.Max.X), min(r.Max.Y, s.Max.Y)},
	}
}

// Bounds returns the least rectangle round p; the zero Rect for no points.
func (p Poly) Bounds() Rect {
	if len(p) == 0 {
		return Rect{}
	}
	r := Rect{p[0], p[0]}
	for _, q := range p[1:] {
		r.Min.X, r.Min.Y = min(r.Min.X, q.X), min(r.Min.Y, q.Y)
		r.Max.X, r.Max.Y = max(r.Max.X, q.X), max(r.Max.Y, q.Y)
	}
	return r
}
