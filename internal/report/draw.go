package report

// Picture is a display list: marks in the millimetres of the thing drawn, x to
// the right and y up. It is the one drawing model; each format is one writer
// on it. Text sizes are millimetres on paper, so that a wall of any length is
// labelled in a readable size.
type Picture struct {
	Name  string
	Title string
	Min   UV // extent of the marks, labels not counted
	Max   UV
	Marks []Mark
}

// Pen says what a mark means; a writer chooses weight, dash and colour so that
// the meaning survives black and white.
type Pen uint8

// Pens.
const (
	PenOutline Pen = iota // edge of a piece
	PenJoint              // joint that is finished
	PenHidden             // joint above the ceiling
	PenStud               // stud centre
	PenAdded              // stud added for a joint
	PenHole               // opening
	PenSlip               // slip line
	PenDeck               // structure above
	PenFloor              // floor
	PenDim                // dimension
	PenNote               // writing
	PenWall               // found wall, in plan
	PenUnread             // linework that was not understood
	PenGround             // the drawing below
	PenRoom               // room outline
)

// Fill says how an area is filled.
type Fill uint8

// Fills.
const (
	NoFill    Fill = iota
	FillPale       // a light tint
	FillHatch      // thin diagonal lines
	FillCross      // both diagonals of its box: an opening
	FillSolid
)

// Align places a label at its point.
type Align uint8

// Alignments.
const (
	AlignCentre Align = iota
	AlignLeft
	AlignRight
)

// Mark is one line, area or label.
type Mark struct {
	Pen    Pen
	Fill   Fill
	Layer  string // of a CAD file
	Points []UV   // one point: a label; else a polyline, closed if Closed
	Closed bool
	Text   string
	Size   float64 // of a label, mm on paper
	Angle  float64 // of a label, degrees
	Align  Align
	Bold   bool
	Ref    string // id of what it shows: run, piece, opening
}

func (d *Picture) line(pen Pen, layer string, pts ...UV) *Mark {
	d.Marks = append(d.Marks, Mark{Pen: pen, Layer: layer, Points: pts})
	return &d.Marks[len(d.Marks)-1]
}

func (d *Picture) area(pen Pen, layer string, fill Fill, pts []UV) *Mark {
	d.Marks = append(d.Marks, Mark{Pen: pen, Layer: layer, Points: pts, Closed: true, Fill: fill})
	return &d.Marks[len(d.Marks)-1]
}

func (d *Picture) label(layer, text string, size float64, at UV) *Mark {
	d.Marks = append(d.Marks, Mark{Pen: PenNote, Layer: layer, Points: []UV{at}, Text: text, Size: size})
	return &d.Marks[len(d.Marks)-1]
}

// fit sets the extent from the marks.
func (d *Picture) fit() {
	first := true
	for i := range d.Marks {
		for _, p := range d.Marks[i].Points {
			if first {
				d.Min, d.Max, first = p, p, false
				continue
			}
			for k := range p {
				d.Min[k], d.Max[k] = min(d.Min[k], p[k]), max(d.Max[k], p[k])
			}
		}
	}
}
