package layout

import (
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// Length is measure.Length.
type Length = measure.Length

// Layout is one way to frame and board a run.
type Layout struct {
	Run        *run.Run
	Spacing    Length
	StudStart  Length // station of the first stud of the grid, before the run's start allowed
	Studs      []Stud // by station, then bottom
	OpenFaces  string // "start" or "end": the way the open sides of all stud flanges face
	Faces      []FaceLayout
	Pieces     []Piece // by face, ply, hanging order
	Joints     []Joint
	Exceptions []plan.Exception
	Cost       Cost
	Why        string // one or two sentences in the trade's words
	Status     string // "optimal", "feasible", "infeasible"
	Swept      bool   // found by a sweep: no layout in whole sheets obeys every rule
	Gap        string // what the method is not exact for, "" if exact
}

// StudKind says what a stud is for.
type StudKind uint8

// Kinds of stud.
const (
	FieldStud StudKind = iota
	JambStud
	CornerStud
	TeeStud
	CrippleStud
	AddedStud
)

var studNames = [...]string{"field", "jamb", "corner", "tee", "cripple", "added"}

func (k StudKind) String() string { return studNames[k] }

// Stud is one stud. Cripples above and below one opening are two studs.
type Stud struct {
	ID      string // unique in the run: "S07"
	Station Length // centre
	Kind    StudKind
	Bottom  Length // above the storey's floor
	Length  Length // cut length
}

// FaceLayout is what concerns one face as a whole.
type FaceLayout struct {
	Face     *run.Face
	HangFrom string       // "left" or "right": the end the first sheet hangs at, seen facing it
	First    bool         // this side is hung first
	Breaks   []Length     // heights of the horizontal joint lines
	Ends     bool         // horizontal layout
	Zones    [][]run.Zone // by ply, base first: where another board hangs than the ply's own
}

// Role of a piece.
type Role uint8

// Roles.
const (
	SheetPiece Role = iota
	Top
	Header
	Leg
	Rip
	Course
)

var roleNames = [...]string{"sheet", "top", "header", "leg", "rip", "course"}

func (r Role) String() string { return roleNames[r] }

// Edge is what a side of a piece is.
type Edge uint8

// Edges. A factory edge may be called cut, never the reverse.
const (
	CutEdge Edge = iota
	Tapered
	EndEdge
)

var edgeNames = [...]string{"cut", "tapered", "end"}

func (e Edge) String() string { return edgeNames[e] }

// Piece is what is hung, cut from one sheet.
type Piece struct {
	ID                       string // "2-W014-L1/2/05": face/ply/number from the hanging start
	Fingerprint              string
	Face                     *run.Face
	Ply                      int
	Board                    string
	Role                     Role
	Uncut                    bool
	Hooks                    []string    // ids of the openings it hooks
	Outline                  geom.Poly   // on the face, counter-clockwise
	Cutouts                  []geom.Poly // closed holes inside it
	Centres                  []Length    // stud centres from its left edge
	Heights                  []geom.Pt   // (u from its left edge, top − bottom there), left and right first and last
	Left, Right, Bottom, Top Edge
	Turned                   bool // long edge of the sheet runs across the studs
	Order                    int  // hanging order within the run
	MassKg                   float64
	Area                     measure.Area // net of cut-outs
}

// JointKind is what meets at a joint.
type JointKind uint8

// Kinds of joint.
const (
	TaperedJoint JointKind = iota
	TaperedCut
	Butt
	CutJoint
	ControlJoint
)

var jointNames = [...]string{"tapered", "tapered-cut", "butt", "cut", "control"}

func (k JointKind) String() string { return jointNames[k] }

// Joint is the shared boundary of two neighbouring pieces of one face and ply.
type Joint struct {
	Face      *run.Face
	Ply       int
	From, To  geom.Pt // (u, v)
	Kind      JointKind
	Stud      string    // on joints along the studs
	Pieces    [2]string // ids
	Exposed   bool      // below the ceiling
	Exception string    // code of the exception that excuses it
}

// Cost is what a layout is compared by. Without prices Money is 0 and the other
// members are compared in order.
type Cost struct {
	Money    int64        // 1/10000 of the currency
	Area     measure.Area // board area charged to the layout before cutting
	Joints   int64        // exposed joint length × weight, in Length units
	Pieces   int
	Added    int // added studs
	Warnings int
}
