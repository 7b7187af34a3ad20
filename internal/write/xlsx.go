package write

import (
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"boardrun/internal/report"
)

// XLSX writes the workbook. Text never becomes a formula: only the formulas of
// package report do, each with its cached value, so that a reader which does
// not recalculate shows numbers too.
func XLSX(w io.Writer, t *report.Takeoff) error {
	sheets := report.Tabs(t)
	last, charts, sides := report.Pictures(t)
	if len(last.Blocks) > 0 {
		sheets = append(sheets, last)
	}
	return workbook(w, t, sheets, "takeoff", func(b *book, s *report.Tab) error {
		if s.Name != last.Name {
			return nil
		}
		return b.pictures(s, charts, sides)
	})
}

// workbook writes sheets as a workbook with the job of t in its headers. before
// is called for each sheet before its cells are written, when charts can be put
// on it.
func workbook(w io.Writer, t *report.Takeoff, sheets []report.Tab, what string, before func(*book, *report.Tab) error) error {
	b := &book{f: excelize.NewFile(), t: t, before: before, styles: map[styleKey]int{}, at: map[string]place{}, widths: map[string][]float64{}}
	defer b.f.Close()
	for i := range sheets {
		b.place(&sheets[i])
	}
	for i := range sheets {
		if err := b.sheet(i, &sheets[i]); err != nil {
			return fmt.Errorf("sheet %s: %w", sheets[i].Name, err)
		}
		sheets[i].Blocks = nil // a long job's cells take much room
	}
	calc := true
	if err := b.f.SetCalcProps(&excelize.CalcPropsOptions{FullCalcOnLoad: &calc}); err != nil {
		return err
	}
	if err := b.f.SetDocProps(&excelize.DocProperties{Title: t.Job.Title, Description: "boardrun " + what + ", " + t.Job.Stamp}); err != nil {
		return err
	}
	packed, err := b.f.WriteToBuffer()
	if err != nil {
		return err
	}
	return inOrder(w, packed.Bytes())
}

type styleKey struct {
	kind report.Kind
	look report.Look
	part part
}

type part uint8

const (
	body part = iota
	head
	total
	title
	lead
	leadLarge
)

// place is where a block's cells stand.
type place struct {
	sheet       string
	first, last int // rows of its body, 1-based
	total       int // row of the total, 0 for none
	col         map[string]int
}

type book struct {
	f      *excelize.File
	t      *report.Takeoff
	before func(*book, *report.Tab) error
	styles map[styleKey]int
	at     map[string]place // "Sheet/block"
	widths map[string][]float64
}

// place fixes the rows of every block before any formula is written, so that
// formulas can name cells further on.
func (b *book) place(s *report.Tab) {
	row := 1
	if len(s.Lead) > 0 {
		row += len(s.Lead) + 1
	}
	for i := range s.Blocks {
		k := &s.Blocks[i]
		if len(k.Rows) == 0 {
			continue
		}
		p := place{sheet: s.Name, first: row + 2, last: row + 1 + len(k.Rows), col: map[string]int{}}
		for c := range k.Columns {
			p.col[k.Columns[c].Key] = c + 1
		}
		row = p.last + 2
		if k.Total != nil {
			p.total = p.last + 1
			row++
		}
		if len(k.Notes) > 0 {
			row += len(k.Notes)
		}
		b.at[s.Name+"/"+k.Key] = p
	}
}

func (b *book) sheet(i int, s *report.Tab) error {
	if i == 0 {
		if err := b.f.SetSheetName("Sheet1", s.Name); err != nil {
			return err
		}
	} else if _, err := b.f.NewSheet(s.Name); err != nil {
		return err
	}
	if err := b.page(s); err != nil {
		return err
	}
	cols, rows := 1, len(s.Lead)+1
	for k := range s.Blocks {
		cols = max(cols, len(s.Blocks[k].Columns))
		if p, ok := b.at[s.Name+"/"+s.Blocks[k].Key]; ok {
			rows = max(rows, max(p.last, p.total)+len(s.Blocks[k].Notes))
		}
	}
	// The stream writer would leave the sheet's dimension at A1, and readers
	// that trust it see one cell.
	if err := b.f.SetSheetDimension(s.Name, "A1:"+cell(cols, rows)); err != nil {
		return err
	}
	if b.before != nil {
		if err := b.before(b, s); err != nil {
			return err
		}
	}
	sw, err := b.f.NewStreamWriter(s.Name)
	if err != nil {
		return err
	}
	if err := b.columns(sw, s, cols); err != nil {
		return err
	}
	if err := b.panes(sw, s); err != nil {
		return err
	}
	if err := b.leads(sw, s, cols); err != nil {
		return err
	}
	for k := range s.Blocks {
		if len(s.Blocks[k].Rows) == 0 {
			continue
		}
		if err := b.block(sw, s, &s.Blocks[k]); err != nil {
			return err
		}
	}
	return sw.Flush()
}

// page sets what a sheet needs to be printed: letter or A4, title, job, stamp,
// page numbers.
func (b *book) page(s *report.Tab) error {
	size, orient, wide, tall := 1, "portrait", 1, 0
	if b.t.Job.System == "metric" {
		size = 9
	}
	if s.Landscape {
		orient = "landscape"
	}
	if s.OnePage {
		tall = 1
	}
	if err := b.f.SetPageLayout(s.Name, &excelize.PageLayoutOptions{Size: &size, Orientation: &orient, FitToWidth: &wide, FitToHeight: &tall}); err != nil {
		return err
	}
	fit := true
	if err := b.f.SetSheetProps(s.Name, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	side, edge := 0.5, 0.7
	if err := b.f.SetPageMargins(s.Name, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &edge, Bottom: &edge}); err != nil {
		return err
	}
	amp := strings.NewReplacer("&", "&&")
	clip := func(t string) string { // the whole header may hold 255 characters
		if r := []rune(t); len(r) > 60 {
			return string(r[:59]) + "…"
		}
		return t
	}
	return b.f.SetHeaderFooter(s.Name, &excelize.HeaderFooterOptions{
		OddHeader: "&L" + amp.Replace(clip(b.t.Job.Title)) + "&C&\"-,Bold\"" + amp.Replace(s.Name) + "&R" + amp.Replace(b.t.Job.Stamp),
		OddFooter: "&LAn estimate, not a design; local codes and listed designs govern.&RPage &P of &N",
	})
}

func (b *book) columns(sw *excelize.StreamWriter, s *report.Tab, cols int) error {
	for c := 1; c <= cols; c++ {
		width := columnWidth(s, c)
		b.widths[s.Name] = append(b.widths[s.Name], width)
		if err := sw.SetColWidth(c, c, width); err != nil {
			return err
		}
	}
	return nil
}

// columnWidth is how wide column c of a sheet is, in characters.
func columnWidth(s *report.Tab, c int) float64 {
	width := 0.0
	for k := range s.Blocks {
		if q := &s.Blocks[k]; len(q.Rows) > 0 && c <= len(q.Columns) && !(q.Columns[c-1].Flow && width > 0) {
			width = max(width, q.Columns[c-1].Width)
		}
	}
	if width == 0 {
		return 10
	}
	return width
}

// panes keeps the header of a sheet with one block in sight, and on each page.
// Of several blocks the last one's is printed again on the pages after it:
// so a long list stands last.
func (b *book) panes(sw *excelize.StreamWriter, s *report.Tab) error {
	var last *report.Block
	blocks := 0
	for k := range s.Blocks {
		if len(s.Blocks[k].Rows) > 0 {
			last = &s.Blocks[k]
			blocks++
		}
	}
	if last == nil {
		return nil
	}
	header := b.at[s.Name+"/"+last.Key].first - 1
	if blocks > 1 {
		return b.repeat(s, header)
	}
	if err := sw.SetPanes(&excelize.Panes{Freeze: true, YSplit: header, TopLeftCell: cell(1, header+1), ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	return b.repeat(s, header)
}

// repeat prints a row again on every page after its own.
func (b *book) repeat(s *report.Tab, header int) error {
	return b.f.SetDefinedName(&excelize.DefinedName{
		Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$%d:$%d", s.Name, header, header), Scope: s.Name,
	})
}

func (b *book) leads(sw *excelize.StreamWriter, s *report.Tab, cols int) error {
	for i, text := range s.Lead {
		p := lead
		if i < s.Large {
			p = leadLarge
		}
		if err := b.sentence(sw, s, i+1, text, report.Plain, p); err != nil {
			return err
		}
	}
	return nil
}

// sentence writes a text across the columns of the sheet, wrapped, so that it
// is never cut at the edge of the paper nor widens it.
func (b *book) sentence(sw *excelize.StreamWriter, s *report.Tab, row int, text string, look report.Look, p part) error {
	id, err := b.style(report.Words, look, p)
	if err != nil {
		return err
	}
	widths, sum := b.widths[s.Name], 0.0
	for _, w := range widths {
		sum += w
	}
	line, size := lineHeight, 1.0
	if p == leadLarge {
		line, size = lineHeight*1.35, 1.4
	}
	height := tall([]report.Column{{}}, func(int) string { return text }, []float64{sum / size}) / lineHeight * line
	if err := sw.SetRow(cell(1, row), []any{excelize.Cell{StyleID: id, Value: text}}, excelize.RowOpts{Height: height + 2}); err != nil {
		return err
	}
	if len(widths) < 2 {
		return nil
	}
	return sw.MergeCell(cell(1, row), cell(len(widths), row))
}

func (b *book) block(sw *excelize.StreamWriter, s *report.Tab, k *report.Block) error {
	p := b.at[s.Name+"/"+k.Key]
	id, err := b.style(report.Words, report.Plain, title)
	if err != nil {
		return err
	}
	if err := sw.SetRow(cell(1, p.first-2), []any{excelize.Cell{StyleID: id, Value: k.Title}}); err != nil {
		return err
	}
	row := make([]any, len(k.Columns))
	for c := range k.Columns {
		id, err := b.style(k.Columns[c].Kind, report.Plain, head)
		if err != nil {
			return err
		}
		row[c] = excelize.Cell{StyleID: id, Value: k.Columns[c].Head}
	}
	height := tall(k.Columns, func(c int) string { return k.Columns[c].Head }, b.widths[p.sheet])
	if err := sw.SetRow(cell(1, p.first-1), row, excelize.RowOpts{Height: height + 3}); err != nil {
		return err
	}
	for r, cells := range k.Rows {
		if err := b.row(sw, p, k, p.first+r, cells, body); err != nil {
			return err
		}
	}
	end := p.last
	if k.Total != nil {
		end = p.total
		if err := b.row(sw, p, k, p.total, k.Total, total); err != nil {
			return err
		}
	}
	for i, text := range k.Notes {
		if err := b.sentence(sw, s, end+1+i, text, report.Muted, lead); err != nil {
			return err
		}
	}
	return nil
}

// lineHeight is the height of one line of 10 pt text, in points.
const lineHeight = 13.5

// tall is the height a row needs: its longest wrapped text, by the width of its
// column in characters.
func tall(columns []report.Column, text func(int) string, widths []float64) float64 {
	lines := 1
	for c := range columns {
		if c >= len(widths) {
			continue
		}
		room := widths[c]
		if columns[c].Flow {
			for _, w := range widths[c+1:] {
				room += w
			}
		}
		n, used := 1, 0.0
		for _, word := range strings.Fields(text(c)) {
			w := float64(utf8.RuneCountInString(word)) * 0.97
			if used > 0 && used+0.6+w > room {
				n, used = n+1, 0
			}
			if used > 0 {
				used += 0.6
			}
			used += w
			for used > room { // a word longer than its column is broken
				n, used = n+1, used-room
			}
		}
		lines = max(lines, n)
	}
	return float64(min(lines, 12)) * lineHeight
}

func (b *book) row(sw *excelize.StreamWriter, p place, k *report.Block, row int, cells []report.Cell, part part) error {
	out := make([]any, len(k.Columns))
	for c := range k.Columns {
		var v report.Cell
		if c < len(cells) {
			v = cells[c]
		}
		id, err := b.style(k.Columns[c].Kind, v.Look, part)
		if err != nil {
			return err
		}
		x := excelize.Cell{StyleID: id}
		switch {
		case v.Formula != "":
			if x.Formula, err = b.formula(v.Formula, p, row); err != nil {
				return err
			}
			x.Value = v.Num
		case v.IsNum:
			x.Value = v.Num
		case v.Text != "":
			x.Value = v.Text
		}
		out[c] = x
	}
	height := tall(k.Columns, func(c int) string {
		if c < len(cells) && k.Columns[c].Kind == report.Words {
			return cells[c].Text
		}
		return ""
	}, b.widths[p.sheet])
	if err := sw.SetRow(cell(1, row), out, excelize.RowOpts{Height: height + 2.5}); err != nil {
		return err
	}
	// Remarks take the columns left on the sheet, wrapped: text that ran on
	// would widen the paper and shrink everything on it.
	if end, wide := len(k.Columns), len(b.widths[p.sheet]); k.Columns[end-1].Flow && end < wide {
		return sw.MergeCell(cell(end, row), cell(wide, row))
	}
	return nil
}

var token = regexp.MustCompile(`\{([^{}]+)\}`)

// formula turns the keys of a formula into cell addresses.
func (b *book) formula(f string, here place, row int) (string, error) {
	var bad error
	out := token.ReplaceAllStringFunc(f, func(tok string) string {
		key := tok[1 : len(tok)-1]
		p, prefix := here, ""
		if i := strings.LastIndexByte(key, '/'); i >= 0 {
			q, ok := b.at[key[:i]]
			if !ok {
				bad = fmt.Errorf("formula %s: there is no block %s", f, key[:i])
				return tok
			}
			p, prefix, key = q, "'"+q.sheet+"'!", key[i+1:]
		}
		nth := -1
		if name, n, ok := strings.Cut(key, "#"); ok {
			if v, err := strconv.Atoi(n); err == nil {
				nth, key = v, name
			}
		}
		mode := byte(0)
		if n := len(key) - 1; n > 0 && (key[n] == '*' || key[n] == '+') {
			mode, key = key[n], key[:n]
		}
		c, ok := p.col[key]
		if !ok {
			bad = fmt.Errorf("formula %s: there is no column %s", f, key)
			return tok
		}
		switch {
		case nth >= 0:
			return prefix + cell(c, p.first+nth)
		case mode == '*':
			return prefix + cell(c, p.first) + ":" + cell(c, p.last)
		case mode == '+':
			return prefix + cell(c, p.total)
		}
		return prefix + cell(c, row)
	})
	return out, bad
}

func cell(col, row int) string {
	name, err := excelize.CoordinatesToCellName(col, row)
	if err != nil { // col and row are ours and positive
		return "A1"
	}
	return name
}
