package cutting

import (
	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// Edge says what one outermost side of a piece is wanted to be, or has become.
type Edge uint8

// The kinds of edge. As a wish, CutEdge and End ask for nothing: an end is finished
// like a cut edge.
const (
	CutEdge Edge = iota // cut on site
	End                 // short square side of a sheet, as it left the mill
	Tapered             // long factory edge
)

func (e Edge) String() string {
	switch e {
	case Tapered:
		return "tapered"
	case End:
		return "end"
	}
	return "cut"
}

// Piece is what is hung.
//
// Outline is counter-clockwise as seen by the person hanging it, first point not
// repeated, its bounding box at (0, 0): x across the sheet and y along it for a
// vertical layout. It may have a sloped top and notches (hooks) but no holes:
// cut-outs are made after.
//
// Left, Right, Bottom and Top are the wishes of the hanging. A piece that wants
// a tapered bottom or top lies across the sheet (turned 90° or 270°); one that
// wants neither may be turned so where Turn allows it.
type Piece struct {
	ID, Board, Group string
	Outline          geom.Poly
	Left, Right      Edge
	Bottom, Top      Edge
	Turn             bool // may lie with its y across the sheet
	Uncut            bool // must be a whole sheet, as bought
	Count            int  // equal pieces; 0 counts as 1
}

// Stock is a sheet that can be bought, in any number. Cost is in any comparable
// unit (money in 1/10000, or 0 everywhere to compare by area).
type Stock struct {
	Board         string
	Width, Length measure.Length
	Cost          int64
}

// Keep says which offcuts are worth keeping and whether the board inside a
// notch is used again. The zero value takes the defaults.
type Keep struct {
	// MinWidth and MinLength are the sides of the rectangle an offcut must hold;
	// default 24 in each. Source: common practice, none published.
	MinWidth, MinLength measure.Length
	// CutEdges keeps offcuts without a factory edge too.
	CutEdges bool
	// WasteNotches throws the board inside notches away instead of cutting
	// small pieces from it.
	WasteNotches bool
}

func (k Keep) withDefaults() Keep {
	if k.MinWidth == 0 {
		k.MinWidth = 24 * measure.Inch
	}
	if k.MinLength == 0 {
		k.MinLength = 24 * measure.Inch
	}
	return k
}

// Problem is what is to be cut. Pieces of one Group and Board may share sheets;
// different groups share nothing.
type Problem struct {
	Pieces []Piece
	Stock  []Stock
	Keep   Keep
}

// Effort limits the work.
type Effort uint8

// Quick is for bid day, Best goes on until the bound is met or the rounds are
// used up.
const (
	Quick Effort = iota
	Best
)
