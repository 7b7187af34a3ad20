package write

import (
	"github.com/xuri/excelize/v2"

	"boardrun/internal/report"
)

// The workbook's look: one dark for headings, one pale for headers, weight for
// what matters; it reads the same in black and white.
const (
	inkDark  = "1F2A33"
	inkMuted = "6B7680"
	fillHead = "E6EAED"
	fillAsk  = "FFF4D6"
	ruleLine = "C3CAD0"
)

var numberFormats = map[report.Kind]string{
	report.Whole: "#,##0", report.Decimal: "#,##0.0", report.Money: "#,##0.00", report.Percent: "0.0%",
}

// style returns the id of the style for one kind of cell, made once.
func (b *book) style(kind report.Kind, look report.Look, p part) (int, error) {
	key := styleKey{kind: kind, look: look, part: p}
	if id, ok := b.styles[key]; ok {
		return id, nil
	}
	s := &excelize.Style{Font: &excelize.Font{Family: "Liberation Sans", Size: 10, Color: inkDark}, Alignment: &excelize.Alignment{Vertical: "center"}}
	if kind != report.Words && kind != report.Box {
		s.Alignment.Horizontal, s.Alignment.Indent = "right", 1
	}
	if kind == report.Words && (p == body || p == head || p == total) { // clear of the right-aligned column before it
		s.Alignment.Horizontal, s.Alignment.Indent = "left", 1
	}
	switch p {
	case head:
		s.Font.Bold = true
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{fillHead}}
		s.Alignment.WrapText, s.Alignment.Vertical = true, "bottom"
		s.Border = []excelize.Border{{Type: "bottom", Color: inkDark, Style: 1}}
	case title:
		s.Font.Bold, s.Font.Size = true, 12
		s.Alignment.WrapText = false
	case lead:
		s.Alignment.WrapText = true
	case leadLarge:
		s.Font.Bold, s.Font.Size = true, 13
		s.Alignment.WrapText = true
	case total:
		s.Font.Bold = true
		s.Border = []excelize.Border{{Type: "top", Color: inkDark, Style: 2}}
	default:
		s.Alignment.WrapText = kind == report.Words
		s.Border = []excelize.Border{{Type: "bottom", Color: ruleLine, Style: 4}}
		if kind == report.Box {
			s.Border = append(s.Border, excelize.Border{Type: "left", Color: ruleLine, Style: 1}, excelize.Border{Type: "right", Color: ruleLine, Style: 1})
		}
	}
	if f, ok := numberFormats[kind]; ok && (p == body || p == total) {
		s.CustomNumFmt = &f
	}
	switch look {
	case report.Strong:
		s.Font.Bold = true
	case report.Muted:
		s.Font.Color = inkMuted
	case report.Alert:
		s.Font.Bold = true
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{fillAsk}}
	case report.Input:
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{fillAsk}}
	}
	id, err := b.f.NewStyle(s)
	if err == nil {
		b.styles[key] = id
	}
	return id, err
}
