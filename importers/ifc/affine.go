package ifc

import "math"

// vec is a point or direction in space, in mm.
type vec struct{ x, y, z float64 }

func (a vec) add(b vec) vec           { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) sub(b vec) vec           { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) mul(k float64) vec       { return vec{a.x * k, a.y * k, a.z * k} }
func (a vec) dot(b vec) float64       { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) len() float64            { return math.Sqrt(a.dot(a)) }
func (a vec) cross(b vec) vec         { return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x} }
func (a vec) at(b vec, t float64) vec { return a.add(b.sub(a).mul(t)) }

// unit returns a with length 1; the zero vector stays.
func (a vec) unit() vec {
	if l := a.len(); l > 0 {
		return a.mul(1 / l)
	}
	return a
}

func (a vec) finite() bool { return !math.IsNaN(a.x+a.y+a.z) && !math.IsInf(a.x+a.y+a.z, 0) }

// usable reports whether the coordinates are numbers within reach.
func (a vec) usable() bool { return max(math.Abs(a.x), math.Abs(a.y), math.Abs(a.z)) <= farthest }

// affine maps p to x·p.x + y·p.y + z·p.z + o.
type affine struct{ x, y, z, o vec }

var identity = affine{x: vec{1, 0, 0}, y: vec{0, 1, 0}, z: vec{0, 0, 1}}

// dir maps a direction.
func (m affine) dir(p vec) vec { return m.x.mul(p.x).add(m.y.mul(p.y)).add(m.z.mul(p.z)) }

// point maps a point.
func (m affine) point(p vec) vec { return m.dir(p).add(m.o) }

// then returns the map that applies m first and n to its result.
func (m affine) then(n affine) affine {
	return affine{n.dir(m.x), n.dir(m.y), n.dir(m.z), n.point(m.o)}
}

// det returns the factor by which m changes volumes; negative if it mirrors.
func (m affine) det() float64 { return m.x.cross(m.y).dot(m.z) }

// inverse returns the map that undoes m; the identity if m flattens space.
func (m affine) inverse() affine {
	d := m.det()
	if d == 0 {
		return identity
	}
	yz, zx, xy := m.y.cross(m.z).mul(1/d), m.z.cross(m.x).mul(1/d), m.x.cross(m.y).mul(1/d)
	inv := affine{vec{yz.x, zx.x, xy.x}, vec{yz.y, zx.y, xy.y}, vec{yz.z, zx.z, xy.z}, vec{}}
	inv.o = inv.dir(m.o).mul(-1)
	return inv
}

// frame returns the right-handed frame at o with z along axis and x in the
// plane of axis and ref; missing or parallel directions get the defaults of
// IfcBuildAxes (ISO 16739-1, 8.9.4).
func frame(o, axis, ref vec) affine {
	z := axis.unit()
	if z == (vec{}) || !z.finite() {
		z = vec{0, 0, 1}
	}
	x := ref.sub(z.mul(ref.dot(z)))
	if x.len() < 1e-9 {
		x = vec{1, 0, 0}.sub(z.mul(z.x))
		if x.len() < 1e-6 {
			x = vec{0, 1, 0}.sub(z.mul(z.y))
		}
	}
	x = x.unit()
	return affine{x: x, y: z.cross(x), z: z, o: o}
}
