package report

import "math"

// Picture is a display list: marks in the millimetres of the thing drawn, x to
// the right and y up. It is the one drawing model; each format is one writer
// on it. Text sizes are millimetres on paper, so that a wall of any length is
// labelled in a readable size; Scale is what the labels were laid out for.
type Picture struct {
	Name  string
	Title string
	Scale float64 // millimetres of the thing to one on paper
	Min   UV      // extent of marks and labels
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
	PenJamb               // stud beside an opening, at a corner or a tee
	PenCeiling            // ceiling line
	PenMatch              // match line where a drawing is split
	PenKey                // wall on a key plan
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

// fit sets the extent from the marks; labels count with the room they take at
// the picture's scale.
func (d *Picture) fit() {
	first := true
	grow := func(p UV) {
		if first {
			d.Min, d.Max, first = p, p, false
			return
		}
		for k := range p {
			d.Min[k], d.Max[k] = min(d.Min[k], p[k]), max(d.Max[k], p[k])
		}
	}
	for i := range d.Marks {
		m := &d.Marks[i]
		for _, p := range m.Points {
			grow(p)
		}
		if m.Text != "" && d.Scale > 0 {
			for _, p := range m.corners(d.Scale) {
				grow(p)
			}
		}
	}
}

// corners are those of the box a label takes.
func (m *Mark) corners(scale float64) [4]UV {
	w, h := TextWidth(m.Text, m.Size, m.Bold)*scale, m.Size*scale
	x0 := [...]float64{-w / 2, 0, -w}[m.Align]
	sin, cos := math.Sincos(m.Angle * math.Pi / 180)
	var out [4]UV
	for i, c := range [4][2]float64{{x0, -h / 2}, {x0 + w, -h / 2}, {x0 + w, h / 2}, {x0, h / 2}} {
		out[i] = UV{m.Points[0][0] + MM(c[0]*cos-c[1]*sin), m.Points[0][1] + MM(c[0]*sin+c[1]*cos)}
	}
	return out
}

// TextWidth is about how wide a text is in the sans serif that drawings are
// written in, size being that of the type; widths are those of the metric
// families every system has (digits 0.556 of the size).
func TextWidth(s string, size float64, bold bool) float64 {
	w := 0.0
	for _, r := range s {
		switch {
		case r >= '0' && r <= '9':
			w += 0.556
		case r == '-' || r == '(' || r == ')':
			w += 0.333
		case r == ' ' || r == '/' || r == '.' || r == ',' || r == ':' || r == '\'' || r == 'i' || r == 'l' || r == 't' || r == 'f':
			w += 0.278
		case r == '"':
			w += 0.355
		case r >= 'A' && r <= 'Z':
			w += 0.69
		case r < 0x370:
			w += 0.55
		default:
			w += 0.8
		}
	}
	if bold {
		w *= 1.06
	}
	return w * size
}

// spread moves places apart so that neighbours, in the order given, are at
// least gap apart, each as near to where it wants to be as the others allow.
// The places wanted are sorted.
func spread(want []float64, gap float64) []float64 {
	type block struct {
		sum float64 // of want[i] − i·gap within
		n   int
	}
	var bs []block
	for i, x := range want {
		b := block{x - float64(i)*gap, 1}
		for len(bs) > 0 && bs[len(bs)-1].sum/float64(bs[len(bs)-1].n) >= b.sum/float64(b.n) {
			b.sum += bs[len(bs)-1].sum
			b.n += bs[len(bs)-1].n
			bs = bs[:len(bs)-1]
		}
		bs = append(bs, b)
	}
	out := make([]float64, 0, len(want))
	for _, b := range bs {
		for range b.n {
			out = append(out, b.sum/float64(b.n)+float64(len(out))*gap)
		}
	}
	return out
}
