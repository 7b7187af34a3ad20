package trace

import (
	"fmt"
	"math"

	"boardrun/internal/plan"
)

const (
	// maxTile is the longest line of a floor pattern, and jointGap the widest
	// joint between two tiles or slabs.
	// Source: common practice (slabs to 1.2 m, joints to 15 mm), none published.
	maxTile  = 1300 * mm
	jointGap = 15 * mm
	// tiles and tileShare are how many such lines, and what share of all, make a
	// pattern. Source: own choice.
	tiles     = 200
	tileShare = 0.3
)

// dropPattern takes the floor pattern off a layer that no name makes a wall
// layer: short lines that each run close beside another, as the two edges of a
// joint do, when there are hundreds of them.
func (t *tracer) dropPattern() {
	guessed := func(s *stroke) bool {
		c := t.src[s.src].class
		return c >= 0 && t.classes[c].use.Guessed
	}
	var ix boxIndex
	n := 0
	for i := range t.faces {
		s := &t.faces[i]
		ix.add(int32(i), s.a, s.b)
		if guessed(s) {
			n++
		}
	}
	if n < tiles {
		return
	}
	joint := make([]bool, len(t.faces))
	found := 0
	for i := range t.faces {
		if s := &t.faces[i]; guessed(s) && t.lengthOf(*s) <= maxTile && t.besideAnother(&ix, int32(i)) {
			joint[i] = true
			found++
		}
	}
	if found < tiles || float64(found) < tileShare*float64(n) {
		return
	}
	found += t.tileEdges(joint, guessed)
	t.patternEnt = map[int]bool{}
	keep := t.faces[:0:0]
	var sum Length
	first := int32(-1)
	for i, s := range t.faces {
		if !joint[i] {
			keep = append(keep, s)
			continue
		}
		t.patternEnt[t.src[s.src].c.Entity] = true
		sum += t.lengthOf(s)
		if first < 0 || cmpPt(s.a, t.faces[first].a) < 0 {
			first = int32(i)
		}
	}
	at := t.global(t.faces[first].a)
	t.faces = keep
	t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
		Severity: plan.Warning, Code: CodePattern, At: &at, Source: plan.Source{File: t.d.File}, Span: sum,
		Message: fmt.Sprintf("%d lines no longer than %s, most in pairs less than %s apart, %.0f m in all, are the pattern of a floor", found, sizeText(maxTile), sizeText(jointGap), sum.Metres()),
		Did:     "left out; if walls are among them, name in the job the layers that hold walls",
	})
}

// tileEdges adds the outer edges of the tiles at the border: short lines that run
// from joint to joint. It returns how many.
func (t *tracer) tileEdges(joint []bool, guessed func(*stroke) bool) int {
	n := 0
	for range 2 { // a corner tile has two outer edges
		ends := map[pt]bool{}
		snap := func(p pt) pt { return pt{X: p.X.RoundTo(Eps), Y: p.Y.RoundTo(Eps)} }
		for i := range t.faces {
			if joint[i] {
				ends[snap(t.faces[i].a)], ends[snap(t.faces[i].b)] = true, true
			}
		}
		var more []int
		for i := range t.faces {
			s := &t.faces[i]
			if a, b := ends[snap(s.a)], ends[snap(s.b)]; !joint[i] && guessed(s) && t.lengthOf(*s) <= maxTile && (a && b || n > 0 && (a || b)) {
				more = append(more, i)
			}
		}
		for _, i := range more {
			joint[i] = true
		}
		n += len(more)
	}
	return n
}

// besideAnother reports whether other lines run along a stroke, within a joint's
// width of it, over most of its length.
func (t *tracer) besideAnother(ix *boxIndex, i int32) bool {
	s := &t.faces[i]
	d := s.b.Sub(s.a)
	l := math.Sqrt(norm2(d))
	if l == 0 {
		return false
	}
	ux, uy := float64(d.X)/l, float64(d.Y)/l
	to := func(p pt) (u, v Length) {
		x, y := float64(p.X-s.a.X), float64(p.Y-s.a.Y)
		return round(float64(ux*x) + float64(uy*y)), round(float64(ux*y) - float64(uy*x))
	}
	var iv []interval
	ix.search(jointGap, func(k int32) {
		if k == i {
			return
		}
		u0, v0 := to(t.faces[k].a)
		u1, v1 := to(t.faces[k].b)
		if (v0-v1).Abs() > Eps || v0.Abs() > jointGap || v0.Abs() <= Eps {
			return
		}
		if o := (interval{max(0, min(u0, u1)), min(round(l), max(u0, u1))}); o.s1 > o.s0 {
			iv = append(iv, o)
		}
	}, s.a, s.b)
	var sum Length
	for _, v := range union(iv) {
		sum += v.s1 - v.s0
	}
	return float64(sum) >= 0.8*l
}
