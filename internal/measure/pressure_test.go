package measure

import (
	"math"
	"testing"
)

// Source of the factor: NIST SP 811 (2008), appendix B.8.
func TestParsePressure(t *testing.T) {
	for text, want := range map[string]float64{"40 psf": 1.9152, "40psf": 1.9152, "1.9 kPa": 1.9, "2 kN/m2": 2, " 2.4KPA ": 2.4} {
		if got, err := ParsePressure(text); err != nil || math.Abs(got-want) > 5e-5 {
			t.Errorf("%q: %v kPa, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "40", "psf", "-4 psf", "0 kPa", "NaN kPa", "1e9 psf", "40 psi", "4,0 kPa"} {
		if got, err := ParsePressure(text); err == nil {
			t.Errorf("%q was read as %v kPa", text, got)
		}
	}
	if got := Pressure(1.9152, InchPound); got != "40 psf" {
		t.Errorf("1.9152 kPa is written %q", got)
	}
}
