package dxf

import "math"

// affine maps points of a block, or of an entity's own plane, to another frame:
// x' = m[0]x + m[1]y + m[2]z + m[3], and so on for y and z.
type affine struct {
	m [12]float64
	// similar tells that the plan is only turned, mirrored and scaled alike in
	// both directions, so that circles stay circles; then turn is the direction
	// of its x axis in degrees and scale its factor.
	similar, mirrored bool
	turn, scale       float64
}

func scaling(k float64) affine {
	return affine{m: [12]float64{0: k, 5: k, 10: k}, similar: true, scale: k}
}

func (a *affine) point(x, y, z float64) (float64, float64, float64) {
	m := &a.m
	return m[0]*x + m[1]*y + m[2]*z + m[3], m[4]*x + m[5]*y + m[6]*z + m[7], m[8]*x + m[9]*y + m[10]*z + m[11]
}

func (a *affine) plan(x, y, z float64) (float64, float64) {
	m := &a.m
	return m[0]*x + m[1]*y + m[2]*z + m[3], m[4]*x + m[5]*y + m[6]*z + m[7]
}

// similarity is how far both axes may differ, relative to their length, for
// circles to stay circles: it guards against factors written with few digits.
// 1e-6 of a 10 m radius is 10 µm.
const similarity = 1e-6

// then returns the map that does b first and then a.
func (a *affine) then(b *affine) affine {
	var c affine
	for r := 0; r < 12; r += 4 {
		for k := 0; k < 4; k++ {
			c.m[r+k] = a.m[r]*b.m[k] + a.m[r+1]*b.m[4+k] + a.m[r+2]*b.m[8+k]
		}
		c.m[r+3] += a.m[r+3]
	}
	c.classify()
	return c
}

func (a *affine) classify() {
	m := &a.m
	x, y := math.Hypot(m[0], m[4]), math.Hypot(m[1], m[5])
	det := m[0]*m[5] - m[1]*m[4]
	dot := m[0]*m[1] + m[4]*m[5]
	a.mirrored = det < 0
	a.scale = x
	a.turn = degrees(m[4], m[0])
	a.similar = x > 0 && math.Abs(x-y) <= similarity*x && math.Abs(dot) <= similarity*x*x &&
		math.Abs(m[2]) <= similarity*x && math.Abs(m[6]) <= similarity*x
}

// degrees is atan2 in degrees, exact on the axes.
func degrees(y, x float64) float64 {
	switch {
	case y == 0 && x >= 0:
		return 0
	case y == 0:
		return 180
	case x == 0 && y > 0:
		return 90
	case x == 0:
		return -90
	}
	return math.Atan2(y, x) * (180 / math.Pi)
}

// sinCos of an angle in degrees, exact at quarter turns: a block turned by 90°
// keeps its coordinates to the last bit.
func sinCos(deg float64) (sin, cos float64) {
	switch math.Mod(deg, 360) {
	case 0:
		return 0, 1
	case 90, -270:
		return 1, 0
	case 180, -180:
		return 0, -1
	case 270, -90:
		return -1, 0
	}
	return math.Sincos(deg * (math.Pi / 180))
}

// ocs returns the map from an entity's own plane to the world by its normal.
// Source: DXF Reference, "Arbitrary Axis Algorithm".
func ocs(nx, ny, nz float64) affine {
	if nx == 0 && ny == 0 && nz >= 0 {
		return scaling(1)
	}
	l := math.Sqrt(nx*nx + ny*ny + nz*nz)
	nx, ny, nz = nx/l, ny/l, nz/l
	const near = 1.0 / 64
	var ax, ay, az float64
	if math.Abs(nx) < near && math.Abs(ny) < near {
		ax, ay, az = nz, 0, -nx // Y × N
	} else {
		ax, ay, az = -ny, nx, 0 // Z × N
	}
	l = math.Sqrt(ax*ax + ay*ay + az*az)
	ax, ay, az = ax/l, ay/l, az/l
	bx, by, bz := ny*az-nz*ay, nz*ax-nx*az, nx*ay-ny*ax
	a := affine{m: [12]float64{ax, bx, nx, 0, ay, by, ny, 0, az, bz, nz, 0}}
	a.classify()
	return a
}

// insertion returns the map of one cell of an INSERT: its block's coordinates
// to those of the frame it stands in.
func insertion(x *[inLen]float64, base [3]float64, col, row int) affine {
	sin, cos := sinCos(x[inAngle])
	sx, sy, sz := x[inSX], x[inSY], x[inSZ]
	dx, dy := float64(col)*x[inDX], float64(row)*x[inDY]
	ox, oy := x[inX]+cos*dx-sin*dy, x[inY]+sin*dx+cos*dy
	a := affine{m: [12]float64{
		cos * sx, -sin * sy, 0, 0,
		sin * sx, cos * sy, 0, 0,
		0, 0, sz, 0,
	}}
	m := &a.m
	m[3] = ox - m[0]*base[0] - m[1]*base[1]
	m[7] = oy - m[4]*base[0] - m[5]*base[1]
	m[11] = x[inZ] - sz*base[2]
	if x[inNX] != 0 || x[inNY] != 0 || x[inNZ] <= 0 {
		o := ocs(x[inNX], x[inNY], x[inNZ])
		return o.then(&a)
	}
	a.classify()
	return a
}
