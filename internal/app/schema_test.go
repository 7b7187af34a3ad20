package app

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"boardrun/internal/report"
	"boardrun/internal/write"
)

// Oracle: github.com/santhosh-tekuri/jsonschema/v6 judges what is written by
// the schema that `boardrun schema` prints.
func TestSchema_samplesAreValid(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(report.SchemaJSON()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("takeoff.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("takeoff.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"vet-clinic", "library-wing"} {
		var b bytes.Buffer
		if err := write.JSON(&b, report.Normalise(sample(t, name))); err != nil {
			t.Fatal(err)
		}
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(b.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		// A check that cannot fail is none: without its runs the file is invalid.
		m := v.(map[string]any)
		delete(m, "runs")
		if schema.Validate(m) == nil {
			t.Error("a takeoff without runs is valid")
		}
	}
}

// What is written reads back to the same bytes.
func TestJSON_readsBackTheSame(t *testing.T) {
	var a, b bytes.Buffer
	if err := write.JSON(&a, sample(t, "library-wing")); err != nil {
		t.Fatal(err)
	}
	var again report.Takeoff
	if err := json.Unmarshal(a.Bytes(), &again); err != nil {
		t.Fatal(err)
	}
	if err := write.JSON(&b, &again); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("takeoff.json changes when read and written again")
	}
}
