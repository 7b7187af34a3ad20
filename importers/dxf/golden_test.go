package dxf

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"boardrun/importers/linework"
	"boardrun/internal/plan"

	"github.com/paulmach/orb"
)

// shared returns a path in the folder of drawings beside the project, and skips
// the test where it is absent.
func shared(t testing.TB, elem ...string) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			break
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Skip("no go.mod above the test")
		}
		dir = up
	}
	p := filepath.Join(append([]string{filepath.Dir(dir), "shared"}, elem...)...)
	if _, err := os.Stat(p); err != nil {
		t.Skipf("%s is not there", filepath.Join(append([]string{"../shared"}, elem...)...))
	}
	return p
}

func readShared(t testing.TB, opt Options, elem ...string) (*linework.Drawing, []plan.Exception, error) {
	t.Helper()
	path := shared(t, elem...)
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	return Read(filepath.Base(path), f, opt)
}

func table(t *testing.T, elem ...string) []map[string]string {
	f, err := os.Open(shared(t, elem...))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, k := range rows[0] {
			m[k] = r[i]
		}
		out = append(out, m)
	}
	return out
}

// eachTop calls f for each entity of modelspace itself, once.
func eachTop(d *linework.Drawing, f func(linework.Common)) {
	seen := map[int]bool{}
	add := func(c linework.Common) {
		if c.Insert < 0 && !seen[c.Entity] {
			seen[c.Entity] = true
			f(c)
		}
	}
	for i := range d.Segments {
		add(d.Segments[i].Common)
	}
	for i := range d.Arcs {
		add(d.Arcs[i].Common)
	}
	for i := range d.Fills {
		add(d.Fills[i].Common)
	}
	for i := range d.Texts {
		add(d.Texts[i].Common)
	}
	for i := range d.Others {
		add(d.Others[i].Common)
	}
	for i := range d.Inserts {
		add(d.Inserts[i].Common)
	}
}

// countTypes counts the entities of modelspace itself by type.
func countTypes(d *linework.Drawing) map[string]int {
	out := map[string]int{}
	eachTop(d, func(c linework.Common) { out[c.Type]++ })
	return out
}

// known lists, by file, where our reading differs from the golden one, and why.
var known = map[string]string{
	"unicode-tables.dxf":               "modelspace is empty: an error here, 0 entities there",
	"missing-layout-block-record.dxf":  "modelspace is empty: an error here, refused there",
	"blocks-with-no-names-r2000.dxf":   "modelspace is empty: an error here, refused there",
	"entities-r10.dxf 0":               "3DLINE counts as a line here: 1.732051 more",
	"entities-r2-6.dxf 0":              "3DLINE counts as a line here: 1.732051 more",
	"library-sample-ascii.dxf Layer1":  "golden counts the control points of a fitted polyline, which are not on it: 232.579271 and not 556.186069",
	"library-sample-ascii.dxf Layer2":  "golden counts the control points of a fitted polyline, which are not on it: 535.133465 and not 966.410671",
	"library-sample-binary.dxf Layer1": "as in its ASCII twin",
	"library-sample-binary.dxf Layer2": "as in its ASCII twin",
}

// knownLength is our total where known says that golden's is another.
var knownLength = map[string]float64{
	"entities-r10.dxf 0":               10.641864 + 1.7320508,
	"entities-r2-6.dxf 0":              5.813437 + 1.7320508,
	"library-sample-ascii.dxf Layer1":  854.687058 - 556.186069 + 232.579271,
	"library-sample-ascii.dxf Layer2":  1601.632744 - 966.410671 + 327.679893 + 207.453573,
	"library-sample-binary.dxf Layer1": 854.687058 - 556.186069 + 232.579271,
	"library-sample-binary.dxf Layer2": 1601.632744 - 966.410671 + 327.679893 + 207.453573,
}

// Oracle: counts by another general DXF library (golden/README.md there).
func TestGolden_counts(t *testing.T) {
	for _, row := range table(t, "data", "golden", "dxf-counts.csv") {
		file := row["file"]
		t.Run(file, func(t *testing.T) {
			d, _, err := readShared(t, Options{UnitMM: 1}, "data", "dxf", file)
			if known[file] != "" {
				if err == nil || !strings.Contains(err.Error(), "modelspace is empty") {
					t.Errorf("got %v; known: %s", err, known[file])
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			want := map[string]int{}
			for _, kv := range strings.Split(row["entities_by_type"], "|") {
				if k, v, ok := strings.Cut(kv, "="); ok {
					want[k], _ = strconv.Atoi(v)
				}
			}
			if diff := cmp.Diff(want, countTypes(d)); diff != "" {
				t.Errorf("entities (-want +got):\n%s", diff)
			}
			if got := fmt.Sprint(usedLayers(d)); got != row["layers_used_in_modelspace"] {
				t.Errorf("%s layers used, want %s", got, row["layers_used_in_modelspace"])
			}
			if got := fmt.Sprint(attribCount(d)); got != row["insert_attribs"] {
				t.Errorf("%s attributes, want %s", got, row["insert_attribs"])
			}
			if d.Version != row["acadver"] && d.Version != "" { // without a header R12 is assumed there
				t.Errorf("version %s, want %s", d.Version, row["acadver"])
			}
			if u := row["insunits"]; u != "" && u != fmt.Sprint(d.InsUnits) {
				t.Errorf("$INSUNITS %d, want %s", d.InsUnits, u)
			}
		})
	}
}

// usedLayers counts the layers that entities of modelspace itself stand on.
func usedLayers(d *linework.Drawing) int {
	seen := map[string]bool{}
	eachTop(d, func(c linework.Common) {
		if c.Type != "ATTRIB" {
			seen[strings.ToUpper(c.Layer)] = true
		}
	})
	return len(seen)
}

func attribCount(d *linework.Drawing) int {
	n := 0
	for i := range d.Texts {
		if x := &d.Texts[i]; x.Type == "ATTRIB" && x.Insert >= 0 && d.Inserts[x.Insert].Parent < 0 && !strings.Contains(x.Handle, "/") {
			n++
		}
	}
	return n
}

// No drawing of the collection goes unchecked, and no entry of known is idle.
func TestGolden_all(t *testing.T) {
	rows := map[string]bool{}
	for _, row := range table(t, "data", "golden", "dxf-counts.csv") {
		rows[row["file"]] = true
	}
	for _, row := range table(t, "data", "golden", "dxf-layer-lengths.csv") {
		rows[row["file"]+" "+row["layer"]] = true
	}
	files, err := os.ReadDir(shared(t, "data", "dxf"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !rows[f.Name()] {
			t.Errorf("%s has no row", f.Name())
		}
	}
	for k := range known {
		if !rows[k] {
			t.Errorf("known: %q is no row", k)
		}
	}
}

// Oracle: lengths by another general DXF library (golden/README.md there).
func TestGolden_layerLengths(t *testing.T) {
	drawings := map[string]*linework.Drawing{}
	for _, row := range table(t, "data", "golden", "dxf-layer-lengths.csv") {
		file := row["file"]
		d := drawings[file]
		if d == nil {
			var err error
			if d, _, err = readShared(t, Options{UnitMM: 1}, "data", "dxf", file); err != nil {
				t.Fatal(err)
			}
			drawings[file] = d
		}
		want, _ := strconv.ParseFloat(row["total_len"], 64)
		key := file + " " + row["layer"]
		if known[key] != "" {
			want = knownLength[key]
		}
		got := math.NaN()
		for _, l := range d.Layers {
			if l.Name == row["layer"] {
				got = l.Length
			}
		}
		if !(math.Abs(got-want) <= 2e-6+1e-8*want) {
			t.Errorf("%s: %.6f, want %.6f %s", key, got, want, known[key])
		}
	}
}

func nearPoint(a, b orb.Point) bool {
	return math.Hypot(a[0]-b[0], a[1]-b[1]) < 1e-4+1e-5*math.Hypot(a[0], a[1])
}

// Oracle: the ASCII twin of the same drawing.
func TestGolden_twins(t *testing.T) {
	for _, c := range [][2]string{
		{"all-entities-r12-ascii.dxf", "all-entities-r12-binary.dxf"},
		{"library-sample-ascii.dxf", "library-sample-binary.dxf"},
	} {
		a, _, err := readShared(t, Options{UnitMM: 1}, "data", "dxf", c[0])
		if err != nil {
			t.Fatal(err)
		}
		b, _, err := readShared(t, Options{UnitMM: 1}, "data", "dxf", c[1])
		if err != nil {
			t.Fatal(err)
		}
		// ASCII writes as few as six digits; places in the file are another matter.
		ignore := cmp.Options{cmpopts.IgnoreFields(linework.Drawing{}, "File"), cmpopts.IgnoreFields(linework.Ref{}, "Line", "Handle")}
		equalDrawings(t, a, b, ignore)
	}
}

// equalDrawings compares two drawings, numbers to about five digits.
func equalDrawings(t *testing.T, a, b *linework.Drawing, opts ...cmp.Option) {
	t.Helper()
	opts = append(opts, cmpopts.EquateApprox(1e-5, 1e-4),
		cmp.Comparer(nearPoint),
		cmp.Comparer(func(a, b orb.Bound) bool { return nearPoint(a.Min, b.Min) && nearPoint(a.Max, b.Max) }),
		cmp.Comparer(func(a, b orb.Ring) bool { return slices.EqualFunc(a, b, nearPoint) }),
		cmpopts.EquateEmpty())
	if diff := cmp.Diff(a, b, opts...); diff != "" {
		t.Errorf("%s and %s (-first +second):\n%.3000s", a.File, b.File, diff)
	}
}
