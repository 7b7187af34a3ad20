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

// Doors and windows that fill no opening element: the wall's body may have the
// hole, or nothing tells of it but the door itself.

// hostReach is how far in mm the middle of a door may stand off a wall and
// still be in it: swung-open leaves shift it. Common practice, no source.
const hostReach = 100

// readLoose reads the doors and windows that fill no opening, in the order of
// their ids. Those of curtain walls are left to these.
func (m *model) readLoose(g *geo) {
	filled := map[part21.ID]bool{}
	for _, l := range m.rel.fills {
		filled[l.to] = true
	}
	for _, id := range all(m.f, ifcDoor, ifcDoorStandardCase, ifcWindow, ifcWindowStandardCase) {
		if filled[id] {
			continue
		}
		rec, err := g.r.Get(id)
		if err != nil {
			continue // told by the ledger
		}
		p, err := g.product(rec)
		if err != nil {
			reason := "door or window without an opening, faulty shape"
			if errors.Is(err, errNoBody) {
				reason = "door or window without opening or body"
			}
			m.settle(id, reason)
			continue
		}
		f := m.readFiller(g, rec)
		lo, hi := box3(p.solids)
		f.lo, f.hi = lo.add(p.place.o), hi.add(p.place.o)
		shift := identity
		shift.o = p.place.o
		for _, s := range p.solids {
			corners(s, func(q vec) { f.corners = append(f.corners, shift.point(q)) })
		}
		m.loose = append(m.loose, f)
		g.r.Reset()
	}
	slices.SortStableFunc(m.loose, func(a, b *filler) int { return cmp.Compare(a.lo.x+a.hi.x, b.lo.x+b.hi.x) })
}

// looseNear returns the loose doors and windows whose middle may be in a wall,
// by its reach along the world's x.
func (m *model) looseNear(w *found) []*filler {
	back, b := w.frame.inverse(), w.body.mid.bounds()
	x0, x1 := back.point(vec{b.lo.u, 0, 0}).x, back.point(vec{b.hi.u, 0, 0}).x
	lo, hi := min(x0, x1)-w.t/2-hostReach, max(x0, x1)+w.t/2+hostReach
	first, _ := slices.BinarySearchFunc(m.loose, lo, func(f *filler, x float64) int { return cmp.Compare((f.lo.x+f.hi.x)/2, x) })
	last, _ := slices.BinarySearchFunc(m.loose, hi, func(f *filler, x float64) int { return cmp.Compare((f.lo.x+f.hi.x)/2, x) })
	return m.loose[first:last]
}

// hostLoose gives the wall the loose doors and windows that stand in it: to a
// hole that has no filler, or by cutting their own box out where it is solid.
func (m *model) hostLoose(w *found) {
	if len(m.loose) == 0 {
		return
	}
	wall := w.body.mid.bounds()
	for _, f := range m.looseNear(w) {
		mid := w.frame.point(f.lo.at(f.hi, 0.5))
		if math.Abs(mid.y) > w.t/2+hostReach || mid.x < wall.lo.u || mid.x > wall.hi.u || mid.z < wall.lo.v || mid.z > wall.hi.v {
			continue
		}
		b := noBox
		for _, q := range f.corners {
			p := w.frame.point(q)
			b = b.with(pt{p.x, p.z})
		}
		if c := w.holeAt(pt{mid.x, mid.z}); c != nil {
			if c.filler == nil {
				c.filler = f
				m.settle(f.id, "")
			}
			continue
		}
		// Only one that stands in the wall and on its storey cuts it: models hold
		// forgotten pieces at their origin.
		if math.Abs(mid.y) > w.t/2 || m.storeyOf(f.id) != w.storey || w.storey < 0 {
			continue
		}
		if w.cutLoose(f, b) {
			m.settle(f.id, "")
			at := gridXY(f.lo.at(f.hi, 0.5))
			m.tell(f.id, plan.Exception{Severity: plan.Warning, Code: CodeDoorAlone, Source: f.source, At: &at, Span: measure.FromMM(b.hi.u - b.lo.u),
				Message: quote(f.typ) + " stands in wall " + w.id.String() + ", which has no hole for it", Did: "its outer size is taken for the hole"})
		}
	}
}

// holeAt returns the cut whose box holds a point of the face.
func (w *found) holeAt(p pt) *cut {
	for i := range w.cuts {
		b := w.cuts[i].bounds()
		if p.u >= b.lo.u && p.u <= b.hi.u && p.v >= b.lo.v && p.v <= b.hi.v {
			return &w.cuts[i]
		}
	}
	return nil
}

// cutLoose cuts the box of a door or window out of a wall that is solid there;
// false if it does not go through.
func (w *found) cutLoose(f *filler, b box) bool {
	t := w.t
	r := ring{b.lo, {b.hi.u, b.lo.v}, b.hi, {b.lo.u, b.hi.v}}
	c := cut{source: f.source, filler: f, guessed: true}
	c.solids = []solid{&prism{[]shape{{outer: r}}, vec{0, t, 0}, vec{1, 0, 0}, vec{0, 0, 1}, vec{0, -2 * t, 0}}}
	s := sectionsOf(c.solids, t)
	c.at = sections{intersect(s.left, w.body.left), intersect(s.right, w.body.right), intersect(s.mid, w.body.mid)}
	through := len(c.at.left) > 0 && len(c.at.right) > 0
	if through {
		w.cuts = append(w.cuts, c)
	}
	return through
}

// stray is an opening element that does not meet the wall it is said to void.
type stray struct {
	rec    part21.ID
	name   string
	source plan.Source
	wall   part21.ID
	mid    vec // in the world
}

// hostStrays looks for the hole of each opening that does not meet its own wall
// in the bodies of the others: walls that are joined trade their openings when
// they are exported. What finds none is told.
func (m *model) hostStrays(all []*found) {
	var holed []*found
	for _, w := range all {
		if !w.round && slices.ContainsFunc(w.cuts, func(c cut) bool { return c.id == 0 && !c.guessed }) {
			holed = append(holed, w)
		}
	}
	for _, s := range m.strays {
		if _, settled := m.used[s.rec]; settled {
			continue // it meets another leg of its wall, or has been told
		}
		if host := strayHost(holed, s); host != nil {
			host.source = s.source
			m.settle(s.rec, "")
			continue
		}
		m.settle(s.rec, "does not meet its wall")
		at := gridXY(s.mid)
		m.tell(s.rec, plan.Exception{Severity: plan.Warning, Code: CodeOpeningMisses, Source: s.source, At: &at,
			Message: "opening " + quote(s.name) + " does not meet its wall " + s.wall.String(), Did: "it is left out"})
	}
}

func strayHost(holed []*found, s stray) *cut {
	for _, w := range holed {
		p := w.frame.point(s.mid)
		if math.Abs(p.y) > w.q.ThicknessMM/2 {
			continue
		}
		if c := w.holeAt(pt{p.x, p.z}); c != nil && c.id == 0 && !c.guessed {
			return c
		}
	}
	return nil
}
