package trace

import (
	"cmp"
	"slices"
)

// Eps is the snap tolerance of the tracer: lines that overlap, touch or miss
// each other by less are one line. It is drafting noise, well under a board.
// Source: common practice (1 mm, 1/32 in), none published.
const Eps = 8000

// part is one stroke in its frame's coordinates: s0 ≤ s1.
type part struct {
	r, s0, s1 Length
	src       int32
}

// edge is a maximal stretch of collinear linework. Its parts are sorted by s0
// and cover it without a gap beyond Eps.
type edge struct {
	r, s0, s1 Length
	parts     []part
}

// bundle is every edge of one frame, sorted by r, then s0, then s1.
type bundle struct {
	fr      frame
	edges   []edge
	slices  []slice
	support map[axisKey]Length // what the bundle taught of its axis lines
}

// mergeParts joins parts that lie on one line and overlap or touch: a line
// drawn twice, split in seven or drawn backwards gives the same edge.
func mergeParts(parts []part) []edge {
	slices.SortFunc(parts, func(a, b part) int { return cmp.Compare(a.r, b.r) })
	var out []edge
	for i := 0; i < len(parts); {
		j := i + 1
		for j < len(parts) && parts[j].r-parts[j-1].r <= Eps {
			j++
		}
		out = mergeLine(out, parts[i:j])
		i = j
	}
	slices.SortFunc(out, func(a, b edge) int {
		return cmp.Or(cmp.Compare(a.r, b.r), cmp.Compare(a.s0, b.s0), cmp.Compare(a.s1, b.s1))
	})
	return out
}

// mergeLine merges the parts of one line, all within a chain of Eps steps.
func mergeLine(out []edge, line []part) []edge {
	slices.SortFunc(line, func(a, b part) int {
		return cmp.Or(cmp.Compare(a.s0, b.s0), cmp.Compare(a.s1, b.s1), cmp.Compare(a.r, b.r), cmp.Compare(a.src, b.src))
	})
	var open []edge
	for _, p := range line {
		k := -1
		for i := range open {
			if p.s0-open[i].s1 <= Eps && (p.r-open[i].r).Abs() <= Eps {
				k = i
				break
			}
		}
		if k < 0 {
			open = append(open, edge{r: p.r, s0: p.s0, s1: p.s1, parts: []part{p}})
			continue
		}
		e := &open[k]
		e.s1 = max(e.s1, p.s1)
		e.parts = append(e.parts, p)
		// edges that can take no more part move out of the way
		for i := 0; i < len(open)-1; i++ {
			if open[i].s1 < p.s0-Eps {
				out = append(out, open[i])
				open = append(open[:i:i], open[i+1:]...)
				i--
			}
		}
	}
	return append(out, open...)
}
