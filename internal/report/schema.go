package report

import (
	"encoding/json"
	"reflect"
	"strings"
)

// SchemaJSON returns the JSON Schema (draft 2020-12) of takeoff.json, made from
// the contract's types so that it can't disagree with what is written. Closed
// sets of words are listed in words.
func SchemaJSON() []byte {
	return schemaOf(reflect.TypeOf(Takeoff{}), "boardrun takeoff.json, version 1",
		"Numbers in mm, m², kg. A face's own frame: u from its left end as seen by a person facing it, v up from the storey's floor. Outlines are closed, counter-clockwise, first point not repeated.")
}

// CompareSchemaJSON returns the JSON Schema of compare.json.
func CompareSchemaJSON() []byte {
	return schemaOf(reflect.TypeOf(Comparison{}), "boardrun compare.json, version 1", "Alternatives of one job side by side. Numbers in mm, m², kg; money in the job's currency.")
}

func schemaOf(t reflect.Type, title, description string) []byte {
	g := schemaGen{defs: map[string]any{}}
	root := g.object(t)
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["title"], root["description"] = title, description
	root["$defs"] = g.defs
	b, err := json.MarshalIndent(root, "", "  ")
	if err != nil { // plain maps of strings cannot fail to marshal
		return nil
	}
	return append(b, '\n')
}

// words are the closed sets of the contract, by type and JSON name.
var words = map[string][]string{
	"JobInfo.stamp":      {"BUDGET", "BID", "BUILD"},
	"Run.status":         {"new", "existing", "demolish"},
	"Run.layout_status":  {"optimal", "feasible", "infeasible", "none"},
	"Run.flange":         {"start", "end", ""},
	"Stud.kind":          {"field", "jamb", "corner", "tee", "cripple", "added"},
	"Junction.kind":      {"free", "L", "T", "X", "structure", "inline"},
	"Face.side":          {"left", "right", "end", "reveal"},
	"Face.top":           {"slip", "fixed"},
	"Face.hang_from":     {"left", "right", ""},
	"Face.layout":        {"vertical", "horizontal"},
	"Opening.kind":       {"door", "window", "framed", "wrapped", "penetration", "niche"},
	"Opening.installed":  {"before", "after"},
	"Opening.basis":      {"leaf", "frame", "rough", "drawn"},
	"Piece.role":         {"sheet", "top", "header", "leg", "rip", "course"},
	"Piece.two_people":   {"", "floor", "lift"},
	"Edges.left":         {"tapered", "end", "cut"},
	"Edges.right":        {"tapered", "end", "cut"},
	"Edges.bottom":       {"tapered", "end", "cut"},
	"Edges.top":          {"tapered", "end", "cut"},
	"Joint.kind":         {"tapered", "tapered-cut", "butt", "cut", "control"},
	"Screw.place":        {"edge", "field", "opening", "track", "top"},
	"Override.kind":      {"edit", "site"},
	"Exception.severity": {"note", "warning", "person"},
	"Bound.status":       {"optimal", "feasible"},
	"JobInfo.system":     {"inch-pound", "metric"},
	"Revision.kind":      {"added", "removed", "changed", "rest"},
	"JointSum.kind":      JointKinds,
	"Comparison.system":  {"inch-pound", "metric"},
	"Comparison.stamp":   {"BUDGET", "BID", "BUILD"},
	"Placement.turned":   nil,
	"Takeoff.schema":     nil,
}

type schemaGen struct{ defs map[string]any }

func (g schemaGen) of(t reflect.Type) any {
	switch t.Kind() {
	case reflect.Pointer:
		return g.of(t.Elem())
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	case reflect.Array:
		return map[string]any{"type": "array", "items": g.of(t.Elem()), "minItems": t.Len(), "maxItems": t.Len()}
	case reflect.Slice:
		return map[string]any{"type": "array", "items": g.of(t.Elem())}
	case reflect.Struct:
		if g.defs[t.Name()] == nil {
			g.defs[t.Name()] = true // breaks cycles; replaced below
			g.defs[t.Name()] = g.object(t)
		}
		return map[string]any{"$ref": "#/$defs/" + t.Name()}
	}
	return true
}

func (g schemaGen) object(t reflect.Type) map[string]any {
	props, required := map[string]any{}, []string{}
	for i := range t.NumField() {
		f := t.Field(i)
		name, opts, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "-" {
			continue
		}
		s := g.of(f.Type)
		switch key := t.Name() + "." + name; {
		case key == "Placement.turned":
			s = map[string]any{"enum": []int{0, 90, 180, 270}}
		case key == "Takeoff.schema":
			s = map[string]any{"const": Schema}
		case key == "Comparison.schema":
			s = map[string]any{"const": CompareSchema}
		case words[key] != nil:
			s = map[string]any{"enum": words[key]}
		}
		props[name] = s
		if opts != "omitempty" {
			required = append(required, name)
		}
	}
	return map[string]any{"type": "object", "properties": props, "required": required, "additionalProperties": false}
}
