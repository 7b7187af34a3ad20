package measure_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	. "boardrun/internal/measure"
)

func TestParse(t *testing.T) {
	// Oracle: hand conversion; 1 in = 25.4 mm (1959 agreement).
	tests := []struct {
		in   string
		want Length
	}{
		{`9'-6 1/2"`, 114*Inch + Inch/2},
		{`9'6-1/2`, 114*Inch + Inch/2},
		{`9' 6½″`, 114*Inch + Inch/2},
		{`9′-6½″`, 114*Inch + Inch/2},
		{`9'-6-1/2"`, 114*Inch + Inch/2},
		{`114.5in`, 114*Inch + Inch/2},
		{`114 1/2"`, 114*Inch + Inch/2},
		{`114-1/2 in`, 114*Inch + Inch/2},
		{`114½"`, 114*Inch + Inch/2},
		{`2900mm`, 2900 * Millimetre},
		{`2.9m`, 2900 * Millimetre},
		{`290 cm`, 2900 * Millimetre},
		{`4 ft`, 48 * Inch},
		{`4 FT 6 In.`, 54 * Inch},
		{`4ft6in`, 54 * Inch},
		{`9'`, 108 * Inch},
		{`9'-0"`, 108 * Inch},
		{`9.5'`, 114 * Inch},
		{`⅝"`, 5 * EighthInch},
		{`5/8"`, 5 * EighthInch},
		{`5/8 in`, 5 * EighthInch},
		{`0'-6"`, 6 * Inch},
		{`3-5/8"`, 29 * EighthInch},
		{`3''`, 3 * Inch},
		{`1/64in`, SixtyFourth},
		{`.5in`, Inch / 2},
		{`12.5 mm`, 100000},
		{`-3in`, -3 * Inch},
		{`−10 mm`, -10 * Millimetre},
		{`0`, 0},
		{`0.0`, 0},
		{` 12 mm `, 12 * Millimetre},
		{`1/3in`, 67733},              // 67733.33: nearest unit
		{`0.0000625mm`, 1},            // half a unit: away from zero
		{`-0.0000625 mm`, -1},         // the same below zero
		{`3048mm`, 10 * Foot},         // O-43: a drawing unit of 1 mm, 3048 long
		{`10ft`, 3048 * Millimetre},   // O-44: a drawing unit of 1 ft, 10 long
		{`25.4mm`, Inch},              // O-45: 1000 mils of 0.0254 mm
		{`4500000m`, 4500000 * Metre}, // map coordinates
	}
	for _, tt := range tests {
		if got, err := Parse(tt.in, InchPound); err != nil || got != tt.want {
			t.Errorf("Parse(%q) = %d, %v; want %d", tt.in, got, err, tt.want)
		}
	}
}

func TestParse_refused(t *testing.T) {
	tests := []struct {
		in     string
		sys    System
		offset int
		says   string
	}{
		{"", InchPound, 0, "empty"},
		{"48", InchPound, 2, "say the unit: 48in"},
		{"1200", Metric, 4, "say the unit: 1200mm"},
		{"9 1/2", InchPound, 5, "say the unit"},
		{"2,9m", Metric, 1, "decimal point"},
		{"12furlongs", InchPound, 2, "is no unit"},
		{"5min", Metric, 1, "is no unit"},
		{"9'-", InchPound, 3, "inches are missing"},
		{"9'-12\"", InchPound, 3, "12 inches or more"},
		{"9.5'6\"", InchPound, 0, "take no inches"},
		{"9'6mm", InchPound, 3, "only inches"},
		{"9/8in", InchPound, 0, "1 or more"},
		{"6 9/8in", InchPound, 2, "1 or more"},
		{"1/0in", InchPound, 3, "under the fraction bar"},
		{"1/in", InchPound, 2, "under the fraction bar"},
		{"--3in", InchPound, 1, "a number is missing"},
		{"in", InchPound, 0, "a number is missing"},
		{"3in 4in", InchPound, 4, "does not belong"},
		{"9′x", InchPound, 4, "a number is missing"},
		{"99999999999m", Metric, 0, "10000 km"},
		{strings.Repeat("9", 70) + "m", Metric, 64, "too long"},
	}
	for _, tt := range tests {
		_, err := Parse(tt.in, tt.sys)
		var pe *ParseError
		if !errors.As(err, &pe) {
			t.Errorf("Parse(%q): error %v, want *ParseError", tt.in, err)
			continue
		}
		if pe.Offset != tt.offset || !strings.Contains(pe.Error(), tt.says) {
			t.Errorf("Parse(%q): %v at %d; want %q at %d", tt.in, pe, pe.Offset, tt.says, tt.offset)
		}
	}
}

// Every grid length survives Exact and Parse in both systems, and what paper
// shows reads back to the rounded length.
func TestParse_roundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64Range(-79e12, 79e12).Draw(t, "l"))
		for _, sys := range []System{InchPound, Metric} {
			for _, v := range []Length{l, l.RoundTo(SixtyFourth), l.RoundTo(Millimetre)} {
				if got, err := Parse(Exact(v, sys), sys); err != nil || got != v {
					t.Fatalf("Parse(Exact(%d) = %q) = %d, %v", v, Exact(v, sys), got, err)
				}
			}
		}
		if got, err := Parse(FeetInches(l), InchPound); err != nil || got != l.RoundTo(EighthInch) {
			t.Fatalf("Parse(FeetInches(%d) = %q) = %d, %v", l, FeetInches(l), got, err)
		}
		for _, sys := range []System{InchPound, Metric} {
			want := l.RoundTo(sys.CutStep())
			if got, err := Parse(Human(l, sys), sys); err != nil || got != want {
				t.Fatalf("Parse(Human(%d) = %q) = %d, %v", l, Human(l, sys), got, err)
			}
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{`9'-6 1/2"`, "114.5in", "2900mm", "4 ft", "½", "-3/8″", "9'6-1/2", "1e9m", "\xff'", "0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := Parse(s, InchPound)
		var pe *ParseError
		if err != nil {
			if !errors.As(err, &pe) || pe.Offset < 0 || pe.Offset > len(s) || pe.Error() == "" {
				t.Fatalf("Parse(%q): %#v", s, err)
			}
			return
		}
		if back, err := Parse(Exact(l, InchPound), Metric); err != nil || back != l {
			t.Fatalf("%q = %d, written %q, read %d, %v", s, l, Exact(l, InchPound), back, err)
		}
	})
}
