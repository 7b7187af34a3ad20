package report

import (
	"slices"
	"sort"
)

// room is the rectangle of an outline, clear of its cut-outs, where a label of
// about w × h has most room. Outlines have few vertices: all rectangles between
// them are tried.
func room(o Poly, cut []Poly, w, h MM) (lo, hi UV) {
	us, vs := lattice(o, cut, 0), lattice(o, cut, 1)
	best := MM(-1)
	for i := range us {
		for k := range vs {
			// Grow right while the column of cells is inside, at ever less height.
			top := len(vs) - 1
			for j := i; j+1 < len(us) && top > k; j++ {
				n := k
				for n < top && clear(o, cut, UV{us[j], vs[n]}, UV{us[j+1], vs[n+1]}) {
					n++
				}
				if top = n; top == k {
					break
				}
				dw, dh := us[j+1]-us[i], vs[top]-vs[k]
				// What exceeds the label counts a little, to stay in the middle.
				if s := min(dw, w)*min(dh, h) + dw*dh/1e3; s > best {
					best, lo, hi = s, UV{us[i], vs[k]}, UV{us[j+1], vs[top]}
				}
			}
		}
	}
	if best < 0 {
		return bounds(o)
	}
	return lo, hi
}

// lattice lists the coordinates of all vertices along one axis, sorted; more
// than twelve are thinned out.
func lattice(o Poly, cut []Poly, k int) []MM {
	var xs []MM
	for _, p := range o {
		xs = append(xs, p[k])
	}
	for _, c := range cut {
		lo, hi := bounds(c)
		xs = append(xs, lo[k], hi[k])
	}
	slices.Sort(xs)
	xs = slices.CompactFunc(xs, func(a, b MM) bool { return max(a, b)-min(a, b) < 1 })
	for len(xs) > 12 {
		thin := xs[:0]
		for i, x := range xs {
			if i%2 == 0 || i == len(xs)-1 {
				thin = append(thin, x)
			}
		}
		xs = thin
	}
	return xs
}

// clear tells whether a cell lies in the outline and in no cut-out.
func clear(o Poly, cut []Poly, lo, hi UV) bool {
	mid := UV{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2}
	if !inside(o, mid) {
		return false
	}
	for i, a := range o {
		if crosses(a, o[(i+1)%len(o)], lo, hi) {
			return false
		}
	}
	for _, c := range cut {
		if a, b := bounds(c); a[0] < hi[0] && b[0] > lo[0] && a[1] < hi[1] && b[1] > lo[1] {
			return false
		}
	}
	return true
}

// crosses tells whether the segment a-b passes through the open cell.
func crosses(a, b, lo, hi UV) bool {
	t0, t1 := MM(0), MM(1)
	for k := range a {
		d := b[k] - a[k]
		l, h := lo[k]+0.01, hi[k]-0.01
		if d == 0 {
			if a[k] <= l || a[k] >= h {
				return false
			}
			continue
		}
		s, e := (l-a[k])/d, (h-a[k])/d
		if s > e {
			s, e = e, s
		}
		t0, t1 = max(t0, s), min(t1, e)
	}
	return t0 < t1
}

// inside tells whether p lies in the outline.
func inside(o Poly, p UV) bool {
	xs := levelAt(o, p[1])
	n := sort.Search(len(xs), func(i int) bool { return xs[i] > p[0] })
	return n%2 == 1
}

func levelAt(o Poly, v MM) []MM {
	var xs []MM
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if (a[1] < v) != (b[1] < v) {
			xs = append(xs, a[0]+(b[0]-a[0])*(v-a[1])/(b[1]-a[1]))
		}
	}
	slices.Sort(xs)
	return xs
}
