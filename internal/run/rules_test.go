package run

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// TestFrames: the hole in the board and the rough opening of a 36 x 84 in door
// by frame and by what its size is. Oracle: hand sums from the sources of
// frame.go and job.Allowance: a face of 2 in, board 1/2 in into the throat,
// 1/4 in of play; leaf and welded + 4-1/4 by + 2-1/4 rough.
func TestFrames(t *testing.T) {
	for _, c := range []struct {
		name                      string
		f                         job.Frame
		kind                      plan.OpeningKind
		width, sill, head, rw, rh float64 // the opening's middle is at 100 in
	}{
		{"welded, leaf", job.Frame{Kind: job.Welded, Basis: "leaf"}, plan.Door, 36 + 4 - 1, 0, 84 + 2 - 0.5, 40.25, 86.25},
		{"welded, leaf, a wider face", job.Frame{Kind: job.Welded, Basis: "leaf", FaceWidth: in(3)}, plan.Door, 36 + 6 - 1, 0, 84 + 3 - 0.5, 40.25, 86.25},
		{"welded, frame", job.Frame{Kind: job.Welded, Basis: "frame"}, plan.Door, 35, 0, 83.5, 36.25, 84.25},
		{"welded, rough", job.Frame{Kind: job.Welded, Basis: "rough"}, plan.Door, 34.75, 0, 83.25, 36, 84},
		{"welded, drawn", job.Frame{Kind: job.Welded, Basis: "drawn"}, plan.Door, 36, 0, 84, 36, 84},
		{"welded window", job.Frame{Kind: job.Welded, Basis: "drawn", Sill: in(30)}, plan.Window, 36, 30.5, 114, 36, 114},
		{"knock-down, leaf", job.Frame{Basis: "leaf"}, plan.Door, 38, 0, 85.25, 38, 85.25},
		{"slip-on, leaf", job.Frame{Kind: job.SlipOn, Basis: "leaf"}, plan.Door, 37.25, 0, 84.625, 37.25, 84.625},
		{"own allowance", job.Frame{Kind: job.SlipOn, Basis: "leaf", AddWidth: in(1), AddHeight: in(3)}, plan.Door, 37, 0, 87, 37, 87},
		{"own width alone", job.Frame{Kind: job.SlipOn, Basis: "leaf", AddWidth: in(1)}, plan.Door, 37, 0, 84, 37, 84},
		{"none, a door", job.Frame{Kind: job.NoFrame, Basis: "drawn"}, plan.Door, 37.25, 0, 84.625, 37.25, 84.625},
		{"none, a window", job.Frame{Kind: job.NoFrame, Basis: "drawn", Sill: in(30)}, plan.Window, 37.25, 29.375, 114.625, 37.25, 114.625},
	} {
		p := planIn(wallIn{0, 0, 200, 0, 4.875, ""})
		p.Openings = []plan.Opening{{At: in(100), Width: in(36), Head: in(84), Kind: c.kind}}
		j := inchJob()
		j.Frames = []job.Frame{c.f}
		q := mustBuild(t, p, j).Runs[0].Openings[0]
		got := [5]Length{q.Width, q.Sill, q.Head, q.RoughWidth, q.RoughHead}
		if want := [5]Length{in(c.width), in(c.sill), in(c.head), in(c.rw), in(c.rh)}; got != want || q.Centre != in(100) {
			t.Errorf("%s: %v in, want %v", c.name, inchesOf(got[:]), inchesOf(want[:]))
		}
	}
}

func inchesOf(ls []Length) (out []float64) {
	for _, l := range ls {
		out = append(out, l.Inches())
	}
	return out
}

// TestFrameOf: a frame that names the mark goes before one that names the use;
// one that names both before either; the first of equals. Oracle: the rule.
func TestFrameOf(t *testing.T) {
	use, mark, both, all := job.Frame{Name: "use", For: "door"}, job.Frame{Name: "mark", Mark: "101"}, job.Frame{Name: "both", Mark: "101", For: "door"}, job.Frame{Name: "all"}
	other, window := job.Frame{Name: "other", Mark: "102"}, job.Frame{Name: "window", For: "window"}
	second := job.Frame{Name: "second", For: "door"}
	for _, c := range []struct {
		frames []job.Frame
		want   string
	}{
		{[]job.Frame{all, use, mark, both}, "both"}, {[]job.Frame{both, mark, use, all}, "both"}, {[]job.Frame{use, mark}, "mark"}, {[]job.Frame{mark, use}, "mark"},
		{[]job.Frame{all, use}, "use"}, {[]job.Frame{use, second}, "use"}, {[]job.Frame{other, window, all}, "all"}, {[]job.Frame{other, window}, ""},
	} {
		j := inchJob()
		j.Frames = c.frames
		for _, o := range []plan.Opening{{Mark: "101"}, {Type: "101"}, {Frame: "101"}} {
			o.At, o.Width, o.Head, o.Kind = in(100), in(36), in(84), plan.Door
			p := planIn(wallIn{0, 0, 200, 0, 4.875, ""})
			p.Openings = []plan.Opening{o}
			s := mustBuild(t, p, j)
			if got := s.Runs[0].Openings[0].Frame; got != c.want || strings.Contains(codes(s), "frame-assumed") != (c.want == "") {
				t.Errorf("%d frames, %+v: %q, want %q", len(c.frames), o, got, c.want)
			}
		}
	}
}

// TestSizes: oracle: the rule: the leaf where the size is the leaf's, else as
// drawn, else the frame's own; a pair told by one leaf is twice as wide; a head
// nobody gave is 7 ft.
func TestSizes(t *testing.T) {
	leaf := [2]Length{in(36), in(84)}
	for _, c := range []struct {
		name  string
		o     plan.Opening
		f     job.Frame
		w, h  float64
		by    string
		known bool
	}{
		{"leaf", plan.Opening{Width: in(40), Head: in(86), Leaf: leaf}, job.Frame{Basis: "leaf"}, 36, 84, "", true},
		{"leaf not told", plan.Opening{Width: in(40), Head: in(86)}, job.Frame{Basis: "leaf"}, 40, 86, "", true},
		{"drawn", plan.Opening{Width: in(40), Head: in(86), Leaf: leaf}, job.Frame{Basis: "drawn"}, 40, 86, "", true},
		{"nothing drawn", plan.Opening{Leaf: leaf}, job.Frame{Basis: "drawn"}, 36, 84, "", true},
		{"a pair by one leaf", plan.Opening{Width: in(76), Head: in(86), Leaf: leaf, Leaves: 2}, job.Frame{Basis: "leaf"}, 72, 84, "", true},
		{"a pair by both", plan.Opening{Width: in(40), Head: in(86), Leaf: leaf, Leaves: 2}, job.Frame{Basis: "leaf"}, 36, 84, "", true},
		{"the frame's own", plan.Opening{}, job.Frame{Basis: "drawn", Width: in(30), Height: in(80)}, 30, 80, "job", true},
		{"head unknown", plan.Opening{Width: in(36)}, job.Frame{Basis: "drawn"}, 36, 84, "assumed", false},
		{"head assumed by the frame", plan.Opening{Width: in(36)}, job.Frame{Basis: "drawn", Height: in(80), Assumed: true}, 36, 80, "assumed", true},
	} {
		p := planIn(wallIn{0, 0, 200, 0, 4.875, ""})
		c.o.At, c.o.Kind = in(100), plan.Door
		p.Openings = []plan.Opening{c.o}
		j := inchJob()
		j.Frames = []job.Frame{c.f}
		s := mustBuild(t, p, j)
		q := s.Runs[0].Openings[0]
		if q.Nominal != [2]Length{in(c.w), in(c.h)} || q.HeadBy != c.by || strings.Contains(codes(s), "head-unknown") == c.known {
			t.Errorf("%s: %v by %q, %s", c.name, inchesOf(q.Nominal[:]), q.HeadBy, codes(s))
		}
		if assumed := slices.Contains(s.Runs[0].Assumed, "head of an opening"); assumed != (c.by == "assumed") {
			t.Errorf("%s: assumed %v", c.name, s.Runs[0].Assumed)
		}
	}
	if defaultHead(measure.Metric) != 2100*measure.Millimetre {
		t.Error("a door's height in metric")
	}
}

// TestLines: oracle: Pythagoras and the 3-4-5 triangle.
func TestLines(t *testing.T) {
	l, length := lineThrough(pt(10, 20), pt(40, 60))
	if length != in(50) || (l.along(pt(40, 60))-in(50)).Abs() > 1 || (l.left(pt(10-4, 20+3))-in(5)).Abs() > 1 || (l.along(pt(10-4, 20+3))).Abs() > 1 {
		t.Errorf("%v long %v", l, length.Inches())
	}
	if got := l.at(in(25), in(5)); (got.X-in(10+15-4)).Abs() > 1 || (got.Y-in(20+20+3)).Abs() > 1 {
		t.Errorf("25 along, 5 left: %v, %v", got.X.Inches(), got.Y.Inches())
	}
	for _, c := range []struct{ dx, dy, want Length }{{3, 4, 5}, {-3, 4, 5}, {0, -7, 7}, {-7, 0, 7}, {1, 1, 1}, {2, 2, 3}, {0, 0, 0}} {
		if got := hypot(c.dx, c.dy); got != c.want {
			t.Errorf("hypot(%d, %d) = %d, want %d", c.dx, c.dy, got, c.want)
		}
	}
	// y = 0 moved 2 to its left meets x = 30 moved 3 to its left, which is at 27.
	x, _ := lineThrough(pt(0, 0), pt(1, 0))
	y, _ := lineThrough(pt(30, 0), pt(30, 1))
	if s, ok := x.meet(in(2), y, in(3)); !ok || s != in(27) {
		t.Errorf("meets at %v, %v", s.Inches(), ok)
	}
	if s, ok := y.meet(in(2), x, in(3)); !ok || s != in(3) {
		t.Errorf("meets at %v, %v", s.Inches(), ok)
	}
	diagonal, _ := lineThrough(pt(0, 0), pt(3, 4)) // moved 5 to its left it crosses y = 0 at −5/sin = −6.25
	if s, ok := x.meet(0, diagonal, in(5)); !ok || (s+in(6.25)).Abs() > 1 {
		t.Errorf("meets at %v, %v", s.Inches(), ok)
	}
	if _, ok := x.meet(0, x, in(3)); ok {
		t.Error("parallels meet")
	}
	round := []dir{{one, 0}, {one / 2, one / 2}, {0, one}, {-one, 0}, {-one / 2, -one / 2}, {0, -one}, {one / 2, -one / 2}}
	for i, a := range round {
		for k, b := range round {
			if a.before(b) != (i < k) {
				t.Errorf("%v before %v: %v", a, b, a.before(b))
			}
		}
	}
	for _, c := range []struct{ l, want Length }{{0, 0}, {7, 0}, {45, 0}, {46, 100}, {50, 100}, {149, 200}, {100, 100}, {-50, 0}, {-60, -100}} {
		if got := toStep(c.l, 100); got != c.want { // 50 less the noise of 4
			t.Errorf("%d on steps of 100: %d, want %d", c.l, got, c.want)
		}
	}
}

// TestPlane: oracle: planes written out: z = 100 + x/10 − y/5; points in one
// line rise along it alone; the least squares of 0, 3 at one place are 1.5.
func TestPlane(t *testing.T) {
	p3 := func(x, y, z float64) job.Point3 { return job.Point3{X: in(x), Y: in(y), Z: in(z)} }
	for _, c := range []struct {
		name string
		pts  []job.Point3
		x, y float64
		want float64
	}{
		{"three points", []job.Point3{p3(0, 0, 100), p3(100, 0, 110), p3(0, 100, 80)}, 50, 50, 95},
		{"and a fourth", []job.Point3{p3(0, 0, 100), p3(100, 0, 110), p3(0, 100, 80), p3(100, 100, 90)}, -100, 200, 50},
		{"in one line", []job.Point3{p3(0, 0, 100), p3(100, 0, 110)}, 50, 700, 105},
		{"in an oblique line", []job.Point3{p3(0, 0, 100), p3(30, 40, 110)}, 30 - 40, 40 + 30, 110},
		{"one point", []job.Point3{p3(5, 5, 100)}, 50, 700, 100},
		{"one place twice", []job.Point3{p3(5, 5, 0), p3(5, 5, 3)}, 50, 700, 1.5},
	} {
		f, ok := fit(c.pts)
		if got := f.at(pt(c.x, c.y)); !ok || (got-in(c.want)).Abs() > 1 {
			t.Errorf("%s: %v in, want %v", c.name, got.Inches(), c.want)
		}
	}
	if _, ok := fit(nil); ok {
		t.Error("a plane through nothing")
	}
	if got := level(in(7)).at(pt(3, 4)); got != in(7) {
		t.Errorf("level: %v", got)
	}
}

// TestDeck_residual: a deck of four points is told; more than 1/4 in off its
// plane it is a warning, three points are met exactly. Oracle: by hand: corners
// e up and down in turn are each e/2 off their mean.
func TestDeck_residual(t *testing.T) {
	for _, c := range []struct {
		rise     float64
		points   int
		told     bool
		severity plan.Severity
	}{{0.5, 4, true, plan.Note}, {0.52, 4, true, plan.Warning}, {5, 3, false, 0}} {
		j := inchJob()
		all := []job.Point3{{Z: in(120)}, {X: in(100), Z: in(120 + c.rise)}, {X: in(100), Y: in(100), Z: in(120)}, {Y: in(100), Z: in(120 + c.rise)}}
		j.Decks = []job.Deck{{Points: all[:c.points]}}
		s := mustBuild(t, planIn(wallIn{0, 50, 100, 50, 4.875, ""}), j)
		told := false
		for _, e := range s.Exceptions {
			if e.Code == "deck-fitted" {
				told = true
				if e.Severity != c.severity {
					t.Errorf("%v in off: %v", c.rise/2, e.Severity)
				}
			}
		}
		if told != c.told {
			t.Errorf("%d points: told %v", c.points, told)
		}
	}
}

// TestLower: oracle: by hand: a roof from 100 to 140 over 80 in cut at 120 is
// level from the middle on; breaks are where it crosses.
func TestLower(t *testing.T) {
	roof := geom.Profile{pt(0, 100), pt(80, 140)}
	for _, c := range []struct {
		h    float64
		want geom.Profile
	}{
		{120, geom.Profile{pt(0, 100), pt(40, 120), pt(80, 120)}}, {140, roof}, {150, roof}, {100, geom.Profile{pt(0, 100), pt(80, 100)}}, {90, geom.Profile{pt(0, 90), pt(80, 90)}},
	} {
		got := lower(roof, in(c.h), in(80))
		for u := 0.0; u <= 80; u += 5 {
			if want := min(roof.At(in(u)), in(c.h)); got.At(in(u)) != want {
				t.Errorf("at %v under %v: %v, want %v", u, c.h, got.At(in(u)).Inches(), want.Inches())
			}
		}
		if got[len(got)-1].X != in(80) || len(got) > len(c.want)+1 {
			t.Errorf("under %v: %v", c.h, got)
		}
	}
	if got := tidy(geom.Profile{pt(0, 9), pt(3, 9), pt(5, 9), pt(9, 9), pt(12, 5), pt(15, 5)}); !reflect.DeepEqual(got, geom.Profile{pt(0, 9), pt(9, 9), pt(12, 5), pt(15, 5)}) {
		t.Errorf("tidy: %v", got)
	}
	level := geom.Level(0, in(80), in(110))
	for _, c := range []struct {
		above float64
		want  []Length
	}{{0, []Length{0, in(20), in(80)}}, {10, []Length{0, in(40), in(80)}}, {-10, []Length{0, in(80)}}, {30, []Length{0, in(80)}}} {
		if got := breaks(roof, level, in(c.above), in(80)); !reflect.DeepEqual(got, c.want) {
			t.Errorf("breaks %v above: %v", c.above, inchesOf(got))
		}
	}
	if got := breaks(geom.Profile{pt(0, 100), pt(30, 105), pt(80, 106)}, level, 0, in(80)); !reflect.DeepEqual(got, []Length{0, in(30), in(80)}) {
		t.Errorf("a vertex: %v", inchesOf(got))
	}
}

// TestCeilings: by room name or number in any case, then the model's room, then
// the storey, then the job's. Oracle: the order as documented; the board stops
// CeilingGap under it.
func TestCeilings(t *testing.T) {
	if m := map[string]Length{"Lab": 3, "": 7}; named(m, "LAB") != 3 || named(m, "Lab") != 3 || named(m, "lob") != 0 || named(m, "") != 7 {
		t.Error("names in any case")
	}
	model := plan.Deck{Plane: [3]plan.Point3{{Z: in(102)}, {X: in(1), Z: in(102)}, {Y: in(1), Z: in(102)}}}
	aside := plan.Deck{Outline: geom.Poly{pt(900, 0), pt(950, 0), pt(950, 50)}, Plane: [3]plan.Point3{{Z: in(50)}, {X: in(1), Z: in(50)}, {Y: in(1), Z: in(50)}}}
	for _, c := range []struct {
		name string
		c    job.Ceilings
		over []plan.Deck
		want float64
	}{
		{"the job's", job.Ceilings{Default: in(108)}, nil, 108}, {"the storey's", job.Ceilings{Default: in(108), ByStorey: map[string]Length{"1": in(96)}}, nil, 96},
		{"another storey's", job.Ceilings{Default: in(108), ByStorey: map[string]Length{"2": in(96)}}, nil, 108},
		{"the model's", job.Ceilings{Default: in(108), ByStorey: map[string]Length{"1": in(96)}}, []plan.Deck{aside, model}, 102},
		{"the model's elsewhere", job.Ceilings{Default: in(108)}, []plan.Deck{aside}, 108},
	} {
		j := inchJob()
		j.Ceilings = c.c
		j.Types[0].Sides[1].Height = job.HeightRule{Kind: job.ToCeiling}
		p := planIn(wallIn{0, 0, 240, 0, 4.875, ""})
		p.Ceilings = c.over
		f := mustBuild(t, p, j).face("1-W001-R1")
		if f.Ceiling != in(c.want) || f.Top.At(0) != in(c.want)-j.Rules.CeilingGap {
			t.Errorf("%s: %v, top %v in, want %v", c.name, f.Ceiling.Inches(), f.Top.At(0).Inches(), c.want)
		}
	}
}

// TestOutranks: oracle: the order as documented: rated, to the deck, rank,
// thickness beyond the tolerance.
func TestOutranks(t *testing.T) {
	side := func(k job.HeightKind) job.Side {
		return job.Side{Plies: []string{"5/8"}, Height: job.HeightRule{Kind: k}}
	}
	mk := func(rating string, h job.HeightKind, rank int, thick Length) *band {
		return &band{thickness: thick, make: &job.WallType{Rating: rating, Rank: rank, Sides: [2]job.Side{side(job.ToCeiling), side(h)}}}
	}
	for i, c := range []struct{ a, b *band }{
		{mk("1 h", job.ToCeiling, 0, in(4)), mk("", job.ToDeck, 9, in(9))}, {mk("", job.ToDeck, 0, in(4)), mk("", job.ToCeiling, 9, in(9))},
		{mk("", job.ToDeck, 1, in(4)), mk("", job.ToDeck, 0, in(9))}, {mk("", job.ToDeck, 1, in(4)+thicknessTol+1), mk("", job.ToDeck, 1, in(4))},
	} {
		if outranks(c.a, c.b) <= 0 || outranks(c.b, c.a) >= 0 {
			t.Errorf("pair %d: %d and %d", i, outranks(c.a, c.b), outranks(c.b, c.a))
		}
	}
	if a, b := mk("", job.ToDeck, 1, in(4)), mk("", job.ToDeck, 1, in(4)+thicknessTol); outranks(a, b) != 0 {
		t.Error("within the tolerance they are equals")
	}
	listed := mk("", job.ToCeiling, 0, in(4))
	listed.make.Listing = "U999"
	if outranks(listed, mk("", job.ToDeck, 9, in(9))) <= 0 {
		t.Error("a listed make-up is rated")
	}
}

// TestReach: what a rule tells of a height, for comparing. Oracle: the rule.
func TestReach(t *testing.T) {
	b := &band{make: &job.WallType{Sides: [2]job.Side{{}, {Plies: []string{"5/8"}}}}}
	at := func(h job.HeightRule) Length {
		b.make.Sides[1].Height = h
		return b.reach(1)
	}
	order := []Length{b.reach(0), at(job.HeightRule{Kind: job.FixedHeight, Value: in(42)}), at(job.HeightRule{Kind: job.ToCeiling}), at(job.HeightRule{Kind: job.AboveCeiling}),
		at(job.HeightRule{Kind: job.AboveCeiling, Value: in(6)}), at(job.HeightRule{Kind: job.ToDeck})}
	if order[0] != 0 || order[1] != in(42) || order[2] != in(108) || order[3] != in(109) || order[4] != in(114) || order[5] < in(1000) {
		t.Errorf("%v", inchesOf(order))
	}
	b.flip = true
	if b.reach(0) != order[5] || b.reach(1) != 0 {
		t.Error("flipped")
	}
}

// TestMarkNames: oracle: by hand.
func TestMarkNames(t *testing.T) {
	for name, want := range map[string]int{"Level 2": 2, "12": 12, "ground": 0, "": 0, "3rd floor, 4": 3, "L123456": 1234} {
		if got := numberIn(name); got != want {
			t.Errorf("number in %q: %d, want %d", name, got, want)
		}
	}
	order := []string{"1-W002", "1-W010", "2-W001", "10-W001"}
	for i := 1; i < len(order); i++ {
		if compareMarks(order[i-1], order[i]) >= 0 || compareMarks(order[i], order[i-1]) <= 0 {
			t.Errorf("%s stands before %s", order[i-1], order[i])
		}
	}
	if compareMarks("a", "b") >= 0 || compareMarks("1-W002", "1-W002") != 0 || compareMarks("1-W010", "1-Wx") >= 0 {
		t.Error("what is no mark is compared as text")
	}
	last := lastMarks([]OldRun{{ID: "1-W004", Was: []string{"1-W009", "2-W003"}}, {ID: "1-W007"}, {ID: "no mark"}})
	if !reflect.DeepEqual(last, map[int]int{1: 9, 2: 3}) {
		t.Errorf("last %v", last)
	}
	for _, c := range []struct {
		names []string
		want  string
	}{
		{[]string{"Level 3", "Level 5"}, "3-W001 5-W001"}, {[]string{"Level 5", "Level 3"}, "3-W001 5-W001"}, {[]string{"ground", "upper"}, "1-W001 2-W001"},
		{[]string{"Level 4 east", "Level 4 west"}, "1-W001 2-W001"}, {[]string{"Level 0", "Level 7"}, "1-W001 2-W001"},
	} {
		p := planIn(wallIn{0, 0, 100, 0, 4.875, ""}, wallIn{0, 0, 100, 0, 4.875, ""})
		p.Storeys, p.Drawings = nil, nil
		for i, n := range c.names {
			p.Storeys = append(p.Storeys, plan.Storey{Name: n})
			p.Walls[i].Storey = n
		}
		var ids []string
		for _, r := range mustBuild(t, p, inchJob()).Runs {
			ids = append(ids, r.ID)
		}
		if got := strings.Join(ids, " "); got != c.want {
			t.Errorf("%v: %s, want %s", c.names, got, c.want)
		}
	}
}

// TestLaps_sums: plies go up in turn. Oracle: the table at the head of lap.go
// with plies of 1/2 and 5/8 in against 3/8 and 1 in.
func TestLaps_sums(t *testing.T) {
	own, other := []Length{in(0.5), in(0.625)}, []Length{in(0.375), in(1)}
	for _, c := range []struct {
		kind  EndKind
		first bool
		sin   Length
		want  []Length
	}{
		{EndInside, true, one, []Length{in(1.375), in(1)}}, {EndInside, false, one, []Length{in(1), 0}},
		{EndOutside, true, one, []Length{-in(1.375), -in(1)}}, {EndOutside, false, one, []Length{-in(1), 0}},
		{EndInside, true, one / 2, []Length{in(2.75), in(2)}},
	} {
		if got := laps(c.kind, c.first, c.sin, own, other); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%v first %v: %v, want %v", c.kind, c.first, inchesOf(got), inchesOf(c.want))
		}
	}
	if got := laps(EndInside, true, one, []Length{1, 1, 1}, []Length{in(0.5)}); !reflect.DeepEqual(got, []Length{in(0.5), 0, 0}) {
		t.Errorf("more plies than the other: %v", got)
	}
}

// TestSlack: a board is fitted against another, against structure and against
// what is not drawn, not at a free end. Oracle: the rule.
func TestSlack(t *testing.T) {
	bld := &builder{j: inchJob()}
	bld.j.Rules.FitSlack = in(0.125)
	for k, want := range map[EndKind]Length{EndInside: in(0.125), EndStructure: in(0.125), EndOpen: in(0.125), EndOutside: 0, EndFree: 0, EndInLine: 0} {
		if got := bld.slackAt(FaceEnd{Kind: k}); got != want {
			t.Errorf("%v: %v", k, got)
		}
	}
}

// TestZones: board of another kind by side, ply, room, type and height; a later
// zone over an earlier one; like ones that touch are one. Oracle: by hand on a
// face from 1/2 to 119-1/4 in.
func TestZones(t *testing.T) {
	for _, c := range []struct {
		name  string
		zones []job.Zone
		want  string // board from–to
	}{
		{"to 4 ft", []job.Zone{{Board: "1/2", Top: in(48)}}, "1/2 0.5-48"}, {"from 4 ft", []job.Zone{{Board: "1/2", Bottom: in(48)}}, "1/2 48-119.25"},
		{"a belt", []job.Zone{{Board: "1/2", Bottom: in(30), Top: in(60)}}, "1/2 30-60"}, {"the whole", []job.Zone{{Board: "1/2"}}, "1/2 0.5-119.25"},
		{"later over earlier", []job.Zone{{Board: "1/2", Top: in(60)}, {Board: "12.5", Bottom: in(30), Top: in(40)}}, "1/2 0.5-30, 12.5 30-40, 1/2 40-60"},
		{"like ones", []job.Zone{{Board: "1/2", Top: in(30)}, {Board: "1/2", Bottom: in(30), Top: in(60)}}, "1/2 0.5-60"},
		{"like ones apart", []job.Zone{{Board: "1/2", Top: in(30)}, {Board: "1/2", Bottom: in(40), Top: in(60)}}, "1/2 0.5-30, 1/2 40-60"},
		{"its own board", []job.Zone{{Board: "5/8", Top: in(30)}}, ""}, {"the other side", []job.Zone{{Board: "1/2", Side: "left"}}, ""}, {"this side", []job.Zone{{Board: "1/2", Side: "RIGHT"}}, "1/2 0.5-119.25"},
		{"another ply", []job.Zone{{Board: "1/2", Ply: 2}}, ""}, {"this ply", []job.Zone{{Board: "1/2", Ply: 1}}, "1/2 0.5-119.25"},
		{"another type", []job.Zone{{Board: "1/2", Type: "R"}}, ""}, {"this type", []job.Zone{{Board: "1/2", Type: "P"}}, "1/2 0.5-119.25"},
		{"another room", []job.Zone{{Board: "1/2", Room: "lab"}}, ""}, {"above the top", []job.Zone{{Board: "1/2", Bottom: in(130)}}, ""},
	} {
		j := inchJob()
		j.Zones = c.zones
		f := mustBuild(t, planIn(wallIn{0, 0, 240, 0, 4.875, ""}), j).face("1-W001-R1")
		var got []string
		for _, z := range f.Plies[0].Zones {
			got = append(got, z.Board+" "+short(z.Rect.Min.Y)+"-"+short(z.Rect.Max.Y))
			if z.Rect.Min.X != 0 || z.Rect.Max.X != in(240) {
				t.Errorf("%s: %v", c.name, z.Rect)
			}
		}
		if s := strings.Join(got, ", "); s != c.want {
			t.Errorf("%s: %s, want %s", c.name, s, c.want)
		}
	}
}

func short(l Length) string { return strconv.FormatFloat(l.Inches(), 'f', -1, 64) }

// TestNiche: a niche is in the side whose shape has it, in both where none
// tells; a penetration is sealed, and no frame wraps either. Oracle: by hand.
func TestNiche(t *testing.T) {
	hole := geom.Poly{pt(90, 40), pt(110, 40), pt(110, 60), pt(90, 60)}
	for _, c := range []struct {
		name        string
		in          int // side of the model's wall, −1 none
		left, right int
	}{{"no side told", -1, 1, 1}, {"left", 0, 1, 0}, {"right", 1, 0, 1}} {
		p := planIn(wallIn{0, 0, 200, 0, 4.875, ""})
		p.Openings = []plan.Opening{{At: in(100), Width: in(20), Sill: in(40), Head: in(60), Kind: plan.Niche}}
		if c.in >= 0 {
			p.Walls[0].Sides[c.in].Holes = []geom.Poly{hole}
		}
		s := mustBuild(t, p, inchJob())
		if l, r := len(s.face("1-W001-L1").Holes), len(s.face("1-W001-R1").Holes); l != c.left || r != c.right {
			t.Errorf("%s: %d and %d holes, want %d and %d", c.name, l, r, c.left, c.right)
		}
		for _, id := range []string{"1-W001-L1", "1-W001-R1"} {
			for _, h := range s.face(id).Holes {
				if h.Sealed || h.Wrapped || h.Rect.W() != in(20) || h.Rect.H() != in(20) {
					t.Errorf("%s: %+v", c.name, h)
				}
			}
		}
	}
	p := planIn(wallIn{0, 0, 200, 0, 4.875, ""})
	p.Openings = []plan.Opening{{At: in(100), Width: in(20), Sill: in(40), Head: in(60), Kind: plan.Penetration}}
	j := inchJob()
	h := mustBuild(t, p, j).face("1-W001-R1").Holes[0]
	if !h.Sealed || h.Wrapped || !h.First || h.Rect.W() != in(20)+2*j.Rules.Cutout || h.Rect.Min.Y != in(40)-j.Rules.Cutout || h.Rect.Max.Y != in(60)+j.Rules.Cutout {
		t.Errorf("penetration %+v", h)
	}
}

// TestOpening_joined: two that overlap are one hole as large as both; two that
// touch stay two. Oracle: by hand.
func TestOpening_joined(t *testing.T) {
	at := func(x, w, sill, head float64) plan.Opening {
		return plan.Opening{At: in(x), Width: in(w), Sill: in(sill), Head: in(head), Kind: plan.Framed}
	}
	for _, c := range []struct {
		name string
		a, b plan.Opening
		want []geom.Rect
	}{
		{"overlap", at(50, 20, 30, 60), at(60, 30, 20, 50), []geom.Rect{{Min: pt(40, 20), Max: pt(75, 60)}}},
		{"one in the other", at(50, 40, 20, 90), at(50, 10, 30, 50), []geom.Rect{{Min: pt(30, 20), Max: pt(70, 90)}}},
		{"side by side", at(50, 20, 30, 60), at(70, 20, 30, 60), []geom.Rect{{Min: pt(40, 30), Max: pt(60, 60)}, {Min: pt(60, 30), Max: pt(80, 60)}}},
		{"one over the other", at(50, 20, 30, 60), at(50, 20, 60, 80), []geom.Rect{{Min: pt(40, 30), Max: pt(60, 60)}, {Min: pt(40, 60), Max: pt(60, 80)}}},
	} {
		p := planIn(wallIn{0, 0, 200, 0, 4.875, ""})
		p.Openings = []plan.Opening{c.a, c.b}
		j := inchJob()
		j.Frames = []job.Frame{{Basis: "drawn"}}
		s := mustBuild(t, p, j)
		var got []geom.Rect
		for _, h := range s.face("1-W001-R1").Holes {
			got = append(got, h.Rect)
		}
		if !reflect.DeepEqual(got, c.want) || strings.Contains(codes(s), "openings-overlap") != (len(c.want) == 1) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestOpening_limits: what reaches just the end of its wall or the top of its
// board is in order; further, past the measuring slack, it is told once.
// Oracle: by hand: wall 144 in long, board to 119-1/4.
func TestOpening_limits(t *testing.T) {
	over := slack + in(1.0/16)
	for _, c := range []struct {
		name string
		o    plan.Opening
		want string
	}{
		{"to the end", plan.Opening{At: in(124), Width: in(40), Head: in(84)}, ""}, {"a little past", plan.Opening{At: in(124) + slack, Width: in(40), Head: in(84)}, ""},
		{"past", plan.Opening{At: in(124) + over, Width: in(40), Head: in(84)}, "opening-past-end"}, {"past the start", plan.Opening{At: in(20) - over, Width: in(40), Head: in(84)}, "opening-past-end"},
		{"a little before the start", plan.Opening{At: in(20) - slack, Width: in(40), Head: in(84)}, ""},
		{"to the top", plan.Opening{At: in(72), Width: in(40), Head: in(119.25)}, ""}, {"above it", plan.Opening{At: in(72), Width: in(40), Head: in(119.3)}, "opening-above-top"},
		{"a duct above it", plan.Opening{At: in(72), Width: in(40), Sill: in(100), Head: in(130), Kind: plan.Penetration}, ""},
	} {
		p := planIn(wallIn{0, 0, 144, 0, 4.875, ""})
		if c.o.Kind == 0 {
			c.o.Kind = plan.Framed
		}
		p.Openings = []plan.Opening{c.o}
		j := inchJob()
		j.Frames = []job.Frame{{Basis: "drawn"}}
		var got []string
		for _, e := range mustBuild(t, p, j).Exceptions {
			if strings.HasPrefix(e.Code, "opening") {
				got = append(got, e.Code)
			}
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s: %q, want %q", c.name, s, c.want)
		}
	}
}

// TestThrough: at a tee the run that passes is named, or of runs that all end
// there the one that outranks the others, none between equals; the kinds of
// junction by their arms. Oracle: by hand.
func TestThrough(t *testing.T) {
	for _, c := range []struct {
		name    string
		walls   []wallIn
		kind    JunctionKind
		through string
	}{
		{"tee of equals", []wallIn{{0, 0, 200, 0, 4.875, ""}, {100, 0, 100, 100, 4.875, ""}}, Tee, ""},
		{"tee, the through run ranks higher", []wallIn{{0, 0, 200, 0, 4.875, "R"}, {100, 0, 100, 100, 4.875, ""}}, Tee, "1-W001"},
		{"tee, the stem ranks higher", []wallIn{{0, 0, 200, 0, 4.875, ""}, {100, 0, 100, 100, 4.875, "R"}}, Tee, "1-W002"},
		{"cross", []wallIn{{0, 0, 200, 0, 4.875, ""}, {100, -100, 100, 120, 4.875, "R"}}, Cross, "1-W002"},
		{"cross, the other way", []wallIn{{0, 0, 200, 0, 4.875, "R"}, {100, -100, 100, 120, 4.875, ""}}, Cross, "1-W001"},
		{"cross of equals", []wallIn{{0, 0, 200, 0, 4.875, ""}, {100, -100, 100, 120, 4.875, ""}}, Cross, ""},
		{"corner", []wallIn{{0, 0, 200, 0, 4.875, ""}, {200, 0, 200, 100, 4.875, "R"}}, Corner, "1-W002"},
		{"corner, the longer", []wallIn{{0, 0, 200, 0, 4.875, ""}, {200, 0, 200, 100, 4.875, ""}}, Corner, "1-W001"},
		{"in line", []wallIn{{0, 0, 100, 0, 4.875, ""}, {100, 0, 200, 0, 4.875, "R"}}, InLine, ""},
	} {
		s := mustBuild(t, planIn(c.walls...), inchJob())
		found := false
		for _, n := range s.Junctions {
			if n.Kind == c.kind {
				found = true
				if n.Through != c.through {
					t.Errorf("%s: through %q, want %q", c.name, n.Through, c.through)
				}
				if len(n.Runs) != 2 {
					t.Errorf("%s: runs %v", c.name, n.Runs)
				}
			}
		}
		if !found {
			t.Errorf("%s: %+v", c.name, s.Junctions)
		}
	}
}
