package ifc

import (
	"fmt"
	"math"
	"slices"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

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

// gridPoly puts a ring on the grid, dropping points that fall together; nil if
// nothing with an area is left.
func gridPoly(r ring) geom.Poly {
	out := make(geom.Poly, 0, len(r))
	for _, p := range r {
		q := geom.Pt{X: measure.FromMM(p.u), Y: measure.FromMM(p.v)}
		if n := len(out); n > 0 && out[n-1] == q {
			continue
		}
		out = append(out, q)
	}
	for len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	if len(out) < 3 {
		return nil
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
		if p := gridPoly(startAt(h.outer)); p != nil {
			f.Holes = append(f.Holes, p)
		}
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

// checkParts says when a side falls into parts that do not touch: only the
// largest has a shape.
func (w *found) checkParts() {
	lost := 0.0
	for _, g := range []region{w.body.left, w.body.right} {
		if big := largest(g); big != nil {
			lost = max(lost, g.area()-region{*big}.area())
		}
	}
	if lost*m2 > 0.01 {
		w.wall.Doubt = "a side falls into parts that do not touch; the largest is taken, the rest is left out: " + squareMetres(lost)
		w.grave = true
	}
}
