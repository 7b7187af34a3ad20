package quantity

import (
	"boardrun/internal/geom"
	"boardrun/internal/layout"
)

// conventionC1 places screws by the second convention: on every stud line rows
// start EdgeDistance inside both ends, ceil((L − 2 × 3/8 in)/s) + 1 of them;
// track rows only where the pattern has runners, and there only the screws that
// do not stand on a stud line: ceil(w/s) + 1 less the lines, at each track.
// Source: derived from maker tables and GA-600 WP 1200; published rates to
// compare with: 1000 screws per 1000 sf (Dagostino and Peterson, p. 203).
func (s *Screwer) conventionC1(l *layout.Layout, p *layout.Piece, pat Pattern) []Screw {
	var out []Screw
	box, edge := p.Outline.Bounds(), s.set.EdgeDistance
	lines := s.lines(l, p)
	for i, ln := range lines {
		step, place := pat.Field, PlaceField
		if ln.edge {
			step, place = pat.Edge, PlaceEdge
		}
		for _, c := range board(p, ln.u, edge) {
			for _, v := range line(edge, step, c.hi-c.lo-edge) {
				out = append(out, Screw{At: geom.Pt{X: ln.u, Y: c.lo + v}, Place: place, Item: s.item(l, p, ln.stud), Line: i, Tack: true})
			}
		}
	}
	if !pat.Runner {
		return out
	}
	extra := max(box.W().CeilDiv(pat.Track)+1-len(lines), 0)
	for _, r := range []struct {
		at    bool
		v     Length
		place string
	}{
		{standsOnFloor(p), box.Min.Y + edge, PlaceTrack},
		{box.Max.Y >= p.Face.Top.At(box.Min.X)-headReach, box.Max.Y - edge, PlaceTop},
	} {
		for i := 0; r.at && i < extra; i++ {
			u := box.Min.X + box.W()*Length(2*i+1)/Length(2*extra)
			out = append(out, Screw{At: geom.Pt{X: u, Y: r.v}, Place: r.place, Item: s.item(l, p, nil), Line: -1, Tack: true})
		}
	}
	return out
}
