package job_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	. "boardrun/internal/job"
	"boardrun/internal/measure"
)

// listed writes a job with a price list beside it and reads it.
func listed(t *testing.T, extra, name, list string) (*Job, error) {
	t.Helper()
	dir := t.TempDir()
	write := func(name, text string) string {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return p
	}
	write("plan.dxf", "")
	if list != "" {
		write(name, list)
	}
	return Read(write("j.yaml", base+extra))
}

// Oracle: the rows as written; a board row prices the sheet the layout weighs.
func TestPriceList(t *testing.T) {
	const list = "\uFEFFItem,Unit,Price,Hours,Labor rate,MasterFormat,Date,Note\n" +
		"5/8 type X 4x10,sheet,17.75,,,09 29 00,2026-05-01,\n" +
		"stud 362S125-18 12ft,each,6.4,,,,,delivered\n" +
		"stud 362S125-18,lf,0.55,,,,,\n" +
		"\n" +
		"\"hang, side 1\",sf,,0.018,58.50,,,\n"
	j, err := listed(t, "prices: {currency: USD, hour: 60, list: p.csv, add: [{name: Overhead, percent: 10}, {name: Bond, amount: 450}]}\n", "p.csv", list)
	if err != nil {
		t.Fatal(err)
	}
	p := j.Prices
	if got := p.PerSheet[SheetKey("5/8 type X", 48*measure.Inch, 120*measure.Inch, 0)]; got != 177500 {
		t.Errorf("4x10 costs %d", got)
	}
	if len(p.List) != 4 || p.ListFile != "p.csv" || len(j.Lists) != 1 {
		t.Fatalf("%d rows of %q, files %v", len(p.List), p.ListFile, j.Lists)
	}
	stud, hang := p.List[1], p.List[3]
	if stud.Key != "stud 362s125-18" || stud.Length != 144*measure.Inch || stud.Price != 64000 || stud.Unit != "each" || stud.Note != "delivered" {
		t.Errorf("stud %+v", stud)
	}
	if hang.Key != "hang side 1" || hang.Priced || hang.Hours != 0.018 || hang.Rate != 585000 || hang.Unit != "sf" || hang.Where != "p.csv:6" {
		t.Errorf("hang %+v", hang)
	}
	if len(p.Add) != 2 || p.Add[0].Percent != 100000 || p.Add[1].Amount != 4500000 {
		t.Errorf("add %+v", p.Add)
	}
}

func TestPriceList_faults(t *testing.T) {
	const key = "prices: {list: p.csv}\n"
	for name, c := range map[string]struct{ extra, list, want string }{
		"missing":       {key, "", `j.yaml:13:16: "p.csv": there is no such file`},
		"empty":         {key, "\n", "p.csv: the list is empty"},
		"only a header": {key, "item,unit,price\n", "p.csv:1:1: the price list has no row"},
		"no column":     {key, "item,price\nstud,1\n", `p.csv:1:1: a price list has a column "unit"`},
		"odd column":    {key, "item,unit,prise\nstud,each,1\n", `p.csv:1:3: column "prise" is none of item, unit, price, hours, labour rate, section, date, note: did you mean "price"?`},
		"unit":          {key, "item,unit,price\nstud,furlong,1\n", `p.csv:2:2: unit "furlong" of stud is none of`},
		"text":          {key, "item,unit,price\nstud,each,ask\n", `p.csv:2:3: price of stud: "ask" is not an amount`},
		"currency":      {key, "item,unit,price\nstud,each,$4.10\n", `p.csv:2:3: price of stud: "$4.10" is not an amount; write it as 14.20, the currency apart`},
		"negative":      {key, "item,unit,price\nstud,each,-4\n", `p.csv:2:3: price of stud: "-4" is negative`},
		"comma":         {key, "item;unit;price\nstud;each;4,10\n", `p.csv:2:3: price of stud: "4,10": write a point for the decimals`},
		"infinite":      {key, "item,unit,price\nstud,each,1e400\n", `p.csv:2:3: price of stud`},
		"not a number":  {key, "item,unit,price\nstud,each,NaN\n", `p.csv:2:3: price of stud`},
		"too fine":      {key, "item,unit,price\nscrew,each,0.00931\n", `more than 4 decimals; give the price of 1000`},
		"formula":       {key, "item,unit,price\nstud,each,=2*2\n", `p.csv:2:3: price of stud: a formula; write the amount itself`},
		"twice":         {key, "item,unit,price\nstud,each,1\nStud , each,2\n", `p.csv:3:1: Stud stands here a second time, first at p.csv:2: delete one`},
		"no item":       {key, "item,unit,price\n,each,1\n", `p.csv:2:1: a price without an item`},
		"hours":         {key, "item,unit,price,hours\nframe,sf,,ten\n", `p.csv:2:4: hours of frame: "ten" is not a number`},
		"quote":         {key, "item,unit,price\nstud 3\" wide,each,1\n", `p.csv:2:`},
		"latin-1":       {key, "item,unit,price\nt\xfcr,each,1\n", "p.csv: not UTF-8 text"},
		"both":          {"prices: {add: [{name: O, percent: 1, amount: 2}]}\n", "", "O has a percentage and an amount"},
		"neither":       {"prices: {add: [{name: O}]}\n", "", "a row to add gives percent: 10 or amount: 450"},
		"way in":        {"order: {longest: 7ft}\n", "", "no sheet of 5/8 type X is 84 in long or shorter"},
		"limit":         {"limiting-heights: p.csv\n", "stud,spacing,height\n362S125-18,16in,tall\n", `p.csv:2:3: height "tall" of 362S125-18 is no length`},
		"limit twice":   {"limiting-heights: p.csv\n", "stud,spacing,height\n362S125-18,16in,13ft\n362s125-18,16in,12ft\n", `p.csv:3:1: 362s125-18 at 16 in stands here a second time`},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := listed(t, c.extra, "p.csv", c.list)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v\nwant %s", err, c.want)
			}
		})
	}
}

// A workbook's faults name file, sheet and cell.
func TestPriceList_workbook(t *testing.T) {
	write := func(t *testing.T, fill func(*excelize.File)) (*Job, error) {
		dir := t.TempDir()
		f := excelize.NewFile()
		if _, err := f.NewSheet("Prices 2026"); err != nil {
			t.Fatal(err)
		}
		if err := f.SetSheetRow("Prices 2026", "A2", &[]any{"Item", "Unit", "Price", "Date"}); err != nil {
			t.Fatal(err)
		}
		fill(f)
		if err := f.SaveAs(filepath.Join(dir, "p.xlsx")); err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(os.WriteFile(filepath.Join(dir, "plan.dxf"), nil, 0o644), os.WriteFile(filepath.Join(dir, "j.yaml"), []byte(base+"prices: {list: p.xlsx}\n"), 0o644)); err != nil {
			t.Fatal(err)
		}
		return Read(filepath.Join(dir, "j.yaml"))
	}
	row := func(f *excelize.File, at string, v ...any) {
		if err := f.SetSheetRow("Prices 2026", at, &v); err != nil {
			t.Fatal(err)
		}
	}
	j, err := write(t, func(f *excelize.File) { row(f, "A4", "stud", "each", 4.1, "May 2026") })
	if err != nil || len(j.Prices.List) != 1 || j.Prices.List[0].Price != 41000 || j.Prices.List[0].Where != "p.xlsx, Prices 2026 row 4" || j.Prices.List[0].Date != "May 2026" {
		t.Errorf("%v, %+v", err, j)
	}
	for name, c := range map[string]struct {
		fill func(*excelize.File)
		want string
	}{
		"formula": {func(f *excelize.File) {
			row(f, "A3", "stud", "each")
			if err := f.SetCellFormula("Prices 2026", "C3", "2*2"); err != nil {
				t.Fatal(err)
			}
		}, "p.xlsx: sheet Prices 2026, cell C3: price of stud: a formula; write the amount itself"},
		"text":     {func(f *excelize.File) { row(f, "A3", "stud", "each", "ask") }, `p.xlsx: sheet Prices 2026, cell C3: price of stud: "ask" is not an amount`},
		"negative": {func(f *excelize.File) { row(f, "A3", "stud", "each", -1) }, `cell C3: price of stud: "-1" is negative`},
		"twice": {func(f *excelize.File) { row(f, "A3", "stud", "each", 1); row(f, "A4", "stud", "each", 1) },
			"cell A4: stud stands here a second time, first at p.xlsx, Prices 2026 row 3"},
	} {
		if _, err := write(t, c.fill); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v\nwant %s", name, err, c.want)
		}
	}
	if _, err := listed(t, "prices: {list: p.xlsx}\n", "p.xlsx", "no workbook"); err == nil || !strings.Contains(err.Error(), "p.xlsx: cannot be read as a workbook") {
		t.Errorf("no workbook: %v", err)
	}
}

// Oracle: hand: at 16 in the row for 24 in is on the safe side, that for 12 in
// is not.
func TestLimit(t *testing.T) {
	j, err := listed(t, "limiting-heights: h.csv\n", "h.csv", "stud,spacing,height,note\n362S125-18,12in,14ft,\n362S125-18,24in,\"11'-6\"\"\",5 psf L/240\n")
	if err != nil {
		t.Fatal(err)
	}
	for spacing, want := range map[Length]Length{12 * measure.Inch: 168 * measure.Inch, 16 * measure.Inch: 138 * measure.Inch, 30 * measure.Inch: 0} {
		if h, ok := j.Limit("362s125-18", spacing); h.Height != want || ok != (want > 0) {
			t.Errorf("at %v: %v", spacing.Inches(), h)
		}
	}
}

// The longest length that fits the way in takes longer sheets out of the stock.
func TestOrder_longest(t *testing.T) {
	j, err := listed(t, "order: {longest: 10ft}\n", "", "")
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range j.Boards {
		for _, s := range b.Sheets {
			for _, l := range s.Lengths {
				if l > 120*measure.Inch {
					t.Errorf("%s still %v in long", b.Name, l.Inches())
				}
			}
		}
	}
	if len(j.Doubts) == 0 || j.Doubts[0].Code != "way-in" {
		t.Errorf("not told: %+v", j.Doubts)
	}
}

func FuzzPriceList(f *testing.F) {
	f.Add("item,unit,price\nstud,each,4.10\n")
	f.Add("item;unit;price\n\"a \"\" b\";lf;1e3\n")
	f.Fuzz(func(t *testing.T, list string) {
		j, err := listed(t, "prices: {list: p.csv}\n", "p.csv", list)
		if err != nil {
			var es Errors
			if !errors.As(err, &es) || err.Error() == "" {
				t.Errorf("error %v", err)
			}
			return
		}
		for _, row := range j.Prices.List {
			if row.Price < 0 || row.Item == "" || row.Unit == "" || row.Where == "" {
				t.Errorf("%+v", row)
			}
		}
	})
}
