package report

import (
	"sort"
	"strings"
)

// CutPattern is one way of cutting a sheet and the sheets cut that way.
type CutPattern struct {
	Board  string
	Size   string
	Sheets []string // ids, in order
	Marks  string   // of the pieces, sheet by sheet
	sheet  *Sheet
}

// CutPatterns lists the ways sheets are cut, like ones together, in the order
// of the sheets; sheets hung whole are left out.
func (w *Draft) CutPatterns() []CutPattern {
	by := map[string]int{}
	var out []CutPattern
	for i := range w.t.Sheets {
		s := &w.t.Sheets[i]
		key, whole := w.patternKey(s)
		if whole {
			continue
		}
		k, ok := by[key]
		if !ok {
			k = len(out)
			by[key] = k
			out = append(out, CutPattern{Board: s.Board, Size: w.p.size(s.WidthMM, s.LengthMM), sheet: s})
		}
		out[k].Sheets = append(out[k].Sheets, s.ID)
		var marks []string
		for _, p := range s.Placements {
			marks = append(marks, p.Piece)
		}
		out[k].Marks = addMarks(out[k].Marks, marks)
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].Board < out[b].Board })
	return out
}

// addMarks writes a sheet's marks behind those before it, without repeating the
// side where that is the same.
func addMarks(before string, marks []string) string {
	side := ""
	if i := strings.LastIndex(before, "-"); i >= 0 {
		start := strings.LastIndexAny(before[:i], " ") + 1
		if k := strings.Index(before[start:], "/"); k >= 0 {
			side = before[start : start+k]
		}
	}
	var out []string
	for _, m := range marks {
		face, rest, _ := strings.Cut(sideMark(m), "/")
		if face == side {
			out = append(out, rest)
			continue
		}
		side = face
		out = append(out, face+"/"+rest)
	}
	s := strings.Join(out, " + ")
	if before == "" {
		return s
	}
	return before + ", " + s
}

// patternKey tells sheets apart by what paper shows of them, and whether a
// sheet is hung as bought.
func (w *Draft) patternKey(s *Sheet) (key string, whole bool) {
	var b strings.Builder
	b.WriteString(s.Board + "|" + w.p.size(s.WidthMM, s.LengthMM))
	whole = len(s.Placements) > 0
	for _, p := range s.Placements {
		q := w.piece[p.Piece]
		whole = whole && q != nil && q.Uncut && !w.Cut(q)
		for _, c := range p.OutlineMM {
			b.WriteString("|" + w.p.cut(c[0]).Text + "," + w.p.cut(c[1]).Text)
		}
		b.WriteString(";")
	}
	return b.String(), whole
}

// SheetCut draws how a sheet is cut: pieces with mark and size, cuts numbered
// in their order, offcuts that are kept.
func (w *Draft) SheetCut(c CutPattern, scale float64) *Picture {
	s := c.sheet
	d := &Picture{Name: s.ID, Title: s.ID, Scale: scale}
	e := elevation{w: w, d: d, scale: scale}
	for _, o := range s.Offcuts {
		fill := FillHatch
		if o.Kept {
			fill = FillPale
		}
		d.area(PenGround, LayerPiece, fill, o.OutlineMM)
	}
	for _, p := range s.Placements {
		d.area(PenOutline, LayerPiece, NoFill, p.OutlineMM).Ref = p.Piece
	}
	d.area(PenJoint, LayerPiece, NoFill, Poly{{0, 0}, {s.WidthMM, 0}, {s.WidthMM, s.LengthMM}, {0, s.LengthMM}})
	for _, p := range s.Placements {
		e.placed(&p, len(c.Sheets) > 1)
	}
	for _, o := range s.Offcuts {
		if lo, hi := bounds(o.OutlineMM); o.Kept && hi[0]-lo[0] > e.mm(9) && hi[1]-lo[1] > e.mm(4) {
			at := UV{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2}
			e.text("keep", sizeText, true, 0, at, 0, 1.3)
			e.text(w.p.cut(hi[0]-lo[0]).Text+" × "+w.p.cut(hi[1]-lo[1]).Text, sizeSmall, false, 0, at, 0, -1.3)
		}
	}
	d.fit()
	return d
}

// placed labels a piece on its sheet. Where like sheets stand for one another
// its size is told and not its mark.
func (e *elevation) placed(p *Placement, many bool) {
	q := e.w.piece[p.Piece]
	if q == nil || len(p.OutlineMM) < 3 {
		return
	}
	size := e.w.sizeOf(q)
	mark := sideMark(q.ID)
	if many {
		mark = ""
	}
	ws, wm := TextWidth(size, sizeText, false), TextWidth(mark, sizeText, true)
	lo, hi := room(p.OutlineMM, nil, e.mm(max(ws, wm)), e.mm(6))
	c := UV{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2}
	w, h := float64(hi[0]-lo[0])/e.scale, float64(hi[1]-lo[1])/e.scale
	angle, long, deep := 0.0, w, h
	if w < max(ws, wm)+0.6 && h > w {
		angle, long, deep = 90, h, w
	}
	move := func(by float64) (dx, dy float64) {
		if angle == 90 {
			return -by, 0
		}
		return 0, by
	}
	switch {
	case deep >= 5.4 && long >= max(ws, wm) && mark != "":
		dx, dy := move(1.4)
		e.text(mark, sizeText, true, angle, c, dx, dy)
		e.text(size, sizeText, false, angle, c, -dx, -dy)
	case deep >= 2.3 && long >= ws+wm+1.5 && mark != "":
		e.text(mark+"  "+size, sizeText, false, angle, c, 0, 0)
	case deep >= 2.0 && long >= wm && mark != "":
		e.text(mark, sizeText, true, angle, c, 0, 0)
	case deep >= 2.0 && mark == "":
		e.text(size, sizeText, false, angle, c, 0, 0)
	}
}

// sideMark is a piece's mark without its ply where that is the only one.
func sideMark(id string) string { return strings.Replace(id, "/1/", "/", 1) }
