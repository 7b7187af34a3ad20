package job

import "boardrun/internal/measure"

// StartInput is what a survey of drawings found, as plain data: Start writes a
// job file from it. Everything may be empty but Drawings. Order is kept as
// given; lengths are on the grid, positions do not come into it.
type StartInput struct {
	Name     string         // of the job; "" = the first drawing's file name
	System   measure.System // by the drawings' unit
	Drawings []StartDrawing
	Walls    []StartWall    // one per make-up as far as the drawings tell it, longest first
	Openings []StartOpening // one per kind, type and size
	Rooms    []StartRoom
	Storeys  []StartStorey
	Decks    []StartDeck // told by a model
}

// StartDrawing is one file.
type StartDrawing struct {
	File      string
	Storey    string // "" = not known
	Elevation Length
	Header    string   // unit the header names, "" or "none" where it names none
	Unit      string   // unit the coordinates were taken for: mm, cm, m, inch, foot
	Evidence  []string // sentences for and against it
	Sure      bool     // header and evidence agree
	Drawn     Drawn
	Layers    []StartLayer
	Blocks    []StartBlock
}

// StartLayer is one layer that holds something.
type StartLayer struct {
	Name     string
	Role     string // a word of LayerRole.Role; "" = background
	Status   string // new, existing, demolish; "" = by its name
	Entities int
	Length   Length // of line on it
	Why      string // why it was given that role
	// Thickness of walls drawn as single lines that say none: assumed; 0 else.
	Thickness Length
}

// StartBlock is one block.
type StartBlock struct {
	Name  string
	Role  string // a word of BlockRole.Role; "" = none
	Count int
}

// StartWall is all wall of one make-up.
type StartWall struct {
	Thickness Length
	Tag       string // wall tag on the drawing
	TypeName  string // type in a model
	Layers    []string
	Length    Length
	Count     int
	Kind      string          // partition, glazed, low, masonry, curtain, shaft; "" = partition
	Rating    string          // as the drawing says, a claim to confirm
	Materials []StartMaterial // a model's make-up, left to right
}

// StartMaterial is one layer of a model's make-up.
type StartMaterial struct {
	Name      string
	Thickness Length
}

// StartOpening is all openings of one kind, type and size.
type StartOpening struct {
	Kind          string // door, window, framed, wrapped
	Type          string // block or type name
	Width, Height Length // 0 = not told
	Count         int
}

// StartRoom is one room; Ceiling 0 = not told.
type StartRoom struct {
	Name, Number, Storey string
	Ceiling              Length
}

// StartStorey is one storey; Height is floor to floor, 0 = not told.
type StartStorey struct {
	Name              string
	Elevation, Height Length
}

// StartDeck is the underside of structure over a storey as a model tells it.
type StartDeck struct {
	Storey  string
	Lowest  Length
	Highest Length
}
