package dxf

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"

	"boardrun/importers/linework"
	"boardrun/internal/plan"
)

const noMap = "|40 1|40 0|40 0|40 0|40 0|40 1|40 0|40 0|40 0|40 0|40 1|40 0"

// clipOf is the OBJECTS section of one clip of INSERT 1F: its boundary and
// flags, its two maps, and an XRECORD of an inverted one.
func clipOf(boundary, maps, record string) string {
	if record != "" {
		record = "|0 DICTIONARY|5 2C|330 2B|100 AcDbDictionary|3 ACAD_XREC_ROUNDTRIP|360 2D|0 XRECORD|5 2D|330 2C|100 AcDbXrecord|280 1|102 ACAD_INVERTEDCLIP_ROUNDTRIP|" + record +
			"|102 ACAD_INVERTEDCLIP_ROUNDTRIP_COMPARE|10 9|20 9"
	}
	return "0 SECTION|2 OBJECTS|0 DICTIONARY|5 C|330 0|0 DICTIONARY|5 29|330 1F|100 AcDbDictionary|3 ACAD_FILTER|360 2A|0 DICTIONARY|5 2A|102 {ACAD_REACTORS|330 29|102 }|330 29|100 AcDbDictionary|3 SPATIAL|360 2B|" +
		"0 SPATIAL_FILTER|5 2B|102 {ACAD_XDICTIONARY|360 2C|102 }|330 2A|100 AcDbFilter|100 AcDbSpatialFilter|" + boundary + "|210 0|220 0|230 1|11 0|21 0|31 0|71 1|72 0|73 0" + maps + record + "|0 ENDSEC|0 EOF"
}

// withObjects puts a section behind a file's last.
func withObjects(text, objects string) string {
	return strings.Replace(text, "0\nEOF\n", groups(objects), 1)
}

// lengths sums what is read by layer.
func lengths(d *linework.Drawing) (lines, arcs float64) {
	for _, s := range d.Segments {
		lines += math.Hypot(s.B[0]-s.A[0], s.B[1]-s.A[1])
	}
	for _, a := range d.Arcs {
		arcs += a.Radius * (a.End - a.Start) * math.Pi / 180
	}
	return lines, arcs
}

// Oracle: hand sums. The block is a cross of two lines of 20 through the origin
// and a circle of radius 5 about it; the insert stands at 100, 50.
func TestClip_shows(t *testing.T) {
	const cross = "0 LINE|8 W|10 -10|11 10|0 LINE|8 W|20 -10|21 10|0 CIRCLE|8 W|40 5"
	const rect = "70 2|10 100|20 50|10 108|20 56"
	inverse := func(x, y float64) string {
		return fmt.Sprintf("|40 1|40 0|40 0|40 %g|40 0|40 1|40 0|40 %g|40 0|40 0|40 1|40 0", -x, -y)
	}
	here := inverse(100, 50) + noMap
	quarter := 2.5 * math.Pi
	for _, c := range []struct {
		name, block, insert, objects string
		lines, arcs                  float64
		msg                          string
	}{
		{name: "rectangle", objects: clipOf(rect, here, ""), lines: 8 + 6, arcs: quarter, msg: "0 entities outside the clip, 3 cut by it"},
		{name: "no class", objects: strings.NewReplacer("|100 AcDbFilter", "", "|100 AcDbSpatialFilter", "").Replace(clipOf(rect, here, "")), lines: 8 + 6, arcs: quarter, msg: "3 cut"},
		{name: "switched off", objects: strings.Replace(clipOf(rect, here, ""), "|71 1", "|71 0", 1), lines: 40, arcs: 4 * quarter},
		{name: "polygon", objects: clipOf("70 3|10 100|20 40|10 120|20 50|10 100|20 60", here, ""), lines: 10 + 20, arcs: 2 * quarter, msg: "0 entities outside the clip, 2 cut by it"},
		{name: "inverted", objects: clipOf("70 11|10 100|20 50|10 108|20 50|10 108|20 56|10 100|20 56|10 100|20 70|10 80|20 70|10 80|20 30|10 120|20 30|10 120|20 70|10 100|20 70|10 100|20 56", here, "10 100|20 50|30 0|10 108|20 56|30 0"),
			lines: 40, arcs: 3 * quarter, msg: "0 entities outside the clip, 1 cut by it"},
		{name: "inverted, through", objects: clipOf("70 2|10 99|20 49|10 101|20 61", here, "10 99|20 49|30 0|10 101|20 61|30 0"), lines: 18 + 9, msg: "3 cut by it",
			arcs: 4*quarter - 5*2*math.Asin(1.0/5)},
		{name: "moved after it was clipped", insert: "|10 7|20 9", objects: clipOf(rect, here, ""), lines: 14, arcs: quarter, msg: "3 cut"},
		{name: "turned and scaled after it was clipped", insert: "|10 7|20 9|41 2|42 2|50 30", objects: clipOf(rect, here, ""), lines: 28, arcs: 2 * quarter, msg: "3 cut"},
		{name: "mirrored after it was clipped", insert: "|10 7|20 9|41 -1", objects: clipOf(rect, here, ""), lines: 14, arcs: quarter, msg: "3 cut"},
		{name: "in a system of its own", objects: clipOf("70 2|10 0|20 0|10 6|20 -8", inverse(100, 50)+"|40 0|40 1|40 0|40 -50|40 -1|40 0|40 0|40 100|40 0|40 0|40 1|40 0", ""), lines: 14, arcs: quarter, msg: "3 cut"},
		{name: "distance of a plane before the maps", objects: strings.Replace(clipOf(rect, "|40 3"+here, ""), "|72 0", "|72 1", 1), lines: 14, arcs: quarter, msg: "3 cut"},
		{name: "apart", objects: clipOf("70 2|10 200|20 50|10 208|20 56", here, ""), msg: "3 entities outside the clip, 0 cut by it"},
		{name: "all within", objects: clipOf("70 2|10 0|20 0|10 200|20 100", here, ""), lines: 40, arcs: 4 * quarter},
		{name: "array", insert: "|10 100|20 50|70 2|44 3", objects: clipOf(rect, here, ""), msg: "cut by it",
			lines: 8 + 6 + 8 + 6, arcs: quarter + 5*(math.Pi/2+math.Asin(3.0/5))},
		// the block's origin stands at 96, 47
		{name: "base point in the map", block: "|10 4|20 3", objects: clipOf("70 2|10 90|20 40|10 108|20 48", inverse(96, 47)+noMap, ""), lines: 16 + 8, arcs: 2*quarter + 10*math.Asin(1.0/5), msg: "3 cut by it"},
		{name: "base point left out of the map", block: "|10 4|20 3", objects: clipOf("70 2|10 90|20 40|10 108|20 48", here, ""), lines: 16 + 8, arcs: 2*quarter + 10*math.Asin(1.0/5), msg: "cut by it"},
		{name: "tilted", objects: clipOf(rect, "|40 1|40 0|40 1|40 0|40 0|40 1|40 0|40 0|40 0|40 0|40 1|40 0"+noMap, ""), lines: 40, arcs: 4 * quarter, msg: "not understood"},
		{name: "map missing", objects: clipOf(rect, noMap, ""), lines: 40, arcs: 4 * quarter, msg: "not understood"},
		{name: "no area", objects: clipOf("70 3|10 100|20 50|10 108|20 56|10 100|20 50", here, ""), lines: 40, arcs: 4 * quarter, msg: "not understood"},
		{name: "a number that is none", objects: clipOf("70 2|10 x|20 50|10 108|20 56", here, ""), lines: 40, arcs: 4 * quarter, msg: "not understood"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.insert == "" {
				c.insert = "|10 100|20 50"
			}
			b := strings.Replace(block("B", cross), "|10 0|20 0", c.block, 1)
			if c.block == "" {
				b = block("B", cross)
			}
			d, exc := read(t, withObjects(file("", "", b, "0 INSERT|5 1F|8 A|2 B"+c.insert), c.objects), Options{UnitMM: 1})
			lines, arcs := lengths(d)
			if math.Abs(lines-c.lines) > 1e-9*c.lines || math.Abs(arcs-c.arcs) > 1e-6*c.arcs {
				t.Errorf("lines %v, arcs %v; want %v, %v\n%s", lines, arcs, c.lines, c.arcs, show(d))
			}
			if said := fmt.Sprint(exc); !strings.Contains(said, c.msg) || c.msg == "" && len(exc) > 0 {
				t.Errorf("said %s\nwant %s", said, c.msg)
			}
			for _, e := range exc {
				if (e.Severity == plan.Person) != strings.Contains(e.Message, "not understood") {
					t.Error(e)
				}
			}
		})
	}
}

// Oracle: hand count. What is left out is there, once for each entity, and says
// why; a door outside is marked and keeps its number.
func TestClip_ledger(t *testing.T) {
	blocks := block("DOOR", "0 LINE|8 0|11 1|21 0.5|0 LINE|8 0|11 0.5|21 0.2") +
		block("B", "0 INSERT|5 A1|8 D|2 DOOR|10 50|0 INSERT|5 A2|8 D|2 DOOR|10 1|20 1|0 LWPOLYLINE|8 W|90 3|10 50|20 50|10 60|20 50|10 60|20 60|0 TEXT|8 T|10 50|40 1|1 far|0 TEXT|8 T|10 2|20 2|40 1|1 near|0 POINT|8 P|10 50|"+
			"0 SOLID|8 H|10 8|20 8|11 12|21 8|12 8|22 12|13 12|23 12|0 SOLID|8 H|10 58|20 8|11 62|21 8|12 58|22 12|13 62|23 12|0 SOLID|8 H|10 -90|20 -90|11 90|21 -90|12 -90|22 90|13 90|23 90")
	d, exc := read(t, withObjects(file("", "", blocks, "0 INSERT|5 1F|8 A|2 B"), clipOf("70 2|10 0|20 0|10 10|20 10", noMap+noMap, "")), Options{UnitMM: 1})
	var out []string
	for _, o := range d.Others {
		if !o.Clipped || o.Reason != "outside the clip of its block" {
			t.Errorf("%+v", o)
		}
		out = append(out, o.Type+" "+o.Layer)
	}
	// the two lines of the far door, the polyline once, a text, the point, a solid
	if got := strings.Join(out, ", "); got != "LINE D, LINE D, LWPOLYLINE W, TEXT T, POINT P, SOLID H" {
		t.Errorf("left out: %s", got)
	}
	if in := d.Inserts; len(in) != 3 || !in[1].Hidden || !in[1].Clipped || in[2].Clipped || len(d.Segments) != 2 || d.Segments[0].Insert != 0 || !strings.HasPrefix(d.Segments[0].Handle, "1F/A2/") {
		t.Errorf("inserts %+v, %s", in, show(d))
	}
	if len(d.Texts) != 1 || d.Texts[0].Value != "near" {
		t.Errorf("texts %+v", d.Texts)
	}
	area := 0.0
	for _, f := range d.Fills {
		for _, r := range f.Rings {
			area += ringArea(r[:len(r)-1])
		}
	}
	if len(d.Fills) != 2 || math.Abs(area-(2*2+10*10)) > 1e-6 {
		t.Errorf("fills of %v, %+v", area, d.Fills)
	}
	if len(exc) != 1 || !strings.HasSuffix(exc[0].String(), `warning [insert-clipped] INSERT 1F, layer A, at (0.000, 0.000) m: block "B" is clipped here: 7 entities outside the clip, 2 cut by it; what the clip hides is left out, as the drawing does not show it`) {
		t.Error(exc)
	}
}

// A clip within a clip shows what both show.
// Oracle: hand sum: the inner shows -3 to 10 of the line, the outer -10 to 4.
func TestClip_nested(t *testing.T) {
	blocks := block("B", "0 LINE|8 W|10 -10|11 10|0 LINE|8 W|10 -10|11 -5|0 LINE|8 W|10 6|11 7") + block("C", "0 INSERT|5 2F|8 0|2 B")
	inner := "|0 DICTIONARY|5 39|330 2F|0 DICTIONARY|5 3A|330 39|0 SPATIAL_FILTER|5 3B|330 3A|100 AcDbFilter|70 2|10 -3|20 -1|10 10|20 1|71 1" + noMap + noMap
	objects := strings.Replace(clipOf("70 2|10 -10|20 -1|10 4|20 1", noMap+noMap, ""), "|0 ENDSEC", inner+"|0 ENDSEC", 1)
	d, exc := read(t, withObjects(file("", "", blocks, "0 INSERT|5 1F|8 A|2 C"), objects), Options{UnitMM: 1})
	if lines, _ := lengths(d); len(d.Segments) != 1 || lines != 7 || len(d.Others) != 2 || len(exc) != 2 {
		t.Error(show(d), exc)
	}
}

// Oracle: github.com/peterstace/simplefeatures, intersection and difference.
func TestRegion_line(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	polygons := [][]orb.Point{
		{{0, 0}, {10, 0}, {10, 6}, {0, 6}},
		{{0, 0}, {10, 0}, {10, 10}, {8, 10}, {8, 2}, {2, 2}, {2, 10}, {0, 10}}, // a U
		{{0, 0}, {7, 3}, {9, 12}, {4, 5}, {-3, 8}},
	}
	for range 4000 {
		pts := polygons[rng.IntN(len(polygons))]
		on := func() orb.Point { // often on a corner or level with one
			p := orb.Point{rng.Float64()*24 - 7, rng.Float64()*24 - 7}
			if rng.IntN(3) == 0 {
				p[rng.IntN(2)] = pts[rng.IntN(len(pts))][rng.IntN(2)]
			}
			return p
		}
		a, b := on(), on()
		g := &region{pts: pts, bound: orb.MultiPoint(pts).Bound(), tol: 1e-9, inverted: rng.IntN(2) == 0}
		l := math.Hypot(b[0]-a[0], b[1]-a[1])
		got := 0.0
		for _, p := range g.line(a, b) {
			got += (p[1] - p[0]) * l
		}
		op := geom.Intersection
		if g.inverted {
			op = geom.Difference
		}
		poly := polygonOf(pts, orb.Point{})
		res, err := op(geom.NewLineString(geom.NewSequence([]float64{a[0], a[1], b[0], b[1]}, geom.DimXY)).AsGeometry(), poly.AsGeometry())
		if err != nil {
			t.Fatal(err)
		}
		// along an edge the outline itself is shown either way
		along, _ := geom.Intersection(geom.NewLineString(geom.NewSequence([]float64{a[0], a[1], b[0], b[1]}, geom.DimXY)).AsGeometry(), poly.Boundary().AsGeometry())
		want := res.Length()
		if g.inverted {
			want += along.Length()
		}
		if math.Abs(got-want) > 1e-6 {
			t.Fatalf("%v to %v in %v, inverted %v: %v, want %v", a, b, pts, g.inverted, got, want)
		}
	}
}

// Oracle: points all along the arc, each told within or without by the sum of
// angles to the corners.
func TestRegion_arc(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 1))
	pts := []orb.Point{{0, 0}, {10, 0}, {10, 10}, {8, 10}, {8, 2}, {2, 2}, {2, 10}, {0, 10}}
	within := func(p orb.Point) bool {
		sum := 0.0
		for i, a := range pts {
			b := pts[(i+1)%len(pts)]
			d := math.Atan2(b[1]-p[1], b[0]-p[0]) - math.Atan2(a[1]-p[1], a[0]-p[0])
			sum += math.Remainder(d, 2*math.Pi)
		}
		return math.Abs(sum) > math.Pi
	}
	for range 60 {
		g := &region{pts: pts, bound: orb.MultiPoint(pts).Bound(), tol: 1e-9, inverted: rng.IntN(2) == 0}
		c := orb.Point{rng.Float64() * 12, rng.Float64() * 12}
		r, start, sweep := 0.5+rng.Float64()*8, rng.Float64()*360, 1+rng.Float64()*359
		got := 0.0
		for _, p := range g.arc(c, r, start, sweep) {
			got += p[1] - p[0]
		}
		const n = 20_000
		in := 0
		for i := range n {
			s, co := math.Sincos((start + sweep*(float64(i)+0.5)/n) * math.Pi / 180)
			if within(orb.Point{c[0] + r*co, c[1] + r*s}) != g.inverted {
				in++
			}
		}
		if want := sweep * float64(in) / n; math.Abs(got-want) > sweep*8/n+1e-9 {
			t.Errorf("arc %v %v %v %v, inverted %v: %v, want %v", c, r, start, sweep, g.inverted, got, want)
		}
	}
}

// A clip of many corners over a block of many pieces counts for what it costs.
// Oracle: the limit itself: 100 pieces, each looked at by 640 corners, count 20
// times each beyond their own.
func TestClip_limit(t *testing.T) {
	var corners strings.Builder
	for i := range 640 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 640)
		fmt.Fprintf(&corners, "|10 %g|20 %g", 900*c, 900*s)
	}
	text := withObjects(file("", "", block("B", strings.Repeat("0 LINE|8 W|11 5|", 100)), "0 INSERT|5 1F|8 A|2 B"), clipOf("70 640"+corners.String(), noMap+noMap, ""))
	for max, want := range map[int]string{2200: "", 1500: "too-many-entities"} {
		d, exc := read(t, text, Options{UnitMM: 1, MaxPlaced: max})
		if want == "" && (len(exc) > 0 || len(d.Segments) != 100) || want != "" && (len(exc) != 1 || exc[0].Code != want) {
			t.Errorf("%d: %d segments, %v", max, len(d.Segments), exc)
		}
	}
	over := withObjects(file("", "", block("B", "0 LINE|8 W|11 5"), "0 INSERT|5 1F|8 A|2 B"), clipOf("70 1280"+corners.String()+corners.String(), noMap+noMap, ""))
	if d, exc := read(t, over, Options{UnitMM: 1}); len(d.Segments) != 1 || len(exc) != 1 || exc[0].Severity != plan.Person || exc[0].Code != CodeClipped {
		t.Errorf("%v", exc)
	}
}
