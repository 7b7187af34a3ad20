package trace

import (
	"math"
	"slices"

	"boardrun/internal/geom"
)

// cutLoops cuts the small loops off a ring that nodes nearer to each other than
// the walls are thick leave: where an edge crosses one of the next four, what
// lies between goes.
func cutLoops(p geom.Poly) geom.Poly {
	for range len(p) {
		i, j, x, ok := firstLoop(p)
		if !ok {
			return p
		}
		n := len(p)
		out := geom.Poly{x}
		for k := (j + 1) % n; k != (i+1)%n; k = (k + 1) % n {
			out = append(out, p[k])
		}
		p = out
	}
	return p
}

// firstLoop finds edge i and a near later edge j that cross at x.
func firstLoop(p geom.Poly) (i, j int, x pt, ok bool) {
	n := len(p)
	for i := 0; i < n; i++ {
		var between float64
		for d := 2; d <= 4 && d < n-1; d++ {
			j := (i + d) % n
			v := p[(i+d)%n].Sub(p[(i+d-1)%n])
			between += math.Sqrt(norm2(v))
			if between > 3*float64(maxThick) {
				break
			}
			if x, ok := cross(p[i], p[(i+1)%n], p[j], p[(j+1)%n]); ok {
				return i, j, x, true
			}
		}
	}
	return 0, 0, pt{}, false
}

// cross is where the inner parts of two segments meet.
func cross(a, b, c, d pt) (pt, bool) {
	u, v, w := b.Sub(a), d.Sub(c), c.Sub(a)
	den := float64(u.X)*float64(v.Y) - float64(u.Y)*float64(v.X)
	if den == 0 {
		return pt{}, false
	}
	k := (float64(w.X)*float64(v.Y) - float64(w.Y)*float64(v.X)) / den
	l := (float64(w.X)*float64(u.Y) - float64(w.Y)*float64(u.X)) / den
	if k <= 0 || k >= 1 || l <= 0 || l >= 1 {
		return pt{}, false
	}
	return pt{X: a.X + round(k*float64(u.X)), Y: a.Y + round(k*float64(u.Y))}, true
}

// tidy drops repeated points and points on a straight line between their
// neighbours.
func tidy(p geom.Poly) geom.Poly {
	var out geom.Poly
	n := len(p)
	for i := 0; i < n; i++ {
		if p[i] != p[(i+1)%n] {
			out = append(out, p[i])
		}
	}
	p, out = out, nil
	n = len(p)
	for i := 0; i < n; i++ {
		a, b, c := p[(i+n-1)%n], p[i], p[(i+1)%n]
		u, v := b.Sub(a), c.Sub(b)
		cross := float64(u.X)*float64(v.Y) - float64(u.Y)*float64(v.X)
		dot := float64(u.X)*float64(v.X) + float64(u.Y)*float64(v.Y)
		if dot > 0 && math.Abs(cross) <= 16*math.Sqrt(norm2(u)+norm2(v)) {
			continue
		}
		out = append(out, b)
	}
	return out
}

// canonical starts a ring at its lowest, then leftmost point.
func canonical(p geom.Poly) geom.Poly {
	k := 0
	for i := range p {
		if p[i].Y < p[k].Y || p[i].Y == p[k].Y && p[i].X < p[k].X {
			k = i
		}
	}
	return append(slices.Clone(p[k:]), p[:k]...)
}

// areaM2 is the signed area of a ring, counter-clockwise positive.
func areaM2(p geom.Poly) float64 {
	if len(p) == 0 {
		return 0
	}
	o, sum := p[0], 0.0
	for i := range p {
		a, b := p[i].Sub(o), p[(i+1)%len(p)].Sub(o)
		sum += a.X.Metres()*b.Y.Metres() - a.Y.Metres()*b.X.Metres()
	}
	return sum / 2
}
