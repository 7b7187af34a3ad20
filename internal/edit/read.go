package edit

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// Limits of a workbook that is read back. They bound memory and time against
// files made to burst.
const (
	maxUnzipped = 256 << 20
	maxRows     = 100_000
	maxCell     = 2000 // characters
)

// Cell is one value as it stands in a workbook.
type Cell struct {
	Text string
	At   string // "Edits!C5"
}

// Row is one row of a table: values by header, the row's name in the first
// column.
type Row struct {
	ID    string
	At    string
	Cells map[string]Cell
}

// Table names one table of a sheet: it is found by its headers, which may
// stand in any order.
type Table struct {
	Sheet   string
	Columns []string // the first names the row
}

// Faults are all faults found in a workbook, one line each.
type Faults []error

func (f Faults) Error() string { return errors.Join(f...).Error() }

// Book is an open workbook.
type Book struct {
	name string
	f    *excelize.File
}

// Open reads a workbook; name is what faults call it.
func Open(name string, r io.Reader) (b *Book, err error) {
	defer func() { // the library is not ours; a fault of its own must not end the program
		if recover() != nil {
			b, err = nil, fmt.Errorf("%s: can't be read as a workbook (.xlsx); save it again from a spreadsheet program", name)
		}
	}()
	f, err := excelize.OpenReader(r, excelize.Options{UnzipSizeLimit: maxUnzipped, UnzipXMLSizeLimit: maxUnzipped, RawCellValue: true})
	if err != nil {
		return nil, fmt.Errorf("%s: can't be read as a workbook (.xlsx): %w", name, err)
	}
	return &Book{name, f}, nil
}

// Close frees the workbook.
func (b *Book) Close() { b.f.Close() }

// Sheets are the names of the sheets.
func (b *Book) Sheets() []string { return b.f.GetSheetList() }

// Read returns the rows of each table. All faults of the tables are told
// together; a table that has no header row on its sheet is a fault.
func (b *Book) Read(tables ...Table) (rows [][]Row, err error) {
	defer func() {
		if recover() != nil {
			rows, err = nil, Faults{fmt.Errorf("%s: a sheet can't be read; save the workbook again from a spreadsheet program", b.name)}
		}
	}()
	var faults Faults
	grids := map[string][][]string{}
	for _, t := range tables {
		grid, ok := grids[t.Sheet]
		if !ok {
			if grid, err = b.grid(t.Sheet); err != nil {
				return nil, Faults{err}
			}
			grids[t.Sheet] = grid
		}
		r, f := b.table(t, grid)
		rows, faults = append(rows, r), append(faults, f...)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return rows, nil
}

// Has reports whether the workbook has a sheet of that name.
func (b *Book) Has(sheet string) bool { return slices.Contains(b.f.GetSheetList(), sheet) }

func (b *Book) grid(sheet string) ([][]string, error) {
	if !b.Has(sheet) {
		list := b.f.GetSheetList()
		if len(list) > 8 {
			list = append(slices.Clone(list[:8]), "…")
		}
		return nil, fmt.Errorf("%s: has no sheet named %s (it has %s); give the sheet its name back, or take the job off anew and edit that workbook", b.name, sheet, strings.Join(list, ", "))
	}
	it, err := b.f.Rows(sheet)
	if err != nil {
		return nil, fmt.Errorf("%s: sheet %s can't be read: %w", b.name, sheet, err)
	}
	defer it.Close()
	var out [][]string
	for it.Next() {
		if len(out) == maxRows {
			return nil, fmt.Errorf("%s: sheet %s has more than %d rows", b.name, sheet, maxRows)
		}
		cells, err := it.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return nil, fmt.Errorf("%s: sheet %s, row %d can't be read: %w", b.name, sheet, len(out)+1, err)
		}
		out = append(out, cells)
	}
	return out, nil
}

// table finds a table by its headers and reads the rows below, down to the
// first empty row or the header of another table.
func (b *Book) table(t Table, grid [][]string) ([]Row, Faults) {
	head := -1
	for r, cells := range grid {
		if n := known(cells, t.Columns); n > len(t.Columns)/2 && slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) == t.Columns[0] }) {
			head = r
			break
		}
	}
	if head < 0 {
		return nil, Faults{fmt.Errorf("%s: sheet %s has no row with the headers %s; put them back as they were written", b.name, t.Sheet, strings.Join(t.Columns, " | "))}
	}
	var faults Faults
	at := map[string]int{}
	for c, text := range grid[head] {
		text = strings.TrimSpace(text)
		if !slices.Contains(t.Columns, text) {
			continue
		}
		if _, twice := at[text]; twice {
			faults = append(faults, fmt.Errorf("%s, %s: the column %q stands there a second time; delete one of them", b.name, address(t.Sheet, c, head), text))
		}
		at[text] = c
	}
	for _, name := range t.Columns {
		if _, ok := at[name]; !ok {
			faults = append(faults, fmt.Errorf("%s, %s: the column %q is missing from this row of headers; put it back", b.name, address(t.Sheet, 0, head), name))
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	var rows []Row
	first := map[string]string{}
	for r := head + 1; r < len(grid); r++ {
		if blank(grid[r]) {
			break
		}
		row := Row{Cells: map[string]Cell{}}
		for _, name := range t.Columns {
			cell, fault := b.cell(t.Sheet, at[name], r, grid[r])
			if fault != nil {
				faults = append(faults, fault)
			}
			row.Cells[name] = cell
		}
		row.ID, row.At = row.Cells[t.Columns[0]].Text, row.Cells[t.Columns[0]].At
		switch where, twice := first[row.ID]; {
		case row.ID == "":
			faults = append(faults, fmt.Errorf("%s, %s: the row has lost its name (%s); put it back or delete the row's other cells too", b.name, row.At, t.Columns[0]))
		case twice:
			faults = append(faults, fmt.Errorf("%s, %s: %s stands here a second time, first in %s; delete one row", b.name, row.At, row.ID, where))
		}
		first[row.ID] = row.At
		rows = append(rows, row)
	}
	return rows, faults
}

func known(cells, columns []string) int {
	n := 0
	for _, c := range cells {
		if slices.Contains(columns, strings.TrimSpace(c)) {
			n++
		}
	}
	return n
}

func blank(cells []string) bool {
	return !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" })
}

// cell reads one value; a formula is a fault, since what it gave when the
// workbook was saved may not be what it gives.
func (b *Book) cell(sheet string, c, r int, cells []string) (Cell, error) {
	out := Cell{At: address(sheet, c, r)}
	if c < len(cells) {
		out.Text = strings.Join(strings.Fields(cells[c]), " ")
	}
	if len(out.Text) > maxCell {
		return out, fmt.Errorf("%s, %s: more than %d characters", b.name, out.At, maxCell)
	}
	name, err := excelize.CoordinatesToCellName(c+1, r+1)
	if err != nil {
		return out, fmt.Errorf("%s, %s: %w", b.name, out.At, err)
	}
	if f, err := b.f.GetCellFormula(sheet, name); err == nil && f != "" {
		return out, fmt.Errorf("%s, %s: holds a formula (=%s); write the value itself", b.name, out.At, clip(f))
	}
	return out, nil
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

func address(sheet string, c, r int) string {
	name, err := excelize.CoordinatesToCellName(c+1, r+1)
	if err != nil {
		name = fmt.Sprintf("row %d", r+1)
	}
	return sheet + "!" + name
}
