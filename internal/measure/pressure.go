package measure

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// KPaPerPsf is one pound-force per square foot in kilopascals.
// Source: NIST SP 811 (2008), appendix B.8: 47.88026 Pa.
const KPaPerPsf = 0.04788026

// Gravity turns kilograms into newtons.
// Source: NIST SP 811 (2008), appendix B.8: standard acceleration 9.80665 m/s².
const Gravity = 9.80665

var errPressure = errors.New("write 40 psf or 1.9 kPa")

// ParsePressure reads a load on an area, "40 psf" or "1.9 kPa", and returns it in
// kPa. A load has its unit, is above 0 and at most 1,000 kPa.
func ParsePressure(text string) (kpa float64, err error) {
	s := strings.ToLower(strings.TrimSpace(text))
	unit := 0.0
	for name, per := range map[string]float64{"psf": KPaPerPsf, "kpa": 1, "kn/m2": 1, "kn/m²": 1} {
		if rest, ok := strings.CutSuffix(s, name); ok {
			s, unit = strings.TrimSpace(rest), per
		}
	}
	v, err := strconv.ParseFloat(s, 64)
	if unit == 0 || err != nil || math.IsNaN(v) || v <= 0 || v*unit > 1000 {
		return 0, errPressure
	}
	return v * unit, nil
}

// Pressure writes a load as the trade does: whole psf, or kPa with one decimal.
func Pressure(kpa float64, sys System) string {
	if sys == Metric {
		return fmt.Sprintf("%.1f kPa", kpa)
	}
	return fmt.Sprintf("%.0f psf", kpa/KPaPerPsf)
}
