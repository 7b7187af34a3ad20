package ifc

import (
	"errors"
	"math"

	"github.com/peterstace/simplefeatures/geom"
)

// poisoned is the region that no boolean could find. It has no area that
// compares with any, and spreads to whatever is made of it.
var poisoned = region{{outer: ring{{math.NaN(), math.NaN()}, {math.NaN(), math.NaN()}, {math.NaN(), math.NaN()}}}}

func (g region) isPoisoned() bool { return math.IsNaN(g.area()) }

// operation is a boolean of simplefeatures and the bounds its area has.
type operation struct {
	do     func(a, b geom.Geometry) (geom.Geometry, error)
	bounds func(a, b float64) (lo, hi float64)
}

var (
	intersection = operation{geom.Intersection, func(a, b float64) (float64, float64) { return 0, min(a, b) }}
	difference   = operation{geom.Difference, func(a, b float64) (float64, float64) { return a - b, a }}
	joining      = operation{geom.Union, func(a, b float64) (float64, float64) { return max(a, b), a + b }}
)

// grids are what regions are put on before a general boolean, so that edges
// meant to coincide do; the next is tried where one gives an impossible area.
var grids = []float64{1e-4, 1e-3, 1e-2, 1e-5}

// overlay hands a boolean of general polygons to simplefeatures and checks what
// comes back; poisoned if nothing credible does.
func overlay(g, h region, op operation) region {
	a, b := g.area(), h.area()
	if math.IsNaN(a + b) {
		return poisoned
	}
	lo, hi := op.bounds(a, b)
	tol := 1e-6*(a+b) + 1
	for _, grid := range grids {
		out, err := attempt(g, h, op, grid)
		if err != nil {
			continue
		}
		if c := out.area(); c >= lo-tol && c <= hi+tol {
			return out
		}
	}
	return poisoned
}

// attempt is one boolean on one grid. A panic of the library is a failure like
// another.
func attempt(g, h region, op operation, grid float64) (res region, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = errors.New("polygon boolean failed")
		}
	}()
	out, err := op.do(g.geometry(grid), h.geometry(grid))
	if err != nil {
		return nil, err
	}
	eachPolygon(out, func(p geom.Polygon) {
		s := shape{outer: ringOf(p.ExteriorRing()).tidy()}
		if s.outer == nil {
			return
		}
		s.outer = s.outer.turned(true)
		for i := range p.NumInteriorRings() {
			if r := ringOf(p.InteriorRingN(i)).tidy(); r != nil {
				s.holes = append(s.holes, r.turned(false))
			}
		}
		res = append(res, s)
	})
	return res, nil
}

func eachPolygon(g geom.Geometry, f func(geom.Polygon)) {
	switch g.Type() {
	case geom.TypePolygon:
		f(g.MustAsPolygon())
	case geom.TypeMultiPolygon:
		m := g.MustAsMultiPolygon()
		for i := range m.NumPolygons() {
			f(m.PolygonN(i))
		}
	case geom.TypeGeometryCollection:
		c := g.MustAsGeometryCollection()
		for i := range c.NumGeometries() {
			eachPolygon(c.GeometryN(i), f)
		}
	}
}

func ringOf(l geom.LineString) ring {
	seq := l.Coordinates()
	n := seq.Length()
	if n < 4 {
		return nil
	}
	r := make(ring, n-1)
	for i := range r {
		p := seq.GetXY(i)
		r[i] = pt{p.X, p.Y}
	}
	return r
}

func (g region) geometry(grid float64) geom.Geometry {
	var polys []geom.Polygon
	for _, s := range g {
		rings := []geom.LineString{lineString(s.outer, grid)}
		for _, h := range s.holes {
			rings = append(rings, lineString(h, grid))
		}
		polys = append(polys, geom.NewPolygon(rings))
	}
	if len(polys) == 1 {
		return polys[0].AsGeometry()
	}
	return geom.NewMultiPolygon(polys).AsGeometry()
}

func lineString(r ring, grid float64) geom.LineString {
	f := make([]float64, 0, 2*len(r)+2)
	for i := 0; i <= len(r); i++ {
		p := r[i%len(r)]
		f = append(f, math.Round(p.u/grid)*grid, math.Round(p.v/grid)*grid)
	}
	return geom.NewLineString(geom.NewSequence(f, geom.DimXY))
}
