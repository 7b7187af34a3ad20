package layout

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/run"
)

// rim is one straight edge of a piece in its face's frame, as seen by the
// joint it may be part of.
type rim struct {
	piece  int
	at     Length // u of an upright edge, v of a level one
	lo, hi Length
	after  bool // the piece lies right of, or above, the edge
	edge   Edge
}

// seams returns the shared boundaries of the pieces of one face and ply.
// Pieces are in the face's frame and named.
func (w *wall) seams(pieces []Piece, studs []Stud, controls []Length) []Joint {
	var upright, level []rim
	for i := range pieces {
		u, l := rims(i, &pieces[i])
		upright, level = append(upright, u...), append(level, l...)
	}
	var out []Joint
	meet(upright, func(a, b rim, lo, hi Length) {
		out = append(out, w.uprightJoint(pieces, a, b, lo, hi, studs, controls)...)
	})
	meet(level, func(a, b rim, lo, hi Length) {
		f := pieces[a.piece].Face
		out = append(out, Joint{Face: f, Ply: pieces[a.piece].Ply, From: geom.Pt{X: lo, Y: a.at}, To: geom.Pt{X: hi, Y: a.at},
			Kind: meetKind(a.edge, b.edge), Pieces: [2]string{pieces[a.piece].ID, pieces[b.piece].ID},
			Exposed: f.Ceiling == 0 || a.at < f.Ceiling})
	})
	return out
}

// rims returns the upright and the level edges of a piece.
func rims(i int, pc *Piece) (upright, level []rim) {
	box := pc.Outline.Bounds()
	for k, a := range pc.Outline {
		b := pc.Outline[(k+1)%len(pc.Outline)]
		switch {
		case a.X == b.X:
			e := rim{piece: i, at: a.X, lo: min(a.Y, b.Y), hi: max(a.Y, b.Y), after: a.Y > b.Y}
			switch {
			case e.after && a.X == box.Min.X:
				e.edge = pc.Left
			case !e.after && a.X == box.Max.X:
				e.edge = pc.Right
			}
			upright = append(upright, e)
		case a.Y == b.Y:
			e := rim{piece: i, at: a.Y, lo: min(a.X, b.X), hi: max(a.X, b.X), after: a.X < b.X}
			switch {
			case e.after && a.Y == box.Min.Y:
				e.edge = pc.Bottom
			case !e.after && a.Y == box.Max.Y:
				e.edge = pc.Top
			}
			level = append(level, e)
		}
	}
	return upright, level
}

// leastJoint is the shortest boundary that is a joint: less is what rounding
// leaves beside a step in a top.
const leastJoint = measure.Millimetre / 10

// meet calls f for every pair of edges on one line that face each other and
// overlap; a lies before the line, b after it.
func meet(rims []rim, f func(a, b rim, lo, hi Length)) {
	slices.SortStableFunc(rims, func(a, b rim) int {
		return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.lo, b.lo), cmp.Compare(a.piece, b.piece))
	})
	for i := 0; i < len(rims); {
		j := i
		for j < len(rims) && rims[j].at == rims[i].at {
			j++
		}
		for _, a := range rims[i:j] {
			for _, b := range rims[i:j] {
				if a.after || !b.after || a.piece == b.piece {
					continue
				}
				if lo, hi := max(a.lo, b.lo), min(a.hi, b.hi); hi-lo >= leastJoint {
					f(a, b, lo, hi)
				}
			}
		}
		i = j
	}
}

func meetKind(a, b Edge) JointKind {
	switch {
	case a == Tapered && b == Tapered:
		return TaperedJoint
	case a == Tapered && b == CutEdge, a == CutEdge && b == Tapered:
		return TaperedCut
	case a == EndEdge && b == EndEdge:
		return Butt
	}
	return CutJoint
}

// uprightJoint makes a joint along the studs, split at the ceiling.
func (w *wall) uprightJoint(pieces []Piece, a, b rim, lo, hi Length, studs []Stud, controls []Length) []Joint {
	pc := &pieces[a.piece]
	f := pc.Face
	j := Joint{Face: f, Ply: pc.Ply, Kind: meetKind(a.edge, b.edge),
		Pieces: [2]string{pc.ID, pieces[b.piece].ID}}
	cuts := []Length{lo, hi}
	if f.Ceiling > lo && f.Ceiling < hi {
		cuts = []Length{lo, f.Ceiling, hi}
	}
	onAxis := f.Side == run.Left || f.Side == run.Right
	station := f.Station(a.at)
	if onAxis && slices.Contains(controls, station) {
		j.Kind = ControlJoint
	}
	var out []Joint
	for i := 1; i < len(cuts); i++ {
		k := j
		k.From, k.To = geom.Pt{X: a.at, Y: cuts[i-1]}, geom.Pt{X: a.at, Y: cuts[i]}
		k.Exposed = f.Ceiling == 0 || cuts[i] <= f.Ceiling
		if onAxis {
			k.Stud = studAt(studs, station, cuts[i-1], cuts[i], k.Kind == ControlJoint, w.env.Rules.Flange, w.Thickness/2)
		}
		out = append(out, k)
	}
	return out
}

// studAt returns the id of the stud at a station that covers most of [lo, hi],
// or ends no more than short below it: where the deck slopes across the wall one
// side goes higher than the studs.
func studAt(studs []Stud, x, lo, hi Length, near bool, flange, short Length) string {
	id := ""
	best := -short - 1
	for _, s := range studs {
		if s.Station != x && !(near && (s.Station-x).Abs() <= flange) {
			continue
		}
		c := min(hi, s.Bottom+s.Length) - max(lo, s.Bottom)
		if above := s.Bottom >= hi; c > best && !above {
			id, best = s.ID, c
		}
	}
	return id
}
