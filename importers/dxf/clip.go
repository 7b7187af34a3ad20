package dxf

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// clip is what of a block one insert shows: what lies within a closed outline,
// or without it.
type clip struct {
	outline  []orb.Point // first point not repeated; nil: damaged, or tilted out of the plan
	inverted bool        // what lies within is hidden
	inverse  affine      // of the insert as it was clipped: its frame to the block's coordinates
}

// clip turns a filter into an outline in the block's coordinates. A point of its
// boundary stands in the clip's own system, the second map takes points of the
// insert's frame there, and the first takes them to the block's coordinates.
// Where the clip is inverted, hole is the part cut out and the boundary runs
// round the rest, with a slit between; of the two the smaller is the hole.
// Source: DXF Reference, SPATIAL_FILTER; inverted clips and the order of the maps
// as observed.
func (f *filter) clip(hole []float64) *clip {
	c := &clip{inverted: hole != nil}
	reals := f.reals
	if f.front && len(reals) > 0 {
		reals = reals[1:]
	}
	if !f.sound || len(reals) < 24 {
		return c
	}
	copy(c.inverse.m[:], reals[:12])
	pts := outlineOf(f.pts)
	if c.inverted {
		if h := outlineOf(hole); h != nil && (pts == nil || boxArea(h) < boxArea(pts)) {
			pts = h
		}
	}
	own, ok := f.own([12]float64(reals[12:24]))
	if !ok || tilted(&c.inverse) {
		return c
	}
	for i, p := range pts {
		x, y := own.plan(p[0], p[1], 0)
		pts[i][0], pts[i][1] = c.inverse.plan(x, y, 0)
	}
	if ringArea(pts) > 0 {
		c.outline = pts
	}
	return c
}

// own maps points of the boundary to the insert's frame; false where its plane
// is tilted. A clip that tells no map of its own may still lie on the back of
// the plan.
func (f *filter) own(m [12]float64) (affine, bool) {
	if m == scaling(1).m {
		a := ocs(f.normal[0], f.normal[1], f.normal[2])
		return a, !tilted(&a)
	}
	a := affine{m: m}
	det := m[0]*m[5] - m[1]*m[4]
	if tilted(&a) || det == 0 {
		return a, false
	}
	a.m[0], a.m[1], a.m[4], a.m[5] = m[5]/det, -m[1]/det, -m[4]/det, m[0]/det
	a.m[3] = -(a.m[0]*m[3] + a.m[1]*m[7])
	a.m[7] = -(a.m[4]*m[3] + a.m[5]*m[7])
	return a, true
}

// tilted tells that a map's heights show in plan, or plan in heights.
func tilted(a *affine) bool {
	m, near := &a.m, similarity*math.Hypot(a.m[0], a.m[4])
	for _, k := range []int{2, 6, 8, 9} {
		if !(math.Abs(m[k]) <= near) {
			return true
		}
	}
	return false
}

// outlineOf makes points of x y …; of two, which are opposite corners, a
// rectangle. nil if there are too few or too many.
func outlineOf(xy []float64) []orb.Point {
	n := len(xy) / 2
	if n < 2 || n > MaxClipPoints {
		return nil
	}
	if n == 2 {
		return []orb.Point{{xy[0], xy[1]}, {xy[2], xy[1]}, {xy[2], xy[3]}, {xy[0], xy[3]}}
	}
	pts := make([]orb.Point, n)
	for i := range pts {
		pts[i] = orb.Point{xy[2*i], xy[2*i+1]}
	}
	return pts
}

func boxArea(pts []orb.Point) float64 {
	b := orb.MultiPoint(pts).Bound()
	return (b.Max[0] - b.Min[0]) * (b.Max[1] - b.Min[1])
}

// ringArea is the area of an outline whose first point is not repeated.
func ringArea(pts []orb.Point) float64 {
	sum := 0.0
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		sum += (p[0]-pts[0][0])*(q[1]-pts[0][1]) - (q[0]-pts[0][0])*(p[1]-pts[0][1])
	}
	return math.Abs(sum) / 2
}

// placed returns the region of a clip in the drawing, where a places the block
// and own is its insert's map without those above it. A block that has a base
// point is clipped about that point by some writers, who leave it out of the map.
func (c *clip) placed(a *affine, x *[inLen]float64, base [3]float64) *region {
	var bx, by float64
	if base[0] != 0 || base[1] != 0 {
		without := insertion(x, [3]float64{}, 0, 0)
		if back := c.inverse.then(&without); equal(back.m[0], 1) && equal(back.m[5], 1) && equal(back.m[3], 0) && equal(back.m[7], 0) {
			bx, by = base[0], base[1]
		}
	}
	g := &region{pts: make([]orb.Point, len(c.outline)), inverted: c.inverted}
	for i, p := range c.outline {
		g.pts[i][0], g.pts[i][1] = a.plan(p[0]+bx, p[1]+by, 0)
	}
	g.bound = orb.MultiPoint(g.pts).Bound()
	g.tol = 1e-9 * max(math.Abs(g.bound.Min[0]), math.Abs(g.bound.Min[1]), math.Abs(g.bound.Max[0]), math.Abs(g.bound.Max[1]))
	return g
}

func equal(a, b float64) bool { return math.Abs(a-b) < 1e-6 }

// region is the part of the drawing that a clip shows.
type region struct {
	pts      []orb.Point // closed outline, first point not repeated, mm
	inverted bool
	bound    orb.Bound
	tol      float64 // what lies so near the outline is shown: a line drawn on the clip itself
}

// shows tells whether a point is shown. An outline that crosses itself counts by
// even and odd.
func (g *region) shows(p orb.Point) bool {
	b := &g.bound
	if p[0] < b.Min[0]-g.tol || p[0] > b.Max[0]+g.tol || p[1] < b.Min[1]-g.tol || p[1] > b.Max[1]+g.tol {
		return g.inverted
	}
	in := false
	q := g.pts[len(g.pts)-1]
	for _, r := range g.pts {
		if fromSegment(p, q, r) <= g.tol {
			return true
		}
		if (q[1] > p[1]) != (r[1] > p[1]) && p[0] < q[0]+(p[1]-q[1])/(r[1]-q[1])*(r[0]-q[0]) {
			in = !in
		}
		q = r
	}
	return in != g.inverted
}

// fromSegment is the distance of a point from a segment.
func fromSegment(p, a, b orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = min(max(((p[0]-a[0])*dx+(p[1]-a[1])*dy)/l, 0), 1)
	}
	return math.Hypot(p[0]-a[0]-t*dx, p[1]-a[1]-t*dy)
}

// apart tells that a box cannot meet the outline.
func (g *region) apart(b orb.Bound) bool { return !g.bound.Pad(g.tol).Intersects(b) }

// line returns the parts of a segment that are shown, as factors from a to b.
func (g *region) line(a, b orb.Point) [][2]float64 {
	if g.apart(orb.MultiPoint{a, b}.Bound()) {
		return whole(g.inverted)
	}
	dx, dy := b[0]-a[0], b[1]-a[1]
	l := math.Hypot(dx, dy)
	cuts := []float64{0, 1}
	cut := func(t float64) {
		if t > 0 && t < 1 {
			cuts = append(cuts, t)
		}
	}
	p := g.pts[len(g.pts)-1]
	for _, q := range g.pts {
		ex, ey := q[0]-p[0], q[1]-p[1]
		along := ((p[0]-a[0])*dx + (p[1]-a[1])*dy) / (l * l)
		if cross := dx*ey - dy*ex; math.Abs(cross) > 1e-12*l*math.Hypot(ex, ey) {
			u := ((p[0]-a[0])*dy - (p[1]-a[1])*dx) / cross
			if slack := g.tol / math.Hypot(ex, ey); u >= -slack && u <= 1+slack {
				cut(((p[0]-a[0])*ey - (p[1]-a[1])*ex) / cross)
			}
		} else if fromSegment(p, a, b) <= g.tol || fromSegment(q, a, b) <= g.tol {
			cut(along)
			cut(along + (ex*dx+ey*dy)/(l*l))
		}
		p = q
	}
	return g.parts(cuts, g.tol/l, func(t float64) orb.Point { return orb.Point{a[0] + t*dx, a[1] + t*dy} })
}

// arc returns the parts of an arc that are shown, in degrees from its start.
func (g *region) arc(c orb.Point, r, start, sweep float64) [][2]float64 {
	if g.apart(orb.Bound{Min: orb.Point{c[0] - r, c[1] - r}, Max: orb.Point{c[0] + r, c[1] + r}}) {
		if g.inverted {
			return [][2]float64{{0, sweep}}
		}
		return nil
	}
	cuts := []float64{0, sweep}
	p := g.pts[len(g.pts)-1]
	for _, q := range g.pts {
		ex, ey := q[0]-p[0], q[1]-p[1]
		fx, fy := p[0]-c[0], p[1]-c[1]
		A, B, C := ex*ex+ey*ey, ex*fx+ey*fy, fx*fx+fy*fy-r*r
		if D := B*B - A*C; A > 0 && D >= 0 {
			for _, u := range []float64{(-B - math.Sqrt(D)) / A, (-B + math.Sqrt(D)) / A} {
				if u >= 0 && u <= 1 {
					t := math.Mod(degrees(fy+u*ey, fx+u*ex)-start, 360)
					if t < 0 {
						t += 360
					}
					if t > 0 && t < sweep {
						cuts = append(cuts, t)
					}
				}
			}
		}
		p = q
	}
	return g.parts(cuts, degrees(g.tol, r), func(t float64) orb.Point {
		sin, cos := sinCos(start + t)
		return orb.Point{c[0] + r*cos, c[1] + r*sin}
	})
}

func whole(yes bool) [][2]float64 {
	if yes {
		return [][2]float64{{0, 1}}
	}
	return nil
}

// parts joins the stretches between cuts whose middle is shown. Of cuts no
// further apart than least one counts.
func (g *region) parts(cuts []float64, least float64, at func(float64) orb.Point) [][2]float64 {
	slices.Sort(cuts)
	end := cuts[len(cuts)-1]
	n := 1
	for _, t := range cuts[1:] {
		if t-cuts[n-1] > least && end-t > least {
			cuts[n] = t
			n++
		}
	}
	cuts = append(cuts[:n], end)
	var out [][2]float64
	for i := 1; i < len(cuts); i++ {
		t0, t1 := cuts[i-1], cuts[i]
		switch {
		case !g.shows(at((t0 + t1) / 2)):
		case len(out) > 0 && out[len(out)-1][1] == t0:
			out[len(out)-1][1] = t1
		default:
			out = append(out, [2]float64{t0, t1})
		}
	}
	return out
}

// box tells whether any of a four-cornered box is shown.
func (g *region) box(corners [4]orb.Point) bool {
	for i, p := range corners {
		if len(g.line(p, corners[(i+1)%4])) > 0 || g.shows(p) {
			return true
		}
	}
	// The outline may lie within the box.
	return !g.inverted && orb.MultiPoint(corners[:]).Bound().Contains(g.pts[0])
}
