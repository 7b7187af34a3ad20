package app

import (
	"math"
	"testing"

	"github.com/xuri/excelize/v2"

	"boardrun/internal/report"
)

// Oracle: the totals of the two takeoffs; the wall that was changed, and the
// wall that was left out.
func TestRevise_addsUpToTheTotals(t *testing.T) {
	was := sample(t, "vet-clinic")
	now, err := withEdits(editedBook(t, func(f *excelize.File) {
		f.SetCellStr(report.EditSheet, cellOf(t, f, "1-W003", "Left goes"), "to deck")
		f.SetCellStr(report.EditSheet, cellOf(t, f, "1-W005", "Skip, and why"), "by others")
	}))
	if err != nil {
		t.Fatal(err)
	}
	kinds, sum := map[string]string{}, 0.0
	for _, r := range report.Revise(was, now) {
		kinds[r.Run] = r.Kind
		sum += r.Difference
		if r.Run == "1-W003" && (r.NetM2 <= 0 || r.LengthMM != 0) {
			t.Errorf("1-W003 goes higher: %+v", r)
		}
	}
	if kinds["1-W003"] != "changed" || kinds["1-W005"] != "removed" || kinds[""] != "rest" {
		t.Errorf("kinds: %v", kinds)
	}
	if want := now.Cost.Total - was.Cost.Total; math.Abs(sum-want) > 0.005 || want == 0 {
		t.Errorf("revisions come to %.2f, the totals differ by %.2f", sum, want)
	}
	if same := report.Revise(was, was); len(same) != 0 {
		t.Errorf("nothing changed, and yet %+v", same)
	}
	for _, r := range report.Revise(now, was) {
		if r.Run == "1-W005" && (r.Kind != "added" || r.Difference <= 0) {
			t.Errorf("the other way round: %+v", r)
		}
	}
}
