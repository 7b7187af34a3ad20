package ifc

// undersides of a boolean: hips, valleys and eaves are made by cutting slabs.
func (s *boolean) undersides() []underside {
	var out []underside
	for _, u := range undersides(s.a) {
		out = append(out, u.cut(s.op, s.b)...)
	}
	switch h, flat := s.b.(*halfSpace); {
	case s.op == '+':
		out = append(out, undersides(s.b)...)
	case flat:
		out = append(out, s.exposed(h)...)
	case s.op == '*':
		for _, u := range undersides(s.b) {
			out = append(out, u.cut('*', s.a)...)
		}
	}
	return out
}

// lying is the frame at a point of a plane with y along its normal n and x
// level.
func lying(at, n vec) affine {
	x := vec{0, 0, 1}.cross(n)
	if x.len() < 1e-9 {
		x = vec{1, 0, 0}
	}
	x = x.unit()
	return affine{x: x, y: n, z: x.cross(n), o: at}
}

// cut returns what a boolean with another solid leaves of an underside.
func (u underside) cut(op byte, by solid) []underside {
	if op == '+' {
		return []underside{u}
	}
	f := lying(u.at, u.n)
	inv := f.inverse()
	into := func(r ring) ring {
		q := make(ring, len(r))
		for i, p := range r {
			a := inv.point(vec{p.u, p.v, u.z(p)})
			q[i] = pt{a.x, a.z}
		}
		return q
	}
	own := shape{outer: into(u.outline).turned(true)}
	for _, h := range u.holes {
		own.holes = append(own.holes, into(h).turned(false))
	}
	g := region{own}
	other := by.moved(inv).section(plane{y: 0, side: 1, near: g.bounds()})
	switch {
	case op == '*':
		g = intersect(g, other)
	case len(other) == 0:
		return []underside{u}
	default:
		g = subtract(g, other)
	}
	if g.isPoisoned() {
		return []underside{u}
	}
	return g.under(f)
}

// exposed returns the cut of a half space as an underside, if it looks down.
func (s *boolean) exposed(h *halfSpace) []underside {
	n := h.n
	if s.op == '-' {
		n = n.mul(-1)
	}
	if n.z > -steepest {
		return nil
	}
	f := lying(h.n.mul(h.d), n)
	inv := f.inverse()
	g := s.a.moved(inv).section(plane{y: 0, side: 1})
	if h.bound != nil {
		g = intersect(g, h.bound.moved(inv).section(plane{y: 0, side: 1}))
	}
	if g.isPoisoned() {
		return nil
	}
	return g.under(f)
}

// under turns a region of a plane, in the frame of lying, into undersides.
func (g region) under(f affine) []underside {
	flat := func(r ring) ring {
		q := make(ring, len(r))
		for i, p := range r {
			a := f.point(vec{p.u, 0, p.v})
			q[i] = pt{a.x, a.y}
		}
		return q.tidy()
	}
	var out []underside
	for _, sh := range g {
		u := underside{outline: flat(sh.outer), n: f.y, at: f.o}
		if u.outline == nil {
			continue
		}
		for _, h := range sh.holes {
			if h = flat(h); h != nil {
				u.holes = append(u.holes, h)
			}
		}
		out = append(out, u)
	}
	return out
}
