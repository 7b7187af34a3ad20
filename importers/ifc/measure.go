package ifc

import (
	"math"
	"slices"
)

// measure computes the quantities once body and cuts are known.
func (w *found) measure() {
	q, solids, t := &w.q, w.solids, w.t
	b := w.body.mid.bounds()
	q.LengthMM, q.ThicknessMM, q.HeightMM = b.hi.u-b.lo.u, w.thickness, b.hi.v-b.lo.v
	left, right, mid := w.net(func(c cut) region { return c.at.left }, w.body.left), w.net(func(c cut) region { return c.at.right }, w.body.right), w.net(func(c cut) region { return c.at.mid }, w.body.mid)
	q.LeftAreaM2, q.RightAreaM2, q.NetAreaM2 = left*m2, right*m2, mid*m2
	q.LeftGrossM2, q.RightGrossM2, q.GrossAreaM2 = w.gross(w.body.left)*m2, w.gross(w.body.right)*m2, w.gross(w.body.mid)*m2
	levels := slices.Clone(solids)
	for _, c := range w.cuts {
		levels = append(levels, c.solids...)
	}
	reach := t // of the body across: pilasters, and sides that are not parallel, go on behind the planes
	for _, s := range solids {
		corners(s, func(p vec) {
			if 2*math.Abs(p.y) > reach+2*sideTol {
				reach = 2 * math.Abs(p.y)
			}
		})
	}
	ys := append([]float64{-reach / 2, reach / 2}, levelsOf(levels, reach)...)
	atMiddle := slices.ContainsFunc(ys, func(y float64) bool { return math.Abs(y) < sideTol })
	q.VolumeM3 = 1e-9 * volume(func(y, side float64) float64 {
		if !w.steps && !atMiddle && len(solids) == 1 {
			switch {
			case y == t/2 && side > 0:
				return left
			case y == -t/2 && side < 0:
				return right
			case y == 0:
				return mid
			}
		}
		p := plane{y: y, side: side}
		body := section(solids, p)
		var holes []region
		for _, c := range w.cuts {
			if len(c.solids) > 0 {
				holes = append(holes, intersect(section(c.solids, p), body))
			}
		}
		return body.area() - joint(holes)
	}, ys)
}

// maxLevels bounds how many slices a volume is cut into; a body with more
// corners across its thickness than that is no wall.
const maxLevels = 64

// net returns the area of a side less its cuts.
func (w *found) net(side func(cut) region, body region) float64 {
	var holes []region
	for _, c := range w.cuts {
		if len(c.solids) > 0 {
			holes = append(holes, side(c))
		}
	}
	return body.area() - joint(holes)
}

// gross returns the area of a side with the holes filled that only the body
// has.
func (w *found) gross(body region) float64 {
	a := body.area()
	for _, s := range body {
		for _, h := range s.holes {
			a += math.Abs(h.area())
		}
		_, notches := fillNotches(s.outer)
		for _, n := range notches {
			a += math.Abs(n.area())
		}
	}
	return a
}

// joint returns the area covered by regions that may overlap.
func joint(g []region) float64 {
	overlap := false
	var sum float64
	for i := range g {
		sum += g[i].area()
		for j := range i {
			overlap = overlap || !g[i].bounds().apart(g[j].bounds())
		}
	}
	if !overlap {
		return sum
	}
	var all region
	for _, h := range g {
		all = union(all, h)
	}
	return all.area()
}
