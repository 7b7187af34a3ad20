package layout

import (
	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

// Where the building leaves a strip beside an opening too narrow for a stem,
// the hook cannot be hung: the strip becomes a leg of its own, cut off level
// with the opening's head (and sill), and the piece over it is its header. Only in walls
// without a rating.
// Source: common practice, none published; the corner joint departs from a
// school specification that allows none there.

// legs returns the strips of p that are hung as legs, in stations.
func (w *wall) legs(p *ply) []geom.Rect {
	if w.rated() {
		return nil
	}
	var out []geom.Rect
	at := p.s0
	var last *hole
	add := func(to Length, next *hole) {
		// Beside both openings, no higher and no lower than either.
		r := geom.Rect{Min: geom.Pt{X: at, Y: p.bottom}, Max: geom.Pt{X: to, Y: maxLength}}
		for _, h := range []*hole{last, next} {
			if h != nil {
				r.Min.Y, r.Max.Y = max(r.Min.Y, h.y0), min(r.Max.Y, h.y1)
			}
		}
		if !r.Empty() && r.W() < w.env.Rules.StemHard && r.Max.Y < p.top.Min(at, to) {
			out = append(out, r)
		}
	}
	for i := range p.holes {
		h := &p.holes[i]
		if !h.banded || p.open(h) || h.x1 <= p.s0 || h.x0 >= p.s1 {
			continue
		}
		add(h.x0, h)
		if h.x1 > at {
			at, last = h.x1, h
		}
	}
	if last != nil {
		add(p.s1, nil)
	}
	return out
}

// hangLegs returns the legs of p inside the column [a, b], cut at the column's
// horizontal joints.
func (w *wall) hangLegs(p *ply, a, b Length, bits []bit, column int) []hung {
	var out []hung
	region := p.region()
	for _, leg := range p.legs {
		if leg.Min.X < a || leg.Max.X > b {
			continue
		}
		for _, c := range bits {
			box := leg
			box.Min.Y = max(box.Min.Y, c.bottom)
			if c.top != 0 {
				box.Max.Y = min(box.Max.Y, c.top)
			}
			if box.Empty() {
				continue
			}
			for _, s := range region.Clip(box).Shapes() {
				h := hung{ply: p, column: column, row: c.row}
				pc, r := &h.Piece, s.Outline.Bounds()
				pc.Face, pc.Ply, pc.Board, pc.Role = p.face, p.spec.Number, c.board.Name, Leg
				pc.Outline, pc.Cutouts, pc.Area = s.Outline, s.Holes, shapeArea(s)
				pc.MassKg = pc.Area.M2() * c.board.MassM2
				pc.Heights = heights(p, bit{bottom: r.Min.Y, top: r.Max.Y}, r)
				out = append(out, h)
			}
		}
	}
	return out
}

// headers lists the legs of a face's base ply.
func (t *teller) headers() {
	for _, p := range t.plies {
		if p.spec.Number != 1 {
			continue
		}
		for _, leg := range p.legs {
			t.add(plan.Warning, codeHeader, p.face.ID, "hung as a leg under its header, a joint at the opening's head; move the opening to do without",
				"the strip at %s is %s wide, too narrow for a stem (at least %s)", t.from(p, leg.Min.X), t.say(leg.W()), t.say(t.env.Rules.StemHard))
		}
	}
}

// stems lists the strips beside openings that the building makes narrow.
func (t *teller) stems() {
	r := t.env.Rules
	for _, p := range t.plies {
		if p.spec.Number != 1 {
			continue
		}
		at := p.s0
		var last *hole
		check := func(to Length, h *hole) {
			if w := to - at; w > 0 && w < r.StemWarn && h != nil {
				switch {
				case w >= r.StemHard:
					t.add(plan.Warning, codeStem, p.face.ID, "allowed", "the stem beside %s is %s wide, less than %s", t.opening(h), t.say(w), t.say(r.StemWarn))
				case t.rated():
					t.add(plan.Person, codeStem, p.face.ID, "hung as one piece: a rated wall has no legs; move the opening",
						"no legal layout: the stem beside %s is %s wide, the rule is at least %s", t.opening(h), t.say(w), t.say(r.StemHard))
				}
			}
		}
		for i := range p.holes {
			h := &p.holes[i]
			if !h.banded || h.x1 <= p.s0 || h.x0 >= p.s1 {
				continue
			}
			check(h.x0, h)
			if h.x1 > at {
				at, last = h.x1, h
			}
		}
		check(p.s1, last)
	}
}
