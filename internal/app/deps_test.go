package app

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// allowed is the house's plan: which packages of the project each package may
// import. Data flows one way; a new arrow is a reviewed line here.
var allowed = map[string][]string{
	"cmd/boardrun":         {"internal/app"},
	"cmd/evidence":         {},
	"cmd/mutants":          {},
	"cmd/samples":          {"internal/dxf", "internal/measure"},
	"internal/measure":     {},
	"internal/parallel":    {},
	"internal/geom":        {"internal/measure"},
	"internal/dxf":         {},
	"internal/rules":       {"internal/measure"},
	"internal/plan":        {"internal/geom", "internal/measure"},
	"internal/job":         {"internal/geom", "internal/measure", "internal/rules"},
	"internal/run":         {"internal/geom", "internal/measure", "internal/rules", "internal/plan", "internal/job"},
	"internal/layout":      {"internal/geom", "internal/measure", "internal/rules", "internal/plan", "internal/job", "internal/run"},
	"internal/cutting":     {"internal/geom", "internal/measure", "internal/parallel"},
	"internal/quantity":    {"internal/geom", "internal/measure", "internal/rules", "internal/plan", "internal/job", "internal/run", "internal/layout", "internal/parallel"},
	"internal/report":      {"internal/geom", "internal/measure", "internal/rules", "internal/plan", "internal/job", "internal/run", "internal/layout", "internal/cutting", "internal/quantity"},
	"internal/check":       {"internal/report"},
	"internal/write":       {"internal/report", "internal/measure", "internal/dxf"},
	"importers/linework":   {},
	"importers/dxf":        {"importers/linework", "internal/dxf", "internal/plan", "internal/measure", "internal/geom"},
	"importers/trace":      {"importers/linework", "internal/plan", "internal/measure", "internal/geom"},
	"importers/ifc/part21": {},
	"importers/ifc":        {"importers/ifc/part21", "internal/plan", "internal/measure", "internal/geom"},
	"importers":            {"importers/dxf", "importers/trace", "importers/ifc", "importers/linework", "internal/job", "internal/plan", "internal/measure", "internal/geom"},
	"internal/edit":        {},
	"internal/app":         nil, // sees everything
}

func TestDeps_dataFlowsOneWay(t *testing.T) {
	root := filepath.Join("..", "..")
	seen := map[string]bool{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && path != root || d.Name() == "testdata") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		pkg := filepath.ToSlash(filepath.Dir(strings.TrimPrefix(path, root+string(filepath.Separator))))
		ok, known := allowed[pkg]
		if !known {
			t.Errorf("package %s stands nowhere in the plan of the house", pkg)
			return nil
		}
		seen[pkg] = true
		src, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, i := range src.Imports {
			p, ours := strings.CutPrefix(strings.Trim(i.Path.Value, `"`), "boardrun/")
			if ours && pkg != "internal/app" && !slices.Contains(ok, p) {
				t.Errorf("%s imports %s: not in the plan of the house", path, p)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(seen) < 10 {
		t.Errorf("only %d packages found: is the test looking in the right place?", len(seen))
	}
}

func TestDeps_topLevelHoldsOnlyTheRooms(t *testing.T) {
	want := []string{"cmd", "internal", "importers", "testdata", "samples", "go.mod", "go.sum", "README.md", "DEVELOPERS.md"}
	list, err := os.ReadDir(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range list {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(want, e.Name()) && e.Name() != "out" {
			t.Errorf("%s does not belong at the top level", e.Name())
		}
	}
}
