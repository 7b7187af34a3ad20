package cutting

import (
	"math"

	"boardrun/internal/measure"
)

// lowerBound returns what any cutting of these shapes, straight cuts or not,
// needs at least.
func lowerBound(shapes []*shape, left []int, stock []Stock, e Effort) lower {
	var area float64
	for i, s := range shapes {
		area += float64(twiceArea(s.outline)) / 2 * float64(left[i])
	}
	costRate, areaMin := math.Inf(1), area
	for _, s := range stock {
		costRate = min(costRate, float64(s.Cost)/(float64(s.Width)*float64(s.Length)))
	}
	costs := make([]int64, len(stock))
	areas := make([]int64, len(stock))
	for i, s := range stock {
		costs[i], areas[i] = s.Cost, int64(measure.Times(s.Width, s.Length))
	}
	return lower{
		cost:   roundUp(area*costRate, costs),
		area:   measure.Area(roundUp(areaMin, areas)),
		method: "area, rounded up to whole sheets",
	}
}

// roundUp returns the least sum of whole numbers of sheets not below x.
func roundUp(x float64, each []int64) int64 {
	x *= 1 - 1e-9 // guards against float noise lifting the bound by a sheet
	if x <= 0 {
		return 0
	}
	var g int64
	for _, c := range each {
		for a, b := g, c; ; a, b = b, a%b {
			if b == 0 {
				g = a
				break
			}
		}
	}
	need := int64(math.Ceil(x / float64(g)))
	if need > 1<<20 {
		return need * g
	}
	reach := make([]bool, need+1) // reach[k]: a sum k×g short of the target exists… from the top down
	reach[0] = true
	best := int64(math.MaxInt64)
	for k := int64(0); k < need; k++ {
		if !reach[k] {
			continue
		}
		for _, c := range each {
			if n := k + c/g; n >= need {
				best = min(best, n)
			} else {
				reach[n] = true
			}
		}
	}
	return best * g
}
