package dxf

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"boardrun/importers/linework"
)

// Oracle: worked out by hand, beside each case.
func TestBlocks(t *testing.T) {
	unit := block("B", "0 LINE|8 0|10 1|20 0|11 2|21 0|0 LINE|8 C|10 0|20 0|11 0|21 1")
	arc := block("B", "0 ARC|8 0|10 0|20 0|40 1|50 0|51 90")
	for _, c := range []struct{ name, blocks, entities, want string }{
		{"moved; layer 0 takes the insert's layer", unit, "0 INSERT|8 A|2 B|10 10|20 20", "LINE A (11 20)-(12 20)\nLINE C (10 20)-(10 21)"},
		{"names differ in case only", unit, "0 INSERT|8 A|2 b|10 10|20 20", "LINE A (11 20)-(12 20)\nLINE C (10 20)-(10 21)"},
		{"turned", unit, "0 INSERT|8 A|2 B|10 10|20 20|50 90", "LINE A (10 21)-(10 22)\nLINE C (10 20)-(9 20)"},
		{"scaled unlike", unit, "0 INSERT|8 A|2 B|41 3|42 5", "LINE A (3 0)-(6 0)\nLINE C (0 0)-(0 5)"},
		{"mirrored", unit, "0 INSERT|8 A|2 B|41 -1|42 1", "LINE A (-1 0)-(-2 0)\nLINE C (0 0)-(0 1)"},
		{"mirrored by its normal", unit, "0 INSERT|8 A|2 B|10 10|20 20|210 0|220 0|230 -1", "LINE A (-11 20)-(-12 20)\nLINE C (-10 20)-(-10 21)"},
		{"base point", strings.Replace(unit, "10 0|20 0", "10 1|20 1", 1), "0 INSERT|8 A|2 B|10 10|20 20|41 2|42 2", "LINE A (10 18)-(12 18)\nLINE C (8 18)-(8 20)"},
		{"arc turned", arc, "0 INSERT|8 A|2 B|10 5|20 5|41 2|42 2|50 90", "ARC A arc (5 5) r 2 90..180"},
		{"arc mirrored", arc, "0 INSERT|8 A|2 B|41 -2|42 2", "ARC A arc (0 0) r 2 90..180"},
		{"arc mirrored and turned", arc, "0 INSERT|8 A|2 B|41 -2|42 2|50 90", "ARC A arc (0 0) r 2 180..270"},
		{"array of 2 columns, 2 rows", unit, "0 INSERT|8 A|2 B|70 2|71 2|44 10|45 100",
			"LINE A (1 0)-(2 0)\nLINE C (0 0)-(0 1)\nLINE A (11 0)-(12 0)\nLINE C (10 0)-(10 1)\nLINE A (1 100)-(2 100)\nLINE C (0 100)-(0 101)\nLINE A (11 100)-(12 100)\nLINE C (10 100)-(10 101)"},
		{"array turned: its spacing turns and is not scaled", unit, "0 INSERT|8 A|2 B|70 2|44 10|50 90|41 2|42 2",
			"LINE A (0 2)-(0 4)\nLINE C (0 0)-(-2 0)\nLINE A (0 12)-(0 14)\nLINE C (0 10)-(-2 10)"},
		{"nested: turned, then scaled", unit + block("N", "0 INSERT|8 0|2 B|10 1|20 0|50 90"), "0 INSERT|8 A|2 N|41 2|42 2", "LINE A (2 2)-(2 4)\nLINE C (2 0)-(0 0)"},
		{"nested: the inner insert's layer decides", unit + block("N", "0 INSERT|8 M|2 B"), "0 INSERT|8 A|2 N", "LINE M (1 0)-(2 0)\nLINE C (0 0)-(0 1)"},
		{"names of bound references stay", block("HOUSE$0$D", "0 LINE|8 HOUSE$0$A-WALL|11 1"), "0 INSERT|8 A|2 HOUSE$0$D", "LINE HOUSE$0$A-WALL (0 0)-(1 0)"},
		{"text in a block", block("B", "0 TEXT|8 0|10 1|20 0|40 2|1 x|50 30"), "0 INSERT|8 A|2 B|41 3|42 3|50 60", `TEXT A "x" (1.5 2.598076) h 6 turned 90`},
		{"attributes stand where they say", unit, "0 INSERT|8 A|2 B|66 1|10 10|20 20|0 ATTRIB|8 T|10 1|20 2|40 3|1 W%%c1|2 MARK|70 0|0 SEQEND",
			"LINE A (11 20)-(12 20)\nLINE C (10 20)-(10 21)\nATTRIB T \"WØ1\" (1 2) h 3"},
		{"attributes that do not show", unit, "0 INSERT|8 A|2 B|66 1|0 ATTRIB|8 T|40 3|1 x|2 MARK|70 1|0 SEQEND",
			"LINE A (1 0)-(2 0)\nLINE C (0 0)-(0 1)\nATTRIB T \"x\" (0 0) h 3 hidden"},
		{"definitions of attributes are no text", block("B", "0 ATTDEF|8 0|40 1|1 x|2 T|0 LINE|8 0|11 1"), "0 INSERT|8 A|2 B", "LINE A (0 0)-(1 0)"},
		{"constant attributes show in every insert", block("B", "0 ATTDEF|8 0|10 1|40 1|1 36|2 WIDTH|70 2"), "0 INSERT|8 A|2 B|10 5", `ATTDEF A "36" (6 0) h 1`},
		{"an attribute that cannot be used does not part the others", unit, "0 INSERT|8 A|2 B|66 1|0 ATTRIB|8 T|10 x|1 a|2 T1|0 ATTRIB|8 T|40 1|1 b|2 T2|0 SEQEND",
			"LINE A (1 0)-(2 0)\nLINE C (0 0)-(0 1)\nATTRIB T \"b\" (0 0) h 1\nATTRIB T other (0 0) 0 points: a value of it cannot be used"},
		{"a dimension's picture gives its text, not its lines", block("*D7", "0 LINE|8 0|11 9|0 MTEXT|8 0|40 2.5|1 12'-3\\S1/2;\""),
			"0 DIMENSION|8 A|2 *D7|11 1|21 2|70 32|42 147.5", `DIMENSION A "12'-3 1/2\"" (1 2) h 2.5 measures 147.5`},
		{"text typed round the measured one", block("*D7", "0 MTEXT|8 0|40 2.5|1 300"), "0 DIMENSION|8 A|2 *D7|1 <> CLR|70 32|42 300|11 1|21 1",
			`DIMENSION A "300 CLR" (1 1) h 2.5 measures 300`},
		{"text typed over it", block("*D7", "0 MTEXT|8 0|40 2.5|1 300"), "0 DIMENSION|8 A|2 *D7|1 VARIES|70 32|42 300|11 1|21 1", `DIMENSION A "VARIES" (1 1) h 2.5 measures 300`},
		{"an inserted picture of a dimension", block("*D7", "0 LINE|8 0|11 9"), "0 INSERT|8 A|2 *D7|10 1|20 2", "INSERT A other (1 2) 0 points: a leader or note"},
		{"table", block("*T1", "0 MTEXT|8 0|10 1|20 1|40 2|1 D101"), "0 ACAD_TABLE|8 A|100 AcDbBlockReference|2 *T1|10 5|20 5|30 0|100 AcDbTable|2 x|10 9|41 7", `MTEXT A "D101" (6 6) h 2`},
		{"block without its end", "0 BLOCK|2 B|10 0|20 0|0 LINE|8 0|11 1|" + block("C", "0 LINE|8 0|11 2"), "0 INSERT|8 A|2 B|0 INSERT|8 A|2 C", "LINE A (0 0)-(1 0)\nLINE A (0 0)-(2 0)"},
		{"modelspace as a block", block("*Model_Space", "0 LINE|8 A|11 1"), "", "LINE A (0 0)-(1 0)"},
		{"67 in a block is not paper space", block("B", "0 LINE|8 0|67 1|11 1"), "0 INSERT|8 A|2 B", "LINE A (0 0)-(1 0)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, _ := read(t, file("", "", c.blocks, c.entities), Options{UnitMM: 1})
			if got := show(d); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

// A circle in a block scaled unlike becomes an ellipse, as chords on it.
// Oracle: the equation of the ellipse.
func TestBlocks_ellipse(t *testing.T) {
	d, _ := read(t, file("", "", block("B", "0 CIRCLE|8 0|40 1"), "0 INSERT|8 A|2 B|41 3|42 2"), Options{UnitMM: 1})
	if len(d.Segments) != 180 || len(d.Arcs) != 0 {
		t.Fatalf("%d segments, %d arcs", len(d.Segments), len(d.Arcs))
	}
	for _, s := range d.Segments {
		if e := s.A[0]*s.A[0]/9 + s.A[1]*s.A[1]/4; math.Abs(e-1) > 1e-12 || s.Type != "CIRCLE" || s.Entity != 1 {
			t.Fatalf("%+v", s)
		}
	}
}

const layerTable = "0 TABLE|2 LAYER|70 4|0 LAYER|2 OFF|70 0|62 -3|6 DASHED|0 LAYER|2 FROZEN|70 1|62 4|6 Continuous|0 LAYER|2 A|70 0|62 5|6 CENTER|0 ENDTAB"

// What is hidden: off hides what stands on the layer, frozen hides a whole
// block, invisible a whole insert.
// Oracle: rules of the DXF Reference for groups 60, 62, 70 of LAYER, by hand.
func TestBlocks_hidden(t *testing.T) {
	b := block("B", "0 LINE|8 0|11 1|0 LINE|8 A|11 2|0 LINE|8 OFF|11 3|0 LINE|8 FROZEN|11 4|0 LINE|8 A|60 1|11 5")
	for _, c := range []struct{ name, entity, want string }{ // lengths of what shows
		{"shown", "0 INSERT|8 A|2 B", "1 2"},
		{"insert on a layer that is off", "0 INSERT|8 OFF|2 B", "2"},
		{"insert on a frozen layer", "0 INSERT|8 FROZEN|2 B", ""},
		{"invisible insert", "0 INSERT|8 A|60 1|2 B", ""},
		{"line on a layer that is off", "0 LINE|8 OFF|11 6", ""},
		{"line on a frozen layer", "0 LINE|8 frozen|11 6", ""},
	} {
		for _, include := range []bool{false, true} {
			d, _ := read(t, file("", layerTable, b, c.entity), Options{UnitMM: 1, IncludeHidden: include})
			var shown []string
			for _, s := range d.Segments {
				if !s.Hidden {
					shown = append(shown, num(s.B[0]))
				}
			}
			want := c.want
			if include {
				want = "1 2 3 4 5"
				if strings.HasPrefix(c.entity, "0 LINE") {
					want = "6"
				}
			}
			if got := strings.Join(shown, " "); got != want {
				t.Errorf("%s, hidden included %v: got %q, want %q", c.name, include, got, want)
			}
		}
	}
}

// Colour and linetype by layer and by block.
func TestBlocks_pen(t *testing.T) {
	b := block("B", "0 LINE|8 0|11 1|0 LINE|8 OFF|62 0|6 BYBLOCK|11 2|0 LINE|8 OFF|11 3|0 LINE|8 A|62 9|6 DOT|11 4")
	d, _ := read(t, file("", layerTable, b, "0 INSERT|8 A|62 1|6 HIDDEN|2 B|0 INSERT|8 A|2 B|0 LINE|8 nowhere|62 0|11 1"), Options{UnitMM: 1})
	var got []string
	for _, s := range d.Segments {
		got = append(got, fmt.Sprintf("%d %s", s.Colour, s.Linetype))
	}
	want := "5 CENTER, 1 HIDDEN, 3 DASHED, 9 DOT, 5 CENTER, 5 CENTER, 3 DASHED, 9 DOT, 7 Continuous"
	if strings.Join(got, ", ") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, ", "), want)
	}
	var names []string
	for _, l := range d.Layers {
		names = append(names, fmt.Sprintf("%s %d %v %v %d", l.Name, l.Colour, l.Off, l.Frozen, l.Entities))
	}
	// Entities on a layer, those of blocks and the inserts themselves included.
	if want := "0 7 false false 0, OFF 3 true false 4, FROZEN 4 false true 0, A 5 false false 6, nowhere 7 false false 1"; strings.Join(names, ", ") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(names, ", "), want)
	}
}

// Paths of handles, or of lines in a file without handles.
func TestBlocks_refs(t *testing.T) {
	b := block("B", "0 LINE|5 2a|8 0|11 1") + block("N", "0 INSERT|5 1C|8 0|2 B")
	d, _ := read(t, file("", "", b, "0 INSERT|5 1F|8 A|2 N|70 2|44 5|0 LINE|5 123456789AB|8 A|11 1|0 LINE|8 A|11 1"), Options{UnitMM: 1})
	var got []string
	for _, s := range d.Segments {
		got = append(got, s.Handle)
	}
	if want := "1F/1C/2A 1F[1]/1C/2A 123456789AB @75"; strings.Join(got, " ") != want {
		t.Errorf("got %v, want %s", got, want)
	}
	if s := d.Segments[0]; s.Insert != 0 || s.Block != "B" || s.Line != 17 {
		t.Errorf("%+v", s.Common)
	}
	in := d.Inserts
	if len(in) != 4 || in[1].Parent != 0 || in[1].Insert != 0 || in[0].Parent != -1 || in[0].Insert != -1 || in[2].Array != 1 || in[0].Entity != in[2].Entity || in[3].Parent != 2 || d.Segments[1].Insert != 2 {
		t.Errorf("%+v", in)
	}
	d, _ = read(t, file("", "", block("B", "0 LINE|8 0|11 1"), "0 INSERT|8 A|2 B"), Options{UnitMM: 1})
	if got := d.Segments[0].Handle; got != "@31/@17" {
		t.Errorf("got %s", got)
	}
}

// What is told of an insert.
// Oracle: by hand.
func TestBlocks_insert(t *testing.T) {
	door := block("DOOR", "0 LINE|8 0|10 0|20 0|11 0|21 1|0 ARC|8 0|10 0|20 0|40 1|50 0|51 90|0 LINE|8 0|60 1|11 50|0 TEXT|8 0|10 90|20 90|40 1|1 x|0 POINT|8 0|10 70|20 70")
	d, _ := read(t, file("", "", door, "0 INSERT|8 A|2 DOOR|66 1|10 100|20 200|41 36|42 36|50 90|"+
		"0 ATTRIB|8 T|1 D101|2 MARK|0 ATTRIB|8 T|1 |2 WIDTH|0 ATTRIB|8 T|1 36|2 WIDTH|0 SEQEND|"+
		"0 INSERT|8 A|2 DOOR|10 0|20 0|41 -30|42 30|0 INSERT|8 A|2 DOOR|10 0|20 0|50 45"), Options{UnitMM: 25.4})
	in := d.Inserts[0]
	if diff := cmp.Diff(map[string]string{"MARK": "D101", "WIDTH": "36"}, in.Attribs); diff != "" {
		t.Error(diff)
	}
	check := func(name string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s %g, want %g", name, got, want)
		}
	}
	check("x", in.At[0], 2540)
	check("angle", in.Angle, 90)
	check("scale", in.ScaleX, 36)
	for i, want := range [6]float64{0, 36, -36, 0, 2540, 5080} {
		check(fmt.Sprint("local ", i), in.Local[i], want)
	}
	// The leaf along +y turns to -x, the swing's other end to +y.
	check("left", in.Extents.Min[0], (100-36)*25.4)
	check("right", in.Extents.Max[0], 100*25.4)
	check("top", in.Extents.Max[1], (200+36)*25.4)
	check("box, lower right in block", in.Box[1][0], 100*25.4)
	check("box, lower right in block", in.Box[1][1], (200+36)*25.4)
	mirrored := d.Inserts[1]
	check("mirrored scale", mirrored.ScaleX, -30)
	check("mirrored left", mirrored.Extents.Min[0], -30*25.4)
	turned := d.Inserts[2] // turned by 45°, the swing reaches straight up
	check("turned left", turned.Extents.Min[0], -math.Sqrt(0.5)*25.4)
	check("turned right", turned.Extents.Max[0], math.Sqrt(0.5)*25.4)
	check("turned top", turned.Extents.Max[1], 25.4)
}

// Constant attributes are told beside those of the insert, which win.
func TestBlocks_constantAttributes(t *testing.T) {
	b := block("B", "0 ATTDEF|8 0|40 1|1 36|2 WIDTH|70 2|0 ATTDEF|8 0|40 1|1 x|2 MARK|70 0")
	d, _ := read(t, file("", "", b, "0 INSERT|8 A|2 B|66 1|0 ATTRIB|8 T|10 x|2 T1|1 a|0 ATTRIB|8 T|1 D1|2 MARK|0 SEQEND|0 INSERT|8 A|2 B"), Options{})
	if diff := cmp.Diff([]map[string]string{{"WIDTH": "36", "MARK": "D1"}, {"WIDTH": "36"}}, []map[string]string{d.Inserts[0].Attribs, d.Inserts[1].Attribs}); diff != "" {
		t.Error(diff)
	}
}

// The choice of layers leaves the rest alone.
func TestOptions_layers(t *testing.T) {
	text := file("", "", block("B", "0 LINE|8 0|11 1|0 LINE|8 C|11 2"), "0 INSERT|8 A|2 B|0 LINE|8 A|11 3|0 LINE|8 C|11 4")
	d, _ := read(t, text, Options{UnitMM: 1, Layers: func(l string) bool { return l == "C" }})
	if got, want := show(d), "LINE C (0 0)-(2 0)\nLINE C (0 0)-(4 0)"; got != want || len(d.Inserts) != 1 {
		t.Errorf("got\n%s", got)
	}
	for _, l := range d.Layers {
		if l.Name == "A" && (l.Entities != 3 || l.Length != 3) {
			t.Errorf("%+v", l)
		}
	}
}

var _ Sink = (*linesOnly)(nil)

// linesOnly shows how a sink takes what it wants.
type linesOnly struct{ length float64 }

func (l *linesOnly) Segment(s *linework.Segment) {
	l.length += math.Hypot(s.B[0]-s.A[0], s.B[1]-s.A[1])
}
func (*linesOnly) Arc(*linework.Arc)       {}
func (*linesOnly) Fill(*linework.Fill)     {}
func (*linesOnly) Text(*linework.Text)     {}
func (*linesOnly) Insert(*linework.Insert) {}
func (*linesOnly) Other(*linework.Other)   {}

func ExampleModel_Walk() {
	text := file("", "", block("B", "0 LINE|8 0|11 3|21 4"), "0 INSERT|8 A-WALL|2 B|70 10|44 10")
	m, err := Open("plan.dxf", strings.NewReader(text), Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	var l linesOnly
	m.Walk(25.4, &l)
	fmt.Println(l.length, "mm of lines")
	// Output: 1270 mm of lines
}
