package ifc

import (
	"math"
	"testing"
)

// slab is a deck 4 m × 3 m, 200 mm thick, whose underside lies at z = 3000.
func slab() *prism {
	return &prism{[]shape{{outer: ring{{0, 0}, {4000, 0}, {4000, 3000}, {0, 3000}}}}, vec{0, 0, 3000}, vec{1, 0, 0}, vec{0, 1, 0}, vec{0, 0, 200}}
}

// Oracle: areas and heights by hand.
func TestUndersides_ofWhatIsCut(t *testing.T) {
	r := math.Sqrt2 / 2
	upright := &halfSpace{n: vec{1, 0, 0}, d: 2500}          // x ≤ 2500
	mitre := &halfSpace{n: vec{r, r, 0}, d: 2000 * r}        // x + y ≤ 2000
	slope := &halfSpace{n: vec{-r, 0, r}, d: (3000 - 0) * r} // z ≤ 3000 + x, from below
	shaft := &prism{[]shape{{outer: ring{{1000, 1000}, {1500, 1000}, {1500, 1500}, {1000, 1500}}}}, vec{}, vec{1, 0, 0}, vec{0, 1, 0}, vec{0, 0, 9000}}
	for name, c := range map[string]struct {
		s    solid
		area float64 // in plan, m²
		low  float64 // mm
		high float64
	}{
		"whole":                          {slab(), 12, 3000, 3000},
		"less a half space":              {&boolean{'-', slab(), upright}, 4.5, 3000, 3000},
		"within a half space":            {&boolean{'*', slab(), upright}, 7.5, 3000, 3000},
		"a corner off":                   {&boolean{'-', slab(), mitre}, 10, 3000, 3000},
		"two cuts":                       {&boolean{'-', &boolean{'-', slab(), upright}, &halfSpace{n: vec{0, 1, 0}, d: 1000}}, 3, 3000, 3000},
		"a shaft through it":             {&boolean{'-', slab(), shaft}, 11.75, 3000, 3000},
		"cut from below, 45° at one end": {&boolean{'-', slab(), slope}, 0.6, 3000, 3200},
	} {
		t.Run(name, func(t *testing.T) {
			area, low, high := 0.0, math.Inf(1), math.Inf(-1)
			for _, u := range undersides(c.s) {
				area += math.Abs(u.outline.area()) / 1e6
				for _, h := range u.holes {
					area -= math.Abs(h.area()) / 1e6
				}
				low, high = min(low, u.lowest()), max(high, u.highest())
			}
			if math.Abs(area-c.area) > 1e-4 || math.Abs(low-c.low) > sideTol || math.Abs(high-c.high) > sideTol {
				t.Errorf("%.6f m² from %.2f to %.2f, want %.6f m² from %.0f to %.0f", area, low, high, c.area, c.low, c.high)
			}
		})
	}
}
