package report

// TopsCard is the list of tops for the lift, side by side in hanging order.
type TopsCard struct {
	Sides []TopsSide
	Count int
}

// TopsSide is the tops of one ply of one side.
type TopsSide struct {
	Mark, Name, Layer string
	Start             string // "left" or "right", as one faces the side
	Board             string
	Rows              []TopsRow
}

// TopsRow is one top. Left and Right are as one faces the side; Mark is short.
type TopsRow struct {
	ID, Mark, Left, Right, Width, Centres, Cut, Sheet string
	TwoPeople                                         bool
}

// Tops lists the tops of the whole job for the card.
func (w *Draft) Tops() TopsCard {
	var c TopsCard
	for i := range w.t.Faces {
		f := &w.t.Faces[i]
		for _, y := range f.Plies {
			s := TopsSide{Mark: f.ID, Name: FaceName(f), Layer: plyName(len(f.Plies), y.Ply), Start: f.HangFrom}
			for _, q := range w.Pieces(f, y.Ply) {
				if q.Role == "top" {
					s.Board = q.Board
					s.Rows = append(s.Rows, w.topsRow(q))
				}
			}
			if len(s.Rows) > 0 {
				c.Count += len(s.Rows)
				c.Sides = append(c.Sides, s)
			}
		}
	}
	return c
}

func (w *Draft) topsRow(q *Piece) TopsRow {
	wd, l, r := pieceSize(q)
	row := TopsRow{
		ID: q.ID, Mark: ShortMark(q.ID), Left: w.p.cut(l).Text, Right: w.p.cut(r).Text, Width: w.p.cut(wd).Text,
		Centres: w.p.centres(q), Cut: w.CutShape(q), TwoPeople: q.TwoPeople != "",
	}
	if s := w.sheet[q.Sheet]; s != nil {
		row.Sheet = s.ID + ", " + w.p.size(s.WidthMM, s.LengthMM)
	}
	return row
}
