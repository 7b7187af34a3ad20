package dxf

import (
	"math"

	group "boardrun/internal/dxf"
	"boardrun/internal/plan"
)

// text reads a TEXT or an ATTRIB. Its place is the alignment point where it is
// aligned, else its lower left.
func (p *parser) text(attrib bool) {
	var x, y [3]float64 // groups 10 and 11
	var height, angle float64
	var align, valign, attribFlags int64
	tag, embedded := uint32(0), false
	for p.next() {
		c := p.s.Code
		if embedded { // a copy as MTEXT follows in releases 2018 and later
			continue
		}
		switch c {
		case 1:
			p.str = append(p.str[:0], p.s.Bytes()...)
		case 2:
			if attrib {
				tag = p.m.tags.number(p.s.Bytes(), p.dec)
			}
		case 10, 20, 30:
			x[c/10-1] = p.coord()
		case 11, 21, 31:
			y[c/10-1] = p.coord()
		case 40:
			height = p.coord()
		case 50:
			angle = p.coord()
		case 70:
			attribFlags, _ = p.s.Int()
		case 72:
			align, _ = p.s.Int()
		case 73, 74:
			if v, _ := p.s.Int(); c == 73 != attrib {
				valign = v
			}
		case 101:
			embedded = true
		default:
			p.common(c)
		}
	}
	if align != 0 && align != 3 && align != 5 || valign != 0 { // 3, 5: fitted between both
		x = y
	}
	value := group.PlainText(p.dec.String(p.str))
	flags := uint16(0)
	if attrib && attribFlags&1 != 0 {
		flags |= fInvisible
	}
	if attrib && p.afterInsert { // it belongs to the INSERT stored last
		flags |= fAttrib
	}
	p.keepText(flags, tag, value, x, height, angle)
}

func (p *parser) keepText(flags uint16, tag uint32, value string, x [3]float64, height, angle float64) {
	nums := append(p.nums, p.m.store.keepString(value), x[0], x[1], height)
	if angle != 0 {
		nums = append(nums, angle)
		flags |= fTurned
	}
	if flags&fAttrib != 0 {
		nums = append(nums, float64(tag))
	}
	if x[2] != 0 || p.c.normal != flat {
		nums = append(append(nums, x[2]), p.c.normal[:]...)
		flags |= fExt
	}
	p.keep(kText, flags, nums)
}

// mtext reads an MTEXT: its string comes in pieces, its place and direction are
// in world coordinates.
func (p *parser) mtext() {
	var x, dir [3]float64
	var height, angle float64
	for p.next() {
		c := p.s.Code
		switch c {
		case 1, 3:
			p.str = append(p.str, p.s.Bytes()...)
		case 10, 20, 30:
			x[c/10-1] = p.coord()
		case 11, 21, 31:
			dir[c/10-1] = p.coord()
			angle = math.Atan2(dir[1], dir[0]) * 180 / math.Pi
		case 40:
			height = p.coord()
		case 50:
			angle = p.coord()
		case 101: // columns, in releases 2018 and later
			p.skip()
		default:
			p.common(c)
		}
		if !p.live || p.s.Code == 0 {
			break
		}
	}
	p.c.normal = flat
	p.keepText(0, 0, group.PlainMText(p.dec.String(p.str)), x, height, angle)
}

// dimension reads a DIMENSION: what it says and what it measures. Its lines and
// arrows are no linework of the plan.
func (p *parser) dimension() {
	var q [7][3]float64 // groups 10 to 16
	var measured, turn float64
	var typ int64
	picture := 0.0 // block that draws it, or the number of a dimension's own
	hasMeasured := false
	for p.next() {
		switch c := p.s.Code; {
		case c == 1:
			p.str = append(p.str[:0], p.s.Bytes()...)
		case c == 2:
			picture = p.picture()
		case c >= 10 && c < 40 && c%10 < 7:
			q[c%10][c/10-1] = p.coord()
		case c == 42:
			measured, hasMeasured = p.coord(), true
		case c == 50:
			turn = p.coord()
		case c == 70:
			typ, _ = p.s.Int()
		default:
			p.common(c)
		}
	}
	if p.m.types.list[p.c.typ] != "DIMENSION" {
		typ = dimAngular
	}
	if !hasMeasured {
		measured = distance(typ&7, &q, turn)
	}
	if t := typ & 7; t == dimAngular || t == dimAngular3 {
		measured = 0
	}
	at := q[1]
	if at == ([3]float64{}) {
		at = q[0]
	}
	text := group.PlainMText(p.dec.String(p.str))
	nums := append(p.nums, p.m.store.keepString(text), picture, at[0], at[1], math.Abs(measured))
	flags := uint16(0)
	if at[2] != 0 || p.c.normal != flat {
		nums = append(append(nums, at[2]), p.c.normal[:]...)
		flags = fExt
	}
	p.keep(kDimension, flags, nums)
}

// Kinds of dimension, in the low bits of group 70.
// Source: DXF Reference, DIMENSION.
const (
	dimLinear = iota
	dimAligned
	dimAngular
	dimDiameter
	dimRadius
	dimAngular3
	dimOrdinate
)

// distance works out what a dimension measures from its points, where an old
// file does not say.
func distance(typ int64, q *[7][3]float64, turn float64) float64 {
	switch typ {
	case dimLinear:
		sin, cos := math.Sincos(turn * math.Pi / 180)
		return (q[4][0]-q[3][0])*cos + (q[4][1]-q[3][1])*sin
	case dimAligned:
		return math.Hypot(q[4][0]-q[3][0], q[4][1]-q[3][1])
	case dimDiameter, dimRadius:
		return math.Hypot(q[5][0]-q[0][0], q[5][1]-q[0][1])
	}
	return 0
}

// Reasons why an entity has no linework here.
const (
	reasonNoLinework = iota
	reasonPoint
	reasonMesh
	reasonFace
	reasonAnnotation
	reasonConstruction
	reasonPicture
	reasonSolid
	reasonCustom
	reasonViewport
	reasonAttdef
	reasonNoLength
	reasonUnusable
	reasonUnknown
	reasonTooFar
)

var reasons = [...]string{
	reasonNoLinework:   "nothing drawn",
	reasonPoint:        "a point",
	reasonMesh:         "a mesh",
	reasonFace:         "a 3D face",
	reasonAnnotation:   "a leader or note",
	reasonConstruction: "an endless construction line",
	reasonPicture:      "a picture or underlay",
	reasonSolid:        "a solid or region",
	reasonCustom:       "an object of another program",
	reasonViewport:     "a viewport or light",
	reasonAttdef:       "the definition of an attribute",
	reasonNoLength:     "it has no length",
	reasonUnusable:     "a value of it cannot be used",
	reasonUnknown:      "its type is not known",
	reasonTooFar:       "it lies too far from the origin",
}

// otherTypes gives the reason by type. A type not here is unknown.
var otherTypes = map[string]uint8{
	"POINT": reasonPoint, "SHAPE": reasonPoint,
	"MESH": reasonMesh, "SURFACE": reasonSolid, "PLANESURFACE": reasonSolid, "EXTRUDEDSURFACE": reasonSolid,
	"REVOLVEDSURFACE": reasonSolid, "SWEPTSURFACE": reasonSolid, "LOFTEDSURFACE": reasonSolid, "NURBSURFACE": reasonSolid,
	"3DSOLID": reasonSolid, "BODY": reasonSolid, "REGION": reasonSolid, "HELIX": reasonConstruction,
	"LEADER": reasonAnnotation, "MULTILEADER": reasonAnnotation, "MLEADER": reasonAnnotation, "TOLERANCE": reasonAnnotation,
	"RTEXT": reasonAnnotation, "ARCALIGNEDTEXT": reasonAnnotation,
	"XLINE": reasonConstruction, "RAY": reasonConstruction,
	"IMAGE": reasonPicture, "OLEFRAME": reasonPicture, "OLE2FRAME": reasonPicture, "PDFUNDERLAY": reasonPicture,
	"DWFUNDERLAY": reasonPicture, "DGNUNDERLAY": reasonPicture, "POINTCLOUD": reasonPicture, "ACDBPOINTCLOUDEX": reasonPicture,
	"ACAD_PROXY_ENTITY": reasonCustom,
	"VIEWPORT":          reasonViewport, "LIGHT": reasonViewport, "SUN": reasonViewport, "CAMERA": reasonViewport,
	"SECTION": reasonViewport, "GEOPOSITIONMARKER": reasonViewport,
}

// reason begins the numbers of an entity without linework.
func (p *parser) reason(r int, at ...float64) []float64 {
	out := append(p.nums[:0], float64(r), 0, 0, 0)
	copy(out[1:], at)
	return out
}

// other counts an entity that has no linework, with where it is.
func (p *parser) other() {
	typ := p.m.types.list[p.c.typ]
	why, known := otherTypes[typ]
	if !known {
		why = reasonUnknown
	}
	var x [3]float64
	seen := 0
	for p.next() {
		switch c := p.s.Code; c {
		case 10, 20, 30:
			if bit := 1 << (c / 10); seen&bit == 0 {
				seen |= bit
				if f, ok := p.s.Float(); ok && math.Abs(f) < MaxCoordinate {
					x[c/10-1] = f
				}
			}
		case 5, 8, 60, 62, 67:
			p.common(c)
		}
	}
	if !p.keep(kOther, 0, p.reason(int(why), x[0], x[1], x[2])) {
		return
	}
	if why == reasonCustom || why == reasonUnknown {
		p.report(plan.Person, CodeCustomObject, "an object of another program, whose shape this file does not hold as lines",
			"left out; walls may be drawn with it: export again with such objects exploded")
	}
}

// face reads a 3DFACE: not linework, but its corners are kept.
func (p *parser) face() {
	var x [4][3]float64
	for p.next() {
		switch c := p.s.Code; {
		case c >= 10 && c < 40 && c%10 < 4:
			x[c%10][c/10-1] = p.coord()
		default:
			p.common(c)
		}
	}
	nums := p.reason(reasonFace, x[0][:]...)
	for _, q := range x {
		nums = append(nums, q[:]...)
	}
	p.keep(kOther, 0, nums)
}
