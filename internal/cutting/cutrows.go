package cutting

import (
	"strconv"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// Row is one line of a cut list on paper: one piece of one sheet. Sheet and
// Stock repeat on every row of a sheet.
type Row struct {
	Sheet, Board string
	Width        measure.Length // of the sheet
	Length       measure.Length
	Piece        string
	Copy         int
	PieceWidth   measure.Length // as hung
	Left, Right  measure.Length // heights of its two sides, as hung
	Turned       int
	At           geom.Pt // lower left corner of its bounding box on the sheet
	Notch        bool    // comes out of the board inside a notch
}

// Rows lists what is cut from every sheet, in cutting order.
func Rows(s Solution) []Row {
	var out []Row
	for _, sh := range s.Sheets {
		for _, p := range sh.Placements {
			hung := quarterTurns(p.Outline, (4-p.Turned/90)%4)
			b := hung.Bounds()
			out = append(out, Row{
				Sheet: sh.ID, Board: sh.Board, Width: sh.Width, Length: sh.Length,
				Piece: p.Piece, Copy: p.Copy, PieceWidth: b.W(),
				Left: sideHeight(hung, 0), Right: sideHeight(hung, b.W()),
				Turned: p.Turned, At: p.Outline.Bounds().Min, Notch: p.Notch,
			})
		}
	}
	return out
}

// sideHeight returns the height of the top of p at its side x, from the lowest
// point of p.
func sideHeight(p geom.Poly, x measure.Length) measure.Length {
	var h measure.Length
	for _, v := range p {
		if v.X == x {
			h = max(h, v.Y)
		}
	}
	return h
}

// RowHeader names the columns of Row.Cells.
var RowHeader = []string{"sheet", "board", "width", "length", "piece", "copy", "piece width", "left height", "right height", "turned", "across", "along"}

// Cells writes r in the words of sys; cut sizes round down to the system's
// cutting step.
func (r Row) Cells(sys measure.System) []string {
	text := func(l measure.Length) string { return measure.Cut(l, sys) }
	copyText := ""
	if r.Copy > 0 {
		copyText = strconv.Itoa(r.Copy)
	}
	return []string{
		r.Sheet, r.Board, text(r.Width), text(r.Length), r.Piece, copyText,
		text(r.PieceWidth), text(r.Left), text(r.Right), strconv.Itoa(r.Turned), text(r.At.X), text(r.At.Y),
	}
}
