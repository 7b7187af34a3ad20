package ifc

import (
	"errors"
	"fmt"

	"boardrun/importers/ifc/part21"
)

// geo decodes geometry: one for each goroutine. Lengths leave it in mm.
type geo struct {
	r       *part21.Reader
	unit    units
	places  map[part21.ID]affine
	depth   int         // nesting of solids, curves and profiles
	steps   int         // solids, curves and profiles of the product being read
	current []part21.ID // placements being resolved, to name a cycle
}

func newGeo(r *part21.Reader, u units) *geo {
	return &geo{r: r, unit: u, places: map[part21.ID]affine{}}
}

// Limits of nesting and size; each ends a model made to exhaust time.
const (
	maxNesting = 64      // booleans within booleans, placements within placements
	maxPoints  = 4 << 20 // points of one mesh
	maxFaces   = 2 << 20 // faces of one mesh
	maxPlaces  = 1 << 13 // placements remembered by one goroutine
	maxSteps   = 1 << 17 // solids, curves and profiles of one product, repetitions counted
	maxLoops   = 2000    // loops a plane may cut out of one mesh
	maxCorners = 2000    // corners of a plan that may turn
	farthest   = 1e10    // coordinates in mm: a quarter of the way round the earth
)

// unsupported is a fault of this importer, not of the file.
type unsupported struct{ what string }

func (u unsupported) Error() string { return u.what + " is not supported" }

// geoError names the instance a geometry fault was found at.
type geoError struct {
	id  part21.ID
	err error
}

func (e *geoError) Error() string { return e.id.String() + ": " + e.err.Error() }
func (e *geoError) Unwrap() error { return e.err }

func bad(id part21.ID, format string, args ...any) error {
	return &geoError{id, fmt.Errorf(format, args...)}
}

func notSupported(rec *part21.Record) error {
	return &geoError{rec.ID, unsupported{rec.Name}}
}

func isUnsupported(err error) bool {
	var u unsupported
	return errors.As(err, &u)
}

// enter counts nesting and steps; each enter that succeeds is paired with a
// leave.
func (g *geo) enter(id part21.ID) error {
	if g.steps++; g.steps > maxSteps {
		return bad(id, "is part of a shape of more than %d pieces", maxSteps)
	}
	if g.depth++; g.depth > maxNesting {
		g.depth--
		return bad(id, "is nested more than %d deep or contains itself", maxNesting)
	}
	return nil
}

func (g *geo) leave() { g.depth-- }

// follow decodes attribute i of rec, which must refer to an instance.
func (g *geo) follow(rec *part21.Record, i int) (*part21.Record, error) {
	id := rec.Arg(i).Ref()
	if id == 0 {
		return nil, bad(rec.ID, "%s does not say its attribute %d", rec.Name, i+1)
	}
	return g.r.Get(id)
}

// place returns the map from an object placement to the world.
func (g *geo) place(id part21.ID) (affine, error) {
	if id == 0 {
		return identity, nil
	}
	if m, ok := g.places[id]; ok {
		return m, nil
	}
	for i, c := range g.current {
		if c == id {
			return identity, bad(id, "placements are relative to each other in a circle: %s", circle(g.current[i:], id))
		}
	}
	if len(g.current) >= maxNesting {
		return identity, bad(id, "placements are nested more than %d deep", maxNesting)
	}
	g.current = append(g.current, id)
	m, err := g.placeNew(id)
	g.current = g.current[:len(g.current)-1]
	if err == nil {
		if len(g.places) >= maxPlaces {
			clear(g.places)
		}
		g.places[id] = m
	}
	return m, err
}

func circle(ids []part21.ID, last part21.ID) string {
	s := ""
	for _, id := range ids {
		s += id.String() + " → "
	}
	return s + last.String()
}

func (g *geo) placeNew(id part21.ID) (affine, error) {
	rec, err := g.r.Get(id)
	if err != nil {
		return identity, err
	}
	if rec.Key != ifcLocalPlacement {
		return identity, notSupported(rec)
	}
	m := identity
	if ref := rec.Arg(1).Ref(); ref != 0 {
		if m, err = g.axis3(ref); err != nil {
			return identity, err
		}
	}
	parent, err := g.place(rec.Arg(0).Ref())
	if err != nil {
		return identity, err
	}
	return m.then(parent), nil
}

// axis3 reads an axis placement in space or plane; the identity for 0.
func (g *geo) axis3(id part21.ID) (affine, error) {
	if id == 0 {
		return identity, nil
	}
	rec, err := g.r.Get(id)
	if err != nil {
		return identity, err
	}
	o, err := g.point(rec.Arg(0).Ref())
	if err != nil {
		return identity, err
	}
	switch rec.Key {
	case ifcAxis2Placement3D:
		axis, err := g.direction(rec.Arg(1).Ref(), vec{0, 0, 1})
		if err != nil {
			return identity, err
		}
		ref, err := g.direction(rec.Arg(2).Ref(), vec{1, 0, 0})
		return frame(o, axis, ref), err
	case ifcAxis2Placement2D:
		ref, err := g.direction(rec.Arg(1).Ref(), vec{1, 0, 0})
		return frame(o, vec{0, 0, 1}, ref), err
	}
	return identity, notSupported(rec)
}

// point reads a cartesian point in mm; missing coordinates are 0.
func (g *geo) point(id part21.ID) (vec, error) {
	rec, err := g.r.Get(id)
	if err != nil {
		return vec{}, err
	}
	if rec.Key != ifcCartesianPoint {
		return vec{}, bad(id, "%s where a point is expected", rec.Name)
	}
	p := triple(rec.Arg(0).List()).mul(g.unit.mm)
	if !p.usable() {
		return p, bad(id, "a coordinate is beyond 10,000 km")
	}
	return p, nil
}

// triple reads up to three numbers of a list.
func triple(l []part21.Value) (p vec) {
	if len(l) > 0 {
		p.x = l[0].Float()
	}
	if len(l) > 1 {
		p.y = l[1].Float()
	}
	if len(l) > 2 {
		p.z = l[2].Float()
	}
	return p
}

// direction reads a direction, unless for 0.
func (g *geo) direction(id part21.ID, unless vec) (vec, error) {
	if id == 0 {
		return unless, nil
	}
	rec, err := g.r.Get(id)
	if err != nil {
		return unless, err
	}
	d := triple(rec.Arg(0).List())
	if rec.Key != ifcDirection || !d.finite() || d.len() == 0 {
		return unless, bad(id, "%s is not a usable direction", rec.Name)
	}
	return d.unit(), nil
}

// operator reads a cartesian transformation operator.
func (g *geo) operator(id part21.ID) (affine, error) {
	rec, err := g.r.Get(id)
	if err != nil {
		return identity, err
	}
	plane := rec.Key == ifcCartesianTransformationOperator2D || rec.Key == ifcCartesianTransformationOperator2DnonUniform
	if !plane && rec.Key != ifcCartesianTransformationOperator3D && rec.Key != ifcCartesianTransformationOperator3DnonUniform {
		return identity, notSupported(rec)
	}
	o, err := g.point(rec.Arg(2).Ref())
	if err != nil {
		return identity, err
	}
	x, err := g.direction(rec.Arg(0).Ref(), vec{})
	if err != nil {
		return identity, err
	}
	y, err := g.direction(rec.Arg(1).Ref(), vec{})
	if err != nil {
		return identity, err
	}
	z := vec{0, 0, 1}
	if !plane {
		if z, err = g.direction(rec.Arg(4).Ref(), vec{}); err != nil {
			return identity, err
		}
	}
	x, y, z = operatorAxes(x, y, z)
	s := scaleOr(rec.Arg(3), 1)
	sy, sz := s, s
	switch rec.Key {
	case ifcCartesianTransformationOperator3DnonUniform:
		sy, sz = scaleOr(rec.Arg(5), s), scaleOr(rec.Arg(6), s)
	case ifcCartesianTransformationOperator2DnonUniform:
		sy = scaleOr(rec.Arg(4), s)
	}
	return affine{x.mul(s), y.mul(sy), z.mul(sz), o}, nil
}

func scaleOr(v *part21.Value, unless float64) float64 {
	if f, ok := v.Number(); ok {
		return f
	}
	return unless
}

// operatorAxes completes the axes of an operator; given axes keep their sense,
// so that mirrors survive. Source: ISO 16739-1, IfcBaseAxis.
func operatorAxes(x, y, z vec) (vec, vec, vec) {
	if z == (vec{}) {
		if x != (vec{}) && y != (vec{}) {
			z = x.cross(y).unit()
		} else {
			z = vec{0, 0, 1}
		}
	}
	f := frame(vec{}, z, x)
	if x == (vec{}) {
		f = frame(vec{}, z, vec{1, 0, 0})
		if y != (vec{}) {
			f.x = y.cross(z).unit()
		}
	}
	x, z = f.x, f.z
	side := z.cross(x)
	if y != (vec{}) && y.dot(side) < 0 {
		side = side.mul(-1)
	}
	return x, side, z
}
