package check

import (
	"math"
	"sort"

	"boardrun/internal/report"
)

// pt is a point in millimetres.
type pt struct{ x, y float64 }

type ring []pt

func ringOf(p report.Poly) ring {
	r := make(ring, len(p))
	for i, q := range p {
		r[i] = pt{float64(q[0]), float64(q[1])}
	}
	return r
}

// area is signed: positive counter-clockwise.
func (r ring) area() float64 {
	s := 0.0
	for i, a := range r {
		b := r[(i+1)%len(r)]
		s += (a.x-r[0].x)*(b.y-r[0].y) - (b.x-r[0].x)*(a.y-r[0].y)
	}
	return s / 2
}

func (r ring) box() (lo, hi pt) {
	lo, hi = pt{math.Inf(1), math.Inf(1)}, pt{math.Inf(-1), math.Inf(-1)}
	for _, p := range r {
		lo.x, lo.y = math.Min(lo.x, p.x), math.Min(lo.y, p.y)
		hi.x, hi.y = math.Max(hi.x, p.x), math.Max(hi.y, p.y)
	}
	return lo, hi
}

// at returns the sorted intervals of y that a set of rings covers, even-odd, on
// the vertical line x. x must not be a vertex.
func at(rings []ring, x float64) []float64 {
	var ys []float64
	for _, r := range rings {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if (a.x < x) != (b.x < x) {
				ys = append(ys, a.y+(b.y-a.y)*(x-a.x)/(b.x-a.x))
			}
		}
	}
	sort.Float64s(ys)
	return ys
}

// stations are the x at which the picture can change: all vertices and all
// crossings of edges of different rings.
func stations(sets ...[]ring) []float64 {
	var xs []float64
	type edge struct{ a, b pt }
	var slanted, all []edge
	for _, s := range sets {
		for _, r := range s {
			for i, a := range r {
				b := r[(i+1)%len(r)]
				xs = append(xs, a.x)
				if a.x == b.x {
					continue
				}
				e := edge{a, b}
				if a.x > b.x {
					e = edge{b, a}
				}
				all = append(all, e)
				if a.y != b.y {
					slanted = append(slanted, e)
				}
			}
		}
	}
	for _, e := range slanted {
		for _, f := range all {
			if f.b.x <= e.a.x || f.a.x >= e.b.x {
				continue
			}
			me, mf := (e.b.y-e.a.y)/(e.b.x-e.a.x), (f.b.y-f.a.y)/(f.b.x-f.a.x)
			if d := me - mf; math.Abs(d) > 1e-12 {
				x := e.a.x + (f.a.y+mf*(e.a.x-f.a.x)-e.a.y)/d
				if x > math.Max(e.a.x, f.a.x) && x < math.Min(e.b.x, f.b.x) {
					xs = append(xs, x)
				}
			}
		}
	}
	sort.Float64s(xs)
	out := xs[:0]
	for _, x := range xs {
		if len(out) == 0 || x-out[len(out)-1] > 1e-9 {
			out = append(out, x)
		}
	}
	return out
}

// cover compares pieces with the region they should tile. It returns, in mm²,
// what of the region no piece covers, what pieces cover twice, and what they
// cover outside the region.
func cover(region, holes []ring, pieces [][]ring) (bare, twice, outside float64) {
	sets := append([][]ring{region, holes}, pieces...)
	xs := stations(sets...)
	for i := 1; i < len(xs); i++ {
		x, w := (xs[i-1]+xs[i])/2, xs[i]-xs[i-1]
		if w < 1e-6 {
			continue
		}
		b, t, o := coverLine(region, holes, pieces, x)
		// Between stations every edge is straight and none cross, so the
		// middle value times the width is exact.
		bare, twice, outside = bare+b*w, twice+t*w, outside+o*w
	}
	return bare, twice, outside
}

func coverLine(region, holes []ring, pieces [][]ring, x float64) (bare, twice, outside float64) {
	type event struct {
		y    float64
		kind int // 0 region, 1 hole, 2 piece
		d    int
	}
	var ev []event
	add := func(ys []float64, kind int) {
		for i := 0; i+1 < len(ys); i += 2 {
			ev = append(ev, event{ys[i], kind, 1}, event{ys[i+1], kind, -1})
		}
	}
	add(at(region, x), 0)
	for _, h := range holes { // one by one: overlapping holes are one hole
		add(at([]ring{h}, x), 1)
	}
	for _, p := range pieces {
		add(at(p, x), 2)
	}
	sort.Slice(ev, func(a, b int) bool { return ev[a].y < ev[b].y })
	var n [3]int
	for i, e := range ev {
		if i > 0 {
			h := e.y - ev[i-1].y
			in := n[0] > 0 && n[1] == 0
			switch {
			case in && n[2] == 0:
				bare += h
			case !in && n[2] > 0:
				outside += h
			}
			if n[2] > 1 {
				twice += h * float64(n[2]-1)
			}
		}
		n[e.kind] += e.d
	}
	return bare, twice, outside
}
