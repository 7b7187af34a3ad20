package trace

import (
	"math"
)

// unread is a stretch of wall linework that no wall explains.
type unread struct {
	a, b pt
	l    Length
	src  int32
}

// cover finds out how much of each wall-layer line the walls explain: as a
// face, or by lying within a wall's band (jambs, ends, lines inside). It fills
// t.rest, per source, and t.unread.
func (t *tracer) cover() {
	t.rest = make([]Length, len(t.src))
	t.reindexWalls()
	used := make([][][]interval, len(t.bundles))
	for i := range t.bundles {
		used[i] = make([][]interval, len(t.bundles[i].edges))
	}
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead {
			continue
		}
		for _, p := range w.pieces {
			if p.a >= 0 && p.s1 > p.s0 {
				used[w.fr][p.a] = append(used[w.fr][p.a], interval{p.s0, p.s1})
				used[w.fr][p.b] = append(used[w.fr][p.b], interval{p.s0, p.s1})
			}
		}
	}
	for i := range t.bundles {
		b := &t.bundles[i]
		for k := range b.edges {
			e := &b.edges[k]
			for _, v := range less(e.s0, e.s1, union(used[i][k])) {
				t.coverStretch(&b.fr, e, v)
			}
		}
	}
	for _, c := range t.centreEdges {
		t.coverStretch(&t.bundles[c.fr].fr, &c.edge, interval{c.s0, c.s1})
	}
}

// coverStretch notes what of a stretch of an edge lies in no wall's band.
func (t *tracer) coverStretch(fr *frame, e *edge, v interval) {
	var cov []interval
	ends := bandBox(fr, v.s0, v.s1, e.r, e.r)
	t.wallTree.search(2*Eps, func(k int32) {
		w := &t.walls[k]
		if c, ok := t.inBand(fr, e.r, v, w); ok {
			cov = append(cov, c)
		}
	}, ends...)
	for _, u := range less(v.s0, v.s1, union(cov)) {
		first := int32(-1)
		for i := range e.parts {
			p := &e.parts[i]
			l := min(p.s1, u.s1) - max(p.s0, u.s0)
			if l <= 0 {
				continue
			}
			t.rest[p.src] += fr.along(l, e.r)
			if first < 0 {
				first = p.src
			}
		}
		if first >= 0 {
			t.unread = append(t.unread, unread{fr.from(u.s0, e.r), fr.from(u.s1, e.r), fr.along(u.s1-u.s0, e.r), first})
		}
	}
}

// inBand returns the stretch of a line (frame fr, offset r) within a wall's
// band, its joined ends carried on through the walls they meet.
func (t *tracer) inBand(fr *frame, r Length, v interval, w *wall) (interval, bool) {
	wf := &t.bundles[w.fr].fr
	lo, hi := w.reach(t)
	in := func(s Length) bool {
		ws, wr := wf.to(fr.from(s, r))
		return ws >= lo && ws <= hi && wr >= w.ra-2*Eps && wr <= w.rb+2*Eps
	}
	if fr.polar || wf.polar {
		const n = 32
		out, found := interval{}, false
		for i := 0; i <= n; i++ {
			s := v.s0 + (v.s1-v.s0)*Length(i)/n
			if in(s) {
				if !found {
					out.s0, found = s, true
				}
				out.s1 = s
			}
		}
		return out, found && out.s1 > out.s0
	}
	s0, r0 := wf.to(fr.from(v.s0, r))
	s1, r1 := wf.to(fr.from(v.s1, r))
	t0, t1 := 0.0, 1.0
	if !clip(float64(s0), float64(s1), float64(lo), float64(hi), &t0, &t1) ||
		!clip(float64(r0), float64(r1), float64(w.ra-2*Eps), float64(w.rb+2*Eps), &t0, &t1) {
		return interval{}, false
	}
	l := float64(v.s1 - v.s0)
	return interval{v.s0 + Length(math.Floor(t0*l)), v.s0 + Length(math.Ceil(t1*l))}, true
}

// clip narrows [t0, t1] to where a + t(b−a) lies in [lo, hi].
func clip(a, b, lo, hi float64, t0, t1 *float64) bool {
	if a == b {
		return a >= lo && a <= hi
	}
	u, v := (lo-a)/(b-a), (hi-a)/(b-a)
	if u > v {
		u, v = v, u
	}
	*t0, *t1 = math.Max(*t0, u), math.Min(*t1, v)
	return *t0 < *t1
}

// reach is how far a wall's band runs, through the walls its ends meet.
func (w *wall) reach(t *tracer) (lo, hi Length) {
	lo, hi = min(w.s0(), w.from)-2*Eps, max(w.s1(), w.to)+2*Eps
	if k := w.meets[0]; k >= 0 && w.ends[0] != inlineEnd {
		lo -= t.walls[k].thick()
	}
	if k := w.meets[1]; k >= 0 && w.ends[1] != inlineEnd {
		hi += t.walls[k].thick()
	}
	return lo, hi
}

// reindexWalls rebuilds the search tree over the living walls' full reach.
func (t *tracer) reindexWalls() {
	t.wallTree = boxIndex{}
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead {
			continue
		}
		lo, hi := w.reach(t)
		t.wallTree.add(int32(i), bandBox(&t.bundles[w.fr].fr, lo, hi, w.ra-2*Eps, w.rb+2*Eps)...)
	}
}
