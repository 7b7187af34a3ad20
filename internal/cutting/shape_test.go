package cutting

import (
	"math/rand"
	"reflect"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

func poly(xy ...measure.Length) (p geom.Poly) {
	for i := 0; i+1 < len(xy); i += 2 {
		p = append(p, geom.Pt{X: xy[i], Y: xy[i+1]})
	}
	return p
}

// TestScales: widths that fit side by side on a sheet still do when scaled, and
// a scale never lowers what fills the sheet. Oracle: the definition of a
// conservative scale, Fekete and Schepers, Mathematical Programming 91, 2001.
func TestScales(t *testing.T) {
	const width = 100
	rnd := rand.New(rand.NewSource(5))
	for range 3000 {
		s := above(width, measure.Length(1+rnd.Intn(width/2)))
		m, e := mixed(s, asIs), mixed(edged(width), asIs)
		var one, two, three, left measure.Length = 0, 0, 0, width
		for edges := barEdges; left > 0; {
			w := measure.Length(1 + rnd.Intn(int(left)))
			need := rnd.Intn(edges + 1)
			left, edges = left-w, edges-need
			one, two, three = one+s(w, need), two+m(w, need), three+e(w, need)
		}
		if one > width || two > width || three > width {
			t.Fatalf("widths that fill %d come to %d, %d and %d", width, one, two, three)
		}
	}
	// By hand, t = 30: over 70 counts as all, under 30 as nothing.
	s := above(width, 30)
	m := mixed(s, asIs)
	for _, c := range []struct{ w, s, m measure.Length }{{100, 100, 100}, {71, 100, 85}, {70, 70, 70}, {30, 30, 30}, {29, 0, 14}, {0, 0, 0}} {
		if s(c.w, 0) != c.s || m(c.w, 0) != c.m {
			t.Errorf("%d: %d and %d, want %d and %d", c.w, s(c.w, 0), m(c.w, 0), c.s, c.m)
		}
	}
}

// TestOutlines: oracle: worked by hand on the grid.
func TestOutlines(t *testing.T) {
	square := poly(0, 0, 10, 0, 10, 10, 0, 10)
	for _, c := range []struct {
		name      string
		got, want geom.Poly
	}{
		{"clockwise", tidy(poly(0, 0, 0, 10, 10, 10, 10, 0)), square}, {"started elsewhere", tidy(poly(10, 10, 0, 10, 0, 0, 10, 0)), square},
		{"repeated and straight through", tidy(poly(0, 0, 5, 0, 10, 0, 10, 0, 10, 10, 5, 10, 0, 10, 0, 4, 0, 0)), square},
		{"the first straight through", tidy(poly(5, 0, 10, 0, 10, 10, 0, 10, 0, 0)), square},
		{"lowest, then leftmost", tidy(poly(8, 3, 9, 9, 2, 8, 4, 3)), poly(4, 3, 8, 3, 9, 9, 2, 8)},
		{"a quarter turn", quarterTurns(poly(2, 3, 12, 3, 12, 7), 1), poly(4, 0, 4, 10, 0, 10)},
		{"a half turn", quarterTurns(poly(2, 3, 12, 3, 12, 7), 2), poly(10, 4, 0, 4, 0, 0)},
		{"four", quarterTurns(poly(2, 3, 12, 3, 12, 7), 4), poly(0, 0, 10, 0, 10, 4)},
		{"blank of a hook", blankOf(poly(0, 0, 10, 0, 10, 4, 6, 4, 6, 10, 0, 10)), square},
		{"blank of a slope with a notch", blankOf(poly(0, 0, 4, 0, 4, 3, 6, 3, 6, 0, 10, 0, 10, 10, 0, 20)), poly(0, 0, 10, 0, 10, 10, 0, 20)},
		{"blank of a slope", blankOf(poly(0, 0, 10, 0, 10, 10, 0, 20)), poly(0, 0, 10, 0, 10, 10, 0, 20)},
	} {
		if !reflect.DeepEqual(c.got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
	left, right, from, to := split(square, geom.Pt{X: 4, Y: -5}, geom.Pt{X: 4, Y: 5})
	if twiceArea(left) != 80 || twiceArea(right) != 120 || from != (geom.Pt{X: 4}) || to != (geom.Pt{X: 4, Y: 10}) {
		t.Errorf("split at x = 4: %v, %v, %v to %v", left, right, from, to)
	}
	left, right, from, to = split(square, geom.Pt{X: 4, Y: 5}, geom.Pt{X: 4, Y: -5})
	if twiceArea(left) != 120 || twiceArea(right) != 80 || from != (geom.Pt{X: 4, Y: 10}) || to != (geom.Pt{X: 4}) {
		t.Errorf("split downwards: %v, %v, %v to %v", left, right, from, to)
	}
	left, right, from, to = split(square, geom.Pt{}, geom.Pt{X: 10, Y: 10})
	if twiceArea(left) != 100 || twiceArea(right) != 100 || from != (geom.Pt{}) || to != (geom.Pt{X: 10, Y: 10}) {
		t.Errorf("split across the corners: %v, %v, %v to %v", left, right, from, to)
	}
	if left, right, _, _ = split(square, geom.Pt{X: 10}, geom.Pt{X: 10, Y: 10}); twiceArea(left) != 200 || right != nil {
		t.Errorf("along a side: %v, %v", left, right)
	}
	if left, right, _, _ = split(square, geom.Pt{X: 12}, geom.Pt{X: 12, Y: 10}); twiceArea(left) != 200 || right != nil {
		t.Errorf("beside it: %v, %v", left, right)
	}
	if !isConvex(square) || isConvex(poly(0, 0, 10, 0, 10, 4, 6, 4, 6, 10, 0, 10)) || !allLeft(square, geom.Pt{}, geom.Pt{X: 1}) || allLeft(square, geom.Pt{Y: 1}, geom.Pt{X: 1, Y: 1}) {
		t.Error("convex, all left")
	}
	if x := crossing(geom.Pt{}, geom.Pt{X: 10, Y: 20}, -3, 7); x != (geom.Pt{X: 3, Y: 6}) {
		t.Errorf("crossing %v", x)
	}
}

// TestPockets: what an outline leaves out of its blank adds up to the
// difference. Oracle: areas by hand.
func TestPockets(t *testing.T) {
	b := poly(0, 0, 10, 0, 10, 10, 0, 10)
	for _, c := range []struct {
		name string
		p    geom.Poly
		want []int64 // twice the areas
	}{
		{"a hook", poly(0, 0, 10, 0, 10, 4, 6, 4, 6, 10, 0, 10), []int64{48}},
		{"a notch in a side", poly(0, 0, 3, 0, 3, 4, 6, 4, 6, 0, 10, 0, 10, 10, 0, 10), []int64{24}},
		{"two corners", poly(2, 0, 10, 0, 10, 7, 8, 7, 8, 10, 0, 10, 0, 3, 2, 3), []int64{12, 12}},
		{"the blank itself", b, nil},
	} {
		got := map[int64]int{}
		n := 0
		for _, q := range pockets(c.p, b) {
			got[twiceArea(q)]++
			n++
		}
		want := map[int64]int{}
		for _, a := range c.want {
			want[a]++
		}
		if n != len(c.want) || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %v, want %v", c.name, got, want)
		}
	}
}

// TestHolds: oracle: by hand on a piece 10 wide that slopes from 20 down to 10.
func TestHolds(t *testing.T) {
	p := poly(0, 0, 10, 0, 10, 10, 0, 20)
	for _, c := range []struct{ x, low, high measure.Length }{{0, 0, 20}, {4, 0, 16}, {10, 0, 10}} {
		if low, high := upright(p, c.x); low != c.low || high != c.high {
			t.Errorf("at %d: %d to %d, want %d to %d", c.x, low, high, c.low, c.high)
		}
	}
	if low, high := upright(poly(0, 5, 10, 0, 20, 5, 10, 30), 10); low != 0 || high != 30 {
		t.Errorf("a kite in the middle: %d to %d", low, high)
	}
	for _, c := range []struct {
		w, h measure.Length
		want bool
	}{{4, 16, true}, {4, 17, false}, {10, 10, true}, {10, 11, false}, {11, 1, false}, {1, 19, true}} {
		if got := holds(p, c.w, c.h); got != c.want {
			t.Errorf("%d × %d: %v", c.w, c.h, got)
		}
		mirrored := poly(0, 0, 10, 0, 10, 20, 0, 10)
		if got := holds(mirrored, c.w, c.h); got != c.want {
			t.Errorf("%d × %d, mirrored: %v", c.w, c.h, got)
		}
	}
}
