package dxf

import "math"

// solid reads a SOLID or TRACE: four corners in Z order in its own plane.
func (p *parser) solid() {
	var x [4][3]float64
	seen4 := false
	for p.next() {
		switch c := p.s.Code; {
		case c >= 10 && c < 40 && c%10 < 4:
			x[c%10][c/10-1] = p.coord()
			seen4 = seen4 || c == 13
		default:
			p.common(c)
		}
	}
	order := []int{0, 1, 3, 2}
	if !seen4 || x[3] == x[2] {
		order = order[:3]
		order[2] = 2
	}
	h := boundary{}
	h.plane = ocs(p.c.normal[0], p.c.normal[1], p.c.normal[2])
	for _, i := range order {
		h.add(x[i][0], x[i][1], x[i][2])
	}
	h.endRing()
	p.keepFill("SOLID", &h)
}

func (p *parser) keepFill(pattern string, h *boundary) {
	if h.total > MaxVertices {
		p.tooLong()
	}
	if len(h.rings) == 0 {
		p.keep(kOther, 0, p.reason(reasonNoLength, h.at[:]...))
		return
	}
	p.nums = append(append(p.nums, p.m.store.keepString(pattern)), h.rings...)
	p.keep(kFill, 0, p.nums)
}

// hatch reads a HATCH: its boundary paths, flattened, and its pattern's name.
// Pattern lines and seed points are passed over.
func (p *parser) hatch() {
	h := hatchReader{p: p}
	head := true
	pattern := ""
	for p.next() {
		c := p.s.Code
		switch {
		case c == 2 && head:
			pattern = p.dec.String(p.s.Bytes())
		case c == 30 && head:
			h.z = p.coord()
		case c == 91 && head:
			head = false
			h.open = true
			h.plane = ocs(p.c.normal[0], p.c.normal[1], p.c.normal[2])
		case h.open && c == 75: // style: the boundary is behind us
			h.endPath()
			h.open = false
		case h.open && c == 330 || c >= 1000:
		case h.open:
			h.group(c)
		case head || c == 60:
			p.common(c)
		}
	}
	h.endPath()
	p.keepFill(pattern, &h.boundary)
}

// hatchReader follows the boundary part of a HATCH.
// Source: DXF Reference, "Boundary Path Data".
type hatchReader struct {
	boundary
	p    *parser
	z    float64
	open bool // inside the boundary part

	path     bool
	polyline bool
	closed   bool
	verts    []float64 // polyline path: x y bulge

	edge int // kind of the current edge, 0 none
	v    [60]float64
	ccw  bool
	sp   nurbs
}

// Kinds of boundary edge.
const (
	edgeLine = 1 + iota
	edgeArc
	edgeEllipse
	edgeSpline
)

func (h *hatchReader) group(c int) {
	switch c {
	case 92:
		h.endPath()
		f, _ := h.p.s.Int()
		h.path, h.polyline = true, f&2 != 0
		h.closed = true
	case 97: // source objects follow: the path is complete
		if h.edge == edgeSpline && !h.polyline { // or the count of fit points
			return
		}
		h.endPath()
	default:
		if h.polyline {
			h.polylineGroup(c)
		} else {
			h.edgeGroup(c)
		}
	}
}

func (h *hatchReader) polylineGroup(c int) {
	n := len(h.verts)
	switch {
	case c == 10 && n >= 3*MaxVertices:
		h.p.tooLong()
	case c == 10:
		h.verts = append(h.verts, h.p.coord(), 0, 0)
	case c == 20 && n > 0:
		h.verts[n-2] = h.p.coord()
	case c == 42 && n > 0:
		h.verts[n-1] = h.p.coord()
	}
}

func (h *hatchReader) edgeGroup(c int) {
	switch c {
	case 72:
		h.endEdge()
		k, _ := h.p.s.Int()
		h.edge = int(k)
		h.v = [60]float64{}
		h.ccw = true
		h.sp = nurbs{}
	case 73:
		if h.edge == edgeArc || h.edge == edgeEllipse {
			v, _ := h.p.s.Int()
			h.ccw = v != 0
		}
	case 94:
		d, _ := h.p.s.Int()
		h.sp.degree = int(min(max(d, 0), 100))
	case 10, 20, 11, 21, 40, 41, 42, 50, 51:
		x := h.p.coord()
		if h.edge == edgeSpline {
			h.splineGroup(c, x)
			return
		}
		h.v[c] = x
	}
}

func (h *hatchReader) splineGroup(c int, x float64) {
	n := len(h.sp.ctrl)
	if n+len(h.sp.knots) > 4*MaxVertices {
		h.p.tooLong()
		return
	}
	switch {
	case c == 40:
		h.sp.knots = append(h.sp.knots, x)
	case c == 10:
		h.sp.ctrl = append(h.sp.ctrl, x, 0, 0)
	case c == 20 && n > 0:
		h.sp.ctrl[n-2] = x
	case c == 42:
		h.sp.weights = append(h.sp.weights, x)
	}
}

func (h *hatchReader) endEdge() {
	v := &h.v
	switch h.edge {
	case edgeLine:
		h.add(v[10], v[20], h.z)
		h.add(v[11], v[21], h.z)
	case edgeArc:
		h.arc(v[10], v[20], v[40], v[50], v[51], h.z, h.ccw)
	case edgeEllipse:
		h.ellipse()
	case edgeSpline:
		pts, ok := h.sp.flatten()
		if !ok {
			pts = h.sp.ctrl
		}
		for i := 0; i+2 < len(pts); i += 3 {
			h.add(pts[i], pts[i+1], h.z)
		}
	}
	h.edge = 0
}

// ellipse appends an elliptic edge; its angles are in degrees of the parameter
// and, as those of arcs, mirrored where the edge runs clockwise.
func (h *hatchReader) ellipse() {
	v := &h.v
	major := [3]float64{v[11], v[21], 0}
	minor := minorAxis(flat, major, v[40])
	if !h.ccw {
		minor = [3]float64{-minor[0], -minor[1], 0}
	}
	const rad = math.Pi / 180
	pts := appendEllipse(nil, [3]float64{v[10], v[20], h.z}, major, minor, v[50]*rad, v[51]*rad)
	for i := 0; i < len(pts); i += 3 {
		h.add(pts[i], pts[i+1], h.z)
	}
}

func (h *hatchReader) endPath() {
	if !h.path {
		return
	}
	if h.polyline {
		n := len(h.verts) / 3
		for i := 0; i < n; i++ {
			a, b := h.verts[3*i:], h.verts[3*((i+1)%n):]
			h.add(a[0], a[1], h.z)
			h.bulge(a[0], a[1], b[0], b[1], a[2], h.z)
		}
		h.verts = h.verts[:0]
	} else {
		h.endEdge()
	}
	h.endRing()
	h.path = false
}

// wipeout reads a WIPEOUT: its outline is given in pixels of a picture.
// Source: DXF Reference, IMAGE: groups 10 to 12 place the picture, 14 clips it,
// pixel coordinates begin at -0.5 in the upper left.
func (p *parser) wipeout() {
	var o, u, v [3]float64
	var size [2]float64
	var clip []float64
	polygon := false
	for p.next() {
		switch c := p.s.Code; c {
		case 10, 20, 30:
			o[c/10-1] = p.coord()
		case 11, 21, 31:
			u[c/10-1] = p.coord()
		case 12, 22, 32:
			v[c/10-1] = p.coord()
		case 13, 23:
			size[c/10-1] = p.coord()
		case 14:
			if len(clip) == 2*MaxVertices {
				p.tooLong()
				clip = clip[:0]
			}
			clip = append(clip, p.coord(), 0)
		case 24:
			if n := len(clip); n > 0 {
				clip[n-1] = p.coord()
			}
		case 71:
			k, _ := p.s.Int()
			polygon = k == 2
		default:
			p.common(c)
		}
	}
	if !polygon && len(clip) == 4 {
		clip = []float64{clip[0], clip[1], clip[2], clip[1], clip[2], clip[3], clip[0], clip[3]}
	}
	h := boundary{plane: scaling(1)}
	for i := 0; i+1 < len(clip); i += 2 {
		a, b := clip[i]+0.5, size[1]-0.5-clip[i+1]
		h.add(o[0]+a*u[0]+b*v[0], o[1]+a*u[1]+b*v[1], o[2]+a*u[2]+b*v[2])
	}
	h.endRing()
	p.keepFill("WIPEOUT", &h)
}
