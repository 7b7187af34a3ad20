package ifc

import (
	"path/filepath"
	"strings"
	"testing"

	"boardrun/internal/plan"
)

// badFiles says what each file of the corpus that is broken on purpose must
// give: an error, or walls and the one exception that tells the fault.
var badFiles = map[string]struct {
	err   string
	walls int
	told  string // the only exception
}{
	"cyclic-placement.ifc":            {told: `cyclic-placement.ifc:34: person [wall-unreadable] IFCWALL #30: wall "W1": #31: placements are relative to each other in a circle: #31 → #11 → #31; the wall is left out`},
	"dangling-references.ifc":         {told: `dangling-references.ifc:34: person [wall-unreadable] IFCWALL #30, at (0.000, 0.000) m: wall "W1": #928 is referred to but not in the file; the wall is left out`},
	"duplicate-ids.ifc":               {walls: 1, told: `duplicate-ids.ifc:31: warning [duplicate-id] #27: the instance name is used again on line 37; the first one counts, on line 31`},
	"no-units.ifc":                    {err: "no-units.ifc: the model does not say its length unit (IfcUnitAssignment); export it with units"},
	"self-referencing-boolean.ifc":    {told: `self-referencing-boolean.ifc:34: person [wall-unreadable] IFCWALL #30, at (0.000, 0.000) m: wall "W1": #61: is nested more than 64 deep or contains itself; the wall is left out`},
	"truncated-mid-line.ifc":          {err: "truncated-mid-line.ifc:30: #26: the file is incomplete: it ends within this statement; copy or export it again"},
	"unknown-schema.ifc":              {err: `unknown-schema.ifc:1: schema "IFC9X1" is not one of IFC2X3, IFC4, IFC4X3; export the model as IFC4 or IFC2X3`},
	"unterminated-comment.ifc":        {err: "unterminated-comment.ifc:24: comment opened here is never closed; export the model again"},
	"zero-and-negative-extrusion.ifc": {told: `zero-and-negative-extrusion.ifc:34: person [wall-unreadable] IFCWALL #30, at (0.000, 0.000) m: wall "W1": #26: the profile has no area; the wall is left out`},
	"zip-bomb.ifczip":                 {err: "zip-bomb.ifczip: model.ifc in the archive grows more than 100-fold: no model packs like that; unpack and check it"},
	"zip-renamed.ifc":                 {err: "zip-renamed.ifc: is a ZIP archive without an .ifc file in it; pack the model itself"},
}

// Oracle: bad/README.md of the corpus, the column "good outcome".
func TestBadFiles(t *testing.T) {
	files, err := filepath.Glob(shared(t, "data/bad") + "/*.ifc*")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			want, ok := badFiles[filepath.Base(f)]
			if !ok {
				t.Fatal("nobody says what this file must give")
			}
			p, _, err := readFile(f)
			if err != nil || want.err != "" {
				if err == nil || err.Error() != want.err {
					t.Errorf("error %v\nwant  %s", err, want.err)
				}
				return
			}
			if len(p.Walls) != want.walls {
				t.Errorf("%d walls, want %d", len(p.Walls), want.walls)
			}
			if len(p.Exceptions) == 0 || p.Exceptions[0].String() != want.told {
				t.Errorf("exceptions %v\nwant %s", p.Exceptions, want.told)
			}
			for _, e := range p.Exceptions[min(1, len(p.Exceptions)):] {
				if e.Code != p.Exceptions[0].Code {
					t.Errorf("one more line: %s", e)
				}
			}
		})
	}
}

// Oracle: the attribute lists of the standard; each text is a model one line
// short of sound.
func TestRefused(t *testing.T) {
	model := func(schema string) string {
		return "ISO-10303-21;\nHEADER;\nFILE_SCHEMA((" + schema + "));\nENDSEC;\nDATA;\n#1=IFCPROJECT('g',$,'P',$,$,$,$,$,#2);\n#2=IFCUNITASSIGNMENT((#3));\n" +
			"#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\nENDSEC;\nEND-ISO-10303-21;\n"
	}
	for _, c := range []struct{ name, text, want string }{
		{"IFC2X2", model("'IFC2X2_FINAL'"), `m.ifc:1: schema "IFC2X2_FINAL" is not one of IFC2X3, IFC4, IFC4X3; export the model as IFC4 or IFC2X3`},
		{"no schema", model(""), "m.ifc:1: the header names no schema (FILE_SCHEMA); export the model as IFC4 or IFC2X3"},
		{"another standard", model("'AP214'"), `m.ifc:1: schema "AP214" is not one of IFC2X3, IFC4, IFC4X3; export the model as IFC4 or IFC2X3`},
		{"IFC2X3", model("'IFC2X3'"), ""},
		{"IFC2X3 TC1", model("'IFC2X3_TC1'"), ""},
		{"IFC4", model("'ifc4'"), ""},
		{"IFC4X3", model("'IFC4X3_ADD2'"), ""},
		{"length unit without a factor", strings.Replace(model("'IFC4'"), "#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)", "#3=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'FOOT',#9)", 1), "m.ifc:8: #3: the length unit cannot be read"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := Read("m.ifc", strings.NewReader(c.text), int64(len(c.text)), Options{})
			if c.want != "" {
				if err == nil || err.Error() != c.want {
					t.Errorf("error %v\nwant  %s", err, c.want)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if len(p.Exceptions) != 1 || p.Exceptions[0].Code != "no-walls" || p.Exceptions[0].Severity != plan.Person {
				t.Errorf("exceptions %v", p.Exceptions)
			}
		})
	}
}
