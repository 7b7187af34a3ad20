package trace

import "slices"

// minBack is the least length of a wall that shares a face with the wall behind
// it. Source: own choice.
const minBack = 300 * mm

// backToBack finds walls that stand against another wall and share its face: a
// shaft's lining behind a partition, a wall against an outer wall. A line is
// drawn once for both, and pairing gives it to one. What is left is the other
// face of the second wall. It has to stand off at one of the drawing's own
// thicknesses, with nothing drawn between, and to meet other wall lines at both
// ends, as the outline of a body does, or to go on as the same wall.
//
//	═══════════════════  wall found
//	───────────────────  its face, shared
//	───────────────────  left over: the second wall's face
func (t *tracer) backToBack(b *bundle) {
	if len(b.slices) == 0 || b.fr.polar {
		return
	}
	type side struct {
		interval
		up bool   // the wall lies at greater r
		r  Length // of its other face
	}
	used := make([][]side, len(b.edges))
	for _, s := range b.slices {
		if s.s1-s.s0 < minBack { // where a wall behind interrupts the shared face
			continue
		}
		used[s.a] = append(used[s.a], side{interval{s.s0, s.s1}, true, b.edges[s.b].r})
		used[s.b] = append(used[s.b], side{interval{s.s0, s.s1}, false, b.edges[s.a].r})
	}
	free := func(k int32) []interval {
		e := &b.edges[k]
		var iv []interval
		for _, u := range used[k] {
			iv = append(iv, u.interval)
		}
		return less(e.s0, e.s1, union(iv))
	}
	var found []slice
	// ends reports whether a stretch of edge k ends as a body does, between it and
	// a face at r: at a line across, or where the same two lines go on as a wall.
	ends := func(k int32, v interval, r Length) bool {
		for _, s := range [2]Length{v.s0, v.s1} {
			on := slices.ContainsFunc(used[k], func(u side) bool {
				return (u.r-r).Abs() <= Eps && ((u.s1-s).Abs() <= Eps || (u.s0-s).Abs() <= Eps)
			})
			if !on && !t.closedAt(b, k, s) {
				return false
			}
		}
		return true
	}
	try := func(k int32, v interval, dir int32) bool {
		e := &b.edges[k]
		at := v
		for j := k + dir; j >= 0 && j < int32(len(b.edges)); j += dir {
			f := &b.edges[j]
			d := (f.r - e.r).Abs()
			if d > maxThick {
				return false
			}
			o := interval{max(at.s0, f.s0), min(at.s1, f.s1)}
			if o.s1-o.s0 <= Eps {
				continue
			}
			if d < minThick { // a line just beside it: no body between
				return false
			}
			var shared []interval
			for _, u := range used[j] {
				if u.up == (dir > 0) { // the wall lies on the far side of the shared line
					shared = append(shared, interval{max(o.s0, u.s0), min(o.s1, u.s1)})
				} else if min(o.s1, u.s1) > max(o.s0, u.s0) { // or between the two lines
					return false
				}
			}
			var l Length
			for _, u := range union(shared) {
				l += max(0, u.s1-u.s0)
			}
			if !ends(k, v, f.r) || l < minBack || 10*l < 7*(at.s1-at.s0) || !t.h.usual(d, o.s1-o.s0) {
				return false
			}
			found = append(found, slice{min(k, j), max(k, j), o.s0, o.s1})
			return true
		}
		return false
	}
	for k := range b.edges {
		for _, v := range free(int32(k)) {
			if v.s1-v.s0 < minBack {
				continue
			}
			up, down := len(found), 0
			if try(int32(k), v, 1) {
				down = len(found)
			}
			if try(int32(k), v, -1) && down > 0 { // lines on both sides: nothing says which
				found = found[:up]
			}
		}
	}
	b.slices = append(b.slices, found...)
}

// closedAt reports whether another wall line, across, meets an edge at a station.
func (t *tracer) closedAt(b *bundle, k int32, s Length) bool {
	p := b.fr.from(s, b.edges[k].r)
	hit := false
	t.faceTree.search(slip, func(i int32) {
		if hit {
			return
		}
		st := &t.faces[i]
		s0, s1, r0, r1 := extent2(&b.fr, st.a, st.b)
		hit = r1-r0 > slip && s1-s0 < r1-r0 && s0 >= s-2*slip && s1 <= s+2*slip && r0 <= b.edges[k].r+slip && r1 >= b.edges[k].r-slip
	}, p)
	return hit
}

// indexFaces builds the search tree of the wall lines.
func (t *tracer) indexFaces() {
	t.faceTree = boxIndex{}
	for i, s := range t.faces {
		t.faceTree.add(int32(i), s.a, s.b)
	}
	t.faceTree.build()
}
