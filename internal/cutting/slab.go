package cutting

import (
	"math"
	"sort"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// slab is a part of a piece between two parallel lines: its extent across them,
// and the least length of board on a line between them.
type slab struct{ extent, length measure.Length }

// slabsOf cuts an outline into slabs by upright lines through its vertices, and
// slabs whose length changes into parts of equal extent.
func slabsOf(o geom.Poly, parts int) []slab {
	xs := make([]measure.Length, len(o))
	for i, v := range o {
		xs[i] = v.X
	}
	sort.Slice(xs, func(i, j int) bool { return xs[i] < xs[j] })
	var out []slab
	for i := 1; i < len(xs); i++ {
		if xs[i] == xs[i-1] {
			continue
		}
		n := measure.Length(parts)
		if crossSection(o, xs[i-1], xs[i], xs[i-1]) == crossSection(o, xs[i-1], xs[i], xs[i]) {
			n = 1
		}
		for k := measure.Length(0); k < n; k++ {
			w := xs[i] - xs[i-1]
			a, b := xs[i-1]+w*k/n, xs[i-1]+w*(k+1)/n
			l := min(crossSection(o, xs[i-1], xs[i], a), crossSection(o, xs[i-1], xs[i], b))
			if a < b && l > 0 {
				out = append(out, slab{b - a, l})
			}
		}
	}
	return out
}

// crossSection returns the length of the upright line at x inside o, counting
// the sides that span x0 to x1 only; rounded down.
func crossSection(o geom.Poly, x0, x1, x measure.Length) measure.Length {
	var sum float64
	for i, v := range o {
		w := o[(i+1)%len(o)]
		lo, hi := v, w
		sign := -1.0 // a side that runs to the right is below the board
		if v.X > w.X {
			lo, hi, sign = w, v, 1
		}
		if lo.X <= x0 && hi.X >= x1 && lo.X < hi.X {
			sum += sign * (float64(lo.Y) + float64(hi.Y-lo.Y)*float64(x-lo.X)/float64(hi.X-lo.X))
		}
	}
	return measure.Length(math.Floor(sum + 1e-6))
}
