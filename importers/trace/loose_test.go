package trace_test

import (
	"testing"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
	"boardrun/internal/plan"
)

// A door drawn line by line on layer 0, over a wall whose faces run through: the
// arc closes onto the wall and a leaf as long as its radius stands open.
// Oracle: the drawing as described.
func TestTrace_looseSwing(t *testing.T) {
	for _, c := range []struct {
		name  string
		at    orb.Point
		leaf  bool
		doors int
	}{
		{"hinged at the wall's face", orb.Point{2000, 150}, true, 1},
		{"no leaf", orb.Point{2000, 150}, false, 0},
		{"away from the wall: a table", orb.Point{2000, 2150}, true, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := wallSheet(ring(0, 0, 6000, 150)...)
			zero := func(i int) linework.Common {
				return linework.Common{Ref: linework.Ref{Handle: "Z"}, Entity: i, Layer: "0", Type: "ARC", Insert: -1}
			}
			d.Arcs = append(d.Arcs, linework.Arc{Common: zero(50), Centre: c.at, Radius: 900, Start: 0, End: 90})
			if c.leaf {
				d.Segments = append(d.Segments, linework.Segment{Common: zero(51), A: c.at, B: orb.Point{c.at[0], c.at[1] + 900}})
			}
			p := trace.Trace(d, trace.Mapping{Layers: []trace.LayerUse{{Pattern: "A-WALL", Role: trace.Walls}}}, trace.Options{Storey: "1"})
			doors := 0
			for _, o := range p.Openings {
				if o.Kind == plan.Door {
					doors++
					if w := o.Width.MM(); w < 899 || w > 901 {
						t.Errorf("door %.1f mm wide, want 900", w)
					}
				}
			}
			if doors != c.doors || len(p.Openings) != c.doors {
				t.Errorf("%d doors of %d openings, want %d", doors, len(p.Openings), c.doors)
			}
			if n := codes(p)[trace.CodeHomeless]; n != 0 {
				t.Errorf("%d doubts of arcs on a layer that says nothing", n)
			}
		})
	}
}

// A plot with the outlines of three buildings in it is told; a plan with rooms
// of single lines that hang together is not.
// Oracle: the drawings as described.
func TestTrace_site(t *testing.T) {
	m := trace.Mapping{Layers: []trace.LayerUse{{Pattern: "A-WALL", Role: trace.Walls, Drawn: trace.DrawnCentre, Thickness: 8000 * 100}}}
	plot := ring(0, 0, 40000, 30000)
	for _, x := range []float64{3000, 15000, 28000} {
		plot = append(plot, ring(x, 5000, x+9000, 15000)...)
	}
	p := trace.Trace(wallSheet(plot...), m, trace.Options{Storey: "1"})
	if codes(p)[trace.CodeSite] != 1 {
		t.Errorf("a plot with three outlines is not told: %v", codes(p))
	}
	rooms := append(ring(0, 0, 12000, 9000), [4]float64{4000, 0, 4000, 9000}, [4]float64{8000, 0, 8000, 9000}, [4]float64{4000, 5000, 8000, 5000})
	p = trace.Trace(wallSheet(rooms...), m, trace.Options{Storey: "1"})
	if codes(p)[trace.CodeSite] != 0 || len(p.Walls) != 7 {
		t.Errorf("%d walls, doubts %v", len(p.Walls), codes(p))
	}
}
