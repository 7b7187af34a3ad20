package dxf

import (
	"bytes"
	"fmt"
	"strconv"

	"boardrun/internal/plan"
)

// common is what every entity has.
type common struct {
	handle    uint64
	line      uint32
	layer     uint32
	ltype     uint16
	colour    int16
	typ       uint16
	flags     uint16
	paper     bool // in paper space
	thickness float64
	normal    [3]float64 // extrusion direction; {0 0 1} unless tilted
	fault     string     // why it cannot be used
	faultCode string
}

var flat = [3]float64{0, 0, 1}

// ACI numbers with a meaning of their own.
const (
	colourByBlock = 0
	colourByLayer = 256
)

// entity reads one entity of a block or of modelspace.
func (p *parser) entity() {
	typ := p.s.Bytes()
	if n := len(typ); n > 0 && (typ[0] == ' ' || typ[n-1] == ' ') {
		typ = bytes.TrimSpace(typ)
	}
	if len(typ) == 0 {
		typ = []byte("?")
	}
	if p.poly.open && string(typ) != "VERTEX" && string(typ) != "SEQEND" {
		p.endPolyline()
	}
	p.c = common{line: uint32(p.s.Line), colour: colourByLayer, normal: flat}
	p.c.typ = uint16(p.m.types.number(typ, p.dec))
	p.nums, p.aux, p.pts, p.str = p.nums[:0], p.aux[:0], p.pts[:0], p.str[:0]
	switch string(typ) {
	case "LINE", "3DLINE":
		p.lineEntity()
	case "LWPOLYLINE":
		p.lwpolyline()
	case "POLYLINE":
		p.polylineEntity()
	case "VERTEX":
		p.vertex()
	case "SEQEND":
		p.endPolyline()
		p.skip()
	case "ARC", "CIRCLE":
		p.arc(string(typ) == "CIRCLE")
	case "ELLIPSE":
		p.ellipse()
	case "SPLINE":
		p.spline()
	case "SOLID", "TRACE":
		p.solid()
	case "HATCH", "MPOLYGON":
		p.hatch()
	case "MLINE":
		p.mline()
	case "WIPEOUT":
		p.wipeout()
	case "TEXT":
		p.text("TEXT")
	case "ATTRIB":
		p.text("ATTRIB")
	case "ATTDEF":
		p.text("ATTDEF")
	case "MTEXT":
		p.mtext()
	case "INSERT":
		p.insert()
	case "ACAD_TABLE":
		p.table()
	case "DIMENSION", "ARC_DIMENSION", "LARGE_RADIAL_DIMENSION":
		p.dimension()
	case "3DFACE":
		p.face()
	default:
		p.other()
	}
}

// common reads a group that any entity may have.
func (p *parser) common(code int) {
	switch code {
	case 5:
		p.c.handle, _ = p.s.Handle()
	case 6:
		p.c.ltype = uint16(p.m.ltypes.number(p.s.Bytes(), p.dec))
	case 8:
		p.c.layer = p.layerNumber(p.s.Bytes())
	case 39:
		p.c.thickness = p.coord()
	case 60:
		if v, ok := p.s.Int(); ok && v == 1 {
			p.c.flags |= fInvisible
		}
	case 62:
		if v, ok := p.s.Int(); ok && v >= 0 && v <= 256 {
			p.c.colour = int16(v)
		}
	case 67:
		v, _ := p.s.Int()
		p.c.paper = v == 1
	case 210, 220, 230:
		p.c.normal[(code-210)/10] = p.coord()
	}
}

// keep stores the entity just read, unless it is in paper space, cut by the end
// of the data, or unusable. It tells whether it was stored.
func (p *parser) keep(k kind, flags uint16, nums []float64) bool {
	if p.skipSpace || p.c.paper && !p.inBlock {
		return false
	}
	if !p.live {
		p.cutEntity = p.name()
		return false
	}
	if p.c.fault != "" {
		p.report(plan.Person, p.c.faultCode, p.c.fault, "left out; correct it where it was drawn")
		k, flags, nums = kOther, flags&fAttrib, p.reason(reasonUnusable)
	}
	st := style{layer: p.c.layer, ltype: p.c.ltype, colour: p.c.colour, typ: p.c.typ, kind: k}
	p.m.store.add(st, flags|p.c.flags, p.c.line, p.c.handle, nums)
	p.afterInsert = k == kInsert || flags&fAttrib != 0
	return true
}

// name names the entity being read for a message: "LINE 2F" or "LINE @120".
func (p *parser) name() string {
	return p.m.types.list[p.c.typ] + " " + ref(p.c.handle, p.c.line)
}

// ref names an entity by its handle, or by its line where it has none.
func ref(handle uint64, line uint32) string {
	if handle != 0 {
		return fmt.Sprintf("%X", handle)
	}
	return "@" + strconv.FormatUint(uint64(line), 10)
}

// report notes an exception about the entity being read.
func (p *parser) report(sev plan.Severity, code, msg, did string) {
	typ := p.m.types.list[p.c.typ]
	p.m.report.add(typ, plan.Exception{Severity: sev, Code: code, Message: msg, Did: did,
		Source: plan.Source{Line: int(p.c.line), Ref: ref(p.c.handle, p.c.line), Entity: typ, Layer: p.m.layers.list[p.c.layer]}})
}

// ext appends elevation, thickness and normal where any of them matters and
// returns the flag that says so.
func (p *parser) ext(nums []float64, z float64) ([]float64, uint16) {
	if z == 0 && p.c.thickness == 0 && p.c.normal == flat {
		return nums, 0
	}
	return append(nums, z, p.c.thickness, p.c.normal[0], p.c.normal[1], p.c.normal[2]), fExt
}

func (p *parser) lineEntity() {
	var x [6]float64 // 10 20 30 11 21 31
	for p.next() {
		switch c := p.s.Code; c {
		case 10, 20, 30, 11, 21, 31:
			x[c/10-1+3*(c%10)] = p.coord()
		default:
			p.common(c)
		}
	}
	nums := append(p.nums, x[0], x[1], x[3])
	flags := uint16(fLevel)
	if x[1] != x[4] {
		nums, flags = append(nums, x[4]), 0
	}
	if x[2] != 0 || x[5] != 0 || p.c.thickness != 0 {
		nums = append(nums, x[2], x[5], p.c.thickness)
		flags |= fExt
	}
	p.keep(kLine, flags, nums)
}

// ends takes the payload of a LINE apart.
func (r *rec) ends() (x0, y0, x1, y1 float64, ext []float64) {
	x := r.x
	if r.flags&fLevel != 0 {
		return x[0], x[1], x[2], x[1], x[3:]
	}
	return x[0], x[1], x[2], x[3], x[4:]
}

func (p *parser) arc(circle bool) {
	var x, y, z, r, start, end float64
	for p.next() {
		switch c := p.s.Code; c {
		case 10:
			x = p.coord()
		case 20:
			y = p.coord()
		case 30:
			z = p.coord()
		case 40:
			r = p.coord()
		case 50:
			start = p.coord()
		case 51:
			end = p.coord()
		default:
			p.common(c)
		}
	}
	flags := uint16(0)
	if circle {
		start, end, flags = 0, 360, fFull
	}
	if r <= 0 {
		p.keep(kOther, 0, p.reason(reasonNoLength, x, y, z))
		return
	}
	nums, f := p.ext(append(p.nums, x, y, r, start, end), z)
	p.keep(kArc, flags|f, nums)
}
