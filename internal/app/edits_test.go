package app

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"boardrun/internal/check"
	"boardrun/internal/edit"
	"boardrun/internal/report"
	"boardrun/internal/write"
)

// editedBook takes the clinic off, changes its workbook and saves it.
func editedBook(t *testing.T, change func(f *excelize.File)) (book string) {
	t.Helper()
	if clinicBook == nil {
		fresh, err := withEdits("")
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := write.XLSX(&b, fresh); err != nil {
			t.Fatal(err)
		}
		clinicBook = b.Bytes()
	}
	f, err := excelize.OpenReader(bytes.NewReader(clinicBook))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	change(f)
	book = filepath.Join(t.TempDir(), "E.xlsx")
	if err := f.SaveAs(book); err != nil {
		t.Fatal(err)
	}
	return book
}

var clinicBook []byte

func withEdits(book string) (*report.Takeoff, error) {
	p := &pipeline{effort: "quick", edits: book, out: io.Discard}
	return p.run(context.Background(), filepath.Join("..", "..", "samples", "vet-clinic", "job.yaml"))
}

// cellOf finds the cell of a row and a column of the sheet Edits.
func cellOf(t *testing.T, f *excelize.File, id, column string) string {
	t.Helper()
	return cellAt(t, f, report.EditSheet, id, column)
}

// cellAt names the cell of a row, by its first cell, under the last header of a
// column above it.
func cellAt(t *testing.T, f *excelize.File, sheet, id, column string) string {
	t.Helper()
	rows, err := f.GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	col := 0
	for r, row := range rows {
		for c, text := range row {
			if text == column {
				col = c + 1
			}
		}
		if len(row) > 0 && row[0] == id && col > 0 {
			name, err := excelize.CoordinatesToCellName(col, r+1)
			if err != nil {
				t.Fatal(err)
			}
			return name
		}
	}
	t.Fatalf("%s has no row of %s", sheet, id)
	return ""
}

func TestEdits_untouchedChangesNothing(t *testing.T) {
	was := sample(t, "vet-clinic")
	now, err := withEdits(editedBook(t, func(*excelize.File) {}))
	if err != nil {
		t.Fatal(err)
	}
	if len(now.Overrides) != 0 {
		t.Errorf("overrides: %+v", now.Overrides)
	}
	if len(now.Runs) != len(was.Runs) {
		t.Errorf("%d walls, were %d", len(now.Runs), len(was.Runs))
	}
	for i := range now.Runs {
		if now.Runs[i].Fingerprint != was.Runs[i].Fingerprint {
			t.Errorf("%s: another fingerprint", now.Runs[i].ID)
		}
	}
}

// Oracle: what was written into the cells, found again in the takeoff, which
// the independent check accepts.
func TestEdits_comeBack(t *testing.T) {
	set := map[[2]string]string{
		{"1-W003", "Left goes"}:     `8'-6"`,
		{"1-W003", "Right boards"}:  "5/8 type X + 5/8 type X",
		{"1-W004", "Type"}:          "P2",
		{"1-W005", "Skip, and why"}: "by others",
		{"1-W003", "Left done"}:     "screwed",
	}
	var opening string
	book := editedBook(t, func(f *excelize.File) {
		for k, v := range set {
			f.SetCellStr(report.EditSheet, cellOf(t, f, k[0], k[1]), v)
		}
		rows, _ := f.GetRows(report.EditSheet)
		for _, r := range rows {
			if len(r) > 0 && strings.HasPrefix(r[0], "1-W003-O") {
				opening = r[0]
			}
		}
		if opening != "" {
			f.SetCellStr(report.EditSheet, cellOf(t, f, opening, "Rough width"), "50in")
		}
	})
	now, err := withEdits(book)
	if err != nil {
		t.Fatal(err)
	}
	if obj := check.Takeoff(now, limits(now)); len(obj) > 0 {
		t.Errorf("the check objects: %v", obj[0])
	}
	for _, f := range now.Faces {
		switch {
		case f.Run == "1-W003" && f.Side == "left":
			top := 0.0
			for _, q := range f.OutlineUV {
				top = max(top, float64(q[1]))
			}
			if top != 102*25.4 {
				t.Errorf("left side of 1-W003 goes to %.3f mm, want 102 in", top)
			}
		case f.Run == "1-W003" && f.Side == "right" && len(f.Plies) != 2:
			t.Errorf("right side of 1-W003 has %d layers, want 2", len(f.Plies))
		case f.Run == "1-W005":
			t.Error("1-W005 is skipped and still there")
		}
	}
	for _, r := range now.Runs {
		if r.ID == "1-W004" && r.Type != "P2" {
			t.Errorf("1-W004 is of type %s", r.Type)
		}
	}
	for _, o := range now.Openings {
		if o.ID == opening && o.RoughMM[0] != 50*25.4 {
			t.Errorf("rough opening %v mm, want 50 in", o.RoughMM[0])
		}
	}
	want := len(set)
	if opening != "" {
		want++
	}
	if len(now.Overrides) != want {
		t.Errorf("%d overrides, want %d: %+v", len(now.Overrides), want, now.Overrides)
	}
	for _, o := range now.Overrides {
		if o.Kind != "edit" || o.File != book || !strings.HasPrefix(o.Cell, report.EditSheet+"!") || o.Was == o.Now {
			t.Errorf("override %+v", o)
		}
	}
	// Oracle: the net area of the one side that is screwed, so tacked too.
	if now.Done["1-W003 left"] != "screwed" || len(now.Done) != 1 {
		t.Errorf("done: %v", now.Done)
	}
	// The workbook of the edited takeoff gives the same takeoff again.
	var b, first, second bytes.Buffer
	if err := write.XLSX(&b, now); err != nil {
		t.Fatal(err)
	}
	again := filepath.Join(t.TempDir(), "E.xlsx")
	if err := os.WriteFile(again, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	twice, err := withEdits(again)
	if err != nil {
		t.Fatal(err)
	}
	now.Overrides, twice.Overrides = nil, nil
	write.JSON(&first, report.Normalise(now))
	write.JSON(&second, report.Normalise(twice))
	if a, z := strings.ReplaceAll(first.String(), book, "E"), strings.ReplaceAll(second.String(), again, "E"); a != z {
		t.Error("an edited workbook read a second time gives another takeoff")
	}
}

// Every way to spoil a workbook is one line with file, sheet and cell.
func TestEdits_refused(t *testing.T) {
	in := func(id, col, v string) func(*testing.T, *excelize.File) {
		return func(t *testing.T, f *excelize.File) { f.SetCellStr(report.EditSheet, cellOf(t, f, id, col), v) }
	}
	cases := []struct {
		name   string
		change func(t *testing.T, f *excelize.File)
		want   string
	}{
		{"decimal comma", in("1-W003", "Left goes", "2,9m"), "Edits!C"},
		{"no height", in("1-W003", "Left goes", "very high"), "is no height"},
		{"unknown type", in("1-W003", "Type", "P9"), `there is no wall type "P9" in the job; there is P1`},
		{"type not taken off", in("1-W003", "Type", "SHELL"), "write why under Skip"},
		{"unknown board", in("1-W003", "Left boards", "glass"), `there is no board "glass"`},
		{"finish 9", in("1-W003", "Left finish", "9"), "is no level of finish"},
		{"done nearly", in("1-W003", "Left done", "nearly"), "is no stage of a side"},
		{"name lost", in("1-W003", "Wall", ""), "the row has lost its name"},
		{"name twice", in("1-W003", "Wall", "1-W004"), "stands here a second time"},
		{"formula for a number", func(t *testing.T, f *excelize.File) {
			f.SetCellFormula(report.EditSheet, cellOf(t, f, "1-W003", "Left finish"), "2+2")
		}, "holds a formula (=2+2); write the value itself"},
		{"row deleted", func(t *testing.T, f *excelize.File) {
			_, row, _ := excelize.CellNameToCoordinates(cellOf(t, f, "1-W003", "Wall"))
			f.RemoveRow(report.EditSheet, row)
		}, "wall 1-W003 has no row"},
		{"column deleted", func(t *testing.T, f *excelize.File) { f.RemoveCol(report.EditSheet, "C") }, `the column "Left goes" is missing`},
		{"sheet renamed", func(t *testing.T, f *excelize.File) { f.SetSheetName(report.EditSheet, "Mine") }, "has no sheet named Edits (it has Summary"},
		{"old fingerprint", func(t *testing.T, f *excelize.File) {
			at := cellOf(t, f, "1-W003", report.EditKey)
			v, _ := f.GetCellValue(report.EditSheet, at)
			f.SetCellStr(report.EditSheet, at, "00000000"+v[8:])
			f.SetCellStr(report.EditSheet, cellOf(t, f, "1-W003", "Left finish"), "5")
		}, "is not what it was when this workbook was written"},
		{"key spoilt", in("1-W003", report.EditKey, "x"), "is no key as boardrun writes it"},
		{"type changed where nothing is read", func(t *testing.T, f *excelize.File) {
			rows, _ := f.GetRows("Walls")
			for r, row := range rows {
				if len(row) > 1 && row[0] == "1-W003" {
					name, _ := excelize.CoordinatesToCellName(2, r+1)
					f.SetCellStr("Walls", name, "P2")
					return
				}
			}
		}, "only the sheet Edits is read"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			book := editedBook(t, func(f *excelize.File) { c.change(t, f) })
			_, err := withEdits(book)
			if err == nil {
				t.Fatal("accepted")
			}
			for _, line := range strings.Split(err.Error(), "\n") {
				if !strings.HasPrefix(line, book) {
					t.Errorf("line without its file: %s", line)
				}
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("says %q, want %q", err, c.want)
			}
		})
	}
}

// Moved columns are found by their headers.
func TestEdits_movedColumns(t *testing.T) {
	book := editedBook(t, func(f *excelize.File) {
		f.InsertCols(report.EditSheet, "C", 2)
		f.SetCellStr(report.EditSheet, cellOf(t, f, "1-W003", "Left goes"), "8ft")
	})
	now, err := withEdits(book)
	if err != nil {
		t.Fatal(err)
	}
	if len(now.Overrides) != 1 || !strings.HasPrefix(now.Overrides[0].Cell, "Edits!E") {
		t.Errorf("%+v", now.Overrides)
	}
}

// A workbook is somebody else's file: whatever it holds, reading ends with rows
// or a line.
func FuzzEdits(f *testing.F) {
	var b bytes.Buffer
	x := excelize.NewFile()
	x.SetSheetName("Sheet1", report.EditSheet)
	for i, h := range report.EditWallColumns {
		name, _ := excelize.CoordinatesToCellName(i+1, 1)
		x.SetCellStr(report.EditSheet, name, h)
		below, _ := excelize.CoordinatesToCellName(i+1, 2)
		x.SetCellStr(report.EditSheet, below, "1-W001")
	}
	x.Write(&b)
	x.Close()
	f.Add(b.Bytes())
	f.Add([]byte("PK\x03\x04"))
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		book, err := edit.Open("E.xlsx", bytes.NewReader(data))
		if err != nil {
			return
		}
		defer book.Close()
		rows, err := book.Read(edit.Table{Sheet: report.EditSheet, Columns: report.EditWallColumns})
		if err == nil && len(rows) != 1 {
			t.Errorf("%d tables for one", len(rows))
		}
	})
}
