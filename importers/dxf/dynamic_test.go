package dxf

import (
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"boardrun/importers/linework"
)

// Anonymous blocks of dynamic ones go by the name of the block they stand for.
// Oracle: block names in the file, AcDbBlockRepBTag.
func TestBlocks_dynamic(t *testing.T) {
	for file, want := range map[string]string{
		"dynamic-block-flip.dxf":              "BLOCK_FLIP_PARAMETER BLOCK_FLIP_PARAMETER",
		"dynamic-block-visibility-states.dxf": "",
		"all-entities-r2004-binary.dxf":       "my-dynamic-block",
	} {
		d, _, err := readShared(t, Options{}, "data", "dxf", file)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, in := range d.Inserts {
			got = append(got, in.Name)
			if strings.HasPrefix(in.Name, "*U") && file != "all-entities-r2004-binary.dxf" {
				t.Errorf("%s: %s (block %s)", file, in.Name, in.Block)
			}
		}
		if !strings.Contains(strings.Join(got, " "), want) {
			t.Errorf("%s: %v", file, got)
		}
	}
}

// Where the block records do not tell, the data of each INSERT does.
// Oracle: the same file with both.
func TestBlocks_dynamicByInsert(t *testing.T) {
	for _, file := range []string{"dynamic-block-flip.dxf", "dynamic-block-visibility-states.dxf"} {
		data, err := os.ReadFile(shared(t, "data", "dxf", file))
		if err != nil {
			t.Fatal(err)
		}
		names := func(text string) (out []string) {
			d, _ := read(t, text, Options{})
			for i := range d.Inserts {
				out = append(out, d.Inserts[i].Name)
			}
			return out
		}
		text := string(data)
		want := names(text)
		text = strings.ReplaceAll(strings.ReplaceAll(text, "AcDbBlockRepBTag", "OTHER"), "AcDbDynamicBlockTrueName", "OTHER")
		if diff := cmp.Diff(want, names(text)); diff != "" || len(want) == 0 {
			t.Errorf("%s: %s", file, diff)
		}
		if got := names(strings.ReplaceAll(text, "ACDB_BLOCKREPRESENTATION_DATA", "OTHER")); len(got) == 0 || !strings.HasPrefix(got[0], "*U") {
			t.Errorf("%s: with neither %v", file, got)
		}
	}
}

// Of a block with visibility states only the state of each insert shows.
// Oracle: group 60 of the entities in the file, as ezdxf 0.18.1 reads them.
func TestBlocks_visibilityStates(t *testing.T) {
	d, _, err := readShared(t, Options{UnitMM: 1}, "data", "dxf", "dynamic-block-visibility-states.dxf")
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string]string{}
	note := func(c linework.Common) {
		if !c.Hidden && !strings.HasSuffix(shown[c.Block], c.Handle) {
			shown[c.Block] += " " + c.Handle
		}
	}
	for i := range d.Arcs {
		note(d.Arcs[i].Common)
	}
	for i := range d.Segments {
		note(d.Segments[i].Common)
	}
	want := map[string]string{"*U16": " 252/346 252/347 252/348 252/34A", "*U18": " 268/35F 268/360", "*U19": " 284/367 284/368 284/36B", "*U17": " 28C/351 28C/352 28C/355"}
	if diff := cmp.Diff(want, shown); diff != "" {
		t.Error(diff)
	}
}
