package run

import (
	"cmp"
	"slices"
	"strings"

	"boardrun/internal/geom"
	"boardrun/internal/job"
)

// How boards meet at a corner. Plies go up in turn: base plies of both faces,
// then face plies. With t the plies of the other face, the board that goes up
// first ends at the other's studs or at its plies that already hang; the second
// ends at the first one's surface. Measured from the finished corner:
//
//	inside corner              ply k of the first      + t(k) + t(k+1) + …
//	                           ply k of the second     + own first's t(k+1) + …
//	outside corner             the same, short of the corner instead of beyond
//	behind a stem (through)    the stem's plies end at the finished face: 0
//
// Source: common practice, none published.

// lap gives every face of a run its ends and plies.
func (bld *builder) lap(b *band) {
	for k := range b.sides {
		edges := b.sides[k].edges
		var f *Face
		for i := range edges {
			e := &edges[i]
			if e.face == nil {
				continue
			}
			if e.face != f { // station order is u order on the right, the reverse on the left
				f = e.face
				f.Ends[1-k] = bld.endOf(b, k, e, 0)
			}
			f.Ends[k] = bld.endOf(b, k, e, 1)
		}
	}
	for _, f := range b.run.Faces {
		bld.cover(b, f)
	}
}

// endOf settles how side k of a band ends at end i of an edge.
func (bld *builder) endOf(b *band, k int, e *edge, i int) FaceEnd {
	c, a := e.ends[i], e.arms[i]
	switch {
	case c.kind == EndFree && b.isolated():
		return FaceEnd{Kind: EndOpen}
	case c.kind == EndFree:
		out := FaceEnd{Kind: EndFree, First: true}
		if f := b.ends[a.at].face; f != nil {
			out.Face = f.ID
			out.laps = laps(EndOutside, true, one, bld.thicknesses(b.plies(k)), bld.thicknesses(f.boards(b)))
		}
		return out
	case c.to == nil || c.to.b.make == nil:
		return FaceEnd{Kind: EndStructure}
	}
	o := c.to
	across := 1 // a's left meets o's right
	if c == &a.sides[1] {
		across = 0
	}
	out := FaceEnd{Kind: c.kind, First: boardedFirst(a, o)}
	if f := o.edgeOf(across).face; f != nil {
		out.Face = f.ID
	}
	own, other := bld.thicknesses(b.plies(k)), bld.thicknesses(o.b.plies(o.bandSide(across)))
	switch {
	case c.kind == EndInLine:
		out.First = false
	case o.at >= 2 && o.b.behind(o.b.innerOf(o), o.bandSide(across)):
		out.First = false // the through board hangs already, with all its plies
	default:
		out.laps = laps(c.kind, out.First, c.sin, own, other)
	}
	if len(out.laps) > 0 {
		out.Lap = out.laps[0]
	}
	return out
}

// boards returns the plies of a face's side; of an end face those of the side
// it takes them from.
func (f *Face) boards(b *band) []string {
	if !f.Boarded {
		return nil
	}
	if f.Side == End || f.Side == Reveal {
		if k := b.endSide(); k >= 0 {
			return b.plies(k)
		}
		return nil
	}
	return b.plies(int(f.Side))
}

func (bld *builder) thicknesses(plies []string) []Length {
	out := make([]Length, len(plies))
	for i, p := range plies {
		if b := bld.j.Board(p); b != nil {
			out[i] = b.Thickness
		}
	}
	return out
}

// laps returns how far each own ply goes beyond the finished corner; sin is that
// of the corner's angle.
func laps(kind EndKind, first bool, sin Length, own, other []Length) []Length {
	out := make([]Length, len(own))
	for k := range own {
		from := k // the other's plies that hang after this one
		if !first {
			from++
		}
		var sum Length
		for _, t := range other[min(from, len(other)):] {
			sum += t
		}
		if out[k] = geom.MulDiv(sum, one, sin); kind == EndOutside {
			out[k] = -out[k]
		}
	}
	return out
}

// cover gives a face its plies: boards, extent with laps and slack, zones.
func (bld *builder) cover(b *band, f *Face) {
	boards := f.boards(b)
	if f.Side == End {
		side := laps(EndOutside, false, one, bld.thicknesses(boards), bld.thicknesses(b.plies(0)))
		other := laps(EndOutside, false, one, bld.thicknesses(boards), bld.thicknesses(b.plies(1)))
		if f.Start > b.run.Length/2 { // seen from outside, the run's right is on the left
			side, other = other, side
		}
		f.Ends = [2]FaceEnd{{Kind: EndFree, laps: side}, {Kind: EndFree, laps: other}}
	}
	for i, name := range boards {
		p := Ply{Number: i + 1, Board: name, U0: -f.Ends[0].lapOf(i), U1: f.Length + f.Ends[1].lapOf(i)}
		p.U0 += bld.slackAt(f.Ends[0])
		p.U1 -= bld.slackAt(f.Ends[1])
		p.U0, p.U1 = toStep(p.U0, bld.j.Rules.Step), toStep(p.U1, bld.j.Rules.Step)
		if p.U1 <= p.U0 {
			f.Boarded, f.Plies, f.Reason = false, nil, "nothing is left of it between its corners"
			return
		}
		p.Zones = bld.zones(b, f, p, i+1 == len(boards))
		f.Plies = append(f.Plies, p)
	}
}

func (e FaceEnd) lapOf(i int) Length {
	if i < len(e.laps) {
		return e.laps[i]
	}
	return 0
}

// slackAt is what comes off a board at an end it must be fitted against.
func (bld *builder) slackAt(e FaceEnd) Length {
	switch e.Kind {
	case EndInside, EndStructure, EndOpen:
		return bld.j.Rules.FitSlack
	}
	return 0
}

// zones returns where a ply has another board than its own: the job's zones of
// the room, type and ply, later ones over earlier ones. face says that the ply
// is the face ply.
func (bld *builder) zones(b *band, f *Face, p Ply, face bool) []Zone {
	top := f.Top.Max(p.U0, p.U1)
	var out []Zone
	for i, part := range f.Parts {
		u0, u1 := part.U0, p.U1
		if i == 0 {
			u0 = p.U0
		}
		if i+1 < len(f.Parts) {
			u1 = f.Parts[i+1].U0
		}
		out = append(out, bld.bandsOfZones(b, f, p, face, part.Room, geom.Rect{Min: geom.Pt{X: u0, Y: f.Bottom}, Max: geom.Pt{X: u1, Y: top}})...)
	}
	return out
}

func (bld *builder) bandsOfZones(b *band, f *Face, p Ply, face bool, room string, whole geom.Rect) []Zone {
	var hit []*job.Zone
	cuts := []Length{whole.Min.Y, whole.Max.Y}
	for i := range bld.j.Zones {
		z := &bld.j.Zones[i]
		if z.Side != "" && !strings.EqualFold(z.Side, f.Side.String()) {
			continue
		}
		if z.Ply != p.Number && !(z.Ply == 0 && face) || z.Room != "" && !like(z.Room, room) || z.Type != "" && !like(z.Type, b.make.Name) {
			continue
		}
		hit = append(hit, z)
		cuts = append(cuts, z.Bottom, z.Top)
	}
	if len(hit) == 0 {
		return nil
	}
	slices.Sort(cuts)
	var out []Zone
	for i := 1; i < len(cuts); i++ {
		lo, hi := max(cuts[i-1], whole.Min.Y), min(cuts[i], whole.Max.Y)
		board := p.Board
		for _, z := range hit {
			if z.Bottom <= lo && (z.Top == 0 || z.Top >= hi) {
				board = z.Board
			}
		}
		switch n := len(out); {
		case hi <= lo || board == p.Board:
		case n > 0 && out[n-1].Board == board && out[n-1].Rect.Max.Y == lo:
			out[n-1].Rect.Max.Y = hi
		default:
			out = append(out, Zone{geom.Rect{Min: geom.Pt{X: whole.Min.X, Y: lo}, Max: geom.Pt{X: whole.Max.X, Y: hi}}, board})
		}
	}
	return out
}

func sortFixed(list []Fixed) {
	slices.SortFunc(list, func(a, b Fixed) int { return cmp.Or(cmp.Compare(a.Station, b.Station), cmp.Compare(a.Kind, b.Kind)) })
}
