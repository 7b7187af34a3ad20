// Package linework is what the DXF importer hands to the wall tracer: every
// placed entity of modelspace with blocks expanded, in millimetres, and what
// each one is. Floats live here and in the importers only.
package linework

import "github.com/paulmach/orb"

// Drawing is one DXF file, expanded and scaled.
type Drawing struct {
	File    string
	Version string  // "AC1024"
	UnitMM  float64 // millimetres per drawing unit, already applied; 0: not known, drawing units
	// What the header says of units: the name of $INSUNITS ("none" where it is
	// 0 or absent), and the raw values of $INSUNITS, $MEASUREMENT and $LUNITS,
	// -1 where absent.
	UnitHeader                    string
	InsUnits, Measurement, LUnits int
	// Entities in file order, blocks expanded in place. Text and inserts are
	// kept apart; an entity stands in exactly one list.
	Segments []Segment
	Arcs     []Arc
	Fills    []Fill
	Texts    []Text
	Inserts  []Insert
	Others   []Other
	Layers   []Layer
}

// Ref says where an entity stands in the file.
type Ref struct {
	Handle string // handle path through inserts "1F/2A"; "@line" without handles
	Line   int    // first line of the entity in the file, 0 in binary files
}

// Common is shared by every placed entity.
type Common struct {
	Ref
	Layer    string // layer that decides: entities on layer 0 in a block take the insert's
	Type     string // DXF type name, "LINE"
	Block    string // name of the innermost block it came from, "" in modelspace
	Insert   int    // index into Inserts of the outermost insert it came from, -1 if none
	Linetype string
	Colour   int  // ACI, resolved through block and layer
	Hidden   bool // layer off or frozen, or the entity invisible
	Clipped  bool // wholly outside the clip of an insert: shown by no switch
	Entity   int  // number of the placed entity it belongs to: all segments of one polyline share it
}

// Segment is a straight piece of a LINE, LWPOLYLINE, POLYLINE, MLINE or SOLID
// outline. Z0 and Z1 are elevations where the entity has them.
type Segment struct {
	Common
	A, B      orb.Point
	ZA, ZB    float64
	Width     float64 // constant polyline width, mm
	Thickness float64 // group 39, mm: extrusion height
	Closed    bool    // its polyline is closed
	Index     int     // place in its polyline, 0 for a LINE
}

// Arc is a circular piece: an ARC, a CIRCLE, or a bulge of a polyline.
// Angles in degrees, counter-clockwise from Start to End (End > Start).
type Arc struct {
	Common
	Centre     orb.Point
	Radius     float64
	Start, End float64
	Full       bool // CIRCLE
	Width      float64
	Thickness  float64
	Index      int
}

// Fill is a HATCH, SOLID, TRACE or WIPEOUT: closed outlines, arcs flattened.
type Fill struct {
	Common
	Rings   []orb.Ring
	Pattern string // "SOLID", "ANSI31", "WIPEOUT", …
}

// Text is a TEXT, MTEXT, ATTRIB or DIMENSION text, decoded to plain UTF-8 with
// lines parted by '\n'.
type Text struct {
	Common
	At       orb.Point
	Height   float64
	Angle    float64
	Value    string
	Measured float64 // DIMENSION: the measured length in mm, 0 otherwise
}

// Insert is one placed block (each cell of an array is one), after nesting.
// Local maps block coordinates (drawing units times UnitMM) to modelspace:
// x' = A·x + C·y + E, y' = B·x + D·y + F.
type Insert struct {
	Common
	Name           string // block name; for anonymous dynamic blocks the name it stands for, where the file tells
	At             orb.Point
	Angle          float64 // degrees
	ScaleX, ScaleY float64
	Local          [6]float64
	Extents        orb.Bound    // of the block's own linework, in modelspace, mm
	Box            [4]orb.Point // corners of the block's own bounding box, placed: lower left, lower right, upper right, upper left in block coordinates
	Attribs        map[string]string
	Parent         int // index of the insert it is nested in, -1 if none
	Array          int // cell of a MINSERT, 0 otherwise
}

// Other counts an entity that has no linework here (POINT, 3DFACE without use,
// proxy, image, unknown), with what is known of it.
type Other struct {
	Common
	At     orb.Point
	Points [][3]float64 // 3DFACE, POLYFACE: vertices in mm
	Reason string
}

// Layer is one layer of the table, with what stands on it.
type Layer struct {
	Name        string
	Colour      int
	Off, Frozen bool
	Entities    int     // placed entities
	Length      float64 // mm of line, polyline and arc, blocks not expanded
}
