package quantity

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// TestInUnit: oracle: exact factors: 1 ft is 0.3048 m.
func TestInUnit(t *testing.T) {
	for _, c := range []struct {
		unit string
		want float64
	}{{"each", 7}, {"1000", 0.007}, {"lf", 20}, {"m", 6.096}, {"sf", 100 / 0.09290304}, {"1000 sf", 0.1 / 0.09290304}, {"m²", 100}} {
		if got, ok := inUnit(c.unit, 7, in(240), 100); !ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v, %v, want %v", c.unit, got, ok, c.want)
		}
		if _, ok := inUnit(c.unit, 0, 0, 0); ok {
			t.Errorf("nothing by %s", c.unit)
		}
	}
	if _, ok := inUnit("box", 7, in(240), 100); ok {
		t.Error("a unit that is none")
	}
}

// TestFind_closest: item and specification with the length go before them
// without, these before the item alone. Oracle: the rule.
func TestFind_closest(t *testing.T) {
	rows := map[string]*job.PriceRow{}
	keys := []string{job.PriceKey("stud x") + "|7", job.PriceKey("stud x") + "|0", job.PriceKey("stud") + "|7", job.PriceKey("stud") + "|0"}
	for i := len(keys) - 1; i >= 0; i-- {
		r := &job.PriceRow{Where: keys[i]}
		rows[keys[i]] = r
		if got := find(rows, "stud", "x", 7); got != r {
			t.Errorf("%v, want %s", got, keys[i])
		}
	}
	if find(rows, "track", "x", 7) != nil {
		t.Error("a track is no stud")
	}
}

// TestActivities: oracle: areas by hand; above 120 in (AWCI) work counts as
// high. Plain wall: 20 ft by 118-3/4 in a side. Tall wall: board to 240 in over
// a joint at 120-1/2, so 119-1/2 in of tops, all high, and 1/2 in of 120 below.
// A 3070 opening of 21 sf is not taken off, a 4 x 8 of 32 sf is.
func TestActivities(t *testing.T) {
	const sf, plain, tall = squareMetresPerSqFt / 144, 240 * 118.75, 240 * 239.5
	high := 120 / 239.5
	above := 11.25 / 118.75
	for _, c := range []struct {
		name string
		w    wall
		want map[string][2]float64 // sq in, plain and high
	}{
		{"plain", caseC1(), map[string][2]float64{DoFrame: {plain, 0}, DoSide1: {plain, 0}, DoSide2: {plain, 0}, "tape level 4": {2 * plain, 0}}},
		{"insulated, level 2", wall{length: in(240), deck: geom.Level(0, in(240), in(120)), insulate: "wool", finish: 2},
			map[string][2]float64{DoFrame: {plain, 0}, DoSide1: {plain, 0}, DoSide2: {plain, 0}, DoInsulate: {plain, 0}, "tape level 2": {2 * plain, 0}}},
		{"under a ceiling", wall{length: in(240), deck: geom.Level(0, in(240), in(120)), ceiling: in(108)},
			map[string][2]float64{DoFrame: {plain, 0}, DoSide1: {plain, 0}, DoSide2: {plain, 0}, "tape level 1": {2 * plain * above, 0}, "tape level 4": {2 * plain * (1 - above), 0}}},
		{"small opening", wall{length: in(240), deck: geom.Level(0, in(240), in(120)), holes: []hole{{u0: in(60), u1: in(96), v0: in(0.5), v1: in(84.5)}}},
			map[string][2]float64{DoFrame: {plain, 0}, DoSide1: {plain, 0}, DoSide2: {plain, 0}, "tape level 4": {2 * plain, 0}}},
		{"two plies, small opening", wall{length: in(240), plies: 2, deck: geom.Level(0, in(240), in(120)), holes: []hole{{u0: in(60), u1: in(96), v0: in(0.5), v1: in(84.5)}}},
			map[string][2]float64{DoFrame: {plain, 0}, DoSide1: {2 * plain, 0}, DoSide2: {2 * plain, 0}, "tape level 4": {2 * plain, 0}}},
		{"large opening", wall{length: in(240), deck: geom.Level(0, in(240), in(120)), holes: []hole{{u0: in(60), u1: in(108), v0: in(0.5), v1: in(96.5)}}},
			map[string][2]float64{DoFrame: {plain - 48*96, 0}, DoSide1: {plain - 48*96, 0}, DoSide2: {plain - 48*96, 0}, "tape level 4": {2 * (plain - 48*96), 0}}},
		{"tall", wall{length: in(240), deck: geom.Level(0, in(240), in(240.75)), breaks: inches(120.5)},
			map[string][2]float64{DoFrame: {tall * (1 - high), tall * high}, DoSide1: {240 * 119.5, 240 * 0.5}, DoSide2: {240 * 119.5, 240 * 0.5}, DoTops: {0, 2 * 240 * 119.5},
				"tape level 4": {2 * tall * (1 - high), 2 * tall * high}}},
		{"tall, ceiling at 15 ft", wall{length: in(240), deck: geom.Level(0, in(240), in(240.75)), breaks: inches(120.5), ceiling: in(180)},
			map[string][2]float64{DoFrame: {tall * (1 - high), tall * high}, DoSide1: {240 * 119.5, 240 * 0.5}, DoSide2: {240 * 119.5, 240 * 0.5}, DoTops: {0, 2 * 240 * 119.5},
				"tape level 1": {0, 2 * 240 * 60}, "tape level 4": {2 * 240 * 119.5, 2 * 240 * 60}}},
	} {
		b := c.w.build()
		tk := &taker{set: b.job.Rules, sys: b.job.System, layouts: nil}
		tk.layouts = append(tk.layouts, b.lay)
		got := tk.activities()
		for _, a := range got {
			w := c.want[a.name]
			if math.Abs(a.low/sf-w[0]) > 1e-3 || math.Abs(a.high/sf-w[1]) > 1e-3 {
				t.Errorf("%s: %s %.1f and %.1f sq in, want %.1f and %.1f", c.name, a.name, a.low/sf, a.high/sf, w[0], w[1])
			}
			if a.length != 0 != (a.name == DoFrame) {
				t.Errorf("%s: %s by length %v", c.name, a.name, a.length)
			}
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: %d activities, want %d: %+v", c.name, len(got), len(c.want), got)
		}
	}
}

// TestCostHours: oracle: hand sums on C-1: 197.9 sf a side. Hang 2 h per 1000 sf
// at 60 falls to both sides; frame 0.1 h per foot at its own 50; tape has none.
func TestCostHours(t *testing.T) {
	b := caseC1().build()
	b.job.Prices = &job.Prices{Hour: 60_0000, List: []job.PriceRow{
		{Key: "hang", Unit: "1000 sf", Hours: 2}, {Key: "frame", Unit: "lf", Hours: 0.1, Rate: 50_0000, Section: "own"}, {Key: job.PriceKey("tape level 4"), Unit: "each", Hours: 1}}}
	res := b.take()
	side := 240 * 118.75 / 144
	want := map[string]struct {
		unit, section string
		q             float64
		amount        int64
	}{
		DoFrame: {"h", "own", 2, 100_0000}, DoSide1: {"h", gypsumBoard, side * 2 / 1000, int64(math.Round(side * 2 / 1000 * 60_0000))},
		DoSide2: {"h", gypsumBoard, side * 2 / 1000, int64(math.Round(side * 2 / 1000 * 60_0000))}, "tape level 4": {"sf", gypsumBoard, 2 * side, 0},
	}
	for _, l := range res.Cost.Lines {
		if l.Kind != Labour {
			continue
		}
		w, ok := want[l.Item]
		if !ok || l.Unit != w.unit || l.Section != w.section || math.Abs(l.Quantity-w.q) > 1e-6 || max(l.Amount-w.amount, w.amount-l.Amount) > 1 || l.Priced != (w.amount > 0) {
			t.Errorf("%+v, want %+v", l, w)
		}
		delete(want, l.Item)
	}
	if len(want) != 0 {
		t.Errorf("missing %v", want)
	}
}

// TestCostItem: what the list has a price for takes its unit; what it has not
// stands unpriced; boxes of screws fall to the price of 1000. Oracle: hand sums.
func TestCostItem(t *testing.T) {
	tk := &taker{sys: measure.InchPound, res: &Result{}}
	tk.in.Settings = Defaults(measure.InchPound)
	tk.in.Settings.ScrewBox = 500
	rows := map[string]*job.PriceRow{"stud|0": {Unit: "lf", Price: 5, Priced: true, Section: "own"}, "bead|0": {Unit: "sf", Price: 5, Priced: true}, "wool|0": {Unit: "1000 sf", Price: 9, Priced: true}, "tape|0": {Unit: "each"}}
	for _, c := range []struct {
		o        Item
		want     string
		unit     string
		quantity float64
		priced   bool
		section  string
	}{
		{Item{Item: "stud", Spec: "s", Length: in(120), Count: 6}, "stud s 10'-0\"", "lf", 60, true, "own"}, {Item{Item: "bead", Count: 6, Length: in(96)}, "bead 8'-0\"", "each", 6, false, gypsumBoard},
		{Item{Item: "wool", AreaM2: 100 * squareMetresPerSqFt}, "wool", "1000 sf", 0.1, true, gypsumBoard}, {Item{Item: ItemInsulation, AreaM2: 100 * squareMetresPerSqFt}, ItemInsulation, "sf", 100, false, "07 21 00"},
		{Item{Item: "tape", Count: 3}, "tape", "each", 3, false, gypsumBoard}, {Item{Item: "screw 1 in", Count: 3}, "screw 1 in", "1000", 1.5, true, gypsumBoard}, {Item{Item: "screw", Count: 3}, "screw", "each", 3, false, gypsumBoard},
	} {
		cost := &Cost{}
		tk.costItem(cost, &job.Prices{Screw: 7}, rows, c.o, map[*job.PriceRow]bool{})
		if len(cost.Lines) != 1 {
			t.Fatalf("%+v: %+v", c.o, cost.Lines)
		}
		if l := cost.Lines[0]; l.Item != c.want || l.Unit != c.unit || math.Abs(l.Quantity-c.quantity) > 1e-9 || l.Priced != c.priced || l.Section != c.section {
			t.Errorf("%+v, want %+v", l, c)
		}
	}
	if len(tk.res.Exceptions) != 1 || tk.res.Exceptions[0].Code != "price-unit" {
		t.Errorf("bead by area: %v", tk.res.Exceptions)
	}
	none := &Cost{}
	if tk.costItem(none, &job.Prices{}, rows, Item{Item: "tape"}, map[*job.PriceRow]bool{}); len(none.Lines) != 0 {
		t.Errorf("nothing ordered: %+v", none.Lines)
	}
}

// TestBesideHoles: the lines nearest to both sides of a hole stand beside it,
// moved off it within their studs' flanges. Oracle: by hand: flange 1-1/4 in,
// least distance 3/8.
func TestBesideHoles(t *testing.T) {
	s := NewScrewer(caseC1().build().job, Defaults(measure.InchPound))
	reach := s.set.JambFromFrame + s.set.Flange
	h := geom.Rect{Min: geom.Pt{X: in(20), Y: in(30)}, Max: geom.Pt{X: in(30), Y: in(60)}}
	p := caseC1().build().pieces(run.Right)[0]
	p.Face.Holes = []run.Hole{{Rect: h}}
	for _, c := range []struct {
		name   string
		us     []Length
		beside []bool
		at     []Length
	}{
		{"doubled jambs", inches(18.1, 19.4, 30.6, 31.9), []bool{false, true, true, false}, inches(18.1, 19.4, 30.6, 31.9)},
		{"too near", inches(19.8, 30.2), []bool{true, true}, inches(19.625, 30.375)},
		{"on its sides", inches(20, 30), []bool{true, true}, inches(19.625, 30.375)},
		{"out of reach", []Length{in(20) - reach - 1, in(30) + reach + 1}, []bool{false, false}, []Length{in(20) - reach - 1, in(30) + reach + 1}},
		{"within reach", []Length{in(20) - reach, in(30) + reach}, []bool{true, true}, []Length{in(20) - reach, in(30) + reach}},
	} {
		var lines []studLine
		for _, u := range c.us {
			lines = append(lines, studLine{u: u, at: u})
		}
		s.besideHoles(p, lines)
		for i := range lines {
			if lines[i].u != c.at[i] || (len(lines[i].holes) > 0) != c.beside[i] {
				t.Errorf("%s: line %d at %v in, %d holes; want %v, %v", c.name, i, lines[i].u.Inches(), len(lines[i].holes), c.at[i].Inches(), c.beside[i])
			}
		}
	}
	for _, y := range []Length{p.Outline.Bounds().Max.Y, p.Outline.Bounds().Min.Y - h.H()} { // over the piece, and under it
		lines := []studLine{{u: in(19.4), at: in(19.4)}}
		p.Face.Holes[0].Rect = geom.Rect{Min: geom.Pt{X: h.Min.X, Y: y}, Max: geom.Pt{X: h.Max.X, Y: y + h.H()}}
		if s.besideHoles(p, lines); len(lines[0].holes) != 0 {
			t.Errorf("a hole from %v in: %v", y.Inches(), lines)
		}
	}
	ln := studLine{u: in(10), at: in(10)}
	for _, c := range []struct{ to, want Length }{{in(10) + s.set.Flange/2, in(10) + s.set.Flange/2}, {in(10) + s.set.Flange/2 + 1, in(10)}} {
		ln.u = in(10)
		if s.moveOff(&ln, c.to); ln.u != c.want {
			t.Errorf("moved to %v in, want %v", ln.u.Inches(), c.want.Inches())
		}
	}
}

// TestCostHours_high: oracle: AWCI, Practical Estimating part 2: about 40 % more
// labour above 10 ft: two sides' tops of 240 x 119-1/2 in at 1 h per 1000 sf.
func TestCostHours_high(t *testing.T) {
	b := wall{length: in(240), deck: geom.Level(0, in(240), in(240.75)), breaks: inches(120.5)}.build()
	b.job.Prices = &job.Prices{Hour: 1_0000, List: []job.PriceRow{{Key: "hang", Unit: "1000 sf", Hours: 1}}}
	for _, l := range b.take().Cost.Lines {
		if want := 1.4 * 2 * 240 * 119.5 / 144 / 1000; l.Item == DoTops && math.Abs(l.Quantity-want) > 1e-9 {
			t.Errorf("%+v, want %v h", l, want)
		} else if l.Item == DoTops {
			return
		}
	}
	t.Error("no tops")
}

// TestCostBoard: sizes stand by board, width, length; each storey's order goes
// into one line. Oracle: hand sums: 2 of a size take 2 spare on each storey.
func TestCostBoard(t *testing.T) {
	b := caseC1().build()
	b.job.Prices = &job.Prices{}
	given := b.input()
	for _, storey := range []string{"2", "1"} {
		for _, size := range [][2]float64{{54, 96}, {48, 144}, {48, 96}, {54, 144}} {
			given.Bought = append(given.Bought, Bought{Board: "5/8 X", Width: in(size[0]), Length: in(size[1]), Storey: storey, Count: 2})
		}
	}
	var got []string
	total := 0.0
	res := Take(given)
	for _, l := range res.Cost.Lines {
		if l.Unit == "sheet" {
			got = append(got, l.Item)
			total += l.Quantity
		}
	}
	want := []string{"board 5/8 X 4x8", "board 5/8 X 4x12", "board 5/8 X 54x8", "board 5/8 X 54x12"}
	if len(got) != 4 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("%v, want %v", got, want)
	}
	if n := countOf(res.Order, ItemBoard, ""); total != float64(n) || n < 16 {
		t.Errorf("%v priced, %d ordered", total, n)
	}
}

// TestConventionC1_places: under a level top the row of the track stands 3/8 in
// inside, evenly between the ends, at both tracks; a piece that does not reach
// the top has none there. Oracle: hand sums: a 4 x 8 at studs of 24 in, pattern
// WP 1200: ceil(48/12) + 1 − 3 = 2, at a quarter and three quarters.
func TestConventionC1_places(t *testing.T) {
	b := sheet(48, 96, 24, "WP 1200").build()
	b.job.Rules.Counting = rules.C1
	s := NewScrewer(b.job, Defaults(measure.InchPound))
	p := b.pieces(run.Right)[0]
	box := p.Outline.Bounds()
	rows := map[string][]geom.Pt{}
	for _, sc := range s.Screws(b.lay, p) {
		if sc.Line < 0 {
			rows[sc.Place] = append(rows[sc.Place], sc.At)
		}
	}
	at := func(y Length) []geom.Pt {
		return []geom.Pt{{X: box.Min.X + in(12), Y: y}, {X: box.Min.X + in(36), Y: y}}
	}
	if want := map[string][]geom.Pt{PlaceTrack: at(box.Min.Y + in(0.375)), PlaceTop: at(box.Max.Y - in(0.375))}; !reflect.DeepEqual(rows, want) {
		t.Errorf("%v, want %v", rows, want)
	}
	reaches := func(gap Length) (n int) {
		p.Face.Top = geom.Level(0, p.Face.Length, box.Max.Y+gap)
		for _, sc := range s.Screws(b.lay, p) {
			if sc.Line < 0 && sc.Place == PlaceTop {
				n++
			}
		}
		return n
	}
	if reaches(headReach) != 2 || reaches(headReach+1) != 0 {
		t.Errorf("half an inch under the top: %d; lower: %d", reaches(headReach), reaches(headReach+1))
	}
}

// TestAcross: one screw of a head row stands where the piece covers it and the
// least distance beyond, within the piece and under the slip line, moved off its
// sides. Oracle: by hand on a piece 48 wide from 84 to 119-1/4 in.
func TestAcross(t *testing.T) {
	b := caseC1().build()
	s := NewScrewer(b.job, Defaults(measure.InchPound))
	f := b.face(run.Right)
	p := &layout.Piece{Face: f, Outline: geom.Rect{Min: geom.Pt{X: in(48), Y: in(84)}, Max: geom.Pt{X: in(96), Y: in(119.25)}}.Poly()}
	edge, slip := s.set.EdgeDistance, in(119.25)-s.set.SlipLeg-s.set.SlipClear
	for _, c := range []struct {
		name       string
		u, hole, v Length
		want       Length // 0: none
	}{
		{"over a head", in(60), in(84), in(86), in(60)}, {"at the left side", in(48), in(84), in(86), in(48) + edge}, {"left of it", in(48) - 1, in(84), in(86), 0},
		{"near the right side", in(96) - 1, in(84), in(86), in(96) - edge}, {"at it", in(96), in(84), in(86), 0},
		{"at the slip line", in(60), in(84), slip, in(60)}, {"above it", in(60), in(84), slip + 1, 0},
		{"the head under the piece", in(60), in(84) - 1, in(86), 0}, {"under a sill, just far enough up", in(60), in(90), in(84) + edge, in(60)}, {"nearer", in(60), in(90), in(84) + edge - 1, 0},
	} {
		var got Length
		w := work{s: s, l: b.lay, p: p, box: p.Outline.Bounds()}
		w.across(c.u, c.hole, c.v, func(u, v Length, place string) {
			got = u
			if v != c.v || place != PlaceOpening {
				t.Errorf("%s: %v, %s", c.name, v, place)
			}
		})
		if got != c.want {
			t.Errorf("%s: at %v in, want %v", c.name, got.Inches(), c.want.Inches())
		}
	}
}

// TestTops_rows: only heights between the ends are breaks; the first rows of a
// ply are like number 1. Oracle: by hand: C-5 has tops of two heights each, none
// alike, five and six on its sides.
func TestTops_rows(t *testing.T) {
	like := map[string]int{}
	for _, r := range caseC5().build().take().Tops {
		if len(r.Breaks) != 0 {
			t.Errorf("%s: breaks %v", r.Piece, r.Breaks)
		}
		if like[r.Face]++; r.Like != like[r.Face] {
			t.Errorf("%s: like number %d, want %d", r.Piece, r.Like, like[r.Face])
		}
	}
	if like["1-W001-R1"] != 5 || like["1-W001-L1"] != 6 {
		t.Errorf("%v", like)
	}
}

// Rows of a list that price nothing here are told, with their places, and a line
// without a price is shown the row named most like it. Oracle: by hand.
func TestCostByList_unusedRows(t *testing.T) {
	tk := &taker{sys: measure.InchPound, in: Input{Job: &job.Job{Boards: []job.Board{{Name: "5/8 type X"}}}}, res: &Result{}}
	list := []job.PriceRow{
		{Item: "corner beed", Where: "prices.csv:2"}, {Item: "track", Where: "prices.csv:3"},
		{Item: "5/8 type X 4x14", Where: "prices.csv:4"}, {Item: "roofing felt", Where: "prices.csv:5"},
	}
	c := &Cost{Lines: []CostLine{{Item: "corner bead"}, {Item: "track", Priced: true}, {Item: "trim"}}}
	tk.unusedRows(c, &job.Prices{List: list}, map[*job.PriceRow]bool{&list[1]: true})
	if got, want := c.Lines[0].Note, `did you mean "corner beed" at prices.csv:2?`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if c.Lines[2].Note != "" {
		t.Errorf("trim: %q", c.Lines[2].Note)
	}
	if len(tk.res.Exceptions) != 1 || !strings.HasPrefix(tk.res.Exceptions[0].Message, `2 of 4 rows of the price list price nothing in this job: "corner beed" (prices.csv:2), "roofing felt" (prices.csv:5)`) {
		t.Errorf("%v", tk.res.Exceptions)
	}
}
