package cutting

import (
	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// Placement is a piece on its sheet: x across, y along, from the sheet's lower
// left corner, paper up. Outline leaves cut-outs out.
type Placement struct {
	Piece   string
	Copy    int // 1…Count for pieces of which several were asked for, else 0
	Outline geom.Poly
	Turned  int // 0, 90, 180 or 270 anticlockwise
	// Left … Top are what the sides of the piece, as hung, have become.
	Left, Right, Bottom, Top Edge
	// Notch is set for a piece cut from the board inside another piece's notch.
	Notch bool
}

// Cut is one straight cut from boundary to boundary of one fragment. Cuts with
// Notch set are made in the board that came out of a notch, after the others.
type Cut struct {
	From, To geom.Pt
	Order    int // 1, 2, … within the sheet
	Notch    bool
}

// Offcut is what is left of a sheet; Kept if it is worth keeping.
type Offcut struct {
	Outline geom.Poly
	Kept    bool
	Notch   bool // came out of a notch
}

// Sheet is one sheet as bought, with what is cut from it.
type Sheet struct {
	ID, Board, Group string
	Width, Length    measure.Length
	Cost             int64
	Placements       []Placement
	Cuts             []Cut
	Offcuts          []Offcut
}

// Status says how far a result is proven.
type Status uint8

// Feasible: the cost is above the bound, the result may or may not be the
// cheapest. Optimal: the cost equals the bound.
const (
	Feasible Status = iota
	Optimal
)

func (s Status) String() string {
	if s == Optimal {
		return "optimal"
	}
	return "feasible"
}

// LengthCount is a number of sheets of one size.
type LengthCount struct {
	Width, Length measure.Length
	Count         int
}

// Bound compares what is bought of one board with the least any cutting of
// these pieces from this stock could need, straight cuts or not.
type Bound struct {
	Board    string
	Sheets   []LengthCount // by width, then length; counts above 0
	Bought   Total
	Hung     Total // net of notches
	Kept     Total // offcuts worth keeping
	Waste    Total
	ForThese Total // least area bought, proven
	// ForAny is the least area in m² that any layout must buy, 0 where it was
	// not sought; set by who knows the layouts, see LeastOfAny.
	ForAny float64
	Cost   int64  // of Sheets
	CostAt int64  // least cost, proven
	Status Status // of the cost
	Method string // what the bound rests on
}

// Unplaced is a piece that no sheet can give, and why.
type Unplaced struct{ Piece, Board, Reason string }

// Solution is a cut list. Sheets are ordered by board, group and pattern; Bounds
// by board.
type Solution struct {
	Sheets   []Sheet
	Bounds   []Bound
	Unplaced []Unplaced
}
