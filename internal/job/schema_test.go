package job_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	. "boardrun/internal/job"
)

func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("job.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("job.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON reads YAML as an editor would.
func asJSON(t *testing.T, src string) any {
	t.Helper()
	b, err := yaml.YAMLToJSON([]byte(src))
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatalf("%v\n%s", err, b)
	}
	return v
}

// Oracle: santhosh-tekuri/jsonschema v6.0.3. What Read accepts the schema
// accepts.
func TestSchema_samples(t *testing.T) {
	s := compiled(t)
	samples := map[string]string{"base": base, "start": string(Start(clinic())), "least": "drawings: [{file: plan.dxf}]\n"}
	for _, name := range []string{"clinic.yaml", "library.yaml"} {
		b, err := os.ReadFile(jobs + name)
		if err != nil {
			t.Fatal(err)
		}
		samples[name] = string(b)
	}
	for name, src := range samples {
		if err := s.Validate(asJSON(t, src)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestSchema_refuses(t *testing.T) {
	s := compiled(t)
	for name, r := range map[string][2]string{
		"unknown key":      {"ceilings: 9ft", "celing: 9ft"},
		"key inside":       {"    stud:", "    studd:"},
		"no unit":          {"spacing: 16in", "spacing: 16"},
		"negative":         {"stud: 3-5/8in", "stud: -3in"},
		"height":           {"height: to deck", "height: to dek"},
		"no drawing":       {"drawings:\n  - file: plan.dxf\n    storey: \"1\"\n", ""},
		"deck sans height": {"decks: 12ft", "decks: [{storey: \"1\"}]"},
		"framing":          {"decks: 12ft", "decks: 12ft\nframing: as framd"},
		"sheet":            {"decks: 12ft", "decks: 12ft\nprices: {boards: {x: {4by8: 1}}}"},
		"alternative":      {"decks: 12ft", "decks: 12ft\nalternatives: [{name: x, changes: {drawings: []}}]"},
	} {
		if err := s.Validate(asJSON(t, strings.Replace(base, r[0], r[1], 1))); err == nil {
			t.Errorf("%s accepted", name)
		}
	}
}

// The keys of every group are the same in schema and reader: a key that no one
// knows makes the reader list those it takes.
func TestSchema_keys(t *testing.T) {
	var doc struct {
		Properties map[string]any `json:"properties"`
		Defs       map[string]struct {
			Properties map[string]any `json:"properties"`
			OneOf      []struct {
				Properties map[string]any `json:"properties"`
			} `json:"oneOf"`
		} `json:"$defs"`
	}
	if err := json.Unmarshal(Schema(), &doc); err != nil {
		t.Fatal(err)
	}
	takes := regexp.MustCompile(`"qqqqqqqq" in .*; it takes (.*)`)
	for def, src := range map[string]string{
		"":            "qqqqqqqq: 1",
		"drawing":     "drawings: [{qqqqqqqq: 1}]",
		"layer":       "drawings: [{layers: {A: {qqqqqqqq: 1}}}]",
		"block":       "drawings: [{blocks: {A: {qqqqqqqq: 1}}}]",
		"type":        "types: [{qqqqqqqq: 1}]",
		"match":       "types: [{match: [{qqqqqqqq: 1}]}]",
		"side":        "types: [{left: {qqqqqqqq: 1}}]",
		"wall":        "walls: {A: {qqqqqqqq: 1}}",
		"ceilings":    "ceilings: {qqqqqqqq: 1}",
		"deck":        "decks: [{qqqqqqqq: 1}]",
		"frame":       "frames: [{qqqqqqqq: 1}]",
		"zone":        "zones: [{qqqqqqqq: 1}]",
		"board":       "stock: {A: {qqqqqqqq: 1}}",
		"prices":      "prices: {qqqqqqqq: 1}",
		"joints":      "prices: {joints-per-m: {qqqqqqqq: 1}}",
		"addOn":       "prices: {add: [{qqqqqqqq: 1}]}",
		"order":       "order: {qqqqqqqq: 1}",
		"alternative": "",
	} {
		want := doc.Properties
		if def != "" {
			want = doc.Defs[def].Properties
			for _, o := range doc.Defs[def].OneOf {
				if want == nil {
					want = o.Properties
				}
			}
		}
		if want == nil {
			t.Errorf("%s: no properties in the schema", def)
			continue
		}
		if src == "" {
			src = base + "alternatives: [{qqqqqqqq: 1}]"
		}
		_, err := Parse("j.yaml", []byte(src+"\n"), nil)
		var es Errors
		if !errors.As(err, &es) {
			t.Errorf("%s: %v", def, err)
			continue
		}
		var got []string
		for _, e := range es {
			if m := takes.FindStringSubmatch(e.Msg); m != nil {
				got = strings.Split(m[1], ", ")
			}
		}
		for k := range want {
			if !slices.Contains(got, k) {
				t.Errorf("%s: %q is in the schema, the reader takes %v", def, k, got)
			}
		}
		if len(got) != len(want) {
			t.Errorf("%s: reader takes %v, schema has %d keys", def, got, len(want))
		}
	}
}
