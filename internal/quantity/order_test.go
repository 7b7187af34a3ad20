package quantity

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"boardrun/internal/job"
	"boardrun/internal/measure"
)

func dump(v any) string { return fmt.Sprintf("%+v", v) }

// TestAllowance: oracle: hand sums: 3 % of all lengths in whole sheets, every
// length up to a pair.
func TestAllowance(t *testing.T) {
	for _, c := range []struct{ sheets, want []int }{
		{[]int{0}, []int{0}},
		{[]int{1}, []int{1}},
		{[]int{9}, []int{1}},
		{[]int{10}, []int{2}},
		{[]int{34}, []int{2}},
		{[]int{100}, []int{4}},                   // 3 %, in pairs
		{[]int{2, 7, 92, 80}, []int{0, 1, 4, 2}}, // 181 take 6: one makes a pair, then where most lacks: 92, 80, 92
		{[]int{10, 10}, []int{0, 2}},             // the longer stands in for the shorter
		{nil, []int{}},
	} {
		if got := Allowance(c.sheets, 3); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%d sheets: allowance %d, want %d", c.sheets, got, c.want)
		}
	}
	if got := Allowance([]int{10, 11}, 0); !reflect.DeepEqual(got, []int{0, 1}) {
		t.Errorf("without damage only the pair is made up: %v", got)
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

// TestSettings: both systems have every size.
func TestSettings(t *testing.T) {
	for _, sys := range []measure.System{measure.InchPound, measure.Metric} {
		s := Defaults(sys)
		if s.ScrewBox == 0 || len(s.StudStock) == 0 || s.TrackStock == 0 || s.TapeRoll == 0 || s.PailLitres == 0 || s.Cartridge == 0 || s.Bead == 0 || s.Kickers == 0 {
			t.Errorf("%v: %+v", sys, s)
		}
	}

}
