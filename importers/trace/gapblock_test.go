package trace_test

import (
	"testing"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
	"boardrun/internal/plan"
)

// A block of no telling name that stands folded at a jamb in most of its
// placements is a door; one that strays into a gap once is not.
// Oracle: the drawing as described.
func TestTrace_doorsByPlace(t *testing.T) {
	var lines [][4]float64
	for _, x := range []float64{0, 2900, 5800, 8700} { // walls with three gaps of 900
		lines = append(lines, ring(x, 0, x+2000, 125)...)
	}
	d := wallSheet(lines...)
	put := func(name string, x, y float64) {
		n := len(d.Inserts)
		d.Inserts = append(d.Inserts, linework.Insert{
			Common: linework.Common{Ref: linework.Ref{Handle: name + string(rune(65+n))}, Entity: 100 + n, Layer: "0", Type: "INSERT", Insert: -1},
			Name:   name, Parent: -1, At: orb.Point{x, y},
			Box: [4]orb.Point{{x, y}, {x + 320, y}, {x + 320, y + 400}, {x, y + 400}},
		})
	}
	for _, x := range []float64{2000, 4900, 7800} {
		put("XQ7", x, 60)
	}
	put("XQ7", 4000, 5000)
	put("VASE", 4000, 7000)
	put("VASE", 6000, 7000)
	put("VASE", 2500, 60)
	p := trace.Trace(d, trace.Mapping{Layers: []trace.LayerUse{{Pattern: "A-WALL", Role: trace.Walls}}}, trace.Options{Storey: "1"})
	doors := 0
	for _, o := range p.Openings {
		if o.Kind == plan.Door && o.Width.MM() == 900 && o.Type == "XQ7" {
			doors++
		}
	}
	if len(p.Walls) != 1 || doors != 3 || len(p.Openings) != 3 {
		t.Errorf("%d walls, %d doors of %d openings, want 1, 3 and 3", len(p.Walls), doors, len(p.Openings))
	}
	if c := codes(p); c[trace.CodeBlock] != 1 || c[trace.CodeHomeless] != 1 {
		t.Errorf("told %v, want the block once and its stray placement once", c)
	}
}
