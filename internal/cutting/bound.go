package cutting

import (
	"math"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// lower is a pair of lower bounds: on the cost and on the area bought.
type lower struct {
	cost   int64
	area   Total
	method string
}

// The arguments a bound can rest on, in the order they are tried.
const (
	byArea   = "area"
	byAlong  = "lengths along the sheet, linear programme over all fillings of a line"
	byAcross = "widths across the sheet, linear programme over all fillings of a line"
	byTaper  = "tapered edges, linear programme over all fillings of an edge"
	bySets   = "sets of pieces for one sheet, linear programme over all that no width, height, area or tapered edge rules out"
	byBoth   = "lengths along the sheet with widths scaled by what fits across it, linear programmes over all fillings of a line"
)

// maxRows limits the size of the programmes.
const maxRows = 320

// proof limits the work spent on a bound.
type proof struct {
	rounds int            // of column generation
	steps  measure.Length // a sheet's length is told apart in at least so many steps
	parts  int            // slabs a sloped piece is cut into
	scales int            // of widths, tried
	sets   setLimits
}

// setLimits bounds the work on sets of pieces for one sheet; beyond it nothing
// is proven by them.
type setLimits struct {
	rows  int // shapes there may be
	looks int // at members, in one round of pricing
}

func proofFor(e Effort) proof {
	if e == Best {
		return proof{rounds: 4000, steps: 9600, parts: 4, scales: 8, sets: setLimits{rows: 120, looks: 3 << 20}}
	}
	return proof{rounds: 150, steps: 1600, parts: 2, scales: 2, sets: setLimits{rows: 60, looks: 1 << 16}}
}

// relaxed bounds what any cutting of these shapes, straight cuts or not, needs at
// least: the best of several relaxations, rounded up to what whole sheets can
// cost. The cheap bound is there at once, the linear programmes run when asked.
type relaxed struct {
	shapes       []*shape
	takes        []geom.Poly // what each shape takes of a sheet
	left         []int
	stock        []Stock
	proof        proof
	costs, areas []int64
	proportional bool // costs are areas times a constant
	cost         int64
	method       string
	full         bool    // the linear programmes have run
	widths       []width // what the programme across pays for them
	met          int64   // a cost that was found; bounds need not go on above it
	patterns     *master // where the sets begin, once they are tried
}

func newRelaxed(shapes []*shape, left []int, stock []Stock, wasteNotches bool, e Effort) *relaxed {
	q := &relaxed{
		shapes: shapes, takes: takes(shapes, wasteNotches), left: append([]int(nil), left...), stock: stock, proof: proofFor(e),
		method: byArea, proportional: true, met: math.MaxInt64,
	}
	for i, s := range stock {
		q.costs, q.areas = append(q.costs, s.Cost), append(q.areas, int64(s.Width)*int64(s.Length))
		q.proportional = q.proportional && float64(q.costs[i])*float64(q.areas[0]) == float64(q.costs[0])*float64(q.areas[i])
	}
	q.cost = roundUp(q.byArea(q.costs), q.costs)
	return q
}

// takes returns what each shape takes of a sheet: its outline where some piece
// could come out of its notches, else its blank, because straight cuts give
// blanks and notches are cut out of them after.
func takes(shapes []*shape, wasteNotches bool) []geom.Poly {
	out := make([]geom.Poly, len(shapes))
	for i, s := range shapes {
		out[i] = s.blank
		for _, p := range s.pocket {
			b := p.Bounds()
			for j, t := range shapes {
				for _, v := range t.variants(j) {
					if !wasteNotches && v.w <= b.W() && v.h <= b.H() {
						out[i] = s.outline
					}
				}
			}
		}
	}
	return out
}

// prove runs the linear programmes for the cost and returns the bound.
func (q *relaxed) prove() int64 {
	if !q.full && q.cost < q.met {
		q.cost, q.method = q.best(q.costs)
	}
	q.full = true
	return q.cost
}

// bySets raises the bound on the cost by what sets of pieces on one sheet prove,
// and returns it. The patterns m has found are where it begins.
func (q *relaxed) bySets(m *master) int64 {
	if q.cost >= m.best.cost {
		return q.cost
	}
	for i := range q.shapes { // something could come out of a notch
		if q.left[i] > 0 && twiceArea(q.takes[i]) != twiceArea(q.shapes[i].blank) {
			return q.cost
		}
	}
	q.patterns = m
	if c := q.sets(q.costs, q.cost, m.best.cost); c > q.cost {
		q.cost, q.method = c, bySets
	}
	return q.cost
}

// sets returns the bound of the set relaxation on the sum of each over the sheets
// bought, rounded up; known is a bound there is, met a sum that was found.
func (q *relaxed) sets(each []int64, known, met int64) int64 {
	unit := float64(slices.Min(each))
	z := newSheetSets(q.patterns.f, q.left, q.patterns.pool, each, unit, q.proof.sets)
	if z == nil {
		return known
	}
	sums := newSums(each)
	v := z.bound(z, q.proof.rounds, func(bound, value float64) bool {
		most := sums.up(min(value*unit, float64(met)))
		return sums.up(bound*unit) >= most || most <= known
	})
	return max(known, sums.up(v*unit))
}

// lower returns the bounds on cost and on area bought.
func (q *relaxed) lower() lower {
	area := times(measure.Area(1), q.cost)
	switch {
	case q.proportional && q.areas[0]%q.costs[0] == 0:
		area = times(measure.Area(q.areas[0]/q.costs[0]), q.cost)
	case q.proportional:
		area = times(measure.Area(1), int64(math.Round(float64(q.cost)/float64(q.costs[0])*float64(q.areas[0]))))
	case anyLeft(q.left):
		n, _ := q.best(q.areas)
		if q.patterns != nil {
			n = q.sets(q.areas, n, math.MaxInt64)
		}
		area = times(measure.Area(1), n)
	}
	return lower{cost: q.cost, area: area, method: q.method + "; rounded up to whole sheets"}
}

// best returns the greatest of the bounds on the sum of each over the sheets
// bought, rounded up, and what it rests on.
func (q *relaxed) best(each []int64) (int64, string) {
	best, method := roundUp(q.byArea(each), each), byArea
	try := func(name string, bound float64) {
		if v := roundUp(bound, each); v > best {
			best, method = v, name
		}
	}
	one := q.stock[0].Width == q.stock[len(q.stock)-1].Width
	slopes := one && q.hasSlopes()
	if slopes {
		try(byAlong, q.doubled(each, asIs))
	}
	if !slopes || q.proof.parts > 2 {
		try(byAlong, q.along(each))
	}
	try(byAcross, q.across(each))
	try(byTaper, q.taper(each))
	if one {
		for _, by := range q.scales() {
			try(byBoth, q.doubled(each, by))
		}
	}
	return best, method
}

// byArea bounds by the net area of the pieces at the cheapest rate.
func (q *relaxed) byArea(each []int64) float64 {
	var area float64
	for i := range q.shapes {
		area += float64(twiceArea(q.takes[i])) / 2 * float64(q.left[i])
	}
	rate := math.Inf(1)
	for i, s := range q.stock {
		rate = min(rate, float64(each[i])/(float64(s.Width)*float64(s.Length)))
	}
	return area * rate
}
