package report

import (
	"math"
	"strings"

	"boardrun/internal/measure"
)

// sheetRows lists the pieces to stand in hanging order; like neighbours share a
// row, with a box to tick for each.
func (w *Draft) sheetRows(pieces []*Piece) Block {
	b := Block{Key: "sheets", Title: "Sheets to stand, in order", Columns: []Column{
		col("mark", "Mark", 9, Words), col("size", "From", w.sizeWidth(), Words), col("width", "Width", 9, Lengths), col("left", "Left", 9, Lengths), col("right", "Right", 9, Lengths),
		col("marks", "Centres from start edge", 22, Words), col("shape", "Cut", 26, Words), col("ok", "", 5, Box),
	}}
	last := ""
	for _, q := range pieces {
		if q.Role == "top" {
			continue
		}
		wd, l, r := pieceSize(q)
		size := ""
		if s := w.sheet[q.Sheet]; s != nil {
			size = w.p.size(s.WidthMM, s.LengthMM)
		}
		row := []Cell{T(ShortMark(q.ID)).As(Strong), T(size), w.p.cut(wd), w.p.cut(l), w.p.cut(r), T(w.p.centres(q)), T(w.cutText(q)), I(1)}
		last = appendLike(&b, row, last)
	}
	boxes(&b)
	return b
}

// sizeWidth is the width of a column of sheet sizes: 4x10, 1200x3000.
func (w *Draft) sizeWidth() float64 {
	if w.Metric() {
		return 13
	}
	return 8
}

// boxes makes the last column wide enough for a few boxes beside one another.
func boxes(b *Block) {
	ok := &b.Columns[len(b.Columns)-1]
	for _, r := range b.Rows {
		ok.Width = max(ok.Width, min(2.6*r[len(r)-1].Num+1.5, 11))
	}
}

// appendLike adds a row, or counts it with the row before where all but the
// mark is the same; it returns the mark of the row's first piece.
func appendLike(b *Block, row []Cell, first string) string {
	if n := len(b.Rows); n > 0 {
		prev, same := b.Rows[n-1], true
		for i := 1; i+1 < len(row); i++ {
			same = same && prev[i].Text == row[i].Text
		}
		if same {
			prev[len(prev)-1].Num++
			prev[0].Text = first + "–" + row[0].Text
			return first
		}
	}
	b.Rows = append(b.Rows, row)
	return row[0].Text
}

// cutText is the cut of a piece with its role, weight and exposed edge where
// they matter.
func (w *Draft) cutText(q *Piece) string {
	var s []string
	if q.Role != "sheet" && q.Role != "course" && q.Role != "top" {
		s = append(s, q.Role)
	}
	if c := w.CutShape(q); c != "" {
		s = append(s, c)
	} else if q.Role == "sheet" && w.sheet[q.Sheet] != nil {
		// An empty cell could be read as uncut.
		switch _, l, r := pieceSize(q); {
		case w.p.cut(l).Text != w.p.cut(r).Text:
			s = append(s, "cut to the slope")
		case w.p.cut(l).Text != w.p.cut(w.sheet[q.Sheet].LengthMM).Text:
			s = append(s, "cut to length")
		}
	}
	if q.Role == "rip" {
		switch {
		case q.Edges.Left == "tapered" && q.Edges.Right == "cut":
			s = append(s, "factory edge left")
		case q.Edges.Right == "tapered" && q.Edges.Left == "cut":
			s = append(s, "factory edge right")
		}
	}
	if q.TwoPeople != "" {
		s = append(s, "TWO PEOPLE ("+w.weight(q)+", "+q.TwoPeople+")")
	}
	return strings.Join(s, "; ")
}

func (w *Draft) weight(q *Piece) string {
	return strconvI(int(math.Ceil(w.p.mass(float64(q.MassKg))-1e-6))) + " " + w.p.lbName()
}

// topRows is the tops list of a side: left, right, width.
func (w *Draft) topRows(pieces []*Piece) Block {
	b := Block{Key: "tops", Title: "Tops, in order: measure left and right before cutting", Columns: []Column{
		col("mark", "Mark", 8, Words), col("left", "Left", 9, Lengths), col("right", "Right", 9, Lengths), col("width", "Width", 9, Lengths),
		col("marks", "Centres from start edge", 20, Words), col("cut", "Cut-outs", 18, Words), col("size", "From", 5+w.sizeWidth()*0.6, Words), col("ok", "", 4, Box),
	}}
	last := ""
	for _, q := range pieces {
		if q.Role != "top" {
			continue
		}
		wd, l, r := pieceSize(q)
		size := ""
		if s := w.sheet[q.Sheet]; s != nil {
			size = s.ID + " " + w.p.size(s.WidthMM, s.LengthMM)
		}
		if s := w.sheet[q.Sheet]; s != nil && q.Uncut && !w.Cut(q) {
			size = w.p.size(s.WidthMM, s.LengthMM) // any sheet of that size will do
		}
		row := []Cell{T(ShortMark(q.ID)).As(Strong), w.p.cut(l).As(Strong), w.p.cut(r).As(Strong), w.p.cut(wd), T(w.p.centres(q)), T(w.cutText(q)), T(size), I(1)}
		last = appendLike(&b, row, last)
	}
	boxes(&b)
	return b.withoutBlanks()
}

// Metric tells whether paper is A4 and scales are decimal.
func (w *Draft) Metric() bool { return w.p.sys == measure.Metric }

// StripRows lists the pieces of the ends of walls, or of the reveals of
// openings, of the whole job.
func (w *Draft) StripRows(side, title string) Block {
	b := Block{Key: side, Title: title, Columns: []Column{
		col("mark", "Mark", 20, Words), col("name", "What", 24, Words), col("width", "Width", 10, Lengths), col("height", "Height", 10, Lengths),
		col("size", "From", 9, Words), col("sheet", "Sheet", 9, Words), col("shape", "Cut", 24, Words), col("ok", "", 5, Box),
	}}
	for i := range w.t.Faces {
		f := &w.t.Faces[i]
		if !f.Boarded || f.Side != side {
			continue
		}
		for _, y := range f.Plies {
			for _, q := range w.Pieces(f, y.Ply) {
				wd, l, _ := pieceSize(q)
				size := ""
				if s := w.sheet[q.Sheet]; s != nil {
					size = w.p.size(s.WidthMM, s.LengthMM)
				}
				b.Rows = append(b.Rows, []Cell{T(sideMark(q.ID)).As(Strong), T(w.stripName(f)), w.p.cut(wd), w.p.cut(l), T(size), T(q.Sheet), T(w.cutText(q)), I(1)})
			}
		}
	}
	return b
}

// stripName says what an end or reveal belongs to.
func (w *Draft) stripName(f *Face) string {
	for _, o := range w.open[f.Run] {
		s := o.UMM
		if len(o.Faces) > 0 {
			if g := w.p.fac[o.Faces[0]]; g != nil {
				s = station(g, o.UMM)
			}
		}
		from, to := s-o.WidthMM/2, s+o.WidthMM/2
		near := func(a, b MM) bool { return math.Abs(float64(a-b)) < 1 }
		switch {
		case f.Side != "reveal":
		case near(f.StartMM, from) && near(f.LengthMM, o.WidthMM):
			if o.SillMM > 0 {
				return "head or sill of " + openingName(o)
			}
			return "head of " + openingName(o)
		case near(f.StartMM, from): // stations grow to the right on a right side
			return "left jamb of " + openingName(o) + ", facing the right side"
		case near(f.StartMM, to):
			return "right jamb of " + openingName(o) + ", facing the right side"
		}
	}
	return FaceName(f)
}

// IndexRow is a side's line in the index.
func (w *Draft) IndexRow(f *Face) []string {
	typ := ""
	if r := w.p.run[f.Run]; r != nil {
		typ = r.Type
	}
	lo, _, hi := height(f)
	h := w.p.cut(MM(lo)).Text
	if t := w.p.cut(MM(hi)).Text; t != h {
		h += " to " + t
	}
	tops, all := 0, 0
	for _, y := range f.Plies {
		for _, q := range w.Pieces(f, y.Ply) {
			all++
			if q.Role == "top" {
				tops++
			}
		}
	}
	order := ""
	switch {
	case Strip(f):
	case f.HungFirst:
		order = "first"
	default:
		order = "second"
	}
	return []string{f.ID, f.Side + pickRoom(f.Room), typ, w.p.wall(f.LengthMM).Text, h, f.HangFrom, order, strconvI(all - tops), strconvI(tops)}
}

func pickRoom(room string) string {
	if room == "" {
		return ""
	}
	return ", " + room
}
