package ifc

import (
	"math"
	"slices"
)

// section of a prism. Swept along the plane, it leaves strips; swept through
// it, the image of its profile.
func (s *prism) section(p plane) region {
	l := s.d.len()
	if math.Abs(s.d.y) <= 1e-9*l {
		return s.strips(p)
	}
	var out region
	for _, sh := range s.shapes {
		out = union(out, s.image(sh, p))
	}
	return out
}

// strips sections a prism whose sweep lies in the plane.
func (s *prism) strips(p plane) region {
	var out region
	for _, sh := range s.shapes {
		var cuts []pt // profile points on the plane, in pairs
		cuts = s.crossings(cuts, sh.outer, p)
		for _, h := range sh.holes {
			cuts = s.crossings(cuts, h, p)
		}
		along := func(q pt) float64 { return q.u*s.y.y - q.v*s.x.y }
		slices.SortFunc(cuts, func(a, b pt) int {
			switch d := along(a) - along(b); {
			case d < 0:
				return -1
			case d > 0:
				return 1
			}
			return 0
		})
		for i := 0; i+1 < len(cuts); i += 2 {
			a, b := s.at(cuts[i]), s.at(cuts[i+1])
			r := regionOf(ring{{a.x, a.z}, {b.x, b.z}, {b.x + s.d.x, b.z + s.d.z}, {a.x + s.d.x, a.z + s.d.z}})
			if len(out) == 0 {
				out = r
			} else {
				out = union(out, r)
			}
		}
	}
	return out
}

// crossings adds where the ring crosses the plane. A corner within sideTol of
// the plane counts as beyond it, seen from the inside.
func (s *prism) crossings(out []pt, r ring, p plane) []pt {
	dist := func(q pt) float64 { return (s.o.y + q.u*s.x.y + q.v*s.y.y - p.y) * p.side }
	a := r[len(r)-1]
	da := dist(a)
	for _, b := range r {
		db := dist(b)
		if (da >= -sideTol) != (db >= -sideTol) {
			t := min(max(da/(da-db), 0), 1)
			out = append(out, pt{a.u + t*(b.u-a.u), a.v + t*(b.v-a.v)})
		}
		a, da = b, db
	}
	return out
}

// image sections a prism swept through the plane: profile point q is met at
// t(q), and counts where 0 ≤ t ≤ 1.
func (s *prism) image(sh shape, p plane) region {
	// t = t0 + tx·u + ty·v
	t0, tx, ty := (p.y-s.o.y)/s.d.y, -s.x.y/s.d.y, -s.y.y/s.d.y
	t0 -= p.side * sideTol / 2 / s.d.y // a cap within the plane is cut through from the inside
	size := 0.0
	for _, q := range sh.outer {
		size = max(size, math.Abs(q.u), math.Abs(q.v))
	}
	g := region{sh}
	if math.Abs(tx)*size < 1e-9 && math.Abs(ty)*size < 1e-9 {
		if t0 < 0 || t0 > 1 {
			return nil
		}
	} else if g = g.clip(tx, ty, 1-t0).clip(-tx, -ty, t0); len(g) == 0 {
		return nil
	}
	t0 += p.side * sideTol / 2 / s.d.y
	move := func(r ring) ring {
		out := make(ring, len(r))
		for i, q := range r {
			t := t0 + tx*q.u + ty*q.v
			a := s.at(q)
			out[i] = pt{a.x + t*s.d.x, a.z + t*s.d.z}
		}
		return out.tidy()
	}
	var out region
	for _, a := range g {
		b := shape{outer: move(a.outer)}
		if b.outer == nil {
			continue
		}
		b.outer = b.outer.turned(true)
		for _, h := range a.holes {
			if h = move(h); h != nil {
				b.holes = append(b.holes, h.turned(false))
			}
		}
		out = append(out, b)
	}
	return out
}

// inPlane returns the line a·u + b·v ≤ c that the half space leaves in the
// plane; all or none where it is parallel to it.
func (s *halfSpace) inPlane(p plane) (a, b, c float64, all, none bool) {
	a, b, c = s.n.x, s.n.z, s.d-s.n.y*p.y
	if math.Hypot(a, b) < 1e-7 {
		in := s.n.y*(p.y-p.side*sideTol) <= s.d
		return a, b, c, in, !in
	}
	return a, b, c, false, false
}

// section of a half space, cut down to the plane's box.
func (s *halfSpace) section(p plane) region {
	a, b, c, all, none := s.inPlane(p)
	if none {
		return nil
	}
	var g region
	if s.bound != nil {
		g = s.bound.section(p)
	} else {
		g = regionOf(halfPlane(p.near, 0, 0, 1))
	}
	if all {
		return g
	}
	return g.clip(a, b, c)
}

func (s *boolean) section(p plane) region {
	g := s.a.section(p)
	if len(g) == 0 && s.op != '+' {
		return nil
	}
	if h, ok := s.b.(*halfSpace); ok && h.bound == nil && s.op != '+' {
		a, b, c, all, none := h.inPlane(p)
		if s.op == '-' {
			a, b, c, all, none = -a, -b, -c, none, all
		}
		switch {
		case all:
			return g
		case none:
			return nil
		}
		return g.clip(a, b, c)
	}
	p.near = g.bounds()
	h := s.b.section(p)
	switch s.op {
	case '-':
		return subtract(g, h)
	case '*':
		return intersect(g, h)
	}
	return union(g, h)
}
