package plan

import (
	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// Plan is what one or more drawings of a job hold. Every slice has a fixed
// order that does not depend on the order of entities in the file.
type Plan struct {
	Drawings   []Drawing
	Storeys    []Storey
	Walls      []Wall
	Openings   []Opening
	Decks      []Deck
	Ceilings   []Deck // undersides of gypsum or hung ceilings that a model tells
	Obstacles  []Obstacle
	Rooms      []Room
	Texts      []Text // notes a person may want beside a wall: tags, schedules
	Linework   []Line // what the review page paints under the walls
	Ledger     []Ledger
	Exceptions []Exception
}

// Drawing is one file as read.
type Drawing struct {
	File    string // as named in the job
	Format  string // "DXF", "IFC"
	Version string // "AC1024", "IFC4"
	Storey  string
	Unit    Unit
}

// Unit is the drawing's length unit and how it was settled.
type Unit struct {
	Header   string // as the file says; "none" where it says nothing
	Used     string // "inch", "mm", …: what the coordinates were taken for
	MM       float64
	Evidence []string // each a sentence: what speaks for or against
	Assumed  bool     // nobody said: the header was silent and so was the job
}

// Storey is one level. Name is the job's or the model's.
type Storey struct {
	Name      string
	Elevation measure.Length
	Source    Source
}

// Source says where a thing stands in a file, as an exception prints it.
type Source struct {
	File   string
	Line   int    // line of the file, 0 if not known
	Ref    string // DXF handle path "1F/2A", "@line" without handles; IFC "#123"
	GUID   string // IFC GlobalId
	Layer  string // the drawing's layer
	Entity string // "LINE", "IFCWALL", …
}

// Status is what happens to a wall.
type Status uint8

// What happens to a wall. Existing walls are obstacles, not board.
const (
	New Status = iota
	Existing
	Demolish
)

var statusNames = [...]string{"new", "existing", "demolish"}

func (s Status) String() string { return statusNames[s] }

// Arc is a curved axis. Sweep is signed, counter-clockwise positive, in
// degrees; an importer's float, used for points along the axis only.
type Arc struct {
	Centre geom.Pt
	Radius measure.Length
	Start  float64 // degrees, counter-clockwise from +x
	Sweep  float64 // degrees
}

// Wall is one straight or circular piece of wall of one make-up between two
// ends, as drawn: openings do not break it. Two faces or one centreline in the
// drawing give one Wall.
type Wall struct {
	Storey    string
	Axis      [2]geom.Pt // middle of the thickness, end to end as drawn
	Arc       *Arc       // set where the axis is curved; Axis then holds its ends
	Thickness measure.Length
	Base      measure.Length // above the storey's floor
	Height    measure.Length // 0: not known
	Top       geom.Profile   // top along the axis from Axis[0], where a model tells a sloped one; heights from the storey's floor
	Ext       [2]bool        // end as drawn stops on a junction node (centreline dialects) rather than at the wall's own end
	Tag       string         // wall tag, type name or layer-derived type
	TypeName  string         // IFC type or tag, as written
	Layers    []MaterialLayer
	Rating    string
	Status    Status
	Kind      WallKind
	Layer     string
	Sides     [2]FaceShape // left, right of the axis: shapes a model tells exactly; empty from plan drawings
	Sources   []Source     // every entity it was made of, sorted
	Joined    []int        // walls (indexes into Plan.Walls, ascending) that a model says it is joined to; nil from plan drawings
	Doubt     string       // why a person should look at it; empty if sound
}

// WallKind tells boarded walls from those that only look like them.
type WallKind uint8

// Kinds of wall.
const (
	Partition WallKind = iota
	Glazed
	Low       // parapet, counter front: boarded only where the job says so
	Masonry   // masonry or concrete: lined only where the job says so
	Curtain   // curtain wall
	ShaftWall // shaft liner: measured, not laid out
)

var wallKindNames = [...]string{"partition", "glazed", "low", "masonry", "curtain", "shaft"}

func (k WallKind) String() string { return wallKindNames[k] }

// MaterialLayer is one layer of a model's wall make-up, left to right.
type MaterialLayer struct {
	Name      string
	Thickness measure.Length
}

// FaceShape is the exact shape of one side of a wall: outline and holes with u
// along the axis from Axis[0] and v from the storey's floor. Empty if unknown.
type FaceShape struct {
	Outline geom.Poly
	Holes   []geom.Poly
}

// OpeningKind says what an opening is.
type OpeningKind uint8

// Kinds of opening.
const (
	Door OpeningKind = iota
	Window
	Framed  // trimmed frame, no door
	Wrapped // no frame: reveal boarded and beaded
	Penetration
	Niche
)

var openingKindNames = [...]string{"door", "window", "framed", "wrapped", "penetration", "niche"}

func (k OpeningKind) String() string { return openingKindNames[k] }

// Opening is a hole in one wall.
type Opening struct {
	Wall    int            // index into Plan.Walls
	At      measure.Length // centre, along the wall's axis from Axis[0]
	Width   measure.Length // between jambs as drawn
	Sill    measure.Length
	Head    measure.Length // top of the hole; 0: not known
	Kind    OpeningKind
	Mark    string            // door mark
	Type    string            // block or door type name
	Frame   string            // frame kind as a schedule of the drawing writes it, "HM"; "" if none does
	Leaf    [2]measure.Length // leaf width and height where the drawing tells them; 0 if not
	Leaves  int
	Basis   string         // "drawn", "attribute", "schedule", "model": where the width comes from
	HeadBy  string         // the same for the head; "" if nobody said
	Depth   measure.Length // of a niche; 0 = right through
	Shape   geom.Poly      // outline on the face where it is not a rectangle, u from the wall's Axis[0]
	Sources []Source
	Doubt   string
}

// Deck is the underside of the structure over part of a storey, a plane
// through points; or the underside of a ceiling.
type Deck struct {
	Storey  string
	Outline geom.Poly // plan region; empty = the whole storey
	Plane   [3]Point3 // three points of its underside, heights from the storey's floor
	Flutes  Flutes
	Sources []Source
}

// Point3 is a point in plan with a height.
type Point3 struct{ X, Y, Z measure.Length }

// Flutes describes a profiled deck; the zero value is a flat one.
type Flutes struct {
	Depth, Pitch measure.Length
	Along        [2]float64 // direction in plan
}

// Obstacle is something walls stop at or run round: columns, structure,
// existing walls.
type Obstacle struct {
	Storey  string
	Kind    string // "column", "structure", "existing wall"
	Outline geom.Poly
	Sources []Source
}

// Room is a closed space.
type Room struct {
	Storey  string
	Name    string
	Number  string
	Outline geom.Poly      // finished faces, openings closed
	At      geom.Pt        // where its name stands
	Ceiling measure.Length // 0: not known
	Sources []Source
}

// Text is a piece of writing on the drawing, decoded.
type Text struct {
	At     geom.Pt
	Height measure.Length
	Value  string
	Layer  string
	Source Source
}

// Line is one polyline of the drawing for the review page, and what became of
// it.
type Line struct {
	Drawing string // the file, as named in the job
	Storey  string
	Points  []geom.Pt
	Layer   string
	Use     Use
}

// Use is what became of a placed entity.
type Use uint8

// What became of a placed entity.
const (
	Background Use = iota // not on a mapped layer
	Used                  // part of a wall, opening, deck, room
	Ignored               // on a mapped layer, ignored with a reason
	Unread                // on a wall layer and not understood: a doubt
)
