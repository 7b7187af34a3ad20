package dxf

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"boardrun/importers/linework"
	"boardrun/internal/plan"
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

// countTypes counts the entities of modelspace itself by type.
func countTypes(d *linework.Drawing) map[string]int {
	seen := map[int]bool{}
	out := map[string]int{}
	add := func(c linework.Common) {
		if c.Insert < 0 && !seen[c.Entity] {
			seen[c.Entity] = true
			out[c.Type]++
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
	return out
}

func TestDump(t *testing.T) {
	for _, row := range table(t, "data", "golden", "dxf-counts.csv") {
		d, exc, err := readShared(t, Options{UnitMM: 1}, "data", "dxf", row["file"])
		if err != nil {
			fmt.Println(row["file"], "ERR", err)
			continue
		}
		got := countTypes(d)
		want := map[string]int{}
		for _, kv := range strings.Split(row["entities_by_type"], "|") {
			if k, v, ok := strings.Cut(kv, "="); ok {
				want[k], _ = strconv.Atoi(v)
			}
		}
		for _, k := range sortedKeys(want) {
			if got[k] != want[k] {
				fmt.Println(row["file"], k, "got", got[k], "want", want[k])
			}
		}
		for _, k := range sortedKeys(got) {
			if want[k] == 0 {
				fmt.Println(row["file"], k, "got", got[k], "want 0")
			}
		}
		for _, e := range exc {
			fmt.Println("   ", e)
		}
	}
	lens := map[string]*linework.Drawing{}
	for _, row := range table(t, "data", "golden", "dxf-layer-lengths.csv") {
		d := lens[row["file"]]
		if d == nil {
			d, _, _ = readShared(t, Options{UnitMM: 1}, "data", "dxf", row["file"])
			lens[row["file"]] = d
		}
		want, _ := strconv.ParseFloat(row["total_len"], 64)
		got := -1.0
		for _, l := range d.Layers {
			if l.Name == row["layer"] {
				got = l.Length
			}
		}
		if math.Abs(got-want) > 1e-5*math.Max(1, want) {
			fmt.Println(row["file"], row["layer"], "got", got, "want", want, row)
		}
	}
}
