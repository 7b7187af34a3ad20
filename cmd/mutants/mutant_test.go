package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const small = `package small

func top(xs []int) int {
	best := 0
	for _, x := range xs {
		if x > best && x != 7 {
			best = x
			continue
		}
		println(x + 0x10)
	}
	return best
}
`

// smallModule is a module of one package in a folder of its own; checks is the
// body of its test.
func smallModule(t *testing.T, checks string) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"go.mod":        "module small\n\ngo 1.21\n",
		"small.go":      small,
		"small_test.go": "package small\n\nimport \"testing\"\n\nfunc TestTop(t *testing.T) {\n" + checks + "\n}\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
}

// TestFind: oracle: the changes written out by hand.
func TestFind(t *testing.T) {
	smallModule(t, "")
	list, err := find(".")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range list {
		got = append(got, m.String())
		src, err := m.source()
		if err != nil {
			t.Fatal(err)
		}
		if want := small[:m.from] + m.text + small[m.to:]; string(src) != want || want == small {
			t.Errorf("%v: source\n%s", m, src)
		}
	}
	want := []string{
		"small.go:4: 0 → 1",
		"small.go:6: x > best && x != 7 → !(x > best && x != 7)", "small.go:6: && → ||", "small.go:6: > → >=", "small.go:6: != → ==", "small.go:6: 7 → 8",
		"small.go:8: continue → break",
		"small.go:10: println(x + 0x10) → (nothing)", "small.go:10: + → -", "small.go:10: 0x10 → 17",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("found\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if err := os.WriteFile("small.go", []byte("package small\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := list[0].source(); err == nil {
		t.Error("a file that changed meanwhile is mutated all the same")
	}
	if _, err := find("."); err == nil {
		t.Error("a package without anything to change is no error")
	}
}

// TestTry: a change that a test sees is noticed, one it does not is missed, one
// that does not compile is broken; tests that fail anyway are refused.
func TestTry(t *testing.T) {
	if testing.Short() {
		t.Skip("compiles four programs")
	}
	smallModule(t, "\tif top([]int{3, 5, 4}) != 5 {\n\t\tt.Error(\"not the top\")\n\t}")
	list, err := find(".")
	if err != nil {
		t.Fatal(err)
	}
	of := map[string]mutant{}
	for _, m := range list {
		of[m.was] = m
	}
	bad := of["7"]
	bad.text = "seven"
	tried := tester{ctx: t.Context(), dir: t.TempDir(), limit: time.Minute}
	for _, c := range []struct {
		m    mutant
		want end
	}{{of["&&"], noticed}, {of["7"], missed}, {bad, broken}} {
		got, err := tried.try(c.m, ".")
		if err != nil || got != c.want {
			t.Errorf("%v: %v, %v, want %v", c.m, got, err, c.want)
		}
	}
	if b, err := os.ReadFile("small.go"); err != nil || string(b) != small {
		t.Errorf("the source itself was touched: %v", err)
	}
	smallModule(t, "\tt.Error(\"as ever\")")
	if err := run(t.Context(), 1, 1, time.Minute, false, "", []string{"."}); err == nil || !strings.Contains(err.Error(), "as ever") {
		t.Errorf("tests that fail as they stand notice everything: %v", err)
	}
}
