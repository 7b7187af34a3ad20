package job

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// table is a list of the user's, from CSV or XLSX, as text with the place of
// every cell. Blank rows are left out.
type table struct {
	file  string
	sheet string // "" for CSV
	head  tableRow
	rows  []tableRow
}

type tableRow struct {
	line  int // 1-based
	cells []tableCell
}

type tableCell struct {
	text    string
	formula bool
}

func (row tableRow) blank() bool {
	for _, c := range row.cells {
		if c.text != "" {
			return false
		}
	}
	return true
}

// cell returns the cell of a named column, the zero one where there is none.
func (row tableRow) cell(at map[string]int, name string) tableCell {
	if k, ok := at[name]; ok && k < len(row.cells) {
		return row.cells[k]
	}
	return tableCell{}
}

// where names a row for people: "prices.csv:12", "prices.xlsx, Sheet1 row 12".
func (t *table) where(row tableRow) string {
	if t.sheet == "" {
		return fmt.Sprintf("%s:%d", filepath.Base(t.file), row.line)
	}
	return fmt.Sprintf("%s, %s row %d", filepath.Base(t.file), t.sheet, row.line)
}

// failCell records a fault at a cell of a table; col counts from 0.
func (r *reader) failCell(t *table, row tableRow, col int, format string, args ...any) {
	msg := fmt.Sprintf(format, args...)
	if t.sheet == "" {
		r.errs = append(r.errs, &Error{File: t.file, Line: row.line, Col: col + 1, Msg: msg})
		return
	}
	cell, err := excelize.CoordinatesToCellName(col+1, max(row.line, 1))
	if err != nil {
		cell = "?"
	}
	r.errs = append(r.errs, &Error{File: t.file, Msg: fmt.Sprintf("sheet %s, cell %s: %s", t.sheet, cell, msg)})
}

// Limits on a list: they bound memory whatever the file says.
const (
	maxListBytes = 8 << 20
	maxListRows  = 20000
	maxListUnzip = 64 << 20
)

// readTable reads a list beside the job file; n is where it is named. It
// returns nil where it cannot be read, the fault recorded.
func (r *reader) readTable(n *node, find func(string) (string, error)) *table {
	name := r.text(n)
	if name == "" || find == nil {
		return nil
	}
	path, err := find(name)
	if err != nil {
		r.fail(n, "%q: there is no such file beside the job file", name)
		return nil
	}
	r.job.Lists = append(r.job.Lists, path)
	info, err := os.Stat(path)
	if err == nil && info.Size() > maxListBytes {
		r.fail(n, "%q is larger than %d MB; a list is smaller", name, maxListBytes>>20)
		return nil
	}
	var t *table
	if strings.EqualFold(filepath.Ext(path), ".xlsx") {
		t, err = xlsxTable(path)
	} else {
		t, err = csvTable(path)
	}
	if err != nil {
		var at *Error
		if errors.As(err, &at) {
			r.errs = append(r.errs, at)
		} else {
			r.errs = append(r.errs, &Error{File: path, Msg: err.Error()})
		}
		return nil
	}
	return t
}

// csvTable reads comma- or semicolon-separated text, UTF-8.
func csvTable(path string) (*table, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	src, err := io.ReadAll(io.LimitReader(f, maxListBytes+1))
	if err != nil {
		return nil, err
	}
	text := strings.TrimPrefix(string(src), "\uFEFF")
	if !utf8.ValidString(text) {
		return nil, &Error{File: path, Msg: "not UTF-8 text; save it as CSV UTF-8, or as XLSX"}
	}
	c := csv.NewReader(strings.NewReader(text))
	c.FieldsPerRecord = -1
	if first, _, _ := strings.Cut(text, "\n"); strings.Count(first, ";") > strings.Count(first, ",") {
		c.Comma = ';'
	}
	t := &table{file: path}
	for {
		rec, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var pe *csv.ParseError
		if errors.As(err, &pe) {
			return nil, &Error{File: path, Line: pe.Line, Col: max(pe.Column, 1), Msg: pe.Err.Error() + `; text that holds a quote is put in quotes, each inner quote twice`}
		}
		if err != nil {
			return nil, err
		}
		line, _ := c.FieldPos(0)
		row := tableRow{line: line}
		for _, x := range rec {
			x = strings.TrimSpace(x)
			row.cells = append(row.cells, tableCell{text: x, formula: strings.HasPrefix(x, "=")})
		}
		if err := t.add(row); err != nil {
			return nil, err
		}
	}
	return t, t.checkHead()
}

func (t *table) add(row tableRow) error {
	switch {
	case row.blank():
	case t.head.line == 0:
		t.head = row
	case len(t.rows) >= maxListRows:
		return &Error{File: t.file, Line: row.line, Col: 1, Msg: fmt.Sprintf("more than %d rows", maxListRows)}
	default:
		t.rows = append(t.rows, row)
	}
	return nil
}

func (t *table) checkHead() error {
	if t.head.line == 0 {
		return &Error{File: t.file, Msg: "the list is empty"}
	}
	return nil
}

// xlsxTable reads the first sheet that holds anything.
func xlsxTable(path string) (t *table, err error) {
	// The library's faults on a damaged file must not end the program.
	defer func() {
		if recover() != nil {
			t, err = nil, &Error{File: path, Msg: "cannot be read as a workbook; save it anew as XLSX"}
		}
	}()
	f, err := excelize.OpenFile(path, excelize.Options{UnzipSizeLimit: maxListUnzip, UnzipXMLSizeLimit: maxListUnzip / 4})
	if err != nil {
		return nil, &Error{File: path, Msg: "cannot be read as a workbook: " + err.Error()}
	}
	defer f.Close()
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			return nil, &Error{File: path, Msg: fmt.Sprintf("sheet %s: %v", sheet, err)}
		}
		t := &table{file: path, sheet: sheet}
		for i, rec := range rows {
			row := tableRow{line: i + 1}
			for k := range rec {
				at, err := excelize.CoordinatesToCellName(k+1, i+1)
				if err != nil {
					return nil, &Error{File: path, Msg: fmt.Sprintf("sheet %s: %v", sheet, err)}
				}
				formula, err := f.GetCellFormula(sheet, at)
				if err != nil {
					return nil, &Error{File: path, Msg: fmt.Sprintf("sheet %s, cell %s: %v", sheet, at, err)}
				}
				text := strings.TrimSpace(rec[k])
				if formula != "" && text == "" {
					text = "=" + formula
				}
				// A date is kept as it is shown: its raw value is a day number.
				if t.head.line > 0 && k < len(t.head.cells) && strings.EqualFold(t.head.cells[k].text, "date") && text != "" {
					if shown, err := f.GetCellValue(sheet, at); err == nil {
						text = shown
					}
				}
				row.cells = append(row.cells, tableCell{text: text, formula: formula != ""})
			}
			if err := t.add(row); err != nil {
				return nil, err
			}
		}
		if t.head.line > 0 {
			return t, nil
		}
	}
	return nil, &Error{File: path, Msg: "the workbook is empty"}
}
