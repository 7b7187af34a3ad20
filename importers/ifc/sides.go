package ifc

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// stance is how a straight wall stands in its own frame: the directions along
// and to the left, both level, and the offsets of its sides along left.
type stance struct {
	along, left vec
	lo, hi      float64 // right and left side, as left·p
	thickness   float64 // hi − lo, or the mean where the sides are not parallel
	doubt       string
}

// parallelTol is the sine of the angle below which directions are parallel:
// 0.2°, 1 mm off over 300 mm of thickness.
const parallelTol = 3.5e-3

// heading is a level direction that plane pieces of a boundary face, either
// way.
type heading struct {
	n    vec
	area float64
}

var errNoSides = errors.New("has no two upright plane sides that face apart")

// stand finds how a wall stands. The direction is that of the axis where plane
// pieces of the body bear it out, else that of the largest upright pieces.
func stand(p product) (stance, error) {
	var facets []facet
	solids := p.solids
	if p.pillar != nil {
		solids = []solid{p.pillar}
	}
	if p.body != nil {
		solids = p.body
	}
	for _, s := range solids {
		s.facets(func(f facet) {
			if f.area > 1 && math.Abs(f.n.z) < parallelTol {
				facets = append(facets, f)
			}
		})
	}
	heads := headings(facets)
	if len(heads) == 0 {
		return standLeaning(p)
	}
	n := heads[0].n
	toward := p.place.dir(vec{1, 0, 0})
	d, ok := axisDirection(p.axis)
	if p.toward != (vec{}) {
		d, ok = p.toward.unit(), true
	}
	if ok {
		toward = d
		for _, h := range heads {
			if math.Abs(h.n.dot(d)) < parallelTol && (p.pillar != nil || h.area > heads[0].area/20) {
				n = h.n
				break
			}
		}
	}
	s := stance{along: vec{n.y, -n.x, 0}, left: n}
	if t := s.along.dot(toward); t < -1e-6 || math.Abs(t) <= 1e-6 && s.along.dot(p.place.dir(vec{0, 1, 0})) < 0 {
		s.along, s.left = s.along.mul(-1), s.left.mul(-1)
	}
	err := s.findSides(facets, least(len(solids)))
	s.thickness = s.hi - s.lo
	if s.doubt == "" && p.pillar == nil && share(heads, n) < leastShare {
		s.doubt = "most of its upright faces look neither left nor right: it may turn in a way that was not followed"
	}
	if err != nil {
		s, s.thickness, err = standSlanted(p, s)
	}
	return s, err
}

// leastShare of its upright faces that the sides of a straight wall have: a
// square pillar has half.
const leastShare = 0.45

// share returns the share of upright area that faces along n.
func share(heads []heading, n vec) float64 {
	own, sum := 0.0, 0.0
	for _, h := range heads {
		sum += h.area
		if h.n == n {
			own = h.area
		}
	}
	return own / sum
}

// standLeaning is stand for a body without any upright piece: its axis, or its
// own x, tells the direction.
func standLeaning(p product) (stance, error) {
	d, ok := axisDirection(p.axis)
	if !ok {
		d = p.place.dir(vec{1, 0, 0})
		d.z = 0
	}
	if d.len() == 0 {
		return stance{}, errNoSides
	}
	d = d.unit()
	s, t, err := standSlanted(p, stance{along: d, left: vec{-d.y, d.x, 0}})
	s.thickness = t
	return s, err
}

// axisDirection returns the direction of a straight level axis.
func axisDirection(c *curve) (vec, bool) {
	if c == nil || c.round || len(c.points) < 2 {
		return vec{}, false
	}
	d := c.points[len(c.points)-1].sub(c.points[0])
	d.z = 0
	if d.len() < 1 {
		return vec{}, false
	}
	d = d.unit()
	for _, p := range c.points {
		if math.Abs(p.sub(c.points[0]).cross(d).z) > 1 {
			return vec{}, false
		}
	}
	return d, true
}

// headings groups upright pieces by direction, largest area first.
func headings(facets []facet) []heading {
	var heads []heading
next:
	for _, f := range facets {
		n := vec{f.n.x, f.n.y, 0}.unit()
		for i := range heads {
			h := &heads[i]
			if math.Abs(n.x*h.n.y-n.y*h.n.x) < parallelTol/2 {
				h.area += f.area
				continue next
			}
		}
		heads = append(heads, heading{n, f.area})
	}
	for i := range heads { // the larger piece tells the direction best
		best := 0.0
		for _, f := range facets {
			n := vec{f.n.x, f.n.y, 0}.unit()
			if math.Abs(n.x*heads[i].n.y-n.y*heads[i].n.x) < parallelTol/2 && f.area > best*(1+1e-9) {
				best, heads[i].n = f.area, n
			}
		}
		if h := &heads[i]; h.n.x < -1e-9 || h.n.x < 1e-9 && h.n.y < 0 {
			h.n = h.n.mul(-1)
		}
	}
	slices.SortStableFunc(heads, func(a, b heading) int {
		if math.Abs(a.area-b.area) > 1e-6*(a.area+b.area) {
			return cmp.Compare(b.area, a.area)
		}
		return cmp.Or(cmp.Compare(a.n.x, b.n.x), cmp.Compare(a.n.y, b.n.y))
	})
	return heads
}

// layer of parallel pieces at one offset.
type sheetOf struct{ off, area float64 }

// least returns the share of the largest plane that the outermost needs to be a
// side: half, so that neither a skirting nor the back of a niche is one; less
// where the wall is modelled layer by layer, as a layer may be mostly window.
func least(solids int) float64 {
	if solids > 1 {
		return 0.15
	}
	return 0.5
}

// sideCos is the cosine of the angle up to which a piece belongs to a side that
// is one plane: 0.018°, 3 mm over 10 m. Beyond it the sides are slanted.
const sideCos = 1 - 5e-8

// findSides picks the two planes that bound the thickness: on each side the
// outermost with at least a share of the area of the largest.
func (s *stance) findSides(facets []facet, share float64) error {
	var left, right []sheetOf
	for _, f := range facets {
		switch c := f.n.dot(s.left); {
		case c > sideCos:
			left = stack(left, f.at.dot(s.left), f.area)
		case c < -sideCos:
			right = stack(right, f.at.dot(s.left), f.area)
		}
	}
	hi, okL := outermost(left, 1, share)
	lo, okR := outermost(right, -1, share)
	if !okL || !okR || hi-lo < 1 {
		// Pieces that face the wrong way: any two planes far apart will do.
		both := append(left, right...)
		hi, okL = outermost(both, 1, share)
		lo, okR = outermost(both, -1, share)
		if !okL || !okR || hi-lo < 1 {
			return errNoSides
		}
		s.doubt = "the faces of its body do not all look outwards"
	}
	s.lo, s.hi = lo, hi
	return nil
}

func stack(l []sheetOf, off, area float64) []sheetOf {
	for i := range l {
		if math.Abs(l[i].off-off) < sideTol {
			l[i].area += area
			return l
		}
	}
	return append(l, sheetOf{off, area})
}

func outermost(l []sheetOf, sign, share float64) (float64, bool) {
	most := 0.0
	for _, s := range l {
		most = max(most, s.area)
	}
	best, ok := 0.0, false
	for _, s := range l {
		if s.area >= most*share && (!ok || s.off*sign > best*sign) {
			best, ok = s.off, true
		}
	}
	return best, ok
}
