package write

import (
	"io"

	"boardrun/internal/report"
)

// OrdersXLSX writes the order of many jobs together; failed are the jobs that
// are not in it.
func OrdersXLSX(w io.Writer, jobs []report.OrderOf, failed []string) error {
	t := &report.Takeoff{Job: report.JobInfo{Title: "Order of several jobs", System: jobs[0].System}}
	return workbook(w, t, report.OrderTabs(jobs, failed), "order", nil)
}
