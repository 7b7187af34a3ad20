package ifc

import "math"

// Walls whose sides lean or run together have no pair of parallel upright
// planes. They are seen from the middle direction: the sides are taken at the
// innermost planes across it, where the section has the full outline of the
// side; areas are those of the projection, short by the cosine of the slant.

// slant is the most a side may lean from upright or turn from the middle
// direction: 20°. Common practice, no source.
const slant = 0.34

const slantedDoubt = "its sides are not parallel; the measures are those of its middle plane and of its sides seen square to it"

// standSlanted finds how a wall stands whose sides are not parallel; thickness
// is the mean.
func standSlanted(p product, s stance) (stance, float64, error) {
	var left, right, both vec
	facing := func(n vec) int {
		switch c := n.dot(s.left) / n.len(); {
		case c > 1-slant*slant:
			return 1
		case c < -1+slant*slant:
			return -1
		}
		return 0
	}
	each := func(f func(n vec, pts []vec)) {
		for _, sd := range p.solids {
			polygons(sd, func(pts []vec) {
				if n := newell(pts); n.len() > 1 && math.Abs(n.z) < slant*n.len() {
					f(n, pts)
				}
			})
		}
	}
	each(func(n vec, _ []vec) {
		switch facing(n) {
		case 1:
			left = left.add(n)
		case -1:
			right = right.add(n)
		}
	})
	both = left.sub(right)
	both.z = 0
	if left == (vec{}) || right == (vec{}) || both.len() == 0 {
		return s, 0, errNoSides
	}
	n := both.unit()
	s.left, s.along = n, vec{n.y, -n.x, 0}
	s.lo, s.hi = math.Inf(-1), math.Inf(1)
	outLo, outHi := math.Inf(1), math.Inf(-1)
	each(func(n vec, pts []vec) {
		side := facing(n)
		for _, q := range pts {
			y := q.dot(s.left)
			switch side {
			case 1:
				s.hi, outHi = min(s.hi, y), max(outHi, y)
			case -1:
				s.lo, outLo = max(s.lo, y), min(outLo, y)
			}
		}
	})
	if s.hi-s.lo < 1 {
		return s, 0, errNoSides
	}
	if outHi-s.hi > 1 || s.lo-outLo > 1 { // mm: less is how walls are drawn by hand
		s.doubt = slantedDoubt
	}
	return s, (s.hi - s.lo + outHi - outLo) / 2, nil
}

// newell returns the normal of a polygon with its area as length.
func newell(pts []vec) (n vec) {
	for i := 1; i+1 < len(pts); i++ {
		n = n.add(pts[i].sub(pts[0]).cross(pts[i+1].sub(pts[0])))
	}
	return n.mul(0.5)
}

// polygons calls f with the outlines of the plane pieces of a solid's boundary,
// counter-clockwise from outside.
func polygons(s solid, f func([]vec)) {
	switch s := s.(type) {
	case *boolean:
		polygons(s.a, f)
		if s.op == '+' {
			polygons(s.b, f)
		}
	case *legOf:
		polygons(s.pillar, f)
	case *mesh:
		for _, loops := range s.faces {
			pts := make([]vec, len(loops[0]))
			for i, k := range loops[0] {
				pts[i] = s.points[k]
			}
			f(pts)
		}
	case *prism:
		inward := s.x.cross(s.y).dot(s.d) < 0
		side := func(pts []vec) {
			if inward {
				for i, j := 0, len(pts)-1; i < j; i, j = i+1, j-1 {
					pts[i], pts[j] = pts[j], pts[i]
				}
			}
			f(pts)
		}
		for _, sh := range s.shapes {
			r := sh.outer.turned(true)
			var top, foot []vec
			for i, q := range r {
				a, b := s.at(q), s.at(r[(i+1)%len(r)])
				top = append(top, a.add(s.d))
				foot = append([]vec{a}, foot...)
				side([]vec{a, b, b.add(s.d), a.add(s.d)})
			}
			side(top)
			side(foot)
		}
	}
}
