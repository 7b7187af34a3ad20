package dxf

import "fmt"

// polyline gathers a POLYLINE over its VERTEX entities. pts of the parser holds
// x y z bulge for each vertex.
type polyline struct {
	open   bool
	c      common
	kind   int64 // flags of group 70
	z      float64
	width  widths
	pts    []float64 // x y z bulge
	bulged bool
	points int // vertices met, of any kind
}

// Flags of a POLYLINE (70) and of a VERTEX.
// Source: DXF Reference, POLYLINE, VERTEX.
const (
	polyClosed     = 1
	poly3D         = 8
	polyMesh       = 16
	polyFaces      = 64
	vertexSpline   = 16 // control point of a fitted curve: not on it
	vertexFaceOnly = 128
	vertexIs3D     = 64
)

// widths finds out whether a polyline has one width all along.
type widths struct {
	width float64
	seen  bool
	mixed bool
}

func (w *widths) see(x float64) {
	if w.seen && x != w.width {
		w.mixed = true
	}
	w.width, w.seen = x, true
}

func (w widths) constant() float64 {
	if w.mixed {
		return 0
	}
	return w.width
}

// lwpolyline reads an LWPOLYLINE. The closed bit is one of several in group 70.
func (p *parser) lwpolyline() {
	var z float64
	var w widths
	closed, bulged := false, false
	pts := p.pts // x y bulge
	for p.next() {
		switch c := p.s.Code; c {
		case 10:
			if len(pts) == 3*MaxVertices {
				p.tooLong()
				pts = pts[:0]
			}
			pts = append(pts, p.coord(), 0, 0)
		case 20:
			if n := len(pts); n > 0 {
				pts[n-2] = p.coord()
			}
		case 42:
			if n := len(pts); n > 0 {
				pts[n-1] = p.coord()
				bulged = bulged || pts[n-1] != 0
			}
		case 38:
			z = p.coord()
		case 43, 40, 41:
			w.see(p.coord())
		case 70:
			f, _ := p.s.Int()
			closed = f&polyClosed != 0
		default:
			p.common(c)
		}
	}
	p.pts = pts
	p.keepPoly(pts, 3, bulged, closed, z, w.constant())
}

// keepPoly stores a polyline in its own plane: pts holds x y bulge in groups of
// stride, the bulge last.
func (p *parser) keepPoly(pts []float64, stride int, bulged, closed bool, z, width float64) {
	n := len(pts) / stride
	if n < 2 {
		var at [3]float64
		copy(at[:], pts)
		p.keep(kOther, 0, p.reason(reasonNoLength, at[0], at[1], z))
		return
	}
	nums, flags := p.ext(append(p.nums, width), z)
	if closed {
		flags |= fClosed
	}
	if bulged {
		flags |= fBulge
	}
	for i := 0; i < n; i++ {
		nums = append(nums, pts[stride*i], pts[stride*i+1])
		if bulged {
			nums = append(nums, pts[stride*i+stride-1])
		}
	}
	p.nums = nums
	p.keep(kPoly, flags, nums)
}

func (p *parser) polylineEntity() {
	q := &p.poly
	*q = polyline{pts: q.pts[:0]}
	for p.next() {
		switch c := p.s.Code; c {
		case 30:
			q.z = p.coord()
		case 40, 41:
			q.width.see(p.coord())
		case 70:
			q.kind, _ = p.s.Int()
		default:
			p.common(c)
		}
	}
	q.c, q.open = p.c, true
}

func (p *parser) vertex() {
	q := &p.poly
	var v [4]float64
	var flags int64
	for p.next() {
		switch c := p.s.Code; c {
		case 10, 20, 30:
			v[c/10-1] = p.coord()
		case 42:
			v[3] = p.coord()
		case 40, 41:
			q.width.see(p.coord())
		case 70:
			flags, _ = p.s.Int()
		case 5:
			p.common(c)
		}
	}
	if !q.open {
		return
	}
	if p.c.fault != "" && q.c.fault == "" {
		q.c.fault, q.c.faultCode = p.c.fault, p.c.faultCode
	}
	q.points++
	faceRecord := q.kind&polyFaces != 0 && flags&vertexFaceOnly != 0 && flags&vertexIs3D == 0
	if q.points > MaxVertices && q.c.fault == "" {
		q.c.faultCode, q.c.fault = CodeTooMany, fmt.Sprintf("it has more than %d vertices", MaxVertices)
	}
	if flags&vertexSpline != 0 || faceRecord || q.c.fault != "" {
		return
	}
	q.pts = append(q.pts, v[0], v[1], v[2], v[3])
	q.bulged = q.bulged || v[3] != 0
}

// endPolyline stores the POLYLINE that is open, if any.
func (p *parser) endPolyline() {
	q := &p.poly
	if !q.open {
		return
	}
	q.open = false
	kept := p.c
	p.c = q.c
	nums := p.nums
	p.nums = p.nums[:0]
	defer func() { p.c, p.nums = kept, nums[:0] }()
	switch {
	case q.kind&(polyMesh|polyFaces) != 0:
		out := p.reason(reasonMesh)
		if len(q.pts) > 0 {
			copy(out[1:], q.pts[:3])
		}
		for i := 0; i < len(q.pts); i += 4 {
			out = append(out, q.pts[i:i+3]...)
		}
		p.keep(kOther, 0, out)
	case q.kind&poly3D != 0:
		p.keepPoly3D(q.pts, q.kind&polyClosed != 0)
	default:
		p.keepPoly(q.pts, 4, q.bulged, q.kind&polyClosed != 0, q.z, q.width.constant())
	}
}

// keepPoly3D stores a 3D polyline, x y z in groups of four.
func (p *parser) keepPoly3D(pts []float64, closed bool) {
	if len(pts) < 8 {
		p.keepPoly(nil, 4, false, closed, 0, 0)
		return
	}
	flags := uint16(fZ)
	if closed {
		flags |= fClosed
	}
	nums := append(p.nums, 0)
	for i := 0; i < len(pts); i += 4 {
		nums = append(nums, pts[i:i+3]...)
	}
	p.keep(kPoly, flags, nums)
}
