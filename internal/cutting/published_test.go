package cutting

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"boardrun/internal/measure"
)

// published returns the folder of published cutting instances beside the
// project, and skips the test if there is none.
func published(t testing.TB) string {
	t.Helper()
	if testing.Short() {
		t.Skip("published instances take minutes under the race detector; run without -short")
	}
	dir, err := os.Getwd()
	for err == nil {
		if _, e := os.Stat(filepath.Join(dir, "go.mod")); e == nil {
			break
		}
		if dir == filepath.Dir(dir) {
			t.Skip("not inside the module")
		}
		dir = filepath.Dir(dir)
	}
	dir = filepath.Join(dir, "..", "shared", "data", "cutting")
	if _, err := os.Stat(dir); err != nil {
		t.Skip("published instances are not beside the project")
	}
	return dir
}

// line is a one-dimensional instance: full-width pieces on sheets 48 in wide, one
// unit of capacity being one millimetre.
type line struct {
	name     string
	capacity int
	sizes    []int
}

func (l line) problem() Problem {
	mm := measure.Millimetre
	p := Problem{Stock: []Stock{{Board: "A", Width: 48 * in, Length: measure.Length(l.capacity) * mm}}}
	for i, s := range l.sizes {
		p.Pieces = append(p.Pieces, Piece{
			ID: fmt.Sprintf("%04d", i), Board: "A", Left: Tapered, Right: Tapered,
			Outline: rect(48*in, measure.Length(s)*mm),
		})
	}
	return p
}

func ints(t testing.TB, text string) []int {
	t.Helper()
	var out []int
	for _, f := range strings.Fields(text) {
		v, err := strconv.Atoi(f)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, v)
	}
	return out
}

// orlib reads a file of several instances: number; then name, capacity, items,
// best known; then sizes.
func orlib(t testing.TB, path string) []line {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f := strings.Fields(string(b))
	var out []line
	for i := 1; i < len(f); {
		head := ints(t, f[i+1]+" "+f[i+2])
		out = append(out, line{f[i], head[0], ints(t, strings.Join(f[i+4:i+4+head[1]], " "))})
		i += 4 + head[1]
	}
	return out
}

// sizesOnly reads items, capacity, sizes.
func sizesOnly(t testing.TB, path string) line {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	v := ints(t, string(b))
	return line{strings.TrimSuffix(filepath.Base(path), ".txt"), v[1], v[2 : 2+v[0]]}
}

// table reads a tab-separated file with a header.
func table(t testing.TB, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []map[string]string
	var head []string
	for sc := bufio.NewScanner(f); sc.Scan(); {
		c := strings.Split(sc.Text(), "\t")
		if head == nil {
			head = c
			continue
		}
		row := map[string]string{}
		for i, h := range head {
			if i < len(c) {
				row[h] = c[i]
			}
		}
		out = append(out, row)
	}
	return out
}

func solveLine(t *testing.T, l line, want int) (sheets int) {
	t.Helper()
	p := l.problem()
	s := Solve(p, Best)
	for _, b := range judge(p, s) {
		t.Errorf("%s: %s", l.name, b)
	}
	n := len(s.Sheets)
	if n < want {
		t.Errorf("%s: %d sheets, fewer than the proven %d", l.name, n, want)
	}
	if lb := s.Bounds[0].CostAt / s.Sheets[0].Cost; lb > int64(want) {
		t.Errorf("%s: bound %d above the optimum %d", l.name, lb, want)
	}
	return n
}

// Oracle: optima published with BPPLib.jl (MIT) for the OR-Library instances of
// Falkenauer, and computed for its PM set.
func TestPublished_oneDimension(t *testing.T) {
	dir := filepath.Join(published(t), "1d")
	type one struct {
		l    line
		want int
	}
	sets := map[string][]one{}
	best := map[string]int{}
	for _, r := range table(t, filepath.Join(dir, "optima_1d.tsv")) {
		n, _ := strconv.Atoi(r["upper_bound"])
		best[r["instance"]] = n
	}
	for _, f := range []string{"binpack1", "binpack3"} {
		if testing.Short() && f == "binpack3" {
			continue
		}
		for _, l := range orlib(t, filepath.Join(dir, "orlib_binpack", f+".txt")) {
			sets[f] = append(sets[f], one{l, best[l.name]})
		}
	}
	for _, r := range table(t, filepath.Join(dir, "bpplibjl_pm", "OPTIMA.tsv")) {
		n, _ := strconv.Atoi(r["optimal_bins"])
		sets["pm"] = append(sets["pm"], one{sizesOnly(t, filepath.Join(dir, "bpplibjl_pm", r["file"])), n})
	}
	for _, name := range []string{"pm", "binpack1", "binpack3"} {
		t.Run(name, func(t *testing.T) {
			met := 0
			for _, x := range sets[name] {
				if n := solveLine(t, x.l, x.want); n == x.want {
					met++
				} else {
					t.Errorf("%s: %d sheets, optimum %d", x.l.name, n, x.want)
				}
			}
			t.Logf("%d of %d at the optimum", met, len(sets[name]))
		})
	}
}

// Reported, not required: triplets leave no waste at all.
func TestPublished_triplets(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	dir := filepath.Join(published(t), "1d", "falkenauer_triplets")
	files, _ := filepath.Glob(filepath.Join(dir, "*t120*.txt"))
	met, over := 0, 0
	for _, f := range files {
		l := sizesOnly(t, f)
		n := solveLine(t, l, len(l.sizes)/3)
		if n == len(l.sizes)/3 {
			met++
		}
		over += n - len(l.sizes)/3
	}
	t.Logf("%d of %d at the optimum, %d sheets too many in all", met, len(files), over)
}

// flatProblem is a two-dimensional instance in whole units of 1 mm.
func flatProblem(width, length int, copies []int, w, h []int, turn bool) Problem {
	mm := measure.Millimetre
	p := Problem{Stock: []Stock{{Board: "A", Width: measure.Length(width) * mm, Length: measure.Length(length) * mm}}}
	for i := range w {
		if copies[i] > 0 {
			p.Pieces = append(p.Pieces, Piece{
				ID: fmt.Sprintf("%04d", i), Board: "A", Count: copies[i], Turn: turn,
				Outline: rect(measure.Length(w[i])*mm, measure.Length(h[i])*mm),
			})
		}
	}
	return p
}

// Oracle: brackets computed for two-stage cutting; more stages may need fewer
// sheets than the upper end, never fewer than the area bound.
func TestPublished_silva(t *testing.T) {
	dir := filepath.Join(published(t), "2d", "csp_2stage_silva2010")
	for _, r := range table(t, filepath.Join(dir, "COMPUTED.tsv")) {
		b, err := os.ReadFile(filepath.Join(dir, r["file"]))
		if err != nil {
			t.Fatal(err)
		}
		var x struct {
			Objects []struct{ Length, Height int }
			Items   []struct{ Length, Height, Demand int }
		}
		if err := json.Unmarshal(b, &x); err != nil {
			t.Fatal(err)
		}
		for _, turn := range []bool{false, true} {
			kind := "oriented"
			if turn {
				kind = "rot"
			}
			upper, err := strconv.Atoi(r["sheets_UB_"+kind])
			if err != nil {
				continue
			}
			var n, w, h []int
			for _, it := range x.Items {
				n, w, h = append(n, it.Demand), append(w, it.Length), append(h, it.Height)
			}
			p := flatProblem(x.Objects[0].Length, x.Objects[0].Height, n, w, h, turn)
			s := Solve(p, Best)
			mustPass(t, p, s)
			lb := s.Bounds[0].CostAt / s.Sheets[0].Cost
			t.Logf("%-12s %-8s %d sheets, bound %d, published %s to %d", r["file"], kind, len(s.Sheets), lb, r["sheets_LB_"+kind], upper)
			if len(s.Sheets) > upper {
				t.Errorf("%s %s: %d sheets, published %d", r["file"], kind, len(s.Sheets), upper)
			}
		}
	}
}

// csvInts reads a CSV of whole numbers as maps by header.
func csvInts(t testing.TB, path string) []map[string]int {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	recs, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]int
	for _, r := range recs[1:] {
		m := map[string]int{}
		for i, h := range recs[0] {
			m[h], _ = strconv.Atoi(r[i])
		}
		out = append(out, m)
	}
	return out
}

// Oracle: best costs published for the multi-stock instances of Cintra et al.
// 2008 (two-stage; ours may use more stages).
func TestPublished_multiStock(t *testing.T) {
	dir := filepath.Join(published(t), "2d", "vsbpp_multi_stock_2stage")
	for _, r := range table(t, filepath.Join(dir, "OPTIMA.tsv")) {
		base := filepath.Join(dir, r["instance"])
		want, _ := strconv.ParseInt(r["best_cost"], 10, 64)
		p := Problem{}
		for _, b := range csvInts(t, base+"_bins.csv") {
			p.Stock = append(p.Stock, Stock{
				Board: "A", Cost: int64(b["COST"]),
				Width: measure.Length(b["WIDTH"]) * measure.Millimetre, Length: measure.Length(b["HEIGHT"]) * measure.Millimetre,
			})
		}
		for i, x := range csvInts(t, base+"_items.csv") {
			p.Pieces = append(p.Pieces, Piece{
				ID: fmt.Sprintf("%04d", i), Board: "A", Count: x["COPIES"], Turn: r["variant"] == "2NHR",
				Outline: rect(measure.Length(x["WIDTH"])*measure.Millimetre, measure.Length(x["HEIGHT"])*measure.Millimetre),
			})
		}
		s := Solve(p, Best)
		mustPass(t, p, s)
		got := s.Bounds[0].Cost
		over := 100 * (float64(got)/float64(want) - 1)
		t.Logf("%-12s %s cost %d, published %d (%+.2f %%), bound %d", r["instance"], r["variant"], got, want, over, s.Bounds[0].CostAt)
		if over > 0.5 {
			t.Errorf("%s %s: %.2f %% above the published cost", r["instance"], r["variant"], over)
		}
	}
}
