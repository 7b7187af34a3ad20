package report

import (
	"sort"

	"boardrun/internal/geom"
)

// unionArea returns, in m², the area of the union of the holes inside the
// outline: a sweep over u with straight edges between all vertices. Holes are
// rectangles or small polygons; overlapping ones count once.
func unionArea(outline geom.Poly, holes []geom.Poly) float64 {
	var us []geom.Length
	for _, h := range holes {
		for _, p := range h {
			us = append(us, p.X)
		}
	}
	if len(us) == 0 {
		return 0
	}
	for _, p := range outline {
		us = append(us, p.X)
	}
	sort.Slice(us, func(i, k int) bool { return us[i] < us[k] })
	sum := 0.0
	for i := 1; i < len(us); i++ {
		if us[i] == us[i-1] {
			continue
		}
		mid := (float64(us[i-1]) + float64(us[i])) / 2
		sum += coveredAt(outline, holes, mid) * float64(us[i]-us[i-1])
	}
	return sum / (8e6 * 8e6)
}

// coveredAt is the length of the line u that lies in the outline and in a hole.
func coveredAt(outline geom.Poly, holes []geom.Poly, u float64) float64 {
	type ev struct {
		v    float64
		hole bool
		d    int
	}
	var evs []ev
	add := func(p geom.Poly, hole bool) {
		vs := crossings(p, u)
		for i := 0; i+1 < len(vs); i += 2 {
			evs = append(evs, ev{vs[i], hole, 1}, ev{vs[i+1], hole, -1})
		}
	}
	add(outline, false)
	for _, h := range holes {
		add(h, true)
	}
	sort.Slice(evs, func(i, k int) bool { return evs[i].v < evs[k].v })
	in, hit, sum := 0, 0, 0.0
	for i, e := range evs {
		if i > 0 && in > 0 && hit > 0 {
			sum += e.v - evs[i-1].v
		}
		if e.hole {
			hit += e.d
		} else {
			in += e.d
		}
	}
	return sum
}

func crossings(p geom.Poly, u float64) []float64 {
	var vs []float64
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if (float64(a.X) < u) != (float64(b.X) < u) {
			vs = append(vs, float64(a.Y)+float64(b.Y-a.Y)*(u-float64(a.X))/float64(b.X-a.X))
		}
	}
	sort.Float64s(vs)
	return vs
}
