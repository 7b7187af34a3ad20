package dxf

import (
	"math"

	"boardrun/internal/plan"
)

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
	reasonClipped
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
	reasonClipped:      "outside the clip of its block",
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
