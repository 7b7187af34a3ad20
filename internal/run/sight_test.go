package run

import (
	"reflect"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// TestSighting_draw: oracle: by hand, measuring step 1/64 in: a step up is
// carried on one step past it, a step down begins one step before it, a hair is
// none, what overlaps is cut; a step of 100 in wants a ramp of 100/1000 in.
func TestSighting_draw(t *testing.T) {
	const step = measure.SixtyFourth
	hair := (2 * step).Inches()
	p := func(x0, y0, x1, y1 float64) piece { return piece{pt(x0, y0), pt(x1, y1)} }
	for _, c := range []struct {
		name   string
		pieces []piece
		want   geom.Profile
		steps  []Length
	}{
		{"one", []piece{p(0, 100, 50, 110)}, geom.Profile{pt(0, 100), pt(50, 110)}, nil},
		{"in any order", []piece{p(20, 100, 50, 100), p(0, 100, 20, 100)}, geom.Profile{pt(0, 100), pt(20, 100), pt(50, 100)}, nil},
		{"up", []piece{p(0, 100, 20, 100), p(20, 110, 50, 110)}, geom.Profile{pt(0, 100), pt(20, 100), pt(20+1./64, 110), pt(50, 110)}, inchList(20)},
		{"down", []piece{p(0, 110, 20, 110), p(20, 100, 50, 100)}, geom.Profile{pt(0, 110), pt(20-1./64, 110), pt(20, 100), pt(50, 100)}, inchList(20)},
		{"a hair", []piece{p(0, 100, 20, 100), p(20, 100+hair, 50, 100+hair)}, geom.Profile{pt(0, 100), pt(20, 100), pt(50, 100+hair)}, nil},
		{"more", []piece{p(0, 100, 20, 100), p(20, 100+hair+1./64, 50, 110)}, geom.Profile{pt(0, 100), pt(20, 100), pt(20+1./64, 100+hair+1./64), pt(50, 110)}, inchList(20)},
		{"high up", []piece{p(0, 100, 20, 100), p(20, 200, 50, 200)}, geom.Profile{pt(0, 100), pt(20, 100), pt(20, 200).Add(geom.Pt{X: toStep(in(0.1), step)}), pt(50, 200)}, inchList(20)},
		{"overlapping", []piece{p(0, 100, 20, 100), p(10, 90, 30, 110)}, geom.Profile{pt(0, 100), pt(20, 100), pt(30, 110)}, nil},
		{"a gap", []piece{p(0, 100, 20, 100), p(30, 110, 50, 110)}, geom.Profile{pt(0, 100), pt(20, 100), pt(30, 110), pt(50, 110)}, nil},
		{"within another", []piece{p(0, 100, 20, 100), p(5, 110, 15, 110)}, geom.Profile{pt(0, 100), pt(20, 100)}, nil},
	} {
		s := sighting{pieces: c.pieces}
		s.draw(step)
		if !reflect.DeepEqual(s.prof, c.want) || !reflect.DeepEqual(s.steps, c.steps) {
			t.Errorf("%s: %v, steps %v; want %v, %v", c.name, s.prof, s.steps, c.want, c.steps)
		}
	}
}

func inchList(xs ...float64) (out []Length) {
	for _, x := range xs {
		out = append(out, in(x))
	}
	return out
}

// TestSighting_fill: oracle: by hand: what is open is closed from the other
// source, cut to it.
func TestSighting_fill(t *testing.T) {
	s := sighting{open: [][2]Length{{in(10), in(20)}, {in(30), in(45)}}}
	if s.gap() != in(25) {
		t.Errorf("gap %v", s.gap().Inches())
	}
	s.fill([]piece{{pt(0, 100), pt(40, 140)}, {pt(50, 0), pt(60, 0)}, {pt(20, 7), pt(30, 7)}})
	want := []piece{{pt(10, 110), pt(20, 120)}, {pt(30, 130), pt(40, 140)}}
	if !reflect.DeepEqual(s.pieces, want) {
		t.Errorf("%v, want %v", s.pieces, want)
	}
}

// TestStretches: of surfaces over a line the lowest of the first order counts.
// Oracle: by hand on a line from 0 to 100 along x.
func TestStretches(t *testing.T) {
	box := func(x0, x1, z float64, order int) surface {
		return surface{outline: geom.Poly{pt(x0, -50), pt(x1, -50), pt(x1, 50), pt(x0, 50)}, plane: level(in(z)), order: order}
	}
	all := func(z float64, order int) surface { return surface{plane: level(in(z)), order: order} }
	st := func(u0, u1 float64, of int) stretch { return stretch{in(u0), in(u1), of} }
	for _, c := range []struct {
		name string
		list []surface
		want []stretch
	}{
		{"nothing", nil, []stretch{st(0, 100, -1)}}, {"everywhere", []surface{all(120, 0)}, []stretch{st(0, 100, 0)}},
		{"a part", []surface{box(20, 60, 120, 0)}, []stretch{st(0, 20, -1), st(20, 60, 0), st(60, 100, -1)}},
		{"side by side", []surface{box(-10, 40, 120, 0), box(40, 200, 130, 0)}, []stretch{st(0, 40, 0), st(40, 100, 1)}},
		{"the lower of two", []surface{box(-10, 60, 120, 0), box(40, 200, 110, 0)}, []stretch{st(0, 40, 0), st(40, 100, 1)}},
		{"the higher of two", []surface{box(-10, 60, 120, 0), box(40, 200, 130, 0)}, []stretch{st(0, 60, 0), st(60, 100, 1)}},
		{"of equals the first", []surface{box(-10, 60, 120, 0), box(40, 200, 120, 0)}, []stretch{st(0, 60, 0), st(60, 100, 1)}},
		{"a later order only where none else is", []surface{box(20, 60, 120, 0), all(90, 1)}, []stretch{st(0, 20, 1), st(20, 60, 0), st(60, 100, 1)}},
	} {
		if got := stretches(c.list, pt(0, 0), pt(100, 0)); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestDecksOver: an outline goes before a whole storey, the job before the
// model, both before what nobody gave. Oracle: the order as documented.
func TestDecksOver(t *testing.T) {
	box := geom.Poly{pt(-50, -50), pt(500, -50), pt(500, 50), pt(-50, 50)}
	flat := func(z float64) [3]plan.Point3 {
		return [3]plan.Point3{{Z: in(z)}, {X: in(1), Z: in(z)}, {Y: in(1), Z: in(z)}}
	}
	for _, c := range []struct {
		name  string
		decks []job.Deck
		model []plan.Deck
		top   float64
		by    string
	}{
		{"the job's outline", []job.Deck{{Level: in(140)}, {Level: in(150), Outline: box}}, []plan.Deck{{Plane: flat(110), Outline: box}}, 150, "deck"},
		{"the job's storey", []job.Deck{{Level: in(140)}}, []plan.Deck{{Plane: flat(110), Outline: box}}, 140, "deck"},
		{"the model's outline", nil, []plan.Deck{{Plane: flat(100)}, {Plane: flat(110), Outline: box}}, 110, "deck of the model"},
		{"the model's storey", []job.Deck{{Level: in(90), Storey: "2"}, {}}, []plan.Deck{{Plane: flat(100)}, {Plane: flat(90), Storey: "2"}}, 100, "deck of the model"},
	} {
		j := inchJob()
		j.Decks = c.decks
		p := planIn(wallIn{0, 0, 240, 0, 4.875, ""})
		p.Decks = c.model
		f := mustBuild(t, p, j).face("1-W001-R1")
		if f.Top.At(0) != in(c.top)-j.Rules.DeckGap || f.HeightBy != c.by {
			t.Errorf("%s: %v by %q", c.name, f.Top.At(0).Inches(), f.HeightBy)
		}
	}
}

// TestRoomShapes: oracle: areas and points by hand.
func TestRoomShapes(t *testing.T) {
	room := geom.Poly{pt(0, 0), pt(100, 0), pt(100, 50), pt(0, 50)}
	if got := twiceArea(room); got != 2*float64(in(100))*float64(in(50)) {
		t.Errorf("twice the area %v", got)
	}
	turned := append(geom.Poly{}, room...)
	reverse(turned)
	if twiceArea(turned) != -twiceArea(room) {
		t.Error("clockwise counts below zero")
	}
	if got := within(room); got != (geom.Pt{X: in(50), Y: beside}) {
		t.Errorf("within at %v", got)
	}
	if got := distinct(geom.Poly{pt(0, 0), pt(0, 0), pt(1, 0), pt(1, 0), pt(1, 1), pt(0, 0), pt(0, 0)}); !reflect.DeepEqual(got, geom.Poly{pt(0, 0), pt(1, 0), pt(1, 1)}) {
		t.Errorf("distinct %v", got)
	}
	if got := dedupe([]string{"b", "a", "b", "c", "a"}); !reflect.DeepEqual(got, []string{"b", "a", "c"}) {
		t.Errorf("dedupe %v", got)
	}
	if roomName(&plan.Room{Name: "Lab", Number: "1"}) != "Lab" || roomName(&plan.Room{Number: "1"}) != "1" {
		t.Error("a room goes by its name, else by its number")
	}
}

// TestLike: oracle: patterns by hand.
func TestLike(t *testing.T) {
	for _, c := range []struct {
		pattern, s string
		want       bool
	}{
		{"abc", "ABC", true}, {"abc", "abcd", false}, {"abcd", "abc", false}, {"a*", "a", true}, {"a*c", "abbc", true}, {"a*c", "abbcd", false}, {"a*bc", "abbbc", true}, {"*", "", true},
		{"", "", true}, {"", "a", false}, {"a?c", "abc", true}, {"a?c", "ac", false}, {"*b*", "abc", true}, {"*b*d", "abcd", true}, {"*b*d", "abc", false}, {"**c", "abc", true}, {"?*", "", false},
		{"a**", "a", true},
	} {
		if got := like(c.pattern, c.s); got != c.want {
			t.Errorf("%q like %q: %v", c.s, c.pattern, got)
		}
	}
}

// TestDescribe: what nobody told is left out. Oracle: by hand.
func TestDescribe(t *testing.T) {
	for _, c := range []struct {
		w    plan.Wall
		sys  measure.System
		want string
	}{
		{plan.Wall{}, measure.InchPound, "it"}, {plan.Wall{Thickness: in(4.875)}, measure.InchPound, "thickness 4.875 in"},
		{plan.Wall{Thickness: measure.FromMM(125), Tag: "P", TypeName: "basic", Layer: "A-WALL"}, measure.Metric, "thickness 125 mm, tag P, type basic, layer A-WALL"},
	} {
		if got := describe(&c.w, &job.Job{System: c.sys}); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestFixed: studs where faces begin and end and behind every tee; each station
// once. Oracle: by hand: walls 4-7/8 in, faces end 2-7/16 from the axes.
func TestFixed(t *testing.T) {
	s := mustBuild(t, planIn(wallIn{0, 0, 200, 0, 4.875, ""}, wallIn{200, 0, 200, 100, 4.875, ""}, wallIn{80, 0, 80, 100, 4.875, ""}), inchJob())
	for _, r := range s.Runs {
		if r.Length < in(190) {
			continue
		}
		at := map[string][]Length{}
		for _, f := range r.Fixed {
			at[f.Kind] = append(at[f.Kind], f.Station)
		}
		if want := map[string][]Length{"end": {0}, "tee": {in(80)}, "corner": {in(200 - 2.4375), in(200 + 2.4375)}}; !reflect.DeepEqual(at, want) {
			t.Errorf("%v, want %v", at, want)
		}
	}
}

// TestObstacle_reach: a wall drawn just short of a column stops at it, one
// further off does not; the face towards the wall counts. Oracle: by hand:
// column 12 in square about the origin, wall along x.
func TestObstacle_reach(t *testing.T) {
	for _, c := range []struct {
		name  string
		x0    float64
		start float64 // of the run's left face on the plan
		kind  EndKind
	}{{"into it", 0, 6, EndStructure}, {"through it", -5, 6, EndStructure}, {"to it", 6, 6, EndStructure}, {"short of it", 6.5, 6, EndStructure}, {"away from it", 8, 8, EndFree}} {
		// A tee at the far end, so that the wall does not stand alone.
		p := planIn(wallIn{c.x0, 0, 100, 0, 4.875, ""}, wallIn{100, -50, 100, 50, 4.875, ""})
		p.Obstacles = []plan.Obstacle{{Storey: "1", Kind: "column", Outline: geom.Poly{pt(-6, -6), pt(6, -6), pt(6, 6), pt(-6, 6)}}}
		found := false
		for _, r := range mustBuild(t, p, inchJob()).Runs {
			for _, f := range r.Faces {
				if f.Side != Right || r.Axis[0].Y != 0 || r.Axis[1].Y != 0 {
					continue
				}
				found = true
				if at := r.Axis[0].X + f.Start; at != in(c.start) || f.Ends[0].Kind != c.kind {
					t.Errorf("%s: begins at %v in, %v; want %v, %v", c.name, at.Inches(), f.Ends[0].Kind, c.start, c.kind)
				}
			}
		}
		if !found {
			t.Errorf("%s: no face", c.name)
		}
	}
}

// TestJoin: walls in line become one run where they touch, overlap, are a
// drafting gap of 5 mm apart, or a wall fills the gap; not where they are of
// another make, status, storey, base or line. Oracle: the rule, by hand.
func TestJoin(t *testing.T) {
	mmIn := func(x float64) float64 { return x / 25.4 }
	for _, c := range []struct {
		name   string
		walls  []wallIn
		change func(*plan.Wall) // of the second
		runs   int
		length float64 // of the longest
	}{
		{"touching", []wallIn{{0, 0, 100, 0, 4.875, ""}, {100, 0, 180, 0, 4.875, ""}}, nil, 1, 180},
		{"overlapping, the other way", []wallIn{{0, 0, 100, 0, 4.875, ""}, {180, 0, 90, 0, 4.875, ""}}, nil, 1, 180},
		{"one in the other", []wallIn{{0, 0, 100, 0, 4.875, ""}, {20, 0, 60, 0, 4.875, ""}}, nil, 1, 100},
		{"4.9 mm apart", []wallIn{{0, 0, 100, 0, 4.875, ""}, {100 + mmIn(4.9), 0, 180, 0, 4.875, ""}}, nil, 1, 180},
		{"40 mm apart", []wallIn{{0, 0, 100, 0, 4.875, ""}, {100 + mmIn(40), 0, 180, 0, 4.875, ""}}, nil, 2, 100},
		{"before it", []wallIn{{100, 0, 180, 0, 4.875, ""}, {0, 0, 100 - mmIn(40), 0, 4.875, ""}}, nil, 2, 100 - mmIn(40)},
		{"a gap that a wall fills", []wallIn{{0, 0, 97.5625, 0, 4.875, ""}, {102.4375, 0, 180, 0, 4.875, ""}, {100, -60, 100, 60, 4.875, ""}}, nil, 2, 180},
		{"a gap beside the wall", []wallIn{{0, 0, 91, 0, 4.875, ""}, {102.4375, 0, 180, 0, 4.875, ""}, {100, -60, 100, 60, 4.875, ""}}, nil, 3, 120},
		{"0.9 mm off", []wallIn{{0, 0, 100, 0, 4.875, ""}, {100, mmIn(0.9), 180, mmIn(0.9), 4.875, ""}}, nil, 1, 180},
		{"another type", []wallIn{{0, 0, 100, 0, 4.875, ""}, {100, 0, 180, 0, 4.875, "R"}}, nil, 2, 100},
		{"another base", []wallIn{{0, 0, 100, 0, 4.875, ""}, {100, 0, 180, 0, 4.875, ""}}, func(w *plan.Wall) { w.Base = in(30) }, 2, 100},
	} {
		p := planIn(c.walls...)
		if c.change != nil {
			c.change(&p.Walls[1])
		}
		s := mustBuild(t, p, inchJob())
		var longest Length
		for _, r := range s.Runs {
			longest = max(longest, r.Length)
		}
		if len(s.Runs) != c.runs || (longest-in(c.length)).Abs() > in(0.05) {
			t.Errorf("%s: %d runs, the longest %v in; want %d, %v", c.name, len(s.Runs), longest.Inches(), c.runs, c.length)
		}
	}
}

// TestDrawingOf: the drawing of a wall's file and storey, else of its file.
// Oracle: by hand.
func TestDrawingOf(t *testing.T) {
	p := &plan.Plan{Drawings: []plan.Drawing{{File: "a", Storey: "1"}, {File: "b", Storey: "1"}, {File: "b", Storey: "2"}, {File: "c", Storey: "1"}}}
	for _, c := range []struct {
		file, storey string
		want         int
	}{{"a", "1", 0}, {"b", "1", 1}, {"b", "2", 2}, {"b", "3", 2}, {"c", "9", 3}, {"z", "1", 0}} {
		if got := drawingOf(p, &plan.Wall{Storey: c.storey, Sources: []plan.Source{{File: c.file}}}); got != c.want {
			t.Errorf("%s on %s: %d, want %d", c.file, c.storey, got, c.want)
		}
	}
	if drawingOf(p, &plan.Wall{}) != 0 {
		t.Error("a wall from nowhere")
	}
}

// TestStretch: an outline that is no rectangle grows with its hole, side by
// side; without a size it is dropped. Oracle: by hand: a trapezoid 40 by 20
// grows to 44 by 24.
func TestStretch(t *testing.T) {
	shape := geom.Poly{pt(80, 30), pt(120, 30), pt(110, 50), pt(90, 50)}
	q := Opening{Shape: append(geom.Poly{}, shape...), Centre: in(100), Width: in(44), Sill: in(28), Head: in(52)}
	q.stretch(&plan.Opening{Width: in(40), Sill: in(30), Head: in(50)})
	if want := (geom.Poly{pt(78, 28), pt(122, 28), pt(111, 52), pt(89, 52)}); !reflect.DeepEqual(q.Shape, want) {
		t.Errorf("%v, want %v", q.Shape, want)
	}
	for name, o := range map[string]plan.Opening{"no width": {Sill: in(30), Head: in(50)}, "no height": {Width: in(40), Sill: in(30), Head: in(30)}} {
		q.Shape = append(geom.Poly{}, shape...)
		if q.stretch(&o); q.Shape != nil {
			t.Errorf("%s: %v", name, q.Shape)
		}
	}
}

// TestAlong_curved: a curved face is read in chords of 300 mm at most, which
// meet. Oracle: by hand: 1 m takes four, under a deck that rises 1 in 10.
func TestAlong_curved(t *testing.T) {
	rising, _ := fit([]job.Point3{{Z: measure.Metre}, {X: measure.Metre, Z: measure.Metre * 11 / 10}, {Y: measure.Metre, Z: measure.Metre}})
	at := func(u Length) geom.Pt { return geom.Pt{X: u} }
	for curved, want := range map[bool]int{true: 4, false: 1} {
		s := along([]surface{{plane: rising, by: "deck"}}, measure.Metre, at, curved)
		if len(s.pieces) != want || s.by != "deck" || s.assumed || s.gap() != 0 {
			t.Fatalf("curved %v: %+v", curved, s)
		}
		for i, p := range s.pieces {
			if p.b.X-p.a.X != measure.Metre/Length(want) || (p.b.Y-measure.Metre-p.b.X/10).Abs() > 1 || i > 0 && p.a != s.pieces[i-1].b {
				t.Errorf("piece %d: %v", i, p)
			}
		}
	}
	two := along([]surface{{plane: level(5), by: "a", order: byDefault, outline: geom.Poly{pt(-9, -9), pt(10, -9), pt(10, 9), pt(-9, 9)}}, {plane: level(7), by: "b", order: byDefault + 1}}, measure.Metre, at, false)
	if two.by != "decks" || !two.assumed || len(two.pieces) != 2 {
		t.Errorf("two decks: %+v", two)
	}
}
