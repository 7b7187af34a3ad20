package job_test

import (
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	. "boardrun/internal/job"
	"boardrun/internal/measure"
)

var update = flag.Bool("update", false, "rewrite golden files")

// clinic is an invented survey.
func clinic() StartInput {
	const e = measure.EighthInch
	return StartInput{
		System: measure.InchPound,
		Drawings: []StartDrawing{{
			File: "plans/clinic.dxf", Header: "inch", Unit: "inch", Evidence: []string{"8 doors are 36 in wide", "walls are 4-7/8 in thick"},
			Layers: []StartLayer{
				{Name: "A-WALL", Role: "wall", Entities: 67, Length: 470 * foot, Why: "92 % of its line pairs up as walls"},
				{Name: "A-WALL-EXST", Role: "wall", Status: "existing", Entities: 12, Length: 80 * foot},
				{Name: "*odd: {layer}#", Role: "ignore", Entities: 1},
				{Name: "G-ANNO-TTLB", Entities: 17, Length: 100 * foot},
				{Name: "101", Role: "room"},
			},
			Blocks: []StartBlock{{Name: "DOOR-36", Role: "door", Count: 8}, {Name: "CHAIR", Count: 7}},
		}},
		Walls: []StartWall{
			{Thickness: 39 * e, Layers: []string{"A-WALL"}, Length: 320 * foot, Count: 20},
			{Thickness: 49 * e, Tag: "P2", Layers: []string{"A-WALL"}, Length: 100 * foot, Rating: "1 h"},
			{Thickness: 34 * e, Length: 12 * foot},
			{Thickness: 64 * e, Tag: "S1", Kind: "shaft", Length: 20 * foot},
			{Thickness: 12 * inch, TypeName: "Lined", Length: foot, Materials: []StartMaterial{{"Brick", 64 * e}, {"Metal furring", 13 * e}, {"Gypsum wall board", 5 * e}}},
			{Thickness: 15 * inch, Length: foot},
			{Thickness: 39 * e, TypeName: "Partition: 1 hour", Materials: []StartMaterial{{"Gypsum board", 5 * e}, {"Steel stud", 29 * e}, {"Gypsum board", 5 * e}}},
		},
		Openings: []StartOpening{{Kind: "door", Type: "DOOR-36", Width: 36 * inch, Count: 8}, {Kind: "window", Width: 60 * inch, Height: 48 * inch, Count: 3}},
		Rooms:    []StartRoom{{Name: "EXAM 1"}, {Name: "SURGERY", Ceiling: 120 * inch}},
	}
}

func TestStart_golden(t *testing.T) {
	got := Start(clinic())
	const golden = "testdata/start-clinic.yaml"
	if *update {
		if err := os.WriteFile(golden, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	// Our own earlier output: a regression, not an oracle.
	if d := cmp.Diff(string(want), string(got)); d != "" {
		t.Error(d)
	}
}

// What Start writes is read back unchanged, and means what the survey said.
func TestStart_reads(t *testing.T) {
	j, err := Parse("job.yaml", Start(clinic()), nil)
	if err != nil {
		t.Fatalf("%v\n%s", err, Start(clinic()))
	}
	const e = measure.EighthInch
	a := j.Types[0]
	for name, ok := range map[string]bool{
		"name":               j.Name == "clinic" && j.Drawings[0].Storey == "1",
		"4-7/8: 3-5/8 stud":  a.StudDepth == 29*e && a.Thickness(j.Board) == 39*e && a.Match[0].Thickness == 39*e,
		"tag":                j.Types[1].Name == "P2" && j.Types[1].Match[0].Tag == "P2" && len(j.Types[1].Sides[0].Plies) == 2,
		"one side":           len(j.Types[2].Sides[1].Plies) == 0,
		"shaft left":         j.Types[3].Leave != "",
		"lined masonry":      len(j.Types[4].Sides[0].Plies) == 0 && j.Types[4].StudDepth == 13*e && j.Types[4].Sides[1].Plies[0] == "5/8 type X",
		"too thick":          j.Types[5].Leave == "" && len(j.Types[5].Sides[0].Plies) == 2,
		"model make-up":      j.Types[6].Match[0].TypeName == "Partition: 1 hour" && j.Types[6].StudDepth == 29*e,
		"layers":             len(j.Drawings[0].Layers) == 4 && j.Drawings[0].Layers[1].Status == "existing" && j.Drawings[0].Layers[2].Pattern == "*odd: {layer}#",
		"blocks":             len(j.Drawings[0].Blocks) == 1,
		"ceiling":            j.Ceilings.ByRoom["SURGERY"] == 120*inch,
		"window's own size":  j.Frames[1].For == "window" && j.Frames[1].Height == 0,
		"door height":        j.Frames[0].Height == 84*inch,
		"nothing in doubt":   len(j.Doubts) == 0,
		"no rating invented": j.Types[1].Rating == "" && j.Types[1].Listing == "",
	} {
		if !ok {
			t.Error(name)
		}
	}
	heights := map[string]bool{}
	for _, a := range j.Assumed {
		if a.Line == 0 && !strings.HasPrefix(a.Path, "frames.") {
			t.Errorf("%s is a default of the reader: Start left it out", a.Path)
		}
		if a.Height {
			heights[a.Path] = true
		}
	}
	for _, p := range []string{"decks.1.level", "ceilings.default", "frames.D.height", "types.4-7/8 in.both.height"} {
		if !heights[p] {
			t.Errorf("%s is not an assumed height: %v", p, heights)
		}
	}
}

// A drawing of nothing but masonry still gives a job that boards something.
func TestStart_masonryAlone(t *testing.T) {
	in := StartInput{Drawings: []StartDrawing{{File: "house.ifc"}}, Walls: []StartWall{{Thickness: 300 * mm, TypeName: "Brick", Kind: "masonry"}, {Thickness: 100 * mm, TypeName: "Glass", Kind: "glazed"}}}
	j, err := Parse("job.yaml", Start(in), nil)
	if err != nil {
		t.Fatal(err)
	}
	if j.Types[0].Leave != "" || j.Types[1].Leave == "" {
		t.Errorf("%+v", j.Types)
	}
	in.Walls = append(in.Walls, StartWall{Thickness: 100 * mm, TypeName: "Partition"})
	if j, err = Parse("job.yaml", Start(in), nil); err != nil || j.Types[0].Leave == "" || j.Types[2].Leave != "" {
		t.Errorf("%v %+v", err, j.Types)
	}
}

// Deleting a line under assumed: is all it takes to confirm a value.
// Low walls as thick as partitions keep them from being left out: the layer
// tells them apart. Oracle: the input below.
func TestStart_lowAsThickAsHigh(t *testing.T) {
	in := clinic()
	in.Walls = []StartWall{
		{Thickness: 39 * measure.EighthInch, Kind: "low", Layers: []string{"A-WALL-LOW", "wall, low"}, Length: 40 * foot},
		{Thickness: 39 * measure.EighthInch, Layers: []string{"A-WALL"}, Length: 30 * foot},
	}
	j, err := Parse("job.yaml", Start(in), nil)
	if err != nil {
		t.Fatalf("%v\n%s", err, Start(in))
	}
	if len(j.Types) != 2 {
		t.Fatalf("%d types", len(j.Types))
	}
	low, high := j.Types[0], j.Types[1]
	if low.Leave == "" || len(low.Match) != 2 || low.Match[0].Layer != "A-WALL-LOW" || low.Match[1].Layer != "wall, low" || low.Match[1].Thickness != 39*measure.EighthInch {
		t.Errorf("low: %+v", low)
	}
	if high.Leave != "" || len(high.Match) != 1 || high.Match[0].Layer != "" {
		t.Errorf("high: %+v", high)
	}
}

func TestStart_confirm(t *testing.T) {
	src := string(Start(clinic()))
	line := "  decks.1.level: not on the drawing\n"
	if !strings.Contains(src, line) {
		t.Fatal(src)
	}
	j, err := Parse("job.yaml", []byte(strings.Replace(src, line, "", 1)), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range j.Assumed {
		if a.Path == "decks.1.level" {
			t.Error("still assumed")
		}
	}
}

// Whatever a survey finds, Read accepts the file, and it is the same file
// every time.
func TestStart_anyInput(t *testing.T) {
	word := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"", "A-WALL", "*", "a: b", "# x", "- y", "null", "yes", "{", "'", "12.5", "0x1F", "&a", "!t", "ä/ö", "<<", "a\nb", " a", "A.B", "...", "---"}))
	size := rapid.Custom(func(t *rapid.T) measure.Length {
		return measure.Length(rapid.Int64Range(-100, 80_000_000).Draw(t, "l"))
	})
	rapid.Check(t, func(t *rapid.T) {
		in := StartInput{Name: word.Draw(t, "name"), System: measure.System(rapid.IntRange(0, 1).Draw(t, "sys"))}
		for range rapid.IntRange(1, 3).Draw(t, "drawings") {
			d := StartDrawing{File: rapid.SampledFrom([]string{"a.dxf", "b.ifc", "c d.dxf", "x.12.dxf"}).Draw(t, "file"), Storey: word.Draw(t, "storey"),
				Header: word.Draw(t, "header"), Unit: rapid.SampledFrom([]string{"", "mm", "inch", "parsec"}).Draw(t, "unit"), Evidence: []string{word.Draw(t, "evidence")},
				Elevation: size.Draw(t, "elevation"), Drawn: Drawn(rapid.IntRange(0, 2).Draw(t, "drawn"))}
			if strings.TrimSpace(d.Storey) == "" || strings.ContainsFunc(d.Storey, func(r rune) bool { return r < ' ' || r > '~' }) {
				d.Storey = ""
			}
			for range rapid.IntRange(0, 3).Draw(t, "layers") {
				d.Layers = append(d.Layers, StartLayer{Name: word.Draw(t, "layer"), Role: rapid.SampledFrom([]string{"", "wall", "door", "odd"}).Draw(t, "role"),
					Status: rapid.SampledFrom([]string{"", "existing", "x"}).Draw(t, "status"), Why: word.Draw(t, "why")})
				d.Blocks = append(d.Blocks, StartBlock{Name: word.Draw(t, "block"), Role: "door"})
			}
			in.Drawings = append(in.Drawings, d)
		}
		for range rapid.IntRange(0, 4).Draw(t, "walls") {
			w := StartWall{Thickness: size.Draw(t, "thickness"), Tag: word.Draw(t, "tag"), TypeName: word.Draw(t, "type"), Rating: word.Draw(t, "rating"),
				Layers: []string{word.Draw(t, "on")}, Kind: rapid.SampledFrom([]string{"", "shaft", "glazed"}).Draw(t, "kind")}
			for range rapid.IntRange(0, 4).Draw(t, "materials") {
				w.Materials = append(w.Materials, StartMaterial{rapid.SampledFrom([]string{"Gypsum", "Stud", "Air"}).Draw(t, "material"), size.Draw(t, "layer")})
			}
			in.Walls = append(in.Walls, w)
		}
		for range rapid.IntRange(0, 3).Draw(t, "openings") {
			in.Openings = append(in.Openings, StartOpening{Kind: rapid.SampledFrom([]string{"door", "window", "framed", "wrapped", "x"}).Draw(t, "kind"), Type: word.Draw(t, "type"),
				Width: size.Draw(t, "width"), Height: size.Draw(t, "height"), Count: 1})
			in.Rooms = append(in.Rooms, StartRoom{Name: word.Draw(t, "room"), Ceiling: size.Draw(t, "ceiling")})
			in.Storeys = append(in.Storeys, StartStorey{Name: word.Draw(t, "storey"), Height: size.Draw(t, "height")})
		}
		src := Start(in)
		if string(Start(in)) != string(src) {
			t.Fatal("two writings differ")
		}
		if _, err := Parse("job.yaml", src, nil); err != nil {
			t.Fatalf("%v\n%s", err, src)
		}
	})
}
