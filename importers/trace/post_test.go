package trace_test

import (
	"testing"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
	"boardrun/internal/plan"
)

// wallSheet makes a drawing of lines on one wall layer: x0, y0, x1, y1 in mm.
func wallSheet(lines ...[4]float64) *linework.Drawing {
	d := &linework.Drawing{File: "plan.dxf", UnitMM: 1, Layers: []linework.Layer{{Name: "A-WALL"}}}
	for i, l := range lines {
		d.Segments = append(d.Segments, linework.Segment{
			Common: linework.Common{Entity: i, Ref: linework.Ref{Handle: string(rune(65 + i%26))}, Layer: "A-WALL", Type: "LINE", Insert: -1},
			A:      orb.Point{l[0], l[1]}, B: orb.Point{l[2], l[3]},
		})
	}
	return d
}

// ring is the outline of a rectangle.
func ring(x0, y0, x1, y1 float64) [][4]float64 {
	return [][4]float64{{x0, y0, x1, y0}, {x1, y0, x1, y1}, {x1, y1, x0, y1}, {x0, y1, x0, y0}}
}

func traced(t *testing.T, lines ...[4]float64) *plan.Plan {
	t.Helper()
	d := wallSheet(lines...)
	p := trace.Trace(d, trace.Mapping{Layers: []trace.LayerUse{{Pattern: "A-WALL", Role: trace.Walls}}}, trace.Options{Storey: "1"})
	for _, l := range p.Ledger {
		if !l.Balanced() {
			t.Errorf("ledger does not add up: %+v", l)
		}
	}
	return p
}

func codes(p *plan.Plan) map[string]int {
	n := map[string]int{}
	for _, e := range p.Exceptions {
		n[e.Code]++
	}
	return n
}

// Oracle: the drawing as described in each row; a post is no wall.
func TestTrace_posts(t *testing.T) {
	square := ring(5000, 5000, 5150, 5150)
	cross := append(ring(5000, 5000, 5150, 5150), [4]float64{5000, 5000, 5150, 5150}, [4]float64{5000, 5150, 5150, 5000})
	nested := append(ring(5000, 5000, 5400, 5400), ring(5100, 5100, 5300, 5300)...)
	for _, c := range []struct {
		name    string
		lines   [][4]float64
		walls   int
		columns int
	}{
		{"a square", square, 1, 1},
		{"a square drawn twice", append(ring(5000, 5000, 5150, 5150), square...), 1, 1},
		{"a square with a cross", cross, 1, 1},
		{"a square in a square", nested, 1, 1},
		{"two squares in line", append(ring(7000, 5000, 7150, 5150), square...), 1, 2},
		{"a square in line with a wall, a plain gap between", ring(5000, 0, 5150, 150), 1, 1},
		{"an oblong piece of wall", ring(5000, 5000, 5800, 5150), 2, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := traced(t, append(ring(0, 0, 4000, 150), c.lines...)...)
			columns := 0
			for _, o := range p.Obstacles {
				if o.Kind == "column" {
					columns++
				}
			}
			if len(p.Walls) != c.walls || columns != c.columns || len(p.Openings) != 0 {
				t.Errorf("%d walls, %d columns, %d openings, want %d, %d and none: %v", len(p.Walls), columns, len(p.Openings), c.walls, c.columns, codes(p))
			}
			if n := codes(p)[trace.CodeUnread] + codes(p)[trace.CodeOutline]; n > 0 {
				t.Errorf("%d doubts: %v", n, codes(p))
			}
		})
	}
}

// A square between a door and a window in a wall is a piece of that wall.
// Oracle: the drawing as described.
func TestTrace_squareBetweenOpenings(t *testing.T) {
	d := wallSheet(append(append(ring(0, 0, 4000, 150), ring(5000, 0, 5180, 150)...), ring(6200, 0, 9000, 150)...)...)
	for i, l := range [][4]float64{{4000, 75, 5000, 75}, {5180, 75, 6200, 75}} { // glass
		d.Segments = append(d.Segments, linework.Segment{Common: linework.Common{Entity: 100 + i, Ref: linework.Ref{Handle: "G"}, Layer: "A-GLAZ", Type: "LINE", Insert: -1},
			A: orb.Point{l[0], l[1]}, B: orb.Point{l[2], l[3]}})
	}
	p := trace.Trace(d, trace.Mapping{Layers: []trace.LayerUse{{Pattern: "A-WALL", Role: trace.Walls}, {Pattern: "A-GLAZ", Role: trace.Windows}}}, trace.Options{Storey: "1"})
	if len(p.Walls) != 1 || len(p.Openings) != 2 || len(p.Obstacles) != 0 {
		t.Errorf("%d walls, %d openings, %d obstacles, want 1, 2 and none", len(p.Walls), len(p.Openings), len(p.Obstacles))
	}
}

// backs is a hall of 150 mm walls with two partitions of 100 mm that stand free,
// and with something against the inside of its lower wall: a line at the distance
// d, closed at both ends or not.
func backs(d float64, closed bool) [][4]float64 {
	lines := append(ring(0, 0, 40000, 30000), ring(150, 150, 39850, 29850)...)
	lines = append(append(lines, ring(3000, 9000, 18000, 9100)...), ring(3000, 19000, 18000, 19100)...)
	lines = append(lines, [4]float64{2000, 150 + d, 5000, 150 + d})
	if closed {
		lines = append(lines, [4]float64{2000, 150, 2000, 150 + d}, [4]float64{5000, 150, 5000, 150 + d})
	}
	return lines
}

// Oracle: the drawing as described: a lining as thick as other walls of the
// drawing that shares a wall's face is a wall; a shelf of another depth, or a
// line that ends nowhere, is none and is told.
func TestTrace_backToBack(t *testing.T) {
	for _, c := range []struct {
		name   string
		d      float64
		closed bool
		walls  int
	}{
		{"lining as thick as the partitions", 100, true, 7},
		{"a line with open ends", 330, false, 6},
		{"a shelf", 330, true, 6},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := traced(t, backs(c.d, c.closed)...)
			if len(p.Walls) != c.walls {
				t.Fatalf("%d walls, want %d: %v", len(p.Walls), c.walls, codes(p))
			}
			if doubts := codes(p)[trace.CodeUnread] + codes(p)[trace.CodePier]; (doubts == 0) != (c.walls == 7) {
				t.Errorf("%d doubts with %d walls: %v", doubts, c.walls, codes(p))
			}
			for _, w := range p.Walls {
				if th := w.Thickness.MM(); th != 150 && th != 100 {
					t.Errorf("a wall %.1f mm thick", th)
				}
			}
		})
	}
}

// Three lines: a wall with furring along one side, read as one and told.
// Oracle: the drawing as described.
func TestTrace_lineInside(t *testing.T) {
	lines := append(ring(0, 0, 8000, 250), [4]float64{0, 200, 8000, 200})
	p := traced(t, lines...)
	if len(p.Walls) != 1 || p.Walls[0].Thickness.MM() != 250 || codes(p)[trace.CodeInside] != 1 {
		t.Errorf("%d walls, doubts %v", len(p.Walls), codes(p))
	}
	lines[4] = [4]float64{0, 234, 8000, 234} // the back of a board
	if p := traced(t, lines...); codes(p)[trace.CodeInside] != 0 {
		t.Errorf("the back of a board is told: %v", codes(p))
	}
}

// A hall on the one layer of a drawing, tiled: every tile four lines, 10 mm of
// joint between them. The walls are found as on an empty floor, the joints are
// told once.
// Oracle: the drawing as described.
func TestTrace_tiles(t *testing.T) {
	lines := append(ring(0, 0, 15300, 12300), ring(150, 150, 15150, 12150)...)
	lines = append(lines, ring(150, 6000, 9000, 6100)...)
	for x := 0; x < 15; x++ {
		for y := 0; y < 12; y++ {
			if y == 5 && x < 9 { // the partition stands there
				continue
			}
			x0, y0 := 155+1000*float64(x), 155+1000*float64(y)
			lines = append(lines, ring(x0, y0, x0+990, y0+990)...)
		}
	}
	m := trace.Mapping{Layers: []trace.LayerUse{{Pattern: "A-WALL", Role: trace.Walls, Guessed: true}}}
	p := trace.Trace(wallSheet(lines...), m, trace.Options{Storey: "1"})
	if len(p.Walls) != 5 || codes(p)[trace.CodePattern] != 1 {
		for _, w := range p.Walls {
			t.Logf("wall %v to %v, %.0f mm", w.Axis[0], w.Axis[1], w.Thickness.MM())
		}
		t.Errorf("%d walls, want 5; doubts %v", len(p.Walls), codes(p))
	}
	for _, l := range p.Ledger {
		if !l.Balanced() {
			t.Errorf("ledger does not add up: %+v", l)
		}
	}
	m.Layers[0].Guessed = false // the job's word: all of it counts
	if p := trace.Trace(wallSheet(lines...), m, trace.Options{Storey: "1"}); codes(p)[trace.CodePattern] != 0 {
		t.Error("lines left out of a layer that the job names")
	}
}
