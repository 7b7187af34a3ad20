package dxf

import (
	"bytes"
	"math"
	"math/rand"
	"strings"
	"testing"

	"boardrun/importers/linework"
	group "boardrun/internal/dxf"
)

// What the writer writes reads back the same.
// Oracle: the drawing that was written.
func TestRoundTrip(t *testing.T) {
	d := &group.Drawing{
		InsUnits: 1, LUnits: 4,
		Layers: []group.Layer{{Name: "A-WALL", Colour: 3, Linetype: "Dashed"}, {Name: "Ünïcode ½″ 壁", Colour: 5}},
		Blocks: []group.Block{{Name: "TAG", Base: [2]float64{1, 2}, Entities: []group.Entity{
			group.Circle{Centre: [2]float64{1, 2}, Radius: 6},
			group.AttDef{Tag: "MARK", Default: "1", At: [2]float64{1, 2}, Height: 4, H: group.Centre, V: group.Middle},
		}}},
		Entities: []group.Entity{
			group.Line{Pen: group.Pen{Layer: "A-WALL"}, A: [2]float64{0.1, 1.0 / 3}, B: [2]float64{144.0625, -7e-5}},
			group.Polyline{Pen: group.Pen{Layer: "A-WALL", Colour: 1}, Vertices: []group.Vertex{{X: 0, Y: 0, Bulge: 1}, {X: 4, Y: 0}, {X: 4, Y: 3}}, Closed: true, Width: 0.5, Elevation: 96},
			group.Arc{Centre: [2]float64{10, 10}, Radius: 5, Start: 350, End: 20},
			group.Text{Pen: group.Pen{Layer: "Ünïcode ½″ 壁"}, At: [2]float64{48, 24}, Height: 4, Angle: 30, Value: `94-3/8" × ½″ 100%%d ^J \U+0041`, H: group.Right, V: group.Top},
			group.Hatch{Rings: [][]group.Vertex{{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 3}}}},
			group.Insert{Pen: group.Pen{Layer: "A-WALL"}, Block: "TAG", At: [2]float64{200, 0}, SX: 2, SY: 2, Angle: 90, Attribs: []group.Attrib{{Tag: "MARK", Value: "2-W014"}}},
		},
	}
	var b bytes.Buffer
	if err := d.Write(&b); err != nil {
		t.Fatal(err)
	}
	got, exc, err := Read("w.dxf", &b, Options{UnitMM: 1})
	if err != nil || len(exc) > 0 {
		t.Fatal(err, exc)
	}
	want := strings.Join([]string{
		`LINE A-WALL (0.1 0.333333)-(144.0625 -7e-05)`,
		`LWPOLYLINE A-WALL (4 0)-(4 3)`,
		`LWPOLYLINE A-WALL (4 3)-(0 0)`,
		`LWPOLYLINE A-WALL arc (2 0) r 2 180..360`,
		`ARC 0 arc (10 10) r 5 350..380`,
		`CIRCLE A-WALL arc (200 0) r 12 0..360`,
		`HATCH 0 fill SOLID ring 4 (0 0) (4 0) (4 3) (0 0)`,
		`TEXT Ünïcode ½″ 壁 "94-3/8\" × ½″ 100%%d ^J \\U+0041" (48 24) h 4 turned 30`,
		`ATTRIB A-WALL "2-W014" (200 0) h 8 turned 90`,
	}, "\n")
	if s := show(got); s != want {
		t.Errorf("got\n%s\nwant\n%s", s, want)
	}
	if s := got.Segments[0]; s.A[1] != 1.0/3 || s.B[1] != -7e-5 || s.Linetype != "Dashed" || s.Colour != 3 {
		t.Errorf("not to the last bit: %+v", s)
	}
	if got.UnitHeader != "inch" || got.LUnits != 4 || got.Version != group.Version || got.Inserts[0].Attribs["MARK"] != "2-W014" {
		t.Errorf("header %q, %d, version %s, %v", got.UnitHeader, got.LUnits, got.Version, got.Inserts[0].Attribs)
	}
}

// Random lines come back to the last bit, in any entity order the same.
func TestRoundTrip_random(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	var d group.Drawing
	for range 2000 {
		p := func() [2]float64 {
			return [2]float64{math.Ldexp(r.NormFloat64(), r.Intn(40)-10), math.Ldexp(r.NormFloat64(), r.Intn(40)-10)}
		}
		d.Entities = append(d.Entities, group.Line{A: p(), B: p()})
	}
	var b bytes.Buffer
	if err := d.Write(&b); err != nil {
		t.Fatal(err)
	}
	got, exc, err := Read("w.dxf", &b, Options{UnitMM: 1})
	if err != nil || len(exc) > 0 || len(got.Segments) != len(d.Entities) {
		t.Fatal(err, exc, len(got.Segments))
	}
	for i, s := range got.Segments {
		if e := d.Entities[i].(group.Line); e.A != [2]float64(s.A) || e.B != [2]float64(s.B) {
			t.Fatalf("line %d: %v %v, wrote %v %v", i, s.A, s.B, e.A, e.B)
		}
	}
}

// A drawing in blocks, turned, mirrored, scaled and nested at random, lies where
// plain matrices put it.
// Oracle: complex numbers; a mirror is a conjugate.
func TestWalk_randomNesting(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	for range 200 {
		depth := 1 + r.Intn(4)
		blocks := []group.Block{{Name: "B0", Entities: []group.Entity{group.Line{A: [2]float64{1, 2}, B: [2]float64{5, 3}}, group.Arc{Centre: [2]float64{2, 1}, Radius: 3, Start: 20, End: 110}}}}
		place := func(z complex128) complex128 { return z }
		scale := 1.0
		for i := 1; i <= depth; i++ {
			s, deg, mirror := 0.5+r.Float64(), float64(r.Intn(24)*15), r.Intn(2) == 1
			at, base := complex(r.NormFloat64()*50, r.NormFloat64()*50), complex(r.NormFloat64(), r.NormFloat64())
			sx := s
			if mirror {
				sx = -s
			}
			blocks[i-1].Base = [2]float64{real(base), imag(base)}
			in := group.Insert{Block: blocks[i-1].Name, At: [2]float64{real(at), imag(at)}, SX: sx, SY: s, Angle: deg}
			blocks = append(blocks, group.Block{Name: blocks[i-1].Name + "x", Entities: []group.Entity{in}})
			inner := place
			place = func(z complex128) complex128 {
				z = inner(z) - base
				if mirror {
					z = complex(-real(z), imag(z))
				}
				sin, cos := math.Sincos(deg * math.Pi / 180)
				return z*complex(s*cos, s*sin) + at
			}
			scale *= s
		}
		d := group.Drawing{Blocks: blocks[:depth], Entities: blocks[depth].Entities}
		var b bytes.Buffer
		if err := d.Write(&b); err != nil {
			t.Fatal(err)
		}
		got, _, err := Read("w.dxf", &b, Options{UnitMM: 25.4})
		if err != nil {
			t.Fatal(err)
		}
		s, a := got.Segments[0], got.Arcs[0]
		check := func(what string, x, y float64, z complex128) {
			t.Helper()
			if w := place(z) * 25.4; math.Hypot(x-real(w), y-imag(w)) > 1e-6 {
				t.Fatalf("%s at (%g, %g), want %g", what, x, y, w)
			}
		}
		check("start", s.A[0], s.A[1], 1+2i)
		check("end", s.B[0], s.B[1], 5+3i)
		check("centre", a.Centre[0], a.Centre[1], 2+1i)
		if math.Abs(a.Radius-3*scale*25.4) > 1e-6 || math.Abs(a.End-a.Start-90) > 1e-6 {
			t.Fatalf("arc %+v", a)
		}
		mid := (a.Start + a.End) / 2 * math.Pi / 180
		z := complex(2+3*math.Cos(65*math.Pi/180), 1+3*math.Sin(65*math.Pi/180))
		check("middle of the arc", a.Centre[0]+a.Radius*math.Cos(mid), a.Centre[1]+a.Radius*math.Sin(mid), z)
		outer := got.Inserts[len(got.Inserts)-1]
		checkLocal(t, outer, s)
	}
}

// checkLocal holds that Local of the innermost insert puts its block's line
// where it was placed.
func checkLocal(t *testing.T, in linework.Insert, s linework.Segment) {
	t.Helper()
	l := in.Local
	x, y := 1*25.4, 2*25.4
	if math.Hypot(l[0]*x+l[2]*y+l[4]-s.A[0], l[1]*x+l[3]*y+l[5]-s.A[1]) > 1e-6 {
		t.Fatalf("Local %v puts (1, 2) elsewhere than %v", l, s.A)
	}
	if b := in.Extents.Pad(1e-6); !b.Contains(s.A) || !b.Contains(s.B) {
		t.Fatalf("extents %v do not hold %v %v", in.Extents, s.A, s.B)
	}
}

// Names and texts in code pages.
func TestRead_codePages(t *testing.T) {
	text := file("9 $ACADVER|1 AC1015|9 $DWGCODEPAGE|3 ANSI_1251", "", "", "0 TEXT|8 \xd1\xf2\xe5\xed\xe0|40 1|1 \xcf\xeb\xe0\xed \\U+00BD")
	d, exc := read(t, text, Options{UnitMM: 1})
	if x := d.Texts[0]; x.Layer != "Стена" || x.Value != "План ½" || len(exc) > 0 {
		t.Errorf("%q %q %v", x.Layer, x.Value, exc)
	}
	text = file("9 $ACADVER|1 AC1015|9 $DWGCODEPAGE|3 ANSI_1361", "", "", "0 LINE|8 A|11 1")
	if _, exc := read(t, text, Options{UnitMM: 1}); len(exc) != 1 || exc[0].Code != CodeCodePage {
		t.Errorf("%v", exc)
	}
}
