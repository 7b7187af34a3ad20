package trace

import (
	"fmt"
	"slices"
	"sort"

	"boardrun/internal/plan"
)

// minInside is the least length of a line inside a wall that is told of.
// Source: own choice.
const minInside = 500 * mm

// linesInside tells of walls in which a third line runs along that is neither
// the back of a board nor the middle: two walls side by side may be drawn so, or
// a wall and its furring. The outer faces hold.
func (t *tracer) linesInside() {
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead || t.planWall[i] < 0 {
			continue
		}
		b := &t.bundles[w.fr]
		var iv []interval
		at, src := Length(0), int32(-1)
		for _, p := range w.pieces {
			if p.a < 0 {
				continue
			}
			lo := sort.Search(len(b.edges), func(k int) bool { return b.edges[k].r > p.ra+boardLine })
			for k := lo; k < len(b.edges) && b.edges[k].r < p.rb-boardLine; k++ {
				e := &b.edges[k]
				v := interval{max(e.s0, p.s0), min(e.s1, p.s1)}
				if v.s1-v.s0 <= slip || (2*e.r-p.ra-p.rb).Abs() <= 10*mm {
					continue
				}
				iv = append(iv, v)
				if src < 0 {
					at, src = e.r, e.parts[0].src
				}
			}
		}
		var sum Length
		iv = union(iv)
		for _, v := range iv {
			sum += b.fr.along(v.s1-v.s0, at)
		}
		if sum < minInside {
			continue
		}
		g := t.global(b.fr.from(iv[0].s0, at))
		near := min(at-w.ra, w.rb-at)
		t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
			Severity: plan.Warning, Code: CodeInside, Source: t.source(src), At: &g, Span: sum,
			Message: fmt.Sprintf("a line runs along inside a wall %s thick, %s from one face", sizeText(w.thick()), sizeText(near)),
			Did:     "one wall between the outer lines; if it is two walls side by side, or a wall and its furring, say so in the job",
		})
	}
}

// longest is the longest piece of a wall that is drawn.
func (w *wall) longest() Length {
	return slices.MaxFunc(w.pieces, func(a, b piece) int { return int(max(-1, min(1, (a.s1-a.s0)-(b.s1-b.s0)))) }).length()
}

func (p piece) length() Length { return p.s1 - p.s0 }
