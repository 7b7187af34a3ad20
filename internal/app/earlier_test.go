package app

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"boardrun/internal/report"
)

// A takeoff.json written by an earlier boardrun lies beside its job. It must
// stay readable: an estimator keeps it for months and starts the next revision
// from it. Never written anew by a test: a change that makes it invalid raises
// report.Schema, and then it is replaced by hand.
var earlierFile = flag.String("earlier", filepath.Join("..", "..", "testdata", "jobs", "earlier", "takeoff.json"), "takeoff.json of an earlier boardrun")

func contract(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(report.SchemaJSON()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("takeoff.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("takeoff.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func earlierValue(t *testing.T) any {
	t.Helper()
	b, err := os.ReadFile(*earlierFile)
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Oracle: github.com/santhosh-tekuri/jsonschema/v6 judges a file of an earlier
// program by the schema of this one.
func TestEarlier_isStillValid(t *testing.T) {
	if err := contract(t).Validate(earlierValue(t)); err != nil {
		t.Errorf("a takeoff.json of an earlier boardrun is no longer valid: raise report.Schema, or keep the key\n%v", err)
	}
}

// A key that the schema no longer knew would be told: every key of the earlier
// file, renamed, makes it invalid; every key that must be there, removed, too.
func TestEarlier_renamedKeyIsTold(t *testing.T) {
	s, v := contract(t), earlierValue(t)
	seen, removed := map[string]bool{}, 0
	walkKeys("", v, func(path string, m map[string]any, key string) {
		if seen[path] {
			return
		}
		seen[path] = true
		was := m[key]
		delete(m, key)
		if s.Validate(v) != nil {
			removed++
		}
		m[key+"_renamed"] = was
		if s.Validate(v) == nil {
			t.Errorf("%s may be renamed without a word", path)
		}
		delete(m, key+"_renamed")
		m[key] = was
	})
	if err := s.Validate(v); err != nil {
		t.Fatalf("the test spoilt its own file: %v", err)
	}
	// The small job holds most of the contract.
	if len(seen) < 150 || removed < 120 {
		t.Errorf("%d keys renamed, %d of them missed when removed: the earlier file holds too little", len(seen), removed)
	}
	t.Logf("%d keys renamed and told; %d told when removed", len(seen), removed)
}

// walkKeys calls f for every key of every object, with its path without indices.
func walkKeys(path string, v any, f func(path string, m map[string]any, key string)) {
	switch v := v.(type) {
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(v)) {
			walkKeys(path+"."+k, v[k], f)
			f(path+"."+k, v, k)
		}
	case []any:
		for _, e := range v {
			walkKeys(path, e, f)
		}
	}
}

// The contract by its lines: every key ever published in this version of the
// schema, with its type and whether it must be there. A line may be added, with
// -update; one that goes, changes its type or becomes required breaks a reader
// or an earlier file, and fails here whether the small job uses it or not.
func TestEarlier_contractOnlyGrows(t *testing.T) {
	path := filepath.Join("testdata", fmt.Sprintf("contract-%d.txt", report.Schema))
	now := contractLines(t)
	b, err := os.ReadFile(path)
	if err != nil && !*update {
		t.Fatal(err)
	}
	for _, line := range strings.Split(strings.TrimSpace(string(b)), "\n") {
		if line != "" && !slices.Contains(now, line) {
			t.Errorf("published and gone: %s; keep it, or raise report.Schema", line)
		}
	}
	for _, line := range now {
		if strings.Contains("\n"+string(b), "\n"+line+"\n") {
			continue
		}
		object, _, _ := strings.Cut(line, ".")
		if strings.Contains("\n"+string(b), "\n"+object+".") && strings.HasSuffix(line, ", required") {
			t.Errorf("new and required: %s; an earlier file lacks it: let it be absent, or raise report.Schema", line)
		} else if !*update {
			t.Errorf("not in %s: %s; add it with -update", path, line)
		}
	}
	if *update && !t.Failed() {
		if err := os.WriteFile(path, []byte(strings.Join(now, "\n")+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

func contractLines(t *testing.T) []string {
	t.Helper()
	type object struct {
		Properties map[string]map[string]any
		Required   []string
	}
	var doc struct {
		object
		Defs map[string]object `json:"$defs"`
	}
	if err := json.Unmarshal(report.SchemaJSON(), &doc); err != nil {
		t.Fatal(err)
	}
	doc.Defs["(file)"] = doc.object
	var out []string
	for name, o := range doc.Defs {
		for key, s := range o.Properties {
			need := "may be absent"
			if slices.Contains(o.Required, key) {
				need = "required"
			}
			out = append(out, fmt.Sprintf("%s.%s: %s, %s", name, key, typeWord(s), need))
		}
	}
	slices.Sort(out)
	return out
}

// typeWord says what a value is. Words of a closed set are left out: a set may
// grow, and an earlier file with a word that went is the other test's.
func typeWord(s map[string]any) string {
	if r, ok := s["$ref"].(string); ok {
		return strings.TrimPrefix(r, "#/$defs/")
	}
	if _, ok := s["enum"]; ok {
		return "one of a set"
	}
	if c, ok := s["const"]; ok {
		return fmt.Sprint("always ", c)
	}
	if items, ok := s["items"].(map[string]any); ok {
		return "list of " + typeWord(items)
	}
	return fmt.Sprint(s["type"])
}

// A takeoff starts from the earlier file and keeps its marks.
func TestEarlier_takeoffFrom(t *testing.T) {
	old, err := earlier(*earlierFile)
	if err != nil {
		t.Fatal(err)
	}
	p := &pipeline{effort: "quick", out: io.Discard, from: *earlierFile}
	now, err := p.run(context.Background(), filepath.Join("..", "..", "testdata", "jobs", "earlier", "job.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	ids := func(t *report.Takeoff) (out []string) {
		for i := range t.Runs {
			out = append(out, t.Runs[i].ID)
		}
		return out
	}
	if len(old.Runs) == 0 || !slices.Equal(ids(old), ids(now)) {
		t.Errorf("runs %v from an earlier file with %v", ids(now), ids(old))
	}
	// A file of another schema is refused, not read wrongly.
	b, err := os.ReadFile(*earlierFile)
	if err != nil {
		t.Fatal(err)
	}
	other := filepath.Join(t.TempDir(), "takeoff.json")
	b = bytes.Replace(b, []byte(fmt.Sprintf(`"schema": %d`, report.Schema)), []byte(`"schema": 99`), 1)
	if err := os.WriteFile(other, b, 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := earlier(other); err == nil || !strings.Contains(err.Error(), "schema 99") {
		t.Errorf("a file of schema 99 is read: %v", err)
	}
}
