package write

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"

	"github.com/xuri/excelize/v2"

	"boardrun/internal/report"
)

// CompareXLSX writes compare.xlsx: alternatives side by side, with charts that
// draw their cells on a sheet of their own, so that no page break cuts one.
func CompareXLSX(w io.Writer, c *report.Comparison) error {
	tabs, charts := report.CompareTabs(c)
	job := &report.Takeoff{Job: report.JobInfo{Title: c.Title, Stamp: c.Stamp, System: c.System}}
	return workbook(w, job, tabs, "compare", func(b *book, s *report.Tab) error {
		if s.Name != tabs[len(tabs)-1].Name {
			return nil
		}
		row := 1
		for _, ch := range charts {
			n, err := b.rowChart(s, tabs[0].Name, ch, row)
			if err != nil {
				return err
			}
			row += n
		}
		return nil
	})
}

// Chart sizes in pixels; chartRows is how many rows of the sheet one takes.
const (
	chartWidth, chartHeight = 640, 250 // three to a page
	chartRows               = 14
)

// Chart fills, dark to pale, that tell apart in black and white.
var chartFills = []string{"1F2A33", "5B7486", "9DB2BF", "C98B2B", "E6C88F"}

// rowChart places a chart of another sheet's rows at a row and returns how many
// rows it takes.
func (b *book) rowChart(s *report.Tab, of string, ch report.RowChart, row int) (int, error) {
	p, ok := b.at[of+"/"+ch.Block]
	if !ok || len(ch.Rows) == 0 {
		return 0, nil
	}
	span := func(r int) string {
		return fmt.Sprintf("'%s'!%s:%s", of, absolute(p.col[ch.From], r), absolute(p.col[ch.To], r))
	}
	zero, ink := 0.0, excelize.Font{Color: inkDark, Size: 9}
	c := &excelize.Chart{
		Type: excelize.Col, Title: excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: ch.Title + ", " + ch.Axis}}},
		Dimension: excelize.ChartDimension{Width: chartWidth, Height: chartHeight},
		Legend:    excelize.ChartLegend{Position: "right"},
		XAxis:     excelize.ChartAxis{Font: ink},
		YAxis:     excelize.ChartAxis{MajorGridLines: true, Minimum: &zero, Font: ink}, // a bar cut off at its foot lies
	}
	if ch.Stacked {
		c.Type = excelize.ColStacked
	} else {
		c.Legend.Position = "none"
		c.PlotArea.ShowVal = true
	}
	for i, r := range ch.Rows {
		c.Series = append(c.Series, excelize.ChartSeries{
			Name:       fmt.Sprintf("'%s'!%s", of, absolute(1, p.first+r)),
			Categories: span(p.first - 1), Values: span(p.first + r),
			Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{chartFills[i%len(chartFills)]}},
		})
	}
	return chartRows, b.f.AddChart(s.Name, cell(1, row), c)
}

func absolute(col, row int) string {
	name, err := excelize.CoordinatesToCellName(col, row, true)
	if err != nil { // col and row are ours and positive
		return "$A$1"
	}
	return name
}

// CompareJSON writes compare.json, one alternative or wall a line.
func CompareJSON(w io.Writer, c *report.Comparison) error {
	return lines(w, c, []string{"schema", "job", "title", "stamp", "system", "currency", "alternatives", "walls"})
}

// lines writes v as JSON with the given keys in order, one entry of each list
// per line, so that two files can be compared line by line.
func lines(w io.Writer, v any, keys []string) error {
	raw, err := json.Marshal(v)
	if err != nil {
		return err
	}
	var top map[string]json.RawMessage
	if err := json.Unmarshal(raw, &top); err != nil {
		return err
	}
	out := bufio.NewWriter(w)
	out.WriteString("{")
	first := true
	for _, key := range keys {
		v, ok := top[key]
		if !ok {
			continue
		}
		if !first {
			out.WriteString(",")
		}
		first = false
		out.WriteString("\n\"" + key + "\": ")
		entries(out, v)
	}
	out.WriteString("\n}\n")
	return out.Flush()
}
