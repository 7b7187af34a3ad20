package write

import (
	"bytes"
	"fmt"

	"github.com/xuri/excelize/v2"

	"boardrun/internal/report"
)

// pictures puts charts and drawings under the tables of their sheet.
func (b *book) pictures(s *report.Tab, charts []report.Chart, sides []report.SidePicture) error {
	row := len(s.Lead) + 2
	for k := range s.Blocks {
		if p, ok := b.at[s.Name+"/"+s.Blocks[k].Key]; ok {
			row = max(row, max(p.last, p.total)+2)
		}
	}
	// Each stands whole on its page: breaks are set by hand, which only works
	// where the paper is not fitted to the sheet. A row is 20 dots of the screen.
	fit := false
	if err := b.f.SetSheetProps(s.Name, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	// Charts are laid over columns: their widths must be known before.
	for c := 1; c <= 12; c++ {
		name, err := excelize.ColumnNumberToName(c)
		if err != nil {
			return err
		}
		if err := b.f.SetColWidth(s.Name, name, name, columnWidth(s, c)); err != nil {
			return err
		}
	}
	const pageRows, chartNeeds = 31, 15
	used := row + 2*len(s.Lead)
	room := func(rows int) error {
		if used += rows; used <= pageRows {
			return nil
		}
		used = rows
		return b.f.InsertPageBreak(s.Name, cell(1, row))
	}
	for _, c := range charts {
		if err := room(chartNeeds); err != nil {
			return err
		}
		if err := b.barChart(s, c, row); err != nil {
			return err
		}
		row += chartNeeds
	}
	for _, q := range sides {
		var file bytes.Buffer
		_, high, err := PNG(&file, q.Picture)
		if err != nil {
			return err
		}
		const shown = 0.62 // of its dots: fine enough on paper too
		rows := int(float64(high)*shown/20) + 3
		if err := room(rows); err != nil {
			return err
		}
		err = b.f.AddPictureFromBytes(s.Name, cell(1, row), &excelize.Picture{
			Extension: ".png", File: file.Bytes(),
			Format: &excelize.GraphicOptions{AltText: "Side " + q.Mark, ScaleX: shown, ScaleY: shown, LockAspectRatio: true, Positioning: "oneCell"},
		})
		if err != nil {
			return err
		}
		row += rows
	}
	return nil
}

// barChart draws columns of a block, a bar for each of its rows.
func (b *book) barChart(s *report.Tab, ch report.Chart, row int) error {
	p, ok := b.at[s.Name+"/"+ch.Block]
	if !ok {
		return nil
	}
	span := func(key string) string {
		return fmt.Sprintf("'%s'!%s:%s", s.Name, absolute(p.col[key], p.first), absolute(p.col[key], p.last))
	}
	zero, ink := 0.0, excelize.Font{Color: inkDark, Size: 9}
	c := &excelize.Chart{
		Type: excelize.ColStacked, Title: excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: ch.Title}}},
		Dimension: excelize.ChartDimension{Width: chartWidth, Height: chartHeight},
		Legend:    excelize.ChartLegend{Position: "right"},
		XAxis:     excelize.ChartAxis{Font: ink},
		YAxis:     excelize.ChartAxis{MajorGridLines: true, Minimum: &zero, Font: ink},
	}
	if len(ch.Columns) == 1 {
		c.Type, c.Legend.Position, c.PlotArea.ShowVal = excelize.Col, "none", true
	}
	for i, key := range ch.Columns {
		c.Series = append(c.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("'%s'!%s", s.Name, absolute(p.col[key], p.first-1)),
			Categories: span(ch.Names), Values: span(key),
			Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{chartFills[i%len(chartFills)]}},
		})
	}
	return b.f.AddChart(s.Name, cell(1, row), c)
}
