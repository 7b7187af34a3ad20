package rules

import (
	"math"

	"boardrun/internal/measure"
)

// Product is a board and the sheets it is usually made in; generic, no
// maker's.
type Product struct {
	Name      string
	Kind      string
	Thickness Length
	MassM2    float64 // kg/m²
	Square    bool    // long edges square
	Sheets    []Sheets
	Source    string // of mass and sizes
}

// Sheets is one width and its lengths, shortest first.
type Sheets struct {
	Width   Length
	Lengths []Length
}

const (
	wallboard = "a US maker's wallboard data and US Navy NAVEDTRA 14044 (8 to 16 ft)"
	navy54    = wallboard + "; 54 in: a trade guide"
	en520     = "EN 520 4.9 for widths and thicknesses; lengths and mass from memory"
)

// PSF is one pound per square foot in kg/m².
const PSF = measure.KgPerPound / (0.3048 * 0.3048)

// Catalogue returns the boards a job may name without describing them.
func Catalogue(sys measure.System) []Product {
	if sys == measure.Metric {
		return metricProducts
	}
	return inchProducts
}

var feet48 = Sheets{48 * measure.Inch, feetList(8, 9, 10, 12, 14, 16)}
var feet54 = Sheets{54 * measure.Inch, feetList(8, 9, 10, 12, 14)}

var inchProducts = []Product{
	{"1/4 regular", "regular", 2 * eighth, 1.2 * PSF, false, []Sheets{{48 * measure.Inch, feetList(8, 10)}}, wallboard},
	{"3/8 regular", "regular", 3 * eighth, 1.4 * PSF, false, []Sheets{{48 * measure.Inch, feetList(8, 10, 12)}}, wallboard},
	{"1/2 regular", "regular", 4 * eighth, 1.6 * PSF, false, []Sheets{feet48, feet54}, navy54},
	{"1/2 type X", "type X", 4 * eighth, 1.8 * PSF, false, []Sheets{feet48}, wallboard + "; mass " + memory},
	{"1/2 type C", "type C", 4 * eighth, 1.9 * PSF, false, []Sheets{feet48}, wallboard + "; mass " + memory},
	{"1/2 moisture-resistant", "moisture-resistant", 4 * eighth, 1.625 * PSF, false, []Sheets{{48 * measure.Inch, feetList(8, 9, 10, 12)}}, "a distributor's table of weights; sizes as " + wallboard},
	{"5/8 regular", "regular", 5 * eighth, 2.2 * PSF, false, []Sheets{feet48, feet54}, navy54},
	{"5/8 type X", "type X", 5 * eighth, 2.2 * PSF, false, []Sheets{feet48, feet54}, navy54},
	{"5/8 type C", "type C", 5 * eighth, 2.5 * PSF, false, []Sheets{feet48}, wallboard + "; mass " + memory},
	{"5/8 moisture-resistant type X", "moisture-resistant type X", 5 * eighth, 2.2 * PSF, false, []Sheets{{48 * measure.Inch, feetList(8, 9, 10, 12)}}, wallboard},
	{"5/8 abuse-resistant type X", "abuse-resistant type X", 5 * eighth, 2.8 * PSF, false, []Sheets{{48 * measure.Inch, feetList(8, 9, 10, 12)}}, "sizes as " + wallboard + "; mass " + memory},
	{"1/2 glass-mat backer", "glass-mat backer", 4 * eighth, 2.0 * PSF, true, []Sheets{{32 * measure.Inch, feetList(5)}, {48 * measure.Inch, feetList(8, 10)}}, memory},
	{"5/8 glass-mat backer", "glass-mat backer", 5 * eighth, 2.7 * PSF, true, []Sheets{{32 * measure.Inch, feetList(5)}, {48 * measure.Inch, feetList(8, 10)}}, memory},
	{"1/2 cement board", "cement board", 4 * eighth, 2.8 * PSF, true, []Sheets{{36 * measure.Inch, feetList(5)}, {48 * measure.Inch, feetList(8)}}, "a maker's cement board manual; mass " + memory},
}

var mm1200 = Sheets{1200 * measure.Millimetre, mmList(2400, 2700, 3000, 3600)}
var mm900 = Sheets{900 * measure.Millimetre, mmList(1800, 2400, 2700)}
var mm1250 = Sheets{1250 * measure.Millimetre, mmList(2000, 2500, 2600, 3000)}

var metricProducts = []Product{
	{"9.5 type A", "type A", 95 * measure.TenthOfMM, 6.8, false, []Sheets{mm900, mm1200}, en520},
	{"12.5 type A", "type A", 125 * measure.TenthOfMM, 8.0, false, []Sheets{mm900, mm1200, mm1250}, en520},
	{"12.5 type F", "type F", 125 * measure.TenthOfMM, 10.2, false, []Sheets{mm1200, mm1250}, en520},
	{"12.5 type H", "type H", 125 * measure.TenthOfMM, 8.7, false, []Sheets{mm900, mm1200, mm1250}, en520},
	{"12.5 type I", "type I", 125 * measure.TenthOfMM, 12.0, false, []Sheets{mm1200, mm1250}, en520},
	{"15 type A", "type A", 15 * measure.Millimetre, 10.7, false, []Sheets{mm900, mm1200}, en520},
	{"15 type F", "type F", 15 * measure.Millimetre, 12.7, false, []Sheets{mm1200}, en520},
	{"15 type I", "type I", 15 * measure.Millimetre, 14.4, false, []Sheets{mm1200}, en520},
	{"12.5 cement board", "cement board", 125 * measure.TenthOfMM, 15.0, true, []Sheets{{900 * measure.Millimetre, mmList(1200)}, {1200 * measure.Millimetre, mmList(2400)}}, memory},
}

func feetList(ft ...Length) []Length {
	for i := range ft {
		ft[i] *= measure.Foot
	}
	return ft
}

func mmList(mm ...Length) []Length {
	for i := range mm {
		mm[i] *= measure.Millimetre
	}
	return mm
}

// SpecialOrder reports whether a sheet is usually made to order: over 48 in
// (1250 mm) wide or over 12 ft (3600 mm) long.
// Source: common practice, none published.
func SpecialOrder(width, length Length, sys measure.System) bool {
	if sys == measure.Metric {
		return width > 1250*measure.Millimetre || length > 3600*measure.Millimetre
	}
	return width > 48*measure.Inch || length > 12*measure.Foot
}

// IdealLift is the mass that one person may lift under the best conditions:
// 51 lb (23 kg). Source: NIOSH lifting equation, as told by OSHA and CCOHS.
func IdealLift(sys measure.System) float64 {
	if sys == measure.Metric {
		return 23
	}
	return 51 * measure.KgPerPound
}

// TwoPeople reports whether a sheet of that mass wants two people even under
// the best conditions. Float dust of 1 mg does not decide.
func TwoPeople(kg float64, sys measure.System) bool { return kg > IdealLift(sys)+1e-6 }

// SheetMass returns the mass of a whole sheet in kg.
func SheetMass(massM2 float64, width, length Length) float64 {
	return massM2 * width.Metres() * length.Metres()
}

// MassFor returns kg/m² for a board that no product describes: of the product
// of that kind nearest in thickness, in proportion to it; else at the density
// of regular board. known is false for the latter.
func MassFor(sys measure.System, kind string, thickness Length) (massM2 float64, known bool) {
	best, diff := 0.0, Length(math.MaxInt64)
	for _, p := range Catalogue(sys) {
		if d := (p.Thickness - thickness).Abs(); p.Kind == kind && d < diff {
			best, diff = p.MassM2*float64(thickness)/float64(p.Thickness), d
		}
	}
	if best > 0 {
		return best, true
	}
	return 1.6 * PSF * float64(thickness) / float64(4*eighth), false
}
