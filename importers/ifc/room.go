package ifc

import (
	"cmp"
	"errors"
	"slices"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// readRooms reads spaces as rooms: outline of the floor, name, number, height.
func (m *model) readRooms(g *geo, p *plan.Plan) {
	for _, id := range m.f.Of(ifcSpace) {
		rec, err := g.r.Get(id)
		if err != nil {
			m.settle(id, "unreadable")
			continue
		}
		m.readRoom(g, p, rec)
		g.r.Reset()
	}
	slices.SortStableFunc(p.Rooms, func(a, b plan.Room) int {
		return cmp.Or(cmp.Compare(a.Storey, b.Storey), cmp.Compare(a.Number, b.Number), cmp.Compare(a.Name, b.Name), cmp.Compare(a.Sources[0].GUID, b.Sources[0].GUID))
	})
}

func (m *model) readRoom(g *geo, p *plan.Plan, rec *part21.Record) {
	pr, err := g.product(rec)
	if err != nil {
		reason := "faulty shape"
		if errors.Is(err, errNoBody) {
			reason = "no body"
		} else {
			m.noteOf(plan.Note, CodeRoomUnread, rec, "space "+quote(rec.Arg(2).Text())+": "+message(err), "it is left out")
		}
		m.settle(rec.ID, reason)
		return
	}
	floor, z0, z1 := footprint(pr)
	if floor == nil {
		m.settle(rec.ID, "no level floor")
		return
	}
	st := m.storeyOf(rec.ID)
	r := plan.Room{Storey: m.storeyName(st), Name: rec.Arg(7).Text(), Number: rec.Arg(2).Text(), Outline: gridPoly(startAt(floor)),
		Ceiling: measure.FromMM(z1 - z0), Sources: []plan.Source{m.source(rec.ID, rec)}}
	if r.Name == "" {
		r.Name, r.Number = r.Number, ""
	}
	at := inside(floor)
	r.At = geom.Pt{X: measure.FromMM(at.u), Y: measure.FromMM(at.v)}
	p.Rooms = append(p.Rooms, r)
	m.settle(rec.ID, "")
}

// footprint returns the outline of the lowest downward pieces of a body in the
// world, and its lowest and highest z.
func footprint(pr product) (outline ring, z0, z1 float64) {
	lo, hi := box3(pr.solids)
	var g region
	for _, s := range pr.solids {
		for _, u := range undersides(s) {
			if u.lowest() < lo.z+50 {
				g = union(g, region{{outer: u.outline.turned(true)}})
			}
		}
	}
	big := largest(g)
	if big == nil || g.isPoisoned() {
		return nil, 0, 0
	}
	for _, p := range big.outer {
		outline = append(outline, pt{p.u + pr.place.o.x, p.v + pr.place.o.y})
	}
	return outline, lo.z + pr.place.o.z, hi.z + pr.place.o.z
}

// inside returns a point within r: the middle of the longest stretch at half
// its height.
func inside(r ring) pt {
	b := r.bounds()
	v := (b.lo.v+b.hi.v)/2 + 0.123 // off the corners
	var us []float64
	a := r[len(r)-1]
	for _, q := range r {
		if (a.v > v) != (q.v > v) {
			us = append(us, a.u+(v-a.v)/(q.v-a.v)*(q.u-a.u))
		}
		a = q
	}
	slices.Sort(us)
	best, at := -1.0, b.lo
	for i := 0; i+1 < len(us); i += 2 {
		if d := us[i+1] - us[i]; d > best {
			best, at = d, pt{(us[i] + us[i+1]) / 2, v}
		}
	}
	return at
}

// readObstacles reads columns.
func (m *model) readObstacles(g *geo, p *plan.Plan) {
	for _, id := range all(m.f, ifcColumn, ifcColumnStandardCase) {
		rec, err := g.r.Get(id)
		if err != nil {
			m.settle(id, "unreadable")
			continue
		}
		pr, err := g.product(rec)
		if err != nil {
			m.noteOf(plan.Note, CodeColumnUnread, rec, "column "+quote(rec.Arg(2).Text())+": "+message(err), "it is left out")
			m.settle(id, "no shape that can be used")
			continue
		}
		floor, _, _ := footprint(pr)
		if floor == nil {
			m.settle(id, "no level foot")
			continue
		}
		p.Obstacles = append(p.Obstacles, plan.Obstacle{Storey: m.storeyName(m.storeyOf(id)), Kind: "column",
			Outline: gridPoly(startAt(floor)), Sources: []plan.Source{m.source(id, rec)}})
		m.settle(id, "")
		g.r.Reset()
	}
	slices.SortStableFunc(p.Obstacles, func(a, b plan.Obstacle) int {
		return cmp.Or(cmp.Compare(a.Storey, b.Storey), cmp.Compare(a.Sources[0].GUID, b.Sources[0].GUID))
	})
}
