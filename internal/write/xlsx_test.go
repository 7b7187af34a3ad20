package write

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"boardrun/internal/report"
)

// manyWalls is an invented job of n walls with two sides each.
func manyWalls(n int) *report.Takeoff {
	t := &report.Takeoff{}
	t.Job.Title, t.Job.Stamp = "Invented clinic", "BUDGET"
	for i := range n {
		id := fmt.Sprintf("1-W%04d", i+1)
		t.Runs = append(t.Runs, report.Run{ID: id, Type: "P1", Storey: "1", Status: "new", LengthMM: 3000})
		for _, side := range []string{"left", "right"} {
			t.Faces = append(t.Faces, report.Face{ID: id + "-" + side, Run: id, Side: side, Boarded: true, LengthMM: 3000, NetM2: 8.1, GrossM2: 8.1})
		}
	}
	return t
}

func openBook(t *testing.T, take *report.Takeoff) *excelize.File {
	t.Helper()
	var buf bytes.Buffer
	if err := XLSX(&buf, take); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&buf)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// TestTextStaysText: what a drawing or a job file says is never a formula.
// Oracle: excelize reads the file back.
func TestTextStaysText(t *testing.T) {
	cases := []struct{ name, text, want string }{
		{"equals", "=cmd|' /C calc'!A0", "=cmd|' /C calc'!A0"},
		{"plus", "+1+1", "+1+1"},
		{"minus", "-2+3", "-2+3"},
		{"at", "@SUM(A1)", "@SUM(A1)"},
		{"emoji", "wall 🧱", "wall 🧱"},
		{"right to left", "קיר \u202e1", "קיר \u202e1"},
		{"markup", "<v>1</v>&amp;", "<v>1</v>&amp;"},
		{"control", "a\x01b", "a\ufffdb"}, // XML 1.0 2.2 has no such character
		{"long", strings.Repeat("x", 40000), strings.Repeat("x", excelize.TotalCellChars)},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			take := manyWalls(1)
			take.Runs[0].Type = c.text
			f := openBook(t, take)
			found := false
			rows, err := f.GetRows("Walls")
			if err != nil {
				t.Fatal(err)
			}
			for r, row := range rows {
				for k, v := range row {
					if v != c.want {
						continue
					}
					found = true
					at := cell(k+1, r+1)
					if g, _ := f.GetCellFormula("Walls", at); g != "" {
						t.Errorf("%s holds the formula %.40q", at, g)
					}
				}
			}
			if !found {
				t.Errorf("no cell of Walls holds %.40q", c.want)
			}
		})
	}
}

// TestDimensionHoldsEveryRow: readers that trust a sheet's dimension see all
// of it. Oracle: the rows excelize counts.
func TestDimensionHoldsEveryRow(t *testing.T) {
	f := openBook(t, manyWalls(120))
	for _, s := range f.GetSheetList() {
		dim, err := f.GetSheetDimension(s)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := f.GetRows(s)
		if err != nil {
			t.Fatal(err)
		}
		_, end, _ := strings.Cut(dim, ":")
		_, last, err := excelize.CellNameToCoordinates(end)
		if err != nil || last < len(rows) {
			t.Errorf("%s: dimension %s, %d rows", s, dim, len(rows))
		}
	}
}

// TestExclusionsStandFirst: what is not in the takeoff is the first thing read.
func TestExclusionsStandFirst(t *testing.T) {
	take := manyWalls(1)
	take.Job.Notes = []string{"Lobby ceiling by others."}
	f := openBook(t, take)
	for at, want := range map[string]string{"A1": report.Exclusions[0], "A2": "Lobby ceiling by others."} {
		if got, _ := f.GetCellValue("Summary", at); got != want {
			t.Errorf("%s: %q, want %q", at, got, want)
		}
	}
}

// boarded hangs four pieces on every side of t.
func boarded(t *report.Takeoff) *report.Takeoff {
	for i := range t.Faces {
		for k := range 4 {
			u := report.MM(k * 700)
			t.Pieces = append(t.Pieces, report.Piece{
				ID: fmt.Sprintf("%s/1/%02d", t.Faces[i].ID, k), Face: t.Faces[i].ID, Ply: 1, Board: "type X", Role: "top", Sheet: "S1", Order: k,
				OutlineUV: report.Poly{{u, 0}, {u + 700, 0}, {u + 700, 2700}, {u, 2700}}, HeightsMM: []report.UV{{0, 2700}, {700, 2700}},
			})
		}
	}
	return t
}

func BenchmarkWorkbook5000Walls(b *testing.B) {
	take := boarded(manyWalls(5000))
	for b.Loop() {
		var buf bytes.Buffer
		if err := XLSX(&buf, take); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBareStream writes the same cells with nothing but the library's
// stream writer: what the workbook above is to be held against.
func BenchmarkBareStream(b *testing.B) {
	tabs := report.Tabs(boarded(manyWalls(5000)))
	for b.Loop() {
		f := excelize.NewFile()
		for i := range tabs {
			if _, err := f.NewSheet(tabs[i].Name); err != nil {
				b.Fatal(err)
			}
			sw, err := f.NewStreamWriter(tabs[i].Name)
			if err != nil {
				b.Fatal(err)
			}
			row := 1
			for k := range tabs[i].Blocks {
				for _, cells := range tabs[i].Blocks[k].Rows {
					out := make([]any, len(cells))
					for c := range cells {
						if out[c] = cells[c].Text; cells[c].IsNum {
							out[c] = cells[c].Num
						}
					}
					if err := sw.SetRow(cell(1, row), out); err != nil {
						b.Fatal(err)
					}
					row++
				}
			}
			if err := sw.Flush(); err != nil {
				b.Fatal(err)
			}
		}
		var buf bytes.Buffer
		if _, err := f.WriteTo(&buf); err != nil {
			b.Fatal(err)
		}
		f.Close()
	}
}
