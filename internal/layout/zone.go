package layout

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// Zones put another board on part of a ply: over a height band, along part of
// its length, or both. Along the wall the board changes on a stud: the ply is
// cut there into plies of one depth, one after the other, and what stands
// between them is a joint like any other. Over the height it changes on a
// horizontal joint.

// zoneBand is a height band of a ply with a board of its own.
type zoneBand struct {
	from, to Length
	board    *job.Board
}

// zonePlies cuts a ply where the board changes along the wall.
func (w *wall) zonePlies(f *run.Face, spec run.Ply) []run.Ply {
	cuts := []Length{spec.U0, spec.U1}
	for _, z := range spec.Zones {
		for _, e := range [2]struct{ at, away Length }{{z.Rect.Min.X, -1}, {z.Rect.Max.X, 1}} {
			if e.at > spec.U0 && e.at < spec.U1 {
				if x, ok := w.zoneEnd(f, spec, e.at, e.away); ok {
					cuts = append(cuts, x)
				}
			}
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out []run.Ply
	for i := 1; i < len(cuts); i++ {
		p := spec
		p.U0, p.U1, p.Zones = cuts[i-1], cuts[i], nil
		for _, z := range spec.Zones { // those over the middle: ends moved by less than a sheet
			if mid := (p.U0 + p.U1) / 2; z.Rect.Min.X <= mid && mid < z.Rect.Max.X {
				z.Rect.Min.X, z.Rect.Max.X = p.U0, p.U1
				p.Zones = append(p.Zones, z)
			}
		}
		if n := len(out); n > 0 && sameZones(out[n-1].Zones, p.Zones) {
			out[n-1].U1 = p.U1
			for k := range out[n-1].Zones {
				out[n-1].Zones[k].Rect.Max.X = p.U1
			}
			continue
		}
		out = append(out, p)
	}
	return out
}

func sameZones(a, b []run.Zone) bool {
	return slices.EqualFunc(a, b, func(x, y run.Zone) bool {
		return x.Board == y.Board && x.Rect.Min.Y == y.Rect.Min.Y && x.Rect.Max.Y == y.Rect.Max.Y
	})
}

// zoneEnd returns where the board really changes: at the zone's end if a joint
// may stand there and the wall's framing allows a stud, else the zone grows to
// the next such place, by less than a sheet. It is listed where it moves.
func (w *wall) zoneEnd(f *run.Face, spec run.Ply, at, away Length) (Length, bool) {
	r := w.env.Rules
	step, first := max(r.System.CutStep(), r.Step), Length(0)
	if w.Framing == framed && w.Spacing > 0 { // from stud to stud
		step, first = w.Spacing, mod(away*sign(f)*(w.FirstStud-f.Station(at)), w.Spacing)
	}
	for d := first; d <= zoneReach; d += step {
		x := at + away*d
		if x-spec.U0 < r.RipHard || spec.U1-x < r.RipHard {
			break // the zone runs on to the end
		}
		if !w.zoneMayEnd(f, x) {
			continue
		}
		if d > 0 {
			w.list(plan.Warning, codeZone, f.ID, "a zone ends at %s, where no joint may stand: an opening's side is nearer than %s, or the studs are as framed",
				"the zone goes on to %s, where the board changes on a stud", w.say(at), w.say(r.JambBandHard), w.say(x))
		}
		return x, true
	}
	w.list(plan.Warning, codeZone, f.ID, "a zone ends at %s, and no joint may stand between there and the end of the side",
		"the zone goes on to the end of the side", w.say(at))
	return 0, false
}

// zoneMayEnd reports whether the board of a face may change at u: off the bands
// of openings.
func (w *wall) zoneMayEnd(f *run.Face, u Length) bool {
	r := w.env.Rules
	for i := range f.Holes {
		h := &f.Holes[i]
		if !w.hole(f, h).banded {
			if u > h.Rect.Min.X && u < h.Rect.Max.X && !h.First {
				return false
			}
			continue
		}
		if (u-h.Rect.Min.X).Abs() < r.JambBandHard || (u-h.Rect.Max.X).Abs() < r.JambBandHard {
			return false
		}
	}
	return true
}

// zoneReach is how far a zone grows at most before it goes on to the end of its
// side. Source: common practice, none published: the width of a sheet.
const zoneReach = 48 * measure.Inch

// sign is +1 where u runs with the stations, −1 where against them.
func sign(f *run.Face) Length {
	if f.Side == run.Left {
		return -1
	}
	return 1
}

func covers(r geom.Rect, spec run.Ply, f *run.Face) bool {
	return r.Min.X <= spec.U0 && r.Max.X >= spec.U1 && r.Min.Y <= f.Bottom && r.Max.Y >= f.Top.Max(spec.U0, spec.U1)
}

// zone splits p into height bands where zones put another board on all of its
// length. A board that is not sold in sheets of the ply's width is listed: the
// band is hung with the ply's own.
func (p *ply) zone(w *wall) {
	top := p.top.Max(p.s0, p.s1)
	at := p.bottom
	add := func(to Length, b *job.Board) {
		if to > at {
			p.bands = append(p.bands, zoneBand{at, to, b})
			at = to
		}
	}
	zones := slices.Clone(p.spec.Zones)
	slices.SortStableFunc(zones, func(a, b run.Zone) int { return cmp.Compare(a.Rect.Min.Y, b.Rect.Min.Y) })
	for _, z := range zones {
		b := w.env.Boards(z.Board)
		switch {
		case covers(z.Rect, p.spec, p.face):
			return
		case b == nil || !hasWidth(b, p.width):
			w.list(plan.Person, codeZone, p.face.ID, "no legal layout: the zone's %q is not to be had in sheets %s wide, as the board over and under it",
				"hung with "+p.board.Name+"; give the zone's board that width in stock, or the whole side that board", z.Board, w.say(p.width))
		default:
			add(min(z.Rect.Min.Y, top), p.board)
			add(min(z.Rect.Max.Y, top), b)
		}
	}
	if p.bands != nil {
		add(top, p.board)
	}
}

// zonesLaid returns the zones of each ply of a face as they are hung, base ply
// first; nil for a ply of one board.
func (w *wall) zonesLaid(f *run.Face) [][]run.Zone {
	out := make([][]run.Zone, len(f.Plies))
	for _, p := range w.plies {
		if p.face != f {
			continue
		}
		n := p.spec.Number - 1
		u0, u1 := p.spec.U0, p.spec.U1
		box := geom.Rect{Min: geom.Pt{X: u0, Y: f.Bottom}, Max: geom.Pt{X: u1, Y: p.top.Max(p.s0, p.s1)}}
		if n < 0 || n >= len(out) {
			continue
		}
		if p.bands == nil && p.board.Name != f.Plies[n].Board {
			out[n] = append(out[n], run.Zone{Rect: box, Board: p.board.Name})
		}
		for _, b := range p.bands {
			if b.board.Name != f.Plies[n].Board {
				z := box
				z.Min.Y, z.Max.Y = b.from, b.to
				out[n] = append(out[n], run.Zone{Rect: z, Board: b.board.Name})
			}
		}
	}
	for _, z := range out {
		slices.SortFunc(z, func(a, b run.Zone) int {
			return cmp.Or(cmp.Compare(a.Rect.Min.X, b.Rect.Min.X), cmp.Compare(a.Rect.Min.Y, b.Rect.Min.Y))
		})
	}
	return out
}

// join says where p meets a ply of its own depth: at its start, at its end.
func (w *wall) meets(p *ply) (start, end bool) {
	for _, q := range w.plies {
		if q != p && q.depth == p.depth && q.face == p.face {
			start, end = start || q.s1 == p.s0, end || q.s0 == p.s1
		}
	}
	return start, end
}

// changes notes where the board changes along the wall.
func (t *teller) changes() {
	for _, p := range t.plies {
		if start, _ := t.meets(p); start {
			t.add(plan.Note, codeZone, p.face.ID, "a stud stands under the joint", "the board of ply %d changes to %s at %s", p.spec.Number, p.board.Name, t.from(p, p.s0))
		}
	}
}
