package measure_test

import (
	"testing"

	. "boardrun/internal/measure"
)

func TestPrint(t *testing.T) {
	const eighth = EighthInch
	// Oracle: hand; the worked examples 94-3/8, 20'-4 1/2", 4x10.
	tests := []struct{ name, got, want string }{
		{"cut", Cut(94*Inch+3*eighth, InchPound), "94-3/8"},
		{"cut rounds down", Cut(94*Inch+4*eighth-1, InchPound), "94-3/8"},
		{"cut below an inch", Cut(6*eighth, InchPound), "3/4"},
		{"cut nothing", Cut(eighth-1, InchPound), "0"},
		{"cut whole", Cut(120*Inch, InchPound), "120"},
		{"cut at the limit", Cut(144*Inch, InchPound), "144"},
		{"cut beyond the limit", Cut(148*Inch+Inch/2, InchPound), `12'-4 1/2"`},
		{"cut metric", Cut(2918*Millimetre+7999, Metric), "2918"},
		{"case C-4, 125.4167 in", Cut(FromInches(125.416667), InchPound), "125-3/8"},
		{"wall", FeetInches(20*Foot + 4*Inch + Inch/2), `20'-4 1/2"`},
		{"wall to nearest eighth", FeetInches(20*Foot - SixtyFourth), `20'-0"`},
		{"short wall", FeetInches(6*Inch + Inch/2), `6 1/2"`},
		{"negative", FeetInches(-6 * Inch), `-6"`},
		{"wall metric", Wall(5900*Millimetre, Metric), "5900 mm"},
		{"human", Human(Inch/2, InchPound), "1/2 in"},
		{"human metric", Human(12*Millimetre+4000, Metric), "13 mm"},
		{"human tall", Human(210*Inch, InchPound), `17'-6"`},
		{"screw", Screw(13*eighth, InchPound), "1-5/8 in"},
		{"screw metric", Screw(35*Millimetre, Metric), "35 mm"},
		{"sheet", SheetName(48*Inch, 120*Inch, InchPound), "4x10"},
		{"wide sheet", SheetName(54*Inch, 144*Inch, InchPound), "54 in × 12 ft"},
		{"odd sheet", SheetName(48*Inch, 114*Inch, InchPound), "48 in × 114 in"},
		{"metric sheet", SheetName(1200*Millimetre, 3000*Millimetre, Metric), "1200x3000"},
		{"exact 64ths", Exact(94*Inch+SixtyFourth, InchPound), "94-1/64in"},
		{"exact mm", Exact(12*Millimetre+4000, Metric), "12.5mm"},
		{"exact unit", Exact(1, InchPound), "0.000125mm"},
		{"lf", OrderLength(650.6667*0.3048, InchPound), "651 lf"},
		{"lf on the number", OrderLength(0.1*3*3.048, InchPound), "3 lf"},
		{"m", OrderLength(3.2, Metric), "4 m"},
		{"sf", OrderArea(6920*0.09290304, InchPound), "6920 sf"},
		{"lb", Mass(105.6*KgPerPound, InchPound), "106 lb"},
		{"kg", Mass(47.9, Metric), "48 kg"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, tt.got, tt.want)
		}
	}
}
