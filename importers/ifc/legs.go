package ifc

import "math"

// A wall drawn as one body may turn corners or be round: its plan is a strip.
// The strip is cut where it turns, from the inner corner to the outer one, into
// legs with mitred ends; each leg is a straight wall. An arc is flattened to
// chords of one degree, whatever its radius, so that the chords of both sides
// are parallel and cut alike; the legs of an arc are put together again
// (round.go).

// Bounds of what is taken for a leg, in mm. Common practice, no source.
const (
	thickestLeg = 1000 // the thickest wall
	legOverlap  = 0.2  // a corner needs this share of the thickness beside it on both legs
)

// strip returns the legs of a plan outline in order along the strip; one leg if
// it does not turn.
func strip(r ring) []ring {
	legs := splitStrip(merged(r.turned(true)), 0)
	if len(legs) < 2 {
		return legs
	}
	return inOrder(legs)
}

// merged drops corners within mergeTol of the one before: the ends of lines and
// arcs that were meant to meet.
func merged(r ring) ring {
	out := ring{}
	for i, p := range r {
		q := r[(i+len(r)-1)%len(r)]
		if math.Hypot(p.u-q.u, p.v-q.v) >= mergeTol {
			out = append(out, p)
		}
	}
	return out
}

const mergeTol = 1 // mm

// splitStrip cuts a counter-clockwise outline at every corner of a strip.
func splitStrip(r ring, depth int) []ring {
	n := len(r)
	if n < 6 || depth > 400 {
		return []ring{r}
	}
	for i := range r {
		if turn(r, i) >= -1e-3 {
			continue
		}
		if j := outerCorner(r, i); j >= 0 {
			a, b := between(r, i, j), between(r, j, i)
			if len(a) >= 4 && len(b) >= 4 {
				return append(splitStrip(a, depth+1), splitStrip(b, depth+1)...)
			}
		}
	}
	return []ring{r}
}

// between returns the points of r from i to j, both included, going round.
func between(r ring, i, j int) ring {
	out := ring{r[i]}
	for k := (i + 1) % len(r); ; k = (k + 1) % len(r) {
		out = append(out, r[k])
		if k == j {
			return out
		}
	}
}

func edge(r ring, i int) (d pt, l float64) {
	n := len(r)
	a, b := r[(i+n)%n], r[(i+1)%n]
	l = math.Hypot(b.u-a.u, b.v-a.v)
	return pt{(b.u - a.u) / l, (b.v - a.v) / l}, l
}

func crossUV(a, b pt) float64 { return a.u*b.v - a.v*b.u }
func dotUV(a, b pt) float64   { return a.u*b.u + a.v*b.v }

// turn returns the sine of the turn at corner i: negative at an inner corner of
// a counter-clockwise outline.
func turn(r ring, i int) float64 {
	in, _ := edge(r, i-1)
	out, _ := edge(r, i)
	return crossUV(in, out)
}

// outerCorner returns the corner across the strip from the inner corner i: both
// of its edges run against those of i, at the thickness of a wall, and go on
// beside them. −1 if there is none.
func outerCorner(r ring, i int) int {
	in, inLen := edge(r, i-1)
	out, outLen := edge(r, i)
	best, at := math.Inf(1), -1
	for j := range r {
		if turn(r, j) <= 1e-3 {
			continue
		}
		jin, jinLen := edge(r, j-1)
		jout, joutLen := edge(r, j)
		if !against(in, jout) || !against(out, jin) {
			continue
		}
		d := pt{r[j].u - r[i].u, r[j].v - r[i].v}
		ta, tb := math.Abs(crossUV(in, d)), math.Abs(crossUV(out, d))
		if ta < 10 || tb < 10 || ta > thickestLeg || tb > thickestLeg {
			continue
		}
		// How far the outer edges go on beside the inner ones, past corner i.
		besideIn, besideOut := joutLen-math.Abs(dotUV(in, d)), jinLen-math.Abs(dotUV(out, d))
		if min(besideIn, inLen) < 1 || min(besideOut, outLen) < 1 {
			continue
		}
		if !gentle(in, out) && (min(besideIn, inLen) < legOverlap*ta || min(besideOut, outLen) < legOverlap*tb) {
			continue
		}
		if dist := math.Hypot(d.u, d.v); dist < best {
			best, at = dist, j
		}
	}
	return at
}

// against reports whether two unit directions are opposite within half a
// degree: bent walls are drawn by hand.
func against(a, b pt) bool { return math.Abs(crossUV(a, b)) < 9e-3 && dotUV(a, b) < 0 }

// gentle reports whether two edges turn by so little that they are chords of an
// arc.
func gentle(a, b pt) bool { return dotUV(a, b) > 0.99 }

// inOrder sorts legs so that each meets the next.
func inOrder(legs []ring) []ring {
	meets := func(a, b ring) bool {
		n := 0
		for _, p := range a {
			for _, q := range b {
				if near(p, q) {
					n++
				}
			}
		}
		return n >= 2
	}
	neighbours := make([][]int, len(legs))
	first := 0
	for i := range legs {
		for j := range legs {
			if i != j && meets(legs[i], legs[j]) {
				neighbours[i] = append(neighbours[i], j)
			}
		}
		if len(neighbours[i]) == 1 && len(neighbours[first]) != 1 {
			first = i
		}
	}
	var out []ring
	seen := make([]bool, len(legs))
	for at := first; at >= 0; {
		seen[at] = true
		out = append(out, legs[at])
		next := -1
		for _, j := range neighbours[at] {
			if !seen[j] {
				next = j
				break
			}
		}
		at = next
	}
	for i := range legs { // a fork: what is left over stands alone
		if !seen[i] {
			out = append(out, legs[i])
		}
	}
	return out
}

// planOutlines returns the outline of a body in plan, half way up; nil if it
// cannot turn. A body that closes round a hole is halved: two outlines.
func planOutlines(p product) []ring {
	if len(p.solids) != 1 {
		return nil
	}
	s := p.solids[0]
	base := s
	for {
		b, ok := base.(*boolean)
		if !ok || b.op == '+' {
			break
		}
		base = b.a
	}
	switch b := base.(type) {
	case *prism:
		if len(b.shapes) != 1 || len(b.shapes[0].outer) < 6 && len(b.shapes[0].holes) == 0 || math.Abs(b.d.z) < 0.999*b.d.len() {
			return nil
		}
	case *mesh:
		if len(b.points) < 12 {
			return nil
		}
	default:
		return nil
	}
	lo, hi := box3(p.solids)
	upright := affine{x: vec{1, 0, 0}, y: vec{0, 0, 1}, z: vec{0, 1, 0}}
	g := section([]solid{base.moved(upright)}, plane{y: (lo.z + hi.z) / 2, side: 1})
	if len(g) != 1 || len(g[0].holes) > 1 || len(g[0].outer) > maxCorners {
		return nil
	}
	if len(g[0].holes) == 0 {
		return []ring{g[0].outer}
	}
	b := g.bounds()
	middle := (b.lo.u + b.hi.u) / 2
	var out []ring
	for _, half := range append(g.clip(1, 0, middle), g.clip(-1, 0, -middle)...) {
		if len(half.holes) > 0 || half.outer == nil {
			return nil
		}
		out = append(out, half.outer)
	}
	return out
}

// legProduct returns the part of a body over one leg of its plan. Sides are
// looked for on the leg's own outline.
func legProduct(p product, leg ring) product {
	lo, hi := box3(p.solids)
	pillar := &prism{[]shape{{outer: leg.turned(true)}}, vec{0, 0, lo.z - 100}, vec{1, 0, 0}, vec{0, 1, 0}, vec{0, 0, hi.z - lo.z + 200}}
	q := p
	q.axis = nil
	q.pillar = pillar
	if len(leg) == 4 {
		d, _, _ := chordOf(leg)
		q.toward = vec{d.u, d.v, 0}
		if q.toward.dot(p.place.dir(vec{1, 0, 0})) < 0 {
			q.toward = q.toward.mul(-1)
		}
	}
	q.solids = []solid{&legOf{p.solids[0], pillar}}
	return q
}

// legOf is the part of a body within the pillar over one leg of its plan. Its
// corners across the thickness are those of the pillar: the body's are mostly
// those of other legs.
type legOf struct {
	body   solid
	pillar *prism
}

func (s *legOf) moved(m affine) solid     { return &legOf{s.body.moved(m), s.pillar.moved(m).(*prism)} }
func (s *legOf) facets(f func(facet))     { s.pillar.facets(f) }
func (s *legOf) levels(f func(y float64)) { s.pillar.levels(f) }
func (s *legOf) section(p plane) region {
	return intersect(s.body.section(p), s.pillar.section(p))
}

// grouped gathers consecutive legs of one arc: quads of equal thickness that
// turn on by the same small angle. Every other leg stands alone.
func grouped(legs []ring) [][]ring {
	var out [][]ring
	for i := 0; i < len(legs); {
		j := i + 1
		for j < len(legs) && sameArc(legs[j-1], legs[j]) {
			j++
		}
		if j-i >= 4 {
			out = append(out, legs[i:j])
			i = j
			continue
		}
		out = append(out, legs[i:i+1])
		i++
	}
	return out
}

// sameArc reports whether two legs may be neighbouring chords of one arc: quads
// of equal thickness and about equal length, at an angle of at most 5°.
func sameArc(a, b ring) bool {
	if len(a) != 4 || len(b) != 4 {
		return false
	}
	da, la, ta := chordOf(a)
	db, lb, tb := chordOf(b)
	c := math.Abs(dotUV(da, db))
	return math.Abs(ta-tb) < 0.01*ta+0.1 && math.Abs(la-lb) < 0.02*la+0.1 && c > 0.996 && c < 1-1e-8
}

// chordOf returns direction, middle length and thickness of a quad: the two
// edges that are parallel are the sides, or the longer two if all are.
func chordOf(r ring) (d pt, length, thick float64) {
	d0, l0 := edge(r, 0)
	d2, l2 := edge(r, 2)
	d1, l1 := edge(r, 1)
	d3, l3 := edge(r, 3)
	a, b := math.Abs(crossUV(d0, d2)), math.Abs(crossUV(d1, d3))
	if math.Abs(a-b) < 1e-4 && l0+l2 > l1+l3 || math.Abs(a-b) >= 1e-4 && a < b {
		return d0, (l0 + l2) / 2, offLine(r[0], r[2], r[1])
	}
	return d1, (l1 + l3) / 2, offLine(r[1], r[3], r[2])
}
