package run

import (
	"math"
	"strings"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/plan"
)

// A slab ends within the thickness of a wall and the next one is 20 in higher: the
// studs end under the lower one, 3/4 in below 100 in, and so does the board of
// both sides. A deck that slopes across the wall is no such step.
// Oracle: worked by hand.
func TestTop_noBoardAboveStuds(t *testing.T) {
	half := func(y0, y1 float64) geom.Poly {
		return geom.Poly{pt(-50, y0), pt(300, y0), pt(300, y1), pt(-50, y1)}
	}
	j := inchJob()
	j.Decks = []job.Deck{{Level: in(120), Outline: half(-50, -1)}, {Level: in(100), Outline: half(-1, 50)}}
	s := mustBuild(t, planIn(wallIn{0, 0, 240, 0, 4.875, ""}), j)
	for _, id := range []string{"1-W001-L1", "1-W001-R1"} {
		f := s.face(id)
		if lo, hi := f.Top.Min(0, f.Length), f.Top.Max(0, f.Length); lo != in(99.25) || hi != in(99.25) {
			t.Errorf("%s: top from %v to %v in, want 99.25", id, lo.Inches(), hi.Inches())
		}
	}
	if n := strings.Count(codes(s), "board-above-studs"); n != 1 {
		t.Errorf("%d sides told of in %s, want the right one", n, codes(s))
	}

	j.Decks = []job.Deck{{Points: []job.Point3{{X: in(0), Y: in(0), Z: in(100)}, {X: in(100), Y: in(0), Z: in(100)}, {X: in(0), Y: in(100), Z: in(190)}}}}
	s = mustBuild(t, planIn(wallIn{0, 0, 240, 0, 4.875, ""}), j)
	l, r := s.face("1-W001-L1"), s.face("1-W001-R1")
	if strings.Contains(codes(s), "board-above-studs") || l.Top.At(0) <= r.Top.At(0) {
		t.Errorf("a slope across the wall is a step: %s, tops %v and %v in", codes(s), l.Top.At(0).Inches(), r.Top.At(0).Inches())
	}
}

// A wall on a kerb has its foot, and its board, there.
// Oracle: worked by hand; the floor gap is the rule's.
func TestRun_base(t *testing.T) {
	p := planIn(wallIn{0, 0, 240, 0, 4.875, ""})
	p.Walls[0].Base = in(6)
	j := inchJob()
	r := mustBuild(t, p, j).Runs[0]
	if r.Base != in(6) || r.Faces[0].Bottom != in(6)+j.Rules.FloorGap {
		t.Errorf("base %v in, bottom of board %v in", r.Base.Inches(), r.Faces[0].Bottom.Inches())
	}
}

// The hole for a pipe of 6 in has the clearance of a cut-out all round and stays
// round. Oracle: worked by hand.
func TestOpening_shapeGrows(t *testing.T) {
	p := planIn(wallIn{0, 0, 240, 0, 4.875, ""})
	var circle geom.Poly
	const n = 36
	for i := range n {
		a := 2 * math.Pi * float64(i) / n
		circle = append(circle, pt(100+3*math.Cos(a), 50+3*math.Sin(a)))
	}
	p.Openings = []plan.Opening{{At: in(100), Width: in(6), Sill: in(47), Head: in(53), Kind: plan.Penetration, Shape: circle}}
	j := inchJob()
	f := mustBuild(t, p, j).face("1-W001-R1")
	want := 3 + j.Rules.Cutout.Inches()
	if len(f.Holes) != 1 || len(f.Holes[0].Shape) != n {
		t.Fatalf("holes %v", f.Holes)
	}
	for _, q := range f.Holes[0].Shape {
		if d := math.Hypot(q.X.Inches()-100-f.U(0).Inches(), q.Y.Inches()-50); math.Abs(d-want) > 1e-3 {
			t.Errorf("a corner %v in from the middle, want %v", d, want)
		}
	}
}

// Two spaces of a model in one room of four walls: each side of a wall has the
// name of the space before it, and all of them share their offcuts.
// Oracle: worked by hand.
func TestRooms_ofModel(t *testing.T) {
	p := planIn(wallIn{0, 0, 240, 0, 4, ""}, wallIn{240, 0, 240, 240, 4, ""}, wallIn{240, 240, 0, 240, 4, ""}, wallIn{0, 240, 0, 0, 4, ""})
	box := func(x0, y0, x1, y1 float64) geom.Poly {
		return geom.Poly{pt(x0, y0), pt(x1, y0), pt(x1, y1), pt(x0, y1)}
	}
	p.Rooms = []plan.Room{
		{Storey: "1", Name: "NORTH", Outline: box(2, 120, 238, 238), At: pt(100, 200)},
		{Storey: "1", Name: "SOUTH", Outline: box(2, 2, 238, 120), At: pt(100, 60)},
	}
	s := mustBuild(t, p, inchJob())
	names, spaces := map[string]int{}, map[string]bool{}
	for _, r := range s.Runs {
		for _, f := range r.Faces {
			if f.Room == "" {
				continue
			}
			mid := (r.Axis[0].Y + r.Axis[1].Y) / 2
			if want := map[bool]string{true: "NORTH", false: "SOUTH"}[mid > in(120)]; mid != in(120) && f.Room != want {
				t.Errorf("%s faces %s, want %s", f.ID, f.Room, want)
			}
			names[f.Room]++
			spaces[f.Space] = true
		}
	}
	if len(names) != 2 || len(spaces) != 1 || len(s.Rooms) != 2 {
		t.Errorf("rooms %v, spaces %v, %d in all", names, spaces, len(s.Rooms))
	}
}

// Where no wall can be taken off, the reasons are counted.
func TestBuild_whyNothing(t *testing.T) {
	p := planIn(wallIn{0, 0, 240, 0, 4, ""}, wallIn{0, 100, 240, 100, 4, ""}, wallIn{0, 200, 240, 200, 4, "other"})
	p.Walls[0].Status, p.Walls[1].Status = plan.Existing, plan.Existing
	_, err := Build(p, inchJob())
	const want = "none of the 3 walls found can be taken off: existing wall: not boarded (2), no wall type of the job fits thickness 4.000 in, tag other (1); there is nothing new to board; if they are new, correct their status in the drawing"
	if err == nil || err.Error() != want {
		t.Errorf("error %v\nwant  %s", err, want)
	}
}
