package cutting

import (
	"cmp"
	"math"
	"slices"

	"boardrun/internal/measure"
)

// The set relaxation. What lies on one sheet is a set of pieces; it is allowed
// here if no simple reason speaks against it: every two find room together, those
// that can only lie side by side have widths and tapered edges that add up, those
// that can only lie one above the other heights, and all together the area. So
// every real cutting, straight cuts or not, is made of such sets, and the
// cheapest sets that hold all pieces cost no more than it. It says most where
// few pieces share a sheet, and gives up where many do.

// member is one way a shape lies in a set.
type member struct {
	row, shape int
	w, h       measure.Length // of an upright rectangle it surely takes
	mean       measure.Length // of the heights at two lines as far from either edge, if it spans the sheet; else 0
	need       int
	size       [sizesOfSet]float64 // what it takes of a sheet, measured in several ways
	value      float64
}

// half is half of what a member takes of two lines along the sheet, as far from
// the one edge as from the other; both are as long as the sheet.
func (m *member) half() measure.Length {
	if m.mean > 0 {
		return m.mean
	}
	return m.h / 2
}

// sizesOfSet is how many ways there are: the area; half the sheet's width for
// each tapered edge, as high as the piece; the mean of both.
const sizesOfSet = 3

// sheetSets prices sets.
type sheetSets struct {
	growing
	width   measure.Length
	stock   []Stock
	unit    float64
	members []member
	copies  []int // of each row
	limits  setLimits
	looks   int // left in this round
	found   []foundSet

	// Of the search for one sheet.
	length   measure.Length
	full     float64 // its area
	cost     float64
	chosen   []int32 // members
	count    []int   // of each row, chosen
	byRate   [sizesOfSet][]int32
	open     []bool // members still to be had
	bestCost float64
}

// foundSet is a set worth more than its sheet.
type foundSet struct {
	stock   int
	members []int32
	rate    float64 // value for cost
}

// newSheetSets begins with the patterns of pool; a sheet costs each. It returns nil if sheets are of
// several widths or there are too many shapes.
func newSheetSets(f *filler, left []int, pool []candidate, each []int64, unit float64, limits setLimits) *sheetSets {
	z := &sheetSets{width: f.stock[0].Width, stock: slices.Clone(f.stock), unit: unit, limits: limits}
	for i := range z.stock {
		z.stock[i].Cost = each[i]
	}
	if z.width != f.stock[len(f.stock)-1].Width {
		return nil
	}
	row := make([]int, len(left))
	var first []column
	for i, s := range f.shapes {
		if row[i] = -1; left[i] == 0 {
			continue
		}
		row[i] = len(z.copies)
		z.copies = append(z.copies, left[i])
		z.need = append(z.need, float64(left[i]))
		c := cheapest(s, i, z.stock)
		first = append(first, column{float64(each[c.stock]) / unit, []int32{int32(row[i])}, []float64{1}})
		z.put(s, i, row[i])
	}
	if len(z.copies) == 0 || len(z.copies) > limits.rows {
		return nil
	}
	z.lp = newLinear(z.need, first)
	for _, c := range pool {
		if !c.u.within(left) {
			continue
		}
		k := column{cost: float64(each[c.stock]) / unit}
		for _, e := range c.u {
			k.put(int32(row[e.shape]), float64(e.n))
		}
		z.lp.cols = append(z.lp.cols, k)
	}
	z.centre = z.byArea(f)
	z.count, z.open = make([]int, len(z.copies)), make([]bool, len(z.members))
	return z
}

// put adds the ways shape i may lie.
func (z *sheetSets) put(s *shape, i, row int) {
	for _, v := range s.variants(i) {
		if v.w > z.width || v.need == barEdges && v.w < z.width {
			continue
		}
		m := member{row: row, shape: i, need: v.need}
		m.w, m.h = s.surely(v)
		edges := measure.Length(v.need) * (z.width / barEdges)
		switch {
		case m.w == z.width && s.sloped && !v.quarter:
			m.mean = (s.l + s.r) / 2
		case m.w == z.width:
			m.mean = m.h
		}
		area, edged := s.area, float64(edges)*float64(m.h)
		if m.mean > 0 {
			edged = area
		}
		m.size = [sizesOfSet]float64{area, edged, (area + edged) / 2}
		z.members = append(z.members, m)
	}
}

// byArea prices rows by the area of their shapes.
func (z *sheetSets) byArea(f *filler) []float64 {
	rate := math.Inf(1)
	for _, s := range z.stock {
		rate = min(rate, float64(s.Cost)/z.unit/(float64(s.Width)*float64(s.Length)))
	}
	y := make([]float64, len(z.copies))
	for _, m := range z.members {
		y[m.row] = rate * f.shapes[m.shape].area
	}
	return y
}

// price looks for the set that is worth most for its cost, sheet by sheet.
func (z *sheetSets) price(y []float64) (over float64, ok bool) {
	z.found, z.looks = z.found[:0], z.limits.looks
	for i := range z.members {
		z.members[i].value = y[z.members[i].row]
	}
	over = 1
	for k := len(z.stock) - 1; k >= 0; k-- {
		s := z.stock[k]
		z.length, z.cost = s.Length, float64(s.Cost)/z.unit
		z.full, z.bestCost = float64(s.Width)*float64(s.Length), z.cost*(1+1e-9)
		if !z.search(k) {
			return 0, false
		}
		over = max(over, z.bestCost/z.cost)
	}
	return over, true
}

func (z *sheetSets) each(f func(c column)) {
	slices.SortStableFunc(z.found, func(a, b foundSet) int { return cmp.Compare(b.rate, a.rate) })
	for _, s := range z.found {
		c := column{cost: float64(z.stock[s.stock].Cost) / z.unit}
		for _, m := range s.members {
			c.put(int32(z.members[m].row), 1)
		}
		f(c)
	}
}
