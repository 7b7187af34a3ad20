package ifc

import (
	"math"

	"boardrun/importers/ifc/part21"
)

// profile is a flattened profile definition: its polygons in mm.
type profile struct{ shapes []shape }

// profile reads a closed profile.
func (g *geo) profile(id part21.ID) (profile, error) {
	rec, err := g.r.Get(id)
	if err != nil {
		return profile{}, err
	}
	if err := g.enter(id); err != nil {
		return profile{}, err
	}
	defer g.leave()
	switch rec.Key {
	case ifcArbitraryClosedProfileDef, ifcArbitraryProfileDefWithVoids:
		return g.arbitrary(rec)
	case ifcCompositeProfileDef:
		var p profile
		l := rec.Arg(2).List()
		for i := range l {
			q, err := g.profile(l[i].Ref())
			if err != nil {
				return p, err
			}
			p.shapes = append(p.shapes, q.shapes...)
		}
		return p, nil
	case ifcDerivedProfileDef, ifcMirroredProfileDef:
		p, err := g.profile(rec.Arg(2).Ref())
		if err != nil {
			return p, err
		}
		m := affine{vec{-1, 0, 0}, vec{0, 1, 0}, vec{0, 0, 1}, vec{}}
		if rec.Key == ifcDerivedProfileDef {
			if m, err = g.operator(rec.Arg(3).Ref()); err != nil {
				return p, err
			}
		}
		return p.mapped(m), nil
	}
	return g.parameterised(rec)
}

func (p profile) mapped(m affine) profile {
	var out profile
	move := func(r ring, ccw bool) ring {
		q := make(ring, len(r))
		for i, a := range r {
			b := m.point(vec{a.u, a.v, 0})
			q[i] = pt{b.x, b.y}
		}
		return q.turned(ccw)
	}
	for _, s := range p.shapes {
		t := shape{outer: move(s.outer, true)}
		for _, h := range s.holes {
			t.holes = append(t.holes, move(h, false))
		}
		out.shapes = append(out.shapes, t)
	}
	return out
}

func (g *geo) arbitrary(rec *part21.Record) (profile, error) {
	c, err := g.curve(rec.Arg(2).Ref())
	if err != nil {
		return profile{}, err
	}
	s := shape{outer: flat(c).turned(true)}
	if s.outer == nil {
		return profile{}, bad(rec.ID, "the profile has no area")
	}
	if rec.Key == ifcArbitraryProfileDefWithVoids {
		l := rec.Arg(3).List()
		for i := range l {
			h, err := g.curve(l[i].Ref())
			if err != nil {
				return profile{}, err
			}
			if r := flat(h); r != nil {
				s.holes = append(s.holes, r.turned(false))
			}
		}
	}
	return profile{[]shape{s}}, nil
}

// flat returns a plane curve as a ring; nil without area.
func flat(c curve) ring {
	r := make(ring, len(c.points))
	for i, p := range c.points {
		r[i] = pt{p.x, p.y}
	}
	return r.tidy()
}

// parameterised reads the profiles given by a few lengths. Fillets of rolled
// sections are left out: no wall has them.
func (g *geo) parameterised(rec *part21.Record) (profile, error) {
	m := identity
	var err error
	if id := rec.Arg(2).Ref(); id != 0 {
		if m, err = g.axis3(id); err != nil {
			return profile{}, err
		}
	}
	d := func(i int) float64 { return rec.Arg(i).Float() * g.unit.mm }
	var s shape
	switch rec.Key {
	case ifcRectangleProfileDef, ifcRoundedRectangleProfileDef:
		s.outer = rectangle(d(3), d(4))
	case ifcRectangleHollowProfileDef:
		s.outer = rectangle(d(3), d(4))
		s.holes = []ring{rectangle(d(3)-2*d(5), d(4)-2*d(5)).reversed()}
	case ifcCircleProfileDef:
		s.outer = ellipse(d(3), d(3))
	case ifcCircleHollowProfileDef:
		s.outer = ellipse(d(3), d(3))
		s.holes = []ring{ellipse(d(3)-d(4), d(3)-d(4)).reversed()}
	case ifcEllipseProfileDef:
		s.outer = ellipse(d(3), d(4))
	case ifcTrapeziumProfileDef:
		w, h := d(3)/2, d(5)/2
		s.outer = ring{{-w, -h}, {w, -h}, {-w + d(6) + d(4), h}, {-w + d(6), h}}
	case ifcIShapeProfileDef:
		s.outer = iShape(d(3), d(3), d(4), d(5), d(6), d(6))
	case ifcAsymmetricIShapeProfileDef:
		s.outer = iShape(d(3), d(7), d(4), d(5), d(6), d(8))
	case ifcLShapeProfileDef:
		h, w, t := d(3)/2, d(4)/2, d(5)
		if w == 0 {
			w = h
		}
		s.outer = ring{{-w, -h}, {w, -h}, {w, -h + t}, {-w + t, -h + t}, {-w + t, h}, {-w, h}}
	case ifcTShapeProfileDef:
		h, w, web, fl := d(3)/2, d(4)/2, d(5)/2, d(6)
		s.outer = ring{{-web, -h}, {web, -h}, {web, h - fl}, {w, h - fl}, {w, h}, {-w, h}, {-w, h - fl}, {-web, h - fl}}
	case ifcUShapeProfileDef:
		h, w, web, fl := d(3)/2, d(4)/2, d(5), d(6)
		s.outer = ring{{-w, -h}, {w, -h}, {w, -h + fl}, {-w + web, -h + fl}, {-w + web, h - fl}, {w, h - fl}, {w, h}, {-w, h}}
	default:
		return profile{}, notSupported(rec)
	}
	if a := s.outer.area(); !(math.Abs(a) > sliver && math.Abs(a) < farthest*farthest) {
		return profile{}, bad(rec.ID, "the profile has no area")
	}
	p := profile{[]shape{s}}
	if m == identity {
		return p, nil
	}
	return p.mapped(m), nil
}

func rectangle(w, h float64) ring {
	return ring{{-w / 2, -h / 2}, {w / 2, -h / 2}, {w / 2, h / 2}, {-w / 2, h / 2}}
}

func ellipse(rx, ry float64) ring {
	if !(rx > 0 && ry > 0) {
		return nil
	}
	n := chords(2 * math.Pi)
	r := make(ring, n)
	for i := range r {
		a := 2 * math.Pi * float64(i) / float64(n)
		r[i] = pt{rx * math.Cos(a), ry * math.Sin(a)}
	}
	return r
}

// iShape returns an I of overall height h, flange widths below and above, web
// and flange thicknesses.
func iShape(below, above, h, web, flBelow, flAbove float64) ring {
	b, a, t, y := below/2, above/2, web/2, h/2
	return ring{
		{-b, -y}, {b, -y}, {b, -y + flBelow}, {t, -y + flBelow}, {t, y - flAbove}, {a, y - flAbove},
		{a, y}, {-a, y}, {-a, y - flAbove}, {-t, y - flAbove}, {-t, -y + flBelow}, {-b, -y + flBelow},
	}
}
