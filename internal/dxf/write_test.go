package dxf

import (
	"bytes"
	"fmt"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// sample is a drawing with one of everything that is written; what it shows is
// invented.
func sample() *Drawing {
	box := []Vertex{{0, 0, 0}, {96, 0, 0}, {96, 48, 0}, {0, 48, 0}}
	return &Drawing{
		InsUnits: 1, LUnits: 4,
		Layers: []Layer{
			{Name: "A-WALL", Colour: 7}, {Name: "A-ANNO-½″ Ø", Colour: 2, Linetype: "Dashed"},
			{Name: "A-GRID", Colour: 8, Linetype: "Center", NoPlot: true},
		},
		Blocks: []Block{
			{Name: "TAG", Entities: []Entity{
				Circle{Radius: 6}, AttDef{Tag: "MARK", Prompt: "Mark?", Default: "1", Height: 4, H: Centre, V: Middle},
				AttDef{Tag: "NOTE", At: [2]float64{0, -12}, Height: 3, Invisible: true},
			}},
			{Name: "Door 36", Base: [2]float64{1, 0}, Entities: []Entity{
				Line{A: [2]float64{1, 0}, B: [2]float64{1, 36}}, Arc{Centre: [2]float64{1, 0}, Radius: 36, End: 90},
				Insert{Block: "TAG", At: [2]float64{18, 18}, SX: 0.5, SY: 0.5},
			}},
		},
		Entities: []Entity{
			Line{Pen: Pen{Layer: "A-WALL"}, A: [2]float64{0, 0}, B: [2]float64{144.0625, 1.0 / 3}},
			Polyline{Pen: Pen{Layer: "A-WALL", Colour: 1}, Vertices: box, Closed: true, Width: 0.5, Elevation: 96},
			Polyline{Vertices: []Vertex{{0, 100, 0.5}, {50, 100, -0.25}, {100, 120, 0}}},
			Arc{Centre: [2]float64{10, 10}, Radius: 5, Start: 350, End: 20},
			Circle{Pen: Pen{Layer: "A-GRID", Linetype: "Dot"}, Centre: [2]float64{-5, -5}, Radius: 2.5},
			Text{Pen: Pen{Layer: "A-ANNO-½″ Ø"}, At: [2]float64{48, 24}, Height: 4, Angle: 30, Value: `94-3/8" × ½″ 100%% ^ \U+0041 日本`, H: Right, V: Top},
			Text{At: [2]float64{1, 1}, Height: 2.5, Value: "plain"},
			Hatch{Pen: Pen{Layer: "A-WALL", Colour: 9}, Rings: [][]Vertex{box, {{20, 10, 1}, {40, 10, 1}}}},
			Insert{Pen: Pen{Layer: "A-WALL"}, Block: "TAG", At: [2]float64{200, 0}, Attribs: []Attrib{{"MARK", "W-014"}, {"NOTE", "é"}}},
			Insert{Block: "Door 36", At: [2]float64{300, 50}, SX: -1, SY: 1, Angle: 90},
		},
	}
}

// Oracle: ezdxf 0.18.1, recover.readfile and audit: no errors and no fixes.
func TestWrite_audit(t *testing.T) {
	python := "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		t.Skip("python3-ezdxf is not there")
	}
	empty := &Drawing{InsUnits: 4, Measurement: 1}
	for name, d := range map[string]*Drawing{"sample": sample(), "empty": empty, "random": randomDrawing(5)} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "w.dxf")
			var b bytes.Buffer
			if err := d.Write(&b); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			const script = `
import sys, ezdxf
from ezdxf import recover
d = ezdxf.readfile(sys.argv[1]); a = d.audit()
r, b = recover.readfile(sys.argv[1])
for x in a.errors + a.fixes + b.errors + b.fixes: print(x.code, x.message)
print("errors", len(a.errors) + len(b.errors), "fixes", len(a.fixes) + len(b.fixes), d.dxfversion, d.header["$INSUNITS"])
for e in d.modelspace():
    if e.dxftype() == "TEXT": print(e.dxf.text, e.dxf.halign, e.dxf.valign)
    if e.dxftype() == "INSERT": print([(x.dxf.tag, x.dxf.text) for x in e.attribs])
`
			out, err := exec.Command(python, "-c", script, path).CombinedOutput()
			if err != nil || !strings.Contains(string(out), "errors 0 fixes 0 AC1027") {
				t.Fatalf("%v\n%s", err, out)
			}
			t.Logf("%s", out)
		})
	}
}

// randomDrawing has some of everything, nested three deep.
func randomDrawing(seed int64) *Drawing {
	r := rand.New(rand.NewSource(seed))
	d := &Drawing{InsUnits: r.Intn(25), Measurement: r.Intn(2), LUnits: r.Intn(6)}
	for i := range 20 {
		d.Layers = append(d.Layers, Layer{Name: fmt.Sprint("L-", i), Colour: 1 + r.Intn(255), Linetype: Linetypes[r.Intn(len(Linetypes))], NoPlot: r.Intn(3) == 0})
	}
	x := func() float64 { return math.Round(r.NormFloat64()*1e7) / 1e3 }
	p := func() [2]float64 { return [2]float64{x(), x()} }
	v := func() []Vertex {
		out := make([]Vertex, 2+r.Intn(6))
		for i := range out {
			out[i] = Vertex{x(), x(), r.NormFloat64() * float64(r.Intn(2))}
		}
		return out
	}
	entities := func(n int) (out []Entity) {
		for range n {
			pen := Pen{Layer: fmt.Sprint("L-", r.Intn(20)), Colour: r.Intn(256)}
			h, va := HAlign(r.Intn(3)), VAlign(r.Intn(4))
			out = append(out, []Entity{
				Line{pen, p(), p()}, Polyline{pen, v(), r.Intn(2) == 0, r.Float64(), x()}, Arc{pen, p(), 1 + r.Float64(), x(), x()},
				Circle{pen, p(), 1 + r.Float64()}, Text{pen, p(), 1 + r.Float64(), x(), "a%%b^c 5/8″", h, va}, Hatch{pen, [][]Vertex{v(), v()}},
			}[r.Intn(6)])
		}
		return out
	}
	for i := range 4 {
		b := Block{Name: fmt.Sprint("B", i), Base: p(), Entities: append(entities(5), AttDef{Tag: "T", Prompt: "t?", Default: "d", Height: 2, At: p()})}
		if i > 0 {
			b.Entities = append(b.Entities, Insert{Block: fmt.Sprint("B", i-1), At: p(), SX: -1, SY: 2, Angle: x()})
		}
		d.Blocks = append(d.Blocks, b)
	}
	d.Entities = entities(200)
	for i := range 20 {
		d.Entities = append(d.Entities, Insert{Pen: Pen{Layer: "L-3"}, Block: fmt.Sprint("B", i%4), At: p(), Angle: x(), Attribs: []Attrib{{"T", fmt.Sprint(i)}}})
	}
	return d
}

// No handle is used twice and all are below $HANDSEED.
// Oracle: the format's own rule, DXF Reference, "Object and Entity Codes".
func TestWrite_handles(t *testing.T) {
	var b bytes.Buffer
	if err := sample().Write(&b); err != nil {
		t.Fatal(err)
	}
	s, err := NewScanner("w.dxf", &b)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[uint64]bool{}
	var seed, highest uint64
	dimstyle := false
	name := ""
	for s.Next() {
		h, _ := s.Handle()
		switch {
		case s.Code == 0:
			dimstyle = string(s.Bytes()) == "DIMSTYLE"
			name = ""
		case s.Code == 9:
			name = string(s.Bytes())
		case s.Code == 5 && name == "$HANDSEED":
			seed = h
		case s.Code == 5 && !dimstyle, s.Code == 105:
			if seen[h] {
				t.Errorf("handle %X is used twice", h)
			}
			seen[h] = true
			highest = max(highest, h)
		}
	}
	if highest == 0 || highest >= seed {
		t.Errorf("highest handle %X, seed %X", highest, seed)
	}
	if s.Truncated() || s.Err() != nil || len(s.Audit()) > 0 {
		t.Errorf("does not read back: %v %v", s.Err(), s.Audit())
	}
}

func TestWrite_same(t *testing.T) {
	var a, b bytes.Buffer
	if err := sample().Write(&a); err != nil {
		t.Fatal(err)
	}
	if err := sample().Write(&b); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two writes differ")
	}
}

func TestWrite_refuses(t *testing.T) {
	line := func(p Pen) []Entity { return []Entity{Line{Pen: p, B: [2]float64{1, 0}}} }
	for _, c := range []struct {
		name string
		d    Drawing
		want string
	}{
		{"layer not defined", Drawing{Entities: line(Pen{Layer: "A"})}, `layer "A" is not defined`},
		{"layer name", Drawing{Layers: []Layer{{Name: "a|b", Colour: 1}}}, `no name for a layer`},
		{"layer twice", Drawing{Layers: []Layer{{Name: "a", Colour: 1}, {Name: "A", Colour: 1}}}, `defined twice`},
		{"colour", Drawing{Layers: []Layer{{Name: "a"}}}, `colour 0`},
		{"linetype", Drawing{Entities: line(Pen{Linetype: "Wavy"})}, `linetype "Wavy"`},
		{"not a number", Drawing{Entities: []Entity{Line{A: [2]float64{math.NaN(), 0}}}}, `entity 0 (dxf.Line): point is NaN`},
		{"radius", Drawing{Entities: []Entity{Circle{}}}, `radius is 0`},
		{"one vertex", Drawing{Entities: []Entity{Polyline{Vertices: []Vertex{{}}}}}, `1 vertices`},
		{"two lines of text", Drawing{Entities: []Entity{Text{Height: 1, Value: "a\nb"}}}, `no single line`},
		{"bad UTF-8", Drawing{Entities: []Entity{Text{Height: 1, Value: "\xff"}}}, `no single line`},
		{"block not defined", Drawing{Entities: []Entity{Insert{Block: "B"}}}, `block "B" is not defined`},
		{"attribute not defined", Drawing{Blocks: []Block{{Name: "B"}}, Entities: []Entity{Insert{Block: "b", Attribs: []Attrib{{"T", ""}}}}}, `no attribute "T"`},
		{"cycle", Drawing{Blocks: []Block{{Name: "A", Entities: []Entity{Insert{Block: "B"}}}, {Name: "B", Entities: []Entity{Insert{Block: "A"}}}}}, `contains itself`},
		{"attdef in modelspace", Drawing{Entities: []Entity{AttDef{Tag: "T", Height: 1}}}, `in a block only`},
		{"units", Drawing{InsUnits: 25}, `InsUnits`},
	} {
		t.Run(c.name, func(t *testing.T) {
			var b bytes.Buffer
			err := c.d.Write(&b)
			if err == nil || !strings.Contains(err.Error(), c.want) || b.Len() > 0 {
				t.Errorf("got %v (%d bytes written), want %q", err, b.Len(), c.want)
			}
		})
	}
}
