package dxf

import "math"

// flattenStep is the largest turn of one chord, in degrees, where a curve that
// is no circle is flattened: the chord lies 0.00015 radii inside, 0.15 mm per
// metre of radius.
const flattenStep = 2.0

// splineSteps is how many chords stand for one span of a spline.
const splineSteps = 16

// ellipse reads an ELLIPSE, in world coordinates. A round one is stored as a
// circle or arc, others flattened.
func (p *parser) ellipse() {
	var c, major [3]float64
	ratio, from, to := 1.0, 0.0, 2*math.Pi
	for p.next() {
		switch g := p.s.Code; g {
		case 10, 20, 30:
			c[g/10-1] = p.coord()
		case 11, 21, 31:
			major[g/10-1] = p.coord()
		case 40:
			ratio = p.coord()
		case 41:
			from = p.coord()
		case 42:
			to = p.coord()
		default:
			p.common(g)
		}
	}
	r := math.Hypot(major[0], major[1])
	if r == 0 && major[2] == 0 || ratio == 0 {
		p.keep(kOther, 0, p.reason(reasonNoLength, c[:]...))
		return
	}
	full := math.Abs(to-from) >= 2*math.Pi-1e-9
	n := p.c.normal
	if math.Abs(ratio-1) < 1e-9 && major[2] == 0 && n[0] == 0 && n[1] == 0 && n[2] > 0 {
		turn := degrees(major[1], major[0])
		flags := uint16(0)
		if full {
			flags = fFull
		}
		nums, f := p.ext(append(p.nums, c[0], c[1], r, turn+from*180/math.Pi, turn+to*180/math.Pi), c[2])
		p.keep(kArc, flags|f, nums)
		return
	}
	p.pts = appendEllipse(p.pts, c, major, minorAxis(n, major, ratio), from, to)
	p.keepPath(full)
}

// minorAxis is normal × major, scaled.
func minorAxis(n, major [3]float64, ratio float64) [3]float64 {
	l := math.Sqrt(n[0]*n[0] + n[1]*n[1] + n[2]*n[2])
	if l == 0 {
		n, l = flat, 1
	}
	k := ratio / l
	return [3]float64{k * (n[1]*major[2] - n[2]*major[1]), k * (n[2]*major[0] - n[0]*major[2]), k * (n[0]*major[1] - n[1]*major[0])}
}

// appendEllipse appends points x y z of an elliptic arc, both ends included;
// from and to in radians of the parameter, counter-clockwise.
func appendEllipse(pts []float64, c, major, minor [3]float64, from, to float64) []float64 {
	if !(to > from) {
		to += 2 * math.Pi * math.Ceil((from-to)/(2*math.Pi))
	}
	if to-from > 2*math.Pi || to <= from {
		to = from + 2*math.Pi
	}
	n := int(math.Ceil((to - from) * 180 / math.Pi / flattenStep))
	n = max(n, 1)
	for i := 0; i <= n; i++ {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(n))
		for k := range 3 {
			pts = append(pts, c[k]+cos*major[k]+sin*minor[k])
		}
	}
	return pts
}

// keepPath stores the points of p.pts, x y z, as one path in the world.
func (p *parser) keepPath(closed bool) {
	n := len(p.pts) / 3
	if n < 2 {
		var at [3]float64
		copy(at[:], p.pts)
		p.keep(kOther, 0, p.reason(reasonNoLength, at[:]...))
		return
	}
	p.nums = append(p.nums, float64(n), truth(closed))
	p.nums = append(p.nums, p.pts...)
	p.keep(kPaths, 0, p.nums)
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// spline reads a SPLINE, in world coordinates, and stores it flattened.
func (p *parser) spline() {
	var fit []float64
	q := nurbs{ctrl: p.pts, knots: p.aux}
	closed := false
	for p.next() {
		switch g := p.s.Code; g {
		case 10:
			q.ctrl = append(q.ctrl, p.coord(), 0, 0)
		case 20, 30:
			if n := len(q.ctrl); n > 0 {
				q.ctrl[n-3+g/10-1] = p.coord()
			}
		case 11:
			fit = append(fit, p.coord(), 0, 0)
		case 21, 31:
			if n := len(fit); n > 0 {
				fit[n-3+g/10-1] = p.coord()
			}
		case 40:
			q.knots = append(q.knots, p.coord())
		case 41:
			q.weights = append(q.weights, p.coord())
		case 70:
			f, _ := p.s.Int()
			closed = f&1 != 0
		case 71:
			d, _ := p.s.Int()
			q.degree = int(min(max(d, 0), 100))
		default:
			p.common(g)
		}
		if len(q.ctrl)+len(q.knots)+len(fit) > 4*MaxVertices {
			p.tooLong()
			q.ctrl, q.knots, fit = q.ctrl[:0], q.knots[:0], fit[:0]
		}
	}
	p.aux = q.knots
	if pts, ok := q.flatten(); ok {
		p.pts = pts
	} else if len(fit) >= 6 {
		p.pts = fit
	} else {
		p.pts = q.ctrl // no knots: the polygon of its control points
	}
	p.keepPath(closed)
}

// nurbs is a spline by control points (x y z), knots and weights.
type nurbs struct {
	degree               int
	ctrl, knots, weights []float64
}

// flatten returns points on the curve; ok is false if knots and control points
// do not fit together.
func (q *nurbs) flatten() (pts []float64, ok bool) {
	n := len(q.ctrl) / 3
	if q.degree < 1 || q.degree > 25 || n <= q.degree || len(q.knots) != n+q.degree+1 {
		return nil, false
	}
	for i := 1; i < len(q.knots); i++ {
		if q.knots[i] < q.knots[i-1] {
			return nil, false
		}
	}
	if len(q.weights) != n {
		q.weights = nil
	}
	steps := splineSteps
	if q.degree == 1 {
		steps = 1
	}
	for n*steps > MaxVertices {
		steps = (steps + 1) / 2
		if steps == 1 {
			break
		}
	}
	for span := q.degree; span < n; span++ {
		a, b := q.knots[span], q.knots[span+1]
		if a == b {
			continue
		}
		if len(pts) == 0 {
			pts = q.append(pts, span, a)
		}
		for i := 1; i <= steps; i++ {
			pts = q.append(pts, span, a+(b-a)*float64(i)/float64(steps))
		}
	}
	for _, x := range pts {
		if math.IsNaN(x) || math.Abs(x) > MaxCoordinate {
			return nil, false
		}
	}
	return pts, len(pts) >= 6
}

// append evaluates the curve at u in the span of knots by de Boor's algorithm.
func (q *nurbs) append(pts []float64, span int, u float64) []float64 {
	var d [26][4]float64
	k := q.degree
	for j := 0; j <= k; j++ {
		i := span - k + j
		w := 1.0
		if q.weights != nil {
			w = q.weights[i]
		}
		d[j] = [4]float64{q.ctrl[3*i] * w, q.ctrl[3*i+1] * w, q.ctrl[3*i+2] * w, w}
	}
	for r := 1; r <= k; r++ {
		for j := k; j >= r; j-- {
			lo, hi := q.knots[span-k+j], q.knots[span+1+j-r]
			t := 0.0
			if hi > lo {
				t = (u - lo) / (hi - lo)
			}
			for c := range 4 {
				d[j][c] = (1-t)*d[j-1][c] + t*d[j][c]
			}
		}
	}
	w := d[k][3]
	return append(pts, d[k][0]/w, d[k][1]/w, d[k][2]/w)
}

// mline reads an MLINE: its lines run parallel to the drawn one, each mitred at
// the vertices. Gaps and end caps of the style are left out.
// Source: DXF Reference, MLINE: group 41 is the distance of each element from
// the vertex along the mitre direction, group 13.
func (p *parser) mline() {
	var v, mitre [3]float64
	var elements [][]float64 // points x y z
	const maxElements = 64   // the format allows 16
	element, params, points := -1, 0, 0
	closed := false
	for p.next() {
		switch g := p.s.Code; g {
		case 71:
			f, _ := p.s.Int()
			closed = f&2 != 0
		case 11, 21, 31:
			v[g/10-1] = p.coord()
			element = -1
		case 13, 23, 33:
			mitre[g/10-1] = p.coord()
		case 74: // parameters of the next element at this vertex
			element, params = element+1, 0
		case 41:
			d := p.coord()
			if params++; params > 1 || element < 0 {
				continue
			}
			if element >= maxElements || points >= MaxVertices {
				p.tooLong()
				continue
			}
			points++
			for element >= len(elements) { // one before it may tell no distance
				elements = append(elements, nil)
			}
			elements[element] = append(elements[element], v[0]+d*mitre[0], v[1]+d*mitre[1], v[2]+d*mitre[2])
		case 10, 20, 30, 12, 22, 32, 40:
		default:
			p.common(g)
		}
	}
	nums := p.nums
	for _, e := range elements {
		if len(e) >= 6 {
			nums = append(append(nums, float64(len(e)/3), truth(closed)), e...)
		}
	}
	p.nums = nums
	if len(nums) == 0 {
		p.keep(kOther, 0, p.reason(reasonNoLength, v[:]...))
		return
	}
	p.keep(kPaths, 0, nums)
}
