package cutting

import "boardrun/internal/measure"

// BarPiece is so many pieces of one length, to be cut from bars such as studs.
type BarPiece struct {
	Length measure.Length
	Count  int
}

// LeastStock returns a length that no way of cutting the pieces from whole
// stock lengths, any number of each, gets below in total. It is the linear
// programme of Gilmore and Gomory (Operations Research 9, 1961) on lengths
// rounded in favour of the bound, never less than what the pieces add up to,
// raised to the next sum of stock lengths. Zero: a piece is longer than all
// stock, so there is no such way. Saw cuts take nothing: studs are sheared.
func LeastStock(pieces []BarPiece, stock []measure.Length) measure.Length {
	var longest, sum measure.Length
	each := make([]int64, 0, len(stock))
	for _, s := range stock {
		if s > 0 {
			longest, each = max(longest, s), append(each, int64(s))
		}
	}
	const cells = 4096 // of the longest stock: 1 mm and finer up to 4 m
	g := max(1, longest/cells)
	var bar []barStock
	for _, s := range each {
		bar = append(bar, barStock{size: int((measure.Length(s) + g - 1) / g), cost: float64(s)})
	}
	var need []float64
	var items []barItem
	row := map[int]int{}
	for _, p := range pieces {
		if p.Count <= 0 || p.Length <= 0 {
			continue
		}
		if p.Length > longest {
			return 0
		}
		sum += p.Length * measure.Length(p.Count)
		size := int(p.Length / g)
		if size == 0 {
			continue
		}
		i, ok := row[size]
		if !ok {
			i = len(need)
			row[size] = i
			need, items = append(need, 0), append(items, barItem{row: i, size: size, coef: 1})
		}
		need[i] += float64(p.Count)
		items[i].max += p.Count
	}
	if sum == 0 {
		return 0
	}
	least := float64(sum)
	if len(need) > 0 && len(need) <= maxRows {
		if b := newBars(need, items, bar); b != nil {
			least = max(least, b.bound(200, settled(each)))
		}
	}
	return measure.Length(roundUp(least, each))
}
