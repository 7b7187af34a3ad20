package run

import (
	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// Length is measure.Length.
type Length = measure.Length

// Set is every run of a job, sorted by storey and mark, with the junctions
// between them.
type Set struct {
	Runs       []*Run
	Junctions  []Junction
	Rooms      []plan.Room
	Left       []LeftOut // walls of the plan that no run stands for
	Exceptions []plan.Exception
}

// Run is a length of one wall type between two ends.
type Run struct {
	ID          string // "2-W014": storey-number in space order
	Fingerprint string
	Was         []string // marks of an earlier takeoff that it stands for
	Type        string
	Make        *job.WallType
	Storey      string
	Status      plan.Status
	Drawing     int       // index of the drawing in the plan
	Axis        []geom.Pt // two points, in the drawing's own coordinates
	Arc         *plan.Arc // curved axis
	Length      Length    // along the axis
	Thickness   Length    // finished
	Base        Length    // foot of the wall above the storey's floor: studs stand on it
	Spacing     Length    // of the studs
	StudDepth   Length
	Mil         int
	Deck        geom.Profile // underside of the structure over the axis, u = station; nil if no deck is known
	Faces       []*Face      // left, right, then ends and reveals
	Openings    []Opening    // by centre
	Fixed       []Fixed      // stations that framing needs whatever the layout: ends, corners, tees
	Framing     job.Framing
	FirstStud   Length // BoardAsFramed: station of the first stud
	Layout      job.Layout
	Rating      string
	Listing     string
	Sources     []plan.Source
	Assumed     []string // which of its inputs nobody gave
	HangFrom    string   // "left" or "right": the end the job wants the first sheet at; "" free
}

// Fixed is a stud station given by the building.
type Fixed struct {
	Station Length
	Kind    string // "end", "corner", "tee"
}

// JunctionKind is how runs meet.
type JunctionKind uint8

// How runs meet.
const (
	FreeEnd JunctionKind = iota
	Corner               // L
	Tee
	Cross
	AgainstStructure
	InLine // collinear, of another type or thickness
)

var junctionNames = [...]string{"free", "L", "T", "X", "structure", "inline"}

func (k JunctionKind) String() string { return junctionNames[k] }

// Junction is one meeting of runs, solved once.
type Junction struct {
	Kind    JunctionKind
	At      geom.Pt
	Runs    []string // ids, sorted
	Through string   // id of the run whose board goes through; "" between equals
	Laps    []Lap
}

// Lap is how far the base ply of one face's end goes beyond (+) or stops short
// of (−) the finished corner. Further plies have laps of their own, seen in
// their U0 and U1; fit slack comes off besides.
type Lap struct {
	Face   string
	End    string // "left", "right" end of the face
	Length Length
}

// Side of a run.
type Side uint8

// Sides.
const (
	Left Side = iota
	Right
	End
	Reveal
)

var sideNames = [...]string{"left", "right", "end", "reveal"}

func (s Side) String() string { return sideNames[s] }

// TopKind says how a face ends at its head.
type TopKind uint8

// Head kinds.
const (
	Slip     TopKind = iota // reaches the deck: deck gap and slip line
	FixedTop                // stops under or above a ceiling
)

// Face is one side of a run. Its frame: u from its left end as seen by a person
// facing it, v up from the storey's floor. A point at station s on the axis is
// u = s − Start on the right face and u = Start + Length − s on the left one.
type Face struct {
	ID       string // "2-W014-L1"
	Run      *Run
	Side     Side
	Boarded  bool
	Reason   string       // why not boarded
	Start    Length       // station on the axis where the face begins, in the run's direction
	Length   Length       // from finished corner to finished corner; on a curve along the face's own arc
	Finished Length       // the same as Length: what Laps are counted from. Parts say what of it is seen
	Parts    []Part       // what is seen, by U0: the whole, or the stretches between stems that stand against it
	Ends     [2]FaceEnd   // how it ends at u = 0 and at u = Length
	Bottom   Length       // bottom of the board: the floor gap (over a raised base: base + gap)
	Top      geom.Profile // top of the board, v(u) over [0, Length], extended level beyond for laps
	Head     TopKind
	Ceiling  Length // finished ceiling on this side; 0 unknown
	Room     string // name of the room it faces; "" unknown
	Space    string // name of the first room within the walls that close it in: what is cut off there stays there
	Holes    []Hole
	Plies    []Ply
	Before   []string // faces or runs that close it in: boarded before them
	HeightBy string   // where its height comes from: "deck", "ceiling + 6 in", "fixed"; for paper
	Finish   int      // level of finish below the ceiling
	Opening  int      // of a reveal: index into Run.Openings

	first, last *edge // by station
}

// Part is a stretch of a face that can be seen, from corner to corner. The
// parts round a closed room add up to its perimeter. A face whose board runs
// on behind a stem has a part on either side of the stem.
type Part struct {
	U0, U1 Length
	Room   string // name of the room it is in; "" unknown
}

// EndKind is how a face ends.
type EndKind uint8

// How faces end.
const (
	EndOpen      EndKind = iota // nothing is drawn there: taken to meet structure
	EndInside                   // inside corner with another face: corner tape
	EndOutside                  // outside corner: corner bead
	EndFree                     // the corner with an End face: corner bead
	EndStructure                // against structure or a wall that is not boarded: trim
	EndInLine                   // goes on as a run of another type
)

var endNames = [...]string{"open", "inside", "outside", "free", "structure", "inline"}

func (k EndKind) String() string { return endNames[k] }

// FaceEnd is one end of a face.
type FaceEnd struct {
	Kind  EndKind
	Face  string // the face round the corner; "" if none
	First bool   // this face's board goes up before that one's
	Lap   Length // of the base ply, as in Lap

	laps []Length // of every ply
}

// Hole is the hole an opening makes in a face's board.
type Hole struct {
	Opening int       // index into Run.Openings
	Rect    geom.Rect // (u, v), clipped to the face
	Shape   geom.Poly // where it is not a rectangle, else nil
	First   bool      // installed before board: no closed hole round it in one piece
	Wrapped bool      // sheets run across and are routed after hanging
	Sealed  bool      // a penetration: sealant round it, cut-out with clearance included in Rect
}

// Ply is one thickness of board on a face. It covers [U0, U1] in the face's
// frame: laps at corners make it longer or shorter than the face.
type Ply struct {
	Number int // 1 = base
	Board  string
	U0, U1 Length
	Zones  []Zone // other board in part of it; sorted, not overlapping
}

// Zone is a part of a ply with another board: a height band or the whole.
type Zone struct {
	Rect  geom.Rect
	Board string
}

// Opening is one opening of a run, sizes settled.
type Opening struct {
	ID                    string
	Kind                  plan.OpeningKind
	Frame                 string // frame name
	FrameKind             job.FrameKind
	First                 bool   // installed before board
	Centre                Length // station on the axis
	Width                 Length // of the hole in the board
	Sill                  Length
	Head                  Length    // top of the hole in the board
	RoughWidth, RoughHead Length    // between jamb studs; underside of the header
	Nominal               [2]Length // as the drawing gives it: width, height
	Basis                 string    // leaf, frame, rough, drawn
	HeadBy                string
	Mark                  string
	Shape                 geom.Poly // (station, v) where not a rectangle
	Sources               []plan.Source
}

// Station converts u on face f to a station on the axis.
func (f *Face) Station(u Length) Length {
	if f.Side == Left {
		return f.Start + f.Length - u
	}
	return f.Start + u
}

// U converts a station on the axis to u on face f.
func (f *Face) U(station Length) Length {
	if f.Side == Left {
		return f.Start + f.Length - station
	}
	return station - f.Start
}
