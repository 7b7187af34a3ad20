package dxf

import "fmt"

// Unit is one value of $INSUNITS.
type Unit struct {
	Code int
	Name string
	MM   float64 // millimetres; 0 for unitless
}

// units is the table of $INSUNITS. Source of codes: DXF Reference, HEADER,
// $INSUNITS 0 to 24. Factors: the international inch is 25.4 mm exactly, foot,
// yard and mile follow (1959 agreement); the US survey foot is 1200/3937 m
// exactly, its inch, yard and mile follow (Mendenhall order; NIST SP 811,
// appendix B); ångström, astronomical unit, light year and parsec by IAU 2012
// and 2015 definitions.
var units = [...]Unit{
	{0, "none", 0},
	{1, "inch", 25.4},
	{2, "foot", 304.8},
	{3, "mile", 1609344},
	{4, "mm", 1},
	{5, "cm", 10},
	{6, "m", 1000},
	{7, "km", 1e6},
	{8, "microinch", 25.4e-6},
	{9, "mil", 25.4e-3},
	{10, "yard", 914.4},
	{11, "angstrom", 1e-7},
	{12, "nm", 1e-6},
	{13, "micrometre", 1e-3},
	{14, "dm", 100},
	{15, "dam", 1e4},
	{16, "hm", 1e5},
	{17, "Gm", 1e12},
	{18, "astronomical unit", 149597870700e3},
	{19, "light year", 9460730472580800e3},
	{20, "parsec", 3.0856775814913673e19},
	{21, "US survey foot", 1200.0 / 3937 * 1000},
	{22, "US survey inch", 100.0 / 3937 * 1000},
	{23, "US survey yard", 3600.0 / 3937 * 1000},
	{24, "US survey mile", 1200.0 * 5280 / 3937 * 1000},
}

// UnitOf returns the unit of an $INSUNITS value; "none" without a factor for 0,
// a value that is not defined, and -1, which stands for an absent one.
func UnitOf(insUnits int) Unit {
	if insUnits < 0 || insUnits >= len(units) {
		return units[0]
	}
	return units[insUnits]
}

// imperial tells a unit of feet and inches: sizes are told in these where the
// drawing is taken for one.
func (u Unit) imperial() bool { return u.Code <= 3 || u.Code >= 8 && u.Code <= 10 || u.Code >= 21 }

// small words a size of a building's parts, in mm, as people of the unit do.
func (u Unit) small(mm float64) string {
	if u.imperial() {
		return fmt.Sprintf("%.3g in", mm/25.4)
	}
	return fmt.Sprintf("%.4g mm", mm)
}

// between words a range of such sizes.
func (u Unit) between(lo, hi float64) string {
	if u.imperial() {
		return fmt.Sprintf("%.2g to %.2g in", lo/25.4, hi/25.4)
	}
	return fmt.Sprintf("%g to %g mm", lo, hi)
}

// large words the size of a building, in mm.
func (u Unit) large(mm float64) string {
	if u.imperial() {
		return fmt.Sprintf("%.4g ft", mm/304.8)
	}
	return fmt.Sprintf("%.4g m", mm/1000)
}
