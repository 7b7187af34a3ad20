package dxf

import (
	"errors"
	"math"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// ring returns what a region shows of one outline of a fill: whole tells that it
// is all of it; ok is false where no boolean could be made, as of outlines that
// cross themselves.
func (g *region) ring(r orb.Ring) (out []orb.Ring, whole, ok bool) {
	crossed, in, n := false, 0, len(r)-1
	for i := range n {
		switch parts := g.line(r[i], r[i+1]); {
		case len(parts) == 0:
		case len(parts) == 1 && parts[0] == [2]float64{0, 1}:
			in++
		default:
			crossed = true
		}
	}
	within := ringHolds(r, g.pts[0]) // the outline may lie in the fill without meeting its edge
	switch {
	case !crossed && in == n && !(g.inverted && within):
		return []orb.Ring{r}, true, true
	case !crossed && in == 0 && !(!g.inverted && within):
		return nil, false, true
	}
	rings, err := cutRing(r, g)
	return rings, false, err == nil
}

// ringHolds tells whether a point lies in a closed ring.
func ringHolds(r orb.Ring, p orb.Point) bool {
	in := false
	for i := 1; i < len(r); i++ {
		a, b := r[i-1], r[i]
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

// cutRing is the boolean of a ring and a region, by simplefeatures. A panic of
// the library is a failure like another; so is an area that cannot be.
func cutRing(r orb.Ring, g *region) (out []orb.Ring, err error) {
	defer func() {
		if recover() != nil {
			out, err = nil, errCut
		}
	}()
	// Near the origin, so that the library's own tolerances are small beside it.
	o := r[0]
	a := polygonOf(r[:len(r)-1], o)
	b := polygonOf(g.pts, o)
	op := geom.Intersection
	if g.inverted {
		op = geom.Difference
	}
	res, err := op(a.AsGeometry(), b.AsGeometry())
	if err != nil || res.Area() > a.Area()*(1+1e-6) {
		return nil, errCut
	}
	eachRing(res, func(l geom.LineString) {
		seq := l.Coordinates()
		ring := make(orb.Ring, seq.Length())
		for i := range ring {
			p := seq.GetXY(i)
			ring[i] = orb.Point{p.X + o[0], p.Y + o[1]}
		}
		if len(ring) >= 4 {
			ring[len(ring)-1] = ring[0]
			out = append(out, ring)
		}
	})
	return out, nil
}

var errCut = errors.New("outline cannot be cut")

// polygonOf panics, as the library does, on what is no polygon.
func polygonOf(pts []orb.Point, origin orb.Point) geom.Polygon {
	xy := make([]float64, 0, 2*len(pts)+2)
	for i := range len(pts) + 1 {
		p := pts[i%len(pts)]
		x, y := p[0]-origin[0], p[1]-origin[1]
		if math.IsNaN(x+y) || math.IsInf(x+y, 0) {
			panic(errCut)
		}
		xy = append(xy, x, y)
	}
	p := geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(xy, geom.DimXY))})
	if err := p.Validate(); err != nil {
		panic(err)
	}
	return p
}

// eachRing calls f for the rings of every polygon in a geometry.
func eachRing(g geom.Geometry, f func(geom.LineString)) {
	switch g.Type() {
	case geom.TypePolygon:
		p := g.MustAsPolygon()
		if p.IsEmpty() {
			return
		}
		f(p.ExteriorRing())
		for i := range p.NumInteriorRings() {
			f(p.InteriorRingN(i))
		}
	case geom.TypeMultiPolygon:
		m := g.MustAsMultiPolygon()
		for i := range m.NumPolygons() {
			eachRing(m.PolygonN(i).AsGeometry(), f)
		}
	case geom.TypeGeometryCollection:
		c := g.MustAsGeometryCollection()
		for i := range c.NumGeometries() {
			eachRing(c.GeometryN(i), f)
		}
	}
}
