package report

import "sort"

// Sizes of type on elevations, mm on paper.
const (
	sizeMark  = 3.2
	sizeText  = 2.2
	sizeSmall = 1.9
)

// marks writes each piece's mark and size into it, where it fits; a piece too
// small for its mark gets it above the deck, with a leader.
func (e *elevation) marks() {
	var out []leader
	for _, q := range e.w.Pieces(e.f, e.ply) {
		o := e.clip(q.OutlineUV)
		lo, hi := bounds(o)
		if len(o) < 3 || !e.seen(lo[0], hi[0]) {
			continue
		}
		if q.Role == "top" && e.topLabel(q, o) || e.pieceLabel(q, o) {
			continue
		}
		out = append(out, leader{ShortMark(q.ID), UV{(lo[0] + hi[0]) / 2, hi[1] - e.mm(0.6)}})
	}
	e.openingLabels(&out)
	e.leaders(out)
}

// sizeOf is a piece's size as people say it.
func (w *Draft) sizeOf(q *Piece) string {
	wd, l, r := pieceSize(q)
	s := w.p.cut(wd).Text + " × " + w.p.cut(l).Text
	if rt := w.p.cut(r).Text; rt != w.p.cut(l).Text {
		s += " / " + rt
	}
	return s
}

// pieceLabel tries ways of writing mark and size, the best first.
func (e *elevation) pieceLabel(q *Piece, o Poly) bool {
	mark, size := ShortMark(q.ID), e.w.sizeOf(q)
	if q.Uncut {
		size += ", uncut"
	}
	wm, ws := TextWidth(mark, sizeMark, true), TextWidth(size, sizeText, false)
	ways := []struct {
		w, h float64
		put  func(c UV)
	}{
		{max(wm, ws) + 1, sizeMark + sizeText + 2, func(c UV) {
			e.text(mark, sizeMark, true, 0, c, 0, 1.8)
			e.text(size, sizeText, false, 0, c, 0, -1.8)
		}},
		{max(wm, sizeText+1) + 0.6, ws + sizeMark + 2.5, func(c UV) {
			e.text(mark, sizeMark, true, 0, c, 0, ws/2+1)
			e.text(size, sizeText, false, 90, c, 0, -sizeMark/2)
		}},
		{sizeText + 0.6, TextWidth(mark, sizeText, true) + ws + 2.5, func(c UV) {
			wt := TextWidth(mark, sizeText, true)
			e.text(mark, sizeText, true, 90, c, 0, -(ws+1.5)/2)
			e.text(size, sizeText, false, 90, c, 0, (wt+1.5)/2)
		}},
		{wm + 0.4, sizeMark + 0.4, func(c UV) { e.text(mark, sizeMark, true, 0, c, 0, 0) }},
		{TextWidth(mark, sizeSmall, true) + 0.3, sizeSmall + 0.2, func(c UV) { e.text(mark, sizeSmall, true, 0, c, 0, 0) }},
		{sizeSmall + 0.2, TextWidth(mark, sizeSmall, true) + 0.3, func(c UV) { e.text(mark, sizeSmall, true, 90, c, 0, 0) }},
	}
	for _, y := range ways {
		lo, hi := room(o, q.CutoutsUV, e.mm(y.w), e.mm(y.h))
		if hi[0]-lo[0] < e.mm(y.w) || hi[1]-lo[1] < e.mm(y.h) {
			continue
		}
		y.put(UV{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2})
		return true
	}
	return false
}

// topLabel writes the height of a top at its left and right side, its mark and
// width between them.
func (e *elevation) topLabel(q *Piece, o Poly) bool {
	wd, l, r := pieceSize(q)
	mark, width := ShortMark(q.ID), e.w.p.cut(wd).Text
	left, right := e.w.p.cut(l).Text, e.w.p.cut(r).Text
	wl, wr, wm := TextWidth(left, sizeText, false), TextWidth(right, sizeText, false), TextWidth(mark, sizeMark, true)
	full, _ := bounds(q.OutlineUV)
	if lo, hi := bounds(o); hi[0]-lo[0] < wd-1 || full[0] < e.u0-1 {
		return false // cut by a match line: its sides are not both seen
	}
	flat := wl + wr + wm + 4
	upright := 2*(sizeText+1) + max(wm, TextWidth(width, sizeText, false)) + 1
	lo, hi := room(o, q.CutoutsUV, e.mm(flat), e.mm(7))
	w, h := float64(hi[0]-lo[0])/e.scale, float64(hi[1]-lo[1])/e.scale
	c := UV{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2}
	switch {
	case w >= flat && h >= sizeMark+0.6:
		at := w/2 - 0.8
		e.text(left, sizeText, false, 0, c, -at, 0).Align = AlignLeft
		e.text(right, sizeText, false, 0, c, at, 0).Align = AlignRight
	case w >= upright && h >= max(wl, wr)+0.8:
		at := w/2 - sizeText/2 - 0.5
		e.text(left, sizeText, false, 90, c, -at, 0)
		e.text(right, sizeText, false, 90, c, at, 0)
	default:
		return false
	}
	if h < sizeMark+sizeText+1.6 {
		e.text(mark, sizeMark, true, 0, c, 0, 0)
		return true
	}
	e.text(mark, sizeMark, true, 0, c, 0, 1.5)
	e.text(width, sizeText, false, 0, c, 0, -1.7)
	return true
}

// text writes a label at c, moved by dx and dy on paper.
func (e *elevation) text(s string, size float64, bold bool, angle float64, c UV, dx, dy float64) *Mark {
	m := e.d.label(LayerNote, s, size, UV{c[0] + e.mm(dx), c[1] + e.mm(dy)})
	m.Bold, m.Angle = bold, angle
	return m
}

// openingLabels writes each opening's mark and the size of its hole.
func (e *elevation) openingLabels(out *[]leader) {
	for _, h := range e.f.HolesUV {
		lo, hi := bounds(h)
		if !e.seen(lo[0], hi[0]) {
			continue
		}
		size := e.w.p.cut(hi[0]-lo[0]).Text + " × " + e.w.p.cut(hi[1]-lo[1]).Text
		name := ""
		if op := e.w.openingAt(e.f, lo, hi); op != nil {
			name = openingName(op)
		}
		lo[0], hi[0] = max(lo[0], e.u0), min(hi[0], e.u1)
		w, ht := float64(hi[0]-lo[0])/e.scale, float64(hi[1]-lo[1])/e.scale
		c := UV{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2}
		need := max(TextWidth(name, 2.6, true), TextWidth(size, sizeText, false)) + 0.8
		switch {
		case w >= need && ht >= 6.5:
			e.text(name, 2.6, true, 0, c, 0, 1.7)
			e.text(size, sizeText, false, 0, c, 0, -1.6)
		case ht >= need && w >= 6.5:
			e.text(name, 2.6, true, 90, c, -1.7, 0)
			e.text(size, sizeText, false, 90, c, 1.6, 0)
		case ht >= TextWidth(name+"  "+size, sizeText, true) && w >= sizeText+0.5:
			e.text(name+"  "+size, sizeText, true, 90, c, 0, 0)
		case w >= TextWidth(name+"  "+size, sizeText, true) && ht >= sizeText+0.5:
			e.text(name+"  "+size, sizeText, true, 0, c, 0, 0)
		case e.beyond(name, size, c, ht):
		default:
			*out = append(*out, leader{name + " " + size, UV{c[0], hi[1] - e.mm(0.6)}})
		}
	}
}

// beyond writes an opening's name and size beside its hole, over or under it,
// where both stay clear of other writing and of the board's edges.
func (e *elevation) beyond(name, size string, c UV, high float64) bool {
	if name == "" {
		return false
	}
	lo, hi := bounds(e.outline())
	put := func(text string, letters float64, bold bool, dy float64) bool {
		half := e.mm(TextWidth(text, letters, true) / 2)
		at := c[1] + e.mm(dy)
		if c[0]-half < e.u0 || c[0]+half > e.u1 || at < lo[1]+e.mm(2) || at > hi[1]-e.mm(3) {
			return false
		}
		e.text(text, letters, bold, 0, c, 0, dy)
		return e.d.clear(len(e.d.Marks) - 1)
	}
	h, n := high/2, len(e.d.Marks)
	for _, way := range [][2]float64{{h + 1.8, -h - 1.6}, {-h - 1.8, -h - 4.8}, {h + 4.8, h + 1.6}, {-h - 1.8, h + 1.6}} {
		if put(name, 2.6, true, way[0]) && put(size, sizeText, false, way[1]) {
			return true
		}
		e.d.Marks = e.d.Marks[:n]
	}
	return false
}

// openingName is what an opening is called on paper.
func openingName(o *Opening) string {
	if o.Mark != "" {
		return o.Kind + " " + short(o.Mark, 16)
	}
	return o.Kind + " " + o.ID[max(0, lastDash(o.ID)):]
}

func lastDash(id string) int {
	for i := len(id) - 1; i >= 0; i-- {
		if id[i] == '-' {
			return i + 1
		}
	}
	return 0
}

// short cuts a name to n letters.
func short(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	return string(r[:n-1]) + "…"
}

// openingAt finds the opening a hole of a face belongs to, nil where none does.
func (w *Draft) openingAt(f *Face, lo, hi UV) *Opening {
	r := w.p.run[f.Run]
	if r == nil {
		return nil
	}
	mid := (lo[0] + hi[0]) / 2
	var best *Opening
	var near MM
	for _, o := range w.open[f.Run] {
		s := o.UMM
		if len(o.Faces) > 0 {
			if g := w.p.fac[o.Faces[0]]; g != nil {
				s = station(g, o.UMM)
			}
		}
		d := station(f, mid) - s
		if d < 0 {
			d = -d
		}
		if d > o.WidthMM/2 || hi[1] > o.HeadMM+1 && lo[1] < o.SillMM-1 {
			continue
		}
		if best == nil || d < near {
			best, near = o, d
		}
	}
	return best
}

// leader is a label that does not fit where it belongs.
type leader struct {
	text string
	at   UV
}

// leaders writes labels above the deck with lines to what they name, none over
// another.
func (e *elevation) leaders(list []leader) {
	if len(list) == 0 {
		return
	}
	sort.SliceStable(list, func(a, b int) bool { return list[a].at[0] < list[b].at[0] })
	_, hi := bounds(e.outline())
	if e.run != nil {
		for _, q := range e.deckLine() {
			hi[1] = max(hi[1], q[1])
		}
	}
	if len(list) == 1 {
		foot := UV{list[0].at[0], hi[1] + e.mm(3)}
		e.d.line(PenDim, LayerDim, list[0].at, foot)
		e.text(list[0].text, sizeText, true, 0, foot, 0, 1.6)
		return
	}
	want := make([]float64, len(list))
	for i, l := range list {
		want[i] = float64(l.at[0]) / e.scale
	}
	for i, x := range spread(want, 2.6) {
		foot := UV{MM(x * e.scale), hi[1] + e.mm(4)}
		e.d.line(PenDim, LayerDim, list[i].at, foot)
		m := e.text(list[i].text, sizeText, true, 90, foot, 0, 0.6)
		m.Align = AlignLeft
	}
}
