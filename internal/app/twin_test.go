package app

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"boardrun/internal/report"
)

// twin is a takeoff without what a plan and a model of one building may tell
// differently.
func twin(t *report.Takeoff) map[string]any {
	// A model names its storeys; a plan's is the job's word.
	const storey = "the storey"
	for i := range t.Runs {
		r := &t.Runs[i]
		// Each is made of its own entities, which the fingerprint counts in.
		r.Storey, r.Source, r.Fingerprint = storey, nil, ""
	}
	for i := range t.Faces {
		f := &t.Faces[i]
		// The deck is the job's in one, the model's in the other.
		if f.HeightBy == "deck of the model" {
			f.HeightBy = "deck"
		}
		// Reception and corridor are one open space: the plan has two names in
		// it, the model two spaces that no wall parts. Either may name it.
		if f.Room == "RECEPTION" {
			f.Room = "CORRIDOR"
		}
	}
	for i := range t.Openings {
		o := &t.Openings[i]
		// A plan's doors are leaves, a model's are rough openings; the plan says
		// nothing of the wrapped opening's head.
		o.Source, o.NominalMM, o.Basis, o.HeadBy = nil, [2]report.MM{}, "", ""
	}
	for i := range t.Pieces {
		t.Pieces[i].Fingerprint, t.Pieces[i].Sheet = "", ""
	}
	// Sheets are numbered, and set down, by the names of the rooms.
	for i := range t.Sheets {
		t.Sheets[i].ID, t.Sheets[i].Group = "", ""
	}
	slices.SortFunc(t.Sheets, func(a, b report.Sheet) int { return strings.Compare(a.Placements[0].Piece, b.Placements[0].Piece) })
	for _, list := range [][]report.Item{t.Framing, t.Finishing, t.Order} {
		for i := range list {
			list[i].Storey = storey
		}
	}
	return map[string]any{
		"runs": t.Runs, "junctions": t.Junctions, "faces": t.Faces, "openings": t.Openings, "pieces": t.Pieces, "joints": t.Joints,
		"sheets": t.Sheets, "screws": t.Screws, "framing": t.Framing, "finishing": t.Finishing, "order": t.Order, "cost": t.Cost, "bound": t.Bound,
	}
}

// Oracle: the two readers of the same building, each the other's. All that is
// taken off is equal to the last digit, but for what twin lists.
func TestTakeoff_planAndModelOfOneBuilding(t *testing.T) {
	plan, model := twin(sample(t, "vet-clinic")), twin(sample(t, "vet-clinic-ifc"))
	for key := range plan {
		p, m := entries(t, plan[key]), entries(t, model[key])
		if len(p) != len(m) {
			t.Errorf("%s: %d from the plan, %d from the model", key, len(p), len(m))
			continue
		}
		for i := range p {
			if !reflect.DeepEqual(p[i], m[i]) {
				t.Errorf("%s %d differs\nplan  %v\nmodel %v", key, i, p[i], m[i])
				break
			}
		}
	}
}

// entries is a list, or one thing, as the JSON has it.
func entries(t *testing.T, v any) []any {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	var out any
	if err := json.Unmarshal(b, &out); err != nil {
		t.Fatal(err)
	}
	if list, ok := out.([]any); ok {
		return list
	}
	return []any{out}
}
