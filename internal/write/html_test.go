package write

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"boardrun/internal/report"
)

// hostile are names that a drawing can hold.
var hostile = []string{
	`<script>alert(1)</script>`, `</script><script>alert(2)</script>`, `<!--<script>`, `"'><img src=x onerror=alert(3)>`, `]]>&amp;{{data}}{{js}}`,
	"שלום עולם \u202e drah", "حائط", "🧱👩‍🔧", strings.Repeat("W", 500), "a\u2028b\u2029c\x00\x1b[31m", "\xff\xfe", `\u003cscript>`, "",
}

// building is an invented storey of n walls by m lines, at a place; names are
// given in turn.
func building(n, m int, at report.UV, names []string) *report.Takeoff {
	name := func(i int) string { return names[i%len(names)] }
	t := &report.Takeoff{Schema: report.Schema, Job: report.JobInfo{Name: "invented", Title: name(0), Stamp: "BUDGET", System: "metric", Notes: []string{name(1)}}}
	t.Drawings = []report.Drawing{{File: name(2) + ".dxf", Format: "DXF", Storey: name(3)}}
	for k := range min(len(names), 12) {
		t.Job.Types = append(t.Job.Types, report.TypeInfo{Name: name(k), ThicknessMM: 125, Left: []string{name(k)}, Right: []string{name(k)}})
	}
	side := int(math.Ceil(math.Sqrt(float64(max(n, 1)))))
	for i := range n {
		x, y := at[0]+report.MM(i%side)*6000, at[1]+report.MM(i/side)*5000
		id := fmt.Sprintf("1-W%03d", i+1)
		t.Runs = append(t.Runs, report.Run{
			ID: id, Type: name(i % 12), Storey: name(3), Status: "new", AxisMM: []report.UV{{x, y}, {x + 5000, y}}, LengthMM: 5000, ThicknessMM: 125, SpacingMM: 400,
			Assumed: []string{name(i)}, Source: []report.Source{{File: name(2) + ".dxf", Ref: "1A", Layer: name(i)}}, Status2: "optimal",
		})
		for k, s := range []string{"left", "right"} {
			f := report.Face{
				ID: fmt.Sprintf("%s-%c1", id, "LR"[k]), Run: id, Side: s, Boarded: true, Room: name(i), LengthMM: 5000, FinishedMM: 5000,
				OutlineUV: rect(0, 12, 5000, 2988), Top: "fixed", HeightBy: "ceiling", HangFrom: s, Layout: "vertical",
			}
			f.Plies = []report.Ply{{Ply: 1, OutlineUV: f.OutlineUV, Zones: []report.Zone{{OutlineUV: f.OutlineUV, Board: name(i)}}}}
			for j := range 5 {
				u := report.MM(j) * 1000
				t.Pieces = append(t.Pieces, report.Piece{ID: fmt.Sprintf("%s/1/%02d", f.ID, j+1), Face: f.ID, Ply: 1, Board: name(i), Role: "sheet", OutlineUV: rect(u, 12, u+1000, 2988), Order: j + 1})
				if j > 0 {
					t.Joints = append(t.Joints, report.Joint{Face: f.ID, Ply: 1, FromUV: report.UV{u, 12}, ToUV: report.UV{u, 2988}, Kind: "tapered", Exposed: true})
				}
			}
			for j := range 13 {
				f.Studs = append(f.Studs, report.FaceStud{Stud: fmt.Sprintf("S%02d", j), UMM: report.MM(j) * 400})
			}
			t.Faces = append(t.Faces, f)
		}
		for j := range 13 {
			r := &t.Runs[i]
			r.Studs = append(r.Studs, report.Stud{ID: fmt.Sprintf("S%02d", j), StationMM: report.MM(j) * 400, Kind: "field", LengthMM: 2990})
		}
		t.Openings = append(t.Openings, report.Opening{ID: id + "-O1", Run: id, Faces: []string{id + "-L1"}, Kind: "door", Mark: name(i), UMM: 2500, WidthMM: 900, HeadMM: 2100})
		if i%10 == 0 {
			p := report.UV{x + 2500, y + 900}
			t.Exceptions = append(t.Exceptions, report.Exception{Severity: "person", Code: "wall-line-unread", Message: name(i), Did: name(i + 1), AtMM: &p, SpanMM: report.MM(300 + i), Source: report.Source{File: name(2) + ".dxf", Ref: "2B", Layer: name(i)}})
		}
		if i%15 == 0 { // a wall left out, and a line not understood with its doubt
			a, b := report.UV{x, y + 2000}, report.UV{x + 3000, y + 2000}
			t.Standing = append(t.Standing, report.Standing{Storey: name(3), Kind: []string{"left out", "existing", "demolish", name(i)}[i/15%4], Reason: name(i), LengthMM: 3000, OutlineMM: report.Poly{a, b, {b[0], b[1] + 100}, {a[0], a[1] + 100}}, Source: []report.Source{{Layer: name(i)}}})
			t.Linework = append(t.Linework, report.Line{Drawing: name(2) + ".dxf", Storey: name(3), Layer: name(i), Use: "unread", Points: []report.UV{{x, y + 3000}, {x + 4000, y + 3000}}})
			t.Exceptions = append(t.Exceptions, report.Exception{Severity: "person", Code: "wall-line-unread", Message: name(i), AtMM: &report.UV{x, y + 3000}, SpanMM: 4000, Source: report.Source{File: name(2) + ".dxf"}})
		}
		t.Rooms = append(t.Rooms, report.Room{Name: name(i), Storey: name(3), OutlineMM: report.Poly{{x, y}, {x + 5000, y}, {x + 5000, y + 4000}, {x, y + 4000}}})
	}
	for i := range m {
		x, y := at[0]+report.MM(i*37%(side*6000)), at[1]+report.MM(i*101%(side*5000))
		l := report.Line{Drawing: name(2) + ".dxf", Storey: name(3), Layer: name(i % 20), Use: []string{"background", "used", "ignored"}[i%3]}
		if i%200 == 0 {
			l.Use = "unread"
		}
		for k := range 6 { // a door's swing, or the like
			a := float64(k) * math.Pi / 10
			l.Points = append(l.Points, report.UV{x + report.MM(900*math.Cos(a)), y + report.MM(900*math.Sin(a))})
		}
		t.Linework = append(t.Linework, l)
	}
	return report.Normalise(t)
}

func rect(u0, v0, u1, v1 report.MM) report.Poly {
	return report.Poly{{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}}
}

func pageOf(t testing.TB, x *report.Takeoff) string {
	t.Helper()
	var b bytes.Buffer
	if err := HTML(&b, x); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// between is what stands between two marks, the first of each.
func between(t *testing.T, s, a, b string) string {
	t.Helper()
	_, s, ok := strings.Cut(s, a)
	s, _, ok2 := strings.Cut(s, b)
	if !ok || !ok2 {
		t.Fatalf("no %s … %s in the page", a, b)
	}
	return s
}

func dataOf(t *testing.T, page string) pageData {
	t.Helper()
	var d pageData
	if err := json.Unmarshal([]byte(between(t, page, `id="data">`, "</script>")), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// Oracle: the rules of HTML for script elements (a script ends at the first
// "</script", and "<!--" changes how it is read), counted on the page as
// written.
func TestHTML_hostileNames(t *testing.T) {
	page := pageOf(t, building(len(hostile), 20, report.UV{}, hostile))
	if n := strings.Count(strings.ToLower(page), "<script"); n != 3 {
		t.Errorf("%d scripts begin, want 3: data, sides, program", n)
	}
	if n := strings.Count(strings.ToLower(page), "</script"); n != 3 {
		t.Errorf("%d scripts end, want 3", n)
	}
	for _, bad := range []string{"<!--", "<img", "\x00", "\u2028"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	d := dataOf(t, page)
	if got, want := d.Types[0].Name, hostile[0]; !strings.Contains(page, `{{data}}`) || len(d.Types) != 12 || got == "" && want != "" {
		t.Errorf("names are not kept: %q, %d types", got, len(d.Types))
	}
}

// Oracle: the policy's hashes made again from the elements as they stand.
func TestHTML_policyNamesTheProgram(t *testing.T) {
	page := pageOf(t, building(1, 1, report.UV{}, []string{"a"}))
	policy := html.UnescapeString(between(t, page, `Content-Security-Policy" content="`, `">`))
	for _, el := range []struct{ directive, open, end string }{{"script-src", "<script>", "</script>"}, {"style-src", "<style>", "</style>"}} {
		want := el.directive + " '" + hash(between(t, page, el.open, el.end)) + "'"
		if !strings.Contains(policy, want) {
			t.Errorf("policy %q lacks %s", policy, want)
		}
	}
	if !strings.HasPrefix(policy, "default-src 'none';") || strings.Contains(policy, "unsafe") {
		t.Errorf("policy is loose: %s", policy)
	}
	if m := regexp.MustCompile(`(?i)https?://[^"' ]+`).FindAllString(strings.ReplaceAll(page, "http://www.w3.org/2000/svg", ""), -1); m != nil {
		t.Errorf("addresses in the page: %v", m)
	}
	if m := regexp.MustCompile(` on[a-z]+="| style="|eval\(|new Function|innerHTML|insertAdjacentHTML|document\.write`).FindString(page); m != "" {
		t.Errorf("the page holds %s", m)
	}
}

// Every part of the page's program is in it, once.
func TestHTML_programIsWhole(t *testing.T) {
	files, err := pageJS.ReadDir("review")
	if err != nil || len(files) != len(scripts) {
		t.Errorf("%d files of script, %d are read: %v", len(files), len(scripts), err)
	}
	for _, f := range files {
		b, err := pageJS.ReadFile("review/" + f.Name())
		if err != nil || strings.Count(program(), string(b)) != 1 {
			t.Errorf("%s is not in the program once: %v", f.Name(), err)
		}
	}
}

// Oracle: the same building at the origin; map coordinates of whole metres
// change nothing at all.
func TestHTML_mapCoordinates(t *testing.T) {
	here := pageOf(t, building(30, 100, report.UV{}, []string{"a", "b", "c"}))
	there := pageOf(t, building(30, 100, report.UV{512_345_000, 5_123_456_000}, []string{"a", "b", "c"}))
	if here != there {
		t.Error("the page differs at map coordinates")
	}
}

func TestHTML_nothing(t *testing.T) {
	d := dataOf(t, pageOf(t, report.Normalise(&report.Takeoff{})))
	if len(d.Storeys) != 1 || len(d.Walls) != 0 {
		t.Errorf("got %d storeys, %d walls", len(d.Storeys), len(d.Walls))
	}
	nan := report.MM(math.NaN())
	x := building(1, 1, report.UV{}, []string{"a"})
	x.Linework[0].Points[0] = report.UV{nan, report.MM(math.Inf(1))}
	x.Linework = append(x.Linework, report.Line{Points: []report.UV{{1e300, 0}, {0, 1e300}}})
	x.Rooms[0].OutlineMM = nil
	pageOf(t, x)
}

func TestHTML_doubtsAreRanked(t *testing.T) {
	x := building(40, 0, report.UV{}, []string{"a"})
	x.Exceptions = append(x.Exceptions, report.Exception{Severity: "warning", SpanMM: 90000, Target: "1-W002-L1/1/03"}, report.Exception{Severity: "person", Target: "1-W003"})
	d := dataOf(t, pageOf(t, x)).Doubts
	for i := 1; i < len(d); i++ {
		a, b := d[i-1], d[i]
		if r, s := severityRank[a.Severity], severityRank[b.Severity]; r > s || r == s && a.Len < b.Len {
			t.Errorf("doubt %d (%s, %d) stands before %d (%s, %d)", i-1, a.Severity, a.Len, i, b.Severity, b.Len)
		}
	}
	// Oracle: by hand. The whole wall rests on a doubt that gives no length; a
	// piece's doubt belongs to its wall.
	if d[0].Wall != 2 || d[0].Length != "5000 mm" {
		t.Errorf("first doubt is of wall %d, %s; want 2, 5000 mm", d[0].Wall, d[0].Length)
	}
	if last := d[len(d)-1]; last.Wall != 1 {
		t.Errorf("a piece's doubt is of wall %d, want 1", last.Wall)
	}
}

func TestHTML_large(t *testing.T) {
	if n := len(pageOf(t, building(2000, 20000, report.UV{}, []string{"P1", "P2", "P3"}))); n > 8<<20 {
		t.Errorf("2,000 walls and 20,000 lines give %d bytes, want at most 8 MiB", n)
	}
}

func BenchmarkHTML_2000walls20000lines(b *testing.B) {
	x := building(2000, 20000, report.UV{}, []string{"P1", "P2", "P3"})
	for b.Loop() {
		b.ReportMetric(float64(len(pageOf(b, x)))/1e6, "MB")
	}
}

// TestHTML_inChromium drives the page as a person would, in a browser.
// Oracle: Chromium.
func TestHTML_inChromium(t *testing.T) {
	lib := os.Getenv("PLAYWRIGHT")
	if lib == "" {
		t.Skip("PLAYWRIGHT does not name a folder with playwright-core: the page is not opened in a browser")
	}
	missing := func(what string) {
		if os.Getenv("BOARDRUN_OUTSIDE") == "required" {
			t.Fatal(what)
		}
		t.Skip(what)
	}
	node, err := exec.LookPath("node")
	if err != nil {
		missing("node is not here")
	}
	browser, err := exec.LookPath("chromium")
	if err != nil {
		missing("chromium is not here")
	}
	if _, err := os.Stat(filepath.Join(lib, "node_modules", "playwright-core")); err != nil {
		missing("playwright-core is not in " + lib)
	}
	script, err := filepath.Abs("../../.ci/crosscheck/review.mjs")
	if err != nil {
		t.Fatal(err)
	}
	two := building(12, 50, report.UV{}, []string{"a", "b", "c"})
	for i := range two.Runs[6:] {
		two.Runs[6+i].Storey = "upper"
	}
	for _, c := range []struct {
		name string
		x    *report.Takeoff
	}{
		{"hostile names", building(30, 200, report.UV{}, hostile)}, {"no walls", report.Normalise(&report.Takeoff{})}, {"one wall", building(1, 1, report.UV{}, []string{"a"})},
		{"two storeys", two}, {"map coordinates", building(20, 100, report.UV{512_345_000, 5_123_456_000}, []string{"a"})}, {"large", building(2000, 20000, report.UV{}, []string{"P1", "P2", "P3"})},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			if keep := os.Getenv("REVIEW_OUT"); keep != "" {
				dir = filepath.Join(keep, strings.ReplaceAll(c.name, " ", "-"))
				if err := os.MkdirAll(dir, 0o755); err != nil {
					t.Fatal(err)
				}
			}
			file := filepath.Join(dir, "review.html")
			if err := os.WriteFile(file, []byte(pageOf(t, c.x)), 0o600); err != nil {
				t.Fatal(err)
			}
			cmd := exec.Command(node, script, file, dir)
			cmd.Env = append(os.Environ(), "CHROMIUM="+browser)
			out, err := cmd.CombinedOutput()
			t.Log(string(out))
			if err != nil {
				t.Error(err)
			}
		})
	}
}
