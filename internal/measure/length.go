package measure

import "math"

// Length is a distance in eighths of a micrometre.
type Length int64

// Units of length. All are exact: the inch is 25.4 mm by definition
// (international yard and pound agreement, 1959).
const (
	Micrometre   Length = 8
	Millimetre   Length = 8000
	Centimetre          = 10 * Millimetre
	Metre               = 1000 * Millimetre
	Inch         Length = 203200
	Foot                = 12 * Inch
	Yard                = 3 * Foot
	SixtyFourth  Length = 3175
	EighthInch          = Inch / 8
	TenthOfMM    Length = 800
	unitsPerM           = 8e6
	unitsPerFoot        = 12 * 203200.0
)

// FromMM returns the length nearest to mm millimetres, halves away from zero.
// Only importers and readers of people's numbers hold lengths as floats.
func FromMM(mm float64) Length { return Length(math.Round(mm * 8000)) }

// FromInches returns the length nearest to in inches, halves away from zero.
func FromInches(in float64) Length { return Length(math.Round(in * 203200)) }

// MM returns l in millimetres; exact to six decimals below 1e9 m.
func (l Length) MM() float64 { return float64(l) / 8000 }

// Inches returns l in inches.
func (l Length) Inches() float64 { return float64(l) / 203200 }

// Feet returns l in feet.
func (l Length) Feet() float64 { return float64(l) / unitsPerFoot }

// Metres returns l in metres.
func (l Length) Metres() float64 { return float64(l) / unitsPerM }

// Abs returns the magnitude of l.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// FloorTo returns the greatest multiple of step that is not above l; step > 0.
func (l Length) FloorTo(step Length) Length {
	r := l % step
	if r < 0 {
		r += step
	}
	return l - r
}

// CeilTo returns the least multiple of step that is not below l; step > 0.
func (l Length) CeilTo(step Length) Length { return -(-l).FloorTo(step) }

// RoundTo returns the multiple of step nearest to l, halves away from zero.
func (l Length) RoundTo(step Length) Length {
	if l < 0 {
		return -(-l).RoundTo(step)
	}
	return (l + step/2).FloorTo(step)
}

// CeilDiv returns the least n with n*d >= l; d > 0. It is how the trade counts
// spaces: ceil(length / spacing).
func (l Length) CeilDiv(d Length) int {
	n := l / d
	if l%d > 0 {
		n++
	}
	return int(n)
}

// Area is a plane area in squared Length units (1/64 µm²), up to 144 000 m².
// One side of one wall always fits; totals of a job are added up as float64 m²
// in a fixed order.
type Area int64

// Times returns the area of a rectangle. Both sides must be below 268 m or
// their product below 144 000 m².
func Times(a, b Length) Area { return Area(a) * Area(b) }

// M2 returns a in square metres.
func (a Area) M2() float64 { return float64(a) / (unitsPerM * unitsPerM) }

// SqFt returns a in square feet.
func (a Area) SqFt() float64 { return float64(a) / (unitsPerFoot * unitsPerFoot) }

// System is a system of units that sheets, rules and paper keep to. The two are
// never mixed in a job.
// Source: standards.md ED-7 (ASTM C840, C754: each system is separate).
type System uint8

// The systems of units.
const (
	InchPound System = iota
	Metric
)

func (s System) String() string {
	if s == Metric {
		return "metric"
	}
	return "inch-pound"
}

// Step returns the default measuring step of the system: 1/64 in or 0.1 mm.
// Source: common practice, none published.
func (s System) Step() Length {
	if s == Metric {
		return TenthOfMM
	}
	return SixtyFourth
}

// CutStep returns the step that cut sizes shown to people are rounded down to:
// 1/8 in or 1 mm. Source: common practice, none published.
func (s System) CutStep() Length {
	if s == Metric {
		return Millimetre
	}
	return EighthInch
}
