package app

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"boardrun/internal/dxf"
	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/report"
	"boardrun/internal/write"
)

// oddName is what a drawing can hold as a name: markup, quotes, writing from
// right to left with its marks, a picture, a line's end, and no end to it.
var oddName = `<script>alert(1)</script>"'&` + "\u202eשלום حائط 🐶\n0\nLINE\n" + strings.Repeat("long", 130)

// oddWall is a wall along x from a place in the drawing, all its names odd.
func oddWall(t *testing.T, at geom.Pt, length measure.Length, deck string, name string) *report.Takeoff {
	t.Helper()
	quoted := strconv.QuoteToASCII(name)
	src := strings.NewReplacer(`storey: "1"`, "storey: "+quoted, "name: P,", "name: "+quoted+",").Replace(caseJob) +
		"title: " + quoted + "\ndecks: [{storey: " + quoted + ", level: " + deck + "}]\nstock: {5/8 type X: {sheets: {48in: [8ft, 10ft, 12ft]}}}\n"
	j, err := job.Parse("case.yaml", []byte(src), nil)
	if err != nil {
		t.Fatal(err)
	}
	source := []plan.Source{{File: "case.dxf", Ref: "1A", Layer: name}}
	wall := func(y, l measure.Length, s plan.Status) plan.Wall {
		return plan.Wall{
			Storey: name, Axis: [2]geom.Pt{{X: at.X, Y: at.Y + y}, {X: at.X + l, Y: at.Y + y}},
			Thickness: 39 * measure.EighthInch, Status: s, Layer: name, Tag: name, Sources: source,
		}
	}
	p := &plan.Plan{
		Drawings: []plan.Drawing{{File: "case.dxf", Storey: name, Unit: plan.Unit{MM: 1}}},
		Walls:    []plan.Wall{wall(0, length, plan.New), wall(6*measure.Metre, 2*measure.Metre, plan.Existing)},
		Rooms:    []plan.Room{{Storey: name, Name: name, Outline: geom.Poly{at, {X: at.X + length, Y: at.Y}, {X: at.X + length, Y: at.Y + 3*measure.Metre}, {X: at.X, Y: at.Y + 3*measure.Metre}}}},
	}
	if length > 4*measure.Metre {
		p.Openings = []plan.Opening{{Kind: plan.Door, At: 88 * measure.Inch, Width: 38 * measure.Inch, Head: 85 * measure.Inch, Mark: name, HeadBy: "attribute", Basis: "drawn", Sources: source}}
	}
	out, err := (&pipeline{effort: "quick", out: io.Discard}).assemble(context.Background(), j, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// sliver is a side hung with one piece of 40 mm.
func sliver() *report.Takeoff {
	box := report.Poly{{0, 12}, {40, 12}, {40, 2990}, {0, 2990}}
	return report.Normalise(&report.Takeoff{
		Schema: report.Schema, Job: report.JobInfo{Title: oddName, System: "metric", Stamp: "BID"},
		Runs:   []report.Run{{ID: "1-W001", Type: oddName, Storey: "1", Status: "new", AxisMM: []report.UV{{0, 0}, {40, 0}}, LengthMM: 40, ThicknessMM: 100, Flange: "start", Status2: "optimal"}},
		Faces:  []report.Face{{ID: "1-W001-L1", Run: "1-W001", Side: "left", Boarded: true, LengthMM: 40, OutlineUV: box, Top: "slip", HangFrom: "left", Plies: []report.Ply{{Ply: 1, OutlineUV: box}}}},
		Pieces: []report.Piece{{ID: "1-W001-L1/1/01", Face: "1-W001-L1", Ply: 1, Board: oddName, Role: "rip", OutlineUV: box, HeightsMM: []report.UV{{0, 2978}, {40, 2978}}, Sheet: "S0001", Order: 1, AreaM2: 0.11912}},
		Sheets: []report.Sheet{{ID: "S0001", Board: oddName, WidthMM: 1200, LengthMM: 3000, Placements: []report.Placement{{Piece: "1-W001-L1/1/01", OutlineMM: report.Poly{{0, 0}, {40, 0}, {40, 2978}, {0, 2978}}}}}},
	})
}

// Every drawing of every bad input: written, read back, nothing lost, nothing
// run. Oracles: encoding/xml and archive/zip for the pictures, encoding/json and
// HTML's rule for scripts for the page, qpdf for the pages, the project's reader
// of group codes for DXF (ezdxf in the cross-checks).
func TestDrawings_badInput(t *testing.T) {
	far := geom.Pt{X: 512_345 * measure.Metre, Y: 5_123_456 * measure.Metre}
	for _, c := range []struct {
		name string
		out  *report.Takeoff
		at   report.UV // where the wall begins
	}{
		{"300 m long", oddWall(t, geom.Pt{}, 300*measure.Metre, "12ft", oddName), report.UV{}},
		{"20 m high", oddWall(t, geom.Pt{}, 20*measure.Foot, "20m", oddName), report.UV{}},
		{"map coordinates", oddWall(t, far, 20*measure.Foot, "12ft", oddName), report.UV{512_345_000, 5_123_456_000}},
		{"nothing but a name to lose", oddWall(t, geom.Pt{}, 20*measure.Foot, "12ft", "\u2067🧱\u2069"), report.UV{}},
		{"a piece of 40 mm", sliver(), report.UV{}},
		{"no wall", report.Normalise(&report.Takeoff{Job: report.JobInfo{Title: oddName, System: "metric"}}), report.UV{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			written := func(f func(io.Writer, *report.Takeoff) error) []byte {
				t.Helper()
				var b bytes.Buffer
				if err := f(&b, c.out); err != nil {
					t.Fatal(err)
				}
				return b.Bytes()
			}
			scriptsOf(t, written(write.HTML), 3)
			scriptsOf(t, written(write.Tops), 0)
			soundPDF(t, written(write.PDF))
			pieces := 0
			for _, o := range dxfOutlines(t, "walls.dxf", written(write.WallsDXF)) {
				if o.layer == report.LayerPiece && o.closed {
					pieces++
				}
			}
			if pieces != len(c.out.Pieces) {
				t.Errorf("walls.dxf: %d pieces drawn, want %d", pieces, len(c.out.Pieces))
			}
			walls := 0
			for _, o := range dxfOutlines(t, "plan.dxf", written(write.PlanDXF)) {
				if !strings.HasPrefix(o.layer, report.LayerWall) || strings.HasPrefix(o.layer, report.LayerWallStay) || !o.closed {
					continue
				}
				walls++
				near := math.Inf(1)
				for i := range o.x {
					near = min(near, math.Hypot(o.x[i]-float64(c.at[0]), o.y[i]-float64(c.at[1])))
				}
				if near > 100 { // half its thickness
					t.Errorf("plan.dxf: the wall stands %.0f mm from its place", near)
				}
			}
			if walls != len(c.out.Runs) {
				t.Errorf("plan.dxf: %d walls, want %d", walls, len(c.out.Runs))
			}
			file := written(write.Sides)
			z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range z.File {
				if strings.HasSuffix(f.Name, ".svg") {
					soundSVG(t, c.name, f)
				}
			}
			written(write.XLSX)
		})
	}
}

// scriptsOf counts the scripts of a page and reads its data.
func scriptsOf(t *testing.T, page []byte, want int) {
	t.Helper()
	low := bytes.ToLower(page)
	for _, tag := range []string{"<script", "</script"} {
		if n := bytes.Count(low, []byte(tag)); n != want {
			t.Errorf("a page with %d × %s, want %d", n, tag, want)
		}
	}
	if want == 0 {
		return
	}
	_, data, _ := bytes.Cut(page, []byte(`id="data">`))
	data, _, _ = bytes.Cut(data, []byte("</script>"))
	if !json.Valid(data) {
		t.Error("the page's data are no JSON")
	}
}

// soundPDF has qpdf look at the pages, where it is installed.
func soundPDF(t *testing.T, file []byte) {
	t.Helper()
	if _, err := exec.LookPath("qpdf"); err != nil {
		t.Log("qpdf is not installed: walls.pdf is not checked by it")
		return
	}
	name := filepath.Join(t.TempDir(), "walls.pdf")
	if err := os.WriteFile(name, file, 0o666); err != nil {
		t.Fatal(err)
	}
	if msg, err := exec.Command("qpdf", "--check", name).CombinedOutput(); err != nil {
		t.Errorf("qpdf --check: %v\n%s", err, msg)
	}
}

// dxfOutlines reads a drawing back: every number is finite, nothing is an
// entity we do not write, names of layers hold no sign a layer may not have.
func dxfOutlines(t *testing.T, name string, file []byte) []outline {
	t.Helper()
	s, err := dxf.NewScanner(name, bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	entities := false
	for s.Next() {
		switch v := string(s.Bytes()); {
		case s.Code == 2 && v == "ENTITIES":
			entities = true
		case s.Code == 0 && v == "ENDSEC":
			entities = false
		case s.Code == 0 && entities && v != "LWPOLYLINE" && v != "TEXT" && v != "LINE":
			t.Errorf("%s holds a %s", name, v)
		case s.Code == 8 && (strings.ContainsAny(v, "<>/\\\":;?*|=`'") || len(v) > 255):
			t.Errorf("%s: layer %q", name, v)
		case s.Code >= 10 && s.Code < 40:
			if x, err := strconv.ParseFloat(strings.TrimSpace(v), 64); err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
				t.Errorf("%s: coordinate %q", name, v)
			}
		}
	}
	if err := s.Err(); err != nil {
		t.Fatal(err)
	}
	return outlines(t, file)
}

// Storeys named in letters no layer may have are on layers apart.
func TestPlanDXF_storeysOfOddNames(t *testing.T) {
	out := &report.Takeoff{Job: report.JobInfo{System: "metric"}}
	for i, storey := range []string{"שלום", "حائط", oddName, oddName + "2"} {
		y := report.MM(i * 4000)
		out.Runs = append(out.Runs, report.Run{ID: "W", Storey: storey, Status: "new", AxisMM: []report.UV{{0, y}, {3000, y}}, LengthMM: 3000, ThicknessMM: 100})
	}
	var b bytes.Buffer
	if err := write.PlanDXF(&b, out); err != nil {
		t.Fatal(err)
	}
	layers := map[string]bool{}
	for _, o := range dxfOutlines(t, "plan.dxf", b.Bytes()) {
		layers[o.layer] = true
	}
	if len(layers) != 4 {
		t.Errorf("four storeys on %d layers: %v", len(layers), layers)
	}
}
