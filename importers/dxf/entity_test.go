package dxf

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"boardrun/importers/linework"
	"boardrun/internal/plan"
)

// file writes an ASCII file from sections given as pairs parted by '|', a code
// and its value parted by a blank: "0 LINE|8 A|10 0".
func file(header, tables, blocks, entities string) string {
	var b strings.Builder
	section := func(name, body string) {
		if body == "" && name != "ENTITIES" {
			return
		}
		b.WriteString(groups("0 SECTION|2 " + name + "|" + body + "|0 ENDSEC"))
	}
	section("HEADER", header)
	section("TABLES", tables)
	section("BLOCKS", blocks)
	section("ENTITIES", entities)
	b.WriteString("0\nEOF\n")
	return b.String()
}

func groups(s string) string {
	var b strings.Builder
	for _, p := range strings.Split(s, "|") {
		if p = strings.TrimLeft(p, " \n\t"); p == "" {
			continue
		}
		code, value, _ := strings.Cut(p, " ")
		fmt.Fprintf(&b, "%s\n%s\n", code, value)
	}
	return b.String()
}

func block(name, rest string) string {
	return "0 BLOCK|8 0|2 " + name + "|70 0|10 0|20 0|" + rest + "|0 ENDBLK|"
}

func read(t testing.TB, text string, opt Options) (*linework.Drawing, []plan.Exception) {
	t.Helper()
	d, exc, err := Read("t.dxf", strings.NewReader(text), opt)
	if err != nil {
		t.Fatal(err)
	}
	return d, exc
}

// show prints what came out, one piece a line, in the order of the lists.
func show(d *linework.Drawing) string {
	var out []string
	p := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	mark := func(c linework.Common) string {
		if c.Hidden {
			return " hidden"
		}
		return ""
	}
	for _, s := range d.Segments {
		p("%s %s (%s %s)-(%s %s)%s", s.Type, s.Layer, num(s.A[0]), num(s.A[1]), num(s.B[0]), num(s.B[1]), mark(s.Common))
	}
	for _, a := range d.Arcs {
		p("%s %s arc (%s %s) r %s %s..%s%s", a.Type, a.Layer, num(a.Centre[0]), num(a.Centre[1]), num(a.Radius), num(a.Start), num(a.End), mark(a.Common))
	}
	for _, f := range d.Fills {
		s := fmt.Sprintf("%s %s fill %s", f.Type, f.Layer, f.Pattern)
		for _, r := range f.Rings {
			s += fmt.Sprintf(" ring %d", len(r))
			if len(r) < 8 {
				for _, q := range r {
					s += fmt.Sprintf(" (%s %s)", num(q[0]), num(q[1]))
				}
			}
		}
		p("%s%s", s, mark(f.Common))
	}
	for _, x := range d.Texts {
		s := fmt.Sprintf("%s %s %q (%s %s) h %s", x.Type, x.Layer, x.Value, num(x.At[0]), num(x.At[1]), num(x.Height))
		if x.Angle != 0 {
			s += " turned " + num(x.Angle)
		}
		if x.Measured != 0 {
			s += " measures " + num(x.Measured)
		}
		p("%s%s", s, mark(x.Common))
	}
	for _, o := range d.Others {
		p("%s %s other (%s %s) %d points: %s%s", o.Type, o.Layer, num(o.At[0]), num(o.At[1]), len(o.Points), o.Reason, mark(o.Common))
	}
	return strings.Join(out, "\n")
}

func num(x float64) string {
	x = math.Round(x*1e6) / 1e6
	if x == 0 {
		x = 0
	}
	return fmt.Sprintf("%g", x)
}

// Oracle: worked out by hand from the DXF Reference, beside each case.
func TestEntities(t *testing.T) {
	for _, c := range []struct{ name, entities, want string }{
		{"line", "0 LINE|8 A|10 1|20 2|11 3|21 4", "LINE A (1 2)-(3 4)"},
		{"line of the oldest releases", "0 3DLINE|8 A|10 1|20 2|30 5|11 3|21 4|31 6", "3DLINE A (1 2)-(3 4)"},
		{"line without length", "0 LINE|8 A|10 1|20 2|11 1|21 2", "LINE A other (1 2) 0 points: it has no length"},
		{"type name with blanks", "0 LINE |8 A|10 1|20 2|11 3|21 4", "LINE A (1 2)-(3 4)"},
		{"open polyline", "0 LWPOLYLINE|8 A|90 3|70 0|10 0|20 0|10 4|20 0|10 4|20 3", "LWPOLYLINE A (0 0)-(4 0)\nLWPOLYLINE A (4 0)-(4 3)"},
		{"closed is one bit of several", "0 LWPOLYLINE|8 A|90 3|70 129|10 0|20 0|10 4|20 0|10 4|20 3",
			"LWPOLYLINE A (0 0)-(4 0)\nLWPOLYLINE A (4 0)-(4 3)\nLWPOLYLINE A (4 3)-(0 0)"},
		{"its count is not trusted", "0 LWPOLYLINE|8 A|90 2000000000|70 0|10 0|20 0|10 4|20 0", "LWPOLYLINE A (0 0)-(4 0)"},
		{"first point repeated", "0 LWPOLYLINE|8 A|90 4|70 1|10 0|20 0|10 4|20 0|10 4|20 3|10 0|20 0",
			"LWPOLYLINE A (0 0)-(4 0)\nLWPOLYLINE A (4 0)-(4 3)\nLWPOLYLINE A (4 3)-(0 0)"},
		{"bulge 1 is a half circle", "0 LWPOLYLINE|8 A|90 2|70 0|10 0|20 0|42 1|10 4|20 0", "LWPOLYLINE A arc (2 0) r 2 180..360"},
		{"bulge -1 runs the other way", "0 LWPOLYLINE|8 A|90 2|70 0|10 0|20 0|42 -1|10 4|20 0", "LWPOLYLINE A arc (2 0) r 2 0..180"},
		{"bulge tan(22.5°) is a quarter", "0 LWPOLYLINE|8 A|90 2|70 0|10 1|20 0|42 0.41421356237309503|10 0|20 1", "LWPOLYLINE A arc (0 0) r 1 0..90"},
		{"the last bulge of an open polyline bends nothing", "0 LWPOLYLINE|8 A|90 2|70 0|10 0|20 0|10 4|20 0|42 1", "LWPOLYLINE A (0 0)-(4 0)"},
		{"one vertex", "0 LWPOLYLINE|8 A|90 1|70 0|10 1|20 2", "LWPOLYLINE A other (1 2) 0 points: it has no length"},
		{"old polyline", "0 POLYLINE|8 A|66 1|70 1|0 VERTEX|8 A|10 0|20 0|0 VERTEX|8 A|10 4|20 0|42 1|0 VERTEX|8 A|10 4|20 2|0 SEQEND|8 A",
			"POLYLINE A (0 0)-(4 0)\nPOLYLINE A (4 2)-(0 0)\nPOLYLINE A arc (4 1) r 1 270..450"},
		{"old polyline without its end", "0 POLYLINE|8 A|66 1|0 VERTEX|10 0|20 0|0 VERTEX|10 4|20 0|0 LINE|8 B|11 1", "POLYLINE A (0 0)-(4 0)\nLINE B (0 0)-(1 0)"},
		{"control points are not on the curve", "0 POLYLINE|8 A|66 1|70 4|0 VERTEX|10 0|20 9|70 16|0 VERTEX|10 0|20 0|70 8|0 VERTEX|10 4|20 0|70 8|0 SEQEND", "POLYLINE A (0 0)-(4 0)"},
		{"3D polyline", "0 POLYLINE|8 A|66 1|70 8|0 VERTEX|10 0|20 0|30 1|0 VERTEX|10 4|20 0|30 2|0 SEQEND", "POLYLINE A (0 0)-(4 0)"},
		{"mesh", "0 POLYLINE|8 A|66 1|70 16|71 2|72 2|0 VERTEX|10 1|20 2|70 64|0 VERTEX|10 4|20 0|70 64|0 SEQEND", "POLYLINE A other (1 2) 2 points: a mesh"},
		{"face mesh, its face records hold no points", "0 POLYLINE|8 A|66 1|70 64|0 VERTEX|10 1|20 2|70 192|0 VERTEX|10 0|20 0|70 128|71 1|0 SEQEND", "POLYLINE A other (1 2) 1 points: a mesh"},
		{"a stray vertex", "0 VERTEX|10 1|20 1|0 LINE|8 A|11 1", "LINE A (0 0)-(1 0)"},
		{"arc over the zero angle", "0 ARC|8 A|10 1|20 2|40 3|50 350|51 10", "ARC A arc (1 2) r 3 350..370"},
		{"arc with a negative angle", "0 ARC|8 A|40 3|50 -90|51 0", "ARC A arc (0 0) r 3 270..360"},
		{"circle", "0 CIRCLE|8 A|10 1|20 2|40 3", "CIRCLE A arc (1 2) r 3 0..360"},
		{"radius 0", "0 CIRCLE|8 A|10 1|20 2|40 0", "CIRCLE A other (1 2) 0 points: it has no length"},
		{"mirrored arc, normal 0 0 -1", "0 ARC|8 A|10 1|20 2|40 3|50 0|51 90|210 0|220 0|230 -1", "ARC A arc (-1 2) r 3 90..180"},
		{"mirrored polyline", "0 LWPOLYLINE|8 A|90 2|70 0|10 1|20 0|42 0.41421356237309503|10 0|20 1|210 0|220 0|230 -1", "LWPOLYLINE A arc (0 0) r 1 90..180"},
		{"a line has world coordinates, mirrored or not", "0 LINE|8 A|10 1|20 0|11 2|21 0|230 -1", "LINE A (1 0)-(2 0)"},
		{"round ellipse", "0 ELLIPSE|8 A|10 1|20 2|11 0|21 3|40 1|41 0|42 1.5707963267948966", "ELLIPSE A arc (1 2) r 3 90..180"},
		{"whole round ellipse", "0 ELLIPSE|8 A|10 1|20 2|11 3|21 0|40 1|41 0|42 6.283185307179586", "ELLIPSE A arc (1 2) r 3 0..360"},
		{"straight spline", "0 SPLINE|8 A|70 8|71 1|40 0|40 0|40 1|40 1|10 0|20 0|10 4|20 3", "SPLINE A (0 0)-(4 3)"},
		{"spline by fit points only", "0 SPLINE|8 A|70 8|71 3|11 0|21 0|11 1|21 1|11 2|21 0", "SPLINE A (0 0)-(1 1)\nSPLINE A (1 1)-(2 0)"},
		{"solid in Z order", "0 SOLID|8 A|10 0|20 0|11 4|21 0|12 0|22 3|13 4|23 3", "SOLID A fill SOLID ring 5 (0 0) (4 0) (4 3) (0 3) (0 0)"},
		{"three-cornered trace", "0 TRACE|8 A|10 0|20 0|11 4|21 0|12 0|22 3|13 0|23 3", "TRACE A fill SOLID ring 4 (0 0) (4 0) (0 3) (0 0)"},
		{"polyline hatch", "0 HATCH|8 A|10 0|20 0|30 0|210 0|220 0|230 1|2 SOLID|70 1|71 0|91 1|92 7|72 0|73 1|93 3|10 0|20 0|10 4|20 0|10 4|20 3|97 0|75 0|76 1|98 1|10 9|20 9",
			"HATCH A fill SOLID ring 4 (0 0) (4 0) (4 3) (0 0)"},
		{"hatch of edges", "0 HATCH|8 A|10 0|20 0|30 0|2 ANSI31|70 0|71 0|91 1|92 1|93 3|72 1|10 0|20 0|11 4|21 0|72 1|10 4|20 0|11 4|21 3|72 1|10 4|20 3|11 0|21 0|97 0|75 0|76 1|52 0|41 1|77 0|78 0|98 0",
			"HATCH A fill ANSI31 ring 4 (0 0) (4 0) (4 3) (0 0)"},
		{"mirrored hatch", "0 HATCH|8 A|10 0|20 0|30 0|210 0|220 0|230 -1|2 SOLID|70 1|71 0|91 1|92 7|72 0|73 1|93 3|10 0|20 0|10 4|20 0|10 4|20 3|97 0|75 0|76 1|98 0",
			"HATCH A fill SOLID ring 4 (0 0) (-4 0) (-4 3) (0 0)"},
		{"hatch with a hole", "0 HATCH|8 A|10 0|20 0|30 0|2 SOLID|70 1|71 0|91 2|92 7|72 0|73 1|93 3|10 0|20 0|10 4|20 0|10 4|20 3|97 0|92 2|72 0|73 1|93 3|10 1|20 0.2|10 2|20 0.2|10 2|20 1|97 0|75 0|76 1|98 0",
			"HATCH A fill SOLID ring 4 (0 0) (4 0) (4 3) (0 0) ring 4 (1 0.2) (2 0.2) (2 1) (1 0.2)"},
		{"hatch without a boundary", "0 HATCH|8 A|2 SOLID|91 0|75 0|98 0", "HATCH A other (0 0) 0 points: it has no length"},
		{"wipeout", "0 WIPEOUT|8 A|10 10|20 20|30 0|11 4|21 0|31 0|12 0|22 4|32 0|13 1|23 1|71 1|91 2|14 -0.5|24 -0.5|14 0.5|24 0.5",
			"WIPEOUT A fill WIPEOUT ring 5 (10 24) (14 24) (14 20) (10 20) (10 24)"},
		{"multiline of two", "0 MLINE|8 A|40 1|70 0|71 1|72 2|73 2|10 0|20 0|11 0|21 0|12 1|22 0|13 0|23 1|74 2|41 0.5|41 0|75 0|74 2|41 -0.5|41 0|75 0|11 4|21 0|12 1|22 0|13 0|23 1|74 2|41 0.5|41 0|75 0|74 2|41 -0.5|41 0|75 0",
			"MLINE A (0 0.5)-(4 0.5)\nMLINE A (0 -0.5)-(4 -0.5)"},
		{"text", "0 TEXT|8 A|10 1|20 2|40 3|1 5%%d|50 30", `TEXT A "5°" (1 2) h 3 turned 30`},
		{"aligned text stands at its second point", "0 TEXT|8 A|10 1|20 2|40 3|1 x|72 1|11 7|21 8|73 2", `TEXT A "x" (7 8) h 3`},
		{"text fitted between two points stands at the first", "0 TEXT|8 A|10 1|20 2|40 3|1 x|72 5|11 7|21 8", `TEXT A "x" (1 2) h 3`},
		{"mirrored text", "0 TEXT|8 A|10 1|20 2|40 3|1 x|230 -1", `TEXT A "x" (-1 2) h 3 turned 180`},
		{"paragraph in pieces", `0 MTEXT|8 A|10 1|20 2|40 3|3 {\fArial;ROOM}|1 \P101`, `MTEXT A "ROOM\n101" (1 2) h 3`},
		{"paragraph turned by a direction", "0 MTEXT|8 A|10 1|20 2|40 3|1 x|11 0|21 1", `MTEXT A "x" (1 2) h 3 turned 90`},
		{"columns of a paragraph do not move it", "0 MTEXT|8 A|10 1|20 2|40 3|1 x|101 Embedded Object|10 9|20 9|40 9", `MTEXT A "x" (1 2) h 3`},
		{"dimension says what it measures", "0 DIMENSION|8 A|10 9|20 9|11 1|21 2|70 0|1 |13 0|23 0|14 4|24 3", `DIMENSION A "" (1 2) h 0 measures 4`},
		{"turned dimension", "0 DIMENSION|8 A|11 1|21 2|70 32|50 90|13 0|23 0|14 4|24 3", `DIMENSION A "" (1 2) h 0 measures 3`},
		{"aligned dimension", "0 DIMENSION|8 A|11 1|21 2|70 1|1 5 VERIFY|13 0|23 0|14 4|24 3", `DIMENSION A "5 VERIFY" (1 2) h 0 measures 5`},
		{"angle dimension measures no length", "0 DIMENSION|8 A|11 1|21 2|70 2|42 1.5|1 x", `DIMENSION A "x" (1 2) h 0`},
		{"face", "0 3DFACE|8 A|10 1|20 2|30 3|11 4|21 5|31 6|12 7|22 8|32 9|13 7|23 8|33 9", "3DFACE A other (1 2) 4 points: a 3D face"},
		{"point", "0 POINT|8 A|10 1|20 2", "POINT A other (1 2) 0 points: a point"},
		{"unknown", "0 AEC_WALL|8 A|10 1|20 2|10 7|20 8", "AEC_WALL A other (1 2) 0 points: its type is not known"},
		{"attribute definition outside a block", "0 ATTDEF|8 A|10 1|20 2|40 1|1 x|2 T", "ATTDEF A other (1 2) 0 points: the definition of an attribute"},
		{"a coordinate that is no number", "0 LINE|8 A|10 x|20 2|11 3|21 4", "LINE A other (0 0) 0 points: a value of it cannot be used"},
		{"a coordinate beyond all bounds", "0 LINE|8 A|10 1e300|20 2|11 3|21 4", "LINE A other (0 0) 0 points: a value of it cannot be used"},
		{"paper space", "0 LINE|8 A|67 1|11 5|0 LINE|8 A|11 1", "LINE A (0 0)-(1 0)"},
		{"invisible", "0 LINE|8 A|60 1|11 5", "LINE A (0 0)-(5 0) hidden"},
		{"no layer", "0 LINE|11 5", "LINE 0 (0 0)-(5 0)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, _ := read(t, file("", "", "", c.entities), Options{UnitMM: 1})
			if got := show(d); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

// Curves that are flattened lie on the curve, within what flattenStep says.
// Oracle: the equation of the ellipse; of a cubic spline with Bézier knots, its
// polynomial.
func TestEntities_curves(t *testing.T) {
	d, _ := read(t, file("", "", "", "0 ELLIPSE|8 A|10 1|20 2|11 5|21 0|40 0.4|41 0|42 6.283185307179586"), Options{UnitMM: 1})
	length := 0.0
	for _, s := range d.Segments {
		x, y := (s.A[0]-1)/5, (s.A[1]-2)/2
		if math.Abs(x*x+y*y-1) > 1e-12 {
			t.Fatalf("(%g, %g) is off the ellipse", s.A[0], s.A[1])
		}
		length += math.Hypot(s.B[0]-s.A[0], s.B[1]-s.A[1])
	}
	h := math.Pow(3.0/7, 2) // Ramanujan's second formula, relative error below 1e-8 here
	want := math.Pi * 7 * (1 + 3*h/(10+math.Sqrt(4-3*h)))
	if math.Abs(length-want) > 2e-4*want {
		t.Errorf("ellipse is %g long, want %g", length, want)
	}
	d, _ = read(t, file("", "", "", "0 SPLINE|8 A|70 8|71 3|40 0|40 0|40 0|40 0|40 1|40 1|40 1|40 1|10 0|20 0|10 0|20 1|10 1|20 1|10 1|20 0"), Options{UnitMM: 1})
	if n := len(d.Segments); n != splineSteps {
		t.Fatalf("%d pieces", n)
	}
	for i, s := range d.Segments {
		u := float64(i) / splineSteps
		x, y := 3*(1-u)*u*u+u*u*u, 3*(1-u)*(1-u)*u+3*(1-u)*u*u
		if math.Hypot(s.A[0]-x, s.A[1]-y) > 1e-12 {
			t.Errorf("u %g: (%g, %g), want (%g, %g)", u, s.A[0], s.A[1], x, y)
		}
	}
}

// Arc edges of a hatch, either way round, bound the same half disc.
// Oracle: area of a half disc of radius 2.
func TestEntities_hatchArcs(t *testing.T) {
	for name, edge := range map[string]string{
		"counter-clockwise": "72 2|10 0|20 0|40 2|50 0|51 180|73 1",
		"clockwise":         "72 2|10 0|20 0|40 2|50 180|51 360|73 0", // angles of clockwise edges are mirrored
		"ellipse":           "72 3|10 0|20 0|11 2|21 0|40 1|50 0|51 180|73 1",
		"bulge":             "",
	} {
		e := "0 HATCH|8 A|10 0|20 0|30 0|2 SOLID|70 1|71 0|91 1|92 1|93 2|" + edge + "|72 1|10 -2|20 0|11 2|21 0|97 0|75 0|98 0"
		if edge == "" {
			e = "0 HATCH|8 A|10 0|20 0|30 0|2 SOLID|70 1|71 0|91 1|92 2|72 1|73 1|93 2|10 2|20 0|42 1|10 -2|20 0|42 0|97 0|75 0|98 0"
		}
		d, _ := read(t, file("", "", "", e), Options{UnitMM: 1})
		if len(d.Fills) != 1 || len(d.Fills[0].Rings) != 1 {
			t.Fatalf("%s: %s", name, show(d))
		}
		r, area, lo := d.Fills[0].Rings[0], 0.0, 0.0
		for i := 1; i < len(r); i++ {
			area += (r[i-1][0]*r[i][1] - r[i][0]*r[i-1][1]) / 2
			lo = math.Min(lo, r[i][1])
		}
		if math.Abs(math.Abs(area)-2*math.Pi) > 0.01 || lo < -1e-9 {
			t.Errorf("%s: area %g, lowest %g", name, area, lo)
		}
	}
}

// Elevation, width and thickness come along, scaled.
func TestEntities_extras(t *testing.T) {
	d, _ := read(t, file("", "", "", "0 LWPOLYLINE|8 A|90 2|70 0|43 0.5|38 3|39 2|10 0|20 0|10 4|20 0|"+
		"0 POLYLINE|8 A|70 8|39 0|0 VERTEX|10 0|20 0|30 1|0 VERTEX|10 1|20 0|30 2|0 SEQEND|"+
		"0 LINE|8 A|39 7|10 0|20 0|30 1|11 1|21 0|31 2|0 LWPOLYLINE|8 A|90 2|70 0|10 0|20 0|40 1|41 2|10 4|20 0"), Options{UnitMM: 10})
	var got []string
	for _, s := range d.Segments {
		got = append(got, fmt.Sprintf("w %g t %g z %g %g", s.Width, s.Thickness, s.ZA, s.ZB))
	}
	want := []string{"w 5 t 20 z 30 30", "w 0 t 0 z 10 20", "w 0 t 70 z 10 20", "w 0 t 0 z 0 0"} // the last one tapers
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// An MLINE whose first element tells no distance lost its place (found by
// fuzzing). Oracle: hand: the second element alone, 1 above the drawn line.
func TestEntities_mlineElementWithoutDistance(t *testing.T) {
	d, _ := read(t, file("", "", "", "0 MLINE|8 A|72 2|73 2|11 0|21 0|13 0|23 1|74 0|74 1|41 1|11 4|21 0|13 0|23 1|74 0|74 1|41 1"), Options{UnitMM: 1})
	if len(d.Segments) != 1 || d.Segments[0].A[1] != 1 || d.Segments[0].B[0] != 4 {
		t.Error(show(d))
	}
}
