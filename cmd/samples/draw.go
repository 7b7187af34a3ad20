package main

// drawing is a plan before it is written: everything an architect's plan holds.
type drawing struct {
	unit    string // "inch" or "mm"
	lines   []line
	rects   []rect
	arcs    []arc
	circles []circle
	texts   []text
	inserts []insert
	hatches []hatch
	blocks  []block
	layers  []layer
}

type layer struct {
	name   string
	colour int
	dashed bool
}

type rect struct {
	box
	layer string
}

type arc struct {
	c          pt
	r          float64
	start, end float64 // degrees, counter-clockwise
	layer      string
}

type circle struct {
	c     pt
	r     float64
	layer string
}

type text struct {
	at     pt
	h      float64
	s      string
	layer  string
	centre bool
}

type hatch struct {
	box
	layer string
}

// dim is a dimension line with its text, drawn as plain lines and text.
type dim struct {
	a, b pt // measured points
	off  float64
	s    string
}

// insert is a placed block with its attributes.
type insert struct {
	block   string
	at      pt
	angle   float64
	mirror  bool // x scale −1
	layer   string
	attribs [][2]string // tag, value
}

// block is a symbol in its own coordinates.
type block struct {
	name  string
	lines []line
	arcs  []arc
}

func (d *drawing) line(layer string, x0, y0, x1, y1 float64) {
	d.lines = append(d.lines, line{pt{x0, y0}, pt{x1, y1}, layer})
}

func (d *drawing) text(layer string, x, y, h float64, s string) {
	d.texts = append(d.texts, text{pt{x, y}, h, s, layer, true})
}

// tag draws a wall tag: a circle with the type's name beside the wall.
func (d *drawing) tag(layer string, x, y, r float64, s string) {
	d.circles = append(d.circles, circle{pt{x, y}, r, layer})
	d.texts = append(d.texts, text{pt{x, y}, r * 0.8, s, layer, true})
}

// doorBlock is a single-leaf door symbol of clear width w: origin at the hinge
// jamb in the middle of the wall, leaf open at 90°, swing of radius w.
func doorBlock(name string, w, leaf float64) block {
	return block{
		name: name,
		lines: []line{
			{pt{0, 0}, pt{0, w}, "A-DOOR"}, {pt{leaf, 0}, pt{leaf, w}, "A-DOOR"},
			{pt{0, w}, pt{leaf, w}, "A-DOOR"}, {pt{0, 0}, pt{leaf, 0}, "A-DOOR"},
		},
		arcs: []arc{{pt{0, 0}, w, 0, 90, "A-DOOR"}},
	}
}

// windowBlock is a borrowed light of width w in a wall of thickness t: origin
// at its centre, two lines of glass.
func windowBlock(name string, w, t float64) block {
	return block{name: name, lines: []line{
		{pt{-w / 2, -t / 8}, pt{w / 2, -t / 8}, "A-GLAZ"}, {pt{-w / 2, t / 8}, pt{w / 2, t / 8}, "A-GLAZ"},
		{pt{-w / 2, -t / 2}, pt{-w / 2, t / 2}, "A-GLAZ"}, {pt{w / 2, -t / 2}, pt{w / 2, t / 2}, "A-GLAZ"},
	}}
}

// measure draws a dimension: extension lines, a dimension line with ticks, the
// text above it.
func (d *drawing) measure(layer string, m dim) {
	h := 6.0
	if d.unit == "mm" {
		h = 150
	}
	dx, dy := m.b.x-m.a.x, m.b.y-m.a.y
	nx, ny := 0.0, 0.0
	if dy == 0 {
		ny = m.off
	} else {
		nx = m.off
	}
	a, b := pt{m.a.x + nx, m.a.y + ny}, pt{m.b.x + nx, m.b.y + ny}
	d.line(layer, m.a.x+nx/8, m.a.y+ny/8, a.x+nx/8, a.y+ny/8)
	d.line(layer, m.b.x+nx/8, m.b.y+ny/8, b.x+nx/8, b.y+ny/8)
	d.line(layer, a.x, a.y, b.x, b.y)
	for _, p := range []pt{a, b} {
		d.line(layer, p.x-h/3, p.y-h/3, p.x+h/3, p.y+h/3)
	}
	t := text{at: pt{(a.x + b.x) / 2, (a.y+b.y)/2 + h*0.8}, h: h, s: m.s, layer: layer, centre: true}
	if dx == 0 {
		t.at = pt{a.x - h*1.5, (a.y + b.y) / 2}
	}
	d.texts = append(d.texts, t)
}
