package ifc

import (
	"math"
	"slices"
)

// underside is one plane piece of an underside: its outline in plan and three
// points of its plane, world mm.
type underside struct {
	outline ring
	holes   []ring
	n       vec // unit normal, downwards
	at      vec // a point of the plane
}

// z returns the height of the plane over a point in plan.
func (u underside) z(p pt) float64 {
	return u.at.z - (u.n.x*(p.u-u.at.x)+u.n.y*(p.v-u.at.y))/u.n.z
}

// lowest returns the lowest height of the outline.
func (u underside) lowest() float64 {
	z := math.Inf(1)
	for _, p := range u.outline {
		z = min(z, u.z(p))
	}
	return z
}

// highest returns the greatest height of the outline.
func (u underside) highest() float64 {
	z := math.Inf(-1)
	for _, p := range u.outline {
		z = max(z, u.z(p))
	}
	return z
}

// steepest downward piece that is an underside and not a side: 80° from level.
const steepest = 0.17

// undersides returns the plane pieces of a solid that look down. Of a boolean
// they are the pieces of its operands as far as they are left, and where a half
// space cuts, the cut.
func undersides(s solid) []underside {
	switch s := s.(type) {
	case *prism:
		return s.undersides()
	case *mesh:
		return s.undersides()
	case *boolean:
		return s.undersides()
	}
	return nil
}

func (s *prism) undersides() []underside {
	var out []underside
	up := s.x.cross(s.y).unit()
	if up.dot(s.d) < 0 {
		up = up.mul(-1)
	}
	flat := func(r ring, lift vec) ring {
		q := make(ring, len(r))
		for i, p := range r {
			a := s.at(p).add(lift)
			q[i] = pt{a.x, a.y}
		}
		return q.tidy()
	}
	for _, sh := range s.shapes {
		for _, end := range []struct {
			n    vec
			lift vec
		}{{up.mul(-1), vec{}}, {up, s.d}} {
			if end.n.z > -steepest {
				continue
			}
			u := underside{outline: flat(sh.outer, end.lift), n: end.n, at: s.at(sh.outer[0]).add(end.lift)}
			for _, h := range sh.holes {
				if h = flat(h, end.lift); h != nil {
					u.holes = append(u.holes, h)
				}
			}
			if u.outline != nil {
				out = append(out, u)
			}
		}
		out = append(out, s.lowSides(sh.outer.turned(true))...)
	}
	return out
}

// lowSides returns the sides of a prism that look down: those of a deck drawn
// in elevation and swept along.
func (s *prism) lowSides(r ring) []underside {
	flip := 1.0
	if s.x.cross(s.y).dot(s.d) < 0 {
		flip = -1
	}
	var out []underside
	for i := range r {
		a, b := s.at(r[i]), s.at(r[(i+1)%len(r)])
		n := b.sub(a).cross(s.d).mul(flip).unit()
		if n.z > -steepest {
			continue
		}
		c, d := b.add(s.d), a.add(s.d)
		if o := (ring{{a.x, a.y}, {b.x, b.y}, {c.x, c.y}, {d.x, d.y}}).tidy(); o != nil {
			out = append(out, underside{outline: o, n: n, at: a})
		}
	}
	return out
}

// undersides of a mesh: faces that look down, those of one plane joined.
func (m *mesh) undersides() []underside {
	type group struct {
		n  vec
		at vec
		g  region
	}
	var groups []group
	for _, loops := range m.faces {
		n := m.normal(loops[0]).unit()
		if n.z > -steepest {
			continue
		}
		at := m.points[loops[0][0]]
		var rings []ring
		for _, l := range loops {
			var r ring
			for _, i := range l {
				r = append(r, pt{m.points[i].x, m.points[i].y})
			}
			if r = r.tidy(); r != nil {
				rings = append(rings, r)
			}
		}
		g := nest(rings)
		k := slices.IndexFunc(groups, func(o group) bool { return o.n.dot(n) > 1-1e-7 && math.Abs(at.sub(o.at).dot(o.n)) < 0.5 })
		if k < 0 {
			groups = append(groups, group{n, at, g})
		} else if len(groups[k].g) < maxDeckPieces {
			groups[k].g = union(groups[k].g, g)
		}
	}
	var out []underside
	for _, o := range groups {
		if o.g.isPoisoned() {
			continue
		}
		for _, s := range o.g {
			out = append(out, underside{outline: s.outer, holes: s.holes, n: o.n, at: o.at})
		}
	}
	return out
}

// maxDeckPieces bounds how many loose pieces of one plane are joined.
const maxDeckPieces = 200
