package ifc

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"boardrun/internal/plan"
)

// house is a wall like that of small, without the opening, and whatever else
// the text adds.
func house(more string) string {
	s := small(box4m + "#100=IFCEXTRUDEDAREASOLID(#103,#6,#13,3000.);\n" + more)
	i, j := strings.Index(s, "#20="), strings.Index(s, "#27=")
	return s[:i] + s[j+strings.Index(s[j:], "\n")+1:]
}

// hole is an opening element of the wall: a box from u0 to u1, y0 to y1 and z0
// to z1 in mm; n, of two digits, numbers its instances.
func hole(n int, u0, u1, y0, y1, z0, z1 float64) string {
	f := func(v float64) string { return fmt.Sprintf("%.1f", v) }
	return strings.NewReplacer("@", fmt.Sprint(n), "<cu>", f((u0+u1)/2), "<cy>", f((y0+y1)/2), "<du>", f(u1-u0), "<dy>", f(y1-y0), "<dz>", f(z1-z0), "<z0>", f(z0)).
		Replace(`#@0=IFCOPENINGELEMENT('o@',$,'O',$,$,#7,#@1,$,.OPENING.);
#@1=IFCPRODUCTDEFINITIONSHAPE($,$,(#@2));
#@2=IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(#@3));
#@3=IFCEXTRUDEDAREASOLID(#@4,#@7,#13,<dz>);
#@4=IFCRECTANGLEPROFILEDEF(.AREA.,$,#@5,<du>,<dy>);
#@5=IFCAXIS2PLACEMENT2D(#@6,$);
#@6=IFCCARTESIANPOINT((<cu>,<cy>));
#@7=IFCAXIS2PLACEMENT3D(#@8,$,$);
#@8=IFCCARTESIANPOINT((0.,0.,<z0>));
#@9=IFCRELVOIDSELEMENT('v@',$,$,$,#10,#@0);
`)
}

func read(t *testing.T, text string) (*plan.Plan, []Quantities) {
	t.Helper()
	p, q, err := ReadQuantities("m.ifc", strings.NewReader(text), int64(len(text)), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !p.Ledger[0].Balanced() {
		t.Errorf("ledger %+v", p.Ledger[0])
	}
	return p, q
}

// openingsText writes openings and what is told of them on one line.
func openingsText(p *plan.Plan) string {
	var s []string
	for _, o := range p.Openings {
		w := fmt.Sprintf("%s %.0f+%.0f %.0f..%.0f", o.Kind, o.At.MM()-o.Width.MM()/2, o.Width.MM(), o.Sill.MM(), o.Head.MM())
		if o.Depth > 0 {
			w += fmt.Sprintf(" deep %.0f", o.Depth.MM())
		}
		s = append(s, w)
	}
	for _, e := range p.Exceptions {
		if e.Severity > plan.Note {
			s = append(s, e.Code)
		}
	}
	return strings.Join(s, "; ")
}

// Oracle: hand sums on a wall of 4 × 3 m, 124 mm thick.
func TestOpenings(t *testing.T) {
	for _, c := range []struct {
		name, more  string
		left, right float64
		volume      float64
		want        string
	}{
		{"none", "", 12, 12, 12 * 0.124, ""},
		{"door height", hole(20, 1000, 1900, -100, 100, 0, 2100), 12 - 1.89, 12 - 1.89, (12 - 1.89) * 0.124, "framed 1000+900 0..2100"},
		{"duct", hole(20, 1000, 1300, -100, 100, 2000, 2200), 12 - 0.06, 12 - 0.06, (12 - 0.06) * 0.124, "penetration 1000+300 2000..2200"},
		{"ends at both faces exactly", hole(20, 1000, 1300, -62, 62, 2000, 2200), 12 - 0.06, 12 - 0.06, (12 - 0.06) * 0.124, "penetration 1000+300 2000..2200"},
		{"niche on the left", hole(20, 1000, 1600, 12, 100, 1000, 2000), 12 - 0.6, 12, 12*0.124 - 0.6*0.05, "niche 1000+600 1000..2000 deep 50"},
		{"niche on the right", hole(20, 1000, 1600, -100, -12, 1000, 2000), 12, 12 - 0.6, 12*0.124 - 0.6*0.05, "niche 1000+600 1000..2000 deep 50"},
		{"grazes the left", hole(20, 1000, 1600, 60, 100, 1000, 2000), 12, 12, 12 * 0.124, ""},
		{"overlapping", hole(20, 1000, 2000, -100, 100, 1000, 2000) + hole(30, 1500, 2500, -100, 100, 1500, 2500), 12 - 1.75, 12 - 1.75, (12 - 1.75) * 0.124, "framed 1000+1000 1000..2000; framed 1500+1000 1500..2500"},
		{"twice the same", hole(20, 1000, 2000, -100, 100, 1000, 2000) + hole(30, 1000, 2000, -100, 100, 1000, 2000), 12 - 1, 12 - 1, 11 * 0.124, "framed 1000+1000 1000..2000; framed 1000+1000 1000..2000"},
		{"larger than the wall", hole(20, -500, 1000, -100, 100, -500, 5000), 12 - 3, 12 - 3, 9 * 0.124, "framed 0+1000 0..3000"},
		{"beside the wall", hole(20, 5000, 6000, -100, 100, 0, 2000), 12, 12, 12 * 0.124, "opening-misses-wall"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, q := read(t, house(c.more))
			if len(q) != 1 {
				t.Fatal(p.Exceptions)
			}
			for _, v := range [][2]float64{{q[0].LeftAreaM2, c.left}, {q[0].RightAreaM2, c.right}, {q[0].VolumeM3, c.volume}, {q[0].LeftGrossM2, 12}} {
				if math.Abs(v[0]-v[1]) > 1e-6 {
					t.Errorf("%.6f, want %.6f in %+v", v[0], v[1], q[0])
				}
			}
			if got := openingsText(p); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

const window = `#50=IFCWINDOW('d',$,'W1',$,$,#51,#54,'77',1000.,800.,.WINDOW.,$,$);
#51=IFCLOCALPLACEMENT(#7,#52);
#52=IFCAXIS2PLACEMENT3D(#53,$,$);
#53=IFCCARTESIANPOINT((1500.,0.,900.));
#54=IFCPRODUCTDEFINITIONSHAPE($,$,(#55));
#55=IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(#56));
#56=IFCEXTRUDEDAREASOLID(#57,#6,#13,1000.);
#57=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,800.,60.);
#58=IFCRELCONTAINEDINSPATIALSTRUCTURE('c2',$,$,$,(#50),#8);
`

// A window fills an opening, has none in a solid wall, or stands in a hole that
// only the body has; and there is one that hangs in the air.
func TestWindows(t *testing.T) {
	fill := hole(20, 1100, 1900, -100, 100, 900, 1900)
	for _, c := range []struct{ name, text, want string }{
		{"fills", house(window + fill + "#59=IFCRELFILLSELEMENT('f',$,$,$,#200,#50);\n"), "window 1100+800 900..1900"},
		{"opening without relation", house(window + fill), "window 1100+800 900..1900"},
		{"no opening", house(window), "window 1100+800 900..1900; door-without-opening"},
		{"in the air", house(strings.Replace(window, "(1500.,0.,900.)", "(1500.,900.,900.)", 1)), ""},
		{"on no storey", house(strings.Replace(window, "(#50),#8", "(#50),#999", 1)), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, _ := read(t, c.text)
			if got := openingsText(p); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
			for _, o := range p.Openings {
				if o.Mark != "W1" {
					t.Errorf("mark %q", o.Mark)
				}
			}
		})
	}
}
