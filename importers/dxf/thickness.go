package dxf

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"boardrun/importers/linework"
)

// band is a segment along an axis: at its level, from lo to hi.
type band struct{ level, lo, hi float64 }

const (
	// thicknessSegments is how many of the longest segments in each direction
	// are looked at, thicknessReach how many neighbours of each.
	thicknessSegments = 3000
	thicknessReach    = 60
)

// wallThickness judges the distance from each long line to the nearest parallel
// one beside it: in a plan most of these are wall thicknesses.
func wallThickness(d *linework.Drawing, k float64) witness {
	var across, up []band
	for i := range d.Segments {
		s := &d.Segments[i]
		dx, dy := math.Abs(s.B[0]-s.A[0]), math.Abs(s.B[1]-s.A[1])
		switch {
		case dy <= 1e-6*dx:
			across = append(across, band{s.A[1], min(s.A[0], s.B[0]), max(s.A[0], s.B[0])})
		case dx <= 1e-6*dy:
			up = append(up, band{s.A[0], min(s.A[1], s.B[1]), max(s.A[1], s.B[1])})
		}
	}
	gaps := append(nearest(across), nearest(up)...)
	total := 0.0
	for i := range gaps {
		gaps[i].level *= k
		total += gaps[i].hi
	}
	return func(u Unit) (float64, string) {
		if len(gaps) < 10 {
			return 0, ""
		}
		sum := 0.0
		for _, g := range gaps {
			if mm := g.level * u.MM; mm >= wallMin && mm <= wallMax {
				sum += g.hi
			}
		}
		share := sum / total
		return 1.5 * share, fmt.Sprintf("%.0f %% of the parallel lines stand %s apart, as the faces of walls do", 100*share, u.between(wallMin, wallMax))
	}
}

// nearest returns for each of the longest bands the distance to the nearest one
// above it that it overlaps by half (level), and its length (hi).
func nearest(b []band) []band {
	byLength := func(x, y band) int {
		return cmp.Or(cmp.Compare(y.hi-y.lo, x.hi-x.lo), cmp.Compare(x.level, y.level), cmp.Compare(x.lo, y.lo))
	}
	slices.SortFunc(b, byLength)
	if len(b) > thicknessSegments {
		b = b[:thicknessSegments]
	}
	slices.SortFunc(b, func(x, y band) int {
		return cmp.Or(cmp.Compare(x.level, y.level), cmp.Compare(x.lo, y.lo), cmp.Compare(x.hi, y.hi))
	})
	var out []band
	for i, x := range b {
		length := x.hi - x.lo
		for j := i + 1; j < len(b) && j <= i+thicknessReach; j++ {
			y := b[j]
			if gap := y.level - x.level; gap > 1e-6*length && min(x.hi, y.hi)-max(x.lo, y.lo) > 0.5*min(length, y.hi-y.lo) && gap < length {
				out = append(out, band{level: gap, hi: length})
				break
			}
		}
	}
	return out
}
