package cutting

import (
	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// Sheets are shorter than 50 m (checked on entry), so cross products of their
// coordinates stay below 3.2e17 and fit an int64 with room for sums of a few.
const maxSheet = 50 * measure.Metre

// cross returns the cross product of b−a and c−a: positive if c lies left of ab.
func cross(a, b, c geom.Pt) int64 {
	return int64(b.X-a.X)*int64(c.Y-a.Y) - int64(b.Y-a.Y)*int64(c.X-a.X)
}

// twiceArea returns twice the area of p, positive if counter-clockwise.
func twiceArea(p geom.Poly) int64 {
	var s int64
	for i := 1; i+1 < len(p); i++ {
		s += cross(p[0], p[i], p[i+1])
	}
	return s
}

// tidy returns p counter-clockwise, without repeated and straight-through
// vertices, starting at its lowest leftmost vertex.
func tidy(p geom.Poly) geom.Poly {
	q := append(geom.Poly(nil), p...)
	if twiceArea(q) < 0 {
		for i, j := 0, len(q)-1; i < j; i, j = i+1, j-1 {
			q[i], q[j] = q[j], q[i]
		}
	}
	for changed := true; changed && len(q) > 2; {
		changed = false
		for i := 0; i < len(q) && len(q) > 2; i++ {
			a, c := q[(i+len(q)-1)%len(q)], q[(i+1)%len(q)]
			if q[i] == c || cross(a, q[i], c) == 0 {
				q = append(q[:i], q[i+1:]...)
				changed = true
				i--
			}
		}
	}
	first := 0
	for i, v := range q {
		if v.Y < q[first].Y || v.Y == q[first].Y && v.X < q[first].X {
			first = i
		}
	}
	return append(append(geom.Poly(nil), q[first:]...), q[:first]...)
}

// quarterTurns returns p turned anticlockwise about the origin n times 90° and
// moved so that its bounding box starts at (0, 0).
func quarterTurns(p geom.Poly, n int) geom.Poly {
	q := append(geom.Poly(nil), p...)
	for ; n > 0; n-- {
		for i, v := range q {
			q[i] = geom.Pt{X: -v.Y, Y: v.X}
		}
	}
	o := q.Bounds().Min
	for i, v := range q {
		q[i] = v.Sub(o)
	}
	return q
}

// moved returns p moved by d.
func moved(p geom.Poly, d geom.Pt) geom.Poly {
	q := make(geom.Poly, len(p))
	for i, v := range p {
		q[i] = v.Add(d)
	}
	return q
}

// blankOf returns what straight cuts make of outline p: its bounding box cut
// along those slanted sides that have the whole piece on one side. A hook's
// blank is the sheet it is notched from.
func blankOf(p geom.Poly) geom.Poly {
	if isConvex(p) {
		return p
	}
	b := p.Bounds().Poly()
	for i, v := range p {
		w := p[(i+1)%len(p)]
		if v.X == w.X || v.Y == w.Y || !allLeft(p, v, w) {
			continue
		}
		// A cut that would not end on the grid is left to the notching.
		if left, _, from, to := split(b, v, w); from == v && to == w {
			b = left
		}
	}
	return tidy(b)
}

func isConvex(p geom.Poly) bool {
	for i, v := range p {
		if cross(v, p[(i+1)%len(p)], p[(i+2)%len(p)]) < 0 {
			return false
		}
	}
	return true
}

func allLeft(p geom.Poly, a, b geom.Pt) bool {
	for _, v := range p {
		if cross(a, b, v) < 0 {
			return false
		}
	}
	return true
}

// split cuts convex polygon p along the line from a to b and returns the part
// to its left and to its right and the two ends of the cut. Ends that are not
// vertices are rounded to the grid (1/8 µm). A part the line does not reach is
// empty.
func split(p geom.Poly, a, b geom.Pt) (left, right geom.Poly, from, to geom.Pt) {
	var ends geom.Poly
	meet := func(v geom.Pt) {
		left, right, ends = append(left, v), append(right, v), append(ends, v)
	}
	for i, v := range p {
		w := p[(i+1)%len(p)]
		sv, sw := cross(a, b, v), cross(a, b, w)
		switch {
		case sv > 0:
			left = append(left, v)
		case sv < 0:
			right = append(right, v)
		default:
			meet(v)
		}
		if sv > 0 && sw < 0 || sv < 0 && sw > 0 {
			meet(crossing(v, w, sv, sw))
		}
	}
	if len(left) < 3 || twiceArea(left) <= 0 {
		left = nil
	}
	if len(right) < 3 || twiceArea(right) <= 0 {
		right = nil
	}
	if len(ends) == 2 {
		from, to = ends[0], ends[1]
		if !ahead(a, b, from, to) {
			from, to = to, from
		}
	}
	return left, right, from, to
}

// ahead reports whether to lies after from in the direction from a to b.
func ahead(a, b, from, to geom.Pt) bool {
	return int64(b.X-a.X)*int64(to.X-from.X)+int64(b.Y-a.Y)*int64(to.Y-from.Y) >= 0
}

// crossing returns where vw meets a line, given the signed distances of its ends.
func crossing(v, w geom.Pt, sv, sw int64) geom.Pt {
	if sv < 0 {
		sv, sw = -sv, -sw
	}
	t, n := measure.Length(sv), measure.Length(sv-sw)
	return geom.Pt{
		X: v.X + geom.MulDiv(w.X-v.X, t, n),
		Y: v.Y + geom.MulDiv(w.Y-v.Y, t, n),
	}
}

// pockets returns the parts of convex blank b that outline p leaves out.
func pockets(p, b geom.Poly) []geom.Poly {
	n := len(p)
	on := make([]int, n) // side of b that vertex i lies on, or −1
	start := -1
	for i, v := range p {
		on[i] = sideOf(b, v)
		if on[i] >= 0 {
			start = i
		}
	}
	if start < 0 {
		return nil
	}
	var out []geom.Poly
	for i := 0; i < n; {
		from := (start + i) % n
		j := i + 1
		for ; on[(start+j)%n] < 0; j++ {
		}
		to := (start + j) % n
		if j > i+1 || !sameSide(b, p[from], p[to]) {
			pocket := geom.Poly{}
			for k := j; k >= i; k-- {
				pocket = append(pocket, p[(start+k)%n])
			}
			pocket = append(pocket, between(b, p[from], p[to])...)
			if pocket = tidy(pocket); len(pocket) > 2 {
				out = append(out, pocket)
			}
		}
		i = j
	}
	return out
}

func sideOf(b geom.Poly, v geom.Pt) int {
	for i, p := range b {
		if cross(p, b[(i+1)%len(b)], v) == 0 {
			return i
		}
	}
	return -1
}

func sameSide(b geom.Poly, v, w geom.Pt) bool {
	for i, p := range b {
		q := b[(i+1)%len(b)]
		if cross(p, q, v) == 0 && cross(p, q, w) == 0 {
			return true
		}
	}
	return false
}

// between returns the vertices of b passed on the way counter-clockwise from
// boundary point v to boundary point w, both left out.
func between(b geom.Poly, v, w geom.Pt) geom.Poly {
	if sameSide(b, v, w) {
		return nil
	}
	n := len(b)
	start := -1
	for i, p := range b { // the side v lies on, counted as the one it leaves by
		if q := b[(i+1)%n]; cross(p, q, v) == 0 && v != q {
			start = i
		}
	}
	var out geom.Poly
	for k := 1; k <= n; k++ {
		q := b[(start+k)%n]
		if q == w {
			break
		}
		out = append(out, q)
		if cross(q, b[(start+k+1)%n], w) == 0 {
			break
		}
	}
	return out
}
