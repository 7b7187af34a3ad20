package ifc

import (
	"math"
	"strings"
	"testing"

	"boardrun/internal/plan"
)

const commonOfType = `#60=IFCWALLTYPE('t',$,'P1',$,$,(#61),$,$,$,.STANDARD.);
#61=IFCPROPERTYSET('ps1',$,'Pset_WallCommon',$,(#62,#63));
#62=IFCPROPERTYSINGLEVALUE('FireRating',$,IFCLABEL('1 HR'),$);
#63=IFCPROPERTYENUMERATEDVALUE('Status',$,(IFCLABEL('EXISTING')),$);
#64=IFCRELDEFINESBYTYPE('r',$,$,$,(#10),#60);
`

const commonOfWall = `#65=IFCPROPERTYSET('ps2',$,'Pset_WallCommon',$,(#66,#67));
#66=IFCPROPERTYSINGLEVALUE('FireRating',$,IFCLABEL('2 HR'),$);
#67=IFCPROPERTYENUMERATEDVALUE('Status',$,(IFCLABEL('DEMOLISH')),$);
#68=IFCRELDEFINESBYPROPERTIES('r2',$,$,$,(#10),#65);
`

// Oracle: ISO 16739-1, override of type properties by occurrence properties.
func TestProperties(t *testing.T) {
	for _, c := range []struct {
		name, more, rating string
		status             plan.Status
		typ                string
	}{
		{"nothing", "", "", plan.New, "Type"},
		{"of the type", commonOfType, "1 HR", plan.Existing, "P1"},
		{"of the wall", commonOfWall, "2 HR", plan.Demolish, "Type"},
		{"of both: the wall's count", commonOfType + commonOfWall, "2 HR", plan.Demolish, "P1"},
		{"broken set", "#68=IFCRELDEFINESBYPROPERTIES('r2',$,$,$,(#10),#999);\n", "", plan.New, "Type"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, _ := read(t, house(c.more))
			if w := p.Walls[0]; w.Rating != c.rating || w.Status != c.status || w.TypeName != c.typ {
				t.Errorf("rating %q, %s, type %q", w.Rating, w.Status, w.TypeName)
			}
		})
	}
}

// layers is a layer set usage of materials and thicknesses, first to last.
func layers(sense string, names ...string) string {
	var b strings.Builder
	b.WriteString("#70=IFCRELASSOCIATESMATERIAL('m',$,$,$,(#10),#71);\n#71=IFCMATERIALLAYERSETUSAGE(#72,.AXIS2.,." + sense + ".,-62.,$);\n")
	var refs []string
	for i, n := range names {
		name, thick, _ := strings.Cut(n, "=")
		id, mat := "#8"+string(rune('0'+i)), "#9"+string(rune('0'+i))
		refs = append(refs, id)
		b.WriteString(id + "=IFCMATERIALLAYER(" + mat + "," + thick + ".,$,$,$,$,$);\n" + mat + "=IFCMATERIAL('" + name + "',$,$);\n")
	}
	return b.String() + "#72=IFCMATERIALLAYERSET((" + strings.Join(refs, ",") + "),'Set',$);\n"
}

// Oracle: for the order, ISO 16739-1 IfcMaterialLayerSetUsage (layers stack
// towards +y, the left, if the sense is positive); kinds by what a boarder says
// of such walls.
func TestMakeUps(t *testing.T) {
	for _, c := range []struct {
		name, more, order string
		kind              plan.WallKind
	}{
		{"none", "", "", plan.Partition},
		{"stud, positive", layers("POSITIVE", "Gypsum board=16", "Steel stud=92", "Sheathing=16"), "Sheathing Steel stud Gypsum board", plan.Partition},
		{"stud, negative", layers("NEGATIVE", "Gypsum board=16", "Steel stud=92", "Sheathing=16"), "Gypsum board Steel stud Sheathing", plan.Partition},
		{"brick", layers("NEGATIVE", "Facing brick=102", "Insulation=75", "Concrete block=100", "Plaster=12"), "Facing brick Insulation Concrete block Plaster", plan.Masonry},
		{"concrete", layers("NEGATIVE", "Stahlbeton C30=240"), "Stahlbeton C30", plan.Masonry},
		{"brick veneer on studs", layers("NEGATIVE", "Brick=90", "Air=25", "Metal stud=152", "Gypsum=16"), "Brick Air Metal stud Gypsum", plan.Partition},
		{"shaft", layers("NEGATIVE", "Shaft liner=25", "CH stud=64", "Gypsum=16"), "Shaft liner CH stud Gypsum", plan.ShaftWall},
		{"glass", layers("NEGATIVE", "Glass=12"), "Glass", plan.Glazed},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, _ := read(t, house(c.more))
			w := p.Walls[0]
			var names []string
			for _, l := range w.Layers {
				names = append(names, l.Name)
			}
			if got := strings.Join(names, " "); got != c.order || w.Kind != c.kind {
				t.Errorf("%s (%s), want %s (%s)", got, w.Kind, c.order, c.kind)
			}
			told := 0
			for _, e := range p.Exceptions {
				if e.Code == "wall-kind" {
					told++
				}
			}
			if (told == 1) != (w.Kind != plan.Partition) {
				t.Errorf("%d notes on the kind", told)
			}
		})
	}
}

// Oracle: exact factors; 4000 units of each are the length of the wall.
func TestUnits(t *testing.T) {
	conv := func(name, factor string) string {
		return "#3=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'" + name + "',#31);\n#31=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(" + factor + "),#32);\n#32=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);"
	}
	for _, c := range []struct {
		name, unit string
		mm         float64
	}{
		{"millimetre", "#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);", 1},
		{"centimetre", "#3=IFCSIUNIT(*,.LENGTHUNIT.,.CENTI.,.METRE.);", 10},
		{"metre", "#3=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);", 1000},
		{"foot", conv("FOOT", "0.3048"), 304.8},
		{"foot, rounded by its writer", conv("FOOT", "0.30480000000000002"), 304.8},
		{"inch", conv("INCH", "0.0254"), 25.4},
		{"inch of feet", "#3=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'INCH',#31);\n#31=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(0.083333333333333329),#33);\n" + strings.ReplaceAll(conv("FOOT", "0.3048"), "#31", "#34")[0:0] + "#33=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'FOOT',#34);\n#34=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(0.3048),#32);\n#32=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);", 25.4},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(house(""), "#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);", c.unit, 1)
			p, q := read(t, text)
			if u := p.Drawings[0].Unit; math.Abs(u.MM/c.mm-1) > 1e-12 || u.Assumed {
				t.Errorf("unit %+v", u)
			}
			if math.Abs(q[0].LengthMM-4000*c.mm) > 1e-6*c.mm {
				t.Errorf("length %v", q[0].LengthMM)
			}
		})
	}
}

// A curtain wall is among the walls, with its box and a reason, and no sides.
func TestCurtain(t *testing.T) {
	p, q := read(t, house(`#40=IFCCURTAINWALL('cw',$,'Front',$,'Glazing',#7,$,$,$);
#41=IFCPLATE('pl',$,'Pane',$,$,#7,#11,$,$);
#42=IFCRELAGGREGATES('a',$,$,$,#40,(#41));
`))
	if len(p.Walls) != 2 {
		t.Fatalf("%d walls, %v", len(p.Walls), p.Exceptions)
	}
	for i, w := range p.Walls {
		if w.Sources[0].GUID != "cw" {
			continue
		}
		if w.Kind != plan.Curtain || math.Abs(q[i].LengthMM-4000) > 1e-6 || math.Abs(q[i].HeightMM-3000) > 1e-6 || len(w.Sides[0].Outline) != 0 || w.Thickness.MM() != 124 {
			t.Errorf("%+v %+v", w, q[i])
		}
	}
	told := false
	for _, e := range p.Exceptions {
		told = told || e.Code == CodeWallKind && strings.Contains(e.Message, "curtain wall")
	}
	if !told {
		t.Errorf("nobody says why it is not boarded: %v", p.Exceptions)
	}
}
