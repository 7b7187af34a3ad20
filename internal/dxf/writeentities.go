package dxf

import (
	"math"
	"strings"
)

func (w *writer) entities(list []Entity, owner uint64) {
	for _, e := range list {
		w.entity(e, owner)
	}
}

// open begins an entity and returns its handle.
func (w *writer) open(typ string, owner uint64, p Pen) uint64 {
	h := w.handle()
	w.groups(0, typ, 5, h, 330, owner, 100, "AcDbEntity", 8, layerOf(p))
	if p.Linetype != "" {
		w.group(6, p.Linetype)
	}
	if p.Colour != 0 {
		w.group(62, p.Colour)
	}
	return h
}

func layerOf(p Pen) string {
	if p.Layer == "" {
		return "0"
	}
	return p.Layer
}

// point writes a point in the plane; code is that of its x.
func (w *writer) point(code int, p [2]float64) {
	w.groups(code, p[0], code+10, p[1], code+20, 0.0)
}

func (w *writer) entity(e Entity, owner uint64) {
	switch e := e.(type) {
	case Line:
		w.open("LINE", owner, e.Pen)
		w.group(100, "AcDbLine")
		w.point(10, e.A)
		w.point(11, e.B)
	case Polyline:
		w.polyline(e, owner)
	case Arc:
		w.open("ARC", owner, e.Pen)
		w.group(100, "AcDbCircle")
		w.point(10, e.Centre)
		w.groups(40, e.Radius, 100, "AcDbArc", 50, e.Start, 51, e.End)
	case Circle:
		w.open("CIRCLE", owner, e.Pen)
		w.group(100, "AcDbCircle")
		w.point(10, e.Centre)
		w.group(40, e.Radius)
	case Text:
		w.open("TEXT", owner, e.Pen)
		w.text(e.At, e.Height, e.Angle, e.Value, e.H, e.V)
		w.group(100, "AcDbText")
		w.valign(73, e.V)
	case Hatch:
		w.hatch(e, owner)
	case Insert:
		w.insert(e, owner)
	case AttDef:
		w.open("ATTDEF", owner, e.Pen)
		w.text(e.At, e.Height, e.Angle, e.Default, e.H, e.V)
		w.groups(100, "AcDbAttributeDefinition", 280, 0, 3, escape(e.Prompt), 2, e.Tag, 70, int(truth(e.Invisible)))
		w.valign(74, e.V)
	}
}

func truth(b bool) uint8 {
	if b {
		return 1
	}
	return 0
}

func (w *writer) polyline(e Polyline, owner uint64) {
	w.open("LWPOLYLINE", owner, e.Pen)
	w.groups(100, "AcDbPolyline", 90, len(e.Vertices), 70, int(truth(e.Closed)), 43, e.Width)
	if e.Elevation != 0 {
		w.group(38, e.Elevation)
	}
	for _, v := range e.Vertices {
		w.groups(10, v.X, 20, v.Y)
		if v.Bulge != 0 {
			w.group(42, v.Bulge)
		}
	}
}

// text writes the first AcDbText part of a TEXT, ATTRIB or ATTDEF. The point of
// an aligned text goes into both points: readers take the second, programs
// correct the first.
func (w *writer) text(at [2]float64, height, angle float64, value string, h HAlign, v VAlign) {
	w.group(100, "AcDbText")
	w.point(10, at)
	w.groups(40, height, 1, escape(value))
	if angle != 0 {
		w.group(50, angle)
	}
	w.group(7, "Standard")
	if h != Left || v != Baseline {
		w.group(72, int(h))
		w.point(11, at)
	}
}

func (w *writer) valign(code int, v VAlign) {
	if v != Baseline {
		w.group(code, int(v))
	}
}

func (w *writer) hatch(e Hatch, owner uint64) {
	w.open("HATCH", owner, e.Pen)
	w.group(100, "AcDbHatch")
	w.point(10, [2]float64{})
	w.groups(210, 0.0, 220, 0.0, 230, 1.0, 2, "SOLID", 70, 1, 71, 0, 91, len(e.Rings))
	for i, r := range e.Rings {
		flags := 2 // polyline
		if i == 0 {
			flags |= 1 // external
		}
		bulged := false
		for _, v := range r {
			bulged = bulged || v.Bulge != 0
		}
		w.groups(92, flags, 72, int(truth(bulged)), 73, 1, 93, len(r))
		for _, v := range r {
			w.groups(10, v.X, 20, v.Y)
			if bulged {
				w.group(42, v.Bulge)
			}
		}
		w.group(97, 0)
	}
	w.groups(75, 0, 76, 1, 98, 0)
}

func (w *writer) insert(e Insert, owner uint64) {
	h := w.open("INSERT", owner, e.Pen)
	w.group(100, "AcDbBlockReference")
	if len(e.Attribs) > 0 {
		w.group(66, 1)
	}
	w.group(2, e.Block)
	w.point(10, e.At)
	sx, sy := orOne(e.SX), orOne(e.SY)
	w.groups(41, sx, 42, sy, 43, 1.0)
	if e.Angle != 0 {
		w.group(50, e.Angle)
	}
	if len(e.Attribs) == 0 {
		return
	}
	block := w.blockByName(e.Block)
	for _, a := range e.Attribs {
		def, _ := block.attDef(a.Tag)
		p := def.Pen
		if layerOf(p) == "0" {
			p.Layer = layerOf(e.Pen)
		}
		at := e.place(block.Base, def.At)
		w.open("ATTRIB", h, p)
		w.text(at, def.Height*math.Abs(sy), def.Angle+e.Angle, a.Value, def.H, def.V)
		w.groups(100, "AcDbAttribute", 280, 0, 2, a.Tag, 70, int(truth(def.Invisible)))
		w.valign(74, def.V)
	}
	w.open("SEQEND", h, e.Pen)
}

func (w *writer) blockByName(name string) *Block {
	for i := range w.d.Blocks {
		if strings.EqualFold(w.d.Blocks[i].Name, name) {
			return &w.d.Blocks[i]
		}
	}
	return &Block{}
}

// place maps a point of the block to where the insert puts it.
func (e Insert) place(base, p [2]float64) [2]float64 {
	sin, cos := math.Sincos(e.Angle * math.Pi / 180)
	x, y := (p[0]-base[0])*orOne(e.SX), (p[1]-base[1])*orOne(e.SY)
	return [2]float64{e.At[0] + cos*x - sin*y, e.At[1] + sin*x + cos*y}
}

func orOne(x float64) float64 {
	if x == 0 {
		return 1
	}
	return x
}
