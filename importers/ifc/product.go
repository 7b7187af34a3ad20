package ifc

import (
	"errors"

	"boardrun/importers/ifc/part21"
)

// product is the geometry of one element: its solids in world directions with
// the origin at its own placement, and where that is.
type product struct {
	solids []solid
	axis   *curve  // Axis representation, in the same frame; nil if none
	place  affine  // own frame → world
	pillar *prism  // of a leg: its plan, upright; sides are looked for on it
	toward vec     // of a leg: the way along it
	body   []solid // of a piece: where its sides are looked for instead of the pillar
}

var errNoBody = errors.New("has no body")

// product reads placement, body and axis of an element. errNoBody if it has no
// solid shape.
func (g *geo) product(rec *part21.Record) (product, error) {
	var p product
	var err error
	g.steps = 0
	if p.place, err = g.place(rec.Arg(5).Ref()); err != nil {
		return p, err
	}
	if rec.Arg(6).Ref() == 0 {
		return p, errNoBody
	}
	shape, err := g.follow(rec, 6)
	if err != nil {
		return p, err
	}
	turn := p.place
	turn.o = vec{}
	reps, err := g.representations(shape)
	if err != nil {
		return p, err
	}
	body := chooseBody(reps)
	for _, rep := range reps {
		switch {
		case rep == body:
			l := rep.Arg(3).List()
			for i := range l {
				s, err := g.solids(l[i].Ref(), turn)
				if err != nil {
					return p, err
				}
				p.solids = append(p.solids, s...)
			}
		case rep.Arg(1).Text() == "Axis":
			if l := rep.Arg(3).List(); len(l) == 1 {
				// An axis that cannot be read is no loss: the body tells it too.
				if c, err := g.curve(l[0].Ref()); err == nil {
					for i := range c.points {
						c.points[i] = turn.dir(c.points[i])
					}
					p.axis = &c
				}
			}
		}
	}
	if len(p.solids) == 0 {
		return p, errNoBody
	}
	return p, nil
}

// hasBody reports whether an element has a solid shape of its own.
func (g *geo) hasBody(rec *part21.Record) bool {
	shape, err := g.r.Get(rec.Arg(6).Ref())
	if err != nil {
		return false
	}
	reps, err := g.representations(shape)
	body := chooseBody(reps)
	return err == nil && body != nil && len(body.Arg(3).List()) > 0
}

func (g *geo) representations(shape *part21.Record) ([]*part21.Record, error) {
	var reps []*part21.Record
	l := shape.Arg(2).List()
	for i := range l {
		rep, err := g.r.Get(l[i].Ref())
		if err != nil {
			return nil, err
		}
		reps = append(reps, rep)
	}
	return reps, nil
}

// chooseBody returns the representation that holds the solid: the one called
// Body, else the first of a solid type under another name.
func chooseBody(reps []*part21.Record) *part21.Record {
	for _, rep := range reps {
		if rep.Arg(1).Text() == "Body" {
			return rep
		}
	}
	for _, rep := range reps {
		switch rep.Arg(2).Text() {
		case "SweptSolid", "AdvancedSweptSolid", "Clipping", "CSG", "SolidModel", "Brep", "AdvancedBrep", "Tessellation", "SurfaceModel", "MappedRepresentation":
			return rep
		}
	}
	return nil
}

// box3 is the least box round solids.
func box3(solids []solid) (lo, hi vec) {
	b, c := noBox, noBox
	for _, s := range solids {
		corners(s, func(p vec) { b, c = b.with(pt{p.x, p.y}), c.with(pt{p.z, p.z}) })
	}
	return vec{b.lo.u, b.lo.v, c.lo.u}, vec{b.hi.u, b.hi.v, c.hi.u}
}

// corners calls f with the corners of a solid before it is cut by others.
func corners(s solid, f func(vec)) {
	switch s := s.(type) {
	case *prism:
		for _, sh := range s.shapes {
			for _, q := range sh.outer {
				p := s.at(q)
				f(p)
				f(p.add(s.d))
			}
		}
	case *mesh:
		for _, p := range s.points {
			f(p)
		}
	case *boolean:
		corners(s.a, f)
		if s.op == '+' {
			corners(s.b, f)
		}
	case *legOf:
		corners(s.pillar, f)
	}
}
