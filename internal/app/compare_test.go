package app

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/xuri/excelize/v2"

	"boardrun/internal/job"
	"boardrun/internal/plan"
	"boardrun/internal/report"
	"boardrun/internal/write"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// comparison is two walls of one room-less plan under two alternatives.
func comparison(t *testing.T) (*report.Comparison, []report.Option) {
	t.Helper()
	j, err := job.Parse("case.yaml", []byte(caseJob+`prices:
  currency: EUR
  boards: {5/8 type X: {4x8: 10, 4x9: 11.25, 4x10: 12.5, 4x12: 15}}
  joints-per-ft: {tapered: 1, tapered-cut: 2, butt: 3}
  cut: 0.5
  added-stud: 10
  screws-per-1000: 12
decks: 9'-6"
alternatives:
  - name: lower
    changes: {types: [{name: P, both: {height: 8'-0"}}]}
  - name: dear board
    changes: {prices: {boards: {5/8 type X: {4x8: 20, 4x9: 22.5, 4x10: 25, 4x12: 30}}}}
`), nil)
	if err != nil {
		t.Fatal(err)
	}
	pl := &plan.Plan{Drawings: []plan.Drawing{{File: "case.dxf", Storey: "1"}}}
	for i, l := range []measure.Length{16 * measure.Foot, 21 * measure.Foot} {
		y := measure.Length(i) * 20 * measure.Foot
		pl.Walls = append(pl.Walls, plan.Wall{Storey: "1", Axis: [2]geom.Pt{{Y: y}, {X: l, Y: y}}, Thickness: 39 * measure.EighthInch,
			Sources: []plan.Source{{File: "case.dxf", Ref: string(rune('A' + i))}}})
	}
	o, err := (&pipeline{effort: "quick", out: io.Discard}).options(context.Background(), j, pl)
	if err != nil {
		t.Fatal(err)
	}
	return report.Compare(o), o
}

// Oracle: the money of all walls of an alternative is its total, the bought
// area of all walls is what the cut list buys.
func TestCompare_moneyOfWallsAddsUp(t *testing.T) {
	c, _ := comparison(t)
	if len(c.Alternatives) != 3 || len(c.Walls) != 6 {
		t.Fatalf("%d alternatives, %d wall lines", len(c.Alternatives), len(c.Walls))
	}
	wallsAddUp(t, c)

	// Every line of a price list is shared out too.
	p := &pipeline{effort: "quick", out: io.Discard}
	j, pl, err := p.read(context.Background(), clinicJob)
	if err != nil {
		t.Fatal(err)
	}
	options, err := p.options(context.Background(), j, pl)
	if err != nil {
		t.Fatal(err)
	}
	wallsAddUp(t, report.Compare(options))
}

func wallsAddUp(t *testing.T, c *report.Comparison) {
	t.Helper()
	for _, a := range c.Alternatives {
		money, bought := 0.0, 0.0
		for _, w := range c.Walls {
			if w.Alternative == a.Name {
				money, bought = money+w.Money, bought+float64(w.BoughtM2)
			}
		}
		if math.Abs(money-a.Total) > 0.02*float64(len(c.Walls)) || a.Total == 0 {
			t.Errorf("%s: walls come to %.2f, the total is %.2f", a.Name, money, a.Total)
		}
		if math.Abs(bought-float64(a.BoughtM2)) > 1e-6 {
			t.Errorf("%s: walls buy %.6f m², the job %.6f", a.Name, bought, float64(a.BoughtM2))
		}
	}
}

// Oracle: hand sum. Doubling the price of every sheet changes the total by the
// board's own price and nothing else: same sheets, studs, joints.
func TestCompare_dearBoardDiffersByBoardAlone(t *testing.T) {
	c, o := comparison(t)
	base, dear := c.Alternatives[0], c.Alternatives[2]
	board := 0.0
	for _, l := range o[0].T.Cost.Lines {
		if strings.HasPrefix(l.Item, "board 5/8") {
			board += l.Amount
		}
	}
	if base.Sheets != dear.Sheets || base.BoughtM2 != dear.BoughtM2 {
		t.Errorf("dearer board is %d sheets of %.2f m², was %d of %.2f: the sum below says nothing", dear.Sheets, float64(dear.BoughtM2), base.Sheets, float64(base.BoughtM2))
	}
	if math.Abs(dear.Total-base.Total-board) > 0.005 {
		t.Errorf("totals %.2f and %.2f, board costs %.2f", base.Total, dear.Total, board)
	}
	if lower := c.Alternatives[1]; lower.NetM2 >= base.NetM2 || lower.Total >= base.Total {
		t.Errorf("walls of 8 ft are not less than walls of 9'-6\": %v, %v", lower.NetM2, base.NetM2)
	}
	if len(c.Alternatives[1].Changes) != 1 || c.Alternatives[1].Changes[0] != "types.P.both.height: 8'-0\"" {
		t.Errorf("changes told: %q", c.Alternatives[1].Changes)
	}
}

// Oracle: santhosh-tekuri/jsonschema v6 judges compare.json by its schema;
// excelize reads back the workbook's cells.
func TestCompare_filesAreValid(t *testing.T) {
	c, _ := comparison(t)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(report.CompareSchemaJSON()))
	if err != nil {
		t.Fatal(err)
	}
	k := jsonschema.NewCompiler()
	if err := k.AddResource("compare.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := k.Compile("compare.json")
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := write.CompareJSON(&b, c); err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if err := schema.Validate(v); err != nil {
		t.Error(err)
	}
	delete(v.(map[string]any), "walls")
	if schema.Validate(v) == nil {
		t.Error("a comparison without walls is valid")
	}
	var again report.Comparison
	if err := json.Unmarshal(b.Bytes(), &again); err != nil {
		t.Fatal(err)
	}

	var x bytes.Buffer
	if err := write.CompareXLSX(&x, c); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&x)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows("Compare", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for r, row := range rows {
		if len(row) > 4 && row[0] == "Difference to the job as it stands" && row[2] != "" {
			found = true
			cell, _ := excelize.CoordinatesToCellName(4, r+1)
			got, err := f.CalcCellValue("Compare", cell, excelize.Options{RawCellValue: true})
			if err != nil || got == "" || !sameNumber(got, c.Alternatives[1].Total-c.Alternatives[0].Total) {
				t.Errorf("the formula in %s gives %q (%v), want %.2f", cell, got, err, c.Alternatives[1].Total-c.Alternatives[0].Total)
			}
		}
	}
	if !found {
		t.Error("compare.xlsx has no line of differences of money")
	}
}

func sameNumber(text string, want float64) bool {
	var v float64
	return json.Unmarshal([]byte(text), &v) == nil && math.Abs(v-want) < 0.005
}

// A comparison keeps the takeoff that is in the folder, and the other way
// round.
func TestCompare_keepsTheTakeoffBesideIt(t *testing.T) {
	dir := t.TempDir()
	for _, names := range [][]string{{"takeoff.json"}, {"compare.json"}, {"cuts.csv"}} {
		f, err := write.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range names {
			if err := f.Write(n, func(w io.Writer) error { _, err := io.WriteString(w, "x"); return err }); err != nil {
				t.Fatal(err)
			}
		}
		if err := f.Commit(); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
	list, _ := filepath.Glob(filepath.Join(dir, "*.*"))
	if len(list) != 3 {
		t.Errorf("left: %v", list)
	}
}
