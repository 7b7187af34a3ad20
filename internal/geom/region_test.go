package geom

import (
	"math/rand/v2"
	"testing"

	"boardrun/internal/measure"
)

const unit = measure.Inch

func rect(x0, y0, x1, y1 Length) Poly {
	return Rect{Pt{x0 * unit, y0 * unit}, Pt{x1 * unit, y1 * unit}}.Poly()
}

func face(w, h Length) Region { return Under(0, Level(0, w*unit, h*unit), 0, w*unit) }

func TestRegion_shapes(t *testing.T) {
	ring := rect(10, 20, 30, 40)
	for _, c := range []struct {
		name            string
		r               Region
		shapes, corners int // of the first shape
		holes           int
		area            Length // square inches
	}{
		{"a rectangle", face(48, 120), 1, 4, 0, 48 * 120},
		{"a door at the left: an L", face(48, 120).Minus(rect(0, 0, 20, 80)), 1, 6, 0, 48*120 - 1600},
		{"a door inside: a U", face(48, 120).Minus(rect(10, 0, 20, 80)), 1, 8, 0, 48*120 - 800},
		{"a window inside: a closed hole", face(48, 120).Minus(ring), 1, 4, 1, 48*120 - 400},
		{"a door over the whole width: a header", face(48, 120).Minus(rect(-5, -5, 50, 80)), 1, 4, 0, 48 * 40},
		{"a window over the whole width: two", face(48, 120).Minus(rect(-5, 30, 50, 80)), 2, 4, 0, 48 * 70},
		{"full height: two", face(48, 120).Minus(rect(10, -5, 20, 150)), 2, 4, 0, 38 * 120},
		{"corner to corner only: two", face(20, 20).Minus(rect(0, 0, 10, 10)).Minus(rect(10, 10, 20, 20)), 2, 4, 0, 200},
		{"clockwise holes too", face(48, 120).Minus(Poly{ring[3], ring[2], ring[1], ring[0]}), 1, 4, 1, 48*120 - 400},
		{"two holes that overlap", face(48, 120).Minus(ring).Minus(rect(20, 30, 35, 50)), 1, 4, 1, 48*120 - 400 - 300 + 100},
		{"clipped", face(48, 120).Clip(Rect{Pt{10 * unit, 10 * unit}, Pt{20 * unit, 200 * unit}}), 1, 4, 0, 1100},
		{"a slope clipped level", Under(0, Profile{{0, 0}, {100 * unit, 100 * unit}}, 0, 100*unit).Clip(Rect{Pt{0, 50 * unit}, Pt{100 * unit, 200 * unit}}), 1, 3, 0, 1250},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := c.r.Shapes()
			if len(s) != c.shapes {
				t.Fatalf("%d shapes, want %d: %v", len(s), c.shapes, s)
			}
			if len(s[0].Outline) != c.corners || len(s[0].Holes) != c.holes {
				t.Errorf("%d corners, %d holes, want %d, %d: %v", len(s[0].Outline), len(s[0].Holes), c.corners, c.holes, s)
			}
			if got, want := c.r.Area(), measure.Times(c.area*unit, unit); got != want {
				t.Errorf("area %v, want %v", got, want)
			}
		})
	}
}

// The area of the shapes is that of the region, whatever is cut; outlines run
// counter-clockwise, holes clockwise. Oracle: two ways to the area.
func TestRegion_random(t *testing.T) {
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 0))
		at := func(n int) Length { return Length(rng.IntN(n))*unit + Length(rng.IntN(1000)) }
		top := Profile{{0, 40*unit + at(80)}, {20*unit + at(30), 40*unit + at(80)}, {100 * unit, 40*unit + at(80)}}
		r := Under(0, top, 0, 100*unit)
		for range rng.IntN(6) {
			x, y := at(100), at(110)
			switch rng.IntN(2) {
			case 0:
				r = r.Minus(Rect{Pt{x, y}, Pt{x + unit + at(40), y + unit + at(40)}}.Poly())
			case 1: // a diamond
				d := unit + at(20)
				r = r.Minus(Poly{{x, y - d}, {x + d, y}, {x, y + d}, {x - d, y}})
			}
		}
		var sum measure.Area
		for _, s := range r.Shapes() {
			if s.Outline.Area() <= 0 {
				t.Fatalf("seed %d: outline of area %v", seed, s.Outline.Area())
			}
			sum += s.Outline.Area()
			for _, h := range s.Holes {
				if h.Area() >= 0 {
					t.Fatalf("seed %d: hole of area %v", seed, h.Area())
				}
				sum += h.Area()
			}
		}
		// Rounding: a grid unit over the width at every cut.
		if d := sum - r.Area(); d > 100*measure.Area(100*unit) || d < -100*measure.Area(100*unit) {
			t.Errorf("seed %d: shapes %v, region %v", seed, sum, r.Area())
		}
	}
}

func TestOrient(t *testing.T) {
	far := Length(1) << 60
	for _, c := range []struct {
		a, b, c Pt
		want    int
	}{
		{Pt{0, 0}, Pt{1, 0}, Pt{1, 1}, 1},
		{Pt{0, 0}, Pt{1, 0}, Pt{1, -1}, -1},
		{Pt{0, 0}, Pt{2, 2}, Pt{5, 5}, 0},
		{Pt{0, 0}, Pt{far, far}, Pt{far, far + 1}, 1}, // beyond 64 bits
		{Pt{0, 0}, Pt{far, far}, Pt{far + 1, far}, -1},
	} {
		if got := Orient(c.a, c.b, c.c); got != c.want {
			t.Errorf("Orient(%v, %v, %v) = %d, want %d", c.a, c.b, c.c, got, c.want)
		}
	}
}

func TestProfile_reachesAndMean(t *testing.T) {
	p := Profile{{0, 100}, {300, 400}, {600, 100}}
	if got := p.Reaches(250, 0, 600); len(got) != 2 || got[0] != 150 || got[1] != 450 {
		t.Errorf("reaches %v, want [150 450]", got)
	}
	if got := p.Mean(0, 600); got != 250 {
		t.Errorf("mean %v, want 250", got)
	}
	if got := Level(0, 1, 77).Mean(10, 50); got != 77 {
		t.Errorf("mean %v, want 77", got)
	}
}
