package app

import (
	"context"
	"io"
	"math"
	"slices"
	"sort"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/report"
)

// The worked cases: walls computed by hand from the rules, number by number,
// here from plan to takeoff.json. Oracle: hand sums, as in the comments.

// caseWall is one wall along x from the origin, alone in a building.
type caseWall struct {
	job      string
	length   measure.Length
	thick    measure.Length
	openings []plan.Opening
}

func (c caseWall) take(t *testing.T) *report.Takeoff {
	t.Helper()
	j, err := job.Parse("case.yaml", []byte(c.job), nil)
	if err != nil {
		t.Fatal(err)
	}
	p := &plan.Plan{
		Drawings: []plan.Drawing{{File: "case.dxf", Storey: "1"}},
		Walls:    []plan.Wall{{Storey: "1", Axis: [2]geom.Pt{{}, {X: c.length}}, Thickness: c.thick, Sources: []plan.Source{{File: "case.dxf", Ref: "1A"}}}},
		Openings: c.openings,
	}
	out, err := (&pipeline{effort: "best", out: io.Discard}).assemble(context.Background(), j, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

const caseJob = `job: case
units: inch-pound
stamp: BID
drawings: [{file: case.dxf, storey: "1"}]
types: [{name: P, match: [{thickness: 4-7/8in}], stud: 3-5/8in, mil: 18, spacing: 16in, both: {boards: 5/8 type X, height: to deck}}]
ceilings: {default: 9'-0"}
rules: {fit-slack: 0}
`

// side gives the joints along the studs of one side as u from the left end of
// the left side, so that both sides read the same way, in inches.
func joints(t *report.Takeoff, side string) []float64 {
	var out []float64
	for _, q := range t.Joints {
		f := faceOf(t, q.Face)
		if f.Side != side || q.Ply != 1 || q.FromUV[0] != q.ToUV[0] {
			continue
		}
		u := float64(q.FromUV[0]) / 25.4
		if side == "left" {
			u = float64(f.LengthMM)/25.4 - u
		}
		u = math.Round(u*1000) / 1000
		if !slices.Contains(out, u) {
			out = append(out, u)
		}
	}
	sort.Float64s(out)
	return out
}

func sizes(t *report.Takeoff) map[string]int {
	out := map[string]int{}
	for _, s := range t.Sheets {
		out[measure.SheetName(s.WidthMM.Length(), s.LengthMM.Length(), measure.InchPound)]++
	}
	return out
}

// screws of the left or right side; end faces are not part of the cases.
func screwsOf(t *report.Takeoff, side string) (n, tack int) {
	for _, s := range t.Screws {
		if faceOf(t, s.Face).Side == side {
			n, tack = n+s.Count, tack+s.Tack
		}
	}
	return n, tack
}

func wantJoints(t *testing.T, out *report.Takeoff, one, two []float64) {
	t.Helper()
	l, r := joints(out, "left"), joints(out, "right")
	if !(slices.Equal(l, one) && slices.Equal(r, two) || slices.Equal(l, two) && slices.Equal(r, one)) {
		t.Errorf("joints %v and %v, want %v and %v", l, r, one, two)
	}
}

// C-1: 20 ft, deck 10'-0", no openings. A joints 48 96 144 192, B 32 80 128 176
// 224; five and five sheets 4x10; 40 screws a full sheet; A 200, B 213; studs
// 240/16 + 1 = 16 at 119-1/4.
func TestCase1_plainWall(t *testing.T) {
	c := caseWall{job: caseJob + "decks: [{storey: \"1\", level: 10'-0\"}]\nstock: {5/8 type X: {sheets: {48in: [10ft]}}}\n", length: 20 * measure.Foot, thick: 39 * measure.EighthInch}
	out := c.take(t)
	wantJoints(t, out, []float64{48, 96, 144, 192}, []float64{32, 80, 128, 176, 224})
	sides := 0
	for _, s := range out.Sheets {
		for _, p := range s.Placements {
			if f := faceOf(out, pieceOf(out, p.Piece).Face); f.Side == "left" || f.Side == "right" {
				sides++
				break
			}
		}
	}
	if sides != 10 {
		t.Errorf("%d sheets for the two sides, want 10", sides)
	}
	a, tackA := screwsOf(out, "left")
	b, tackB := screwsOf(out, "right")
	if !(a == 200 && b == 213 && tackA == 104 || a == 213 && b == 200 && tackB == 104) {
		t.Errorf("screws %d (tack %d) and %d (tack %d), want 200 (104) and 213", a, tackA, b, tackB)
	}
	wantStuds(t, out, 16, func(int) float64 { return 119.25 })
}

func pieceOf(t *report.Takeoff, id string) *report.Piece {
	for i := range t.Pieces {
		if t.Pieces[i].ID == id {
			return &t.Pieces[i]
		}
	}
	return &report.Piece{}
}

// wantStuds compares full-height studs, by station, with lengths in inches.
func wantStuds(t *testing.T, out *report.Takeoff, n int, length func(k int) float64) {
	t.Helper()
	k := 0
	for _, s := range out.Runs[0].Studs {
		if s.Kind == "cripple" {
			continue
		}
		if want := length(k); want > 0 && math.Abs(float64(s.LengthMM)/25.4-want) > 0.001 {
			t.Errorf("stud %d is %.4f in long, want %.4f", k, float64(s.LengthMM)/25.4, want)
		}
		k++
	}
	if k != n {
		t.Errorf("%d studs, want %d", k, n)
	}
}

// C-2: 16 ft, deck 10'-0", knock-down door, rough opening 38 × 85-1/4 at u 69 to
// 107. A joints 48 96 144, hooks 27 and 11 wide; B 32 80 128 176, 11 and 27; notch
// 84-3/4 high; eight sheets 4x10; net 135.97 sf a side; 15 studs, 2 cripples of
// 34; bottom track 154.
func TestCase2_doorHookedFromBothSides(t *testing.T) {
	c := caseWall{
		job:    caseJob + "decks: [{storey: \"1\", level: 10'-0\"}]\nframes: [{name: D, for: door, kind: knock-down, sizes-are: rough}]\nstock: {5/8 type X: {sheets: {48in: [10ft]}}}\n",
		length: 16 * measure.Foot, thick: 39 * measure.EighthInch,
		openings: []plan.Opening{{Kind: plan.Door, At: 88 * measure.Inch, Width: 38 * measure.Inch, Head: 341 * measure.Inch / 4, HeadBy: "attribute", Basis: "drawn"}},
	}
	out := c.take(t)
	wantJoints(t, out, []float64{48, 96, 144}, []float64{32, 80, 128, 176})
	for _, f := range out.Faces {
		if f.Side != "left" && f.Side != "right" {
			continue
		}
		if sf := float64(f.NetM2) / 0.09290304; math.Abs(sf-135.97) > 0.01 {
			t.Errorf("%s: net %.3f sf, want 135.97", f.ID, sf)
		}
		if h := (float64(f.HolesUV[0][2][1]) - float64(f.OutlineUV[0][1])) / 25.4; math.Abs(h-84.75) > 0.001 {
			t.Errorf("%s: the notch is %.3f in high, want 84-3/4", f.ID, h)
		}
	}
	wantStuds(t, out, 15, func(int) float64 { return 0 })
	cripples := 0
	for _, s := range out.Runs[0].Studs {
		if s.Kind == "cripple" {
			cripples++
			if math.Abs(float64(s.LengthMM)/25.4-34) > 0.001 {
				t.Errorf("cripple of %.3f in, want 34", float64(s.LengthMM)/25.4)
			}
		}
	}
	if cripples != 2 {
		t.Errorf("%d cripples, want 2", cripples)
	}
}

// C-4: 16 ft, deck 126 rising to 130. One 4x12 a column: A left and right
// 124-3/4 / 125-3/4 … 127-3/4 / 128-3/4; B joints cut at 125-3/8, 126-3/8, 127-3/8,
// 128-3/8, rounded down, never nearest; per side 169.0 sf; studs 125.25 + k/3.
func TestCase4_slopedDeckOneSheetHigh(t *testing.T) {
	c := caseWall{
		job:    caseJob + "decks: [{storey: \"1\", points: [[0, 0, 126in], [16ft, 0, 130in], [0, 16ft, 126in]]}]\nstock: {5/8 type X: {sheets: {48in: [8ft, 10ft, 12ft]}}}\n",
		length: 16 * measure.Foot, thick: 39 * measure.EighthInch,
	}
	out := c.take(t)
	wantJoints(t, out, []float64{48, 96, 144}, []float64{32, 80, 128, 176})
	var cuts []string
	for _, p := range out.Pieces {
		f := faceOf(out, p.Face)
		if f.Side != "left" && f.Side != "right" {
			continue
		}
		for _, h := range p.HeightsMM {
			cuts = append(cuts, measure.Cut(h[1].Length(), measure.InchPound))
		}
		if n := sizes(out)["4x12"]; n < 8 {
			t.Errorf("%d sheets 4x12, want 8", n)
		}
	}
	for _, want := range []string{"124-3/4", "125-3/4", "126-3/4", "127-3/4", "128-3/4", "125-3/8", "126-3/8", "127-3/8", "128-3/8"} {
		if !slices.Contains(cuts, want) {
			t.Errorf("no piece is cut to %s; there are %v", want, cuts)
		}
	}
	for _, f := range out.Faces {
		if sf := float64(f.NetM2) / 0.09290304; (f.Side == "left" || f.Side == "right") && math.Abs(sf-169) > 0.05 {
			t.Errorf("%s: %.2f sf, want 169.0", f.ID, sf)
		}
	}
	wantStuds(t, out, 13, func(k int) float64 { return 125.25 + float64(k)/3 })
}

// C-5: 20 ft, deck 210 rising to 215: full 10 ft sheets end at 120-1/2, tops from
// 88-3/4 / 89-3/4 to 92-3/4 / 93-3/4; in all 10 of 4x10 and 10 of 4x8; a top 32 screws,
// A 5 × 72 = 360; the horizontal joint 20 lf a side; studs 209.25 + k/3.
func TestCase5_tops(t *testing.T) {
	c := caseWall{
		job:    caseJob + "decks: [{storey: \"1\", points: [[0, 0, 210in], [20ft, 0, 215in], [0, 20ft, 210in]]}]\nstock: {5/8 type X: {sheets: {48in: [8ft, 10ft, 12ft]}}}\n",
		length: 20 * measure.Foot, thick: 39 * measure.EighthInch,
	}
	out := c.take(t)
	wantJoints(t, out, []float64{48, 96, 144, 192}, []float64{32, 80, 128, 176, 224})
	var tops []string
	level := map[string]float64{}
	for _, p := range out.Pieces {
		if f := faceOf(out, p.Face); p.Role == "top" && (f.Side == "left" || f.Side == "right") {
			tops = append(tops, measure.Cut(p.HeightsMM[0][1].Length(), measure.InchPound)+" / "+measure.Cut(p.HeightsMM[len(p.HeightsMM)-1][1].Length(), measure.InchPound))
		}
	}
	for _, q := range out.Joints {
		if f := faceOf(out, q.Face); q.FromUV[1] == q.ToUV[1] && (f.Side == "left" || f.Side == "right") {
			level[f.Side] += math.Abs(float64(q.ToUV[0]-q.FromUV[0])) / 304.8
			if v := float64(q.FromUV[1]) / 25.4; math.Abs(v-120.5) > 0.001 {
				t.Errorf("a horizontal joint at %.3f, want 120-1/2", v)
			}
		}
	}
	for _, want := range []string{"88-3/4 / 89-3/4", "92-3/4 / 93-3/4"} {
		turned := want[len(want)-6:] + " / " + want[:6]
		if !slices.Contains(tops, want) && !slices.Contains(tops, turned) {
			t.Errorf("no top is %s; there are %v", want, tops)
		}
	}
	for _, s := range []string{"left", "right"} {
		if math.Abs(level[s]-20) > 0.001 {
			t.Errorf("%s: %.3f lf of horizontal joint, want 20", s, level[s])
		}
	}
	a, _ := screwsOf(out, "left")
	b, _ := screwsOf(out, "right")
	if a != 360 && b != 360 {
		t.Errorf("screws %d and %d, want 360 on the side of five full columns", a, b)
	}
	wantStuds(t, out, 16, func(k int) float64 { return 209.25 + float64(k)/3 })
}

// C-7: 5.900 m, studs 400, deck 2.950, floor gap 12, deck gap 20, 1200 × 3000: board
// 2918; A 4 × 1200 + 1100, B 800 + 4 × 1200 + 300; 10 sheets; studs 15 + 1 = 16.
func TestCase7_metric(t *testing.T) {
	c := caseWall{job: `job: case
units: metric
stamp: BID
drawings: [{file: case.dxf, storey: "1"}]
types: [{name: P, match: [{thickness: 100mm}], stud: 75mm, mil: 18, spacing: 400mm, both: {boards: 12.5 type A, height: to deck}}]
ceilings: {default: 2.5m}
decks: [{storey: "1", level: 2950mm}]
rules: {fit-slack: 0}
stock: {12.5 type A: {sheets: {1200mm: [3000mm]}}}
`, length: 5900 * measure.Millimetre, thick: 100 * measure.Millimetre}
	out := c.take(t)
	n := 0
	for _, p := range out.Pieces {
		f := faceOf(out, p.Face)
		if f.Side != "left" && f.Side != "right" {
			continue
		}
		n++
		if h := float64(p.HeightsMM[0][1]); math.Abs(h-2918) > 0.001 {
			t.Errorf("%s is %.3f mm high, want 2918", p.ID, h)
		}
	}
	if n != 11 {
		t.Errorf("%d pieces, want 5 + 6", n)
	}
	if k := len(out.Runs[0].Studs); k != 16 {
		t.Errorf("%d studs, want 16", k)
	}
}
