package ifc

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"boardrun/internal/plan"
)

// spread is how far a file's walls lie from another's numbers: the largest
// deviation of those that agree, how many were compared, how many are explained.
type spread struct {
	worst         float64
	n, explainedN int
}

func (s *spread) add(got, want float64, listed bool) {
	d := 0.0
	if got != want {
		d = math.Abs(got-want) / math.Max(math.Abs(got), math.Abs(want))
	}
	if s.n++; listed {
		s.explainedN++
	} else {
		s.worst = math.Max(s.worst, d)
	}
}

func (s spread) String() string {
	if s.n == 0 {
		return "–"
	}
	out := fmt.Sprintf("%.3f %% of %d", 100*s.worst, s.n)
	if s.explainedN > 0 {
		out += fmt.Sprintf(", %d explained", s.explainedN)
	}
	return out
}

// TestTable prints, for every model of the corpus, what is read of it, how far it
// is from the exporter's columns and from web-ifc, and what is not understood:
//
//	BOARDRUN_TABLE=1 WEBIFC=folder/node_modules/web-ifc go test -run Table -v ./importers/ifc
//
// What must hold of these numbers, TestGolden, TestCounts and TestCrossCheck hold.
func TestTable(t *testing.T) {
	if os.Getenv("BOARDRUN_TABLE") == "" {
		t.Skip("BOARDRUN_TABLE is not set: a table for people")
	}
	lib := os.Getenv("WEBIFC")
	node, _ := exec.LookPath("node")
	files, err := filepath.Glob(shared(t, "data/ifc") + "/*.ifc*")
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString("| file | walls | openings | sides net m² | exporter's columns | web-ifc | CPU s | not understood |\n|---|---|---|---|---|---|---|---|\n")
	for _, file := range files {
		b.WriteString(tableRow(t, file, node, lib))
	}
	fmt.Print(b.String())
}

func tableRow(t *testing.T, file, node, lib string) string {
	name := filepath.Base(file)
	start := cpuSeconds()
	p, q, err := readFile(file)
	cpu := cpuSeconds() - start
	if err != nil {
		return fmt.Sprintf("| %s | refused: %s | | | | | %.2f | |\n", name, strings.TrimPrefix(err.Error(), name+": "), cpu)
	}
	legs, net := map[string][]subject{}, 0.0
	for i, w := range p.Walls {
		net += q[i].LeftAreaM2 + q[i].RightAreaM2
		if w.Kind != plan.Curtain {
			g := w.Sources[0].GUID
			legs[g] = append(legs[g], subject{q[i], w})
		}
	}
	var second spread
	if lib != "" && node != "" && len(legs) > 0 && strings.HasSuffix(name, ".ifc") {
		second = tableOpinion(name, legs, secondOpinion(t, node, lib, file))
	}
	return fmt.Sprintf("| %s | %d | %d | %.2f | %s | %s | %.2f | %s |\n", name, len(legs), len(p.Openings), net, tableGolden(t, name, legs), second, cpu, tableDoubts(p))
}

// tableGolden compares the columns of the exporter that a rule explains.
func tableGolden(t *testing.T, name string, legs map[string][]subject) (s spread) {
	at := slices.IndexFunc(goldenFiles, func(g goldenFile) bool { return g.file == name })
	if at < 0 {
		return s
	}
	c := goldenFiles[at]
	for _, g := range readGolden(t, name) {
		l := legs[g.guid]
		if len(l) == 0 {
			continue
		}
		all := subject{w: l[0].w}
		for _, leg := range l {
			all.q = together(all.q, leg.q)
		}
		for col, value := range plain {
			want, ok := g.v[col]
			if _, skip := c.skip[col]; !ok || want == 0 {
				continue
			} else if r, ok := c.rules[col]; ok {
				value = r
			} else if skip {
				s.add(0, 0, true)
				continue
			}
			_, off := c.off[g.guid][col]
			s.add(value(all), want, off)
		}
	}
	return s
}

func tableOpinion(name string, legs map[string][]subject, by map[string]opinion) (s spread) {
	for guid, l := range legs {
		_, listed := explained[name][guid]
		sides, round := sidesOf(l)
		for _, side := range sides {
			all, outer := by[guid].facing(side.x, side.y)
			if math.Abs(outer-side.area) < math.Abs(all-side.area) {
				all = outer
			}
			s.add(side.area, all, listed || round)
		}
	}
	return s
}

// tableDoubts counts what was told of a model, by code; and what was ignored
// for a reason that a person may want to know.
func tableDoubts(p *plan.Plan) string {
	count := map[string]int{}
	for _, e := range p.Exceptions {
		if e.Severity > plan.Note {
			count[e.Code]++
		}
	}
	var out []string
	for _, code := range slices.Sorted(mapKeys(count)) {
		out = append(out, fmt.Sprintf("%s %d", code, count[code]))
	}
	return strings.Join(out, ", ")
}
