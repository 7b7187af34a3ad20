package ifc

import (
	"bytes"
	"math"
	"math/rand"
	"os"
	"regexp"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
)

// small is a model of one wall of the body given, with an opening; numbers from
// #100 on are the body's own.
func small(body string) string {
	return `ISO-10303-21;
HEADER;
FILE_SCHEMA(('IFC4'));
ENDSEC;
DATA;
#1=IFCPROJECT('p',$,'P',$,$,$,$,$,#2);
#2=IFCUNITASSIGNMENT((#3,#4));
#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);
#4=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);
#5=IFCCARTESIANPOINT((0.,0.,0.));
#6=IFCAXIS2PLACEMENT3D(#5,$,$);
#7=IFCLOCALPLACEMENT($,#6);
#8=IFCBUILDINGSTOREY('s',$,'Ground',$,$,#7,$,$,.ELEMENT.,0.);
#9=IFCRELCONTAINEDINSPATIALSTRUCTURE('c',$,$,$,(#10),#8);
#10=IFCWALL('w',$,'W',$,'Type',#7,#11,'1',.STANDARD.);
#11=IFCPRODUCTDEFINITIONSHAPE($,$,(#12));
#12=IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(#100));
#13=IFCDIRECTION((0.,0.,1.));
#20=IFCOPENINGELEMENT('o',$,'O',$,$,#7,#21,$,.OPENING.);
#21=IFCPRODUCTDEFINITIONSHAPE($,$,(#22));
#22=IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(#23));
#23=IFCEXTRUDEDAREASOLID(#24,#6,#13,2100.);
#24=IFCRECTANGLEPROFILEDEF(.AREA.,$,#25,900.,400.);
#25=IFCAXIS2PLACEMENT2D(#26,$);
#26=IFCCARTESIANPOINT((1500.,0.));
#27=IFCRELVOIDSELEMENT('v',$,$,$,#10,#20);
` + body + `ENDSEC;
END-ISO-10303-21;
`
}

const box4m = `#101=IFCAXIS2PLACEMENT2D(#102,$);
#102=IFCCARTESIANPOINT((2000.,0.));
#103=IFCRECTANGLEPROFILEDEF(.AREA.,$,#101,4000.,124.);
`

// bodies of one wall, 4 m long, 124 mm thick, 3 m high and without an opening
// 12 m² on each side, and what the opening of 0.9 × 2.1 m leaves of it.
var bodies = []struct {
	name, body  string
	left, right float64 // m², net
	volume      float64 // m³, net
}{
	// Oracle: hand sums.
	{"extrusion", box4m + `#100=IFCEXTRUDEDAREASOLID(#103,#6,#13,3000.);
`, 12 - 1.89, 12 - 1.89, (12 - 1.89) * 0.124},
	{"half space", box4m + `#100=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#104,#105);
#104=IFCEXTRUDEDAREASOLID(#103,#6,#13,3000.);
#105=IFCHALFSPACESOLID(#106,.F.);
#106=IFCPLANE(#107);
#107=IFCAXIS2PLACEMENT3D(#108,#109,$);
#108=IFCCARTESIANPOINT((0.,0.,3000.));
#109=IFCDIRECTION((1.,0.,4.));
`, 12 - 2 - 1.89, 12 - 2 - 1.89, (10 - 1.89) * 0.124},
	{"bounded half space", box4m + `#100=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#104,#105);
#104=IFCEXTRUDEDAREASOLID(#103,#6,#13,3000.);
#105=IFCPOLYGONALBOUNDEDHALFSPACE(#106,.F.,#6,#110);
#106=IFCPLANE(#107);
#107=IFCAXIS2PLACEMENT3D(#108,#13,$);
#108=IFCCARTESIANPOINT((0.,0.,2500.));
#110=IFCPOLYLINE((#111,#112,#113,#114,#111));
#111=IFCCARTESIANPOINT((3000.,-500.));
#112=IFCCARTESIANPOINT((5000.,-500.));
#113=IFCCARTESIANPOINT((5000.,500.));
#114=IFCCARTESIANPOINT((3000.,500.));
`, 12 - 0.5 - 1.89, 12 - 0.5 - 1.89, (11.5 - 1.89) * 0.124},
	{"boolean with a solid on one side", box4m + `#100=IFCBOOLEANRESULT(.DIFFERENCE.,#104,#105);
#104=IFCEXTRUDEDAREASOLID(#103,#6,#13,3000.);
#105=IFCEXTRUDEDAREASOLID(#106,#6,#13,1000.);
#106=IFCRECTANGLEPROFILEDEF(.AREA.,$,#107,1000.,124.);
#107=IFCAXIS2PLACEMENT2D(#108,$);
#108=IFCCARTESIANPOINT((3500.,62.));
`, 12 - 1.89, 12 - 1.89, (12-1.89)*0.124 - 0.062},
	{"arched profile swept across", `#100=IFCEXTRUDEDAREASOLID(#103,#104,#13,124.);
#103=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#105);
#104=IFCAXIS2PLACEMENT3D(#106,#107,#108);
#105=IFCINDEXEDPOLYCURVE(#109,(IFCLINEINDEX((1,2,3)),IFCARCINDEX((3,4,5)),IFCLINEINDEX((5,1))),.F.);
#106=IFCCARTESIANPOINT((0.,62.,0.));
#107=IFCDIRECTION((0.,-1.,0.));
#108=IFCDIRECTION((1.,0.,0.));
#109=IFCCARTESIANPOINTLIST2D(((0.,0.),(4000.,0.),(4000.,1000.),(2000.,3000.),(0.,1000.)));
`, 4 + math.Pi*2 - 1.89, 4 + math.Pi*2 - 1.89, (4 + math.Pi*2 - 1.89) * 0.124},
	{"triangles", `#100=IFCTRIANGULATEDFACESET(#101,$,.T.,((1,3,2),(1,4,3),(5,6,7),(5,7,8),(1,2,6),(1,6,5),(2,3,7),(2,7,6),(3,4,8),(3,8,7),(4,1,5),(4,5,8)),$);
#101=IFCCARTESIANPOINTLIST3D(((0.,-62.,0.),(4000.,-62.,0.),(4000.,62.,0.),(0.,62.,0.),(0.,-62.,3000.),(4000.,-62.,3000.),(4000.,62.,3000.),(0.,62.,3000.)));
`, 12 - 1.89, 12 - 1.89, (12 - 1.89) * 0.124},
	{"polygons with a hole of their own", `#100=IFCPOLYGONALFACESET(#101,.T.,(#110,#111,#112,#113,#114,#115,#116,#117,#118,#119),$);
#101=IFCCARTESIANPOINTLIST3D(((0.,-62.,0.),(4000.,-62.,0.),(4000.,62.,0.),(0.,62.,0.),(0.,-62.,3000.),(4000.,-62.,3000.),(4000.,62.,3000.),(0.,62.,3000.),(3000.,-62.,1000.),(3500.,-62.,1000.),(3500.,-62.,2000.),(3000.,-62.,2000.),(3000.,62.,1000.),(3500.,62.,1000.),(3500.,62.,2000.),(3000.,62.,2000.)));
#110=IFCINDEXEDPOLYGONALFACEWITHVOIDS((1,2,6,5),((9,12,11,10)));
#111=IFCINDEXEDPOLYGONALFACEWITHVOIDS((4,8,7,3),((13,14,15,16)));
#112=IFCINDEXEDPOLYGONALFACE((1,4,3,2));
#113=IFCINDEXEDPOLYGONALFACE((5,6,7,8));
#114=IFCINDEXEDPOLYGONALFACE((2,3,7,6));
#115=IFCINDEXEDPOLYGONALFACE((4,1,5,8));
#116=IFCINDEXEDPOLYGONALFACE((9,10,14,13));
#117=IFCINDEXEDPOLYGONALFACE((10,11,15,14));
#118=IFCINDEXEDPOLYGONALFACE((11,12,16,15));
#119=IFCINDEXEDPOLYGONALFACE((12,9,13,16));
`, 12 - 1.89 - 0.5, 12 - 1.89 - 0.5, (12 - 1.89 - 0.5) * 0.124},
	{"mapped, turned half round and moved", box4m + `#100=IFCMAPPEDITEM(#104,#105);
#104=IFCREPRESENTATIONMAP(#6,#106);
#105=IFCCARTESIANTRANSFORMATIONOPERATOR3D(#107,#108,#109,1.,#13);
#106=IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(#110));
#107=IFCDIRECTION((-1.,0.,0.));
#108=IFCDIRECTION((0.,-1.,0.));
#109=IFCCARTESIANPOINT((4000.,0.,0.));
#110=IFCEXTRUDEDAREASOLID(#103,#6,#13,3000.);
`, 12 - 1.89, 12 - 1.89, (12 - 1.89) * 0.124},
	{"triangles, mapped and mirrored", `#100=IFCMAPPEDITEM(#104,#105);
#104=IFCREPRESENTATIONMAP(#6,#106);
#105=IFCCARTESIANTRANSFORMATIONOPERATOR3D(#107,#108,#5,1.,#13);
#106=IFCSHAPEREPRESENTATION($,'Body','Tessellation',(#110));
#107=IFCDIRECTION((1.,0.,0.));
#108=IFCDIRECTION((0.,-1.,0.));
#110=IFCTRIANGULATEDFACESET(#101,$,.T.,((1,3,2),(1,4,3),(5,6,7),(5,7,8),(1,2,6),(1,6,5),(2,3,7),(2,7,6),(3,4,8),(3,8,7),(4,1,5),(4,5,8)),$);
#101=IFCCARTESIANPOINTLIST3D(((0.,-62.,0.),(4000.,-62.,0.),(4000.,62.,0.),(0.,62.,0.),(0.,-62.,3000.),(4000.,-62.,2000.),(4000.,62.,3000.),(0.,62.,3000.)));
`, 10 - 1.89, 12 - 1.89, (4*(8.0/3+3)/2 - 1.89) * 0.124},
}

func TestBodies(t *testing.T) {
	for _, c := range bodies {
		t.Run(c.name, func(t *testing.T) {
			text := small(c.body)
			p, q, err := ReadQuantities("m.ifc", strings.NewReader(text), int64(len(text)), Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(p.Walls) != 1 {
				t.Fatalf("%d walls, %v", len(p.Walls), p.Exceptions)
			}
			a := q[0]
			for _, v := range []struct {
				what      string
				got, want float64
			}{{"left", a.LeftAreaM2, c.left}, {"right", a.RightAreaM2, c.right}, {"volume", a.VolumeM3, c.volume}, {"length", a.LengthMM, 4000}, {"thickness", a.ThicknessMM, 124}} {
				if math.Abs(v.got/v.want-1) > 5e-5 { // an arc of 2 m radius in chords of 1° is 4e-5 short
					t.Errorf("%s %.6f, want %.6f", v.what, v.got, v.want)
				}
			}
			if !p.Ledger[0].Balanced() || p.Ledger[0].Used != 2 {
				t.Errorf("ledger %+v", p.Ledger[0])
			}
		})
	}
}

// FuzzRead looks for panics, hangs and ledgers that do not add up.
func FuzzRead(f *testing.F) {
	for _, c := range bodies {
		f.Add([]byte(small(c.body)))
	}
	f.Fuzz(func(t *testing.T, b []byte) { holds(t, b) })
}

// holds checks what is true of any input: no panic, sums that add up, numbers.
func holds(t *testing.T, b []byte) {
	t.Helper()
	p, q, err := ReadQuantities("f", bytes.NewReader(b), int64(len(b)), Options{Workers: 1})
	if err != nil {
		return
	}
	if len(p.Walls) != len(q) || !p.Ledger[0].Balanced() {
		t.Errorf("%d walls, %d quantities, ledger %+v", len(p.Walls), len(q), p.Ledger[0])
	}
	for i, a := range q {
		for _, v := range []float64{a.LengthMM, a.ThicknessMM, a.HeightMM, a.LeftAreaM2, a.RightAreaM2, a.NetAreaM2, a.GrossAreaM2, a.VolumeM3} {
			if math.IsNaN(v) || v < -1e-6*(1+math.Abs(a.GrossAreaM2)) {
				t.Errorf("wall %d: %+v", i, a)
				break
			}
		}
		for _, s := range p.Walls[i].Sides {
			if len(s.Outline) > 0 && len(s.Outline) < 3 {
				t.Errorf("wall %d: outline of %d points", i, len(s.Outline))
			}
		}
	}
}

var token = regexp.MustCompile(`#[0-9]+|-?[0-9]+\.[0-9E-]*|\.[A-Z]+\.|IFC[A-Z0-9]+`)

// mutated returns a model with a few of its tokens replaced: numbers by awkward
// ones, references by others, entities by others of the model.
func mutated(r *rand.Rand, text string) string {
	for range 1 + r.Intn(3) {
		at := token.FindAllStringIndex(text, -1)
		i, j := r.Intn(len(at)), r.Intn(len(at))
		old, other := text[at[i][0]:at[i][1]], text[at[j][0]:at[j][1]]
		numbers := []string{"0.", "-1.", "1.E-9", "1.E9", "1.E300", "62.", "-62.", "3000.", "0.5", "$", "*", "()"}
		with := numbers[r.Intn(len(numbers))]
		if r.Intn(2) == 0 && (old[0] == '#') == (other[0] == '#') && (old[0] == 'I') == (other[0] == 'I') {
			with = other
		} else if old[0] == 'I' {
			with = other
		}
		text = text[:at[i][0]] + with + text[at[i][1]:]
	}
	return text
}

// Random faults in sound models; the seed and number of a failing one are
// printed.
func TestMutations(t *testing.T) {
	n := 150
	if s := os.Getenv("BOARDRUN_MUTATIONS"); s != "" {
		n, _ = strconv.Atoi(s)
	}
	for _, c := range bodies {
		r := rand.New(rand.NewSource(7))
		for i := range n {
			text := mutated(r, small(c.body))
			func() {
				defer func() {
					if p := recover(); p != nil {
						t.Fatalf("%s, mutation %d: %v\n%s\n%s", c.name, i, p, debug.Stack(), text)
					}
				}()
				holds(t, []byte(text))
			}()
			if t.Failed() {
				t.Fatalf("%s, mutation %d:\n%s", c.name, i, text)
			}
		}
	}
}

// FuzzSection looks for sections whose area is impossible: more than the box of
// a prism cut by a plane anywhere, or a part larger than the whole.
func FuzzSection(f *testing.F) {
	f.Add(0.0, 0.0, 4000.0, 0.0, 4000.0, 124.0, 0.0, 124.0, 3000.0, 1.0, 4.0, 9000.0, 62.0)
	f.Add(0.0, 0.0, 4000.0, 10.0, 3000.0, 300.0, 100.0, 200.0, 3000.0, -1.0, 1.0, 100.0, 200.0)
	f.Fuzz(func(t *testing.T, ax, ay, bx, by, cx, cy, dx, dy, h, na, nc, d, y float64) {
		for _, v := range []float64{ax, ay, bx, by, cx, cy, dx, dy, h, na, nc, d, y} {
			if !(math.Abs(v) < 1e6) {
				return
			}
		}
		outer := ring{{ax, ay}, {bx, by}, {cx, cy}, {dx, dy}}.tidy()
		if outer == nil || !outer.convex() || h < 1 || math.Hypot(na, nc) < 1e-3 {
			return
		}
		body := &prism{[]shape{{outer: outer.turned(true)}}, vec{}, vec{1, 0, 0}, vec{0, 1, 0}, vec{0, 0, h}}
		half := &halfSpace{n: vec{na, 0, nc}.unit(), d: d}
		p := plane{y: y, side: 1}
		whole, kept, gone := body.section(p).area(), (&boolean{'*', body, half}).section(p).area(), (&boolean{'-', body, half}).section(p).area()
		b := outer.bounds()
		if whole > (b.hi.u-b.lo.u)*h*(1+1e-9)+1 {
			t.Errorf("a section of %g in a box of %g", whole, (b.hi.u-b.lo.u)*h)
		}
		if math.Abs(kept+gone-whole) > 1e-6*whole+2*sliver {
			t.Errorf("%g kept and %g gone of %g", kept, gone, whole)
		}
	})
}
