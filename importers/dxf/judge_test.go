package dxf

import (
	"math"
	"strings"
	"testing"

	"boardrun/internal/plan"
)

// Oracle: the notes of who collected the drawings (INDEX.md there): the unit the
// coordinates are in, whatever the header says.
func TestJudgeUnit(t *testing.T) {
	for _, c := range []struct {
		dir, file, header, unit string
		sure                    bool
	}{
		{"dxf", "house-plan-aia-bound-xrefs.dxf", "mm", "inch", true},
		{"dxf", "pavilion-all-views-r2000.dxf", "inch", "m", true},
		{"dxf", "pavilion-plan-r2013-earlier-revision.dxf", "inch", "m", true},
		{"dxf", "apartment-block-plan-and-section.dxf", "none", "inch", true},
		{"dxf", "pavilion-plan-exported-r12.dxf", "none", "mm", true},
		{"dxf", "pavilion-plan-r2013.dxf", "m", "m", true},
		{"dxf", "villa-plan-wall-high-low.dxf", "m", "m", true},
		{"dxf", "site-and-house-plan-polylines.dxf", "none", "m", true},
		{"dxf", "door-blocks-with-wipeout-on-wall.dxf", "inch", "mm", true},
		{"plans", "clinic-a-ncs-inch-r2010.dxf", "inch", "inch", true},
		{"plans", "clinic-b-ncs-mm-r2018.dxf", "mm", "mm", true},
		{"plans", "library-a-closed-polylines.dxf", "mm", "mm", true},
		{"plans", "library-b-poche-hatch-and-faces.dxf", "inch", "inch", true},
		{"plans", "workshop-a-centrelines-layer-thickness.dxf", "mm", "mm", true},
		{"plans", "workshop-b-german-layers-cm.dxf", "cm", "cm", true},
		{"plans", "from-ifc-fzk-haus-ifc4-erdgeschoss.dxf", "m", "m", true},
		{"plans", "from-ifc-duplex-apartment-level-1.dxf", "mm", "mm", true},
		{"plans", "from-ifc-duplex-apartment-level-2.dxf", "mm", "mm", true},
	} {
		t.Run(c.file, func(t *testing.T) {
			d, _, err := readShared(t, Options{}, "data", c.dir, c.file)
			if err != nil {
				t.Fatal(err)
			}
			j := JudgeUnit(d)
			best := j.Best()
			if j.Header.Name != c.header || best.Unit.Name != c.unit || j.Sure() != c.sure || j.Contradicts() != (c.header != "none" && c.header != c.unit) {
				t.Errorf("header %s, best %s (%.2f), sure %v, contradicts %v", j.Header.Name, best.Unit.Name, best.Score, j.Sure(), j.Contradicts())
			}
			for _, x := range j.Candidates {
				t.Logf("%.2f %s", x.Score, strings.Join(append([]string{x.Unit.Name}, x.Evidence...), "; "))
			}
			// A drawing scaled already is judged the same, but for lines that
			// rounding puts on one level or on two.
			Rescale(d, 25.4)
			if again := JudgeUnit(d).Best(); again.Unit != best.Unit || math.Abs(again.Score-best.Score) > 0.05 {
				t.Errorf("scaled: %s %.3f, was %.3f", again.Unit.Name, again.Score, best.Score)
			}
		})
	}
}

// A witness the header contradicts is heard, one the job overrules is told.
func TestSettle(t *testing.T) {
	house := func() string { return "house-plan-aia-bound-xrefs.dxf" }
	for _, c := range []struct {
		name, dir, file string
		job             float64
		used            string
		assumed         bool
		exc             string
	}{
		{"header contradicted", "dxf", house(), 0, "inch", true, "person [unit-contradicts] the header says mm and the drawing is in inch"},
		{"the job's word counts", "dxf", house(), 25.4, "inch", false, ""},
		{"the job's word counts, and is doubted", "dxf", house(), 1, "mm", false, "warning [unit-contradicts] the job says mm and the drawing looks like inch"},
		{"header silent, drawing sure", "dxf", "apartment-block-plan-and-section.dxf", 0, "inch", true, "warning [no-unit] the header gives no unit; inch fits best"},
		{"header doubted", "dxf", "generated-single-line-plan.dxf", 0, "m", false, "person [unit-contradicts] the header says m, but the drawing looks more like inch, though not surely (for inch: 86 % of the parallel lines stand 2.4 to 16 in apart"},
		{"header and drawing agree", "plans", "clinic-b-ncs-mm-r2018.dxf", 0, "mm", false, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, _, err := readShared(t, Options{}, "data", c.dir, c.file)
			if err != nil {
				t.Fatal(err)
			}
			u, exc := Settle(d, c.job)
			if u.Used != c.used || u.Assumed != c.assumed || u.MM != d.UnitMM {
				t.Errorf("%+v, drawing %g", u, d.UnitMM)
			}
			if (c.exc == "") != (len(exc) == 0) || len(exc) > 0 && !strings.Contains(exc[0].String(), c.exc) {
				t.Errorf("got %v, want %q", exc, c.exc)
			}
		})
	}
	d, _ := read(t, file("", "", "", "0 LINE|8 A|11 1"), Options{})
	if u, exc := Settle(d, 0); !u.Assumed || len(exc) != 1 || exc[0].Severity != plan.Person {
		t.Errorf("nothing to judge by: %+v %v", u, exc)
	}
}

// Oracle: DXF Reference, $INSUNITS; inch, foot and mile by definition, survey
// units from 1200/3937 m, both by hand.
func TestUnits(t *testing.T) {
	for i, u := range units {
		if u.Code != i || u.Name == "" || (u.MM > 0) != (i > 0) {
			t.Errorf("%d: %+v", i, u)
		}
	}
	for _, c := range []struct {
		code int
		mm   float64
	}{{1, 25.4}, {2, 12 * 25.4}, {3, 63360 * 25.4}, {10, 36 * 25.4}, {21, 304.8006096012192}, {22, 304.8006096012192 / 12}, {23, 3 * 304.8006096012192}, {24, 5280 * 304.8006096012192}} {
		if got := UnitOf(c.code).MM; math.Abs(got-c.mm) > 1e-12*c.mm {
			t.Errorf("%d: %.15g, want %.15g", c.code, got, c.mm)
		}
	}
	if UnitOf(-1).Name != "none" || UnitOf(99).Name != "none" {
		t.Error("absent and unknown codes are no unit")
	}
}

func TestReadFeet(t *testing.T) {
	for in, want := range map[string]float64{ // inches; 0: no length in feet and inches
		`12'-3 1/2"`: 147.5, `12'-3"`: 147, `12'`: 144, `3"`: 3, `1/2"`: 0.5, `11/16"`: 0.6875, `3 1/2"`: 3.5, `5' 6"`: 66, `5'6"`: 66,
		`4'-0 1#4"`: 48.25, `12.5'`: 150, `9′-0″`: 108,
		`12`: 0, `a'b`: 0, `'`: 0, `DON'T`: 0, `"`: 0, `3'-`: 36,
	} {
		got, ok := readFeet(in)
		if ok != (want > 0) || ok && math.Abs(got-want*25.4) > 1e-9 {
			t.Errorf("%q: %g %v, want %g", in, got/25.4, ok, want)
		}
	}
}

// A drawing read in a unit and one rescaled to it are the same.
func TestRescale(t *testing.T) {
	for _, file := range []string{"all-entities-r2010-ascii.dxf", "house-plan-aia-bound-xrefs.dxf"} {
		a, _, err := readShared(t, Options{UnitMM: 25.4}, "data", "dxf", file)
		if err != nil {
			t.Fatal(err)
		}
		b, _, err := readShared(t, Options{UnitMM: 1000}, "data", "dxf", file)
		if err != nil {
			t.Fatal(err)
		}
		Rescale(b, 25.4)
		equalDrawings(t, a, b)
	}
}

// A unit that takes a drawing out of the range of lengths loses nothing.
func TestRescale_far(t *testing.T) {
	d, _ := read(t, file("", "", block("B", "0 LINE|8 0|11 1"), "0 LINE|8 A|11 9e11|0 LINE|8 A|11 1|0 CIRCLE|8 A|40 9e11|0 TEXT|8 A|10 9e11|40 1|1 x|0 INSERT|8 A|2 B|10 9e11|0 SOLID|8 A|10 9e11|11 1|22 1"), Options{})
	Rescale(d, 1000)
	sound(t, d)
	if len(d.Segments) != 1 || len(d.Arcs)+len(d.Texts)+len(d.Fills) != 0 || len(d.Inserts) != 1 || len(d.Others) != 5 {
		t.Errorf("%s", show(d))
	}
}
