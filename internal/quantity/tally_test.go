package quantity

import (
	"math"
	"reflect"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// TestTally: oracle: sums by hand; runs are named once, rising.
func TestTally(t *testing.T) {
	var y tally
	one := Item{Item: "a", Length: in(10), AreaM2: 1, Litres: 2, Count: 3, Allowance: 1, MassKg: 4}
	for _, r := range []string{"W3", "W1", "W3", "W2", "W1", ""} {
		y.add(one, r)
	}
	long := Item{Item: "b", Length: in(10), Sum: true}
	y.add(long, "W1")
	long.Length = in(5)
	y.add(long, "W1")
	for _, it := range []Item{{Storey: "2", Item: "a"}, {Item: "a", Spec: "s"}, {Item: "a", Width: 1}, {Item: "a", Area: "x"}, {Item: "a", Note: "n"}, {Item: "a"}} {
		y.add(it, "")
	}
	var got []Item
	for _, it := range y.sorted() {
		it.Runs = nil
		got = append(got, it)
	}
	want := []Item{{Item: "a"}, {Item: "a", Note: "n"}, {Item: "a", Area: "x"}, {Item: "a", Length: in(10), AreaM2: 6, Litres: 12, Count: 18, Allowance: 6, MassKg: 24},
		{Item: "a", Width: 1}, {Item: "a", Spec: "s"}, {Item: "b", Length: in(15), Sum: true}, {Storey: "2", Item: "a"}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v\nwant %+v", got, want)
	}
	if runs := y.items[3].Runs; !reflect.DeepEqual(runs, []string{"W1", "W2", "W3"}) {
		t.Errorf("runs %v", runs)
	}
}

// TestTwoPeople_limits: what weighs just the limit one person carries; a limit
// of 0 is none. Oracle: the rule's words "over".
func TestTwoPeople_limits(t *testing.T) {
	b := caseC1().build()
	s := NewScrewer(b.job, Defaults(0))
	piece := func(lo, w, h, kg float64) *layout.Piece {
		return &layout.Piece{Outline: geom.Rect{Min: geom.Pt{Y: in(lo)}, Max: geom.Pt{X: in(w), Y: in(lo + h)}}.Poly(), MassKg: kg}
	}
	floor, high, long := s.set.LiftFloorKg, s.set.LiftHighKg, s.set.LiftLength.Inches()
	for _, c := range []struct {
		name string
		p    *layout.Piece
		want string
	}{
		{"the limit on the floor", piece(0, 48, 96, floor), ""},
		{"over it", piece(0, 48, 96, floor+0.01), LiftFloor},
		{"the limit on a lift", piece(60, 48, 48, high), ""},
		{"over it", piece(60, 48, 48, high+0.01), LiftHigh},
		{"over it below reach", piece(59.9, 48, 48, high+0.01), ""},
		{"the longest one hangs alone", piece(60, 48, long, 1), ""},
		{"longer", piece(60, 48, long+1, 1), LiftHigh},
		{"wider", piece(60, long+1, 48, 1), LiftHigh},
	} {
		if got := s.TwoPeople(c.p); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	s.set.LiftFloorKg, s.set.LiftHighKg, s.set.LiftLength = 0, 0, 0
	if got := s.TwoPeople(piece(60, 48, 144, 90)); got != "" {
		t.Errorf("no limits: %q", got)
	}
}

// TestFixings_limits: oracle: ceil((L − 2e)/s) + 1 by hand; one for a stub.
func TestFixings_limits(t *testing.T) {
	for _, c := range []struct {
		length float64
		want   int
	}{{0, 0}, {3, 1}, {4, 1}, {4.5, 2}, {28, 2}, {28.5, 3}, {52, 3}} {
		if got := Fixings(in(c.length), in(24), in(2)); got != c.want {
			t.Errorf("%v in: %d, want %d", c.length, got, c.want)
		}
	}
}

// TestHighShare: oracle: the part above 120 in by hand.
func TestHighShare(t *testing.T) {
	for _, c := range []struct{ lo, hi, height, want float64 }{
		{100, 140, 120, 0.5}, {110, 150, 120, 0.75}, {80, 120, 120, 0}, {120, 160, 120, 1}, {0, 160, 0, 0}, {130, 130, 120, 0},
	} {
		p := &layout.Piece{Outline: geom.Poly{{Y: in(c.lo)}, {X: in(48), Y: in(c.lo)}, {X: in(48), Y: in(c.hi)}, {Y: in(c.hi)}}}
		if got := highShare(p, in(c.height)); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// TestLabour_openings: oracle: hand sums. Both sides' two plies of a 21 sf
// opening count as work, of a 4 x 8 of 32 sf none.
func TestLabour_openings(t *testing.T) {
	for _, c := range []struct{ w, h, want float64 }{{36, 84, 21}, {48, 96, 0}} {
		w := caseC1()
		w.plies, w.a, w.b = 2, inches(96, 192), inches(96, 192)
		w.holes = []hole{{u0: in(100), u1: in(100 + c.w), v0: in(0.5), v1: in(0.5 + c.h)}}
		rows := w.build().take().Labour
		if len(rows) != 1 || math.Abs(rows[0].Openings-4*c.want*squareMetresPerSqFt) > 1e-9 {
			t.Errorf("%v x %v: %+v, want 4 × %v sf", c.w, c.h, rows, c.want)
		}
	}
}

// TestDatum: the widest top with the fewest cut-outs is hung first, then the
// earliest; rows of like cuts are numbered together. Oracle: the rule, by hand.
func TestDatum(t *testing.T) {
	top := layout.Top.String()
	row := func(w float64, cuts, order int) TopRow {
		return TopRow{Face: "A", Ply: 1, Role: top, Width: in(w), CutOuts: make([]CutOut, cuts), Order: order}
	}
	for _, c := range []struct {
		name string
		rows []TopRow
		want int
	}{
		{"widest", []TopRow{row(40, 0, 1), row(48, 1, 2), row(44, 0, 3)}, 1},
		{"fewest cut-outs", []TopRow{row(48, 2, 1), row(48, 1, 2), row(48, 3, 3)}, 1},
		{"earliest", []TopRow{row(48, 0, 5), row(48, 0, 2), row(48, 0, 3)}, 1},
		{"only tops", []TopRow{{Face: "A", Ply: 1, Role: "leg", Width: in(60)}, row(48, 0, 2)}, 1},
	} {
		markDatum(c.rows)
		for i := range c.rows {
			if c.rows[i].Datum != (i == c.want) {
				t.Errorf("%s: row %d datum %v", c.name, i, c.rows[i].Datum)
			}
		}
	}
	two := []TopRow{row(48, 0, 1), {Face: "A", Ply: 2, Role: top, Width: in(30)}, {Face: "B", Ply: 1, Role: top, Width: in(20)}}
	markDatum(two)
	for i := range two {
		if !two[i].Datum {
			t.Errorf("each ply of each face has its own: row %d", i)
		}
	}
	base := TopRow{Face: "A", Ply: 1, Board: "x", Straight: true, Left: in(30), Right: in(31), Width: in(48), Order: 1}
	for _, change := range []func(*TopRow){func(r *TopRow) { r.Face = "B" }, func(r *TopRow) { r.Ply = 2 }, func(r *TopRow) { r.Board = "y" },
		func(r *TopRow) { r.Straight = false }, func(r *TopRow) { r.Left++ }, func(r *TopRow) { r.Right++ }, func(r *TopRow) { r.Width-- },
		func(r *TopRow) { r.CutOuts = make([]CutOut, 1) }, func(r *TopRow) { r.Order = 2 }} {
		later := base
		change(&later)
		if !topBefore(&base, &later) || topBefore(&later, &base) {
			t.Errorf("%+v stands before %+v", base, later)
		}
		same := later.Order == 2 || later.Face == "B" || later.Ply == 2 || !later.Straight
		if alike(&base, &later) != same {
			t.Errorf("alike(%+v, %+v) is %v", base, later, !same)
		}
	}
}

// TestSchedule_counts: the schedule holds every piece once, and its area.
// Oracle: the pieces themselves.
func TestSchedule_counts(t *testing.T) {
	b := caseC5().build()
	res := b.take()
	n, area, hung := 0, 0.0, 0.0
	for _, r := range res.Schedule {
		if r.Count != len(r.Pieces) || r.Count < 1 {
			t.Errorf("%d pieces, named %v", r.Count, r.Pieces)
		}
		if r.Side != map[string]string{"1-W001-L1": run.Left.String(), "1-W001-R1": run.Right.String()}[r.Face] {
			t.Errorf("face %s on side %q", r.Face, r.Side)
		}
		n += r.Count
		area += r.AreaM2
	}
	for i := range b.lay.Pieces {
		hung += b.lay.Pieces[i].Area.M2()
	}
	if n != len(b.lay.Pieces) || math.Abs(area-hung) > 1e-9 {
		t.Errorf("%d pieces of %v m², want %d of %v", n, area, len(b.lay.Pieces), hung)
	}
	straight, angled := res.TopCuts()
	if straight != 0 || angled != 11 { // 5 and 6 tops under a deck that slopes
		t.Errorf("%d straight tops, %d at an angle, want 0 and 11", straight, angled)
	}
	for i := 1; i < len(res.CutList); i++ {
		if a, c := res.CutList[i-1], res.CutList[i]; a.Face > c.Face || a.Face == c.Face && a.Order >= c.Order {
			t.Errorf("%s stands before %s", a.Piece, c.Piece)
		}
	}
}

// TestCutOuts: a cut-out and a notch, measured from the starting edge, from
// either end. Oracle: by hand: an 8 x 10 hole 20 in from the left of a 48 in
// sheet is 20 in from its right.
func TestCutOuts(t *testing.T) {
	closed := geom.Rect{Min: geom.Pt{X: in(60), Y: in(30)}, Max: geom.Pt{X: in(68), Y: in(40)}}
	notch := geom.Rect{Min: geom.Pt{X: in(90), Y: in(50)}, Max: geom.Pt{X: in(120), Y: in(60)}}
	f := &run.Face{Run: &run.Run{Openings: []run.Opening{{ID: "O1"}, {ID: "O2"}}}, Holes: []run.Hole{{Rect: closed}, {Opening: 1, Rect: notch}}}
	p := &layout.Piece{Face: f, Cutouts: []geom.Poly{closed.Poly()}, Outline: geom.Poly{{X: in(40), Y: in(10)}, {X: in(100), Y: in(10)}, {X: in(100), Y: in(50)},
		{X: in(90), Y: in(50)}, {X: in(90), Y: in(60)}, {X: in(100), Y: in(60)}, {X: in(100), Y: in(90)}, {X: in(40), Y: in(90)}}}
	a := CutOut{Opening: "O1", FromStart: in(20), FromBottom: in(20), Width: in(8), Height: in(10)}
	n := CutOut{Opening: "O2", FromStart: in(50), FromBottom: in(40), Width: in(10), Height: in(10), Notch: true}
	l := &layout.Layout{Faces: []layout.FaceLayout{{Face: f, HangFrom: "left"}}}
	if got := cutOuts(l, p); !reflect.DeepEqual(got, []CutOut{a, n}) {
		t.Errorf("from the left: %+v", got)
	}
	l.Faces[0].HangFrom = "right"
	a.FromStart, n.FromStart = in(32), 0
	if got := cutOuts(l, p); !reflect.DeepEqual(got, []CutOut{n, a}) {
		t.Errorf("from the right: %+v", got)
	}
	p.Outline = geom.Rect{Min: geom.Pt{X: in(40), Y: in(10)}, Max: geom.Pt{X: in(100), Y: in(90)}}.Poly()
	if got := cutOuts(l, p); len(got) != 1 {
		t.Errorf("what is routed after hanging is no notch: %+v", got)
	}
}

// TestOrderTrack: oracle: hand sums. 250 in of floor track, headers of 50, 50
// and 30 in: one length takes 50 + 50, a second 30, the floor three of 120 in;
// of slip track 240 in take two.
func TestOrderTrack(t *testing.T) {
	tk := &taker{sys: measure.InchPound, res: &Result{Framing: []Item{
		{Item: ItemTrack, Spec: "T", Length: in(200)}, {Item: ItemHeader, Spec: "T", Length: in(50), Count: 2}, {Item: ItemSill, Spec: "T", Length: in(30), Count: 1},
		{Item: ItemTrack, Spec: "T", Length: in(50), Note: "head"}, {Item: ItemSlipTrack, Spec: "T", Length: in(240)}, {Item: ItemStud, Length: in(100), Count: 9},
		{Item: ItemHeader, Spec: "U", Length: in(130), Count: 1}}}}
	tk.in.Settings = Defaults(measure.InchPound)
	var y tally
	tk.orderTrack(&y)
	want := []Item{{Item: ItemSlipTrack, Spec: "T", Length: in(120), Count: 2}, {Item: ItemTrack, Spec: "T", Length: in(120), Count: 5}, {Item: ItemTrack, Spec: "U", Length: in(120), Count: 2}}
	if got := y.sorted(); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
}

// TestOrderFinish: oracle: hand sums: 480 ft of tape and 10 % are two rolls of
// 500 ft, 454 ft one; 9 gal are two pails of 4.5, a drop more three; bead of
// 250 in is 120 + 120 + 10, the 10 beside an 84 in one of a 96.
func TestOrderFinish(t *testing.T) {
	for _, c := range []struct {
		feet, gal   float64
		rolls, pail int
	}{{454, 9, 1, 2}, {480, 9.01, 2, 3}} {
		k := grouped{"", ItemBead, ""}
		tk := &taker{sys: measure.InchPound, res: &Result{Finishing: []Item{{Item: ItemTape, Length: in(12 * c.feet)}, {Item: ItemCompound, Litres: c.gal * litresPerGallon}}},
			beads: map[grouped][]Length{k: inches(250, 84)}, beadKeys: []grouped{k}}
		tk.in.Settings = Defaults(measure.InchPound)
		var y tally
		tk.orderFinish(&y)
		got := y.sorted()
		if n := countOf(got, ItemTape, "roll of 500 lf"); n != c.rolls {
			t.Errorf("%v ft: %d rolls, want %d: %+v", c.feet, n, c.rolls, got)
		}
		if n := countOf(got, ItemCompound, "pail of 4.5 gal"); n != c.pail {
			t.Errorf("%v gal: %d pails, want %d: %+v", c.gal, n, c.pail, got)
		}
		if got := [2]int{beadCount(got, in(96)), beadCount(got, in(120))}; got != [2]int{1, 2} {
			t.Errorf("bead of 8 and 10 ft: %v, want 1 and 2", got)
		}
	}
}

func beadCount(items []Item, length Length) (n int) {
	for _, it := range items {
		if it.Item == ItemBead && it.Length == length {
			n += it.Count
		}
	}
	return n
}

// TestOrderStock_special: what is longer than stock comes cut to the next foot,
// or 100 mm. Oracle: by hand.
func TestOrderStock_special(t *testing.T) {
	for _, c := range []struct {
		sys         measure.System
		piece, want Length
	}{{measure.InchPound, in(241), in(252)}, {measure.InchPound, in(252), in(252)}, {measure.Metric, 6010 * mm, 6100 * mm}} {
		tk := &taker{sys: c.sys}
		var y tally
		tk.orderStock(&y, grouped{item: ItemStud}, []Length{c.piece}, Defaults(c.sys).StudStock)
		if got := y.sorted(); len(got) != 1 || got[0].Length != c.want || got[0].Count != 1 || got[0].Note == "" {
			t.Errorf("%v: %+v, want one of %v", c.piece, got, c.want)
		}
	}
}

// TestOrderScrews: oracle: hand sums by storey: 700 and 301 board screws are two
// boxes of 1000, 999 + 1 framing screws two of 500.
func TestOrderScrews(t *testing.T) {
	tk := &taker{res: &Result{Screws: []ScrewCount{{Face: "A", Item: "screw x", Count: 700}, {Face: "A", Item: "screw x", Count: 301}, {Face: "B", Item: "screw x", Count: 1000}},
		Framing: []Item{{Item: ItemFrameScrew, Spec: "p", Count: 999}, {Item: ItemFrameScrew, Spec: "p", Count: 1}, {Item: ItemFixing, Spec: "floor", Count: 7}}}}
	tk.in.Settings = Defaults(measure.InchPound)
	tk.in.Settings.FramingBox = 500
	tk.layouts = []*layout.Layout{{Run: &run.Run{Storey: "1", Faces: []*run.Face{{ID: "A"}}}}, {Run: &run.Run{Storey: "2", Faces: []*run.Face{{ID: "B"}}}}}
	var y tally
	tk.orderScrews(&y)
	want := []Item{{Item: ItemFrameScrew, Spec: "p, box of 500", Count: 2, Note: "1000 needed"}, {Item: ItemFixing, Spec: "floor", Count: 7},
		{Item: "screw x", Spec: "box of 1000", Count: 2, Storey: "1", Note: "1001 needed"}, {Item: "screw x", Spec: "box of 1000", Count: 1, Storey: "2", Note: "1000 needed"}}
	if got := y.sorted(); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v", got)
	}
}

// TestOrderFill: oracle: 29 fl oz at 1/4 in give 88.8 ft (O-34): 88 ft take one
// cartridge, 60 and 30 ft of one kind two.
func TestOrderFill(t *testing.T) {
	tk := &taker{res: &Result{Sealant: []Item{{Item: ItemAcoustic, Length: in(12 * 88)}, {Item: ItemFirestop, Spec: "floor", Length: in(720)}, {Item: ItemFirestop, Spec: "head", Length: in(360)}}}}
	tk.in.Settings = Defaults(measure.InchPound)
	var y tally
	tk.orderFill(&y)
	if a, f := countOf(y.items, ItemAcoustic, "cartridge of 29 fl oz"), countOf(y.items, ItemFirestop, ""); a != 1 || f != 2 {
		t.Errorf("%d and %d cartridges, want 1 and 2: %+v", a, f, y.items)
	}
}

// TestJambMil: oracle: the table of settings: the next heavier, never less.
func TestJambMil(t *testing.T) {
	s := Defaults(measure.InchPound)
	for mil, want := range map[int]int{15: 33, 18: 33, 27: 33, 30: 33, 33: 43, 43: 54, 54: 68, 68: 97, 97: 97, 118: 118} {
		if got := s.jambMil(mil); got != want {
			t.Errorf("%d mil: %d, want %d", mil, got, want)
		}
	}
}

// TestDefaults: sizes as sold. Source: Dagostino and Peterson, Estimating in
// Building Construction (studs 8 to 16 ft by 2 ft); the others stand in the
// source of Defaults.
func TestDefaults(t *testing.T) {
	ft := func(xs ...float64) []Length {
		for i := range xs {
			xs[i] *= 12
		}
		return inches(xs...)
	}
	s := Defaults(measure.InchPound)
	if !reflect.DeepEqual(s.StudStock, ft(8, 10, 12, 14, 16, 20)) || !reflect.DeepEqual(s.BeadStock, ft(8, 10)) ||
		!reflect.DeepEqual([]Length{s.TrackStock, s.TapeRoll, s.Kickers, s.PlateEvery, s.BridgeEvery, s.LiftReach}, ft(10, 500, 4, 2, 10, 5)) {
		t.Errorf("%+v", s)
	}
	if s.ScrewBox != 1000 || s.FramingBox != 1000 || s.TapeWaste != 10 || math.Abs(s.PailLitres-17.034) > 0.001 || math.Abs(s.Cartridge-857.6) > 0.1 || s.Bead != in(0.25) {
		t.Errorf("%+v", s)
	}
	m := Defaults(measure.Metric)
	want := []Length{2400, 2700, 3000, 3600, 4200, 4800, 6000, 3000, 2400, 3000, 150_000, 6, 1200, 600, 3000, 1500}
	got := append(append(append([]Length{}, m.StudStock...), m.TrackStock), m.BeadStock...)
	for i, x := range append(got, m.TapeRoll, m.Bead, m.Kickers, m.PlateEvery, m.BridgeEvery, m.LiftReach) {
		if x != want[i]*mm {
			t.Errorf("size %d is %v mm, want %v", i, x.MM(), int64(want[i]))
		}
	}
	if m.PailLitres != 17 || m.Cartridge != 600 {
		t.Errorf("%+v", m)
	}
}

// TestCompound_sums: oracle: hand sums of width × thickness. 100 in of tapered
// joint at level 1: 4/32 sq in, 12.5 cu in; at 2 with 5/32 more 28.125; at 4 with 8/64
// and 14/128 51.5625. A butt joint at 4: 4/32 + 8/32 + 14/64 + 18/64, 87.5.
func TestCompound_sums(t *testing.T) {
	for _, c := range []struct {
		item  string
		level int
		want  float64
	}{{"tapered joint", 0, 0}, {"tapered joint", 1, 12.5}, {"tapered joint", 2, 28.125}, {"tapered joint", 3, 40.625}, {"tapered joint", 4, 51.5625}, {"tapered joint", 5, 51.5625},
		{"tapered joint", 9, 51.5625}, {"tapered joint", -1, 0}, {"butt joint", 4, 87.5}, {"cut joint", 4, 87.5}, {"tapered-to-cut joint", 4, 73.4375},
		{ItemInside, 4, 21.875}, {ItemOutside, 4, 12.5}, {ItemBead, 4, 43.75}, {ItemControlBead, 4, 31.25}, {ItemTrim, 4, 21.875}} {
		var y tally
		(&taker{}).compound([]taped{{item: c.item, level: c.level, len: in(100)}}, &y)
		got := 0.0
		for _, it := range y.items {
			got += it.Litres / litresPerCubicInch
		}
		if math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s at %d: %v cu in, want %v", c.item, c.level, got, c.want)
		}
	}
}

// TestSpotAndSkim: oracle: hand sums. 100 fasteners of a 48 x 96 in sheet at
// level 4: three coats of a spot of 1-1/2 in by 1/64; level 5 adds 1/128 in over
// the sheet, to the ceiling where there is one.
func TestSpotAndSkim(t *testing.T) {
	spot := 100 * 3 * math.Pi * 0.75 * 0.75 / 64
	for _, c := range []struct {
		name         string
		level, ply   int
		bottom, ceil float64
		want         float64
	}{
		{"level 1", 1, 1, 0, 0, 0}, {"level 2", 2, 1, 0, 0, spot / 3}, {"level 3", 3, 1, 0, 0, spot * 2 / 3}, {"level 4", 4, 1, 0, 0, spot}, {"level 5", 5, 1, 0, 0, spot + 48*96/128.},
		{"level 5 to a ceiling at half", 5, 1, 0, 48, spot + 48*48/128.}, {"to a ceiling at its top", 5, 1, 0, 96, spot + 48*96/128.}, {"above the ceiling", 5, 1, 100, 100, 0},
		{"the covered ply", 4, 0, 0, 0, 0},
	} {
		f := &run.Face{Finish: c.level, Ceiling: in(c.ceil), Plies: []run.Ply{{Number: 1}}}
		p := layout.Piece{ID: "p", Ply: c.ply, Face: f, Area: measure.Times(in(48), in(96)),
			Outline: geom.Rect{Min: geom.Pt{Y: in(c.bottom)}, Max: geom.Pt{X: in(48), Y: in(c.bottom + 96)}}.Poly()}
		var y tally
		(&taker{spots: map[string]int{"p": 100}}).spotAndSkim(&layout.Layout{Run: &run.Run{}, Pieces: []layout.Piece{p}}, &y)
		got := 0.0
		for _, it := range y.items {
			got += it.Litres / litresPerCubicInch
		}
		if math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v cu in, want %v", c.name, got, c.want)
		}
	}
}

// TestBridging: oracle: a row to 10 ft, one more for each further: a top at 120
// in takes one, a step higher two.
func TestBridging(t *testing.T) {
	for _, c := range []struct{ top, rows Length }{{in(60), 1}, {in(120), 1}, {in(120) + 2, 2}, {in(240), 2}, {in(241), 3}} {
		w := caseC1()
		w.fixed = c.top
		if got := lengthOf(w.build().take().Framing, ItemBridging, ""); got != c.rows*in(240) {
			t.Errorf("top at %v in: %v in, want %d rows of 240", c.top.Inches(), got.Inches(), c.rows)
		}
	}
}

// TestKickers_limits: a wall that ends an inch above its ceiling is taken to end
// at it; doors add two; a wall type that is to stop above the ceiling has them
// wherever the ceiling is. Oracle: hand count, 20 ft at 48 in: 6.
func TestKickers_limits(t *testing.T) {
	for _, c := range []struct {
		name         string
		ceiling      Length
		kind         job.HeightKind
		door, window bool
		want         int
	}{
		{"an inch", in(113), 0, false, false, 0}, {"more", in(112.9), 0, false, false, 6}, {"a door", in(108), 0, true, false, 8}, {"a window", in(108), 0, false, true, 6},
		{"no ceiling known", 0, 0, false, false, 0}, {"so asked for", 0, job.AboveCeiling, false, false, 6},
	} {
		w := caseC1()
		w.fixed, w.ceiling = in(114), c.ceiling
		if c.door || c.window {
			h := hole{u0: in(60), u1: in(90), v0: in(0.5), v1: in(84)}
			if c.window {
				h.v0 = in(40)
			}
			w.holes = []hole{h}
		}
		b := w.build()
		b.run.Make.Sides[1].Height.Kind = c.kind
		if got := countOf(b.take().Framing, ItemKicker, ""); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// TestTallest: the higher face, of equals the longer. Oracle: the rule.
func TestTallest(t *testing.T) {
	face := func(side run.Side, length, top float64, boarded bool) *run.Face {
		return &run.Face{Side: side, Length: in(length), Top: geom.Level(0, in(length), in(top)), Boarded: boarded}
	}
	low, high, long := face(run.Left, 200, 100, true), face(run.Right, 100, 120, true), face(run.Right, 150, 120, true)
	end, bare := face(run.End, 5, 130, true), face(run.Left, 300, 130, false)
	for _, c := range []struct {
		faces []*run.Face
		want  *run.Face
	}{{[]*run.Face{low, high}, high}, {[]*run.Face{high, long}, long}, {[]*run.Face{long, high}, long}, {[]*run.Face{end, bare, low}, low}, {[]*run.Face{end, bare}, nil}} {
		if got := tallest(&run.Run{Faces: c.faces}); got != c.want {
			t.Errorf("%+v, want %+v", got, c.want)
		}
	}
}

// TestFrameScrews: oracle: hand count from the rule: a jamb 4 under a fixed
// top and 2 under a slip track; a cripple over a head the same, one under a
// sill 4; a header and a sill 4 each, at the jamb's steel.
func TestFrameScrews(t *testing.T) {
	for _, fixed := range []bool{true, false} {
		w := caseC1()
		w.holes = []hole{{u0: in(60), u1: in(90), v0: in(40), v1: in(84)}, {u0: in(120), u1: in(156), v0: in(0.5), v1: in(84)}}
		if fixed {
			w.fixed = in(118)
		}
		b := w.build()
		jambs, over, under := 0, 0, 0
		for _, s := range b.lay.Studs {
			switch {
			case s.Kind == layout.JambStud:
				jambs++
			case s.Kind == layout.CrippleStud && s.Bottom == 0:
				under++
			case s.Kind == layout.CrippleStud:
				over++
			}
		}
		n := 2
		if fixed {
			n = 4
		}
		res := b.take()
		got := [2]int{countOf(res.Framing, ItemFrameScrew, "pan head 1/2 in C954"), countOf(res.Framing, ItemFrameScrew, "pan head 3/8 in C1002")}
		if want := [2]int{8*n + 12, over*n + under*4}; got != want || jambs != 8 || over == 0 || under == 0 {
			t.Errorf("fixed top %v: %v, want %v (%d jambs, %d over, %d under)", fixed, got, want, jambs, over, under)
		}
	}
}

// TestHeaders: oracle: the rule: rough opening and HeaderExtra; a sill where it
// does not stand on the floor; a penetration that fits between studs has none,
// nor has an opening to the deck a header.
func TestHeaders(t *testing.T) {
	b := caseC1().build()
	extra := b.job.Rules.HeaderExtra
	for _, c := range []struct {
		name           string
		o              run.Opening
		headers, sills int
		width          Length
	}{
		{"door", run.Opening{Width: in(36), RoughWidth: in(38), Head: in(84), RoughHead: in(85)}, 1, 0, in(38)},
		{"window", run.Opening{Width: in(36), Sill: in(36), Head: in(84)}, 1, 1, in(36)},
		{"sill in the floor gap", run.Opening{Width: in(36), Sill: b.job.Rules.FloorGap + in(0.5), Head: in(84)}, 1, 0, in(36)},
		{"to the deck", run.Opening{Width: in(36), Head: in(118), RoughHead: in(119.25)}, 0, 0, 0},
		{"pipe between studs", run.Opening{Kind: plan.Penetration, Width: b.run.Spacing - b.job.Rules.Flange, Sill: in(90), Head: in(94)}, 0, 0, 0},
		{"wider duct", run.Opening{Kind: plan.Penetration, Width: b.run.Spacing - b.job.Rules.Flange + 1, Sill: in(90), Head: in(94)}, 1, 1, b.run.Spacing - b.job.Rules.Flange + 1},
	} {
		c.o.Centre = in(100)
		b.run.Openings = []run.Opening{c.o}
		res := b.take()
		if h, s := countOf(res.Framing, ItemHeader, ""), countOf(res.Framing, ItemSill, ""); h != c.headers || s != c.sills {
			t.Errorf("%s: %d headers, %d sills, want %d and %d", c.name, h, s, c.headers, c.sills)
		}
		if c.headers > 0 {
			if got := lengthOf(res.Framing, ItemHeader, ""); got != c.width+extra {
				t.Errorf("%s: header of %v in, want %v", c.name, got.Inches(), (c.width + extra).Inches())
			}
		}
	}
}

// TestChecks_sums: oracle: hand sums. 10 sheets of 4 x 10 over 395.8 sf hung;
// the rule of thumb gives 395.8/40 = 9.9, so 10, with 5 % 11; track 2 × 20 ft
// and 8 % are 43.2 ft, 5 lengths.
func TestChecks_sums(t *testing.T) {
	b := caseC1().build()
	b.run.Openings = []run.Opening{{Kind: plan.Door, Width: in(36), Head: in(84), Centre: in(100)}, {Kind: plan.Penetration, Width: in(4), Sill: in(90), Head: in(94), Centre: in(30)}}
	given := b.input()
	given.Bought = []Bought{{Board: "5/8 X", Width: in(48), Length: in(120), Storey: "1", Count: 10}}
	given.Runs.Junctions = []run.Junction{{Kind: run.Corner}, {Kind: run.Tee}, {Kind: run.Cross}}
	sf := 2 * 240 * 118.75 / 144
	seen := map[string]bool{}
	for _, c := range Take(given).Checks {
		want, ok := map[string][2]float64{
			"lengths of track":             {5, 5},   // floor 204 in and a header of its own: 3; slip track 240: 2
			"studs, cripples not counted":  {16, 27}, // 16 + 3 + 2 + 4 = 25, 5 % 26.25
			"board bought over board hung": {100 * (400/sf - 1), 5}, "tape": {9 * 118.75 / 12, sf * 0.38}, "board screws": {413, sf}, "doors": {1, 0},
		}[c.Name]
		name := c.Name
		if !ok {
			name = c.Name + ": " + c.Basis
			want, ok = map[string][2]float64{
				"sheets cut from: area hung by the mean sheet": {10, sf / 40}, "sheets cut from: rule of thumb: every ply's area, openings under 32 sf not taken off, 5 %": {10, 11},
				"joint compound: published: 5 gal per 1000 sf, looks low": {0, sf * 0.005}, "joint compound: published: 11 gal per 1000 sf": {0, sf * 0.011},
			}[name]
		}
		if !ok {
			continue
		}
		seen[name] = true
		if want[0] != 0 && math.Abs(c.Value-want[0]) > 1e-6 || math.Abs(c.Against-want[1]) > 1e-6 {
			t.Errorf("%s: %v against %v, want %v", name, c.Value, c.Against, want)
		}
	}
	if len(seen) != 10 {
		t.Errorf("%d of 10 lines: %v", len(seen), seen)
	}
	if got := (Check{Value: 11, Against: 10}).Difference(); math.Abs(got-10) > 1e-9 {
		t.Errorf("difference %v %%, want 10", got)
	}
	if got := (Check{Value: 11}).Difference(); got != 0 {
		t.Errorf("nothing to compare with: %v", got)
	}
}

// TestWrapped: oracle: hand sums: a bead round a wrapped 30 x 80 in doorway
// is 2 × 80 + 30, round a window 30 in more; a framed opening has none.
func TestWrapped(t *testing.T) {
	hole := func(v0 float64, wrapped bool) run.Hole {
		return run.Hole{Wrapped: wrapped, Rect: geom.Rect{Min: geom.Pt{Y: in(v0)}, Max: geom.Pt{X: in(30), Y: in(v0 + 80)}}}
	}
	f := &run.Face{Boarded: true, Bottom: in(0.5), Holes: []run.Hole{hole(0, false), hole(1, true), hole(0, false), hole(1.1, true)}}
	bare := &run.Face{Holes: f.Holes}
	var got []Length
	for _, x := range (&taker{}).wrappedLines(&run.Run{Faces: []*run.Face{bare, f}}) {
		got = append(got, x.len)
		if x.item != ItemBead || x.tape {
			t.Errorf("%+v", x)
		}
	}
	if !reflect.DeepEqual(got, inches(190, 220)) {
		t.Errorf("%v, want 190 and 220 in", got)
	}
}

// TestFloorTrack: oracle: by hand: a door of 36 in by its rough width of 38
// about its centre leaves the track on both sides.
func TestFloorTrack(t *testing.T) {
	b := caseC1().build()
	tk := &taker{set: b.job.Rules}
	for _, c := range []struct {
		o    run.Opening
		want []span
	}{
		{run.Opening{Centre: in(60), Width: in(36), RoughWidth: in(38)}, spans(0, 41, 79, 240)},
		{run.Opening{Centre: in(60), Width: in(36)}, spans(0, 42, 78, 240)},
		{run.Opening{Centre: in(60), Width: in(36), Sill: in(30)}, spans(0, 240)},
	} {
		b.run.Openings = []run.Opening{c.o}
		if got := tk.floorTrack(b.run); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%+v: %v, want %v", c.o, got, c.want)
		}
	}
}

// TestAlongTop: oracle: Pythagoras: 240 in rising 70 in are 250 in.
func TestAlongTop(t *testing.T) {
	sloped := geom.Profile{{Y: in(100)}, {X: in(240), Y: in(170)}}
	face := func(head run.TopKind, length Length, top geom.Profile) []*run.Face {
		return []*run.Face{{Boarded: true, Side: run.Left, Head: head, Length: length, Top: top}}
	}
	for _, c := range []struct {
		name string
		r    run.Run
		want Length
	}{
		{"deck", run.Run{Length: in(240), Deck: sloped, Faces: face(run.Slip, in(100), geom.Level(0, in(100), in(90)))}, in(250)},
		{"fixed top", run.Run{Length: in(240), Deck: sloped, Faces: face(run.FixedTop, in(240), geom.Level(0, in(240), in(90)))}, in(240)},
		{"sloped fixed top of a shorter face", run.Run{Length: in(244), Faces: face(run.FixedTop, in(240), sloped)}, in(254)},
		{"a face of half the run", run.Run{Length: in(480), Faces: face(run.FixedTop, in(240), sloped)}, in(490)},
		{"of less", run.Run{Length: in(480) + 2, Faces: face(run.FixedTop, in(240), sloped)}, in(480) + 2},
		{"no board", run.Run{Length: in(77)}, in(77)},
	} {
		if got := alongTop(&c.r); got != c.want {
			t.Errorf("%s: %v in, want %v", c.name, got.Inches(), c.want.Inches())
		}
	}
}

// TestSingle: of studs that stand side by side one line is screwed: that beside
// a hole, else the one nearer to the piece's side, else the first; two beside
// two holes both. Oracle: the rule, by hand.
func TestSingle(t *testing.T) {
	box := geom.Rect{Max: geom.Pt{X: in(48), Y: in(96)}}
	at := func(us ...float64) (out []studLine) {
		for _, u := range us {
			out = append(out, studLine{u: in(u)})
		}
		return out
	}
	beside := func(lines []studLine, ks ...int) []studLine {
		for _, k := range ks {
			lines[k].holes = []geom.Rect{{}}
		}
		return lines
	}
	for _, c := range []struct {
		name  string
		lines []studLine
		want  []Length
	}{
		{"apart", at(10, 12, 40), inches(10, 12, 40)}, {"near the left", at(10, 11.9), inches(10)}, {"near the right", at(36, 37), inches(37)},
		{"as near to both sides", at(23.5, 24.5), inches(23.5)}, {"one beside a hole", beside(at(10, 11), 1), inches(11)}, {"the other", beside(at(36, 37), 0), inches(36)},
		{"a pier", beside(at(10, 11, 30), 0, 1), inches(10, 11, 30)}, {"at the very side", beside(at(0, 1), 1), inches(1)},
	} {
		var got []Length
		for _, x := range single(c.lines, box) {
			got = append(got, x.u)
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestReturnLines: oracle: the rule: under 3 in one line in the middle, else two
// at the quarters; a sliver under twice the least distance none.
func TestReturnLines(t *testing.T) {
	s := NewScrewer(caseC1().build().job, Defaults(measure.InchPound))
	for _, c := range []struct {
		width float64
		want  []Length
	}{{0.7, nil}, {0.75, inches(10.375)}, {2.9, inches(11.45)}, {3, inches(10.75, 12.25)}, {4.875, inches(11.21875, 13.65625)}} {
		for _, side := range []run.Side{run.End, run.Reveal} {
			p := &layout.Piece{Face: &run.Face{Side: side}, Outline: geom.Rect{Min: geom.Pt{X: in(10)}, Max: geom.Pt{X: in(10 + c.width), Y: in(96)}}.Poly()}
			var got []Length
			for _, x := range s.lines(&layout.Layout{}, p) {
				got = append(got, x.u)
				if !x.edge {
					t.Errorf("%v in: a line in the field", c.width)
				}
			}
			if !reflect.DeepEqual(got, c.want) {
				t.Errorf("%v in: %v, want %v", c.width, got, c.want)
			}
		}
	}
}

// TestSealant_which: a rated wall takes firestop, an insulated one acoustical
// sealant, a plain one only round what goes through it. Oracle: hand sums on
// 20 ft: head 240, floor 240 a side.
func TestSealant_which(t *testing.T) {
	for _, c := range []struct {
		name, rating, wool string
		fixed              bool
		item               string
		head, floor        Length
	}{
		{"plain", "", "", false, "", 0, 0}, {"insulated", "", "wool", false, ItemAcoustic, in(480), in(480)}, {"rated", "1 h", "", false, ItemFirestop, in(480), in(480)},
		{"rated and insulated", "1 h", "wool", false, ItemFirestop, in(480), in(480)}, {"not to the deck", "", "wool", true, ItemAcoustic, 0, in(480)},
	} {
		w := caseC1()
		w.insulate = c.wool
		if c.fixed {
			w.fixed = in(100)
		}
		b := w.build()
		b.run.Rating = c.rating
		res := b.take()
		if h, f := lengthOf(res.Sealant, c.item, "head of wall"), lengthOf(res.Sealant, c.item, "floor"); h != c.head || f != c.floor {
			t.Errorf("%s: head %v, floor %v in: %+v", c.name, h.Inches(), f.Inches(), res.Sealant)
		}
		for _, it := range res.Sealant {
			if it.Item != c.item {
				t.Errorf("%s: %s", c.name, it.Item)
			}
		}
	}
}

// TestFloorBead: oracle: by hand: a hole that begins within half an inch of the
// board's bottom interrupts the bead.
func TestFloorBead(t *testing.T) {
	for _, c := range []struct {
		v0   float64
		want Length
	}{{0, in(70)}, {1, in(70)}, {1.1, in(100)}} {
		f := &run.Face{Length: in(100), Bottom: in(0.5), Holes: []run.Hole{{Rect: geom.Rect{Min: geom.Pt{X: in(20), Y: in(c.v0)}, Max: geom.Pt{X: in(50), Y: in(80)}}}}}
		if got := (&taker{}).floorBead(f); got != c.want {
			t.Errorf("hole from %v in: %v in, want %v", c.v0, got.Inches(), c.want.Inches())
		}
	}
}

// TestNetArea: oracle: trapezoids by hand: 100 in wide, 90 to 110 in high above
// a bottom of 10: 10,000 sq in; a hole counts only where board is.
func TestNetArea(t *testing.T) {
	for _, c := range []struct{ v0, v1, want float64 }{{20, 60, 10_000 - 400}, {0, 60, 10_000 - 500}, {60, 300, 10_000 - 10*(102-60)}, {130, 140, 10_000}} {
		f := &run.Face{Length: in(100), Bottom: in(10), Top: geom.Profile{{Y: in(100)}, {X: in(100), Y: in(120)}},
			Holes: []run.Hole{{Rect: geom.Rect{Min: geom.Pt{X: in(10), Y: in(c.v0)}, Max: geom.Pt{X: in(20), Y: in(c.v1)}}}}}
		if got := netArea(f) / squareMetresPerSqFt * 144; math.Abs(got-c.want) > 1e-6 {
			t.Errorf("hole %v to %v: %v sq in, want %v", c.v0, c.v1, got, c.want)
		}
	}
}

// TestStocking: oracle: the rule: a whole sheet of the side hung first is stood
// out in its room, of the other side waits; one that is cut, the spare ones and
// sheets of no named piece go to the cutting station. Counts add up.
func TestStocking(t *testing.T) {
	b := caseC1().build()
	b.lay.Faces[1].Face.Room, b.lay.Faces[1].Face.Room = "", "101"
	first, other := b.lay.Faces[0].Face, b.lay.Faces[1].Face
	var a, c []string
	for i := range b.lay.Pieces {
		if p := &b.lay.Pieces[i]; p.Face == first {
			a = append(a, p.ID)
		} else {
			c = append(c, p.ID)
		}
	}
	given := b.input()
	sheet := func(n int, pieces ...string) Bought {
		return Bought{Board: "5/8 X", Width: in(48), Length: in(120), Storey: "1", Count: n, Pieces: pieces}
	}
	given.Bought = []Bought{sheet(1, a[0]), sheet(1, a[1]), sheet(1, c[0]), sheet(1, a[2], a[3]), sheet(5), sheet(1, "unknown")}
	got := map[string]int{}
	for _, it := range Take(given).Stocking {
		got[it.Area] += it.Count
	}
	want := map[string]int{placeName(b.lay, &layout.Piece{Face: first}): 2, placeName(b.lay, &layout.Piece{Face: other}): 1, CuttingStation: 7 + 2} // 10 take 2 spare
	if !reflect.DeepEqual(got, want) || len(want) != 3 {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestAssumedShare: oracle: 3 of 4 parts rest on something assumed.
func TestAssumedShare(t *testing.T) {
	sure, not := &layout.Layout{Run: &run.Run{}}, &layout.Layout{Run: &run.Run{Assumed: []string{"height"}}}
	weight := func(l *layout.Layout) float64 {
		if l == sure {
			return 1
		}
		return 3
	}
	if got := AssumedShare([]*layout.Layout{nil, {}, sure, not}, weight); got != 0.75 {
		t.Errorf("%v, want 0.75", got)
	}
	if got := AssumedShare(nil, weight); got != 0 {
		t.Errorf("of nothing: %v", got)
	}
}

// TestControlJoints: one joint through both sides is one place; a level joint
// and a joint of another kind are none. Oracle: hand count.
func TestControlJoints(t *testing.T) {
	b := caseC1().build()
	l, r := b.face(run.Left), b.face(run.Right)
	joint := func(f *run.Face, station float64, kind layout.JointKind) layout.Joint {
		u := f.U(in(station))
		return layout.Joint{Face: f, Kind: kind, From: geom.Pt{X: u}, To: geom.Pt{X: u, Y: in(100)}}
	}
	b.lay.Joints = []layout.Joint{joint(l, 100, layout.ControlJoint), joint(r, 100, layout.ControlJoint), joint(r, 180, layout.ControlJoint),
		joint(r, 50, layout.Butt), {Face: r, Kind: layout.ControlJoint, From: geom.Pt{Y: in(60)}, To: geom.Pt{X: in(240), Y: in(60)}}}
	if got := countOf(b.take().Framing, ItemPairs, ""); got != 2 {
		t.Errorf("%d, want 2", got)
	}
}

// TestFrameScrews_metric: oracle: as in inches; a corner and a tee stud as a
// jamb, at the wall's own steel.
func TestFrameScrews_metric(t *testing.T) {
	b := caseC7().build()
	b.lay.Studs[0].Kind, b.lay.Studs[1].Kind = layout.CornerStud, layout.TeeStud
	b.lay.Studs[2].Kind = layout.JambStud
	res := b.take()
	if thin, thick := countOf(res.Framing, ItemFrameScrew, "pan head 10 mm C1002"), countOf(res.Framing, ItemFrameScrew, "pan head 13 mm C954"); thin != 4 || thick != 2 {
		t.Errorf("%d and %d, want 4 and 2: %+v", thin, thick, res.Framing)
	}
}

// TestBeads_order: beads of several runs are gathered by storey and kind, each
// kind once. Oracle: hand count: four wall ends of 118-3/4 in, two a run, take
// four lengths of 10 ft.
func TestBeads_order(t *testing.T) {
	free := run.FaceEnd{Kind: run.EndFree, Face: "-"}
	ra, la, j := ended("A", 0, in(120), faceEnds{"A-L1": {free, {Kind: run.EndStructure}}, "A-R1": {{Kind: run.EndStructure}, free}})
	rb, lb, _ := ended("B", 0, in(120), faceEnds{"B-L1": {free, {Kind: run.EndStructure}}, "B-R1": {{Kind: run.EndStructure}, free}})
	res := Take(Input{Job: j, Runs: &run.Set{Runs: []*run.Run{ra, rb}}, Layouts: []*layout.Layout{lb, nil, la}})
	if n, trim := beadCount(res.Order, in(120)), countOf(res.Order, ItemTrim, ""); n != 4 || trim != 4 {
		t.Errorf("%d beads, %d trims, want 4 and 4: %+v", n, trim, res.Order)
	}
	if res.CutList[0].Run != "A" || res.CutList[len(res.CutList)-1].Run != "B" {
		t.Error("runs by their marks, whatever the order given")
	}
}

// TestFinishLevels: what is above the ceiling gets fire tape, level 1, whatever
// the side's level, and a side of level 0 none. Oracle: GA-214 as in passes.
func TestFinishLevels(t *testing.T) {
	for level, want := range map[int][2]int{0: {0, 0}, 1: {1, 1}, 4: {4, 1}, 5: {5, 1}} {
		two := both(taped{}, split{in(3), in(2)}, level)
		if two[0].level != want[0] || two[1].level != want[1] || two[0].len != in(3) || two[1].len != in(2) {
			t.Errorf("level %d: %+v", level, two)
		}
	}
}

// TestVolumeNote: oracle: 231 cu in to the gallon: 10 gal are 37.9 L.
func TestVolumeNote(t *testing.T) {
	for sys, want := range map[measure.System]string{measure.InchPound: "10 gal", measure.Metric: "37.9 L"} {
		items := []Item{{Item: ItemTape}, {Item: ItemCompound, Litres: 10 * litresPerGallon}}
		(&taker{sys: sys}).volumeNote(items)
		if items[0].Note != "" || items[1].Note != want {
			t.Errorf("%+v, want %s", items, want)
		}
	}
}

// TestChecks_metric: oracle: 380 lf per 1000 sf is 1.2467 m per m².
func TestChecks_metric(t *testing.T) {
	b := caseC7().build()
	res := b.take()
	area := 2 * 5.9 * (b.face(run.Left).Top.At(0) - b.face(run.Left).Bottom).Metres()
	var tape Length
	litres := 0.0
	for _, f := range res.Finishing {
		switch f.Item {
		case ItemTape:
			tape += f.Length
		case ItemCompound:
			litres += f.Litres
		}
	}
	n := 0
	for _, c := range res.Checks {
		switch c.Name + c.Unit {
		case "tapem":
			n++
			if math.Abs(c.Value-tape.Metres()) > 1e-9 || math.Abs(c.Against-1.24672*area) > 1e-3 {
				t.Errorf("%+v, want %v against %v", c, tape.Metres(), 1.24672*area)
			}
		case "joint compoundL": // 5 gal per 1000 sf are 0.20373 L/m², 11 gal 0.44820
			n++
			if math.Abs(c.Value-litres) > 1e-9 || math.Abs(c.Against-0.20373*area) > 1e-3 && math.Abs(c.Against-0.44820*area) > 1e-3 {
				t.Errorf("%+v, area %v", c, area)
			}
		case "board per length of wallm²/m":
			n++
			if math.Abs(c.Value-area/5.9) > 1e-3 {
				t.Errorf("%+v, area %v", c, area)
			}
		}
	}
	if n != 4 {
		t.Errorf("%d of 4 lines: %+v", n, res.Checks)
	}
}

// TestCost_pieces: oracle: hand sums: 11 cuts, 3 added studs, 413 screws of C-1.
func TestCost_pieces(t *testing.T) {
	b := caseC1().build()
	for i := 1; i <= 3; i++ {
		b.lay.Studs[i].Kind = layout.AddedStud
	}
	b.job.Prices = &job.Prices{Cut: 1_0000, Stud: 5_0000, Screw: 10_0000, Add: []job.AddOn{{Name: "sum", Amount: 7}, {Name: "share", Percent: 3}}}
	given := b.input()
	given.Cuts = 11
	want := map[string][2]float64{"cuts": {11, 11_0000}, "added studs": {3, 15_0000}, "board screws": {0.413, 4_1300}, "sum": {1, 0}, "share": {1, 0}}
	c := Take(given).Cost
	for _, l := range c.Lines {
		if w, ok := want[l.Item]; ok {
			delete(want, l.Item)
			if math.Abs(l.Quantity-w[0]) > 1e-9 || float64(l.Amount) != w[1] || l.Percent != (l.Item == "share") {
				t.Errorf("%+v, want %v", l, w)
			}
		}
	}
	if len(want) != 0 || c.Total != 30_1300 {
		t.Errorf("missing %v, total %d", want, c.Total)
	}
}

// TestFlutes_which: a deck counts on its storey or on all; one without flutes
// is passed over, one whose pitch is not given is told. Oracle: hand count as
// in TestFlutes.
func TestFlutes_which(t *testing.T) {
	flat, deep := job.Deck{}, job.Deck{FluteDepth: in(1.5), FlutePitch: in(6), FluteAlong: "y"}
	here, there, noPitch, noDepth := deep, deep, deep, deep
	here.Storey, there.Storey, noPitch.FlutePitch, noDepth.FluteDepth = "1", "2", 0, 0
	for _, c := range []struct {
		name  string
		decks []job.Deck
		want  int
		told  bool
	}{{"flat", []job.Deck{flat}, 0, false}, {"flat, then deep", []job.Deck{flat, deep, deep}, 40, false}, {"here", []job.Deck{there, here}, 40, false}, {"there", []job.Deck{there}, 0, false},
		{"no pitch", []job.Deck{noPitch}, 0, true}, {"no depth", []job.Deck{noDepth}, 40, false}} {
		b := caseC1().build()
		b.job.Decks = c.decks
		res := b.take()
		if got := countOf(res.Framing, ItemFluteFill, ""); got != c.want || (len(res.Exceptions) > 0) != c.told {
			t.Errorf("%s: %d, want %d: %v", c.name, got, c.want, res.Exceptions)
		}
	}
	b := caseC1().build()
	b.job.Decks = []job.Deck{deep}
	for _, f := range b.run.Faces {
		f.Head = run.FixedTop
	}
	if got := countOf(b.take().Framing, ItemFluteFill, ""); got != 0 {
		t.Errorf("a wall that does not reach the deck: %d", got)
	}
}
