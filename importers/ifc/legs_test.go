package ifc

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// swept is a body with the plan given as points in mm, 3 m high.
func swept(pts ...float64) string {
	var b, refs strings.Builder
	for i := 0; i+1 < len(pts); i += 2 {
		fmt.Fprintf(&b, "#%d=IFCCARTESIANPOINT((%v.,%v.));\n", 200+i, int(pts[i]), int(pts[i+1]))
		fmt.Fprintf(&refs, "#%d,", 200+i)
	}
	return b.String() + "#100=IFCEXTRUDEDAREASOLID(#101,#6,#13,3000.);\n#101=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#102);\n#102=IFCPOLYLINE((" + refs.String() + "#200));\n"
}

func withBody(body string) string {
	s := small(body)
	i, j := strings.Index(s, "#20="), strings.Index(s, "#27=")
	return s[:i] + s[j+strings.Index(s[j:], "\n")+1:]
}

// Oracle: hand: middle lengths of the legs, in the order of their first points.
func TestLegs(t *testing.T) {
	for _, c := range []struct {
		name    string
		plan    []float64
		lengths []float64
	}{
		{"straight", []float64{0, 0, 4000, 0, 4000, 100, 0, 100}, []float64{4000}},
		{"L", []float64{0, 0, 4000, 0, 4000, 3000, 3900, 3000, 3900, 100, 0, 100}, []float64{3950, 2950}},
		{"U", []float64{0, 0, 4000, 0, 4000, 2000, 3900, 2000, 3900, 100, 100, 100, 100, 2000, 0, 2000}, []float64{3900, 1950, 1950}},
		{"Z", []float64{0, 0, 4000, 0, 4000, 2000, 7000, 2000, 7000, 2100, 3900, 2100, 3900, 100, 0, 100}, []float64{3950, 3050, 2000}},
		{"L of two thicknesses", []float64{0, 0, 4000, 0, 4000, 3000, 3800, 3000, 3800, 100, 0, 100}, []float64{3900, 2950}},
		{"obtuse", []float64{0, 0, 4000, 0, 7000, 3000, 6929, 3071, 3959, 100, 0, 100}, []float64{3979, 4222}},
		{"rebate at an end", []float64{0, 0, 4000, 0, 4000, 50, 3950, 50, 3950, 100, 0, 100}, []float64{4000}},
		{"pilaster", []float64{0, 0, 4000, 0, 4000, 100, 2200, 100, 2200, 250, 1800, 250, 1800, 100, 0, 100}, []float64{4000}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, q := read(t, withBody(swept(c.plan...)))
			if len(q) != len(c.lengths) {
				t.Fatalf("%d legs: %+v, %v", len(q), q, p.Exceptions)
			}
			var area float64
			for i := range c.plan {
				j := (i + 2) % len(c.plan)
				if i%2 == 0 {
					area += (c.plan[i]*c.plan[j+1] - c.plan[j]*c.plan[i+1]) / 2
				}
			}
			var volume float64
			left := map[int]bool{}
			for _, a := range q {
				volume += a.VolumeM3
				for i, l := range c.lengths {
					if !left[i] && math.Abs(a.LengthMM-l) < 1 {
						left[i] = true
						break
					}
				}
			}
			if len(left) != len(c.lengths) {
				t.Errorf("legs %+v, want lengths %v", q, c.lengths)
			}
			if want := area * 3000 * 1e-9; math.Abs(volume/want-1) > 1e-5 {
				t.Errorf("volume of all legs %.6f, want %.6f", volume, want)
			}
		})
	}
}

// roundPlan is a quarter ring between two radii, 3 m high.
const roundPlan = `#100=IFCEXTRUDEDAREASOLID(#101,#6,#13,3000.);
#101=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#102);
#102=IFCINDEXEDPOLYCURVE(#103,(IFCARCINDEX((1,2,3)),IFCLINEINDEX((3,4)),IFCARCINDEX((4,5,6)),IFCLINEINDEX((6,1))),.F.);
#103=IFCCARTESIANPOINTLIST2D(((5000.,0.),(3535.533906,3535.533906),(0.,5000.),(0.,4800.),(3394.112550,3394.112550),(4800.,0.)));
`

// Oracle: closed form: arcs of radius 4.8, 4.9 and 5 m over 90°; an opening cut
// radially through the middle takes its angle from each.
func TestRound(t *testing.T) {
	cut := func(r float64) float64 { return 2 * math.Asin(0.5/r) * r * 2 } // 1 m wide, 2 m high, along the radius at 45°
	for _, c := range []struct {
		name, body       string
		left, right, net float64
	}{
		{"whole", roundPlan, math.Pi / 2 * 4.8 * 3, math.Pi / 2 * 5 * 3, math.Pi / 2 * 4.9 * 3},
		{"with an opening", roundPlan + radial, math.Pi/2*4.8*3 - cut(4.8), math.Pi/2*5*3 - cut(5), math.Pi/2*4.9*3 - cut(4.9)},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, q := read(t, withBody(c.body))
			if len(q) != 1 || p.Walls[0].Arc == nil {
				t.Fatalf("%d walls, %v", len(q), p.Exceptions)
			}
			a := q[0]
			lo, hi := min(a.LeftAreaM2, a.RightAreaM2), max(a.LeftAreaM2, a.RightAreaM2)
			for _, v := range []struct {
				what      string
				got, want float64
			}{{"inner", lo, c.left}, {"outer", hi, c.right}, {"middle", a.NetAreaM2, c.net}, {"volume", a.VolumeM3, c.net * 0.2}, {"length", a.LengthMM, math.Pi / 2 * 4900}, {"radius", p.Walls[0].Arc.Radius.MM(), 4900}, {"sweep", math.Abs(p.Walls[0].Arc.Sweep), 90}} {
				if math.Abs(v.got/v.want-1) > 3e-4 {
					t.Errorf("%s %.5f, want %.5f", v.what, v.got, v.want)
				}
			}
			if strings.Contains(c.name, "opening") {
				// Along the axis the inner side is met over 1 m · 4.9 / 4.8.
				if got := openingsText(p); !strings.HasPrefix(got, "framed 3337+1023") {
					t.Errorf("openings %s", got)
				}
			}
		})
	}
}

// radial is an opening of 1 m by 2 m through the ring at 45°, its sill at 0.5 m.
const radial = `#120=IFCOPENINGELEMENT('o',$,'O',$,$,#7,#121,$,.OPENING.);
#121=IFCPRODUCTDEFINITIONSHAPE($,$,(#122));
#122=IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(#123));
#123=IFCEXTRUDEDAREASOLID(#124,#127,#13,2000.);
#124=IFCRECTANGLEPROFILEDEF(.AREA.,$,#125,800.,1000.);
#125=IFCAXIS2PLACEMENT2D(#126,#129);
#126=IFCCARTESIANPOINT((3464.823228,3464.823228));
#127=IFCAXIS2PLACEMENT3D(#128,$,$);
#128=IFCCARTESIANPOINT((0.,0.,500.));
#129=IFCDIRECTION((1.,1.));
#130=IFCRELVOIDSELEMENT('v',$,$,$,#10,#120);
`

// A wall that closes on itself is cut in halves first. Oracle: closed form.
func TestClosed(t *testing.T) {
	ring := "#100=IFCEXTRUDEDAREASOLID(#101,#6,#13,3000.);\n#101=IFCCIRCLEHOLLOWPROFILEDEF(.AREA.,$,$,5000.,200.);\n"
	frame := "#100=IFCEXTRUDEDAREASOLID(#101,#6,#13,3000.);\n#101=IFCRECTANGLEHOLLOWPROFILEDEF(.AREA.,$,$,5000.,4000.,200.,$,$);\n"
	for _, c := range []struct {
		name, body   string
		walls        int
		length, area float64 // of the middle, and of both sides together
		volume       float64
	}{
		{"ring", ring, 2, 2 * math.Pi * 4900, 2 * math.Pi * (5 + 4.8) * 3, math.Pi * (25 - 4.8*4.8) * 3},
		{"frame", frame, 6, 2 * (4800 + 3800), 2*(5+4)*3 + 2*(4.6+3.6)*3, (20 - 4.6*3.6) * 3},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, q := read(t, withBody(c.body))
			if len(q) != c.walls {
				t.Fatalf("%d walls: %+v, %v", len(q), q, p.Exceptions)
			}
			var length, area, volume float64
			for _, a := range q {
				length, area, volume = length+a.LengthMM, area+a.LeftAreaM2+a.RightAreaM2, volume+a.VolumeM3
			}
			for _, v := range [][2]float64{{length, c.length}, {area, c.area}, {volume, c.volume}} {
				if math.Abs(v[0]/v[1]-1) > 3e-4 {
					t.Errorf("%.5f, want %.5f", v[0], v[1])
				}
			}
		})
	}
}

// A wall cut through from foot to top is two walls. Oracle: hand.
func TestPieces(t *testing.T) {
	p, q := read(t, withBody(box4m+`#100=IFCBOOLEANRESULT(.DIFFERENCE.,#104,#105);
#104=IFCEXTRUDEDAREASOLID(#103,#6,#13,3000.);
#105=IFCEXTRUDEDAREASOLID(#106,#6,#13,4000.);
#106=IFCRECTANGLEPROFILEDEF(.AREA.,$,#107,900.,300.);
#107=IFCAXIS2PLACEMENT2D(#108,$);
#108=IFCCARTESIANPOINT((1500.,0.));
`))
	if len(q) != 2 || math.Abs(q[0].LengthMM-1050) > 1e-6 || math.Abs(q[1].LengthMM-2050) > 1e-6 || math.Abs(q[0].LeftAreaM2-3.15) > 1e-9 {
		t.Fatalf("%+v, %v", q, p.Exceptions)
	}
	for _, w := range p.Walls {
		if w.Sources[0].GUID != "w" || w.Doubt != "" {
			t.Errorf("%+v", w)
		}
	}
}
