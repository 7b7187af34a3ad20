package rules_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"boardrun/internal/measure"
	. "boardrun/internal/rules"
)

const (
	inch   = measure.Inch
	eighth = measure.EighthInch
	mm     = measure.Millimetre
)

// Oracle: US maker's wallboard data (FS-1 … FS-12), IRC 2021 R702.3.5 (FS-20),
// UK house-builder standard 6.3.12 (FS-22), German practice (FS-24).
func TestMaxSpacing(t *testing.T) {
	tests := []struct {
		name      string
		sys       measure.System
		kind      string
		thickness measure.Length
		plies     int
		ceiling   bool
		along     string
		want      measure.Length // 0: no table has it
	}{
		{"FS-5 1/2 wall", 0, "regular", 4 * eighth, 1, false, "parallel", 24 * inch},
		{"FS-8 5/8 wall", 0, "type X", 5 * eighth, 1, false, "perpendicular", 24 * inch},
		{"O-29 3/8 single on walls: 16, so 24 is refused", 0, "regular", 3 * eighth, 1, false, "parallel", 16 * inch},
		{"FS-10 3/8 double wall", 0, "regular", 3 * eighth, 2, false, "parallel", 16 * inch},
		{"1/4 alone is in no table", 0, "regular", 2 * eighth, 1, false, "parallel", 0},
		{"O-30 1/2 ceiling parallel", 0, "regular", 4 * eighth, 1, true, "parallel", 16 * inch},
		{"O-30 1/2 ceiling perpendicular", 0, "regular", 4 * eighth, 1, true, "perpendicular", 24 * inch},
		{"FS-2 doubtful, not held", 0, "regular", 3 * eighth, 1, true, "parallel", 0},
		{"FS-11 double ceiling", 0, "type X", 5 * eighth, 2, true, "parallel", 24 * inch},
		{"FS-25 cement board", 0, "cement board", 4 * eighth, 1, false, "parallel", 16 * inch},
		{"FS-22 9.5 mm", 1, "type A", 95 * measure.TenthOfMM, 1, false, "parallel", 450 * mm},
		{"FS-24 12.5 mm", 1, "type A", 125 * measure.TenthOfMM, 1, false, "parallel", 625 * mm},
		{"12.7 mm is 12.5 for the table", 1, "type A", 127 * measure.TenthOfMM, 1, false, "parallel", 625 * mm},
		{"three plies as two", 0, "type X", 5 * eighth, 3, false, "parallel", 24 * inch},
	}
	for _, tt := range tests {
		got, source, ok := MaxSpacing(tt.sys, tt.kind, tt.thickness, tt.plies, tt.ceiling, tt.along)
		if got != tt.want || ok != (tt.want > 0) || ok && source == "" {
			t.Errorf("%s: %v, %q, %v; want %v", tt.name, got, source, ok, tt.want)
		}
	}
}

// Oracle: hand division (MOD-1 … MOD-10).
func TestOnModule(t *testing.T) {
	for _, tt := range []struct {
		name               string
		dimension, spacing measure.Length
		want               bool
		part               measure.Length
	}{
		{"MOD-1", 48 * inch, 16 * inch, true, 48 * inch},
		{"O-19, MOD-2", 54 * inch, 16 * inch, false, 48 * inch},
		{"O-19, MOD-2 at 24", 54 * inch, 24 * inch, false, 48 * inch},
		{"MOD-4", 108 * inch, 16 * inch, false, 96 * inch},
		{"O-18, MOD-5", 120 * inch, 16 * inch, false, 112 * inch},
		{"MOD-5 at 24", 120 * inch, 24 * inch, true, 120 * inch},
		{"MOD-7", 168 * inch, 16 * inch, false, 160 * inch},
		{"MOD-5 metric", 3000 * mm, 400 * mm, false, 2800 * mm},
		{"O-57, MOD-9", 1250 * mm, 600 * mm, false, 1200 * mm},
		{"MOD-9 at 625", 1250 * mm, 625 * mm, true, 1250 * mm},
		{"MOD-11 1219.2 is not 1200", 48 * inch, 400 * mm, false, 1200 * mm},
	} {
		if got := OnModule(tt.dimension, tt.spacing); got != tt.want {
			t.Errorf("%s: OnModule %v", tt.name, got)
		}
		if got := OnStud(tt.dimension, tt.spacing); got != tt.part {
			t.Errorf("%s: OnStud %v, want %v", tt.name, got.Inches(), tt.part.Inches())
		}
	}
}

// Oracle: GA-226-08 Table 1 (CRV-1 … CRV-7).
func TestMinRadius(t *testing.T) {
	// O-31: 1/2 in lengthwise at 9 ft is refused; two 1/4 in would do, 5 ft.
	if r, ok := MinRadius(measure.InchPound, 4*eighth, false); !ok || r != 120*inch || 108*inch >= r {
		t.Errorf("1/2 in along: %v, %v", r, ok)
	}
	if r, ok := MinRadius(measure.InchPound, 2*eighth, false); !ok || r != 60*inch {
		t.Errorf("1/4 in along: %v, %v", r, ok)
	}
	if BendSpacing(measure.InchPound) != 6*inch || BendSpacing(measure.Metric) != 150*mm {
		t.Error("CRV-6")
	}
	for _, th := range []measure.Length{4 * eighth, 5 * eighth} { // CRV-4, CRV-5
		if _, ok := MinRadius(measure.InchPound, th, true); ok {
			t.Errorf("%v in bends across dry", th.Inches())
		}
	}
	if r, ok := MinRadius(measure.Metric, 125*measure.TenthOfMM, false); !ok || r != 3000*mm {
		t.Errorf("12.5 mm along: %v, %v", r, ok)
	}
	if r, ok := MinRadius(measure.Metric, 15*mm, false); !ok || r != 4600*mm {
		t.Errorf("15 mm along: %v, %v", r, ok)
	}
	if _, ok := MinRadius(measure.InchPound, 8*eighth, false); ok {
		t.Error("1 in bends")
	}
}

// Oracle: FA-20 … FA-27: maker guide's 3/8 in through steel and stock lengths;
// WP 1200 confirms 1 in for 5/8.
func TestScrewLength(t *testing.T) {
	for _, tt := range []struct {
		name        string
		sys         measure.System
		total, want measure.Length
	}{
		{"FA-20 1/2", 0, 4 * eighth, 8 * eighth},
		{"O-27 FA-21 5/8, equality", 0, 5 * eighth, 8 * eighth},
		{"O-27 FA-22 1/2 double", 0, 8 * eighth, 13 * eighth},
		{"FA-23 1/2 + 5/8", 0, 9 * eighth, 13 * eighth},
		{"O-27 FA-24 5/8 double", 0, 10 * eighth, 13 * eighth},
		{"O-27 FA-25 three 5/8", 0, 15 * eighth, 18 * eighth},
		{"FA-26 12.5", 1, 125 * measure.TenthOfMM, 25 * mm},
		{"FA-27 two 12.5", 1, 25 * mm, 35 * mm},
		{"FA-28 16", 1, 16 * mm, 30 * mm},
	} {
		if got, ok := Default(tt.sys).ScrewLength(tt.total); !ok || got != tt.want {
			t.Errorf("%s: %v, %v", tt.name, got.Inches(), ok)
		}
	}
	if _, ok := Default(0).ScrewLength(4 * inch); ok {
		t.Error("a screw for 4 in of board")
	}
}

// Oracle: scopes of ASTM C1002 and C954.
func TestPoint(t *testing.T) {
	for _, tt := range []struct {
		steel int
		want  Point
		ok    bool
	}{{329, C1002, true}, {346, C954, true}, {330, C954, true}, {1120, C954, true}, {1121, 0, false}} { // O-28
		if p, ok := PointFor(tt.steel); p != tt.want || ok != tt.ok {
			t.Errorf("PointFor(%d) = %v, %v", tt.steel, p, ok)
		}
	}
	for mil, want := range map[int]Point{15: C1002, 18: C1002, 30: C1002, 33: C954, 43: C954, 20: C1002} {
		if p, ok := PointForMil(mil); p != want || !ok {
			t.Errorf("PointForMil(%d) = %v, %v", mil, p, ok)
		}
	}
}

// Oracle: hand, from the worked cases of the trade notes (C-1, C-5, C-2).
func TestCount_positions(t *testing.T) {
	top := 116*inch + inch/2 // C-1: board 118-3/4 high, slip line 2-1/4 lower
	for _, tt := range []struct {
		name      string
		got, want int
	}{
		{"C-1 edge line", LineCount(12*inch, top, 12*inch), 10},
		{"C-1 field line", LineCount(16*inch, top, 16*inch), 8},
		{"track 48 at 16", TrackCount(48*inch, 16*inch, 0), 4},
		{"track 48 at 12", TrackCount(48*inch, 12*inch, 0), 5},
		{"track 32", TrackCount(32*inch, 16*inch, 0), 3},
		{"track 16", TrackCount(16*inch, 16*inch, 0), 2},
		{"track 6", TrackCount(6*inch, 16*inch, 0), 1},
		{"C-1 full sheet", 2*LineCount(12*inch, top, 12*inch) + 2*LineCount(16*inch, top, 16*inch) + TrackCount(48*inch, 16*inch, 0), 40},
		{"one screw", LineCount(12*inch, 12*inch, 12*inch), 1},
		{"no room", LineCount(12*inch, 11*inch, 12*inch), 0},
		{"side of 84-3/4", SideCount(84*inch+6*eighth, 8*inch), 11},
		{"head of 38", HeadCount(38*inch, 8*inch), 4},
		{"head of 6", HeadCount(6*inch, 8*inch), 0},
		{"O-54 track of 30 ft: ceil(356/24) + 1", Default(0).FixCount(360 * inch), 16},
		{"short track", Default(0).FixCount(3 * inch), 2},
	} {
		if tt.got != tt.want {
			t.Errorf("%s: %d, want %d", tt.name, tt.got, tt.want)
		}
	}
}

// Oracle: convention C1, SC-1 … SC-14, hand computed there.
func TestCount_C1(t *testing.T) {
	wp, err := FindListing("WP 1200")
	if err != nil {
		t.Fatal(err)
	}
	listed := func(across, along measure.Length) int {
		return C1Sheet(across, along, 24*inch, wp.Edge, wp.Field, 0) + C1Tracks(across, 24*inch, wp.Track, 0)
	}
	even := func(across, along, studs, s measure.Length) int { return C1Sheet(across, along, studs, s, s, 0) }
	for _, tt := range []struct {
		name      string
		got, want int
	}{
		{"SC-1", even(48*inch, 96*inch, 16*inch, 16*inch), 28},
		{"O-20 SC-2", even(48*inch, 96*inch, 24*inch, 12*inch), 27},
		{"SC-3", even(48*inch, 120*inch, 16*inch, 16*inch), 36},
		{"SC-4", even(48*inch, 120*inch, 24*inch, 12*inch), 33},
		{"SC-5", even(48*inch, 144*inch, 16*inch, 16*inch), 40},
		{"SC-6", even(48*inch, 144*inch, 24*inch, 12*inch), 39},
		{"O-21 SC-7", even(96*inch, 48*inch, 16*inch, 16*inch), 28},
		{"SC-8", even(96*inch, 48*inch, 24*inch, 12*inch), 25},
		{"SC-9", even(144*inch, 48*inch, 16*inch, 16*inch), 40},
		{"SC-10", even(144*inch, 48*inch, 24*inch, 12*inch), 35},
		{"SC-11", C1Sheet(1200*mm, 2400*mm, 600*mm, 300*mm, 300*mm, measure.Metric), 27},
		{"O-22 SC-12", listed(48*inch, 96*inch), 39},
		{"O-23 SC-13", listed(48*inch, 120*inch), 47},
		{"SC-14", listed(48*inch, 144*inch), 55},
	} {
		if tt.got != tt.want {
			t.Errorf("%s: %d, want %d", tt.name, tt.got, tt.want)
		}
	}
}

// Invariant: the screws of a line are never further apart than the rule, and
// one fewer would be.
func TestLineCount_least(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first := measure.Length(rapid.Int64Range(0, 1e7).Draw(t, "first"))
		span := measure.Length(rapid.Int64Range(0, 1e9).Draw(t, "span"))
		s := measure.Length(rapid.Int64Range(1e5, 1e7).Draw(t, "spacing"))
		n := measure.Length(LineCount(first, first+span, s))
		if span > (n-1)*s {
			t.Fatalf("%d screws over %d leave a gap above %d", n, span, s)
		}
		if n > 1 && span <= (n-2)*s {
			t.Fatalf("%d screws over %d at %d: one too many", n, span, s)
		}
	})
}

func TestSpacings(t *testing.T) {
	s := Default(measure.InchPound)
	wp1200, _ := FindListing("ga file no. wp-1200")
	wp1204, _ := FindListing("WP1204")
	if wp1200 == nil || wp1204 == nil {
		t.Fatal("listings not found")
	}
	loose := *wp1200
	loose.Field = 16 * inch
	for _, tt := range []struct {
		name string
		got  Screws
		want Screws
	}{
		{"O-25 studs at 16: maker guide, at most 16", s.Spacings(16*inch, nil, false), Screws{12 * inch, 16 * inch, 8 * inch, 16 * inch}},
		{"O-24 studs at 24: maker guide, 12 everywhere", s.Spacings(24*inch, nil, false), Screws{12 * inch, 12 * inch, 8 * inch, 12 * inch}},
		{"WP 1200", s.Spacings(24*inch, wp1200, false), Screws{8 * inch, 12 * inch, 8 * inch, 12 * inch}},
		{"O-59 stricter of 16 and 12, ASTM C840 1.2.1", s.Spacings(16*inch, wp1200, false), Screws{8 * inch, 12 * inch, 8 * inch, 12 * inch}},
		{"O-59 listing 16, general 12", s.Spacings(24*inch, &loose, false), Screws{8 * inch, 12 * inch, 8 * inch, 12 * inch}},
		{"WP 1204 base ply", s.Spacings(24*inch, wp1204, true), Screws{12 * inch, 12 * inch, 8 * inch, 12 * inch}},
	} {
		if tt.got != tt.want {
			t.Errorf("%s: %+v", tt.name, tt.got)
		}
	}
}

func TestListing(t *testing.T) {
	if !slices.IsSortedFunc(Listings, func(a, b Listing) int { return strings.Compare(a.Name, b.Name) }) {
		t.Error("not sorted")
	}
	if _, err := FindListing("XX 999"); err == nil || !strings.Contains(err.Error(), "never invented") {
		t.Errorf("unlisted: %v", err)
	}
	l, _ := FindListing("WP 1200")
	x := []ListedBoard{{"type X", 5 * eighth}}
	for _, tt := range []struct {
		name    string
		depth   measure.Length
		mil     int
		spacing measure.Length
		sides   [2][]ListedBoard
		want    int
	}{
		{"as listed", 29 * eighth, 18, 24 * inch, [2][]ListedBoard{x, x}, 0},
		{"closer studs are stricter", 29 * eighth, 33, 16 * inch, [2][]ListedBoard{x, x}, 0},
		{"type C for X", 29 * eighth, 18, 24 * inch, [2][]ListedBoard{x, {{"type C", 5 * eighth}}}, 1},
		{"thin board", 29 * eighth, 18, 24 * inch, [2][]ListedBoard{{{"type X", 4 * eighth}}, x}, 1},
		{"one side bare", 29 * eighth, 18, 24 * inch, [2][]ListedBoard{x, nil}, 1},
		{"small stud, thin steel, wide", 20 * eighth, 15, 30 * inch, [2][]ListedBoard{x, x}, 3},
	} {
		if got := l.Departs(tt.depth, tt.mil, tt.spacing, tt.sides); len(got) != tt.want {
			t.Errorf("%s: %q", tt.name, got)
		}
	}
	// O-26: 3-5/8 + 2 × 5/8 = 4-7/8.
	if l.StudDepth+2*l.Boards[0].Thickness != 39*eighth {
		t.Error("WP 1200 is not 4-7/8 in thick")
	}
}

// O-41: US Navy NAVEDTRA 14044 (6 in), BC association manual (12 in).
func TestJudge(t *testing.T) {
	s := Default(measure.InchPound)
	for d, want := range map[measure.Length]Verdict{4 * inch: Refused, 6 * inch: Warned, 8 * inch: Warned, 12 * inch: Allowed, 6*inch - 1: Refused} {
		if got := Judge(d, s.JambBandHard, s.JambBandWarn); got != want {
			t.Errorf("%v in off the jamb: %v", d.Inches(), got)
		}
	}
}

// Oracle: psf of a US maker's wallboard data (WT-3, WT-4), hand products.
func TestMass(t *testing.T) {
	lb := func(name string, w, l measure.Length) float64 {
		return SheetMass(FindProduct(measure.InchPound, name).MassM2, w, l) / measure.KgPerPound
	}
	for _, tt := range []struct {
		name      string
		got, want float64
		two       bool
	}{
		{"O-35 4x12 5/8", lb("5/8 type X", 48*inch, 144*inch), 105.6, true},
		{"O-36 4x8 1/2", lb("1/2 regular", 48*inch, 96*inch), 51.2, true},
		{"O-60 ten 4x8 5/8", 10 * lb("5/8 type X", 48*inch, 96*inch), 704, true},
		{"WT-5 1/2 moisture-resistant", lb("1/2 moisture-resistant", 48*inch, 96*inch), 52, true},
		{"WT-1 1/4", lb("1/4 regular", 48*inch, 96*inch), 38.4, false},
	} {
		if math.Abs(tt.got-tt.want) > 1e-9 {
			t.Errorf("%s: %v lb, want %v", tt.name, tt.got, tt.want)
		}
		if TwoPeople(tt.got*measure.KgPerPound, measure.InchPound) != tt.two {
			t.Errorf("%s: two people %v", tt.name, !tt.two)
		}
	}
	if kg := SheetMass(FindProduct(0, "5/8 type X").MassM2, 48*inch, 144*inch); math.Abs(kg-47.9) > 0.01 {
		t.Errorf("O-35: %v kg, want 47.9", kg)
	}
	if m, known := MassFor(0, "type X", 5*eighth); !known || math.Abs(m-2.2*PSF) > 1e-12 {
		t.Errorf("MassFor: %v, %v", m, known)
	}
	if _, known := MassFor(0, "cardboard", 5*eighth); known {
		t.Error("mass of cardboard known")
	}
}

func TestCatalogue(t *testing.T) {
	for _, sys := range systems {
		seen := map[string]bool{}
		for _, p := range Catalogue(sys) {
			if seen[p.Name] || p.Source == "" || p.MassM2 <= 0 || len(p.Sheets) == 0 {
				t.Errorf("%s: twice, or incomplete", p.Name)
			}
			seen[p.Name] = true
			for _, s := range p.Sheets {
				if !slices.IsSorted(s.Lengths) || s.Width <= 0 {
					t.Errorf("%s: sheets %v", p.Name, s)
				}
			}
		}
	}
	if !SpecialOrder(54*inch, 96*inch, 0) || SpecialOrder(48*inch, 144*inch, 0) || !SpecialOrder(48*inch, 168*inch, 0) {
		t.Error("special order")
	}
}

func TestGuessMakeup(t *testing.T) {
	tests := []struct {
		name      string
		sys       measure.System
		thickness measure.Length
		depth     measure.Length
		board     string
		plies     [2]int
		off       measure.Length
	}{
		// Oracle: distributor's jamb depths (DR-11, O-40): 3-5/8 + 2 × 5/8 = 4-7/8.
		{"O-40 4-7/8", 0, 39 * eighth, 29 * eighth, "5/8 type X", [2]int{1, 1}, 0},
		{"DR-11 4-5/8", 0, 37 * eighth, 29 * eighth, "1/2 regular", [2]int{1, 1}, 0},
		{"DR-11 7-1/4", 0, 58 * eighth, 48 * eighth, "5/8 type X", [2]int{1, 1}, 0},
		{"6-1/8, two plies a side", 0, 49 * eighth, 29 * eighth, "5/8 type X", [2]int{2, 2}, 0},
		{"100", 1, 100 * mm, 75 * mm, "12.5 type A", [2]int{1, 1}, 0},
		{"125", 1, 125 * mm, 100 * mm, "12.5 type A", [2]int{1, 1}, 0},
		{"150", 1, 150 * mm, 100 * mm, "12.5 type A", [2]int{2, 2}, 0},
		{"5", 0, 40 * eighth, 32 * eighth, "1/2 regular", [2]int{1, 1}, 0},
		{"furring 4-1/4", 0, 34 * eighth, 29 * eighth, "5/8 type X", [2]int{1, 0}, 0},
		{"thick", 0, 12 * inch, 64 * eighth, "5/8 type X", [2]int{2, 2}, 12 * eighth},
	}
	for _, tt := range tests {
		m := GuessMakeup(tt.thickness, tt.sys)
		if m.StudDepth != tt.depth || m.Board != tt.board || m.Plies != tt.plies || m.Off != tt.off {
			t.Errorf("%s: %+v", tt.name, m)
		}
	}
}

func TestStuds(t *testing.T) {
	// O-52: UL U419, studs 3/8 to 3/4 in shorter.
	if lo, hi := RatedStud(120*inch, measure.InchPound); lo != 119*inch+2*eighth || hi != 119*inch+5*eighth {
		t.Errorf("rated stud %v to %v", lo.Inches(), hi.Inches())
	}
	// O-53: Ontario Building Code 9.24.3.2, at least 12 mm shorter.
	if _, hi := RatedStud(3000*mm, measure.Metric); hi != 2988*mm {
		t.Errorf("rated stud to %v", hi.MM())
	}
	// O-55: BC Building Code 2012 Table 9.24.2.1, 64 mm at 400: 4.0 m.
	if h, ok := MaxHeight(64*mm, 400*mm); !ok || h != 4000*mm || 4200*mm <= h {
		t.Errorf("max height %v, %v", h.MM(), ok)
	}
	if h, ok := MaxHeight(92*mm, 600*mm); !ok || h != 3900*mm {
		t.Errorf("92 mm: %v, %v", h.MM(), ok)
	}
	if _, ok := MaxHeight(152*mm, 400*mm); ok {
		t.Error("a limit for 152 mm studs, whose row was not seen")
	}
}
