package dxf

import (
	"math"
	"math/rand"
	"testing"
)

// TestAffine_algebra: maps done one after the other are the map of both, and
// the map in plan is the map's x and y. Oracle: the rows of the matrix written
// out, and the definition of composition, on random maps.
func TestAffine_algebra(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	random := func() (a affine) {
		for i := range a.m {
			a.m[i] = rnd.Float64()*4 - 2
		}
		return a
	}
	near := func(x, y float64) bool { return math.Abs(x-y) < 1e-9 }
	for range 200 {
		a, b := random(), random()
		x, y, z := rnd.Float64()*20-10, rnd.Float64()*20-10, rnd.Float64()*20-10
		px, py, pz := b.point(x, y, z)
		for r, got := range []float64{px, py, pz} {
			if want := b.m[4*r]*x + b.m[4*r+1]*y + b.m[4*r+2]*z + b.m[4*r+3]; !near(got, want) {
				t.Fatalf("row %d: %v, want %v", r, got, want)
			}
		}
		if qx, qy := b.plan(x, y, z); !near(qx, px) || !near(qy, py) {
			t.Fatalf("in plan %v, %v, want %v, %v", qx, qy, px, py)
		}
		c := a.then(&b)
		cx, cy, cz := c.point(x, y, z)
		wx, wy, wz := a.point(px, py, pz)
		if !near(cx, wx) || !near(cy, wy) || !near(cz, wz) {
			t.Fatalf("one after the other %v %v %v, at once %v %v %v", wx, wy, wz, cx, cy, cz)
		}
	}
	s := scaling(25.4)
	if x, y, z := s.point(1, -2, 3); !near(x, 25.4) || !near(y, -50.8) || !near(z, 76.2) || !s.similar || s.mirrored || s.scale != 25.4 {
		t.Errorf("25.4 times: %v %v %v, %+v", x, y, z, s)
	}
}
