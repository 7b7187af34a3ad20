package ifc

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
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
	thickness float64
	round     bool

	// Only while the wall is read.
	solids []solid // body in the frame of the wall
	t      float64 // distance of the planes the sides are taken at
	pillar *prism  // plan of the leg, in the frame of the wall
}

// sections of a solid: by the left side, the right side and the middle.
type sections struct{ left, right, mid region }

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
		m.note(plan.Person, "wall-unreadable", id, message(err), "the wall is left out")
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
		m.wallFault(rec, err)
		return nil
	}
	legs, err := m.shapeWall(g, base, rec, p, ids)
	if err != nil {
		m.wallFault(rec, err)
		return nil
	}
	m.settle(id, "")
	return legs
}

func (m *model) wallFault(rec *part21.Record, err error) {
	code, reason := "wall-unreadable", "faulty shape"
	switch {
	case errors.Is(err, errNoBody):
		code, reason = "wall-no-body", "no body"
	case isUnsupported(err):
		code, reason = "wall-unsupported", "shape not supported"
	case errors.Is(err, errNoSides):
		code, reason = "wall-no-sides", "no two sides"
	}
	m.noteOf(plan.Person, code, rec, "wall "+quote(rec.Arg(2).Text())+": "+message(err), "the wall is left out")
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

// blank returns a wall that is about the same element and has nothing yet.
func (w *found) blank() *found { return &found{id: w.id, guid: w.guid, storey: w.storey} }

// shapeWall finds the legs of a wall, and sides, sections, openings and measures
// of each.
func (m *model) shapeWall(g *geo, base *found, rec *part21.Record, p product, ids []part21.ID) ([]*found, error) {
	var groups [][]ring
	if outline := planOutline(p); outline != nil {
		groups = grouped(strip(outline))
	}
	if len(groups) == 0 || len(groups) == 1 && len(groups[0]) == 1 {
		w, err := m.shapeLeg(g, base, rec, p, ids)
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
		m.noteOf(plan.Note, "wall-in-legs", rec, fmt.Sprintf("wall %s turns: it has %d legs", quote(rec.Arg(2).Text()), len(out)), "each leg is a wall of its own")
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
	w.checkPieces(m, rec)
	w.solids = nil
	for i := range w.cuts {
		w.cuts[i].solids = nil
	}
	return w, nil
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
			for _, s := range subtract(inner, outer) {
				step := region{s}
				if b := s.outer.bounds(); b.hi.u-b.lo.u > 1 && b.hi.v-b.lo.v > 1 && !inHole(*g, s.outer) {
					*g = union(*g, step)
					w.steps = true
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

// measure computes the quantities once body and cuts are known.
func (w *found) measure() {
	q, solids, t := &w.q, w.solids, w.t
	b := w.body.mid.bounds()
	q.LengthMM, q.ThicknessMM, q.HeightMM = b.hi.u-b.lo.u, w.thickness, b.hi.v-b.lo.v
	left, right, mid := w.net(func(c cut) region { return c.at.left }, w.body.left), w.net(func(c cut) region { return c.at.right }, w.body.right), w.net(func(c cut) region { return c.at.mid }, w.body.mid)
	q.LeftAreaM2, q.RightAreaM2, q.NetAreaM2 = left*m2, right*m2, mid*m2
	q.LeftGrossM2, q.RightGrossM2, q.GrossAreaM2 = w.gross(w.body.left)*m2, w.gross(w.body.right)*m2, w.gross(w.body.mid)*m2
	levels := slices.Clone(solids)
	for _, c := range w.cuts {
		levels = append(levels, c.solids...)
	}
	reach := t // of the body across: pilasters, and sides that are not parallel, go on behind the planes
	for _, s := range solids {
		corners(s, func(p vec) {
			if 2*math.Abs(p.y) > reach+2*sideTol {
				reach = 2 * math.Abs(p.y)
			}
		})
	}
	ys := append([]float64{-reach / 2, reach / 2}, levelsOf(levels, reach)...)
	atMiddle := slices.ContainsFunc(ys, func(y float64) bool { return math.Abs(y) < sideTol })
	q.VolumeM3 = 1e-9 * volume(func(y, side float64) float64 {
		if !w.steps && !atMiddle && len(solids) == 1 {
			switch {
			case y == t/2 && side > 0:
				return left
			case y == -t/2 && side < 0:
				return right
			case y == 0:
				return mid
			}
		}
		p := plane{y: y, side: side}
		body := section(solids, p)
		var holes []region
		for _, c := range w.cuts {
			if len(c.solids) > 0 {
				holes = append(holes, intersect(section(c.solids, p), body))
			}
		}
		return body.area() - joint(holes)
	}, ys)
}

// maxLevels bounds how many slices a volume is cut into; a body with more
// corners across its thickness than that is no wall.
const maxLevels = 64

// net returns the area of a side less its cuts.
func (w *found) net(side func(cut) region, body region) float64 {
	var holes []region
	for _, c := range w.cuts {
		if len(c.solids) > 0 {
			holes = append(holes, side(c))
		}
	}
	return body.area() - joint(holes)
}

// gross returns the area of a side with the holes filled that only the body
// has.
func (w *found) gross(body region) float64 {
	a := body.area()
	for _, s := range body {
		for _, h := range s.holes {
			a += math.Abs(h.area())
		}
		_, notches := fillNotches(s.outer)
		for _, n := range notches {
			a += math.Abs(n.area())
		}
	}
	return a
}

// joint returns the area covered by regions that may overlap.
func joint(g []region) float64 {
	overlap := false
	var sum float64
	for i := range g {
		sum += g[i].area()
		for j := range i {
			overlap = overlap || !g[i].bounds().apart(g[j].bounds())
		}
	}
	if !overlap {
		return sum
	}
	var all region
	for _, h := range g {
		all = union(all, h)
	}
	return all.area()
}

// fillWall writes what has been found into the plan's wall.
func (m *model) fillWall(g *geo, w *found, rec *part21.Record) {
	back := w.frame.inverse()
	b := w.body.mid.bounds()
	a0, a1 := back.point(vec{b.lo.u, 0, 0}), back.point(vec{b.hi.u, 0, 0})
	w.wall.Axis = [2]geom.Pt{gridXY(a0), gridXY(a1)}
	w.wall.Thickness = measure.FromMM(w.thickness)
	w.wall.Base = measure.FromMM(b.lo.v)
	w.wall.Height = measure.FromMM(b.hi.v) - w.wall.Base
	w.wall.Top = topOf(w.body.mid)
	w.wall.Sides = [2]plan.FaceShape{w.face(w.body.left, 0), w.face(w.body.right, 1)}
	w.wall.Storey = m.storeyName(w.storey)
	w.wall.Sources = []plan.Source{m.source(rec.ID, rec)}
	m.describe(g, w, rec)
}

func gridXY(p vec) geom.Pt { return geom.Pt{X: measure.FromMM(p.x), Y: measure.FromMM(p.y)} }

func gridPoly(r ring) geom.Poly {
	out := make(geom.Poly, 0, len(r))
	for _, p := range r {
		q := geom.Pt{X: measure.FromMM(p.u), Y: measure.FromMM(p.v)}
		if n := len(out); n > 0 && out[n-1] == q {
			continue
		}
		out = append(out, q)
	}
	return out
}

// face returns the shape of one side: the outline without openings, and all
// holes, those of the body and those of openings, clipped to it. side is 0 left,
// 1 right.
func (w *found) face(body region, side int) plan.FaceShape {
	big := largest(body)
	if big == nil {
		return plan.FaceShape{}
	}
	var holes region
	outer, notches := fillNotches(big.outer)
	for _, n := range notches {
		holes = append(holes, shape{outer: n.turned(true)})
	}
	for _, h := range big.holes {
		holes = append(holes, shape{outer: h.turned(true)})
	}
	for _, c := range w.cuts {
		if len(c.solids) == 0 {
			continue
		}
		g := c.at.left
		if side == 1 {
			g = c.at.right
		}
		for _, s := range g {
			s.holes = nil
			if holes.bounds().empty() || holes.bounds().apart(s.outer.bounds()) {
				holes = append(holes, s)
			} else {
				holes = union(holes, region{s})
			}
		}
	}
	f := plan.FaceShape{Outline: gridPoly(startAt(outer))}
	for _, h := range holes {
		f.Holes = append(f.Holes, gridPoly(startAt(h.outer)))
	}
	slices.SortFunc(f.Holes, func(a, b geom.Poly) int { return comparePt(a.Bounds().Min, b.Bounds().Min) })
	return f
}

func largest(g region) *shape {
	var best *shape
	for i := range g {
		if best == nil || math.Abs(g[i].outer.area()) > math.Abs(best.outer.area()) {
			best = &g[i]
		}
	}
	return best
}

// startAt turns a counter-clockwise ring so that it starts at its lowest, then
// leftmost point.
func startAt(r ring) ring {
	if len(r) == 0 {
		return r
	}
	r = r.turned(true)
	k := 0
	for i, p := range r {
		q := r[k]
		if p.v < q.v-pointTol || math.Abs(p.v-q.v) <= pointTol && p.u < q.u {
			k = i
		}
	}
	return append(append(ring{}, r[k:]...), r[:k]...)
}

// sideRatio is how much of the larger side the smaller has at least in a sound
// wall modelled layer by layer. Common practice, no source.
const sideRatio = 0.7

// checkSides doubts a wall whose sides differ much: layers that end at
// different places, of which nobody can say which is boarded.
func (w *found) checkSides() {
	l, r := w.q.LeftGrossM2, w.q.RightGrossM2
	if len(w.solids) > 1 && min(l, r) < sideRatio*max(l, r) && w.wall.Doubt == "" {
		w.wall.Doubt = fmt.Sprintf("its sides differ much: %.2f m² left, %.2f m² right", l, r)
	}
}

// checkPieces says when a side falls into parts that do not touch: only the
// largest has a shape.
func (w *found) checkPieces(m *model, rec *part21.Record) {
	lost := 0.0
	for _, g := range []region{w.body.left, w.body.right} {
		if big := largest(g); big != nil {
			lost = max(lost, g.area()-region{*big}.area())
		}
	}
	if lost*m2 > 0.01 {
		m.noteOf(plan.Person, "side-in-parts", rec, "wall "+quote(rec.Arg(2).Text())+": a side falls into parts that do not touch",
			"the largest part is taken; the rest is left out: "+squareMetres(lost))
		w.wall.Doubt = "a side falls into parts that do not touch; the largest is taken"
	}
}
