package ifc

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
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

// undersides returns the plane pieces of a solid that look down. Booleans give
// the pieces of what is cut, whole: a deck a little too large is harmless, as
// it is asked for heights over walls only.
func undersides(s solid) []underside {
	switch s := s.(type) {
	case *prism:
		return s.undersides()
	case *mesh:
		return s.undersides()
	case *boolean:
		out := undersides(s.a)
		if s.op == '+' {
			out = append(out, undersides(s.b)...)
		}
		return out
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

// leastHeadroom tells which storey a slab covers: the highest whose floor is at
// least this far in mm below it; below its ridge, where it slopes down to the
// floor. Common practice, no source.
const leastHeadroom = 1500

// readDecks reads the undersides of slabs and roofs as decks, those of ceiling
// coverings as ceilings.
func (m *model) readDecks(g *geo, p *plan.Plan) {
	for _, id := range all(m.f, ifcSlab, ifcSlabStandardCase, ifcSlabElementedCase, ifcRoof, ifcCovering) {
		rec, err := g.r.Get(id)
		if err != nil {
			m.note(plan.Warning, "deck-unreadable", id, message(err), "it is left out")
			m.settle(id, "unreadable")
			continue
		}
		m.readDeck(g, p, rec)
		g.r.Reset()
	}
	sortDecks(p.Decks)
	sortDecks(p.Ceilings)
}

func sortDecks(d []plan.Deck) {
	slices.SortStableFunc(d, func(a, b plan.Deck) int {
		return cmp.Or(cmp.Compare(a.Storey, b.Storey), cmp.Compare(a.Sources[0].GUID, b.Sources[0].GUID),
			cmp.Compare(a.Plane[0].Z, b.Plane[0].Z), comparePt(a.Outline.Bounds().Min, b.Outline.Bounds().Min))
	})
}

func (m *model) readDeck(g *geo, p *plan.Plan, rec *part21.Record) {
	ceiling := false
	if rec.Key == ifcCovering {
		kind := rec.Arg(8).Enum()
		if ceiling = kind == "CEILING"; !ceiling {
			m.settle(rec.ID, "covering that is no ceiling")
			return
		}
	}
	pr, err := g.product(rec)
	if errors.Is(err, errNoBody) {
		reason := "no body"
		if len(m.rel.parts.of(rec.ID)) > 0 {
			reason = "counted by its parts"
		}
		m.settle(rec.ID, reason)
		return
	}
	if err != nil {
		m.noteOf(plan.Warning, "deck-unreadable", rec, rec.Name+" "+quote(rec.Arg(2).Text())+": "+message(err), "it is left out: heights to it are not known")
		m.settle(rec.ID, "faulty shape")
		return
	}
	n := 0
	for _, s := range pr.solids {
		shift := identity
		shift.o = pr.place.o
		for _, u := range undersides(s.moved(shift)) {
			n += m.addDeck(p, rec, u, ceiling)
		}
	}
	if n == 0 {
		m.settle(rec.ID, "no underside above a storey")
		return
	}
	m.settle(rec.ID, "")
}

// addDeck adds one underside to the storey it covers; 0 if it covers none.
func (m *model) addDeck(p *plan.Plan, rec *part21.Record, u underside, ceiling bool) int {
	st := m.storeyUnder(u.highest(), leastHeadroom)
	if ceiling {
		st = m.storeyOf(rec.ID)
	}
	if st < 0 && len(m.storeys) > 0 || math.Abs(u.outline.area()) < 1e5 {
		return 0
	}
	z0 := m.storeyZ(st)
	at := func(q pt) plan.Point3 {
		return plan.Point3{X: measure.FromMM(q.u), Y: measure.FromMM(q.v), Z: measure.FromMM(u.z(q) - z0)}
	}
	a, b, c := threePoints(u.outline)
	d := plan.Deck{Storey: m.storeyName(st), Outline: gridPoly(startAt(u.outline)), Plane: [3]plan.Point3{at(a), at(b), at(c)},
		Sources: []plan.Source{m.source(rec.ID, rec)}}
	if ceiling {
		p.Ceilings = append(p.Ceilings, d)
	} else {
		p.Decks = append(p.Decks, d)
	}
	return 1
}

// threePoints returns corners of r that span a wide triangle.
func threePoints(r ring) (a, b, c pt) {
	r = startAt(r)
	a = r[0]
	far := 0.0
	for _, p := range r {
		if d := math.Hypot(p.u-a.u, p.v-a.v); d > far {
			far, b = d, p
		}
	}
	far = 0
	for _, p := range r {
		if d := offLine(a, p, b); d > far {
			far, c = d, p
		}
	}
	return a, b, c
}

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
			m.noteOf(plan.Note, "room-unreadable", rec, "space "+quote(rec.Arg(2).Text())+": "+message(err), "it is left out")
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
			m.noteOf(plan.Note, "column-unreadable", rec, "column "+quote(rec.Arg(2).Text())+": "+message(err), "it is left out")
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
