package quantity

import (
	"sort"

	"boardrun/internal/geom"
	"boardrun/internal/layout"
	"boardrun/internal/run"
)

// span is an interval of heights, lo < hi.
type span struct{ lo, hi Length }

// crossings returns the intervals of the vertical line at u that lie inside
// poly, rising. A side that runs along the line counts as lying just left of it.
func crossings(poly geom.Poly, u Length) []span {
	var vs []Length
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.X <= u) != (b.X <= u) {
			vs = append(vs, a.Y+geom.MulDiv(b.Y-a.Y, u-a.X, b.X-a.X))
		}
	}
	sort.Slice(vs, func(i, k int) bool { return vs[i] < vs[k] })
	var out []span
	for i := 0; i+1 < len(vs); i += 2 {
		if vs[i] < vs[i+1] {
			out = append(out, span{vs[i], vs[i+1]})
		}
	}
	return out
}

// meet returns the intersection of two rising lists of intervals.
func meet(a, b []span) []span {
	var out []span
	for i, k := 0, 0; i < len(a) && k < len(b); {
		lo, hi := max(a[i].lo, b[k].lo), min(a[i].hi, b[k].hi)
		if lo < hi {
			out = append(out, span{lo, hi})
		}
		if a[i].hi < b[k].hi {
			i++
		} else {
			k++
		}
	}
	return out
}

// without takes [lo, hi] out of a rising list of intervals.
func without(a []span, lo, hi Length) []span {
	var out []span
	for _, s := range a {
		if hi <= s.lo || lo >= s.hi {
			out = append(out, s)
			continue
		}
		if s.lo < lo {
			out = append(out, span{s.lo, lo})
		}
		if hi < s.hi {
			out = append(out, span{hi, s.hi})
		}
	}
	return out
}

// board returns where a screw at u has board around it on both sides: the
// heights at which the piece covers everything nearer to u than edge.
func board(p *layout.Piece, u, edge Length) []span {
	out := crossings(p.Outline, u)
	for _, x := range []Length{u - edge + 1, u + edge - 1} {
		out = meet(out, crossings(p.Outline, x))
	}
	for _, c := range p.Cutouts {
		b := c.Bounds()
		if u > b.Min.X-edge && u < b.Max.X+edge {
			out = without(out, b.Min.Y, b.Max.Y)
		}
	}
	for i := range p.Face.Holes { // sheets that are routed out after hanging
		r := p.Face.Holes[i].Rect
		if len(p.Face.Holes[i].Shape) == 0 && u > r.Min.X-edge && u < r.Max.X+edge {
			out = without(out, r.Min.Y, r.Max.Y)
		}
	}
	return out
}

// feet returns the intervals of u where the piece stands on its lower edge.
func feet(p *layout.Piece) []span {
	base := p.Outline.Bounds().Min.Y
	var out []span
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%len(p.Outline)]
		if a.Y == base && b.Y == base && a.X < b.X {
			out = append(out, span{a.X, b.X})
		}
	}
	sort.Slice(out, func(i, k int) bool { return out[i].lo < out[k].lo })
	for i := range p.Face.Holes {
		if r := p.Face.Holes[i].Rect; r.Min.Y <= base && r.Max.Y > base {
			out = without(out, r.Min.X, r.Max.X)
		}
	}
	return out
}

// faceU returns where a station of the run's axis lies on a face; a curved face
// scales by its own arc.
func faceU(f *run.Face, station Length) Length {
	if f.Run == nil || f.Run.Arc == nil || f.Run.Length == 0 {
		return f.U(station)
	}
	u := geom.MulDiv(station, f.Length, f.Run.Length)
	if f.Side == run.Left {
		return f.Length - u
	}
	return u
}
