package run

import (
	"slices"
	"strings"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// twoStoreys: three walls on storey 1, drawn in no order, one on storey 2.
func twoStoreys() *plan.Plan {
	p := planIn(wallIn{0, 200, 100, 200, 4.875, ""}, wallIn{200, 0, 300, 0, 4.875, ""}, wallIn{0, 0, 100, 0, 4.875, ""}, wallIn{0, 0, 100, 0, 4.875, ""})
	p.Storeys = append(p.Storeys, plan.Storey{Name: "2"})
	p.Walls[3].Storey = "2"
	for i := range p.Walls {
		p.Walls[i].Sources = []plan.Source{{File: "a.dxf", Ref: string(rune('A' + i))}}
	}
	return p
}

// placed lists mark and first point of every run.
func placed(s *Set) map[string]geom.Pt {
	out := map[string]geom.Pt{}
	for _, r := range s.Runs {
		out[r.ID] = r.Axis[0]
	}
	return out
}

func TestMarks_spaceOrder(t *testing.T) {
	got := placed(mustBuild(t, twoStoreys(), inchJob()))
	for id, at := range map[string]geom.Pt{"1-W001": pt(0, 0), "1-W002": pt(200, 0), "1-W003": pt(0, 200), "2-W001": pt(0, 0)} {
		if got[id] != at {
			t.Errorf("%s begins at %v, want %v", id, got[id], at)
		}
	}
}

// oldRuns is what an earlier takeoff's file says of a set.
func oldRuns(s *Set) []OldRun {
	var out []OldRun
	for _, r := range s.Runs {
		o := OldRun{ID: r.ID, Storey: r.Storey, Type: r.Type, Axis: r.Axis, Was: r.Was}
		for _, q := range r.Sources {
			o.Refs = append(o.Refs, q.Ref)
		}
		out = append(out, o)
	}
	return out
}

func TestMarks_kept(t *testing.T) {
	first := mustBuild(t, twoStoreys(), inchJob())
	old := oldRuns(first)
	p := twoStoreys()
	p.Walls = slices.Delete(p.Walls, 1, 2)          // 1-W002 is gone
	p.Walls[0].Axis[0].Y += 20 * measure.Millimetre // 1-W003, drawn 20 mm off and anew:
	p.Walls[0].Axis[1].Y += 20 * measure.Millimetre // …
	p.Walls[0].Sources[0].Ref = "NEW"               // … no handle tells
	p.Walls = append(p.Walls, plan.Wall{Storey: "1", Tag: "P", Thickness: in(4.875), Axis: [2]geom.Pt{pt(0, -100), pt(100, -100)}})
	s, err := BuildFrom(p, inchJob(), old)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, r := range s.Runs {
		ids = append(ids, r.ID)
	}
	// The new wall is the lowest, and would be the first; it goes on after 1-W003.
	if got := strings.Join(ids, " "); got != "1-W001 1-W003 1-W004 2-W001" {
		t.Errorf("marks %s", got)
	}
	if at := placed(s)["1-W004"]; at != pt(0, -100) {
		t.Errorf("1-W004 begins at %v", at)
	}
	if a, b := s.Runs[0].Fingerprint, first.Runs[0].Fingerprint; a != b {
		t.Errorf("the fingerprint of an unchanged wall went from %s to %s", b, a)
	}
	if a, b := s.Runs[1].Fingerprint, first.Runs[2].Fingerprint; a == b {
		t.Error("the fingerprint of a moved wall stayed")
	}
}

func TestMarks_notKept(t *testing.T) {
	old := oldRuns(mustBuild(t, twoStoreys(), inchJob()))
	for name, change := range map[string]func(w *plan.Wall){
		"30 mm off":         func(w *plan.Wall) { w.Axis[0].Y += 30 * measure.Millimetre; w.Axis[1].Y += 30 * measure.Millimetre },
		"of another type":   func(w *plan.Wall) { w.Tag = "R" },
		"a third overlaps":  func(w *plan.Wall) { w.Axis[0].X, w.Axis[1].X = in(67), in(167) },
		"on another storey": func(w *plan.Wall) { w.Storey = "2"; w.Axis[0].Y, w.Axis[1].Y = in(500), in(500) },
	} {
		t.Run(name, func(t *testing.T) {
			p := twoStoreys()
			for i := range p.Walls {
				p.Walls[i].Sources = nil
			}
			change(&p.Walls[0])
			s, err := BuildFrom(p, inchJob(), old)
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range s.Runs {
				if r.ID == "1-W003" {
					t.Errorf("the mark was kept")
				}
			}
		})
	}
}

// A wall split in two keeps its mark on the longer part; the other says what it
// was part of.
func TestMarks_was(t *testing.T) {
	p := planIn(wallIn{0, 0, 200, 0, 4.875, ""})
	old := oldRuns(mustBuild(t, p, inchJob()))
	p = planIn(wallIn{0, 0, 120, 0, 4.875, ""}, wallIn{150, 0, 200, 0, 4.875, ""})
	s, err := BuildFrom(p, inchJob(), old)
	if err != nil {
		t.Fatal(err)
	}
	if s.Runs[0].ID != "1-W001" || s.Runs[1].ID != "1-W002" {
		t.Fatalf("marks %s, %s", s.Runs[0].ID, s.Runs[1].ID)
	}
	if s.Runs[0].Length != in(120) {
		t.Error("the mark is on the shorter part")
	}
}

func TestTypes_leftOut(t *testing.T) {
	tests := []struct {
		name   string
		change func(w *plan.Wall)
		code   string
		sev    plan.Severity
	}{
		{"no type fits", func(w *plan.Wall) { w.Tag = "Z" }, "wall-no-type", plan.Person},
		{"existing", func(w *plan.Wall) { w.Status = plan.Existing }, "wall-existing", plan.Note},
		{"demolished", func(w *plan.Wall) { w.Status = plan.Demolish }, "wall-demolished", plan.Note},
		{"glazed, by thickness only", func(w *plan.Wall) { w.Kind, w.Tag, w.Thickness = plan.Glazed, "", in(6) }, "wall-left-out", plan.Note},
		{"the type is left", func(w *plan.Wall) { w.Tag = "L" }, "wall-left-out", plan.Note},
		{"far away", func(w *plan.Wall) { w.Axis[0].X = 1 << 60 }, "wall-out-of-range", plan.Person},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			p := planIn(wallIn{0, 0, 100, 0, 4.875, ""}, wallIn{0, 500, 100, 500, 4.875, ""})
			c.change(&p.Walls[1])
			j := inchJob()
			j.Types = append(j.Types, job.WallType{Name: "L", Leave: "by others"},
				job.WallType{Name: "six", Match: []job.Match{{Thickness: in(6)}}})
			s := mustBuild(t, p, j)
			if len(s.Runs) != 1 || len(s.Left) != 1 || s.Left[0].Wall != 1 || s.Left[0].Code != c.code {
				t.Fatalf("%d runs, left %+v", len(s.Runs), s.Left)
			}
			if e := s.Exceptions[0]; e.Code != c.code || e.Severity != c.sev || e.Source.Line != 2 {
				t.Errorf("%v", e)
			}
		})
	}
}

func TestTypes_match(t *testing.T) {
	w := plan.Wall{Tag: "P2", TypeName: "Basic 125", Layer: "PLAN$0$A-WALL-FIRE", Thickness: measure.FromMM(126)}
	types := []job.WallType{
		{Name: "thick", Match: []job.Match{{Thickness: measure.FromMM(124)}}},
		{Name: "layer", Match: []job.Match{{Layer: "a-wall-f*"}}},
		{Name: "both", Match: []job.Match{{Layer: "A-WALL-FIRE", Thickness: measure.FromMM(125)}}},
		{Name: "ifc", Match: []job.Match{{TypeName: "basic*"}}},
		{Name: "tag", Match: []job.Match{{Tag: "P?"}}},
		{Name: "far", Match: []job.Match{{Tag: "P2", Thickness: measure.FromMM(130)}}},
	}
	// Of those that hold the strictest counts; take the winner away and the next
	// one wins.
	for _, want := range []string{"tag", "ifc", "both", "layer", "thick"} {
		v := judge(&w, &job.Job{Types: types})
		if v.make == nil || v.make.Name != want {
			t.Fatalf("type %+v, want %s", v.make, want)
		}
		types = slices.DeleteFunc(slices.Clone(types), func(t job.WallType) bool { return t.Name == want })
	}
	if v := judge(&w, &job.Job{Types: types}); v.code != "wall-no-type" || !strings.Contains(v.reason, "tag P2") {
		t.Errorf("%+v", v)
	}
}

func TestBuild_nothing(t *testing.T) {
	for name, p := range map[string]*plan.Plan{"no walls": {}, "no type": planIn(wallIn{0, 0, 9, 0, 4, "Z"})} {
		if _, err := Build(p, inchJob()); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// Oracle: worked by hand: drawn as studs, the finished faces lie one board
// outside; two plies on the left move the middle to the left by half a ply.
func TestDrawn_studs(t *testing.T) {
	j := inchJob()
	j.Drawings = []job.Drawing{{File: "a.dxf", Drawn: job.DrawnStud}}
	j.Types[0].Sides[0].Plies = []string{"5/8", "5/8"}
	s := mustBuild(t, planIn(wallIn{0, 0, 100, 0, 3.625, ""}), j)
	r := s.Runs[0]
	if r.Thickness != in(3.625+3*0.625) || r.Axis[0] != pt(0, 0.3125) {
		t.Errorf("thickness %v, axis at %v", r.Thickness.Inches(), r.Axis[0].Y.Inches())
	}
}

// A stem drawn into a column ends at its face.
func TestObstacle_column(t *testing.T) {
	p := planIn(wallIn{0, 0, 100, 0, 4.875, ""}, wallIn{100, -50, 100, 50, 4.875, ""})
	p.Obstacles = []plan.Obstacle{{Storey: "1", Kind: "column", Outline: geom.Poly{pt(-6, -6), pt(6, -6), pt(6, 6), pt(-6, 6)}}}
	s := mustBuild(t, p, inchJob())
	for _, r := range s.Runs {
		for _, f := range r.Faces {
			if r.Length == in(94) && f.Side == Left && r.Axis[0] == pt(6, 0) {
				if f.Start != 0 || f.Length != in(94-2.4375) || f.Ends[1].Kind != EndStructure {
					t.Errorf("begins at %v, ends %+v", f.Start.Inches(), f.Ends)
				}
				return
			}
		}
	}
	t.Error("no such face")
}

func TestEdits(t *testing.T) {
	p := planIn(wallIn{0, 0, 100, 0, 4.875, ""}, wallIn{0, 500, 100, 500, 4.875, ""})
	j := inchJob()
	j.Types[0].Sides[1].Plies = nil
	j.Walls = map[string]job.WallEdit{
		"1-W001": {Flip: true, Start: "right", Height: [2]*job.HeightRule{1: {Kind: job.FixedHeight, Value: in(90)}}},
		"1-W002": {Leave: "by the owner"},
		"1-W009": {Line: 12},
	}
	s := mustBuild(t, p, j)
	if len(s.Runs) != 1 || s.Runs[0].HangFrom != "right" || len(s.Left) != 1 {
		t.Fatalf("%d runs, left %v", len(s.Runs), s.Left)
	}
	if f := s.face("1-W001-L1"); f.Boarded || f.Reason == "" {
		t.Errorf("left %+v", f)
	}
	if f := s.face("1-W001-R1"); !f.Boarded || f.Top.At(0) != in(90) {
		t.Errorf("right %+v", f)
	}
	if !strings.Contains(codes(s), "wall-edit-unknown") {
		t.Errorf("exceptions %s", codes(s))
	}
}
