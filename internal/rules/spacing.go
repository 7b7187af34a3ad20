package rules

import "boardrun/internal/measure"

// FrameSpacing is one row of the table of greatest frame spacings: board of at
// least Thickness, so many plies, at most Max from framing member to member.
type FrameSpacing struct {
	Kind      string // board kind it is for; "" = any
	Plies     int
	Thickness [2]Length // by system
	Ceiling   bool
	Along     string    // "parallel", "perpendicular" or "either": long edge to framing
	Max       [2]Length // by system
	Source    string
}

const (
	wallboardData = "a US maker's wallboard data: frame spacing table"
	irc           = "IRC 2021 Table R702.3.5, as summarised"
)

// FrameSpacings holds, for one kind, plies, place and direction, the thickest
// row first. Metric columns: UK house-builder standard 6.3.12 (9.5 mm: 450;
// 12.5 mm: 600), on walls 625 for 12.5 mm after German practice, which is what
// boards 1250 wide are made for. Water-resistant board under tile wants 16 in
// (UFGS 09 29 00 note); a drawing does not tell tile, so that stays with the
// estimator.
var FrameSpacings = []FrameSpacing{
	{"cement board", 1, size(1, 2, 125), false, "either", span(16, 400), "a maker's cement board manual: walls at most 16 in"},
	{"", 1, size(1, 2, 125), false, "either", span(24, 625), wallboardData},
	{"", 1, size(3, 8, 95), false, "either", span(16, 450), irc},
	{"", 2, size(1, 2, 125), false, "either", span(24, 625), wallboardData},
	{"", 2, size(3, 8, 95), false, "either", span(16, 450), wallboardData},
	{"", 1, size(1, 2, 125), true, "perpendicular", span(24, 600), wallboardData},
	{"", 1, size(3, 8, 95), true, "perpendicular", span(16, 400), wallboardData},
	{"", 1, size(1, 2, 125), true, "parallel", span(16, 400), wallboardData},
	{"", 2, size(1, 2, 125), true, "either", span(24, 600), wallboardData},
	{"", 2, size(3, 8, 95), true, "perpendicular", span(16, 400), wallboardData},
}

// size takes a thickness in inches and in tenths of a millimetre.
func size(num, den, mm10 Length) [2]Length {
	return [2]Length{num * measure.Inch / den, mm10 * measure.TenthOfMM}
}

func span(in, mm Length) [2]Length {
	return [2]Length{in * measure.Inch, mm * measure.Millimetre}
}

// MaxSpacing returns the greatest stud spacing for a side of plies of which
// the thinnest is of that kind and thickness, in the given direction
// ("parallel" = long edge with the studs), and its source. ok is false where
// no table holds such a board: it may not be the only board on that frame.
func MaxSpacing(sys measure.System, kind string, thickness Length, plies int, ceiling bool, along string) (most Length, source string, ok bool) {
	for _, r := range FrameSpacings {
		if r.Kind != "" && r.Kind != kind || r.Plies != min(plies, 2) || r.Ceiling != ceiling {
			continue
		}
		if (r.Along == "either" || r.Along == along) && thickness+tolerance >= r.Thickness[sys] {
			return r.Max[sys], r.Source, true
		}
	}
	return 0, "", false
}

// OnModule reports whether a sheet's dimension across the studs is a whole
// number of spacings, so that an uncut sheet ends on a stud: 120 in does not
// at 16 in, 54 in at neither 16 nor 24, 1250 mm not at 600.
// Source: derived; International Building Code 2021 2508.3 wants ends on framing.
func OnModule(dimension, spacing Length) bool {
	return spacing > 0 && dimension > 0 && dimension%spacing == 0
}

// OnStud returns the longest part of a sheet's dimension that ends on a stud
// when it begins on one: 112 in of 120 at 16 in.
func OnStud(dimension, spacing Length) Length { return dimension.FloorTo(spacing) }

// Bend is the least radius a board is bent to dry.
// Source: GA-226-08 Table 1.
type Bend struct {
	Thickness [2]Length
	Along     [2]Length // bent along its length
	Across    [2]Length // bent across its width; 0 = not dry
}

// BendSource is the source of Bends.
const BendSource = "GA-226-08 Table 1"

// BendSpacing is the greatest stud spacing where a board is bent to its least
// radius: 6 in (150 mm). Source: GA-226-08.
func BendSpacing(sys measure.System) Length { return span(6, 150)[sys] }

// Bends is sorted by thickness.
var Bends = []Bend{
	{size(1, 4, 64), span(60, 1500), span(180, 4600)},
	{size(5, 16, 79), span(75, 1900), span(240, 6100)},
	{size(3, 8, 95), span(90, 2300), span(300, 7600)},
	{size(1, 2, 127), span(120, 3000), span(0, 0)},
	{size(5, 8, 159), span(180, 4600), span(0, 0)},
}

// MinRadius returns the least radius a board of that thickness may be bent to
// dry, along its length or across its width (as vertical sheets on a curved
// wall are). ok is false where it may not be bent so at all; a thickness
// between two rows takes the thicker one.
func MinRadius(sys measure.System, thickness Length, across bool) (radius Length, ok bool) {
	for _, b := range Bends {
		if thickness > b.Thickness[sys]+tolerance {
			continue
		}
		r := b.Along[sys]
		if across {
			r = b.Across[sys]
		}
		return r, r > 0
	}
	return 0, false
}

// tolerance tells nominal thicknesses apart (12.5 and 12.7 mm are one, 9.5 is
// another): half the step between the two nearest rows of Bends.
const tolerance = 7 * measure.TenthOfMM
