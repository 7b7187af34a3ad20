package app

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/report"
	"boardrun/internal/write"
)

// The crew's pages are read back as text, page by page, the way a person finds
// a number on them. Oracle: the worked cases' hand sums, and takeoff.json.

// pagesOf writes walls.pdf and returns the text of its pages.
func pagesOf(t *testing.T, out *report.Takeoff) []string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed: the pages of walls.pdf are not read back")
	}
	return textOf(t, "walls.pdf", out, write.PDF)
}

// textOf writes a document and returns the text of its pages.
func textOf(t *testing.T, file string, out *report.Takeoff, put func(io.Writer, *report.Takeoff) error) []string {
	t.Helper()
	var b bytes.Buffer
	if err := put(&b, out); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), file)
	if err := os.WriteFile(name, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command("pdftotext", "-layout", name, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
}

// pageOf joins the pages of one ply of a side: those headed by its mark.
func pageOf(pages []string, side, layer string) string {
	var out []string
	for _, p := range pages {
		head, _, _ := strings.Cut(p, "\n")
		if strings.HasPrefix(strings.TrimSpace(head), side+" ") && (layer == "" || strings.Contains(head, layer) || strings.Contains(head, "continued")) {
			out = append(out, p)
		}
	}
	return strings.Join(out, "\n")
}

// spaced is a text with single spaces.
func spaced(s string) string { return strings.Join(strings.Fields(s), " ") }

// row is a table's line as its text has it.
func wantRow(t *testing.T, page, pattern string) {
	t.Helper()
	re := regexp.MustCompile(pattern)
	for _, l := range strings.Split(page, "\n") {
		if re.MatchString(spaced(l)) {
			return
		}
	}
	t.Errorf("no line reads %s", pattern)
}

const slopeJob = caseJob + "decks: [{storey: \"1\", points: [[0, 0, %s], [%s, 0, %s], [0, 16ft, %s]]}]\nstock: {5/8 type X: {sheets: {48in: [8ft, 10ft, 12ft]}}}\n"

// C-2: hooks 27 and 11 in wide, notch 84-3/4 high, rough opening 38 wide.
func TestPage_case2Hooks(t *testing.T) {
	c := caseWall{
		job:    caseJob + "decks: [{storey: \"1\", level: 10'-0\"}]\nframes: [{name: D, for: door, kind: knock-down, sizes-are: rough}]\nstock: {5/8 type X: {sheets: {48in: [10ft]}}}\n",
		length: 16 * measure.Foot, thick: 39 * measure.EighthInch,
		openings: []plan.Opening{{Kind: plan.Door, At: 88 * measure.Inch, Width: 38 * measure.Inch, Head: 341 * measure.Inch / 4, HeadBy: "attribute", Basis: "drawn"}},
	}
	out := c.take(t)
	pages := pagesOf(t, out)
	for _, f := range []string{"1-W001-L1", "1-W001-R1"} {
		p := pageOf(pages, f, "")
		for _, w := range []string{"27 × 84-3/4", "11 × 84-3/4", "38 × 84-3/4"} {
			if !strings.Contains(spaced(p), w) {
				t.Errorf("%s: %q is not on its page", f, w)
			}
		}
		wantRow(t, p, `48 118-3/4 118-3/4 .*27 × 84-3/4`)
		wantRow(t, p, `48 118-3/4 118-3/4 .*11 × 84-3/4`)
	}
}

// C-4: left and right of each sheet under the slope; B rounded down.
func TestPage_case4Slope(t *testing.T) {
	c := caseWall{job: fmt.Sprintf(slopeJob, "126in", "16ft", "130in", "126in"), length: 16 * measure.Foot, thick: 39 * measure.EighthInch}
	pages := pagesOf(t, c.take(t))
	all := pageOf(pages, "1-W001-L1", "") + pageOf(pages, "1-W001-R1", "")
	// As one faces the left side the wall runs the other way: left and right swap.
	for _, pair := range [][2]string{{"124-3/4", "125-3/4"}, {"125-3/4", "126-3/4"}, {"126-3/4", "127-3/4"}, {"127-3/4", "128-3/4"}} {
		wantRow(t, all, fmt.Sprintf(`4x12 48 (%s %s|%s %s) `, pair[0], pair[1], pair[1], pair[0]))
	}
	for _, pair := range [][2]string{{"125-3/8", "126-3/8"}, {"126-3/8", "127-3/8"}, {"127-3/8", "128-3/8"}} {
		wantRow(t, all, fmt.Sprintf(`4x12 48 (%s %s|%s %s) `, pair[0], pair[1], pair[1], pair[0]))
	}
}

// C-5: tops 88-3/4 / 89-3/4 to 92-3/4 / 93-3/4, 48 wide.
func TestPage_case5Tops(t *testing.T) {
	c := caseWall{job: fmt.Sprintf(slopeJob, "210in", "20ft", "215in", "210in"), length: 20 * measure.Foot, thick: 39 * measure.EighthInch}
	pages := pagesOf(t, c.take(t))
	all := pageOf(pages, "1-W001-L1", "") + pageOf(pages, "1-W001-R1", "")
	for _, l := range []string{"88-3/4 89-3/4", "89-3/4 90-3/4", "90-3/4 91-3/4", "91-3/4 92-3/4", "92-3/4 93-3/4"} {
		a, b, _ := strings.Cut(l, " ")
		wantRow(t, all, fmt.Sprintf(`^.*\d\d (%s %s|%s %s) 48 16, 32`, a, b, b, a))
	}
}

// C-8: cut-outs 24-1/2 × 14-1/2, notches 20-1/4 and 4-1/4, 29-1/4 up from the
// top's lower edge; tops 94-3/4.
func TestPage_case8Duct(t *testing.T) {
	c := caseWall{
		job:    caseJob + "decks: [{storey: \"1\", level: 18'-0\"}]\nstock: {5/8 type X: {sheets: {48in: [8ft, 10ft]}}}\n",
		length: 12 * measure.Foot, thick: 39 * measure.EighthInch,
		openings: []plan.Opening{{Kind: plan.Penetration, At: 72 * measure.Inch, Width: 24 * measure.Inch, Sill: 150 * measure.Inch, Head: 164 * measure.Inch, HeadBy: "drawn", Basis: "drawn"}},
	}
	pages := pagesOf(t, c.take(t))
	for _, f := range []string{"1-W001-L1", "1-W001-R1"} {
		p := spaced(pageOf(pages, f, ""))
		for _, w := range []string{"94-3/4", "29-1/4 up", "20-1/4 × 14-1/2", "4-1/4 × 14-1/2", "24-1/2 × 14-1/2"} {
			if !strings.Contains(p, w) {
				t.Errorf("%s: %q is not on its page", f, w)
			}
		}
	}
}

// everyPieceOnItsPage looks each piece up on the page of its side and ply, as a
// row of a list: by its own mark, or in a range of like ones. A top's row has
// its left and right height.
func everyPieceOnItsPage(t *testing.T, out *report.Takeoff) {
	t.Helper()
	pages := pagesOf(t, out)
	sys := measure.InchPound
	if out.Job.System == "metric" {
		sys = measure.Metric
	}
	cut := func(v report.MM) string { return measure.Cut(v.Length(), sys) }
	for i := range out.Pieces {
		q := &out.Pieces[i]
		f := faceOf(out, q.Face)
		side, layer := f.ID, ""
		if report.Strip(f) {
			side = "Ends and reveals"
		} else if len(f.Plies) > 1 {
			layer = [...]string{"base layer", "face layer"}[min(q.Ply-1, 1)]
		}
		mark := report.ShortMark(q.ID)
		if report.Strip(f) {
			mark = strings.Replace(q.ID, "/1/", "/", 1)
		}
		h := q.Blank()
		want := cut(h[0][1]) + " " + cut(h[len(h)-1][1])
		if q.Role != "top" || !rowWith(pageOf(pages, side, layer), mark, want) {
			want = ""
		}
		if q.Role == "top" && want == "" || !rowWith(pageOf(pages, side, layer), mark, want) {
			t.Errorf("%s, %s: not listed on the page of %s %s", q.ID, q.Role, side, layer)
		}
	}
}

var markRange = regexp.MustCompile(`^(\d+)–(\d+)$`)

// rowWith tells whether a page has a row that begins with the mark, or a range
// it is in, and holds the text. Two lists may stand beside each other.
func rowWith(page, mark, text string) bool {
	for _, l := range strings.Split(page, "\n") {
		words := strings.Fields(l)
		for i, w := range words {
			if w != mark {
				m := markRange.FindStringSubmatch(w)
				if m == nil || len(m[1]) == 0 || number(mark) < number(m[1]) || number(mark) > number(m[2]) {
					continue
				}
			}
			if strings.Contains(strings.Join(words[i:], " "), text) {
				return true
			}
		}
	}
	return false
}

func number(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil {
		return -1
	}
	return n
}

// Labels on the elevations of the samples do not lie over one another, at the
// scales their pages have.
func TestElevations_labelsKeepApart(t *testing.T) {
	for _, name := range []string{"vet-clinic", "library-wing"} {
		out := sample(t, name)
		w := report.NewDraft(out)
		for i := range out.Faces {
			f := &out.Faces[i]
			if !f.Boarded || report.Strip(f) {
				continue
			}
			for _, y := range f.Plies {
				for _, scale := range []float64{24, 48, 64} {
					for _, bad := range w.Elevation(f, y.Ply, report.View{Scale: scale}).Overlaps() {
						t.Errorf("%s, %s ply %d at 1:%.0f: %s", name, f.ID, y.Ply, scale, bad)
					}
				}
			}
		}
	}
}
