package ifc

import (
	"math"

	"boardrun/importers/ifc/part21"
)

// A solid is one of: a prism, a half space, a mesh, or a boolean of two solids.
// Nothing is ever cut in space: a plane is laid through the solid, and what it
// leaves in the plane is cut there (section.go). Sections of a boolean are the
// boolean of the sections.
type solid interface {
	// moved returns the solid mapped by m.
	moved(m affine) solid
	// section returns what the plane y = p.y leaves, u = x and v = z.
	section(p plane) region
	// facets calls f with each plane piece of its boundary.
	facets(f func(facet))
	// levels calls f with the y of each corner, between which the area of a
	// section changes smoothly.
	levels(f func(y float64))
}

// facet is a plane piece of a boundary: outward unit normal, one point, area,
// and the ends along the direction across n that is level.
type facet struct {
	n    vec
	at   vec
	area float64
}

// plane is the plane y = y. Side says from where its solid is looked at: the
// section is the limit of those at y − side·0, so that a boundary that lies in
// the plane counts as cut through.
type plane struct {
	y    float64
	side float64 // 1: the inside is below y; −1: above
	near box     // half spaces are cut down to this
}

// sideTol is how far a corner may lie off a side plane and still be on it.
const sideTol = 0.02

// prism is a profile swept along a straight line: points o + px·x + py·y + t·d,
// t from 0 to 1.
type prism struct {
	shapes     []shape
	o, x, y, d vec
}

func (s *prism) moved(m affine) solid {
	return &prism{s.shapes, m.point(s.o), m.dir(s.x), m.dir(s.y), m.dir(s.d)}
}

func (s *prism) at(p pt) vec { return s.o.add(s.x.mul(p.u)).add(s.y.mul(p.v)) }

func (s *prism) levels(f func(float64)) {
	for _, sh := range s.shapes {
		for _, p := range sh.outer {
			y := s.at(p).y
			f(y)
			f(y + s.d.y)
		}
		for _, h := range sh.holes {
			for _, p := range h {
				y := s.at(p).y
				f(y)
				f(y + s.d.y)
			}
		}
	}
}

func (s *prism) facets(f func(facet)) {
	up := s.x.cross(s.y)
	flip := 1.0
	if up.dot(s.d) < 0 {
		flip = -1
	}
	for _, sh := range s.shapes {
		a := math.Abs(sh.outer.area())
		for _, h := range sh.holes {
			a -= math.Abs(h.area())
		}
		n := up.unit().mul(flip)
		f(facet{n, s.at(sh.outer[0]).add(s.d), a * up.len()})
		f(facet{n.mul(-1), s.at(sh.outer[0]), a * up.len()})
		s.sides(sh.outer.turned(true), flip, f)
		for _, h := range sh.holes {
			s.sides(h.turned(false), flip, f)
		}
	}
}

func (s *prism) sides(r ring, flip float64, f func(facet)) {
	for i := range r {
		a, b := s.at(r[i]), s.at(r[(i+1)%len(r)])
		n := b.sub(a).cross(s.d).mul(flip)
		f(facet{n.unit(), a, n.len()})
	}
}

// halfSpace is the side n·p ≤ d of a plane, cut down to a prism along the z of
// its position if bound is set.
type halfSpace struct {
	n     vec
	d     float64
	bound *prism
}

func (s *halfSpace) moved(m affine) solid {
	inv := m.inverse()
	// n·p ≤ d with p = inv(q): the normal maps by the transpose of inv.
	n := vec{s.n.dot(inv.x), s.n.dot(inv.y), s.n.dot(inv.z)}
	d := s.d - s.n.dot(inv.o)
	l := n.len()
	out := &halfSpace{n: n.mul(1 / l), d: d / l}
	if s.bound != nil {
		out.bound = s.bound.moved(m).(*prism)
	}
	return out
}

func (s *halfSpace) facets(func(facet)) {}

func (s *halfSpace) levels(f func(float64)) {
	if math.Abs(s.n.y) > 1-1e-7 {
		f(s.d / s.n.y)
	}
	if s.bound != nil {
		s.bound.levels(f)
	}
}

// boolean joins two solids: '+' union, '*' intersection, '-' difference.
type boolean struct {
	op   byte
	a, b solid
}

func (s *boolean) moved(m affine) solid { return &boolean{s.op, s.a.moved(m), s.b.moved(m)} }

func (s *boolean) facets(f func(facet)) {
	s.a.facets(f)
	if s.op == '+' {
		s.b.facets(f)
	}
}

func (s *boolean) levels(f func(float64)) { s.a.levels(f); s.b.levels(f) }

// solids reads one representation item; nil if it is no solid (a curve, a
// bounding box).
func (g *geo) solids(id part21.ID, m affine) ([]solid, error) {
	rec, err := g.r.Get(id)
	if err != nil {
		return nil, err
	}
	if err := g.enter(id); err != nil {
		return nil, err
	}
	defer g.leave()
	switch rec.Key {
	case ifcMappedItem:
		return g.mapped(rec, m)
	case ifcPolyline, ifcTrimmedCurve, ifcCompositeCurve, ifcIndexedPolyCurve, ifcBoundingBox:
		return nil, nil
	}
	if d := math.Abs(m.det()); !(d > 1e-12 && d < 1e12) {
		return nil, bad(id, "is placed by a transformation that flattens it")
	}
	s, err := g.solid(rec)
	if err != nil {
		return nil, err
	}
	return []solid{s.moved(m)}, nil
}

// mapped reads an IfcMappedItem: the items of its source, moved.
func (g *geo) mapped(rec *part21.Record, m affine) ([]solid, error) {
	src, err := g.follow(rec, 0)
	if err != nil {
		return nil, err
	}
	target, err := g.operator(rec.Arg(1).Ref())
	if err != nil {
		return nil, err
	}
	origin, err := g.axis3(src.Arg(0).Ref())
	if err != nil {
		return nil, err
	}
	rep, err := g.follow(src, 1)
	if err != nil {
		return nil, err
	}
	m = origin.then(target).then(m)
	var out []solid
	l := rep.Arg(3).List()
	for i := range l {
		s, err := g.solids(l[i].Ref(), m)
		if err != nil {
			return out, err
		}
		out = append(out, s...)
	}
	return out, nil
}

func (g *geo) operand(rec *part21.Record, i int) (solid, error) {
	op, err := g.follow(rec, i)
	if err != nil {
		return nil, err
	}
	if err := g.enter(rec.ID); err != nil {
		return nil, err
	}
	defer g.leave()
	return g.solid(op)
}

func (g *geo) solid(rec *part21.Record) (solid, error) {
	switch rec.Key {
	case ifcExtrudedAreaSolid:
		return g.extrusion(rec)
	case ifcBooleanResult, ifcBooleanClippingResult:
		a, err := g.operand(rec, 1)
		if err != nil {
			return nil, err
		}
		b, err := g.operand(rec, 2)
		if err != nil {
			return nil, err
		}
		switch op := rec.Arg(0).Enum(); op {
		case "DIFFERENCE":
			return &boolean{'-', a, b}, nil
		case "INTERSECTION":
			return &boolean{'*', a, b}, nil
		case "UNION":
			return &boolean{'+', a, b}, nil
		default:
			return nil, bad(rec.ID, "boolean operator %q is unknown", op)
		}
	case ifcHalfSpaceSolid, ifcBoxedHalfSpace, ifcPolygonalBoundedHalfSpace:
		return g.halfSpace(rec)
	case ifcCsgSolid:
		return g.operand(rec, 0)
	case ifcBlock:
		m, err := g.axis3(rec.Arg(0).Ref())
		if err != nil {
			return nil, err
		}
		x, y, z := rec.Arg(1).Float()*g.unit.mm, rec.Arg(2).Float()*g.unit.mm, rec.Arg(3).Float()*g.unit.mm
		if !(x > 0 && y > 0 && z > 0 && x+y+z < farthest) {
			return nil, bad(rec.ID, "a block without volume")
		}
		return (&prism{[]shape{{outer: ring{{0, 0}, {x, 0}, {x, y}, {0, y}}}}, vec{}, vec{1, 0, 0}, vec{0, 1, 0}, vec{0, 0, z}}).moved(m), nil
	}
	return g.mesh(rec)
}

func (g *geo) extrusion(rec *part21.Record) (solid, error) {
	p, err := g.profile(rec.Arg(0).Ref())
	if err != nil {
		return nil, err
	}
	depth := rec.Arg(3).Float() * g.unit.mm
	if !(depth > 0 && depth < farthest) {
		return nil, bad(rec.ID, "the extrusion depth is %g", rec.Arg(3).Float())
	}
	m, err := g.axis3(rec.Arg(1).Ref())
	if err != nil {
		return nil, err
	}
	d, err := g.direction(rec.Arg(2).Ref(), vec{0, 0, 1})
	if err != nil {
		return nil, err
	}
	return &prism{p.shapes, m.o, m.x, m.y, m.dir(d.mul(depth))}, nil
}

// farAway is how far a half space is taken to reach, in mm.
const farAway = 1e6

func (g *geo) halfSpace(rec *part21.Record) (solid, error) {
	base, err := g.follow(rec, 0)
	if err != nil {
		return nil, err
	}
	if base.Key != ifcPlane {
		return nil, notSupported(base)
	}
	m, err := g.axis3(base.Arg(0).Ref())
	if err != nil {
		return nil, err
	}
	// AgreementFlag .T.: the normal points away from the material
	// (ISO 10303-42, half_space_solid).
	s := &halfSpace{n: m.z, d: m.z.dot(m.o)}
	if rec.Arg(1).Is("F") {
		s.n, s.d = s.n.mul(-1), -s.d
	}
	if rec.Key != ifcPolygonalBoundedHalfSpace {
		return s, nil
	}
	pos, err := g.axis3(rec.Arg(2).Ref())
	if err != nil {
		return nil, err
	}
	c, err := g.curve(rec.Arg(3).Ref())
	if err != nil {
		return nil, err
	}
	r := flat(c)
	if r == nil {
		return nil, bad(rec.ID, "the boundary has no area")
	}
	s.bound = &prism{[]shape{{outer: r.turned(true)}}, pos.o.sub(pos.z.mul(farAway)), pos.x, pos.y, pos.z.mul(2 * farAway)}
	return s, nil
}
