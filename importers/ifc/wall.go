package ifc

import (
	"errors"
	"slices"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/plan"
)

// found is one wall as read.
type found struct {
	id        part21.ID
	guid      string
	storey    int
	wall      plan.Wall
	q         Quantities
	frame     affine // world → frame of the wall
	body      sections
	cuts      []cut // openings, and holes that only the body has
	steps     bool  // a side is not one plane
	grave     bool  // its doubt needs a person
	thickness float64
	round     bool

	// Only while the wall is read.
	solids []solid // body in the frame of the wall
	t      float64 // distance of the planes the sides are taken at
	pillar *prism  // plan of the leg, in the frame of the wall
}

// readWalls reads every wall, in parallel. One element gives several walls where
// it turns corners.
func (m *model) readWalls() []*found {
	ids := walls(m.f)
	legs := make([][]*found, len(ids))
	m.each(len(ids), func(g *geo, i int) {
		legs[i] = m.readWall(g, ids[i])
	})
	return slices.Concat(legs...)
}

// readWall reads one wall; what is wrong with it is noted, and whatever is
// wrong, the others are read.
func (m *model) readWall(g *geo, id part21.ID) []*found {
	rec, err := g.r.Get(id)
	if err != nil {
		m.note(plan.Person, CodeWallUnread, id, message(err), "the wall is left out")
		m.settle(id, "unreadable")
		return nil
	}
	base := &found{id: id, guid: rec.Arg(0).Text(), storey: m.storeyOf(id)}
	if m.inWhole(g, id) {
		m.settle(id, "part of a wall that is counted as a whole")
		return nil
	}
	p, err := g.product(rec)
	ids := []part21.ID{id}
	if errors.Is(err, errNoBody) {
		if m.hasWallParts(g, id) {
			m.settle(id, "counted by the walls it is made of")
			return nil
		}
		p, ids, err = m.fromParts(g, rec, p)
	}
	if err != nil {
		m.wallFault(g, rec, err)
		return nil
	}
	legs, err := m.shapeWall(g, base, rec, p, ids)
	if err != nil {
		m.wallFault(g, rec, err)
		return nil
	}
	m.settle(id, "")
	return legs
}

func (m *model) wallFault(g *geo, rec *part21.Record, err error) {
	code, reason := CodeWallUnread, "faulty shape"
	switch {
	case errors.Is(err, errNoBody):
		code, reason = CodeWallNoBody, "no body"
	case isUnsupported(err):
		code, reason = CodeWallUnsupported, "shape not supported"
	case errors.Is(err, errNoSides):
		code, reason = CodeWallNoSides, "no two sides"
	}
	m.noteAt(g, plan.Person, code, rec, "wall "+quote(rec.Arg(2).Text())+": "+message(err), "the wall is left out")
	m.settle(rec.ID, reason)
}

func quote(s string) string {
	if r := []rune(s); len(r) > 60 {
		s = string(r[:60]) + "…"
	}
	return "\"" + s + "\""
}

// inWhole reports whether id is part of a wall that has a body of its own, and
// so is counted with it.
func (m *model) inWhole(g *geo, id part21.ID) bool {
	for _, l := range m.rel.wholes.of(id) {
		rec, err := g.r.Get(l.to)
		if err == nil && slices.Contains(wallKeys, rec.Key) && g.hasBody(rec) {
			return true
		}
	}
	return false
}

// hasWallParts reports whether parts of id are walls themselves.
func (m *model) hasWallParts(g *geo, id part21.ID) bool {
	for _, l := range m.rel.parts.of(id) {
		if rec, err := g.r.Get(l.to); err == nil && slices.Contains(wallKeys, rec.Key) {
			return true
		}
	}
	return false
}

// fromParts gathers the bodies of the parts of a wall that has none itself.
// Parts that have no body are passed over; the wall's own frame stays.
func (m *model) fromParts(g *geo, rec *part21.Record, whole product) (product, []part21.ID, error) {
	ids := []part21.ID{rec.ID}
	for _, l := range m.rel.parts.of(rec.ID) {
		part, err := g.r.Get(l.to)
		if err != nil {
			return whole, ids, err
		}
		p, err := g.product(part)
		if errors.Is(err, errNoBody) {
			continue
		}
		if err != nil {
			return whole, ids, err
		}
		shift := identity
		shift.o = p.place.o.sub(whole.place.o)
		for _, s := range p.solids {
			whole.solids = append(whole.solids, s.moved(shift))
		}
		ids = append(ids, l.to)
		m.settle(l.to, "part of a wall that is counted as a whole")
	}
	if len(whole.solids) == 0 {
		return whole, ids, errNoBody
	}
	return whole, ids, nil
}
