package trace

import (
	"cmp"
	"slices"
	"sort"
)

// pane is a stretch of a wall's axis along which a line of a window runs.
type pane struct {
	interval
	r    Length
	line int32 // index of the mark, −1 for a wall-layer line
}

// adoptGlass finds windows in walls whose faces are drawn through: two or more
// lines of window layers side by side over one stretch, or, where the drawing
// has no window layer, a line between the faces with a jamb at either end.
func (t *tracer) adoptGlass() {
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead {
			continue
		}
		panes := t.panesOn(w)
		for k := 0; k < len(panes); {
			j := k + 1
			for j < len(panes) && panes[j].s0-panes[k].s0 <= 10*mm {
				j++
			}
			t.glaze(w, panes[k:j])
			k = j
		}
		t.glazeInside(w)
	}
}

// panesOn lists the window lines along a wall where it has no opening yet.
func (t *tracer) panesOn(w *wall) []pane {
	fr := &t.bundles[w.fr].fr
	var out []pane
	t.marks.lineAt.search(5*mm, func(k int32) {
		m := &t.marks.lines[k]
		if m.role != Windows {
			return
		}
		s0, s1, r0, r1 := extent2(fr, m.a, m.b)
		if r0 < w.ra-5*mm || r1 > w.rb+5*mm || r1-r0 > 2*Eps || s0 < w.s0()-slip || s1 > w.s1()+slip || w.open(s0, s1) {
			return
		}
		out = append(out, pane{interval{s0, s1}, (r0 + r1) / 2, k})
	}, bandBox(fr, w.s0(), w.s1(), w.ra, w.rb)...)
	slices.SortFunc(out, func(a, b pane) int {
		return cmp.Or(cmp.Compare(a.s0, b.s0), cmp.Compare(a.s1, b.s1), cmp.Compare(a.r, b.r))
	})
	return out
}

// open reports whether a stretch overlaps one of the wall's openings.
func (w *wall) open(s0, s1 Length) bool {
	for _, op := range w.openings() {
		if min(op.s1, s1)-max(op.s0, s0) > jambSlack {
			return true
		}
	}
	return false
}

// glaze makes a window of panes that begin together, if two of them, apart
// from each other, end together too.
func (t *tracer) glaze(w *wall, ps []pane) {
	fr := &t.bundles[w.fr].fr
	best := interval{}
	var lines []int32
	for _, p := range ps {
		var with []int32
		apart := false
		for _, q := range ps {
			if (q.s1 - p.s1).Abs() <= 10*mm {
				with = append(with, q.line)
				apart = apart || (q.r-p.r).Abs() > 5*mm
			}
		}
		if apart && p.s1-p.s0 > best.s1-best.s0 {
			best, lines = p.interval, with
		}
	}
	l := fr.along(best.s1-best.s0, (w.ra+w.rb)/2)
	if l < minOpening || l > maxOpening || w.open(best.s0, best.s1) {
		return
	}
	w.over = append(w.over, opening{interval: best, kind: Windows, host: -1, lines: lines, basis: "drawn"})
}

// glazeInside makes windows of lines of the wall layer itself that run between
// the faces from jamb to jamb, further in than a board's back would be.
func (t *tracer) glazeInside(w *wall) {
	b := &t.bundles[w.fr]
	if w.centre || w.thick() < 60*mm {
		return
	}
	lo := sort.Search(len(b.edges), func(i int) bool { return b.edges[i].r > w.ra+boardLine })
	var found []interval
	for _, e := range b.edges[lo:] {
		if e.r >= w.rb-boardLine {
			break
		}
		if e.s0 < w.s0()+jambSlack || e.s1 > w.s1()-jambSlack || w.open(e.s0, e.s1) {
			continue
		}
		l := b.fr.along(e.s1-e.s0, e.r)
		if l < minOpening || l > maxOpening || w.covers(e.s0, e.s1) < l*9/10 {
			continue
		}
		var op opening
		if t.jambAt(&w.strand, e.s0, &op) && t.jambAt(&w.strand, e.s1, &op) {
			found = append(found, interval{e.s0, e.s1})
		}
	}
	for _, v := range union(found) {
		if !w.open(v.s0, v.s1) {
			w.over = append(w.over, opening{interval: v, kind: Windows, host: -1, basis: "drawn"})
		}
	}
}

// covers is how much of a stretch both faces are drawn on.
func (w *wall) covers(s0, s1 Length) Length {
	var sum Length
	for i := range w.pieces {
		sum += max(0, min(w.pieces[i].s1, s1)-max(w.pieces[i].s0, s0))
	}
	return sum
}
