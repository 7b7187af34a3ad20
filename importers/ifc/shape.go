package ifc

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/plan"
)

// sections of a solid: by the left side, the right side and the middle.
type sections struct{ left, right, mid region }

// blank returns a wall that is about the same element and has nothing yet.
func (w *found) blank() *found { return &found{id: w.id, guid: w.guid, storey: w.storey} }

// shapeWall finds the legs of a wall, and sides, sections, openings and measures
// of each.
func (m *model) shapeWall(g *geo, base *found, rec *part21.Record, p product, ids []part21.ID) ([]*found, error) {
	var groups [][]ring
	for _, outline := range planOutlines(p) {
		groups = append(groups, grouped(strip(outline))...)
	}
	if len(groups) == 0 || len(groups) == 1 && len(groups[0]) == 1 {
		w, err := m.shapeLeg(g, base, rec, p, ids)
		var apart *inPieces
		if errors.As(err, &apart) {
			return m.shapePieces(g, base, rec, p, ids, apart)
		}
		return []*found{w}, err
	}
	var out []*found
	for _, legs := range groups {
		var w *found
		var err error
		if len(legs) == 1 {
			w, err = m.shapeLeg(g, base, rec, legProduct(p, legs[0]), ids)
		} else {
			w, err = m.shapeRound(g, base, rec, p, ids, legs)
		}
		if err != nil {
			return nil, err
		}
		out = append(out, w)
	}
	if len(out) > 1 {
		m.noteAt(g, plan.Note, CodeWallLegs, rec, fmt.Sprintf("wall %s turns: it has %d legs", quote(rec.Arg(2).Text()), len(out)), "each leg is a wall of its own")
	}
	return out, nil
}

// shapeLeg reads a straight wall to the end.
func (m *model) shapeLeg(g *geo, base *found, rec *part21.Record, p product, ids []part21.ID) (*found, error) {
	w := base.blank()
	if err := m.straight(g, w, rec, p, ids); err != nil {
		return nil, err
	}
	w.bodyHoles()
	m.hostLoose(w)
	w.sortCuts()
	w.measure()
	if q := w.q; math.IsNaN(q.LeftAreaM2 + q.RightAreaM2 + q.NetAreaM2 + q.VolumeM3) {
		return nil, errNoSections
	}
	m.fillWall(g, w, rec)
	w.checkSides()
	w.checkParts()
	w.forget()
	return w, nil
}

// forget lets go of the solids once the wall is measured: a model has many.
func (w *found) forget() {
	w.solids, w.pillar = nil, nil
	for i := range w.cuts {
		w.cuts[i].solids = nil
	}
}

// straight finds the frame of a straight wall, its sections, and what its
// openings take from them.
func (m *model) straight(g *geo, w *found, rec *part21.Record, p product, ids []part21.ID) error {
	st, err := stand(p)
	if err != nil {
		return err
	}
	w.t, w.thickness = st.hi-st.lo, st.thickness
	w.wall.Doubt = st.doubt
	own := affine{
		x: vec{st.along.x, st.left.x, 0}, y: vec{st.along.y, st.left.y, 0}, z: vec{0, 0, 1},
		o: vec{0, -(st.hi + st.lo) / 2, p.place.o.z - m.storeyZ(w.storey)},
	}
	w.solids = make([]solid, len(p.solids))
	for i, s := range p.solids {
		w.solids[i] = s.moved(own)
	}
	w.body = sectionsOf(w.solids, w.t)
	u0 := w.body.mid.bounds().lo.u
	if math.IsInf(u0, 0) || math.IsNaN(u0) {
		return errNoSections
	}
	if u0 != 0 {
		shift := identity
		shift.o.x = -u0
		own = own.then(shift)
		for i, s := range w.solids {
			w.solids[i] = s.moved(shift)
		}
		w.body = sectionsOf(w.solids, w.t)
	}
	w.stepped()
	world := identity
	world.o = p.place.o.mul(-1)
	w.frame = world.then(own)
	if ends := w.pieces(); len(ends) > 1 && p.pillar == nil {
		return &inPieces{ends: ends, own: own, along: st.along, half: w.t/2 + 1}
	}
	if p.pillar != nil {
		w.pillar = p.pillar.moved(own).(*prism)
	}
	m.readOpenings(g, w, ids)
	return nil
}

// section joins the sections of several solids.
func section(solids []solid, p plane) region {
	p.near = box{pt{-farAway, -farAway}, pt{farAway, farAway}}
	var g region
	for _, s := range solids {
		g = union(g, s.section(p))
	}
	return g
}

// sectionsOf returns the sections by both sides and the middle. Where the
// middle is hollow, as in a cavity wall modelled layer by layer, the larger side
// stands for it.
func sectionsOf(solids []solid, t float64) sections {
	s := sections{
		left:  section(solids, plane{y: t / 2, side: 1}),
		right: section(solids, plane{y: -t / 2, side: -1}),
		mid:   section(solids, plane{y: 0, side: 1}),
	}
	big := s.left
	if s.right.area() > big.area() {
		big = s.right
	}
	if len(solids) > 1 && s.mid.area() < big.area()/2 {
		s.mid = big
	}
	return s
}

var errNoSections = errors.New("its sections cannot be found")

// levelsOf returns the distinct y within the thickness at which the body has
// corners, sides left out, ascending.
func levelsOf(solids []solid, t float64) []float64 {
	var ys []float64
	for _, s := range solids {
		s.levels(func(y float64) {
			if y > -t/2+sideTol && y < t/2-sideTol && len(ys) <= maxLevels &&
				!slices.ContainsFunc(ys, func(z float64) bool { return math.Abs(y-z) < sideTol }) {
				ys = append(ys, y)
			}
		})
	}
	slices.Sort(ys)
	return ys
}

// stepped adds to each side what faces that way behind its plane: where the
// body steps back. The back of a niche, seen through a hole of the side, is not
// added: there the side has a hole.
func (w *found) stepped() {
	solids := w.solids
	for _, y := range levelsOf(solids, w.t) {
		for _, side := range []float64{1, -1} {
			if y*side < -sideTol {
				continue
			}
			g := &w.body.left
			if side < 0 {
				g = &w.body.right
			}
			inner, outer := section(solids, plane{y: y, side: side}), section(solids, plane{y: y, side: -side})
			if math.Abs(inner.area()-outer.area()) < 100 {
				continue
			}
			back := subtract(inner, outer)
			if back.isPoisoned() {
				w.wall.Doubt, back = "a side steps back in a way that could not be followed", nil
			}
			for _, s := range back {
				step := region{s}
				if b := s.outer.bounds(); b.hi.u-b.lo.u > 1 && b.hi.v-b.lo.v > 1 && !inHole(*g, s.outer) {
					w.steps = true
					if u := union(*g, step); u.isPoisoned() {
						w.wall.Doubt = "a side steps back in a way that could not be followed"
					} else {
						*g = u
					}
				}
			}
		}
	}
}

// inHole reports whether r lies in a hole of g.
func inHole(g region, r ring) bool {
	for _, s := range g {
		for _, h := range s.holes {
			if h.contains(r) {
				return true
			}
		}
	}
	return false
}
