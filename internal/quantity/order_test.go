package quantity

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/run"
)

func dump(v any) string { return fmt.Sprintf("%+v", v) }

// TestAllowance: oracle: hand sums: 3 % in whole sheets, then up to a pair.
func TestAllowance(t *testing.T) {
	for _, c := range []struct{ sheets, want int }{{0, 0}, {1, 1}, {9, 1}, {10, 2}, {33, 1}, {34, 2}, {100, 4}, {200, 6}} {
		if got := Allowance(c.sheets, 3); got != c.want {
			t.Errorf("%d sheets: allowance %d, want %d", c.sheets, got, c.want)
		}
	}
	if Allowance(10, 0) != 0 || Allowance(11, 0) != 1 {
		t.Error("without damage only the pair is made up")
	}
}

// TestOrder_board: oracle O-60 (a maker's 2.2 lb/sf): 10 sheets of 4x8x5/8 are
// 704 lb (319 kg); the order adds the allowance, here 2 sheets.
func TestOrder_board(t *testing.T) {
	b := caseC1().build()
	in10 := b.input()
	in10.Bought = []Bought{{Board: "5/8 X", Width: in(48), Length: in(96), Storey: "1", Count: 10}}
	res := Take(in10)
	var board *Item
	for i := range res.Order {
		if res.Order[i].Item == ItemBoard {
			board = &res.Order[i]
		}
	}
	if board == nil || board.Count != 12 || board.Allowance != 2 {
		t.Fatalf("order %+v", res.Order)
	}
	if lb := board.MassKg / measure.KgPerPound * 10 / 12; math.Abs(lb-704) > 1e-6 {
		t.Errorf("O-60: 10 sheets are %.3f lb, want 704", lb)
	}
	if countOf(res.Stocking, ItemBoard, "") != 12 {
		t.Errorf("stocking %+v", res.Stocking)
	}
}

// TestStockFor: oracle: hand packing. Two cripples of 34 in and one of 20 fit
// an 8 ft length; 119.25 needs 10 ft; 250 is longer than 20 ft.
func TestStockFor(t *testing.T) {
	count, special := stockFor(inches(34, 34, 20, 119.25, 119.25, 250), inches(96, 120, 144, 168, 192, 240))
	if !reflect.DeepEqual(count, []int{1, 2, 0, 0, 0, 0}) || !reflect.DeepEqual(special, inches(250)) {
		t.Errorf("%v, special %v", count, special)
	}
}

// TestBeadPerCartridge: oracle O-34: 29 fl oz give 88.8 ft of 1/4 in round
// bead; AS-1 to AS-4 by the same geometry.
func TestBeadPerCartridge(t *testing.T) {
	for _, c := range []struct {
		ounces, diameter, feet float64
	}{{29, 0.25, 88.8}, {29, 0.375, 39.5}, {20, 0.25, 61.3}, {20, 0.375, 27.2}, {10.1, 0.25, 30.9}, {10.1, 0.375, 13.8}} {
		if got := BeadPerCartridge(c.ounces*millilitresPerOunce, in(c.diameter)).Feet(); math.Abs(got-c.feet) > 0.051 {
			t.Errorf("O-34 %v fl oz at %v in: %.2f ft, want %v", c.ounces, c.diameter, got, c.feet)
		}
	}
	if got := BeadPerCartridge(300, 6*mm).Metres(); math.Abs(got-10.6) > 0.05 {
		t.Errorf("300 mL at 6 mm: %.2f m, want 10.6", got)
	}
}

// TestMemberSpec: oracle: designators as makers print them, 362S125-18 and
// 600S162-54.
func TestMemberSpec(t *testing.T) {
	if got := MemberSpec(in(3.625), in(1.25), 18, "S", 0); got != "362S125-18" {
		t.Error(got)
	}
	if got := MemberSpec(in(6), in(1.625), 54, "S", 0); got != "600S162-54" {
		t.Error(got)
	}
	if got := MemberSpec(92*mm, 32*mm, 18, "T", 1); got != "92x32 mm track 18 mil" {
		t.Error(got)
	}
}

// TestTwoPeople: oracle: the rule's two classes: on the floor over 100 lb, on a
// lift over 8 ft or 75 lb. O-35: 4x12x5/8 is 105.6 lb.
func TestTwoPeople(t *testing.T) {
	w := wall{length: in(96), deck: geom.Level(0, in(96), in(260)), breaks: inches(144.5), a: inches(48), b: inches(32, 80)}
	b := w.build()
	s := NewScrewer(b.job, Defaults(0))
	ps := b.pieces(run.Right)
	low, top := ps[0], ps[2]
	if kg := low.MassKg / measure.KgPerPound; math.Abs(kg-105.6) > 1e-6 {
		t.Errorf("O-35: %v lb", kg)
	}
	if got := s.TwoPeople(low); got != LiftFloor {
		t.Errorf("105.6 lb on the floor: %q", got)
	}
	if got := s.TwoPeople(top); got != LiftHigh { // 114-3/4 in high, 84 lb
		t.Errorf("top of %v in, %.0f lb: %q", top.Outline.Bounds().H().Inches(), top.MassKg/measure.KgPerPound, got)
	}
	if got := s.TwoPeople(caseC1().build().pieces(run.Right)[0]); got != "" {
		t.Errorf("87 lb standing on the floor: %q", got)
	}
}

// TestCost_missing: a price nobody gave is listed, never zero in silence.
// Oracle: hand sums.
func TestCost_missing(t *testing.T) {
	b := caseC1().build()
	b.job.Prices = &job.Prices{Currency: "USD", PerSheet: map[string]int64{"5/8 X 48x120in": 18_0000}, Joint: [3]int64{2_0000, 0, 0}, Screw: 12_0000}
	in10 := b.input()
	in10.Bought = []Bought{{Board: "5/8 X", Width: in(48), Length: in(120), Storey: "1", Count: 10}}
	in10.Cuts = 11
	c := Take(in10).Cost
	if c == nil {
		t.Fatal("no cost")
	}
	got := map[string]CostLine{}
	var total int64
	for _, l := range c.Lines {
		got[l.Item] = l
		total += l.Amount
		if !l.Priced && l.Amount != 0 {
			t.Errorf("unpriced line with an amount: %+v", l)
		}
	}
	if l := got["board 5/8 X 4x10"]; l.Amount != 12*18_0000 {
		t.Errorf("board line %+v, want 12 × 18", l)
	}
	if l := got["tapered joints, exposed"]; l.Amount != int64(math.Round(9*118.75*0.0254*20000)) {
		t.Errorf("joints %+v", l)
	}
	if l := got["cuts"]; l.Priced || l.Quantity != 11 {
		t.Errorf("cuts %+v: no price was given", l)
	}
	if c.Total != total {
		t.Errorf("total %d, lines %d", c.Total, total)
	}
	all := strings.Join(c.Unpriced, "|")
	for _, want := range []string{"cuts", "stud 362S125-18", "tape"} {
		if !strings.Contains(all, want) {
			t.Errorf("unpriced %q lacks %q", all, want)
		}
	}
	b.job.Prices = nil
	if Take(b.input()).Cost != nil {
		t.Error("cost without prices")
	}
}

// TestListing_unknown: a rated wall whose pattern is not known is told to a
// person, once per side.
func TestListing_unknown(t *testing.T) {
	w := caseC1()
	w.listing = "U999"
	res := w.build().take()
	n := 0
	for _, e := range res.Exceptions {
		if e.Code == "listing-unknown" {
			n++
		}
	}
	if n != 2 {
		t.Errorf("%d exceptions, want one per side: %v", n, res.Exceptions)
	}
}

// TestChecks: oracle: hand sums on C-1: 20 lf, 2 × 197.9 sf.
func TestChecks(t *testing.T) {
	b := caseC1().build()
	b.run.Assumed = []string{"deck height"}
	in10 := b.input()
	in10.Bought = []Bought{{Board: "5/8 X", Width: in(48), Length: in(120), Storey: "1", Count: 10}}
	got := map[string]Check{}
	for _, c := range Take(in10).Checks {
		got[c.Name] = c
	}
	if c := got["board per length of wall"]; math.Abs(c.Value-2*118.75/12) > 1e-9 {
		t.Errorf("sf/lf %v", c)
	}
	if c := got["studs, cripples not counted"]; c.Value != 16 || c.Against != 17 { // 16 × 1.05 = 16.8
		t.Errorf("studs %v", c)
	}
	if c := got["board screws"]; c.Value != 413 {
		t.Errorf("screws %v, want 200 + 213", c)
	}
	if c := got["board on walls with an assumed input"]; c.Value != 100 {
		t.Errorf("assumed %v", c)
	}
}

// TestLabour: oracle: C-5: above 10 ft hours count 1.4 times (AWCI).
func TestLabour(t *testing.T) {
	res := caseC5().build().take()
	if len(res.Labour) != 1 {
		t.Fatal(res.Labour)
	}
	r := res.Labour[0]
	if r.High <= 0 || math.Abs(r.Weighted-(r.Hung+0.4*r.High)) > 1e-9 {
		t.Errorf("%+v", r)
	}
	// Oracle: area above 120 in: side lengths 20 ft, mean height (209.25 + 214.25)/2 − 120.
	want := 2 * 240 * ((209.25+214.25)/2 - 120) / 144 * squareMetresPerSqFt
	if math.Abs(r.High-want) > 0.02*want {
		t.Errorf("high %v m², want about %v", r.High, want)
	}
}

// ended is a run of C-1's size whose faces end as given; stem is lower.
func ended(id string, ceiling, deck Length, ends map[string][2]run.FaceEnd) (*run.Run, *layout.Layout, *job.Job) {
	w := caseC1()
	w.ceiling, w.deck = ceiling, geom.Level(0, in(240), deck)
	b := w.build()
	b.run.ID = id
	for _, f := range b.run.Faces {
		f.ID = id + f.ID[len("1-W001"):]
		f.Ends = ends[f.ID]
	}
	b.lay.Joints = nil
	return b.run, b.lay, b.job
}

type faceEnds = map[string][2]run.FaceEnd

// TestCorners: oracle: hand count. An L has one inside and one outside corner,
// each told once though both faces name it; a tee two inside ones of the stem's
// height; a free end two outside; an end against structure one trim a side.
func TestCorners(t *testing.T) {
	full, stem := in(118.75), in(108.75)
	structure := run.FaceEnd{Kind: run.EndStructure}
	inside := func(face string) run.FaceEnd { return run.FaceEnd{Kind: run.EndInside, Face: face} }
	outside := func(face string) run.FaceEnd { return run.FaceEnd{Kind: run.EndOutside, Face: face} }
	free := run.FaceEnd{Kind: run.EndFree, Face: "A-E1"}
	for _, c := range []struct {
		name               string
		a, b               faceEnds
		deckB              Length
		ceiling            Length
		inside, bead, trim Length
	}{
		{"L", faceEnds{"A-L1": {structure, inside("B-R1")}, "A-R1": {outside("B-L1"), structure}},
			faceEnds{"B-R1": {inside("A-L1"), structure}, "B-L1": {structure, outside("A-R1")}}, in(120), 0, full, full, 4 * full},
		{"tee", faceEnds{"A-L1": {structure, structure}, "A-R1": {structure, structure}},
			faceEnds{"B-R1": {inside("A-L1"), structure}, "B-L1": {structure, inside("A-L1")}}, in(110), 0, 2 * stem, 0, 4*full + 2*stem},
		{"free end", faceEnds{"A-L1": {structure, free}, "A-R1": {free, structure}}, nil, in(120), 0, 0, 2 * full, 2*full + 4*full},
	} {
		ra, la, j := ended("A", c.ceiling, in(120), c.a)
		rb, lb, _ := ended("B", c.ceiling, c.deckB, c.b)
		res := Take(Input{Job: j, Runs: &run.Set{Runs: []*run.Run{ra, rb}}, Layouts: []*layout.Layout{la, lb}})
		for _, x := range []struct {
			item string
			want Length
		}{{ItemInside, c.inside}, {ItemBead, c.bead}, {ItemTrim, c.trim}} {
			if got := lengthOf(res.Finishing, x.item, ""); got != x.want {
				t.Errorf("%s: %s %v in, want %v", c.name, x.item, got.Inches(), x.want.Inches())
			}
		}
	}
}

// TestCorners_ceiling: oracle: hand sum. Under a ceiling at 9 ft a corner from
// 1/2 in to 119-1/4 is split: 107-1/2 exposed, 11-1/4 above.
func TestCorners_ceiling(t *testing.T) {
	r, l, j := ended("A", in(108), in(120), faceEnds{"A-L1": {{Kind: run.EndInside, Face: "X"}, {Kind: run.EndOutside, Face: "X"}}})
	res := Take(Input{Job: j, Runs: &run.Set{Runs: []*run.Run{r}}, Layouts: []*layout.Layout{l}})
	for _, c := range []struct {
		item, spec string
		want       Length
	}{{ItemInside, SpecExposed, in(107.5)}, {ItemInside, SpecAbove, in(11.25)}, {ItemBead, SpecExposed, in(107.5)}, {ItemOutside, SpecAbove, in(11.25)}} {
		if got := lengthOf(res.Finishing, c.item, c.spec); got != c.want {
			t.Errorf("%s %s: %v in, want %v", c.item, c.spec, got.Inches(), c.want.Inches())
		}
	}
}

// TestCompound: oracle: published rates of 5 to 11 gal per 1000 sf: C-1 at
// level 4 lies between them; a level 0 wall takes none.
func TestCompound(t *testing.T) {
	litres := func(w wall) (n float64) {
		for _, f := range w.build().take().Finishing {
			if f.Item == ItemCompound {
				n += f.Litres
			}
		}
		return n
	}
	w := caseC1()
	w.ceiling = 0
	gal := litres(w) / litresPerGallon / (2 * 240 * 118.75 / 144) * 1000
	if gal < compoundRateText || gal > compoundRateHigh {
		t.Errorf("%.1f gal per 1000 sf, published 5 to 11", gal)
	}
	if l5 := func() float64 { w.finish = 5; return litres(w) }(); l5 <= gal {
		t.Error("level 5 takes a skim coat")
	}
}

// TestKickers: oracle: hand count: 20 ft at 48 in: 6, from ceiling-high framing
// to a deck 30 in above: 30 × 1.414 = 42.4, to the next inch 43.
func TestKickers(t *testing.T) {
	w := caseC1()
	w.deck, w.fixed, w.ceiling = geom.Level(0, in(240), in(144)), in(114), in(108)
	b := w.build()
	b.run.Deck = w.deck
	res := b.take()
	if got := countOf(res.Framing, ItemKicker, ""); got != 6 {
		t.Errorf("%d kickers, want 6: %+v", got, res.Framing)
	}
	if got := lengthOf(res.Framing, ItemKicker, ""); got != in(43) {
		t.Errorf("kicker %v in, want 43", got.Inches())
	}
	if lengthOf(res.Framing, ItemSlipTrack, "") != 0 || lengthOf(res.Framing, ItemTrack, "") != in(480) {
		t.Error("a wall under the ceiling has plain track top and bottom")
	}
}

// TestFlutes: oracle: hand count: 240 in across flutes of 6 in: 40; along them
// plates at 24 in: 11.
func TestFlutes(t *testing.T) {
	for _, c := range []struct {
		along string
		item  string
		want  int
	}{{"y", ItemFluteFill, 40}, {"x", ItemPlate, 11}} {
		b := caseC1().build()
		b.job.Decks = []job.Deck{{FluteDepth: in(1.5), FlutePitch: in(6), FluteAlong: c.along}}
		if got := countOf(b.take().Framing, c.item, ""); got != c.want {
			t.Errorf("flutes along %s: %d %s, want %d", c.along, got, c.item, c.want)
		}
	}
}

// TestSettings: both systems have every size.
func TestSettings(t *testing.T) {
	for _, sys := range []measure.System{measure.InchPound, measure.Metric} {
		s := Defaults(sys)
		if s.ScrewBox == 0 || len(s.StudStock) == 0 || s.TrackStock == 0 || s.TapeRoll == 0 || s.PailLitres == 0 || s.Cartridge == 0 || s.Bead == 0 || s.Kickers == 0 {
			t.Errorf("%v: %+v", sys, s)
		}
	}

}
