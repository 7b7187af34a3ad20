package quantity

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

func (b *built) take() *Result { return Take(b.input()) }

// lengthOf adds up the length of a finishing or framing item.
func lengthOf(items []Item, item, spec string) Length {
	var n Length
	for _, x := range items {
		if x.Item == item && (spec == "" || x.Spec == spec) {
			n += x.Length
		}
	}
	return n
}

func countOf(items []Item, item, spec string) int {
	n := 0
	for _, x := range items {
		if x.Item == item && (spec == "" || x.Spec == spec) {
			n += x.Count
		}
	}
	return n
}

// one keeps a single side of a wall, so that its amounts stand alone.
func (b *built) one(side run.Side) *built {
	var ps = b.lay.Pieces[:0:0]
	for _, p := range b.lay.Pieces {
		if p.Face.Side == side {
			ps = append(ps, p)
		}
	}
	var js = b.lay.Joints[:0:0]
	for _, j := range b.lay.Joints {
		if j.Face.Side == side {
			js = append(js, j)
		}
	}
	b.lay.Pieces, b.lay.Joints = ps, js
	b.run.Faces = []*run.Face{b.face(side)}
	return b
}

// TestFinishing_cases: oracle: the joint lengths worked by hand in cases C-1,
// C-5 and C-6.
func TestFinishing_cases(t *testing.T) {
	for _, c := range []struct {
		name string
		w    wall
		side run.Side
		item string
		want Length
	}{
		{"C-1 A flat joints 4 × 118.75 in = 39.6 lf", caseC1(), run.Right, "tapered joint", in(4 * 118.75)},
		{"C-1 B flat joints 49.5 lf", caseC1(), run.Left, "tapered joint", in(5 * 118.75)},
		{"C-5 horizontal joint 20 lf", caseC5(), run.Right, "butt joint", in(240)},
		{"C-6 A taper 24 lf", caseC6(), run.Right, "tapered joint", in(288)},
		{"C-6 B taper 24 lf", caseC6(), run.Left, "tapered joint", in(288)},
		{"C-6 A butts 161 in", caseC6(), run.Right, "butt joint", in(161)},
		{"C-6 B butts 215 in", caseC6(), run.Left, "butt joint", in(215)},
	} {
		res := c.w.build().one(c.side).take()
		if got := lengthOf(res.Finishing, c.item, ""); got != c.want {
			t.Errorf("%s: %v in, want %v", c.name, got.Inches(), c.want.Inches())
		}
	}
}

// TestStuds_cases: oracle: the studs worked by hand in cases C-1, C-2, C-4, C-5
// and C-7.
func TestStuds_cases(t *testing.T) {
	for _, c := range []struct {
		name string
		w    wall
		want map[string]int // "kind length" to count
	}{
		{"C-1: 16 at 119-1/4", caseC1(), map[string]int{"field 119.25": 16}},
		{"C-2: 13 − 2 + 4 at 119-1/4, 2 cripples at 34", caseC2(), map[string]int{"field 119.25": 11, "jamb 119.25": 4, "cripple 34": 2}},
		{"C-7: 15 + 1 at 2930 mm", caseC7(), map[string]int{fmt.Sprintf("field %v", measure.FromMM(2930).Inches()): 16}},
	} {
		got := map[string]int{}
		for _, r := range c.w.build().take().Studs {
			got[fmt.Sprintf("%s %v", r.Kind, r.Length.Inches())] += r.Count
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v", c.name, got)
		}
	}
	for _, c := range []struct {
		name  string
		w     wall
		first Length
		last  int
	}{{"C-4: 125.25 + k/3, k = 0…12", caseC4(), in(125.25), 12}, {"C-5: 209.25 + k/3, k = 0…15", caseC5(), in(209.25), 15}} {
		rows := c.w.build().take().Studs
		if len(rows) != c.last+1 {
			t.Fatalf("%s: %d lengths", c.name, len(rows))
		}
		for k, r := range rows {
			if want := c.first + geom.MulDiv(inch, Length(k), 3); r.Count != 1 || (r.Length-want).Abs() > 1 {
				t.Errorf("%s: k = %d: %d at %v", c.name, k, r.Count, r.Length.Inches())
			}
		}
	}
}

// TestTrack_cases: oracle: C-2, bottom track 192 − 38 = 154; standards O-37 (a
// 20 ft wall from 9 to 13 ft: top track 20.396 ft).
func TestTrack_cases(t *testing.T) {
	b := caseC2().build()
	res := b.take()
	if got := lengthOf(res.Framing, ItemTrack, ""); got != in(154) {
		t.Errorf("C-2: bottom track %v in, want 154", got.Inches())
	}
	if got := lengthOf(res.Framing, ItemHeader, ""); got != in(50) {
		t.Errorf("C-2: header track %v in, want rough opening 38 + 12", got.Inches())
	}
	w := wall{length: in(240), deck: geom.Profile{{X: 0, Y: in(108)}, {X: in(240), Y: in(156)}}, a: inches(48, 96, 144, 192), b: inches(32, 80, 128, 176, 224)}
	if got := lengthOf(w.build().take().Framing, ItemSlipTrack, "").Feet(); math.Abs(got-20.396) > 0.0005 {
		t.Errorf("O-37: top track %v ft, want 20.396", got)
	}
}

// TestFixings: oracle O-54 (Ontario Building Code 9.24.3.1; maker guide): 30 ft
// of track, 2 in from the ends and at most 24 in apart: ceil(356/24) + 1 = 16.
func TestFixings(t *testing.T) {
	for _, c := range []struct {
		feet float64
		want int
	}{{30, 16}, {2, 2}, {0.25, 1}, {0, 0}} {
		if got := Fixings(in(12*c.feet), in(24), in(2)); got != c.want {
			t.Errorf("O-54: %v ft take %d fixings, want %d", c.feet, got, c.want)
		}
	}
}

// TestSealant_case: oracle: C-8, 2 × 78 in = 13 lf round the duct.
func TestSealant_case(t *testing.T) {
	res := caseC8().build().take()
	if got := lengthOf(res.Sealant, ItemAcoustic, "penetration"); got != in(156) {
		t.Errorf("C-8: %v in of seal, want 156", got.Inches())
	}
	w := caseC8()
	w.listing = "WP 1200"
	res = w.build().take()
	if got := lengthOf(res.Sealant, ItemFirestop, "penetration"); got != in(156) {
		t.Errorf("rated C-8: %v in of firestop, want 156", got.Inches())
	}
	if got := lengthOf(res.Sealant, ItemFirestop, "head of wall"); got != in(288) {
		t.Errorf("rated C-8: %v in at the head, want 2 × 144", got.Inches())
	}
}

// TestTops_cases: oracle: the tops worked by hand in cases C-5 and C-8.
func TestTops_cases(t *testing.T) {
	res := caseC5().build().one(run.Right).take()
	if len(res.Tops) != 5 {
		t.Fatalf("C-5 A: %d tops, want 5", len(res.Tops))
	}
	for k, r := range res.Tops {
		if r.Left != in(88.75+float64(k)) || r.Right != in(89.75+float64(k)) || r.Straight || r.Width != in(48) {
			t.Errorf("C-5 A top %d: %v / %v wide %v", k, r.Left.Inches(), r.Right.Inches(), r.Width.Inches())
		}
		if want := inches(16, 32); !reflect.DeepEqual(r.Centres, want) {
			t.Errorf("C-5 A top %d: centres %v", k, r.Centres)
		}
	}
	if !res.Tops[0].Datum || res.Tops[1].Datum {
		t.Error("C-5 A: the first full-width top is the datum")
	}

	res = caseC8().build().one(run.Right).take()
	var notches []float64
	for _, r := range res.Tops {
		if r.Left != in(94.75) || !r.Straight {
			t.Errorf("C-8 top %s: %v / %v", r.Piece, r.Left.Inches(), r.Right.Inches())
		}
		for _, c := range r.CutOuts {
			notches = append(notches, c.Width.Inches())
			if c.FromBottom != in(29.25) || c.Height != in(14.5) || !c.Notch {
				t.Errorf("C-8 cut-out %+v, want 14-1/2 high, 29-1/4 up", c)
			}
		}
	}
	if len(notches) != 2 || notches[0]+notches[1] != 24.5 || math.Max(notches[0], notches[1]) != 20.25 {
		t.Errorf("C-8 A: notches %v, want 20-1/4 and 4-1/4", notches)
	}
}

// TestSchedule_case: oracle: C-4's cut heights, rounded down to 1/8 in, and its
// area per side, 169.0 sf; C-2's net area 135.97 sf.
func TestSchedule_case(t *testing.T) {
	res := caseC4().build().take()
	a, b := [][2]float64{}, [][2]float64{}
	area := map[string]float64{}
	for _, r := range res.Schedule {
		area[r.Side] += r.AreaM2 / squareMetresPerSqFt
		x := [2]float64{r.Left.Inches(), r.Right.Inches()}
		if r.Side == "right" {
			a = append(a, x)
		} else {
			b = append(b, x)
		}
	}
	if want := [][2]float64{{124.75, 125.75}, {125.75, 126.75}, {126.75, 127.75}, {127.75, 128.75}}; !reflect.DeepEqual(a, want) {
		t.Errorf("C-4 A: %v", a)
	}
	// Side B is the left face: seen facing it, the high end is left.
	if want := [][2]float64{{128.75, 128.375}, {128.375, 127.375}, {127.375, 126.375}, {126.375, 125.375}, {125.375, 124.75}}; !reflect.DeepEqual(b, want) {
		t.Errorf("C-4 B: %v", b)
	}
	for side, sf := range area {
		if math.Abs(sf-169) > 0.05 {
			t.Errorf("C-4 %s: %.2f sf, want 169.0", side, sf)
		}
	}
	for _, r := range caseC2().build().take().Schedule {
		area["C-2 "+r.Side] += r.AreaM2 / squareMetresPerSqFt
	}
	for _, side := range []string{"C-2 left", "C-2 right"} {
		if math.Abs(area[side]-135.97) > 0.005 {
			t.Errorf("%s: %.3f sf, want 135.97", side, area[side])
		}
	}
}

// TestInsulation: oracle: area of C-2's cavity, (192 × 118.75 − 38 × 84.75)/144
// = 135.97 sf.
func TestInsulation(t *testing.T) {
	w := caseC2()
	w.insulate = "3-1/2 in glass fibre"
	res := w.build().take()
	if len(res.Insulation) != 1 || math.Abs(res.Insulation[0].AreaM2/squareMetresPerSqFt-135.97) > 0.005 {
		t.Errorf("insulation %+v", res.Insulation)
	}
}

// TestCostByList: oracle: hand: C-1 is 20 ft long; 16 studs of 119-1/4 in take
// 16 lengths of 10 ft, 160 lf at 0.50 = 80.00; the hours of framing by length,
// 20 lf at 0.1 h = 2 h at 60 = 120.00; track by area is told and not priced; 10 %
// is of what stands above.
func TestCostByList(t *testing.T) {
	b := caseC1().build()
	b.job.Prices = &job.Prices{Currency: "USD", Hour: 600000, Add: []job.AddOn{{Name: "Overhead", Percent: 100000}}, List: []job.PriceRow{
		{Item: "stud", Key: "stud", Unit: "lf", Price: 5000, Priced: true, Where: "p.csv:2"},
		{Item: "slip track", Key: "slip track", Unit: "sf", Price: 5000, Priced: true, Where: "p.csv:3"},
		{Item: "frame", Key: "frame", Unit: "lf", Hours: 0.1, Where: "p.csv:4"},
	}}
	res := b.take()
	got := map[string]CostLine{}
	for _, l := range res.Cost.Lines {
		got[l.Item] = l
	}
	if l := got[`stud 362S125-18 10'-0"`]; l.Quantity != 160 || l.Amount != 800000 || l.Section != "09 22 16" {
		t.Errorf("studs %+v", l)
	}
	if l := got["frame"]; l.Unit != "h" || math.Abs(l.Quantity-2) > 1e-9 || l.Amount != 1200000 {
		t.Errorf("frame %+v", l)
	}
	if l := got["hang side 1"]; l.Priced || !slices.Contains(res.Cost.Unpriced, "hang side 1") {
		t.Errorf("no hours given, not told: %+v", l)
	}
	if l := got["Overhead"]; !l.Percent || l.Price != 100000 {
		t.Errorf("overhead %+v", l)
	}
	if !slices.ContainsFunc(res.Exceptions, func(e plan.Exception) bool { return e.Code == "price-unit" }) {
		t.Errorf("slip track by area is not told: %v", res.Exceptions)
	}
}

// TestLimitingHeight: oracle: C-1's studs are 119-1/4 in: under 10 ft, over 9 ft.
func TestLimitingHeight(t *testing.T) {
	for height, want := range map[float64]int{120: 0, 108: 1} {
		b := caseC1().build()
		b.job.Limits = []job.HeightLimit{{Stud: "362S125-18", Spacing: in(16), Height: in(height), Where: "h.csv:2"}}
		if es := b.take().Exceptions; len(es) != want || want == 1 && es[0].Code != "limiting-height" {
			t.Errorf("limit %v in: %v", height, es)
		}
	}
}
