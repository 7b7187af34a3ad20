package run

import (
	"math"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

func in(x float64) Length { return measure.FromInches(x) }

func pt(x, y float64) geom.Pt { return geom.Pt{X: in(x), Y: in(y)} }

// walls builds a plan of walls of type "P", or of the type named; thickness in
// inches.
type wallIn struct {
	x0, y0, x1, y1, t float64
	tag               string
}

func planIn(walls ...wallIn) *plan.Plan {
	p := &plan.Plan{Storeys: []plan.Storey{{Name: "1"}}, Drawings: []plan.Drawing{{File: "a.dxf", Storey: "1"}}}
	for i, w := range walls {
		if w.tag == "" {
			w.tag = "P"
		}
		p.Walls = append(p.Walls, plan.Wall{Storey: "1", Axis: [2]geom.Pt{pt(w.x0, w.y0), pt(w.x1, w.y1)},
			Thickness: in(w.t), Tag: w.tag, Sources: []plan.Source{{File: "a.dxf", Line: i + 1}}})
	}
	return p
}

// inchJob has one ply of 5/8 in each side to a level deck at 10 ft, no fit
// slack: type P, and R the same with a higher rank.
func inchJob() *job.Job {
	j := testJob(measure.InchPound)
	j.Rules.FitSlack = 0
	j.Decks = []job.Deck{{Level: in(120)}}
	one := job.Side{Plies: []string{"5/8"}}
	p := job.WallType{Name: "P", StudDepth: in(3.625), Spacing: in(16), Sides: [2]job.Side{one, one}}
	r := p
	r.Name, r.Rank = "R", 1
	j.Types = []job.WallType{p, r}
	return j
}

func mustBuild(t testing.TB, p *plan.Plan, j *job.Job) *Set {
	t.Helper()
	s, err := Build(p, j)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// face finds a face by its mark.
func (s *Set) face(id string) *Face {
	for _, r := range s.Runs {
		for _, f := range r.Faces {
			if f.ID == id {
				return f
			}
		}
	}
	return nil
}

// wantFace is a face worked out by hand: start, length and the extent of its
// base ply, in inches.
type wantFace struct{ start, length, u0, u1 float64 }

func checkFaces(t *testing.T, s *Set, want map[string]wantFace) {
	t.Helper()
	for id, w := range want {
		f := s.face(id)
		if f == nil {
			t.Errorf("no face %s", id)
			continue
		}
		if f.Start != in(w.start) || f.Length != in(w.length) {
			t.Errorf("%s begins at %.4f and is %.4f long, want %.4f and %.4f", id, f.Start.Inches(), f.Length.Inches(), w.start, w.length)
		}
		if len(f.Plies) == 0 {
			t.Errorf("%s has no ply: %s", id, f.Reason)
			continue
		}
		if p := f.Plies[0]; p.U0 != in(w.u0) || p.U1 != in(w.u1) {
			t.Errorf("%s: base ply %.4f … %.4f, want %.4f … %.4f", id, p.U0.Inches(), p.U1.Inches(), w.u0, w.u1)
		}
	}
}

// Oracle: worked by hand. Walls are 4-7/8 in, half is 2-7/16, board 5/8. The
// 10 ft wall W001 is longer than the 8 ft wall W002, so its board goes up first:
// inside it runs 5/8 on behind the other, outside it stops 5/8 short and the
// other laps its edge. Free ends have a board of their own: the sides stop 5/8
// short of it.
func TestJunction_corner(t *testing.T) {
	const h = 2.4375
	want := map[string]wantFace{
		"1-W001-L1": {h, 120 - h, 0.625, 120 - h + 0.625}, // seen from the left its corner is at its right end
		"1-W001-R1": {-h, 120 + h, 0.625, 120 + h - 0.625},
		"1-W001-E1": {120, 4.875, 0, 4.875},
		"1-W002-L1": {-h, 96 + h, 0.625, 96 + h},
		"1-W002-R1": {h, 96 - h, 0, 96 - h - 0.625},
	}
	for name, walls := range map[string][]wallIn{
		"node to node":    {{0, 0, 120, 0, 4.875, ""}, {0, 0, 0, 96, 4.875, ""}},
		"to outer faces":  {{-h, 0, 120, 0, 4.875, ""}, {0, -h, 0, 96, 4.875, ""}},
		"one short":       {{h, 0, 120, 0, 4.875, ""}, {0, -h, 0, 96, 4.875, ""}},
		"other way round": {{0, 0, 120, 0, 4.875, ""}, {0, 96, 0, h, 4.875, ""}},
		"reversed":        {{120, 0, 0, 0, 4.875, ""}, {0, 96, 0, 0, 4.875, ""}},
	} {
		t.Run(name, func(t *testing.T) {
			s := mustBuild(t, planIn(walls...), inchJob())
			checkFaces(t, s, want)
			if len(s.Junctions) != 3 {
				t.Fatalf("%d junctions, want the corner and two free ends", len(s.Junctions))
			}
			j := s.Junctions[1]
			if j.Kind != Corner || j.Through != "1-W001" || j.At != (geom.Pt{}) {
				t.Errorf("junction %v through %q at %v", j.Kind, j.Through, j.At)
			}
			if len(j.Laps) != 4 || j.Laps[0] != (Lap{"1-W001-L1", "right", in(0.625)}) || j.Laps[1] != (Lap{"1-W001-R1", "left", in(-0.625)}) {
				t.Errorf("laps %v", j.Laps)
			}
		})
	}
}

// Oracle: the published corrections (t_other/2)/sin φ ± (t/2)/tan φ, in floats.
func TestJunction_oblique(t *testing.T) {
	for _, deg := range []float64{30, 45, 60, 72.5, 90, 107.3, 135, 150} {
		for _, t2 := range []float64{3.625, 4.875, 7.25} {
			phi := deg * math.Pi / 180
			s := mustBuild(t, planIn(wallIn{0, 0, 240, 0, 4.875, ""},
				wallIn{0, 0, 200 * math.Cos(phi), 200 * math.Sin(phi), t2, ""}), inchJob())
			inner := 240 - (t2/2/math.Sin(phi) + 4.875/2/math.Tan(phi))
			outer := 240 + (t2/2/math.Sin(phi) + 4.875/2/math.Tan(phi))
			var long *Run
			for _, r := range s.Runs {
				if r.Length == in(240) {
					long = r
				}
			}
			got := map[Side]Length{}
			for _, f := range long.Faces {
				got[f.Side] = f.Length
			}
			if d := got[Left].Inches() - inner; math.Abs(d) > 1.0/64 {
				t.Errorf("%v° against %v in: inner face %.4f, want %.4f", deg, t2, got[Left].Inches(), inner)
			}
			if d := got[Right].Inches() - outer; math.Abs(d) > 1.0/64 {
				t.Errorf("%v° against %v in: outer face %.4f, want %.4f", deg, t2, got[Right].Inches(), outer)
			}
		}
	}
}

// Oracle: worked by hand. A 20 ft wall with a stem at 80 in on its left. The ends
// of the long wall stand in existing walls, whose faces are at 0 and 240.
func TestJunction_tee(t *testing.T) {
	existing := func(p *plan.Plan) *plan.Plan {
		for _, x := range []float64{-3, 243} {
			p.Walls = append(p.Walls, plan.Wall{Storey: "1", Axis: [2]geom.Pt{pt(x, -100), pt(x, 300)}, Thickness: in(6), Status: plan.Existing})
		}
		return p
	}
	const h = 2.4375
	stems := map[string]wallIn{"on the axis": {80, 0, 80, 96, 4.875, ""}, "on the face": {80, h, 80, 96, 4.875, ""}, "towards it": {80, 96, 80, h, 4.875, ""}}
	for name, stem := range stems {
		t.Run("equals, "+name, func(t *testing.T) {
			s := mustBuild(t, existing(planIn(wallIn{0, 0, 240, 0, 4.875, ""}, stem)), inchJob())
			checkFaces(t, s, map[string]wantFace{
				"1-W001-R1": {0, 240, 0, 240},
				// The longer wall's board first: 5/8 on, behind the stem's.
				"1-W001-L1": {0, 80 - h, -0.625, 80 - h},
				"1-W001-L2": {80 + h, 160 - h, 0, 160 - h + 0.625},
				"1-W002-L1": {h, 96 - h, 0.625, 96 - h},
			})
			if f := s.face("1-W001-L1"); len(f.Before) != 0 || f.Ends[0].Kind != EndInside || f.Ends[1].Kind != EndStructure || f.Ends[0].Face != "1-W002-L1" {
				t.Errorf("ends %+v, before %v", f.Ends, f.Before)
			}
		})
		t.Run("through, "+name, func(t *testing.T) {
			s := mustBuild(t, existing(planIn(wallIn{0, 0, 240, 0, 4.875, "R"}, stem)), inchJob())
			checkFaces(t, s, map[string]wantFace{
				"1-W001-R1": {0, 240, 0, 240},
				"1-W001-L1": {0, 240, 0, 240},
				"1-W002-L1": {h, 96 - h, 0.625, 96 - h},
				"1-W002-R1": {h, 96 - h, 0, 96 - h - 0.625},
			})
			f := s.face("1-W001-L1")
			if len(f.Before) != 1 || f.Before[0] != "1-W002" {
				t.Errorf("boarded before %v, want the stem", f.Before)
			}
			// Seen from the left, the stem stands from 240 − 80 − h to 240 − 80 + h.
			if len(f.Parts) != 2 || f.Parts[0].U1 != in(160-h) || f.Parts[1].U0 != in(160+h) {
				t.Errorf("parts %+v", f.Parts)
			}
		})
		t.Run("stem of higher rank, "+name, func(t *testing.T) {
			stem := stem
			stem.tag = "R"
			s := mustBuild(t, existing(planIn(wallIn{0, 0, 240, 0, 4.875, ""}, stem)), inchJob())
			checkFaces(t, s, map[string]wantFace{
				"1-W001-L1": {0, 80 - h, 0, 80 - h},
				"1-W002-L1": {h, 96 - h, 0.625, 96 - h + 0.625},
				"1-W002-R1": {h, 96 - h, -0.625, 96 - h - 0.625},
			})
		})
	}
}

// Oracle: worked by hand: at a crossing every side is split.
func TestJunction_cross(t *testing.T) {
	for name, walls := range map[string][]wallIn{
		"two walls":     {{0, 0, 240, 0, 4.875, ""}, {100, -80, 100, 120, 4.875, ""}},
		"drawn as four": {{0, 0, 100, 0, 4.875, ""}, {100, 0, 240, 0, 4.875, ""}, {100, -80, 100, 0, 4.875, ""}, {100, 120, 100, 0, 4.875, ""}},
		"one broken":    {{0, 0, 240, 0, 4.875, ""}, {100, -80, 100, -2.4375, 4.875, ""}, {100, 2.4375, 100, 120, 4.875, ""}},
	} {
		t.Run(name, func(t *testing.T) {
			s := mustBuild(t, planIn(walls...), inchJob())
			if len(s.Runs) != 2 {
				t.Fatalf("%d runs, want 2", len(s.Runs))
			}
			lengths := map[string]float64{"1-W001-L1": 97.5625, "1-W001-L2": 137.5625, "1-W001-R1": 97.5625, "1-W001-R2": 137.5625,
				"1-W002-L1": 77.5625, "1-W002-L2": 117.5625, "1-W002-R1": 77.5625, "1-W002-R2": 117.5625}
			if s.Runs[0].Length != in(240) {
				lengths = map[string]float64{"1-W002-L1": 97.5625, "1-W002-L2": 137.5625, "1-W001-L1": 77.5625, "1-W001-L2": 117.5625}
			}
			for id, l := range lengths {
				if f := s.face(id); f == nil || f.Length != in(l) {
					t.Errorf("face %s: %+v, want %v in", id, f, l)
				}
			}
			for _, j := range s.Junctions {
				if len(j.Runs) == 2 && (j.Kind != Cross || j.Through != "") {
					t.Errorf("junction %v through %q", j.Kind, j.Through)
				}
			}
		})
	}
}

// Oracle: the order of plies at a corner, worked by hand for two plies of 5/8 on
// both walls: base plies first.
func TestLaps_twoPlies(t *testing.T) {
	two := []Length{in(0.625), in(0.625)}
	single := []Length{in(0.625)}
	tests := []struct {
		name       string
		kind       EndKind
		first      bool
		own, other []Length
		want       []float64
	}{
		{"inside, first", EndInside, true, two, two, []float64{1.25, 0.625}},
		{"inside, second", EndInside, false, two, two, []float64{0.625, 0}},
		{"outside, first", EndOutside, true, two, two, []float64{-1.25, -0.625}},
		{"outside, second", EndOutside, false, two, two, []float64{-0.625, 0}},
		{"two plies meet one, first", EndInside, true, two, single, []float64{0.625, 0}},
		{"one ply meets two, second", EndInside, false, single, two, []float64{0.625}},
	}
	for _, c := range tests {
		got := laps(c.kind, c.first, one, c.own, c.other)
		for i, w := range c.want {
			if got[i] != in(w) {
				t.Errorf("%s: ply %d laps %.4f, want %.4f", c.name, i+1, got[i].Inches(), w)
			}
		}
	}
}

// A stem that stops at the ceiling against an equal wall that goes 6 in above
// it: the higher board runs on behind the stem. Oracle: worked by hand.
func TestJunction_lowerStem(t *testing.T) {
	j := inchJob()
	j.Ceilings.Default = in(96)
	j.Types[0].Sides[0].Height = job.HeightRule{Kind: job.AboveCeiling}
	j.Types[0].Sides[1].Height = job.HeightRule{Kind: job.AboveCeiling}
	low := j.Types[0]
	low.Name = "low"
	low.Sides[0].Height, low.Sides[1].Height = job.HeightRule{Kind: job.ToCeiling}, job.HeightRule{Kind: job.ToCeiling}
	j.Types = append(j.Types, low)
	s := mustBuild(t, planIn(wallIn{0, 0, 240, 0, 4.875, ""}, wallIn{80, 0, 80, 96, 4.875, "low"}), j)
	if f := s.face("1-W001-L1"); f.Length != in(240) || len(f.Before) != 1 || len(f.Parts) != 2 {
		t.Errorf("length %v, before %v, %d parts", f.Length.Inches(), f.Before, len(f.Parts))
	}
	for _, q := range s.Junctions {
		if q.Kind == Tee && q.Through != "1-W001" {
			t.Errorf("through %q", q.Through)
		}
	}
}

// Walls in line, 7-1/4 and 4-7/8 in: the thicker one's face ends in a step of
// 1-3/16 in on each side. Oracle: worked by hand.
func TestJunction_inLine(t *testing.T) {
	s := mustBuild(t, planIn(wallIn{0, 0, 100, 0, 7.25, "R"}, wallIn{100, 0, 240, 0, 4.875, ""}), inchJob())
	steps := 0
	for _, f := range s.Runs[0].Faces {
		if f.Side == End && f.Length == in(1.1875) {
			steps++
			if f.Boarded || f.Reason == "" || f.Start != in(100) {
				t.Errorf("%+v", f)
			}
		}
	}
	if steps != 2 {
		t.Errorf("%d steps, want 2", steps)
	}
	for _, q := range s.Junctions {
		if len(q.Runs) == 2 && q.Kind != InLine {
			t.Errorf("junction %v", q.Kind)
		}
	}
}

// A quarter of a circle of radius 100 in: its sides are (100 ± 2-7/16)·π/2 long.
// Oracle: the arc's length.
func TestFace_curved(t *testing.T) {
	p := planIn(wallIn{100, 0, 0, 100, 4.875, ""})
	p.Walls[0].Arc = &plan.Arc{Radius: in(100), Start: 0, Sweep: 90}
	s := mustBuild(t, p, inchJob())
	for id, r := range map[string]float64{"1-W001-L1": 100 + 2.4375, "1-W001-R1": 100 - 2.4375} { // it runs from the lower left end, against the sweep
		if f := s.face(id); math.Abs(f.Length.Inches()-r*math.Pi/2) > 1.0/64 {
			t.Errorf("%s is %v in long, want %v", id, f.Length.Inches(), r*math.Pi/2)
		}
	}
}
