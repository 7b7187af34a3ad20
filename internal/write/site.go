package write

import (
	"io"

	"boardrun/internal/report"
)

// SiteXLSX writes the sheet to take along and fill in. gap is what stays open
// under the deck.
func SiteXLSX(w io.Writer, t *report.Takeoff, gap report.MM) error {
	return workbook(w, t, keepEmpty(report.SiteTabs(t, gap)), "site sheet", nil)
}

// RemeasureXLSX writes what a filled-in site sheet comes to.
func RemeasureXLSX(w io.Writer, t *report.Takeoff, s *report.Site) error {
	return workbook(w, t, keepEmpty(report.SiteReport(t, s)), "remeasure", nil)
}

// keepEmpty drops sheets without a row: the library wants a header over
// something.
func keepEmpty(tabs []report.Tab) []report.Tab {
	out := tabs[:0]
	for _, s := range tabs {
		for i := range s.Blocks {
			if len(s.Blocks[i].Rows) > 0 {
				out = append(out, s)
				break
			}
		}
	}
	return out
}
