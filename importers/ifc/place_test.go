package ifc

import (
	"math"
	"strings"
	"testing"

	"boardrun/internal/plan"
)

// Oracle: hand: a wall of 4 × 3 m turned by 90° at (10, 20) m of a storey at
// +3 m, which stands in a building moved by (100, 0, 1) m.
func TestPlacements(t *testing.T) {
	text := strings.Replace(house(`#40=IFCLOCALPLACEMENT($,#41);
#41=IFCAXIS2PLACEMENT3D(#42,$,$);
#42=IFCCARTESIANPOINT((100000.,0.,1000.));
#43=IFCLOCALPLACEMENT(#40,#44);
#44=IFCAXIS2PLACEMENT3D(#45,$,$);
#45=IFCCARTESIANPOINT((0.,0.,3000.));
#46=IFCLOCALPLACEMENT(#43,#47);
#47=IFCAXIS2PLACEMENT3D(#48,#13,#49);
#48=IFCCARTESIANPOINT((10000.,20000.,150.));
#49=IFCDIRECTION((0.,2.,0.));
`), "'Type',#7,", "'Type',#46,", 1)
	text = strings.Replace(text, "'Ground',$,$,#7,", "'Ground',$,$,#43,", 1)
	p, _ := read(t, text)
	w := p.Walls[0]
	got := []float64{w.Axis[0].X.MM(), w.Axis[0].Y.MM(), w.Axis[1].X.MM(), w.Axis[1].Y.MM(), w.Base.MM(), w.Height.MM(), p.Storeys[0].Elevation.MM()}
	want := []float64{110000, 20000, 110000, 24000, 150, 3000, 4000}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-6 {
			t.Errorf("got %v, want %v", got, want)
			break
		}
	}
	if w.Storey != "Ground" || w.Sources[0].GUID != "w" || w.Sources[0].Ref != "#10" || w.Sources[0].Entity != "IFCWALL" {
		t.Errorf("%q %+v", w.Storey, w.Sources)
	}
}

// A wall counted with its parts, by its parts, or instead of them.
func TestParts(t *testing.T) {
	whole := `#30=IFCWALL('whole',$,'Whole',$,$,#7,$,$,$);
#31=IFCRELAGGREGATES('a',$,$,$,#30,(#10));
`
	part := `#33=IFCBUILDINGELEMENTPART('part',$,'Board',$,$,#7,#11,$,$);
#34=IFCRELAGGREGATES('a2',$,$,$,#10,(#33));
`
	for _, c := range []struct {
		name, text, guid string
		ignored          string
	}{
		{"whole without body, of walls", house(whole), "w", "counted by the walls it is made of"},
		{"whole with body, of walls", house(strings.Replace(whole, "#7,$,$,$)", "#7,#11,$,$)", 1)), "whole", "part of a wall that is counted as a whole"},
		{"of parts", strings.Replace(house(part), "'Type',#7,#11,", "'Type',#7,$,", 1), "w", "part of a wall that is counted as a whole"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, q := read(t, c.text)
			if len(q) != 1 || p.Walls[0].Sources[0].GUID != c.guid || math.Abs(q[0].LeftAreaM2-12) > 1e-9 {
				t.Fatalf("%+v, %v", q, p.Exceptions)
			}
			if l := p.Ledger[0]; len(l.Ignored) != 1 || l.Ignored[0].Reason != c.ignored {
				t.Errorf("ledger %+v", l)
			}
		})
	}
}

// deckText is a slab 4 × 3 m, 200 mm thick, its underside at z, under a tilted
// position where tilt is set: it rises by 1 in 4 along x.
func deckText(entity, kind, z, axis string) string {
	return `#30=` + entity + `('d',$,'D',$,$,#7,#31,$,.` + kind + `.);
#31=IFCPRODUCTDEFINITIONSHAPE($,$,(#32));
#32=IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(#33));
#33=IFCEXTRUDEDAREASOLID(#34,#35,#13,200.);
#34=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,4000.,3000.);
#35=IFCAXIS2PLACEMENT3D(#36,` + axis + `,$);
#36=IFCCARTESIANPOINT((2000.,0.,` + z + `));
#37=IFCDIRECTION((-1.,0.,4.));
#38=IFCRELCONTAINEDINSPATIALSTRUCTURE('c3',$,$,$,(#30),#8);
`
}

// Oracle: hand.
func TestDecks(t *testing.T) {
	for _, c := range []struct {
		name, text      string
		decks, ceilings int
		low, high       float64 // heights of the underside at its ends along x, mm
	}{
		{"slab above", house(deckText("IFCSLAB", "FLOOR", "3000.", "$")), 1, 0, 3000, 3000},
		{"sloped roof", house(deckText("IFCROOF", "SHED_ROOF", "3000.", "#37")), 1, 0, 3000 - 2000*math.Sin(math.Atan(0.25)), 3000 + 2000*math.Sin(math.Atan(0.25))},
		{"slab below", house(deckText("IFCSLAB", "BASESLAB", "-200.", "$")), 0, 0, 0, 0},
		{"ceiling", house(deckText("IFCCOVERING", "CEILING", "2700.", "$")), 0, 1, 2700, 2700},
		{"cladding", house(deckText("IFCCOVERING", "CLADDING", "2700.", "$")), 0, 0, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, _ := read(t, c.text)
			if len(p.Decks) != c.decks || len(p.Ceilings) != c.ceilings {
				t.Fatalf("%d decks, %d ceilings, ledger %+v", len(p.Decks), len(p.Ceilings), p.Ledger)
			}
			for _, d := range append(p.Decks, p.Ceilings...) {
				low, high := math.Inf(1), math.Inf(-1)
				for _, q := range d.Plane {
					low, high = min(low, q.Z.MM()), max(high, q.Z.MM())
				}
				if math.Abs(low-c.low) > 0.001 || math.Abs(high-c.high) > 0.001 || d.Storey != "Ground" || len(d.Outline) != 4 {
					t.Errorf("%+v", d)
				}
			}
		})
	}
}

// Oracle: names in the file, areas as the authoring tool labels them (hand
// reading of fzk-haus: seven rooms, the largest the attic).
func TestRooms(t *testing.T) {
	p, _ := mustRead(t, "data/ifc/fzk-haus-ifc4.ifc")
	names := map[string]plan.Room{}
	for _, r := range p.Rooms {
		names[r.Name] = r
	}
	for _, n := range []string{"Schlafzimmer", "Bad", "Buero", "Wohnen", "Flur", "Küche", "Galerie"} {
		if r, ok := names[n]; !ok || len(r.Outline) < 4 || r.Ceiling == 0 {
			t.Errorf("room %s: %+v", n, r)
		}
	}
}

// Turning and moving a model changes no quantity: by 90° not at all beyond the
// last digits, by any angle and at map coordinates by less than 1e-6.
func TestQuantities_turnedAndMoved(t *testing.T) {
	for _, c := range bodies {
		text := small(c.body)
		_, want := read(t, text)
		for _, d := range []struct{ name, dir, at string }{
			{"90°", "(0.,1.,0.)", "(0.,0.,0.)"}, {"180°", "(-1.,0.,0.)", "(0.,0.,0.)"}, {"37°", "(0.798635510047293,0.601815023152048,0.)", "(0.,0.,0.)"},
			{"map coordinates", "(0.6,0.8,0.)", "(500000000.,5800000000.,100000.)"},
		} {
			t.Run(c.name+" "+d.name, func(t *testing.T) {
				turned := strings.Replace(text, "#7=IFCLOCALPLACEMENT($,#6);", "#7=IFCLOCALPLACEMENT($,#90);\n#90=IFCAXIS2PLACEMENT3D(#91,#13,#92);\n#91=IFCCARTESIANPOINT("+d.at+");\n#92=IFCDIRECTION("+d.dir+");", 1)
				p, q := read(t, turned)
				if len(q) != 1 {
					t.Fatal(p.Exceptions)
				}
				a, b := q[0], want[0]
				for _, v := range [][2]float64{{a.LengthMM, b.LengthMM}, {a.ThicknessMM, b.ThicknessMM}, {a.LeftAreaM2, b.LeftAreaM2}, {a.RightAreaM2, b.RightAreaM2}, {a.NetAreaM2, b.NetAreaM2}, {a.VolumeM3, b.VolumeM3}} {
					if math.Abs(v[0]/v[1]-1) > 1e-6 {
						t.Errorf("%+v\nwant %+v", a, b)
						break
					}
				}
			})
		}
	}
}

// Oracle: hand: a partition of 100 × 2500 mm runs into the left side.
func TestCovered(t *testing.T) {
	stem := `#40=IFCWALL('stem',$,'Stem',$,$,#7,#41,$,$);
#41=IFCPRODUCTDEFINITIONSHAPE($,$,(#42));
#42=IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(#43));
#43=IFCEXTRUDEDAREASOLID(#44,#6,#13,2500.);
#44=IFCRECTANGLEPROFILEDEF(.AREA.,$,#45,100.,2000.);
#45=IFCAXIS2PLACEMENT2D(#46,$);
#46=IFCCARTESIANPOINT((2000.,1062.));
`
	for _, c := range []struct {
		name, more string
		covered    float64
	}{
		{"joined", stem + "#47=IFCRELCONNECTSPATHELEMENTS('j',$,$,$,$,#40,#10,(),(),.ATPATH.,.ATSTART.);\n", 0.25},
		{"not joined", stem, 0},
		{"ends short of it", strings.Replace(stem, "1062.", "1063.", 1) + "#47=IFCRELCONNECTSPATHELEMENTS('j',$,$,$,$,#40,#10,(),(),.ATPATH.,.ATSTART.);\n", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, q := read(t, house(c.more))
			for i, w := range p.Walls {
				if w.Sources[0].GUID == "w" && (math.Abs(q[i].LeftCoveredM2-c.covered) > 1e-9 || q[i].RightCoveredM2 != 0 || math.Abs(q[i].LeftAreaM2-12) > 1e-9) {
					t.Errorf("%+v, want %.3f covered", q[i], c.covered)
				}
				if joined := len(w.Joined) == 1; joined != (c.name != "not joined") {
					t.Errorf("joined to %v", w.Joined)
				}
			}
		})
	}
}
