package cutting

import (
	"math"
	"sort"

	"boardrun/internal/measure"
)

// LeastSheets returns the least total area of whole sheets of stock that is not
// below hung: what any layout of pieces with that net area must buy, wherever
// its joints are, if nothing from outside may be used. It is a bound, not a
// plan: whether such sheets can be cut so is not asked.
// Both are in m²; hung may be above what a measure.Area holds.
func LeastSheets(hung float64, stock []Stock) float64 {
	areas := sheetAreas(stock)
	if hung <= 0 || len(areas) == 0 {
		return hung
	}
	unit := areas[0]
	for _, a := range areas[1:] {
		unit = measure.Area(gcd(measure.Length(unit), measure.Length(a)))
	}
	sheets := math.Ceil(hung/unit.M2()*(1-1e-12) - 1e-9) // float noise must not lift a bound
	// Beyond a thousand of the largest sheet rounding up to one more of the
	// smallest unit says nothing that matters; the plain area is a bound too.
	if unit < 1<<40 || sheets > 1<<22 {
		return hung
	}
	need := int(sheets)
	top := need + int(areas[len(areas)-1]/unit)
	can := make([]bool, top+1)
	can[0] = true
	for n := 1; n <= top; n++ {
		for _, a := range areas {
			if k := int(a / unit); k <= n && can[n-k] {
				can[n] = true
				break
			}
		}
		if n >= need && can[n] {
			return float64(n) * unit.M2()
		}
	}
	return hung
}

// sheetAreas lists the different areas of the sheets on sale, smallest first.
func sheetAreas(stock []Stock) []measure.Area {
	var out []measure.Area
	seen := map[measure.Area]bool{}
	for _, s := range stock {
		a := measure.Times(s.Width, s.Length)
		if a > 0 && !seen[a] {
			seen[a] = true
			out = append(out, a)
		}
	}
	sort.Slice(out, func(i, k int) bool { return out[i] < out[k] })
	return out
}
