package dxf

import "math"

// boundary gathers rings: for each its number of points and x y z of each.
type boundary struct {
	plane affine
	rings []float64
	ring  []float64
	at    [3]float64
	total int
}

// add appends a point given in the plane.
func (h *boundary) add(x, y, z float64) {
	if h.total++; h.total > MaxVertices {
		return
	}
	wx, wy, wz := h.plane.point(x, y, z)
	if n := len(h.ring); n >= 3 && same(h.ring[n-3], wx) && same(h.ring[n-2], wy) {
		return
	}
	h.ring = append(h.ring, wx, wy, wz)
	h.at = [3]float64{wx, wy, wz}
}

// same guards against the last digits of edges that meet: written apart, they
// differ there.
func same(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(a)) }

// endRing closes the ring and keeps it if it has an area to bound.
func (h *boundary) endRing() {
	n := len(h.ring)
	if n >= 6 && same(h.ring[0], h.ring[n-3]) && same(h.ring[1], h.ring[n-2]) {
		n -= 3
	}
	if n >= 9 {
		h.rings = append(append(h.rings, float64(n/3)), h.ring[:n]...)
	}
	h.ring = h.ring[:0]
}

// arc appends points from start to end, angles in degrees; ccw tells the way.
func (h *boundary) arc(cx, cy, r, start, end, z float64, ccw bool) {
	sweep := math.Mod(end-start, 360)
	if sweep <= 0 {
		sweep += 360
	}
	n := max(int(math.Ceil(sweep/flattenStep)), 1)
	for i := 0; i <= n; i++ {
		sin, cos := sinCos(start + sweep*float64(i)/float64(n))
		if !ccw { // clockwise arcs have their angles mirrored
			sin = -sin
		}
		h.add(cx+r*cos, cy+r*sin, z)
	}
}

// bulge appends the points of a polyline's arc, both ends left out.
func (h *boundary) bulge(x0, y0, x1, y1, b, z float64) {
	if b == 0 || h.total > MaxVertices {
		return
	}
	c := arcOfBulge(x0, y0, x1, y1, b)
	n := int(math.Ceil(math.Abs(c.sweep) / flattenStep))
	for i := 1; i < n; i++ {
		sin, cos := sinCos(c.start + c.sweep*float64(i)/float64(n))
		h.add(c.x+c.r*cos, c.y+c.r*sin, z)
	}
}

// bulgeArc is a circular piece from its first to its second point: sweep is
// signed, counter-clockwise positive, in degrees.
type bulgeArc struct{ x, y, r, start, sweep float64 }

// arcOfBulge returns the arc whose bulge is b, b not 0: the tangent of a
// quarter of its sweep. Source: DXF Reference, LWPOLYLINE.
func arcOfBulge(x0, y0, x1, y1, b float64) bulgeArc {
	dx, dy := x1-x0, y1-y0
	k := (1 - b*b) / (4 * b)
	cx, cy := (x0+x1)/2-k*dy, (y0+y1)/2+k*dx
	return bulgeArc{cx, cy, math.Hypot(x0-cx, y0-cy), degrees(y0-cy, x0-cx), 4 * math.Atan(b) * 180 / math.Pi}
}
