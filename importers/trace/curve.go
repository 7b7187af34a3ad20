package trace

import (
	"cmp"
	"math"
	"slices"
)

// curveBundles makes a bundle of each centre that wall arcs share: their radii
// are the r of a polar frame and pair like straight faces.
func (t *tracer) curveBundles() {
	bends := slices.Clone(t.arcs)
	slices.SortFunc(bends, func(a, b bend) int {
		return cmp.Or(cmp.Compare(a.ctr.X, b.ctr.X), cmp.Compare(a.ctr.Y, b.ctr.Y), cmp.Compare(a.radius, b.radius),
			cmp.Compare(a.start, b.start), cmp.Compare(a.end, b.end), cmp.Compare(a.src, b.src))
	})
	taken := make([]bool, len(bends))
	for i := range bends {
		if taken[i] || bends[i].radius <= 0 {
			continue
		}
		group := []bend{bends[i]}
		taken[i] = true
		for j := i + 1; j < len(bends) && bends[j].ctr.X-bends[i].ctr.X <= 2*Eps; j++ {
			if !taken[j] && (bends[j].ctr.Y-bends[i].ctr.Y).Abs() <= 2*Eps && bends[j].radius > 0 {
				group = append(group, bends[j])
				taken[j] = true
			}
		}
		t.curveBundle(group)
	}
}

// curveBundle makes the bundles of one centre: faces, and centrelines.
func (t *tracer) curveBundle(group []bend) {
	fr := frame{polar: true, ctr: group[0].ctr, cut: openAngle(group)}
	for _, b := range group {
		fr.scale = max(fr.scale, b.radius)
	}
	var faces, centres []part
	for _, b := range group {
		a0 := math.Mod(b.start*math.Pi/180-fr.cut, 2*math.Pi)
		if a0 < 0 {
			a0 += 2 * math.Pi
		}
		sweep := math.Min(b.end-b.start, 360) * math.Pi / 180
		p := part{b.radius, round(a0 * float64(fr.scale)), round((a0 + sweep) * float64(fr.scale)), b.src}
		if t.classes[t.src[b.src].class].use.Drawn == DrawnCentre {
			centres = append(centres, p)
		} else {
			faces = append(faces, p)
		}
	}
	t.bundles = append(t.bundles, bundle{fr: fr, edges: mergeParts(faces)})
	t.centreParts = append(t.centreParts, centres)
}

// openAngle returns the middle of the widest angle that no arc of the group
// crosses: there the polar frame is cut.
func openAngle(group []bend) float64 {
	type arc struct{ a, b float64 }
	var arcs []arc
	for _, b := range group {
		if b.end-b.start >= 360 {
			return 0
		}
		s := math.Mod(b.start, 360)
		if s < 0 {
			s += 360
		}
		arcs = append(arcs, arc{s, s + b.end - b.start})
	}
	slices.SortFunc(arcs, func(x, y arc) int { return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b)) })
	reach := arcs[len(arcs)-1].b - 360
	for _, a := range arcs {
		reach = max(reach, a.b-360)
	}
	best, at := 0.0, arcs[0].a
	for _, a := range arcs {
		if a.a-reach > best {
			best, at = a.a-reach, (a.a+reach)/2
		}
		reach = max(reach, a.b)
	}
	return math.Mod(at+360, 360) * math.Pi / 180
}
