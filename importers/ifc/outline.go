package ifc

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// Least size of a recess at the foot of an outline that is taken for a door
// someone could walk through, in mm. Common practice, no source.
const (
	notchWidth  = 400
	notchHeight = 1500
)

// fillNotches takes doors that only the outline has out of it: stretches that
// leave the foot line, and come back to it further along. It returns the
// outline with the foot closed, and the stretches as polygons.
func fillNotches(r ring) (outer ring, notches []ring) {
	r = startAt(r)
	if len(r) < 8 {
		return r, nil
	}
	foot := r[0].v
	onFoot := func(p pt) bool { return math.Abs(p.v-foot) < pointTol }
	for i := 0; i < len(r); {
		outer = append(outer, r[i])
		j := i + 1
		if onFoot(r[i]) && j < len(r) && !onFoot(r[j]) {
			for j < len(r) && !onFoot(r[j]) {
				j++
			}
			if j < len(r) && r[j].u-r[i].u >= notchWidth {
				n := append(ring{}, r[i:j+1]...)
				if b := n.bounds(); b.hi.v-b.lo.v >= notchHeight {
					notches = append(notches, n)
					i = j
					continue
				}
			}
			outer = append(outer, r[i+1:j]...)
		}
		i = j
	}
	if len(notches) == 0 {
		return r, nil
	}
	return outer.tidy(), notches
}

// topOf returns the top of a section along the axis; nil if it is level. Where
// the top steps, two points stand one grid unit apart.
func topOf(g region) geom.Profile {
	b := g.bounds()
	var us []float64
	for _, s := range g {
		for _, p := range s.outer {
			us = append(us, p.u)
		}
	}
	slices.Sort(us)
	us = slices.CompactFunc(us, func(a, b float64) bool { return b-a < pointTol })
	var prof geom.Profile
	add := func(u, v float64) {
		q := geom.Pt{X: measure.FromMM(u), Y: measure.FromMM(v)}
		if n := len(prof); n > 0 && prof[n-1].X >= q.X {
			if prof[n-1].Y == q.Y {
				return
			}
			q.X = prof[n-1].X + 1
		}
		prof = append(prof, q)
	}
	for i := 0; i+1 < len(us); i++ {
		d := (us[i+1] - us[i]) * 1e-3
		l, r := topAt(g, us[i]+d), topAt(g, us[i+1]-d)
		if math.IsInf(l, 0) || math.IsInf(r, 0) {
			continue
		}
		slope := (r - l) / (us[i+1] - us[i] - 2*d)
		add(us[i], l-slope*d)
		add(us[i+1], r+slope*d)
	}
	level := true
	for _, p := range prof {
		level = level && (measure.FromMM(b.hi.v)-p.Y).Abs() <= measure.TenthOfMM
	}
	if level {
		return nil
	}
	return straighten(prof)
}

// straighten drops points that lie on the line between their neighbours.
func straighten(p geom.Profile) geom.Profile {
	out := p[:0:0]
	for i, q := range p {
		if i > 0 && i+1 < len(p) {
			a, b := out[len(out)-1], p[i+1]
			if d := a.Y + geom.MulDiv(b.Y-a.Y, q.X-a.X, b.X-a.X) - q.Y; d.Abs() <= 8 {
				continue
			}
		}
		out = append(out, q)
	}
	return out
}

// topAt returns the highest point of g at u, −∞ if there is none.
func topAt(g region, u float64) float64 {
	top := math.Inf(-1)
	for _, s := range g {
		a := s.outer[len(s.outer)-1]
		for _, b := range s.outer {
			if (a.u > u) != (b.u > u) {
				top = max(top, a.v+(u-a.u)/(b.u-a.u)*(b.v-a.v))
			}
			a = b
		}
	}
	return top
}

func comparePt(a, b geom.Pt) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) }

func squareMetres(mm2 float64) string { return fmt.Sprintf("%.3f m²", mm2*m2) }
