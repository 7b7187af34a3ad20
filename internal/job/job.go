package job

import (
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/rules"
)

// Length is measure.Length.
type Length = measure.Length

// Job is one job file, resolved: every default filled in and listed in
// Assumed.
type Job struct {
	File     string // path as given; drawings are relative to its folder
	Name     string // also the name of its output folder in a batch
	Title    string
	Stamp    string // BUDGET, BID or BUILD
	System   measure.System
	Drawings []Drawing
	Types    []WallType
	Walls    map[string]WallEdit    // by mark, for single walls
	Openings map[string]OpeningEdit // by id, for single openings; not from the file
	Ceilings Ceilings
	Decks    []Deck
	Frames   []Frame
	Boards   []Board
	Zones    []Zone
	Rules    *rules.Set
	Changed  []string // ids of rules the job changed
	Framing  Framing
	Offcuts  Travel
	Prices   *Prices // nil without prices
	Order    Order
	Limits   []HeightLimit // the user's limiting heights of studs
	Lists    []string      // files read besides the drawings
	Assumed  []Assumption
	Doubts   []Doubt  // allowed, but a person should look
	Notes    []string // exclusions and notes for page 1

	Alternatives []Alternative
}

// Doubt is something in the job file that is allowed and should be looked at.
type Doubt struct {
	Code   string // stable kebab-case word of DoubtCodes
	Person bool   // a person has to settle it; else a warning
	Path   string
	Text   string
	Line   int
}

// DoubtCodes are the codes of doubts and what each is about. True: it takes a
// person.
var DoubtCodes = map[string]bool{
	"rating-without-listing": true,  // rated, boarded by the general rules
	"rating-unlisted":        true,  // rated, no design whose pattern is held: its sides are left out
	"listing-departed":       true,  // a make-up that is not as its listed design
	"deck-below-ceiling":     true,  // one of the two heights is wrong
	"off-module":             false, // no sheet fits the studs' spacing
	"mixed-systems":          false, // sheets of the other system of units
	"no-price":               false, // a sheet without a price where others have one
	"way-in":                 false, // a sheet longer than the way in takes
}

// Assumption is one value nobody gave: a default the job or the reader filled
// in. Height says that it is a height, which asks for a person.
type Assumption struct {
	Path   string // "types[0].stud.mil"
	Value  string
	Reason string
	Height bool
	Line   int
}

// Drawing maps one file.
type Drawing struct {
	File       string // as written
	Path       string // resolved against the job's folder
	Storey     string
	Elevation  Length
	Unit       string // overrides the header; "" = header
	Scale      float64
	Region     geom.Poly // part of the sheet to read, drawing coordinates in mm; empty = all
	Drawn      Drawn
	Layers     []LayerRole
	Blocks     []BlockRole
	ShowHidden bool
}

// Drawn says what the wall lines of a drawing are.
type Drawn uint8

// What wall lines are.
const (
	DrawnFinish Drawn = iota // faces of the finished wall
	DrawnStud                // faces of the stud zone
	DrawnCentre              // centrelines
)

// LayerRole says what one layer, or all that match a pattern with * and ?,
// holds. Matching ignores case and a bound reference's prefix.
type LayerRole struct {
	Pattern   string
	Role      string // wall, door, window, opening, room, tag, opening tag, deck, column, wall fill, ignore
	Status    string // new, existing, demolish; "" = by the layer's name
	Type      string // wall type; "" = by thickness or tag
	Thickness Length // for centrelines; 0 = from the name or the type
	Drawn     *Drawn // what its wall lines are; nil = as the drawing says
}

// BlockRole says what a block is.
type BlockRole struct {
	Pattern string
	Role    string // door, window, framed, wrapped, ignore
	Type    string // frame type
}

// Layout is the way sheets run on a side.
type Layout uint8

// Ways sheets run.
const (
	Vertical Layout = iota
	Horizontal
	Cheaper // whichever costs less
)

// Framing says whether the layout chooses the stud start.
type Framing uint8

// Framing modes.
const (
	FrameToLayout Framing = iota // stud start free
	BoardAsFramed                // first stud and jambs as measured
)

// Travel says how far an offcut may go.
type Travel uint8

// How far an offcut may go.
const (
	TravelRun Travel = iota
	TravelRoom
	TravelStorey
	TravelJob
)

// HeightKind is how high a side goes.
type HeightKind uint8

// How high a side goes.
const (
	ToDeck HeightKind = iota
	AboveCeiling
	ToCeiling
	FixedHeight
)

// HeightRule is how high one side goes. Value is the height of FixedHeight and
// the extra of AboveCeiling.
type HeightRule struct {
	Kind  HeightKind
	Value Length
}

// Side is the make-up of one side of a type. No plies: not boarded.
type Side struct {
	Plies  []string // board names, base ply first
	Height HeightRule
	Finish int    // level of finish below the ceiling
	Reason string // why it is not boarded
}

// Match says which drawn walls are of a type: every condition given must hold.
type Match struct {
	Layer     string // pattern
	Thickness Length // within 3 mm
	Tag       string
	TypeName  string // IFC type
}

// WallType is one make-up.
type WallType struct {
	Name       string
	Match      []Match
	StudDepth  Length
	Mil        int
	Spacing    Length
	Sides      [2]Side // left, right of the axis
	Insulation string
	Rating     string // "", or as the drawing says: "1 h"
	Listing    string // listed design that governs, e.g. "WP 1200"
	Unlisted   string // why its rating has no pattern to board it by; "" if it has one
	Layout     Layout
	Framing    *Framing // nil = the job's
	FirstStud  Length   // as measured, from the run's start; BoardAsFramed
	Rank       int      // junctions: higher runs through
	Leave      string   // not taken off, and why
}

// Thickness is the finished thickness of the type with the boards given.
func (t *WallType) Thickness(board func(string) *Board) Length {
	sum := t.StudDepth
	for _, s := range t.Sides {
		for _, p := range s.Plies {
			if b := board(p); b != nil {
				sum += b.Thickness
			}
		}
	}
	return sum
}

// WallEdit changes one wall, named by its mark.
type WallEdit struct {
	Type   string
	Leave  string
	Flip   bool // sides of the type exchanged
	Height [2]*HeightRule
	Start  string // "left" or "right": hanging end wanted
	Line   int
}

// Ceilings are the heights of ceilings above the storey's floor.
type Ceilings struct {
	Default  Length // 0: none given
	ByStorey map[string]Length
	ByRoom   map[string]Length // by name or number
}

// Deck is the underside of the structure: a plane through points.
type Deck struct {
	Storey                 string // "" = every storey
	Outline                geom.Poly
	Level                  Length   // of a level deck; Points empty
	Points                 []Point3 // three or more; more than three are fitted and the residual is told
	FluteDepth, FlutePitch Length
	FluteAlong             string // "x", "y"
	Assumed                bool   // its height is one that nobody gave
	Line                   int
}

// Point3 is a plan point in the drawing's coordinates with an elevation above
// the storey's floor.
type Point3 struct{ X, Y, Z Length }

// FrameKind is how a frame meets the board.
type FrameKind uint8

// Frame kinds.
const (
	KnockDown FrameKind = iota // after board; board flush with the rough opening's studs
	Welded                     // set first; board enters the throat
	SlipOn                     // after board
	NoFrame                    // wrapped opening
)

// Frame is the frame of doors or windows that match.
type Frame struct {
	Name                string
	Mark                string // pattern on the opening's mark, type or block; "" = any
	For                 string // door, window, framed, wrapped; "" = any
	Kind                FrameKind
	Basis               string // what drawn or scheduled sizes are: leaf, frame, rough, drawn
	AddWidth, AddHeight Length // rough opening = size + this
	FaceWidth           Length // of a welded frame, seen from the wall: 2 in
	Width, Height, Sill Length // sizes where the drawing has none; 0 = as drawn
	Assumed             bool   // added by the reader: no frame was given for such openings
	Line                int
}

// Board is one product and the sheets of it that can be bought.
type Board struct {
	Name      string
	Kind      string // "type X", "regular", …
	Thickness Length
	MassM2    float64 // kg/m²
	Sheets    []SheetSize
	Square    bool // long edges square, not tapered
	Special   bool // special order
	Line      int
}

// SheetSize is one width with its lengths, and what a sheet costs.
type SheetSize struct {
	Width   Length
	Lengths []Length
}

// Zone puts another board on part of a job.
type Zone struct {
	Room        string // pattern
	Type        string
	Bottom, Top Length // height band; Top 0 = to the top
	Side        string // "left", "right"; "" = both
	Ply         int    // 1 = base; 0 = face ply
	Board       string
	Line        int
}

// Prices are the user's: money in 1/10000 of the currency.
type Prices struct {
	Currency string
	PerSheet map[string]int64 // by "board 48x96in" or board name with per-area price
	PerM2    map[string]int64 // board by area
	Joint    [3]int64         // per metre: tapered, tapered-cut, butt
	Cut      int64
	Stud     int64 // an added stud, in place
	Screw    int64 // per 1000
	Hour     int64

	// The user's price list. With one, the bid is priced by it; Joint, Cut and
	// Stud then only choose the layout, as their work is in its hours.
	List     []PriceRow
	ListFile string  // as the job file names it; "" for none
	Add      []AddOn // rows below the costs, in order
}

// Board returns the board of that name, nil if there is none.
func (j *Job) Board(name string) *Board {
	for i := range j.Boards {
		if j.Boards[i].Name == name {
			return &j.Boards[i]
		}
	}
	return nil
}

// Type returns the wall type of that name, nil if there is none.
func (j *Job) Type(name string) *WallType {
	for i := range j.Types {
		if j.Types[i].Name == name {
			return &j.Types[i]
		}
	}
	return nil
}
