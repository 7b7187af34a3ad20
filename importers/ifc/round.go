package ifc

import (
	"errors"
	"math"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// shapeRound puts the legs of one arc together into one wall. Each leg is read
// as a straight wall; its sections are laid behind each other along the axis,
// stretched from the chord to the arc. u counts along the middle of the wall on
// both sides; areas are those of the sides' own arcs.
func (m *model) shapeRound(g *geo, base *found, rec *part21.Record, p product, ids []part21.ID, legs []ring) (*found, error) {
	rungs, err := rungsOf(legs)
	if err != nil {
		return nil, err
	}
	c, radius, sweep, err := arcOf(rungs)
	if err != nil {
		return nil, err
	}
	w := base.blank()
	w.round = true
	step := radius * math.Abs(sweep) / float64(len(legs))
	byOpening := map[part21.ID]int{}
	for k, leg := range legs {
		part := base.blank()
		lp := legProduct(p, leg)
		lp.toward = vec{rungs[k+1].u - rungs[k].u, rungs[k+1].v - rungs[k].v, 0}
		if err := m.straight(g, part, rec, lp, ids); err != nil {
			return nil, err
		}
		w.t, w.thickness = part.t, part.thickness
		half := math.Copysign(part.t/2, sweep)
		lay := layer{at: float64(k) * step, step: step, left: (radius - half) / radius, right: (radius + half) / radius}
		w.append(part, lay, byOpening)
	}
	w.bodyHoles()
	w.sortCuts()
	w.q.LengthMM, w.q.ThicknessMM = radius*math.Abs(sweep), w.thickness
	b := w.body.mid.bounds()
	if b.empty() {
		return nil, errNoSections
	}
	w.q.HeightMM = b.hi.v - b.lo.v
	m.fillWall(g, w, rec)
	o := p.place.o
	first, last := rungs[0], rungs[len(rungs)-1]
	w.wall.Axis = [2]geom.Pt{gridXY(vec{first.u + o.x, first.v + o.y, 0}), gridXY(vec{last.u + o.x, last.v + o.y, 0})}
	w.wall.Arc = &plan.Arc{Centre: gridXY(vec{c.u + o.x, c.v + o.y, 0}), Radius: measure.FromMM(radius),
		Start: math.Atan2(first.v-c.v, first.u-c.u) * 180 / math.Pi, Sweep: sweep * 180 / math.Pi}
	w.forget()
	return w, nil
}

// layer says where the sections of one leg go: its start and length along the
// axis, and how long the arcs of its sides are against that.
type layer struct {
	at, step, left, right float64
}

// append adds the sections, openings and measures of one leg.
func (w *found) append(leg *found, l layer, byOpening map[part21.ID]int) {
	mapL, mapR, mapM := leg.stretch(leg.t/2, l), leg.stretch(-leg.t/2, l), leg.stretch(0, l)
	w.body.left = union(w.body.left, mapL.region(leg.body.left))
	w.body.right = union(w.body.right, mapR.region(leg.body.right))
	w.body.mid = union(w.body.mid, mapM.region(leg.body.mid))
	for _, c := range leg.cuts {
		at := sections{mapL.region(c.at.left), mapR.region(c.at.right), mapM.region(c.at.mid)}
		if i, ok := byOpening[c.id]; ok {
			o := &w.cuts[i]
			o.at = sections{union(o.at.left, at.left), union(o.at.right, at.right), union(o.at.mid, at.mid)}
			continue
		}
		byOpening[c.id] = len(w.cuts)
		c.at = at
		w.cuts = append(w.cuts, c)
	}
	leg.measure()
	q, d := &w.q, leg.q
	q.GrossAreaM2 += d.GrossAreaM2 * mapM.scale
	q.NetAreaM2 += d.NetAreaM2 * mapM.scale
	q.LeftAreaM2 += d.LeftAreaM2 * mapL.scale * l.left
	q.LeftGrossM2 += d.LeftGrossM2 * mapL.scale * l.left
	q.RightAreaM2 += d.RightAreaM2 * mapR.scale * l.right
	q.RightGrossM2 += d.RightGrossM2 * mapR.scale * l.right
	q.VolumeM3 += d.VolumeM3 * mapM.scale
}

// stretching maps u of a leg to u along the arc.
type stretching struct{ from, at, scale float64 }

// stretch returns how the section of a leg at y is laid along the arc: the ends
// of the leg's own outline go to the ends of its step.
func (w *found) stretch(y float64, l layer) stretching {
	side := 1.0
	if y < 0 {
		side = -1
	}
	b := w.pillar.section(plane{y: y, side: side}).bounds()
	if b.empty() || b.hi.u-b.lo.u < pointTol {
		return stretching{0, l.at, 1}
	}
	return stretching{b.lo.u, l.at, l.step / (b.hi.u - b.lo.u)}
}

func (s stretching) region(g region) region {
	move := func(r ring) ring {
		out := make(ring, len(r))
		for i, p := range r {
			out[i] = pt{s.at + (p.u-s.from)*s.scale, p.v}
		}
		return out
	}
	var out region
	for _, a := range g {
		b := shape{outer: move(a.outer)}
		for _, h := range a.holes {
			b.holes = append(b.holes, move(h))
		}
		out = append(out, b)
	}
	return out
}

var errNotRound = errors.New("turns, but neither in corners nor in arcs that can be followed")

// rungsOf returns the middles of the ends of consecutive legs: the points of
// the axis.
func rungsOf(legs []ring) ([]pt, error) {
	common := func(a, b ring) (pt, bool) {
		var ps []pt
		for _, p := range a {
			for _, q := range b {
				if near(p, q) {
					ps = append(ps, p)
				}
			}
		}
		if len(ps) != 2 {
			return pt{}, false
		}
		return pt{(ps[0].u + ps[1].u) / 2, (ps[0].v + ps[1].v) / 2}, true
	}
	middle := func(r ring) pt {
		var c pt
		for _, p := range r {
			c.u, c.v = c.u+p.u/float64(len(r)), c.v+p.v/float64(len(r))
		}
		return c
	}
	var inner []pt
	for i := 0; i+1 < len(legs); i++ {
		p, ok := common(legs[i], legs[i+1])
		if !ok {
			return nil, errNotRound
		}
		inner = append(inner, p)
	}
	first, last := middle(legs[0]), middle(legs[len(legs)-1])
	a, b := inner[0], inner[len(inner)-1]
	out := []pt{{2*first.u - a.u, 2*first.v - a.v}}
	out = append(out, inner...)
	return append(out, pt{2*last.u - b.u, 2*last.v - b.v}), nil
}

// arcOf returns centre, radius and signed sweep of the arc through points of an
// axis.
func arcOf(ps []pt) (c pt, radius, sweep float64, err error) {
	a, b, d := ps[0], ps[len(ps)/2], ps[len(ps)-1]
	ux, uy, vx, vy := b.u-a.u, b.v-a.v, d.u-a.u, d.v-a.v
	den := 2 * (ux*vy - uy*vx)
	if math.Abs(den) < 1 {
		return c, 0, 0, errNotRound
	}
	u2, v2 := ux*ux+uy*uy, vx*vx+vy*vy
	c = pt{a.u + (vy*u2-uy*v2)/den, a.v + (ux*v2-vx*u2)/den}
	radius = math.Hypot(a.u-c.u, a.v-c.v)
	for i := 0; i+1 < len(ps); i++ {
		p, q := pt{ps[i].u - c.u, ps[i].v - c.v}, pt{ps[i+1].u - c.u, ps[i+1].v - c.v}
		if math.Abs(math.Hypot(q.u, q.v)-radius) > 0.01*radius+1 {
			return c, 0, 0, errNotRound
		}
		sweep += math.Atan2(crossUV(p, q), dotUV(p, q))
	}
	return c, radius, sweep, nil
}
