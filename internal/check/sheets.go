package check

import (
	"math"

	"boardrun/internal/report"
)

// sheets holds invariant 3: each piece comes out of one sheet of its board, by
// a rigid motion without mirroring, through the cuts listed.
func (j *judge) sheets() {
	placed := map[string]string{}
	ids := map[string]bool{}
	for i := range j.t.Sheets {
		s := &j.t.Sheets[i]
		if ids[s.ID] {
			j.object("unique", s.ID, "the id is used twice")
		}
		ids[s.ID] = true
		var inside [][]ring
		for k := range s.Placements {
			p := &s.Placements[k]
			piece := j.piece[p.Piece]
			if piece == nil {
				j.object("reference", s.ID, "places piece %q, which is not there", p.Piece)
				continue
			}
			if placed[p.Piece] != "" {
				j.object("placement", p.Piece, "is cut from %s and from %s", placed[p.Piece], s.ID)
			}
			placed[p.Piece] = s.ID
			if piece.Sheet != s.ID {
				j.object("placement", p.Piece, "names sheet %q but lies on %s", piece.Sheet, s.ID)
			}
			if piece.Board != s.Board {
				j.object("placement", p.Piece, "is of %s, its sheet is %s", piece.Board, s.Board)
			}
			j.motion(s, p, piece)
			inside = append(inside, []ring{ringOf(p.OutlineMM)})
		}
		w, l := float64(s.WidthMM), float64(s.LengthMM)
		_, twice, outside := cover([]ring{{{0, 0}, {w, 0}, {w, l}, {0, l}}}, nil, inside)
		if twice > 1 || outside > 1 {
			j.object("placement", s.ID, "pieces overlap on %.1f mm² and leave the sheet by %.1f mm²", twice, outside)
		}
		j.cuts(s)
	}
	for i := range j.t.Pieces {
		if p := &j.t.Pieces[i]; placed[p.ID] == "" {
			j.object("placement", p.ID, "comes out of no sheet")
		}
	}
}

// motion: the placement is the piece's outline turned by a multiple of 90°
// anticlockwise and moved, point for point.
func (j *judge) motion(s *report.Sheet, p *report.Placement, piece *report.Piece) {
	a, b := turn(ringOf(piece.OutlineUV), p.Turned), ringOf(p.OutlineMM)
	if a == nil {
		j.object("placement", p.Piece, "is turned by %d°", p.Turned)
		return
	}
	if !same(a, b) {
		j.object("placement", p.Piece, "its outline on %s is not its own, turned %d° and moved", s.ID, p.Turned)
		return
	}
	lo, hi := b.box()
	w, l := float64(s.WidthMM), float64(s.LengthMM)
	side := map[int][4]string{ // piece side that comes to lie left, right, bottom, top
		0: {"left", "right", "bottom", "top"}, 90: {"top", "bottom", "left", "right"},
		180: {"right", "left", "top", "bottom"}, 270: {"bottom", "top", "right", "left"},
	}[p.Turned]
	edge := map[string]string{"left": piece.Edges.Left, "right": piece.Edges.Right, "bottom": piece.Edges.Bottom, "top": piece.Edges.Top}
	for k, onSheet := range []bool{lo.x < tol, hi.x > w-tol, lo.y < tol, hi.y > l-tol} {
		switch e := edge[side[k]]; {
		case e == "tapered" && (k > 1 || !onSheet):
			j.object("edge", p.Piece, "its %s is called tapered but lies on no long edge of %s", side[k], s.ID)
		case e == "end" && (k < 2 || !onSheet):
			j.object("edge", p.Piece, "its %s is called an end but lies on no end of %s", side[k], s.ID)
		}
	}
}

func turn(r ring, deg int) ring {
	out := make(ring, len(r))
	for i, p := range r {
		switch deg {
		case 0:
			out[i] = p
		case 90:
			out[i] = pt{-p.y, p.x}
		case 180:
			out[i] = pt{-p.x, -p.y}
		case 270:
			out[i] = pt{p.y, -p.x}
		default:
			return nil
		}
	}
	return out
}

// same reports whether two rings are equal up to a translation and the choice
// of the first point.
func same(a, b ring) bool {
	if len(a) != len(b) || len(a) == 0 {
		return false
	}
	la, _ := a.box()
	lb, _ := b.box()
	for k := range b {
		ok := true
		for i := range a {
			q := b[(i+k)%len(b)]
			if math.Abs(a[i].x-la.x-q.x+lb.x) > 0.01 || math.Abs(a[i].y-la.y-q.y+lb.y) > 0.01 {
				ok = false
				break
			}
		}
		if ok {
			return true
		}
	}
	return false
}

// cuts replays the through cuts: each runs straight from boundary to boundary
// of one fragment; afterwards each piece has a fragment of its own.
func (j *judge) cuts(s *report.Sheet) {
	w, l := float64(s.WidthMM), float64(s.LengthMM)
	frags := []ring{{{0, 0}, {w, 0}, {w, l}, {0, l}}}
	for i, c := range s.Cuts {
		if i > 0 && c.Order <= s.Cuts[i-1].Order {
			j.object("cut", s.ID, "cut %d is out of order", c.Order)
		}
		a, b := pt{float64(c.From[0]), float64(c.From[1])}, pt{float64(c.To[0]), float64(c.To[1])}
		k := holder(frags, a, b)
		if k < 0 {
			j.object("cut", s.ID, "cut %d from (%.2f, %.2f) to (%.2f, %.2f) does not cross one fragment from side to side", c.Order, a.x, a.y, b.x, b.y)
			continue
		}
		left, right := split(frags[k], a, b)
		frags = append(append(frags[:k:k], frags[k+1:]...), left, right)
	}
	owner := map[int]string{}
	for i := range s.Placements {
		p := &s.Placements[i]
		r := ringOf(p.OutlineMM)
		k := within(frags, r)
		if k < 0 {
			j.object("cut", p.Piece, "the cuts of %s do not leave it whole", s.ID)
			continue
		}
		if owner[k] == "" {
			owner[k] = p.Piece
		}
		if !j.inNotch(s, frags[k], p) {
			lo, hi := r.box()
			fl, fh := frags[k].box()
			if math.Abs(lo.x-fl.x)+math.Abs(lo.y-fl.y)+math.Abs(hi.x-fh.x)+math.Abs(hi.y-fh.y) > 0.05 {
				j.object("cut", p.Piece, "the cuts of %s leave it a fragment larger than itself", s.ID)
			}
		}
	}
}

// inNotch reports whether another, larger piece shares the fragment: then p is
// made of what a notch of that one leaves.
func (j *judge) inNotch(s *report.Sheet, frag ring, p *report.Placement) bool {
	a := ringOf(p.OutlineMM).area()
	for i := range s.Placements {
		q := &s.Placements[i]
		if q.Piece == p.Piece {
			continue
		}
		if r := ringOf(q.OutlineMM); r.area() > a && within([]ring{frag}, r) == 0 {
			return true
		}
	}
	return false
}

// holder returns the fragment that the segment crosses from boundary to
// boundary through its inside.
func holder(frags []ring, a, b pt) int {
	mid := pt{(a.x + b.x) / 2, (a.y + b.y) / 2}
	for i, f := range frags {
		if onRing(f, a) && onRing(f, b) && strictlyIn(f, mid) {
			return i
		}
	}
	return -1
}

// dist is the signed distance of p to the left of a→b.
func dist(a, b, p pt) float64 {
	return ((b.x-a.x)*(p.y-a.y) - (b.y-a.y)*(p.x-a.x)) / math.Hypot(b.x-a.x, b.y-a.y)
}

func onRing(r ring, p pt) bool {
	for i, a := range r {
		b := r[(i+1)%len(r)]
		l := math.Hypot(b.x-a.x, b.y-a.y)
		t := ((p.x-a.x)*(b.x-a.x) + (p.y-a.y)*(b.y-a.y)) / l
		if math.Abs(dist(a, b, p)) < 0.01 && t > -0.01 && t < l+0.01 {
			return true
		}
	}
	return false
}

// strictlyIn is for convex rings: fragments of straight cuts are convex. Inside
// is a micrometre from the edge: a stack may end so near the sheet's own.
func strictlyIn(r ring, p pt) bool {
	for i, a := range r {
		if dist(a, r[(i+1)%len(r)], p) < 0.001 {
			return false
		}
	}
	return true
}

func split(r ring, a, b pt) (left, right ring) {
	for i, p := range r {
		q := r[(i+1)%len(r)]
		dp, dq := dist(a, b, p), dist(a, b, q)
		if dp > -0.005 {
			left = append(left, p)
		}
		if dp < 0.005 {
			right = append(right, p)
		}
		if dp > 0.005 && dq < -0.005 || dp < -0.005 && dq > 0.005 {
			t := dp / (dp - dq)
			m := pt{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y)}
			left, right = append(left, m), append(right, m)
		}
	}
	return left, right
}

func within(frags []ring, r ring) int {
	for i, f := range frags {
		ok := true
		for k, a := range f {
			b := f[(k+1)%len(f)]
			for _, p := range r {
				if dist(a, b, p) < -0.02 {
					ok = false
					break
				}
			}
		}
		if ok && len(f) > 2 {
			return i
		}
	}
	return -1
}
