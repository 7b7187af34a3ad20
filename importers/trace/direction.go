package trace

import (
	"math"
	"sort"

	"boardrun/internal/geom"
)

// stroke is one straight piece of linework in the tracer's local coordinates,
// with the source it came from.
type stroke struct {
	a, b geom.Pt
	src  int32
}

// family is one direction modulo a quarter turn: the angle of its axis in
// [0, π/2) and the sum of its members' vectors, exact.
type family struct {
	angle float64
	sum   geom.Pt
	n     int
}

const (
	// shiftTol is how far the end of a line may move when the line is turned
	// onto its family's direction: drafting noise. A plan turned by a hundredth of
	// a degree keeps its own direction and is not pulled onto the axes.
	// Source: common practice, none published.
	shiftTol = 2000 // 0.25 mm

	// midTol and looseTol are the same for drawings whose lines do not pair up
	// so: drawn by eye, and traced over a scan.
	midTol   = 12000 // 1.5 mm
	looseTol = 48000 // 6 mm

	// angleTol is the most a line is turned, however short. Two faces of one
	// wall are within 0.2° (from the literature on plan reading); short lines
	// have more noise.
	angleTol = 0.5 * math.Pi / 180
)

// directions assigns each stroke a family and the frames of the families: the
// frame of stroke i is frames[2*fam[i]+sub[i]]. The longest strokes found the
// families, so a short one never decides a direction.
func directions(st []stroke, shift float64) (frames []frame, of []int32) {
	of = make([]int32, len(st))
	fams := []family{{angle: 0}} // the axes of the drawing, exact
	var slant []int32
	sub := make([]uint8, len(st))
	vec := make([]geom.Pt, len(st))
	for i, s := range st {
		v, q := quarter(s.b.Sub(s.a))
		vec[i], sub[i] = v, uint8(q)
		if v.Y == 0 {
			of[i] = int32(q)
			continue
		}
		slant = append(slant, int32(i))
	}
	sort.Slice(slant, func(i, j int) bool {
		a, b := vec[slant[i]], vec[slant[j]]
		la, lb := norm2(a), norm2(b)
		if la != lb {
			return la > lb
		}
		if a != b {
			return a.X < b.X || a.X == b.X && a.Y < b.Y
		}
		return slant[i] < slant[j]
	})
	order := []int32{0} // family indexes by angle
	for _, i := range slant {
		v := vec[i]
		phi := math.Atan2(float64(v.Y), float64(v.X))
		l := math.Hypot(float64(v.X), float64(v.Y))
		tol := min(angleTol, 2*shift/l)
		k, turn := nearest(fams, order, phi, tol)
		if k < 0 {
			k = len(fams)
			fams = append(fams, family{angle: phi})
			at := sort.Search(len(order), func(j int) bool { return fams[order[j]].angle > phi })
			order = append(order, 0)
			copy(order[at+1:], order[at:])
			order[at] = int32(k)
		}
		if turn { // just short of a quarter turn: belongs to the axis next to it
			sub[i] ^= 1
			v = geom.Pt{X: v.Y, Y: -v.X}
		}
		fams[k].sum = fams[k].sum.Add(v)
		fams[k].n++
		of[i] = int32(2*k) + int32(sub[i])
	}
	frames = make([]frame, 2*len(fams))
	for k, f := range fams {
		c, s := 1.0, 0.0
		if k > 0 {
			h := math.Hypot(float64(f.sum.X), float64(f.sum.Y))
			c, s = float64(f.sum.X)/h, float64(f.sum.Y)/h
		}
		frames[2*k] = frame{c: c, s: s}
		frames[2*k+1] = frame{c: c, s: s, sub: 1}
	}
	return frames, of
}

// nearest finds the family whose direction is within tol of phi; turn says
// that it was reached across the quarter turn. −1: none.
func nearest(fams []family, order []int32, phi, tol float64) (k int, turn bool) {
	k = -1
	best := tol
	at := sort.Search(len(order), func(j int) bool { return fams[order[j]].angle >= phi })
	for _, j := range [2]int{at - 1, at} {
		if j < 0 || j >= len(order) {
			continue
		}
		if d := math.Abs(fams[order[j]].angle - phi); d <= best {
			best, k, turn = d, int(order[j]), false
		}
	}
	first := order[0] // family 0 lies at angle 0 and so at π/2
	if d := math.Pi/2 - phi + fams[first].angle; d <= best {
		k, turn = int(first), true
	}
	return k, turn
}

func norm2(v geom.Pt) float64 {
	x, y := float64(v.X), float64(v.Y)
	return float64(x*x) + float64(y*y)
}
