package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every source is named by a test, whether or not that test can run here.
func TestSources_areNamedByTests(t *testing.T) {
	root, err := moduleRoot()
	if err != nil {
		t.Fatal(err)
	}
	oracles, err := scanOracles(root)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, s := range sources {
		if seen[s.key] {
			t.Errorf("%s stands twice", s.key)
		}
		seen[s.key] = true
		named := false
		for _, o := range oracles {
			// This package's own tests name sources to test the naming.
			named = named || o.pkg != "cmd/evidence" && s.say.MatchString(o.text)
		}
		if !named {
			t.Errorf("no test names %s (%s)", s.key, s.cite)
		}
	}
}

// README.md's pointers lead to rows of the page.
func TestReadme_pointers(t *testing.T) {
	root, err := moduleRoot()
	if err != nil {
		t.Fatal(err)
	}
	page, err := os.ReadFile(filepath.Join(root, guide))
	if err != nil {
		t.Fatal(err)
	}
	readme, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	found := pointer.FindAllString(string(readme), -1)
	if len(found) == 0 {
		t.Error("README.md points to no row")
	}
	for _, w := range pointers(string(page), string(readme)) {
		t.Error(w)
	}
}

// Oracle: the events written out by hand.
func TestReadEvents(t *testing.T) {
	const events = `{"Action":"run","Package":"m/a","Test":"TestX"}
{"Action":"pass","Package":"m/a","Test":"TestX/one"}
{"Action":"skip","Package":"m/a","Test":"TestX/two"}
{"Action":"pass","Package":"m/a","Test":"TestX"}
{"Action":"pass","Package":"m/a","Test":"TestY"}
{"Action":"fail","Package":"m/b","Test":"TestZ"}
{"Action":"pass","Package":"m/a"}
`
	got, err := readEvents(strings.NewReader(events))
	if err != nil {
		t.Fatal(err)
	}
	want := map[testKey]outcome{
		{"a", "TestX"}: {passed: 1, skipped: 1},
		{"a", "TestY"}: {passed: 1},
		{"b", "TestZ"}: {failed: 1},
	}
	if len(got) != len(want) {
		t.Errorf("%v, want %v", got, want)
	}
	for k, w := range want {
		if got[k] != w {
			t.Errorf("%v: %v, want %v", k, got[k], w)
		}
	}
}

// A page that claims more than ran, a row without a source, a failed check, a
// pointer into nothing: each is told, and nothing is told of a page that holds.
func TestVerify(t *testing.T) {
	page := func(rows string) string {
		return "<!-- evidence: checks -->\n" + rows + "<!-- end of checks -->\n"
	}
	a := check{source: source{key: "A", kind: "k", cite: "c"}, tests: []string{"p.TestA"}, outcome: outcome{passed: 3}}
	whole := page(checks{a}.markdown())
	if err := verify(whole, "as the check says (evidence: A)", checks{a}); err != nil {
		t.Errorf("a page that holds: %v", err)
	}
	fewer, failed := a, a
	fewer.outcome.passed = 2
	failed.outcome.failed = 1
	for _, c := range []struct {
		name, page, readme string
		now                checks
		want               string
	}{
		{"fewer ran", whole, "", checks{fewer}, "claims 3 checks, 2 ran"},
		{"one failed", whole, "", checks{failed}, "1 checks failed"},
		{"not on the page", page(""), "", checks{a}, "not on the page"},
		{"no source any more", whole, "", nil, "no longer a source"},
		{"pointer", whole, "(evidence: A, B)", checks{a}, "row B"},
		{"no section", "", "", checks{a}, "no section"},
	} {
		err := verify(c.page, c.readme, c.now)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v does not say %q", c.name, err, c.want)
		}
	}
}

// Oracle: the sums by hand.
func TestCrosscheckTable(t *testing.T) {
	log := filepath.Join(t.TempDir(), "log")
	text := `workbook: 22 sheets, 100 cells, 10 formulas, 0 differences
workbook: 21 sheets, 50 cells, 5 formulas, 1 differences
pieces: 7 pieces, 5 sheets + 1 allowance, 90 screws, 0 differences
  plan.dxf: 80 entities, 0 errors, 0 repairs, $INSUNITS 1
-- a recall 1.0000 precision 1.0000 openings 1.0000/1.0000 length-error
-- b recall 1.0000 precision 0.9695 openings 1.0000/0.8571 length-error
-- m.ifc: 3 walls, 6 sides boarded, 9 sheets
-- n.ifcxml: nothing to start from: it is XML
`
	put := func(s string) {
		if err := os.WriteFile(log, []byte(s), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	put(text)
	if _, err := crosscheckTable(log); err == nil {
		t.Error("a log without its end passes")
	}
	put(text + "cross-checks done\n")
	got, err := crosscheckTable(log)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"2 workbooks, 150 cells, 15 formulas, 1 differences", "1 takeoffs, 7 pieces, 5 sheets, 90 screws", "1 files, 80 entities", "1 with recall", "b: recall 1.0000, precision 0.9695", "1 models, 3 walls, 6 sides", "1 have nothing", "not run"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}
