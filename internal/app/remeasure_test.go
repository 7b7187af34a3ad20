package app

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"boardrun/internal/report"
)

var clinicJob = filepath.Join("..", "..", "samples", "vet-clinic", "job.yaml")

// siteSheet writes the clinic's takeoff and site sheet and fills the sheet in.
func siteSheet(t *testing.T, fill func(f *excelize.File, was *report.Takeoff)) (dir string, was *report.Takeoff) {
	t.Helper()
	dir = t.TempDir()
	e := &env{out: io.Discard, err: io.Discard}
	o := takeoffOptions{jobs: []string{clinicJob}, dir: filepath.Join(dir, "old"), effort: "quick", only: []string{"json"}}
	if err := runTakeoff(context.Background(), e, o); err != nil {
		t.Fatal(err)
	}
	from := filepath.Join(dir, "old", "takeoff.json")
	was, err := earlier(from)
	if err != nil {
		t.Fatal(err)
	}
	if err := runRemeasure(context.Background(), e, remeasureOptions{job: clinicJob, dir: dir, from: from, effort: "quick"}); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenFile(filepath.Join(dir, "site.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	fill(f, was)
	if err := f.SaveAs(filepath.Join(dir, "filled.xlsx")); err != nil {
		t.Fatal(err)
	}
	return dir, was
}

func remeasured(t *testing.T, dir string) (*report.Takeoff, error) {
	t.Helper()
	var said bytes.Buffer
	err := runRemeasure(context.Background(), &env{out: io.Discard, err: &said}, remeasureOptions{
		job: clinicJob, site: filepath.Join(dir, "filled.xlsx"), dir: filepath.Join(dir, "new"), from: filepath.Join(dir, "old", "takeoff.json"), effort: "quick"})
	if err != nil {
		return nil, err
	}
	b, err := os.ReadFile(filepath.Join(dir, "new", "takeoff.json"))
	if err != nil {
		t.Fatal(err)
	}
	var now report.Takeoff
	if err := json.Unmarshal(b, &now); err != nil {
		t.Fatal(err)
	}
	return &now, nil
}

func setSite(t *testing.T, f *excelize.File, sheet, id, column, v string) {
	t.Helper()
	if err := f.SetCellStr(sheet, cellAt(t, f, sheet, id, column), v); err != nil {
		t.Fatal(err)
	}
}

// aTop is a top that stands against the deck.
func aTop(was *report.Takeoff) *report.Piece {
	for i := range was.Pieces {
		q := &was.Pieces[i]
		for k := range was.Faces {
			if f := &was.Faces[k]; f.ID == q.Face && f.Top == "slip" && q.Role == "top" {
				return q
			}
		}
	}
	return nil
}

// Oracle: hand sum. A top measured 1 in higher at its left and 1/2 in lower at
// its right is that much longer and shorter; what is hung is as it was, on the
// sheets it was on.
func TestRemeasure_topsAreCutToTheTape(t *testing.T) {
	var top *report.Piece
	var l, r report.MM
	dir, _ := siteSheet(t, func(f *excelize.File, was *report.Takeoff) {
		top = aTop(was)
		l, r = report.TopPlanned(was, top, 0.75*25.4)
		setSite(t, f, report.SiteTops, top.ID, "Left measured", measureText(l+25.4))
		setSite(t, f, report.SiteTops, top.ID, "Right measured", measureText(r-12.7))
		setSite(t, f, report.SiteSides, top.Face, "Tacked", "sheets")
	})
	was, _ := earlier(filepath.Join(dir, "old", "takeoff.json"))
	now, err := remeasured(t, dir)
	if err != nil {
		t.Fatal(err)
	}
	old := map[string]report.Piece{}
	for _, q := range was.Pieces {
		old[q.ID] = q
	}
	for _, q := range now.Pieces {
		w := old[q.ID]
		switch {
		case q.ID == top.ID:
			a, b := q.Blank(), w.Blank()
			if d := float64(a[0][1] - b[0][1]); math.Abs(d-25.4) > 0.01 {
				t.Errorf("left of the top moved by %.3f mm, want 25.4", d)
			}
			if d := float64(a[len(a)-1][1] - b[len(b)-1][1]); math.Abs(d+12.7) > 0.01 {
				t.Errorf("right of the top moved by %.3f mm, want −12.7", d)
			}
			if !strings.HasPrefix(q.Sheet, "N") {
				t.Errorf("the new top comes from the old sheet %s", q.Sheet)
			}
		case q.Face == top.Face && q.Role != "top":
			if q.Sheet != w.Sheet || q.Fingerprint != w.Fingerprint {
				t.Errorf("%s hangs and has changed", q.ID)
			}
		}
	}
	if len(now.Overrides) != 3 || now.Overrides[0].Kind != "site" || now.Job.Stamp != "BUILD" {
		t.Errorf("%+v, %s", now.Overrides, now.Job.Stamp)
	}
	f, err := excelize.OpenFile(filepath.Join(dir, "new", "remeasure.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if got := strings.Join(f.GetSheetList(), ","); got != "Order more,New tops,Progress" {
		t.Errorf("sheets %s", got)
	}
}

// Oracle: by hand. 30 hours for half of the work are 60 in all.
func TestRemeasure_hours(t *testing.T) {
	const work = "1, hang side 1"
	dir, was := siteSheet(t, func(f *excelize.File, _ *report.Takeoff) {
		setSite(t, f, report.SiteHours, work, "Hours so far", "30")
		setSite(t, f, report.SiteHours, work, "Done, per cent", "50")
	})
	if _, err := remeasured(t, dir); err != nil {
		t.Fatal(err)
	}
	planned := 0.0
	for i := range was.Phases {
		if was.Phases[i].Work() == work {
			planned = was.Phases[i].Hours
		}
	}
	f, err := excelize.OpenFile(filepath.Join(dir, "new", "remeasure.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for column, want := range map[string]float64{"Planned": planned, "So far": 30, "In all, at this pace": 60, "over what was planned": 60 - planned} {
		text, err := f.GetCellValue("Hours", cellAt(t, f, "Hours", work, column), excelize.Options{RawCellValue: true})
		if got, bad := strconv.ParseFloat(text, 64); err != nil || bad != nil || planned == 0 || math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %q, want %g", column, text, want)
		}
	}
}

func measureText(v report.MM) string {
	b, _ := v.MarshalJSON()
	return string(b) + "mm"
}

func TestRemeasure_firstStudWhereNothingHangs(t *testing.T) {
	dir, was := siteSheet(t, func(f *excelize.File, was *report.Takeoff) {
		setSite(t, f, report.SiteWalls, "1-W003", "First stud measured", "7in")
	})
	now, err := remeasured(t, dir)
	if err != nil {
		t.Fatal(err)
	}
	for i := range now.Runs {
		if r := &now.Runs[i]; r.ID == "1-W003" {
			if r.StudStartMM != 7*25.4 {
				t.Errorf("the grid begins at %v mm, want 7 in", r.StudStartMM)
			}
		} else if r.StudStartMM != was.Runs[i].StudStartMM {
			t.Errorf("%s moved too", r.ID)
		}
	}
}

func TestRemeasure_refused(t *testing.T) {
	cases := []struct {
		name string
		fill func(f *excelize.File, was *report.Takeoff)
		want string
	}{
		{"far off", func(f *excelize.File, was *report.Takeoff) {
			setSite(t, f, report.SiteTops, aTop(was).ID, "Left measured", "20ft")
		}, "cannot be this top"},
		{"hung", func(f *excelize.File, was *report.Takeoff) {
			setSite(t, f, report.SiteTops, aTop(was).ID, "Left measured", "30in")
			setSite(t, f, report.SiteSides, aTop(was).Face, "Tacked", "all")
		}, "is hung: it stays as it is"},
		{"started wall", func(f *excelize.File, was *report.Takeoff) {
			setSite(t, f, report.SiteWalls, aTop(was).Face[:6], "First stud measured", "7in")
			setSite(t, f, report.SiteSides, aTop(was).Face, "Tacked", "sheets")
		}, "has board hung already"},
		{"old fingerprint", func(f *excelize.File, was *report.Takeoff) {
			setSite(t, f, report.SiteTops, aTop(was).ID, "Left measured", "30in")
			setSite(t, f, report.SiteTops, aTop(was).ID, report.EditKey, "00000000")
		}, "is not what it was when this sheet was written"},
		{"half hung", func(f *excelize.File, was *report.Takeoff) {
			setSite(t, f, report.SiteSides, aTop(was).Face, "Screwed", "half")
		}, "write all, or sheets"},
		{"decimal comma", func(f *excelize.File, was *report.Takeoff) {
			setSite(t, f, report.SiteTops, aTop(was).ID, "Left measured", "30,5in")
		}, "a comma can be read two ways"},
		{"hours in words", func(f *excelize.File, was *report.Takeoff) {
			setSite(t, f, report.SiteHours, "1, hang side 1", "Hours so far", "a week")
		}, "write a number of hours, 42.5"},
		{"more than all", func(f *excelize.File, was *report.Takeoff) {
			setSite(t, f, report.SiteHours, "1, hang side 1", "Done, per cent", "120")
		}, "write a number from 0 to 100"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			dir, _ := siteSheet(t, c.fill)
			_, err := remeasured(t, dir)
			if err == nil {
				t.Fatal("accepted")
			}
			if !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "filled.xlsx, ") {
				t.Errorf("says %q, want %q", err, c.want)
			}
			if _, err := os.Stat(filepath.Join(dir, "new")); err == nil {
				t.Error("something was written")
			}
		})
	}
}
