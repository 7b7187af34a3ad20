package trace

import (
	"cmp"
	"slices"

	"boardrun/internal/measure"
)

// centreStrands makes strands of centrelines, each as thick as its layer, its
// polyline or the job says.
func (t *tracer) centreStrands() {
	for i := range t.centreParts {
		by := map[[2]Length][]part{}
		var keys [][2]Length
		for _, p := range t.centreParts[i] {
			k := [2]Length{Length(t.src[p.src].class), t.centreThickness(p.src)}
			if by[k] == nil {
				keys = append(keys, k)
			}
			by[k] = append(by[k], p)
		}
		slices.SortFunc(keys, func(a, b [2]Length) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
		for _, k := range keys {
			var ps []piece
			for _, e := range mergeParts(by[k]) {
				h := k[1] / 2
				if h == 0 {
					h = unsaid / 2
				}
				ps = append(ps, piece{e.s0, e.s1, e.r - h, e.r + h, -1, centreBase - int32(len(t.centreEdges)), int32(k[0])})
				t.centreEdges = append(t.centreEdges, centreEdge{int32(i), e})
			}
			for _, s := range strandsOf(int32(i), ps) {
				s.centre = true
				t.strands = append(t.strands, s)
			}
		}
	}
}

// unsaid is the thickness of a wall drawn as a centreline of which nobody says
// how thick it is: a 3-5/8 in stud and a 5/8 in board on either side.
// Source: common practice, none published.
const unsaid = 4*measure.Inch + 7*measure.EighthInch

type centreEdge struct {
	fr int32
	edge
}
