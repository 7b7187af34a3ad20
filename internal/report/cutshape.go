package report

import (
	"math"
	"sort"
)

// notch is what straight cuts leave to be taken out of a piece: a rectangle
// round the hole, measured square from the piece's starting edge and its
// bottom.
type notch struct {
	near, far  MM // clear board on the starting side and beyond
	low, high  MM // clear board below and above
	w, h       MM
	name       string // of the opening, "" where none is known
	routed     bool   // a wrapped opening: routed after hanging
	closed     bool   // inside the piece
	rectangled bool   // the hole is a rectangle
}

// notches lists what is cut out of a piece, from the starting edge.
func (w *Draft) notches(q *Piece) []notch {
	f := w.p.fac[q.Face]
	if f == nil || len(q.OutlineUV) < 3 {
		return nil
	}
	var out []notch
	if len(q.OutlineUV) > roundFrom {
		for _, h := range f.HolesUV {
			if n, ok := w.notch(f, q, h, false); ok {
				out = append(out, n)
			}
		}
	} else {
		for _, h := range missing(q) {
			if n, ok := w.notch(f, q, h, false); ok {
				out = append(out, n)
			}
		}
	}
	for _, c := range q.CutoutsUV {
		if n, ok := w.notch(f, q, c, true); ok && !has(out, n) {
			out = append(out, n)
		}
	}
	sort.SliceStable(out, func(i, k int) bool { return out[i].near < out[k].near })
	return out
}

// roundFrom is how many corners tell that something round is cut out of a
// piece; its cuts are told as the box of the hole.
const roundFrom = 14

// missing lists the rectangles that the outline of a piece lacks of its blank.
// An outline governs, not the hole it goes round: beside a door a leg may stand
// for part of what a sheet leaves.
func missing(q *Piece) []Poly {
	us, vs := lattice(q.OutlineUV, nil, 0), lattice(q.OutlineUV, nil, 1)
	lo, _ := bounds(q.OutlineUV)
	gone := func(i, k int) bool {
		a, b := UV{us[i], vs[k]}, UV{us[i+1], vs[k+1]}
		mid := UV{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
		if mid[1] > lo[1]+blankAt(q, mid[0]-lo[0]) || inside(q.OutlineUV, mid) {
			return false
		}
		for n, p := range q.OutlineUV {
			if crosses(p, q.OutlineUV[(n+1)%len(q.OutlineUV)], a, b) {
				return false
			}
		}
		return true
	}
	used := map[[2]int]bool{}
	var out []Poly
	for k := 0; k+1 < len(vs); k++ {
		for i := 0; i+1 < len(us); i++ {
			free := func(i, k int) bool { return !used[[2]int{i, k}] && gone(i, k) }
			if !free(i, k) {
				continue
			}
			right, up := i+1, k+1
			for right+1 < len(us) && free(right, k) {
				right++
			}
			for row := true; row && up+1 < len(vs); {
				for j := i; j < right; j++ {
					row = row && free(j, up)
				}
				if row {
					up++
				}
			}
			for j := i; j < right; j++ {
				for n := k; n < up; n++ {
					used[[2]int{j, n}] = true
				}
			}
			out = append(out, Poly{{us[i], vs[k]}, {us[right], vs[k]}, {us[right], vs[up]}, {us[i], vs[up]}})
		}
	}
	return out
}

// blankAt is the height of a piece before notches, at u from its left edge.
func blankAt(q *Piece, u MM) MM {
	h := q.Blank()
	for i := 1; i < len(h); i++ {
		if u <= h[i][0] && h[i][0] > h[i-1][0] {
			return h[i-1][1] + (h[i][1]-h[i-1][1])*(u-h[i-1][0])/(h[i][0]-h[i-1][0])
		}
	}
	lo, hi := bounds(q.OutlineUV)
	return hi[1] - lo[1]
}

func has(list []notch, n notch) bool {
	for _, m := range list {
		if math.Abs(float64(m.near-n.near))+math.Abs(float64(m.low-n.low)) < 1 {
			return true
		}
	}
	return false
}

func (w *Draft) notch(f *Face, q *Piece, hole Poly, cutout bool) (notch, bool) {
	lo, hi := bounds(q.OutlineUV)
	a, b := bounds(hole)
	op := w.openingAt(f, a, b)
	for k := range a {
		a[k], b[k] = max(a[k], lo[k]), min(b[k], hi[k])
		if b[k]-a[k] < 0.5 {
			return notch{}, false
		}
	}
	mid := UV{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	if !cutout && (inside(q.OutlineUV, mid) == !inCutout(q, mid)) {
		return notch{}, false
	}
	n := notch{near: a[0] - lo[0], far: hi[0] - b[0], low: a[1] - lo[1], high: hi[1] - b[1], w: b[0] - a[0], h: b[1] - a[1], rectangled: len(hole) == 4}
	if f.HangFrom == "right" {
		n.near, n.far = n.far, n.near
	}
	n.closed = n.near > 0.5 && n.far > 0.5 && n.low > 0.5 && n.high > 0.5
	if op != nil {
		n.name = openingName(op)
		n.routed = op.Kind == "wrapped"
	}
	return n, true
}

func inCutout(q *Piece, at UV) bool {
	for _, c := range q.CutoutsUV {
		if inside(c, at) {
			return true
		}
	}
	return false
}

// text says a cut in words.
func (n notch) text(p *paper) string {
	s := p.cut(n.w).Text + " × " + p.cut(n.h).Text
	if !n.rectangled {
		s += " (round it: see the hole)"
	}
	across := p.cut(n.near).Text + " from start edge"
	switch {
	case n.near < 0.5 && n.far < 0.5:
		across = "full width"
	case n.near < 0.5:
		across = "start side"
	case n.far < 0.5:
		across = "far side"
	}
	up := p.cut(n.low).Text + " up"
	switch {
	case n.low < 0.5:
		up = "bottom"
	case n.high < 0.5:
		up = "top"
	}
	s += ", " + across + ", " + up
	if n.name != "" {
		s += " (" + n.name + ")"
	}
	if n.routed {
		s += ", rout after hanging"
	}
	return s
}

// CutShape says in words what is cut out of a piece and where its top bends.
func (w *Draft) CutShape(q *Piece) string {
	out := ""
	add := func(s string) {
		if out != "" {
			out += "; "
		}
		out += s
	}
	for _, n := range w.notches(q) {
		kind := "notch "
		if n.closed {
			kind = "cut-out "
		}
		add(kind + n.text(w.p))
	}
	for _, k := range w.bends(q) {
		add("top bends: " + w.p.cut(k[1]).Text + " at " + w.p.cut(k[0]).Text + " from start edge")
	}
	if out == "" && q.Uncut {
		out = "uncut"
	}
	return out
}

// bends are the places along a piece's top, from its starting edge, that a
// straight cut from left to right would miss by more than a cut step.
func (w *Draft) bends(q *Piece) []UV {
	h := q.Blank()
	if len(h) < 3 {
		return nil
	}
	a, b := h[0], h[len(h)-1]
	f := w.p.fac[q.Face]
	var out []UV
	for _, p := range h[1 : len(h)-1] {
		if b[0] == a[0] {
			continue
		}
		straight := a[1] + (b[1]-a[1])*(p[0]-a[0])/(b[0]-a[0])
		if math.Abs(float64(p[1]-straight)) < w.p.sys.CutStep().MM() {
			continue
		}
		if f != nil && f.HangFrom == "right" {
			p[0] = b[0] - p[0]
		}
		out = append(out, p)
	}
	return out
}

// Cut tells whether a piece is more than a rectangle or a sloped top.
func (w *Draft) Cut(q *Piece) bool { return len(w.notches(q)) > 0 || len(w.bends(q)) > 0 }
