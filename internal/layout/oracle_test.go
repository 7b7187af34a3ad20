package layout

import (
	"strings"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

func lying(r *run.Run, _ *rules.Set) { r.Layout = job.Horizontal }

// Oracle: hand sums of the worked case.
func TestCase_horizontal54(t *testing.T) {
	l := sketch{length: 288 * in, spacing: 16 * in, deck: level(108 * in), fixedTop: true, edit: lying,
		board: stock("54", inch(0.625), 54*in, 96*in, 120*in, 144*in)}.best(t)
	same(t, "A", stationsOf(l, run.Left, 1, in), "96 144 240")
	same(t, "B", stationsOf(l, run.Right, 1, in), "64 112 208 256")
	near(t, "sheets", l.Cost.Area.SqFt(), 8*54, 0)
	near(t, "sf", squareFeet(l.Pieces), 430, 0.01)
	near(t, "A taper", jointFeet(l, run.Left, false), 24, 0)
	near(t, "B taper", jointFeet(l, run.Right, false), 24, 0)
	near(t, "A butts", jointFeet(l, run.Left, true)*12, 161.0+0.0, 0.51)
	near(t, "B butts", jointFeet(l, run.Right, true)*12, 215, 0.01)
	for _, j := range l.Joints {
		want := Butt
		if j.From.Y == j.To.Y {
			want = TaperedJoint
		}
		same(t, "kind", j.Kind, want)
	}
}

// Oracle: derived from the sheet's size: 6 sheets, 5 joints of 8 ft.
func TestOracle_eightFootWall(t *testing.T) {
	s := sketch{length: 288 * in, spacing: 16 * in, deck: level(96 * in), fixedTop: true, oneSided: true, board: stock("4x8", inch(0.5), 48*in, 96*in)}
	s.edit = func(r *run.Run, set *rules.Set) { set.FloorGap = 0 }
	l := s.best(t)
	same(t, "pieces", len(l.Pieces), 6)
	near(t, "flat", jointFeet(l, run.Left, true), 40, 0)
	near(t, "butt", jointFeet(l, run.Left, false), 0, 0)
}

// Oracle: GA-216-2024 4.6.7: ends of neighbouring courses never in one line;
// 4 sheets of 4x12, 24 lf of taper; staggered, 8 + 4 lf of butts.
func TestOracle_coursesNeverStacked(t *testing.T) {
	l := sketch{length: 288 * in, spacing: 16 * in, deck: level(96 * in), fixedTop: true, oneSided: true, board: stock("4x12", inch(0.5), 48*in, 144*in),
		edit: func(r *run.Run, set *rules.Set) { r.Layout, set.FloorGap = job.Horizontal, 0 }}.best(t)
	near(t, "sheets", l.Cost.Area.SqFt(), 4*48, 0)
	near(t, "taper", jointFeet(l, run.Left, false), 24, 0)
	near(t, "butts", jointFeet(l, run.Left, true), 12, 0)
	for i, a := range l.Joints {
		for _, b := range l.Joints[:i] {
			if a.From.X == a.To.X && b.From.X == b.To.X && (a.From.X-b.From.X).Abs() < 16*in {
				t.Errorf("ends at %v and %v are less than a bay apart", a.From.X.Inches(), b.From.X.Inches())
			}
		}
	}
}

// Oracle: 120 in is 7.5 bays of 16: no end at 120.
func TestOracle_tenFootCourses(t *testing.T) {
	l := sketch{length: 360 * in, spacing: 16 * in, deck: level(96 * in), fixedTop: true, oneSided: true, board: stock("4x10", inch(0.5), 48*in, 120*in),
		edit: func(r *run.Run, set *rules.Set) { r.Layout, set.FloorGap = job.Horizontal, 0 }}.best(t)
	for _, j := range l.Joints {
		if s := j.Face.Station(j.From.X); j.From.X == j.To.X && s%(8*in) == 0 && s%(16*in) != 0 {
			t.Errorf("an end at %v in stands between studs", s.Inches())
		}
	}
	if len(l.Joints) == 0 {
		t.Error("no joints")
	}
}

// Oracle: 54 is a multiple of neither 16 nor 24.
func TestOracle_wideSheetsUpright(t *testing.T) {
	for _, spacing := range []Length{16 * in, 24 * in} {
		l := sketch{length: 288 * in, spacing: spacing, deck: level(96 * in), board: stock("54", inch(0.625), 54*in, 96*in)}.best(t)
		told(t, l, codeModule, "miss the studs")
	}
}

func told(t *testing.T, l Layout, code, words string) {
	t.Helper()
	for _, e := range l.Exceptions {
		if e.Code == code && strings.Contains(e.Message, words) {
			return
		}
	}
	t.Errorf("no exception %s with %q in %v", code, words, l.Exceptions)
}

func silent(t *testing.T, l Layout, code string) {
	t.Helper()
	for _, e := range l.Exceptions {
		if e.Code == code {
			t.Errorf("unexpected: %v", e)
		}
	}
}

// Oracle: ceil(61/30) − 1 = 2 control joints, no stretch over 30 ft, two studs
// each, in every ply.
func TestOracle_controlJoints(t *testing.T) {
	l := sketch{length: 732 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot()}.best(t)
	at := map[Length]int{}
	for _, j := range l.Joints {
		if j.Kind == ControlJoint {
			at[j.Face.Station(j.From.X)]++
		}
	}
	same(t, "control joints", len(at), 2)
	last := Length(0)
	for _, x := range append(keys(at), 732*in) {
		if x-last > 360*in {
			t.Errorf("%v in without a control joint", (x - last).Inches())
		}
		last = x
	}
	for x, n := range at {
		same(t, "plies", n, 2)
		studs := 0
		for _, s := range l.Studs {
			if (s.Station - x).Abs() <= inch(1.25) {
				studs++
			}
		}
		same(t, "studs", studs, 2)
	}
}

func keys(m map[Length]int) []Length {
	var out []Length
	for x := range m {
		out = append(out, x)
	}
	if len(out) == 2 && out[0] > out[1] {
		out[0], out[1] = out[1], out[0]
	}
	return out
}

// Oracle: 20 ft, 9 to 13 ft: 220 sf a side, stud at x is 9 + 0.2x ft (gaps 0).
func TestOracle_slopedWall(t *testing.T) {
	s := sketch{length: 240 * in, spacing: 16 * in, deck: slope(240*in, 108*in, 156*in), oneSided: true, board: stock("14 ft", inch(0.625), 48*in, 120*in, 144*in, 168*in),
		edit: func(r *run.Run, set *rules.Set) { set.FloorGap, set.DeckGap = 0, 0 }}
	l := s.best(t)
	near(t, "sf", squareFeet(ofSide(l, run.Left)), 220, 1e-6)
	for _, st := range l.Studs {
		near(t, "stud", st.Length.Feet(), 9+0.2*st.Station.Feet(), 1e-6)
	}
	// Tallest sides 9.8, 10.6, 11.4, 12.2, 13 ft want 10, 12, 12, 14, 14 ft.
	want := 4.0 * (10 + 12 + 12 + 14 + 14)
	got := 0.0
	for _, p := range ofSide(l, run.Left) {
		_, most := p.Heights[0], p.Heights[0].Y
		for _, h := range p.Heights {
			most = max(most, h.Y)
		}
		got += Length(share([]Length{120 * in, 144 * in, 168 * in}, most)).Feet() * 4
	}
	near(t, "board", got, want, 1e-6)
	// With sheets to 12 ft only the high strips are spliced.
	s.board = fourFoot()
	l = s.best(t)
	n := 0
	for _, p := range ofSide(l, run.Left) {
		if p.Role == Top {
			n++
		}
	}
	if n == 0 {
		t.Error("nothing spliced with 12 ft sheets")
	}
}

// Oracle: the band: 4 in breaks the 6 in rule, 8 in passes and is warned.
func TestOracle_jambBand(t *testing.T) {
	r, env := sketch{length: 192 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(),
		openings: []run.Opening{door(60*in, 98*in, 85*in)}}.run()
	w := newWall(r, env)
	for _, c := range []struct {
		d          Length
		hard, warn bool
	}{{4 * in, true, true}, {6 * in, false, true}, {8 * in, false, true}, {12 * in, false, false}} {
		hard, warn := w.judge(w.plies[0], 60*in+c.d)
		same(t, "hard", hard, c.hard)
		same(t, "warn", warn, c.warn)
	}
}

// A full-height frame counts as a control joint and its sides take rips.
func TestSolve_fullHeightFrame(t *testing.T) {
	l := sketch{length: 500 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(),
		openings: []run.Opening{door(230*in, 268*in, inch(120))}}.best(t)
	for _, j := range l.Joints {
		if j.Kind == ControlJoint {
			t.Error("a control joint beside a full-height frame")
		}
	}
	silent(t, l, codeNarrow)
	same(t, "status", l.Status, "optimal")
	if msg := faults(&l, rules.Default(0)); msg != "" {
		t.Error(msg)
	}
}

// With the studs as framed only joints move: field studs stand where they did.
func TestSolve_boardAsFramed(t *testing.T) {
	l := sketch{length: 240 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(),
		edit: func(r *run.Run, _ *rules.Set) { r.Framing, r.FirstStud = job.BoardAsFramed, 9*in }}.best(t)
	for _, s := range l.Studs {
		if s.Kind == FieldStud && s.Station != 0 && s.Station != 240*in && mod(s.Station-9*in, 16*in) != 0 {
			t.Errorf("stud at %v", s.Station.Inches())
		}
	}
	same(t, "added", l.Cost.Added, 0)
}

// The job may want the first sheet at one end.
func TestSolve_hangFrom(t *testing.T) {
	for _, from := range []string{"left", "right"} {
		l := sketch{length: 250 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(),
			edit: func(r *run.Run, _ *rules.Set) { r.HangFrom = from }}.best(t)
		for _, f := range l.Faces {
			if f.First {
				same(t, "first side hangs from", f.HangFrom, from)
			}
		}
	}
}

// Wrapped openings and niches keep their kinds' bands.
func TestHole_bands(t *testing.T) {
	for kind, want := range map[plan.OpeningKind]bool{plan.Door: true, plan.Window: true, plan.Framed: true, plan.Wrapped: true, plan.Penetration: false, plan.Niche: false} {
		o := window(60*in, 98*in, 30*in, 80*in)
		o.Kind = kind
		r, env := sketch{length: 192 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(), openings: []run.Opening{o}}.run()
		same(t, kind.String(), newWall(r, env).plies[0].holes[0].banded, want)
	}
}

// A strip of 4 in beside a door is a leg in an unrated wall, a stem that wants
// a person in a rated one.
func TestSolve_headerAndLeg(t *testing.T) {
	s := sketch{length: 144 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(), openings: []run.Opening{door(4*in, 42*in, 85*in)}}
	l := s.best(t)
	legs := 0
	for _, p := range l.Pieces {
		if p.Role == Leg {
			legs++
			same(t, "leg", p.Outline.Bounds().W(), 4*in)
			same(t, "leg", p.Outline.Bounds().H(), inch(84.5))
		}
	}
	same(t, "legs", legs, 2)
	told(t, l, codeHeader, "too narrow for a stem")
	if msg := faults(&l, rules.Default(0)); msg != "" {
		t.Error(msg)
	}
	s.edit = func(r *run.Run, _ *rules.Set) { r.Rating = "1 h" }
	l = s.best(t)
	told(t, l, codeStem, "no legal layout")
	same(t, "status", l.Status, "infeasible")
}

// Another board to a height: the joint between them is where the zone ends,
// and each piece is of its zone's board.
func TestSolve_zone(t *testing.T) {
	s := sketch{length: 192 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(), openings: []run.Opening{door(69*in, 107*in, 85*in)}}
	r, env := s.run()
	wet := *s.board
	wet.Name = "wet"
	env.Boards = func(name string) *job.Board {
		if name == "wet" {
			return &wet
		}
		return s.board
	}
	for _, f := range r.Faces {
		f.Plies[0].Zones = []run.Zone{{Board: "wet", Rect: geom.Rect{Min: geom.Pt{X: -in, Y: 0}, Max: geom.Pt{X: 193 * in, Y: 48 * in}}}}
	}
	l := Solve(r, env)[0]
	if msg := faults(&l, env.Rules); msg != "" {
		t.Error(msg)
	}
	for _, p := range l.Pieces {
		low := p.Outline.Bounds().Max.Y <= 48*in
		same(t, p.ID, p.Board == "wet", low)
	}
}

// An opening of another shape: what is hung is the face less the shape.
// Oracle: area balance.
func TestSolve_shapedHole(t *testing.T) {
	r, env := sketch{length: 192 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(), openings: []run.Opening{window(60*in, 120*in, 30*in, 80*in)}}.run()
	want := 0.0
	for _, f := range r.Faces {
		h := &f.Holes[0]
		a, b := h.Rect.Min, h.Rect.Max
		h.Shape = geom.Poly{a, {X: b.X, Y: a.Y}, {X: b.X, Y: b.Y - 20*in}, {X: (a.X + b.X) / 2, Y: b.Y}, {X: a.X, Y: b.Y - 20*in}}
		want += 192*118.75 - 60*30 - 60*20/2
	}
	l := Solve(r, env)[0]
	near(t, "sq in", squareFeet(l.Pieces)*144, want, 0.01)
}

// A run without board has studs; a board nobody has is listed.
func TestSolve_nothingToHang(t *testing.T) {
	r, env := sketch{length: 192 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot()}.run()
	env.Boards = func(string) *job.Board { return nil }
	all := Solve(r, env)
	if len(all) != 1 || len(all[0].Pieces) != 0 || len(all[0].Studs) == 0 {
		t.Fatalf("%+v", all)
	}
	told(t, all[0], codeNoLayout, "not among the boards")
}

// Known optimum: a wall of n whole sheets takes n sheets, n − 1 joints, no
// added stud, whatever the spacing they fit.
func TestSolve_knownOptimum(t *testing.T) {
	for n := 1; n <= 12; n++ {
		for _, spacing := range []Length{12 * in, 16 * in, 24 * in} {
			l := sketch{length: Length(n) * 48 * in, spacing: spacing, deck: level(inch(121.25)), oneSided: true, board: fourFoot(), edit: noControl}.best(t)
			same(t, "pieces", len(l.Pieces), n)
			same(t, "joints", len(l.Joints), n-1)
			near(t, "sf", l.Cost.Area.SqFt(), float64(40*n), 0)
			same(t, "added", l.Cost.Added, 0)
			for _, p := range l.Pieces {
				same(t, "uncut", p.Uncut, true)
			}
		}
	}
}
