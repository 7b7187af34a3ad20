package job_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardrun/internal/geom"
	. "boardrun/internal/job"
	"boardrun/internal/measure"
)

const (
	inch = measure.Inch
	foot = measure.Foot
	mm   = measure.Millimetre
)

const jobs = "../../testdata/jobs/"

func read(t *testing.T, name string) *Job {
	t.Helper()
	j, err := Read(jobs + name)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// Oracle: testdata/jobs/clinic.yaml, read by eye.
func TestRead_clinic(t *testing.T) {
	j := read(t, "clinic.yaml")
	b := j.Type("P2")
	for name, ok := range map[string]bool{
		"name":               j.Name == "clinic" && j.Title == "Veterinary clinic, fit-out" && j.Stamp == "BID" && j.System == measure.InchPound,
		"drawing path":       j.Drawings[0].Path == filepath.Join(jobs, "clinic.dxf"),
		"layers in order":    j.Drawings[0].Layers[0].Pattern == "A-WALL" && j.Drawings[0].Layers[2].Type == "S1",
		"left over both":     b.Sides[0].Height == HeightRule{AboveCeiling, 6 * inch} && b.Sides[1].Height == HeightRule{Kind: ToDeck},
		"two plies":          len(b.Sides[0].Plies) == 2 && len(b.Sides[1].Plies) == 2,
		"thickness":          b.Thickness(j.Board) == 49*measure.EighthInch,
		"listing":            j.Type("R").Listing == "WP 1200" && j.Type("R").Rating == "1 h",
		"bare word is a tag": j.Type("F").Match[0].Tag == "F",
		"not boarded":        len(j.Type("F").Sides[1].Plies) == 0 && j.Type("F").Sides[1].Reason == "furring on masonry",
		"horizontal":         j.Type("P3").Layout == Horizontal,
		"left out":           j.Type("S1").Leave != "",
		"ceilings":           j.Ceilings.Default == 9*foot && j.Ceilings.ByRoom["TREATMENT 1"] == 10*foot,
		"deck":               len(j.Decks) == 1 && j.Decks[0].Points[2] == Point3{0, 50 * foot, 162*inch + inch/2},
		"flutes":             j.Decks[0].FluteDepth == 12*measure.EighthInch && j.Decks[0].FluteAlong == "x",
		"welded":             j.Frames[0].Kind == Welded && j.Frames[0].AddWidth == 34*measure.EighthInch && j.Frames[0].AddHeight == 18*measure.EighthInch,
		"usual frames last":  j.Frames[2].Assumed && j.Frames[2].For == "framed",
		"zone":               j.Zones[0].Top == 4*foot && j.Zones[0].Ply == 0,
		"stock":              j.Board("5/8 type X").Sheets[1].Width == 54*inch && len(j.Board("1/2 regular").Sheets[0].Lengths) == 4,
		"changed":            len(j.Changed) == 2 && j.Rules.DeckGap == 6*measure.EighthInch,
		"sheet price":        j.Prices.PerSheet[SheetKey("5/8 type X", 48*inch, 120*inch, 0)] == 177500,
		"joint per metre":    j.Prices.Joint[0] == 36089, // 1.10 / 0.3048 = 3.60892
		"alternatives":       len(j.Alternatives) == 2 && len(j.Alternatives[0].Job.Board("5/8 type X").Sheets) == 1,
		"alternative type":   j.Alternatives[1].Job.Type("P1").Layout == Horizontal && j.Type("P1").Layout == Vertical,
		"notes":              len(j.Notes) == 1,
	} {
		if !ok {
			t.Error(name)
		}
	}
	if p, ok := j.Prices.Sheet("1/2 regular", 48*inch, 96*inch, 0); !ok || p != 115200 { // 32 sf × 0.36
		t.Errorf("price by area: %d, %v", p, ok)
	}
	if len(j.Doubts) != 0 {
		t.Errorf("doubts %v", j.Doubts)
	}
}

// Oracle: testdata/jobs/library.yaml, which leaves nearly everything out.
func TestRead_assumptions(t *testing.T) {
	j := read(t, "library.yaml")
	got := map[string]Assumption{}
	for _, a := range j.Assumed {
		got[a.Path] = a
	}
	for _, tt := range []struct {
		path, value string
		height      bool
	}{
		{"drawings.library.dxf.drawn", "finish", false},
		{"types.P125.stud", "100mm", false},
		{"types.P125.mil", "18", false},
		{"types.P125.spacing", "600mm", false},
		{"types.P125.left.height", "to deck", true},
		{"stock.12.5 type A", "1200x2400, 1200x2700, 1200x3000, 1200x3600", false},
		{"frames.door", "knock-down", false},
		{"decks.1.level", "4000mm", true}, // in the file, listed under assumed:
		{"decks.2.level", "3000 mm", true},
		{"ceilings.default", "2700 mm", true},
	} {
		a, ok := got[tt.path]
		if !ok || a.Value != tt.value || a.Height != tt.height || a.Reason == "" {
			t.Errorf("%s: %+v", tt.path, a)
		}
	}
	if e := j.Walls["2-W001"]; *e.Height[0] != (HeightRule{FixedHeight, 2700 * mm}) || e.Start != "left" || e.Height[1].Kind != ToDeck {
		t.Errorf("wall edit %+v", e)
	}
	if !j.Decks[0].Assumed || j.Decks[1].Level != 3000*mm || j.Decks[1].Storey != "2" {
		t.Errorf("decks %+v", j.Decks)
	}
}

// base is a job that reads; tests change one thing in it.
const base = `job: t
units: inch-pound
drawings:
  - file: plan.dxf
    storey: "1"
types:
  - name: A
    stud: 3-5/8in
    spacing: 16in
    both: {boards: 5/8 type X, height: to deck}
decks: 12ft
ceilings: 9ft
`

func anywhere(file string) (string, error) {
	if file != "plan.dxf" && file != "model.ifc" {
		return file, os.ErrNotExist
	}
	return file, nil
}

func TestParse_faults(t *testing.T) {
	tests := []struct {
		name     string
		old, new string // replaced in base; old "" = appended
		want     string // first line of the error
	}{
		{"unknown key", "ceilings: 9ft", "celing: 9ft", `j.yaml:12:1: unknown key "celing": did you mean "ceilings"?`},
		{"unknown key inside", "    stud:", "    studd:", `j.yaml:8:5: unknown key "studd": did you mean "stud"?`},
		{"key of nothing near", "", "colour: red\n", `j.yaml:13:1: unknown key "colour" in a job file; it takes job,`},
		{"bad length, at the character", "ceilings: 9ft", "ceilings: 9'-6x", `j.yaml:12:15: length "9'-6x": "x" does not belong`},
		{"bad length in quotes", "ceilings: 9ft", `ceilings: "9 yards"`, `j.yaml:12:14: length "9 yards": "yards" is no unit`},
		{"no unit", "spacing: 16in", "spacing: 16", `j.yaml:9:16: length "16": a number without a unit; say the unit: 48in`},
		{"negative thickness", "stud: 3-5/8in", "stud: -3in", `j.yaml:8:11: stud depth "-3in" must be above 0`},
		{"negative length", "decks: 12ft", "zones: [{room: x, from: -1in, board: 5/8 type X}]\ndecks: 12ft", `j.yaml:11:25: "-1in" is negative`},
		{"missing drawing", "plan.dxf", "plam.dxf", `j.yaml:4:11: no drawing "plam.dxf" beside the job file`},
		{"no drawing", "drawings:\n  - file: plan.dxf\n    storey: \"1\"\n", "", `j.yaml:1:1: no drawing; write drawings:`},
		{"two drawings alike", "types:", "  - {file: plan.dxf, storey: \"1\"}\ntypes:", `j.yaml:6:6: plan.dxf stands here a second time`},
		{"deck under the door", "decks: 12ft", "frames: [{name: D, for: door, height: 84in}]\ndecks: 84in", `j.yaml:12:8: the deck, 84 in high, is under the head of frame D at 85-1/4 in`},
		{"board too thin for the studs (IRC 2021 R702.3.5)", "spacing: 16in\n    both: {boards: 5/8 type X", "spacing: 24in\n    both: {boards: 3/8 regular", `j.yaml:9:14: studs 24 in apart are too far for 3/8 regular: at most 16 in (IRC 2021`},
		{"board in no table", "boards: 5/8 type X", "boards: 1/4 regular", `j.yaml:9:14: 1/4 regular is too thin`},
		{"misspelt board", "boards: 5/8 type X", "boards: 5/8 tipe X", `j.yaml:10:20: unknown board "5/8 tipe X": did you mean "5/8 type X"?`},
		{"misspelt type", "", "walls: {1-W001: {type: a}}\n", `j.yaml:13:24: unknown type "a": did you mean "A"?`},
		{"misspelt word", "height: to deck", "height: to dek", `j.yaml:10:40: "to dek" is no height`},
		{"half a height", "height: to deck", "height: ceiling + some", `j.yaml:10:40: "ceiling + some": write to ceiling`},
		{"misspelt choice", "", "framing: as framd\n", `j.yaml:13:10: "as framd": did you mean "as framed"?`},
		{"yes or no", "    storey: \"1\"", "    storey: \"1\"\n    show-hidden: maybe", `j.yaml:6:18: "maybe" is none of`},
		{"type twice", "decks:", "  - {name: A, stud: 6in, spacing: 16in}\ndecks:", `j.yaml:11:6: type "A" stands here a second time`},
		{"key twice", "", "decks: 11ft\n", `j.yaml:13:1: "decks" stands here a second time; first in line 11`},
		{"rule unknown", "", "rules: {flor-gap: 1/2in}\n", `j.yaml:13:9: unknown rule "flor-gap": did you mean "floor-gap"?`},
		{"rule below its limit (GA-216-2024 4.6.11)", "", "rules: {floor-gap: 3/16in}\n", `j.yaml:13:20: floor-gap: 3/16in is below the least of 1/4in`},
		{"rules against one another", "", "rules: {floor-gap: 3/4in}\n", `j.yaml:13:20: floor-gap: 3/4 in is above 5/8 in`},
		{"points in one line", "decks: 12ft", "decks: [{points: [[0, 0, 9ft], [1ft, 1ft, 9ft], [2ft, 2ft, 9ft]]}]", `j.yaml:11:18: the points lie in one line`},
		{"deck without a height", "decks: 12ft", "decks: [{storey: \"1\"}]", `j.yaml:11:10: a deck lacks its height`},
		{"deck of no storey", "decks: 12ft", "decks: [{storey: \"3\", level: 12ft}]", `j.yaml:11:18: unknown storey "3"; there is 1`},
		{"price of nothing in stock", "", "prices: {boards: {5/8 tipe X: {4x8: 14.20}}}\n", `j.yaml:13:19: unknown board "5/8 tipe X": did you mean`},
		{"no sheet", "", "prices: {boards: {5/8 type X: {4by8: 14.20}}}\n", `j.yaml:13:32: "4by8" is no sheet`},
		{"no amount", "", "prices: {cut: $1}\n", `j.yaml:13:15: "$1" is not an amount`},
		{"assumed names nothing", "", "assumed: {types.B.mil: x}\n", `j.yaml:13:11: "types.B.mil" names nothing in this file`},
		{"alternative faulty", "", "alternatives: [{name: x, changes: {types: [{name: A, spacing: 30in}]}}]\n", `j.yaml:13:63: studs 30 in apart`},
		{"alternative of another drawing", "", "alternatives: [{name: x, changes: {drawings: []}}]\n", `j.yaml:13:36: unknown key "drawings" in the changes of an alternative`},
		{"sheet upside down", "", "stock: {5/8 type X: {sheets: {48in: [40in]}}}\n", `j.yaml:13:38: a sheet 40in long is shorter`},
		{"board nobody knows", "", "stock: {house board: {kind: x}}\n", `j.yaml:13:9: board "house board" is not in the catalogue; give its thickness`},
		{"lost to a comment", "    storey: \"1\"", "    storey: #1", `j.yaml:5:5: storey has no value: delete the key, or put a value that begins with # in quotes`},
		{"mil", "    stud:", "    mil: 18.5\n    stud:", `j.yaml:8:10: "18.5" is not a whole number from 1 to 200`},
		{"finish", "height: to deck", "height: to deck, finish: 6", `j.yaml:10:57: "6" is not a whole number from 0 to 5`},
		{"scale", "    storey: \"1\"", "    storey: \"1\"\n    scale: 1/4", `j.yaml:6:12: "1/4" is not a number above 0`},
		{"mass", "", "stock: {house board: {thickness: 5/8in, mass: heavy}}\n", `j.yaml:13:47: "heavy" is no mass per area`},
		{"five plies", "boards: 5/8 type X", "boards: [5/8 type X, 5/8 type X, 5/8 type X, 5/8 type X, 5/8 type X]", `j.yaml:10:20: 5 plies on one side; at most 4`},
		{"zone of nothing", "", "zones: [{board: 5/8 type X}]\n", `j.yaml:13:10: a zone names a room or a type`},
		{"zone upside down", "", "zones: [{room: x, from: 4ft, to: 3ft, board: 5/8 type X}]\n", `j.yaml:13:34: the zone ends at 3ft`},
		{"zone's ply", "", "zones: [{room: x, ply: top, board: 5/8 type X}]\n", `j.yaml:13:24: "top" is not a whole number from 1 to 4`},
		{"point", "decks: 12ft", "decks: [{points: [[0, 0], [1ft, 0, 9ft], [0, 1ft, 9ft]]}]", `j.yaml:11:19: a point is [x, y, height]`},
		{"deck under the floor", "decks: 12ft", "decks: [{points: [[0, 0, 0], [1ft, 0, 9ft], [0, 1ft, 9ft]]}]", `j.yaml:11:19: the deck's height must be above 0`},
		{"level and points", "decks: 12ft", "decks: [{level: 9ft, points: [[0, 0, 9ft], [1ft, 0, 9ft], [0, 1ft, 9ft]]}]", `j.yaml:11:30: a deck has a level or points, not both`},
		{"tab", "decks: 12ft", "decks:\n\tlevel: 12ft", `j.yaml:12:1: a tab; indent with spaces`},
		{"unclosed", "", "notes: [a\n", `j.yaml:13:8:`},
		{"alias", "", "notes: *x\n", `j.yaml:13:8: "*" begins something a job file has no use for`},
		{"anchor", "", "notes: &x y\n", `j.yaml:13:8: "&" begins`},
		{"merge", "", "<<: {title: x}\n", `j.yaml:13:1: "<<" begins`},
		{"two documents", "", "---\njob: u\n", `j.yaml:14:4: a second document begins here`},
		{"folder name", "job: t", "job: a/b", `j.yaml:1:6: "a/b" cannot name a folder`},
		{"a device's name", "job: t", "job: con", `j.yaml:1:6: "con" cannot name a folder`},
		{"a device's name with an ending", "job: t", "job: Lpt1.a", `j.yaml:1:6: "Lpt1.a" cannot name a folder`},
		{"list for text", "job: t", "job: [t]", `j.yaml:1:6: one value belongs here, not a list`},
		{"text for keys", "decks: 12ft", "decks: 12ft\nprices: cheap", `j.yaml:12:9: prices is a single value; write its keys`},
		{"region without area", "    storey: \"1\"", "    storey: \"1\"\n    region: [[0, 0], [0, 9ft]]", `j.yaml:6:13: the region has no area`},
		{"not UTF-8", "job: t", "job: \xff", `j.yaml: not UTF-8`},
		{"nested", "", "notes: " + strings.Repeat("[", 60) + strings.Repeat("]", 60) + "\n", `j.yaml:13:1: nested more than 40 deep`},
		{"huge", "", strings.Repeat("# long\n", 200000), `j.yaml: 1400199 bytes; a job file is at most 1048576`},
	}
	for _, tt := range tests {
		src := base
		if tt.old != "" {
			src = strings.Replace(base, tt.old, tt.new, 1)
		} else {
			src += tt.new
		}
		_, err := Parse("j.yaml", []byte(src), anywhere)
		if tt.want == "" {
			if err != nil {
				t.Errorf("%s: %v", tt.name, err)
			}
			continue
		}
		var es Errors
		if !errors.As(err, &es) {
			t.Errorf("%s: error %v, want %s", tt.name, err, tt.want)
			continue
		}
		if got := es[0].Error(); !strings.HasPrefix(got, tt.want) {
			t.Errorf("%s:\n got %s\nwant %s", tt.name, got, tt.want)
		}
	}
}

// Several faults are told at once, by position.
func TestParse_severalFaults(t *testing.T) {
	src := strings.NewReplacer("16in", "16", "9ft", "9 feet high", "plan.dxf", "gone.dxf").Replace(base)
	_, err := Parse("j.yaml", []byte(src), anywhere)
	var es Errors
	if !errors.As(err, &es) || len(es) != 3 || es[0].Line != 4 || es[1].Line != 9 || es[2].Line != 12 {
		t.Errorf("%v", err)
	}
	many := base + "walls: {"
	for i := range 50 {
		many += "w" + strings.Repeat("x", i) + ": {tipe: A}, "
	}
	_, err = Parse("j.yaml", []byte(many+"}\n"), anywhere)
	if !errors.As(err, &es) || len(es) != 21 || !strings.Contains(es[20].Error(), "and 30 more") {
		t.Errorf("%d faults told: %v", len(es), err)
	}
}

func TestParse_doubts(t *testing.T) {
	for name, tt := range map[string]struct{ old, new, want string }{
		"no listing":         {"    stud:", "    rating: 1 h\n    listing: none\n    stud:", "no listed design named"},
		"rating alone":       {"    stud:", "    rating: 2 h\n    stud:", `a rating of "2 h" wants the listed design`},
		"unlisted":           {"    stud:", "    listing: XX 9\n    stud:", `unlisted fire design "XX 9"`},
		"departure":          {"    stud: 3-5/8in", "    listing: WP 1200\n    stud: 2-1/2in", "WP 1200: studs at least 3-5/8 in deep"},
		"deck under ceiling": {"decks: 12ft", "decks: 8ft", "the deck, 96 in high, is under the ceiling at 108 in"},
		"O-19 54 in on 16":   {"decks:", "stock: {5/8 type X: {sheets: {54in: [12ft]}}}\ndecks:", "no sheet of 5/8 type X ends on a stud at 16 in, hung vertical"},
		"O-18 10 ft lying":   {"decks:", "    layout: horizontal\nstock: {5/8 type X: {sheets: {48in: [10ft]}}}\ndecks:", "ends on a stud at 16 in, hung horizontal"},
		"metric sheet":       {"decks:", "stock: {5/8 type X: {sheets: {1200mm: [3m]}}}\ndecks:", "the two systems' sheets"},
		"O-57 1250 on 600":   {"units: inch-pound", "units: metric\nstock: {5/8 type X: {thickness: 15.9mm, sheets: {1250mm: [3m]}}}\n#", "no sheet of 5/8 type X ends on a stud at 406 mm"},
		"no price":           {"decks:", "prices: {boards: {5/8 type X: {4x8: 14}}}\ndecks:", "no price for 5/8 type X 4x9"},
	} {
		j, err := Parse("j.yaml", []byte(strings.Replace(base, tt.old, tt.new, 1)), anywhere)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		found := false
		for _, d := range j.Doubts {
			person, known := DoubtCodes[d.Code]
			found = found || strings.Contains(d.Text, tt.want) && d.Line > 0 && known && d.Person == person
		}
		if !found {
			t.Errorf("%s: doubts %+v", name, j.Doubts)
		}
	}
}

// The least job file there is: every wall of one type, everything assumed.
func TestParse_least(t *testing.T) {
	j, err := Parse("least.yaml", []byte("drawings: plan.dxf\n"), anywhere)
	if err == nil {
		t.Fatalf("a drawing without file: was accepted: %+v", j.Drawings)
	}
	j, err = Parse("least.yaml", []byte("drawings: [{file: plan.dxf}]\n"), anywhere)
	if err != nil {
		t.Fatal(err)
	}
	if j.Name != "least" || len(j.Types) != 1 || j.Types[0].Sides[0].Plies[0] != "5/8 type X" || j.Decks[0].Level != 120*inch || j.Stamp != "BUDGET" {
		t.Errorf("%+v", j)
	}
	heights := 0
	for _, a := range j.Assumed {
		if a.Height {
			heights++
		}
	}
	if heights != 2 { // how high sides go, the deck
		t.Errorf("%d assumed heights: %+v", heights, j.Assumed)
	}
}

// A model tells its own decks and door heights.
func TestParse_model(t *testing.T) {
	j, err := Parse("m.yaml", []byte("drawings: [{file: model.ifc}]\ntypes: [{name: A, both: {boards: 5/8 type X, height: to deck}}]\n"), anywhere)
	if err != nil {
		t.Fatal(err)
	}
	if len(j.Decks) != 0 || j.Frames[0].Height != 0 || j.Drawings[0].Storey != "" {
		t.Errorf("%+v", j)
	}
}

// Metric and inch-pound are told apart by the lengths where units: is left out.
func TestParse_units(t *testing.T) {
	for src, want := range map[string]measure.System{
		"drawings: [{file: plan.dxf}]\nceilings: 2.7m\n":   measure.Metric,
		"drawings: [{file: plan.dxf}]\nceilings: 9'-0\"\n": measure.InchPound,
	} {
		if j, err := Parse("u.yaml", []byte(src), anywhere); err != nil || j.System != want {
			t.Errorf("%q: %v", src, err)
		}
	}
}

// Oracle: door opening tables (O-39: 3070 leaf, 36 × 84 in): welded 40-1/4 ×
// 86-1/4, knock-down 38 × 85-1/4; slip-on opening + 1-1/4 × 5/8.
func TestAllowance(t *testing.T) {
	const e = measure.EighthInch
	for name, tt := range map[string]struct {
		kind  FrameKind
		basis string
		w, h  measure.Length
	}{
		"O-39 welded":     {Welded, "leaf", 322 * e, 690 * e},
		"knock-down":      {KnockDown, "leaf", 304 * e, 682 * e},
		"slip-on":         {SlipOn, "leaf", 298 * e, 677 * e},
		"rough as it is":  {Welded, "rough", 288 * e, 672 * e},
		"no frame":        {NoFrame, "leaf", 288 * e, 672 * e},
		"outside + 1/4in": {Welded, "frame", 290 * e, 674 * e},
	} {
		w, h := Allowance(tt.kind, tt.basis, measure.InchPound)
		if 36*inch+w != tt.w || 84*inch+h != tt.h {
			t.Errorf("%s: %v × %v", name, (36*inch + w).Inches(), (84*inch + h).Inches())
		}
	}
}

// A board nobody's catalogue has, a region drawn clockwise, a heavier stud.
func TestParse_own(t *testing.T) {
	src := strings.NewReplacer("5/8 type X", "house board", "    storey: \"1\"", "    storey: \"1\"\n    scale: 48\n    region: [[0, 0], [0, 9ft], [9ft, 9ft], [9ft, 0]]").Replace(base) +
		"stock: {house board: {thickness: 5/8in, kind: type X, mass: 2.5 psf, edges: square, special-order: yes, sheets: {48in: [10ft, 8ft]}}}\n"
	j, err := Parse("j.yaml", []byte(src), anywhere)
	if err != nil {
		t.Fatal(err)
	}
	b := j.Board("house board")
	if b.MassM2 < 12.206 || b.MassM2 > 12.207 || !b.Square || !b.Special || b.Sheets[0].Lengths[0] != 96*inch { // 2.5 × 4.88243
		t.Errorf("%+v", b)
	}
	d := j.Drawings[0]
	if d.Scale != 48 || len(d.Region) != 4 || d.Region[0] != (geom.Pt{X: 9 * foot}) {
		t.Errorf("%+v", d)
	}
}

func TestRead_missing(t *testing.T) {
	if _, err := Read(filepath.Join(t.TempDir(), "none.yaml")); err == nil {
		t.Error("read a file that is not there")
	}
}

func FuzzParse(f *testing.F) {
	for _, name := range []string{"clinic.yaml", "library.yaml"} {
		src, err := os.ReadFile(jobs + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(src))
	}
	for _, s := range []string{base, "", "a", "- - - a", "{", "job: &x *x", "types: [{name: [}]", "? a\n: b", "assumed: {a.b: c}", "alternatives: [{name: a, changes: {walls: {}}}]", "a: |\n  x\n y", "\t", "%YAML 1.2\n---\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		j, err := Parse("f.yaml", []byte(s), nil)
		var es Errors
		switch {
		case err != nil && (!errors.As(err, &es) || len(es) == 0 || es.Error() == ""):
			t.Fatalf("%T", err)
		case err == nil && (j.Rules == nil || len(j.Drawings) == 0 || len(j.Types) == 0):
			t.Fatalf("incomplete job without error: %+v", j)
		}
	})
}
