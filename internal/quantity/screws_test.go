package quantity

import (
	"reflect"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// TestScrews_cases: oracle: the hand counts of cases C-1 and C-5.
func TestScrews_cases(t *testing.T) {
	for _, c := range []struct {
		name string
		w    wall
		side run.Side
		want []int
	}{
		{"C-1 A", caseC1(), run.Right, []int{40, 40, 40, 40, 40}},
		{"C-1 B", caseC1(), run.Left, []int{31, 40, 40, 40, 40, 22}},
		// Hand count by the same rules in metric: T = 2918 − 56, n(300) = 10, n(400) = 8.
		{"C-7 A", caseC7(), run.Right, []int{40, 40, 40, 40, 40}},
		{"C-7 B", caseC7(), run.Left, []int{31, 40, 40, 40, 40, 22}},
		// Hand count, fixed top. Bottom row, 53-1/2 high, 96 wide: 2 × n(12, 12, 53) + 5 × n(16, 16, 53)
		// + track ceil(88/16) + 1 = 10 + 20 + 7; 144 wide: 10 + 8 × 4 + 10; 48 wide: 10 + 2 × 4 + 4.
		// Top row, 54 high, 144 wide: 2 × n(1/2, 12, 42) + 8 × n(1/2, 16, 38) + 10 along the track.
		{"C-6 A", caseC6(), run.Right, []int{37, 52, 22, 52, 52}},
		// Hand count, GA-600 WP 1200 at 24 in: 2 × n(8, 8, 116.5) + n(12, 12, 116.5) + track ceil(40/12) + 1.
		{"C-1 as WP 1200", wall{length: in(96), deck: geom.Level(0, in(96), in(120)), spacing: in(24), a: inches(48), b: inches(24, 72), listing: "WP 1200"},
			run.Right, []int{45, 45}},
		{"C-5 A", caseC5(), run.Right, []int{40, 40, 40, 40, 40, 32, 32, 32, 32, 32}},
	} {
		got, _ := c.w.build().screwCounts(c.side)
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: screws %v, want %v", c.name, got, c.want)
		}
	}
}

// TestScrews_tack: oracle: case C-1, tack pass 40 + 4 × 16 = 104; sheets above
// have no tack state.
func TestScrews_tack(t *testing.T) {
	_, tack := caseC1().build().screwCounts(run.Right)
	if want := []int{40, 16, 16, 16, 16}; !reflect.DeepEqual(tack, want) {
		t.Errorf("C-1 A tack %v, want %v", tack, want)
	}
	all, tack := caseC5().build().screwCounts(run.Right)
	if !reflect.DeepEqual(all[5:], tack[5:]) {
		t.Errorf("tops are screwed off at once: %v of %v", tack[5:], all[5:])
	}
}

// TestScrews_plies: oracle: hand sum. Two plies of 5/8 in: the base takes 1 in
// screws, the face ply 1-5/8 in, as many of each; 33 mil jambs take C954.
func TestScrews_plies(t *testing.T) {
	w := caseC1()
	w.plies = 2
	got := map[string]int{}
	for _, s := range w.build().one(run.Right).take().Screws {
		got[s.Item] += s.Count
	}
	if want := map[string]int{"screw 1 in C1002": 200, "screw 1-5/8 in C1002": 200}; !reflect.DeepEqual(got, want) {
		t.Errorf("two plies: %v, want %v", got, want)
	}
	for _, s := range caseC2().build().take().Screws {
		if s.Item == "screw 1 in C954" {
			return
		}
	}
	t.Error("C-2: the jambs of 33 mil take C954 screws")
}

// TestScrews_lines: oracle: case C-1's n(12, 12, 116-1/2) = 10, n(16, 16) = 8,
// design table's 8 at a side of 84-3/4.
func TestScrews_lines(t *testing.T) {
	for _, c := range []struct {
		f, s, top float64
		want      int
	}{{12, 12, 116.5, 10}, {16, 16, 116.5, 8}, {12, 12, 119.5, 10}, {16, 16, 119.5, 8}, {8, 8, 84.75, 11}, {12, 12, 6, 1}, {12, 12, -1, 0}} {
		if got := Count(in(c.f), in(c.s), in(c.top)); got != c.want {
			t.Errorf("n(%v, %v, %v) = %d, want %d", c.f, c.s, c.top, got, c.want)
		}
		if got := line(in(c.f), in(c.s), in(c.top)); len(got) != c.want {
			t.Errorf("line(%v, %v, %v) has %d, want %d", c.f, c.s, c.top, len(got), c.want)
		}
	}
	if a, b := TrackCount(in(48), in(16), false), TrackCount(in(48), in(12), false); a != 4 || b != 5 {
		t.Errorf("track row of 48 in: %d at 16, %d at 12, want 4 and 5", a, b)
	}
}

// TestScrews_door: oracle: hand count. Hook 48…96 on side A of C-2 beside the
// rough opening 69…107: edge line 48: n(12,12,116.5) = 10; field 64: 8; jamb
// 68-3/8: n(8,8,84.75) = 11 and the ordinary 96, 112, 116.5 = 3; field 80 above
// the head: 3; edge 96: 96, 108, 116.5 = 3; stem 48…69: ceil(13/16)+1 = 2;
// head row ceil(38/8) − 1 = 4, of them at 76.6, 84.2, 91.8 here: 3.
func TestScrews_door(t *testing.T) {
	b := caseC2().build()
	s := NewScrewer(b.job, Defaults(b.job.System))
	byPlace := map[string]int{}
	byLine := map[int]int{}
	for _, sc := range s.Screws(b.lay, b.pieces(run.Right)[1]) {
		byPlace[sc.Place]++
		byLine[sc.Line]++
	}
	want := map[string]int{PlaceEdge: 10 + 3, PlaceField: 8 + 3 + 3, PlaceOpening: 11 + 3, PlaceTrack: 2}
	if !reflect.DeepEqual(byPlace, want) {
		t.Errorf("C-2 A hook: %v, want %v (lines %v)", byPlace, want, byLine)
	}
	heads := 0
	for _, p := range b.pieces(run.Right) {
		for _, sc := range s.Screws(b.lay, p) {
			if sc.Place == PlaceOpening && sc.Line < 0 {
				heads++
			}
		}
	}
	if heads != 4 {
		t.Errorf("head row of C-2 A: %d screws, want ceil(38/8) − 1 = 4", heads)
	}
}

// TestScrews_window: oracle: hand positions. A window 40…72 high in a wall of
// 16 in studs, its jamb in the field: below it 16 and 32; n(8, 8, 32) = 4 from
// 8 above the sill: 48, 56, 64, 72. The board's bottom is at 1/2, so ordinary
// ones are at 16.5, 32.5, 80.5, 96.5; of 112.5 and 117 the first shares the gap.
// With the head at 80 the next at 80.5 moves between its neighbours. With the
// sill at 47 the gap 32.5 … 55 is over 16: one stands at the sill.
func TestScrews_window(t *testing.T) {
	for _, c := range []struct {
		sill, head float64
		want       []float64
	}{
		{40, 72, []float64{16.5, 32.5, 48, 56, 64, 72, 80.5, 96.5, 106.75, 117}},
		{47, 79, []float64{16.5, 32.5, 47, 55, 63, 71, 79, 88 - 0.25, 96.5, 106.75, 117}},
		{40, 80, []float64{16.5, 32.5, 48, 56, 64, 72, 80, 88.25, 96.5, 106.75, 117}},
	} {
		w := wall{length: in(144), deck: geom.Level(0, in(144), in(120)), a: inches(48, 96), b: inches(32, 80, 128),
			holes: []hole{{u0: in(61), u1: in(83), v0: in(c.sill), v1: in(c.head), kind: plan.Window}}}
		b := w.build()
		s := NewScrewer(b.job, Defaults(0))
		var got []float64
		for _, sc := range s.Screws(b.lay, b.pieces(run.Right)[1]) {
			if sc.Line >= 0 && sc.At.X == in(61-0.625) {
				got = append(got, sc.At.Y.Inches())
			}
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("window %v…%v: jamb screws at %v, want %v", c.sill, c.head, got, c.want)
		}
	}
}

// sheet is a wall of one sheet's width under a fixed top, for the counts of
// convention C1.
func sheet(width, height, spacing float64, listing string) wall {
	return wall{length: in(width), fixed: in(height + 0.5), spacing: in(spacing), listing: listing}
}

// TestConventionC1: oracle: standards' derived counts SC-1 to SC-10 and SC-12
// to SC-14 (maker tables; GA-600 WP 1200), O-20 to O-23.
func TestConventionC1(t *testing.T) {
	for _, c := range []struct {
		name string
		w    wall
		want int
	}{
		{"SC-1 4x8 vertical 16", sheet(48, 96, 16, ""), 28},
		{"SC-2 O-20 4x8 vertical 24", sheet(48, 96, 24, ""), 27},
		{"SC-3 4x10 vertical 16", sheet(48, 120, 16, ""), 36},
		{"SC-4 4x10 vertical 24", sheet(48, 120, 24, ""), 33},
		{"SC-5 4x12 vertical 16", sheet(48, 144, 16, ""), 40},
		{"SC-6 4x12 vertical 24", sheet(48, 144, 24, ""), 39},
		{"SC-7 O-21 4x8 horizontal 16", sheet(96, 48, 16, ""), 28},
		{"SC-8 4x8 horizontal 24", sheet(96, 48, 24, ""), 25},
		{"SC-9 4x12 horizontal 16", sheet(144, 48, 16, ""), 40},
		{"SC-10 4x12 horizontal 24", sheet(144, 48, 24, ""), 35},
		{"SC-12 O-22 4x8 WP 1200", sheet(48, 96, 24, "WP 1200"), 39},
		{"SC-13 O-23 4x10 WP 1200", sheet(48, 120, 24, "WP 1200"), 47},
		{"SC-14 4x12 WP 1200", sheet(48, 144, 24, "WP 1200"), 55},
	} {
		b := c.w.build()
		b.job.Rules.Counting = rules.C1
		if all, _ := b.screwCounts(run.Right); sum(all) != c.want {
			t.Errorf("%s: %d screws, want %d", c.name, sum(all), c.want)
		}
	}
}

// TestConventionC1_metric: oracle: SC-11, 1200x2400 at 600 studs, 300 mm, 10 mm
// inset: 3 × 9 = 27.
func TestConventionC1_metric(t *testing.T) {
	b := wall{sys: 1, length: 1200 * mm, fixed: 2412 * mm, spacing: 600 * mm}.build()
	b.job.Rules.Counting = rules.C1
	if all, _ := b.screwCounts(run.Right); sum(all) != 27 {
		t.Errorf("SC-11: %d screws, want 27", sum(all))
	}
}

// TestPattern: oracles O-24, O-25 (maker guide, non-loadbearing partitions:
// 12 in at 24 in studs, 16 at 16), O-59 (ASTM C840 1.2.1, the stricter).
func TestPattern(t *testing.T) {
	set := rules.Default(0)
	if p := General(set, in(24)); p.Field != in(12) || p.Edge != in(12) {
		t.Errorf("O-24: %+v", p)
	}
	if p := General(set, in(16)); p.Field != in(16) || p.Edge != in(12) || p.Opening != in(8) {
		t.Errorf("O-25: %+v", p)
	}
	a, b := Pattern{Field: in(12)}, Pattern{Field: in(16)}
	if Stricter(a, b).Field != in(12) || Stricter(b, a).Field != in(12) {
		t.Error("O-59: the stricter of 12 and 16 is 12 either way")
	}
	p, ok := ListedPattern("GA WP 1200", 1, 1)
	if !ok || p.Edge != in(8) || p.Field != in(12) || p.Track != in(12) {
		t.Errorf("WP 1200: %+v, %v", p, ok)
	}
	if _, ok := ListedPattern("U999", 1, 1); ok {
		t.Error("an unlisted design must be refused")
	}
}

// TestScrewLength: oracle O-27 (from maker guide's 3/8 in; WP 1200 confirms 1 in
// for 5/8 in); O-28 (scopes of ASTM C1002 and C954).
func TestScrewLength(t *testing.T) {
	set := rules.Default(0)
	for _, c := range []struct{ board, want float64 }{{0.5, 1}, {0.625, 1}, {1, 1.625}, {1.125, 1.625}, {1.25, 1.625}, {1.875, 2.25}} {
		if got, ok := ScrewLength(in(c.board), set.ScrewEmbed, 0); got != in(c.want) || !ok {
			t.Errorf("O-27 board %v in: screw %v in, want %v", c.board, got.Inches(), c.want)
		}
	}
	// FA-26, FA-27, FA-28: 12.5 → 25, 2 × 12.5 → 35, 16 → 30 mm.
	metric := rules.Default(1)
	for _, c := range []struct{ board, want Length }{{12500 * mm / 1000, 25 * mm}, {25 * mm, 35 * mm}, {16 * mm, 30 * mm}, {13 * mm, 25 * mm}} {
		if got, _ := ScrewLength(c.board, metric.ScrewEmbed, 1); got != c.want {
			t.Errorf("board %v mm: screw %v mm, want %v", c.board.MM(), got.MM(), c.want.MM())
		}
	}
	if Point(329) != "C1002" || Point(346) != "C954" || PointForMil(33) != "C954" || PointForMil(30) != "C1002" {
		t.Error("O-28: 0.0329 in takes C1002, 0.0346 in C954; 33 mil is 0.0346 as made; 30 mil C1002")
	}
	if _, ok := ScrewLength(in(4), set.ScrewEmbed, 0); ok {
		t.Error("no stock screw goes through 4 in of board")
	}
}
