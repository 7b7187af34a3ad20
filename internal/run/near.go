package run

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
)

// nearPairs returns the pairs of bands of one drawing and storey whose boxes
// come within reach of each other, each with the lower index first, sorted. It
// sweeps along x.
func nearPairs(list []*band) [][2]int {
	type box struct {
		geom.Rect
		i int
	}
	boxes := make([]box, len(list))
	for i, b := range list {
		r := geom.Poly(b.points()).Bounds()
		m := b.thickness + 2*slack
		boxes[i] = box{geom.Rect{Min: geom.Pt{X: r.Min.X - m, Y: r.Min.Y - m}, Max: geom.Pt{X: r.Max.X + m, Y: r.Max.Y + m}}, i}
	}
	slices.SortFunc(boxes, func(a, b box) int {
		return cmp.Or(cmp.Compare(a.Min.X, b.Min.X), cmp.Compare(a.i, b.i))
	})
	var out [][2]int
	for k, a := range boxes {
		for _, b := range boxes[k+1:] {
			if b.Min.X > a.Max.X {
				break
			}
			x, y := list[a.i], list[b.i]
			if b.Min.Y <= a.Max.Y && a.Min.Y <= b.Max.Y && x.storey == y.storey && x.drawing == y.drawing {
				out = append(out, [2]int{min(a.i, b.i), max(a.i, b.i)})
			}
		}
	}
	slices.SortFunc(out, func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
	return out
}
