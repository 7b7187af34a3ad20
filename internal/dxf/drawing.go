package dxf

// Drawing is what Write writes: layers, blocks and entities of modelspace, in
// drawing units. It is a plain value; Write checks it.
type Drawing struct {
	InsUnits    int    // $INSUNITS: 1 inch, 4 mm, 6 m, …
	Measurement int    // $MEASUREMENT: 0 English, 1 metric
	LUnits      int    // $LUNITS: 2 decimal, 4 architectural (inches only); 0 is taken for 2
	Font        string // of the one text style; "" is taken for "txt"
	Layers      []Layer
	Blocks      []Block
	Entities    []Entity
}

// Layer is one layer. Layer "0" is always there.
type Layer struct {
	Name     string
	Colour   int    // 1 to 255, ACI
	Linetype string // one of Linetypes; "" is taken for Continuous
	NoPlot   bool
}

// Linetypes are those a layer or an entity may have.
var Linetypes = []string{"Continuous", "Dashed", "Center", "Hidden", "Dot"}

// linetypePatterns hold dash (+), gap (-) and dot (0) lengths in inches; metric
// drawings take them times 25.4.
var linetypePatterns = map[string][]float64{
	"Continuous": nil,
	"Dashed":     {0.5, -0.25},
	"Center":     {1.25, -0.25, 0.25, -0.25},
	"Hidden":     {0.25, -0.125},
	"Dot":        {0, -0.25},
}

// Block is a block definition.
type Block struct {
	Name     string
	Base     [2]float64
	Entities []Entity
}

// Pen is what every entity has. The zero value is layer 0, by layer.
type Pen struct {
	Layer    string // "" is layer 0
	Colour   int    // 1 to 255; 0 is by layer
	Linetype string // "" is by layer
}

// Entity is one of Line, Polyline, Arc, Circle, Text, Hatch, Insert and, in
// blocks, AttDef.
type Entity interface{ pen() Pen }

func (p Pen) pen() Pen { return p }

// Line is a LINE in the plane z = 0.
type Line struct {
	Pen
	A, B [2]float64
}

// Vertex is one vertex of a Polyline; Bulge is that of the piece that begins at
// it.
type Vertex struct{ X, Y, Bulge float64 }

// Polyline is an LWPOLYLINE of at least two vertices.
type Polyline struct {
	Pen
	Vertices  []Vertex
	Closed    bool
	Width     float64 // constant width
	Elevation float64
}

// Arc is an ARC, counter-clockwise from Start to End, in degrees.
type Arc struct {
	Pen
	Centre     [2]float64
	Radius     float64
	Start, End float64
}

// Circle is a CIRCLE.
type Circle struct {
	Pen
	Centre [2]float64
	Radius float64
}

// HAlign and VAlign place a text about its point.
// Source: DXF Reference, TEXT, groups 72 and 73.
type (
	HAlign int
	VAlign int
)

// Alignments.
const (
	Left HAlign = iota
	Centre
	Right

	Baseline VAlign = iota - 3
	Bottom
	Middle
	Top
)

// Text is a TEXT of one line.
type Text struct {
	Pen
	At     [2]float64
	Height float64
	Angle  float64 // degrees
	Value  string
	H      HAlign
	V      VAlign
}

// Hatch is a solid HATCH; each ring is closed by itself. Of nested rings the
// inner is left out.
type Hatch struct {
	Pen
	Rings [][]Vertex
}

// Insert places a block. Attributes are placed by the block's AttDef of the same
// tag.
type Insert struct {
	Pen
	Block   string
	At      [2]float64
	SX, SY  float64 // 0 is taken for 1
	Angle   float64 // degrees
	Attribs []Attrib
}

// Attrib is one attribute of an Insert, in the order of the block's AttDefs.
type Attrib struct{ Tag, Value string }

// AttDef defines an attribute in a block.
type AttDef struct {
	Pen
	Tag, Prompt, Default string
	At                   [2]float64
	Height               float64
	Angle                float64
	H                    HAlign
	V                    VAlign
	Invisible            bool
}
