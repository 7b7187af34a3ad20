package trace_test

import (
	"testing"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

func (s *sheet) text(layer, v string, x, y float64) {
	s.d.Texts = append(s.d.Texts, linework.Text{Common: s.common(layer, "TEXT"), At: orb.Point{x, y}, Height: 100, Value: v})
}

// doorway is a wall 125 mm thick along x with a gap of 900 mm at 2000.
func doorway() *sheet {
	s := newSheet()
	for _, y := range []float64{0, 125} {
		s.line("A-WALL", orb.Point{0, y}, orb.Point{2000, y})
		s.line("A-WALL", orb.Point{2900, y}, orb.Point{6000, y})
	}
	s.line("A-WALL", orb.Point{2000, 0}, orb.Point{2000, 125})
	s.line("A-WALL", orb.Point{2900, 0}, orb.Point{2900, 125})
	return s
}

// Where an opening's mark, leaf and head come from.
// Oracle: the numbers as drawn.
func TestTrace_openingSizes(t *testing.T) {
	w := hallWall{x0: 0, y0: 62.5, x1: 6000, y1: 62.5, t: 125}
	op := hallOpening{2450, 900, "door"}
	tests := []struct {
		name   string
		draw   func(s *sheet)
		kind   plan.OpeningKind
		mark   string
		leaf   [2]float64
		head   float64
		headBy string
	}{
		{"plain gap", func(s *sheet) {}, plan.Wrapped, "", [2]float64{}, 0, ""},
		{"head lines", func(s *sheet) {
			for _, y := range []float64{0, 125} {
				s.line("A-WALL-HEAD", orb.Point{2000, y}, orb.Point{2900, y})
			}
		}, plan.Framed, "", [2]float64{}, 0, ""},
		{"attributes", func(s *sheet) { s.door("A-DOOR", w, op, "D7") }, plan.Door, "D7", [2]float64{900, 2133.6}, 2133.6, "attribute"},
		{"attributes by other names", func(s *sheet) {
			s.door("A-DOOR", w, op, "")
			s.d.Inserts[0].Attribs = map[string]string{"TÜRNR": "T1", "BREITE": "885", "HÖHE": "2110"}
		}, plan.Door, "T1", [2]float64{885, 2110}, 2110, "attribute"},
		{"one attribute with both sizes", func(s *sheet) {
			s.door("A-DOOR", w, op, "")
			s.d.Inserts[0].Attribs = map[string]string{"SIZE": "885x2110"}
		}, plan.Door, "", [2]float64{885, 2110}, 2110, "attribute"},
		{"tag beside a swing", func(s *sheet) {
			s.swing("A-DOOR", w, op, "", -1)
			s.text("A-DOOR-IDEN", "101A", 2400, 400)
			s.text("A-DOOR-IDEN", "885x2110", 2400, 250)
		}, plan.Door, "101A", [2]float64{885, 2110}, 2110, "tag"},
		{"schedule", func(s *sheet) {
			s.swing("A-DOOR", w, op, "", -1)
			s.text("A-DOOR-IDEN", "D12", 2400, 400)
			for i, v := range []string{"D12", "885", "2110", "HM"} {
				s.text("G-ANNO-SCHD", v, 20000+float64(i)*1500, 9000)
				s.text("G-ANNO-SCHD", v+"X", 20000+float64(i)*1500, 8700)
			}
		}, plan.Door, "D12", [2]float64{885, 2110}, 2110, "schedule"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := doorway()
			tt.draw(s)
			p := trace.Trace(&s.d, trace.Propose(&s.d), trace.Options{})
			if len(p.Openings) != 1 {
				t.Fatalf("%d openings", len(p.Openings))
			}
			o := p.Openings[0]
			leaf := [2]measure.Length{measure.FromMM(tt.leaf[0]), measure.FromMM(tt.leaf[1])}
			if o.Kind != tt.kind || o.Mark != tt.mark || o.Leaf != leaf || o.Head != measure.FromMM(tt.head) || o.HeadBy != tt.headBy {
				t.Errorf("got %s %q leaf %.0f x %.0f head %.0f by %q", o.Kind, o.Mark, o.Leaf[0].MM(), o.Leaf[1].MM(), o.Head.MM(), o.HeadBy)
			}
			if frame := o.Frame; (frame == "HM") != (tt.name == "schedule") || frame != "" && frame != "HM" {
				t.Errorf("frame %q", frame)
			}
			if o.Width != measure.FromMM(900) || o.Basis != "drawn" || o.At != measure.FromMM(2450) {
				t.Errorf("width %.1f by %q at %.1f", o.Width.MM(), o.Basis, o.At.MM())
			}
		})
	}
}

// Two blocks of one leaf each, side by side in one gap, are one door of two
// leaves. Oracle: the drawing as described.
func TestTrace_twoLeafBlocks(t *testing.T) {
	s := doorway()
	w := hallWall{x0: 0, y0: 62.5, x1: 6000, y1: 62.5, t: 125}
	s.door("A-DOOR", w, hallOpening{2225, 450, "door"}, "D1")
	s.door("A-DOOR", w, hallOpening{2675, 450, "door"}, "D1")
	p := trace.Trace(&s.d, trace.Propose(&s.d), trace.Options{})
	if len(p.Openings) != 1 || p.Openings[0].Kind != plan.Door || p.Openings[0].Leaves != 2 || p.Openings[0].Width != measure.FromMM(900) || p.Openings[0].Doubt != "" {
		t.Errorf("openings %+v", p.Openings)
	}
	if n := codes(p)[trace.CodeHomeless]; n != 0 {
		t.Errorf("%d doors in no wall", n)
	}
	if !p.Ledger[0].Balanced() || p.Ledger[0].Used != p.Ledger[0].Read {
		t.Errorf("ledger %+v", p.Ledger[0])
	}
}

// A job that names its walls gets the rest proposed.
func TestComplete(t *testing.T) {
	s := doorway()
	s.door("A-DOOR", hallWall{x0: 0, y0: 62.5, x1: 6000, y1: 62.5, t: 125}, hallOpening{2450, 900, "door"}, "D1")
	m := trace.Complete(&s.d, trace.Mapping{Layers: []trace.LayerUse{{Pattern: "A-WALL*", Role: trace.Walls, Type: "P1"}}})
	p := trace.Trace(&s.d, m, trace.Options{})
	if len(p.Walls) != 1 || p.Walls[0].Tag != "P1" || len(p.Openings) != 1 || p.Openings[0].Mark != "D1" {
		t.Errorf("walls %+v openings %+v", p.Walls, p.Openings)
	}
}

// A plain gap as wide as a small room, and a gap far wider than the one leaf in
// it, are openings that a person should look at. Oracle: the drawing as described.
func TestTrace_wideGaps(t *testing.T) {
	for _, c := range []struct {
		name  string
		gap   float64
		swing bool
		kind  plan.OpeningKind
		doubt bool
	}{
		{"plain, 1.8 m", 1800, false, plan.Wrapped, false},
		{"plain, 2.3 m", 2300, false, plan.Wrapped, true},
		{"a leaf of 900 in 940", 940, true, plan.Door, false},
		{"a leaf of 900 in 2.2 m", 2200, true, plan.Door, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := wallSheet(append(ring(0, 0, 3000, 125), ring(3000+c.gap, 0, 9000, 125)...)...)
			if c.swing {
				d.Arcs = append(d.Arcs, linework.Arc{Common: linework.Common{Ref: linework.Ref{Handle: "S"}, Entity: 70, Layer: "A-DOOR", Type: "ARC", Insert: -1},
					Centre: orb.Point{3000, 125}, Radius: 900, Start: 0, End: 90})
			}
			p := trace.Trace(d, trace.Mapping{Layers: []trace.LayerUse{{Pattern: "A-WALL", Role: trace.Walls}, {Pattern: "A-DOOR", Role: trace.Doors}}}, trace.Options{Storey: "1"})
			if len(p.Openings) != 1 || p.Openings[0].Kind != c.kind || (p.Openings[0].Doubt != "") != c.doubt || (codes(p)[trace.CodeOpening] == 1) != c.doubt {
				t.Errorf("openings %+v, told %v", p.Openings, codes(p))
			}
		})
	}
}
