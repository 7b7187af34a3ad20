package measure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Lengths are printed as the trade writes them: never in 64ths, never in
// decimal feet. Cut sizes round down so that a piece fits; everything else
// goes to the nearest 1/8 in or whole millimetre. The exact value stays in the
// data.

// cutLimit is the longest cut written in inches alone; a tape is read in
// inches up to here. Source: common practice, none published.
const cutLimit = 144 * Inch

// Cut returns a cut size, rounded down to 1/8 in or 1 mm, without a unit:
// "94-3/8" up to 144 in, feet and inches beyond; "2918" in metric.
func Cut(l Length, sys System) string {
	l = l.FloorTo(sys.CutStep())
	if sys == Metric {
		return strconv.FormatInt(int64(l/Millimetre), 10)
	}
	if l.Abs() > cutLimit {
		return FeetInches(l)
	}
	return signed(l, eighths(l.Abs(), "-"))
}

// FeetInches returns l to the nearest 1/8 in as lengths of walls are written:
// 20'-4 1/2", 9'-0", 6 1/2".
func FeetInches(l Length) string {
	l = l.RoundTo(EighthInch)
	a := l.Abs()
	if a < Foot {
		return signed(l, eighths(a, " ")+`"`)
	}
	return signed(l, fmt.Sprintf(`%d'-%s"`, a/Foot, eighths(a%Foot, " ")))
}

// Human returns l for a sentence: "94-3/8 in" up to 144 in, feet and inches
// beyond, to the nearest 1/8 in; "2918 mm" in metric.
func Human(l Length, sys System) string {
	if sys == Metric {
		return strconv.FormatInt(int64(l.RoundTo(Millimetre)/Millimetre), 10) + " mm"
	}
	l = l.RoundTo(EighthInch)
	if l.Abs() > cutLimit {
		return FeetInches(l)
	}
	return signed(l, eighths(l.Abs(), "-")+" in")
}

// Wall returns the length of a wall: FeetInches, or whole millimetres.
func Wall(l Length, sys System) string {
	if sys == Metric {
		return Human(l, sys)
	}
	return FeetInches(l)
}

// Exact returns the shortest writing of l that Parse reads back to l: inches
// with a fraction down to 64ths where that is exact and sys is InchPound,
// else millimetres with as many decimals as it takes. For files, not paper.
func Exact(l Length, sys System) string {
	if sys == InchPound && l%SixtyFourth == 0 {
		return signed(l, fraction(l.Abs(), 64, "-")+"in")
	}
	a := l.Abs()
	whole, rest := a/Millimetre, a%Millimetre
	s := strconv.FormatInt(int64(whole), 10)
	if rest != 0 { // a unit is 0.000125 mm
		s += strings.TrimRight(fmt.Sprintf(".%06d", int64(rest)*125), "0")
	}
	return signed(l, s+"mm")
}

// Screw returns the name of a screw length: "1-5/8 in", "35 mm".
func Screw(l Length, sys System) string { return Human(l, sys) }

// SheetName returns what a sheet is called: "4x10" for 48 × 120 in,
// "54 in × 12 ft" where the width is no whole number of feet, "1200x3000" in
// metric.
func SheetName(width, length Length, sys System) string {
	switch {
	case sys == Metric:
		return Cut(width.RoundTo(Millimetre), sys) + "x" + Cut(length.RoundTo(Millimetre), sys)
	case width%Foot == 0 && length%Foot == 0:
		return fmt.Sprintf("%dx%d", width/Foot, length/Foot)
	case length%Foot == 0:
		return fmt.Sprintf("%s × %d ft", Human(width, sys), length/Foot)
	default:
		return Human(width, sys) + " × " + Human(length, sys)
	}
}

// OrderLength returns metres m for an order, rounded up to whole lf or m:
// "1204 lf". A sum that is a hair above a whole number through float addition
// stays that number.
func OrderLength(m float64, sys System) string {
	if sys == Metric {
		return strconv.FormatInt(ceil(m), 10) + " m"
	}
	return strconv.FormatInt(ceil(m/0.3048), 10) + " lf"
}

// OrderArea returns m2 square metres for an order, rounded up to whole sf or
// m²: "7000 sf".
func OrderArea(m2 float64, sys System) string {
	if sys == Metric {
		return strconv.FormatInt(ceil(m2), 10) + " m²"
	}
	return strconv.FormatInt(ceil(m2/(0.3048*0.3048)), 10) + " sf"
}

// KgPerPound is exact (international avoirdupois pound, 1959).
const KgPerPound = 0.45359237

// Mass returns kg for people, to the nearest whole pound or kilogram: "106 lb".
func Mass(kg float64, sys System) string {
	if sys == Metric {
		return strconv.FormatFloat(math.Round(kg), 'f', 0, 64) + " kg"
	}
	return strconv.FormatFloat(math.Round(kg/KgPerPound), 'f', 0, 64) + " lb"
}

// ceil rounds up, forgiving 1e-6 of float dust.
func ceil(x float64) int64 { return int64(math.Ceil(x - 1e-6)) }

// eighths writes a ≥ 0, a multiple of 1/8 in, as inches: "94-3/8", "3/8", "0".
func eighths(a Length, sep string) string { return fraction(a, 8, sep) }

// fraction writes a ≥ 0 as inches and a reduced fraction of at most 1/den.
func fraction(a, den Length, sep string) string {
	whole, num := a/Inch, a%Inch/(Inch/den)
	for num != 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return strconv.FormatInt(int64(whole), 10)
	case whole == 0:
		return fmt.Sprintf("%d/%d", num, den)
	default:
		return fmt.Sprintf("%d%s%d/%d", whole, sep, num, den)
	}
}

func signed(l Length, s string) string {
	if l < 0 {
		return "-" + s
	}
	return s
}
