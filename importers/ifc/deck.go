package ifc

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

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
			m.note(plan.Warning, CodeDeckUnread, id, message(err), "it is left out")
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
		m.noteOf(plan.Warning, CodeDeckUnread, rec, rec.Name+" "+quote(rec.Arg(2).Text())+": "+message(err), "it is left out: heights to it are not known")
		m.settle(rec.ID, "faulty shape")
		return
	}
	n := 0
	for _, u := range broad(pr) {
		n += m.addDeck(p, rec, u, ceiling)
	}
	if n == 0 {
		m.settle(rec.ID, "no underside above a storey")
		return
	}
	m.settle(rec.ID, "")
}

// edgeWidth is the width in plan in mm up to which a small piece of an underside
// is the edge of a sloped slab. Common practice, no source.
const edgeWidth = 400

// broad returns the undersides of an element in the world, without the edges of
// sloped slabs, which look down too.
func broad(pr product) []underside {
	var all []underside
	most := 0.0
	for _, s := range pr.solids {
		shift := identity
		shift.o = pr.place.o
		for _, u := range undersides(s.moved(shift)) {
			all = append(all, u)
			most = max(most, math.Abs(u.outline.area()))
		}
	}
	return slices.DeleteFunc(all, func(u underside) bool {
		a, around := math.Abs(u.outline.area()), 0.0
		for i := range u.outline {
			_, l := edge(u.outline, i)
			around += l
		}
		return a < most/5 && 2*a/around < edgeWidth
	})
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
