package rules

import "boardrun/internal/measure"

// StudDepths are the stock depths, most usual first.
// Source: AISI designator codes and an estimating textbook; metric from
// memory.
var StudDepths = [2][]Length{
	{29 * eighth, 20 * eighth, 48 * eighth, 13 * eighth, 32 * eighth, 28 * eighth, 44 * eighth, 64 * eighth},
	{75 * measure.Millimetre, 100 * measure.Millimetre, 50 * measure.Millimetre, 150 * measure.Millimetre},
}

// Makeup is a guess at a wall from its thickness alone.
type Makeup struct {
	StudDepth Length
	Board     string    // product name, both sides alike
	Plies     [2]int    // left, right
	Off       Length    // thickness drawn less thickness of the make-up
	Mil       int       // 18 mil or its metric kin: nobody said
	Spacing   Length    // 16 in or 600 mm: nobody said
	Thickness [2]Length // of one ply, of the whole
}

// GuessMakeup returns the usual make-up nearest to a finished thickness:
// 4-7/8 in is a 3-5/8 stud with 5/8 each side, 125 mm a 100 mm stud with 12.5
// each side. Of make-ups equally near, the more usual: one ply each side, the
// thicker board in inches, then the order of StudDepths. A make-up with board
// on one side is taken only where it is exact and none with two is.
func GuessMakeup(thickness Length, sys measure.System) Makeup {
	boards := [2][]string{{"5/8 type X", "1/2 regular"}, {"12.5 type A", "15 type A"}}[sys]
	spacing := [2]Length{16 * measure.Inch, 600 * measure.Millimetre}[sys]
	var best Makeup
	for _, plies := range [][2]int{{1, 1}, {2, 2}, {1, 2}, {1, 0}, {2, 0}} {
		for _, name := range boards {
			board := FindProduct(sys, name).Thickness
			for _, depth := range StudDepths[sys] {
				whole := depth + board*Length(plies[0]+plies[1])
				off := thickness - whole
				exactOnly := plies[1] == 0 && off.Abs() > tolerance/2
				if best.StudDepth != 0 && (exactOnly || off.Abs()+tolerance/2 >= best.Off.Abs()) {
					continue
				}
				best = Makeup{depth, name, plies, off, 18, spacing, [2]Length{board, whole}}
			}
		}
	}
	return best
}

// FindProduct returns the product of that name, nil if there is none.
func FindProduct(sys measure.System, name string) *Product {
	list := Catalogue(sys)
	for i := range list {
		if list[i].Name == name {
			return &list[i]
		}
	}
	return nil
}

// RatedStud returns the shortest and longest stud of a rated wall of that
// clear height: cut 3/8 to 3/4 in shorter (UL U419), or at least 12 mm
// shorter in metric (Ontario Building Code 9.24.3.2), where shortest is 0: no
// limit.
func RatedStud(clear Length, sys measure.System) (shortest, longest Length) {
	if sys == measure.Metric {
		return 0, clear - 12*measure.Millimetre
	}
	return clear - 6*eighth, clear - 3*eighth
}

// HeightLimit is the greatest height of non-loadbearing studs of that depth at
// 400 and 600 mm. Only what was seen in print stands here: limiting heights
// come from the maker's report for the exact stud.
// Source: British Columbia Building Code 2012 Table 9.24.2.1.
type HeightLimit struct{ StudDepth, At400, At600 Length }

// HeightLimits is sorted by depth.
var HeightLimits = []HeightLimit{
	{41 * measure.Millimetre, 3000 * measure.Millimetre, 2700 * measure.Millimetre},
	{64 * measure.Millimetre, 4000 * measure.Millimetre, 3500 * measure.Millimetre},
	{89 * measure.Millimetre, 4600 * measure.Millimetre, 3900 * measure.Millimetre},
}

// MaxHeight returns the limit of the deepest row that is not deeper than the
// stud and at most 30 mm less; ok = false where no row applies.
func MaxHeight(studDepth, spacing Length) (most Length, ok bool) {
	for _, h := range HeightLimits {
		if studDepth+measure.Millimetre < h.StudDepth || studDepth > h.StudDepth+30*measure.Millimetre || spacing > 610*measure.Millimetre {
			continue
		}
		most, ok = h.At400, true
		if spacing > 407*measure.Millimetre {
			most = h.At600
		}
	}
	return most, ok
}
