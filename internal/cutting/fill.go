package cutting

import (
	"sort"

	"boardrun/internal/measure"
)

// sizes of the sheets on sale for one group: stock indices by width, lengths
// rising.
type stockWidth struct {
	width measure.Length
	stock []int // indices into filler.stock
}

// filler proposes patterns for one sheet at given prices per shape.
type filler struct {
	shapes  []*shape
	vars    []variant
	stock   []Stock
	widths  []stockWidth
	buckets int
	shelf   shelf
	across  across
	singles []*block // of each variant
	flat    [][]int  // by width: variants as wide as the sheet, or alone on it
	classes [][]int  // by width: sloped variants as wide as the sheet, by slope; parallel to classOf
	classOf [][]int
	close   [][]measure.Length
	narrow  [][]*block // by width: blanks and pairs that leave room beside them
}

// candidate is a pattern with its price.
type candidate struct {
	stock int
	b     *block
	u     use
	value float64
}

// maxClassSpread is how far slopes within a class may differ; the difference is
// lost on every pair. Guards against grid rounding of a sloped deck only.
const maxClassSpread = measure.Inch / 32

func newFiller(shapes []*shape, stock []Stock, buckets int) *filler {
	f := &filler{shapes: shapes, stock: stock, buckets: buckets}
	for i, s := range shapes {
		f.vars = append(f.vars, s.variants(i)...)
	}
	for _, v := range f.vars {
		f.singles = append(f.singles, singleBlock(v))
	}
	byWidth := map[measure.Length]int{}
	for i, s := range stock {
		k, ok := byWidth[s.Width]
		if !ok {
			k = len(f.widths)
			byWidth[s.Width] = k
			f.widths = append(f.widths, stockWidth{width: s.Width})
		}
		f.widths[k].stock = append(f.widths[k].stock, i)
	}
	for _, w := range f.widths {
		f.sortVariants(w)
	}
	return f
}

// sortVariants puts the variants that fit a width into flat ones, slope classes
// and narrow ones.
func (f *filler) sortVariants(w stockWidth) {
	var flat, sloped []int
	var narrow []*block
	longest := f.stock[w.stock[len(w.stock)-1]].Length
	least := w.width
	for _, v := range f.vars {
		if v.fits(w.width, longest) {
			least = min(least, v.w)
		}
	}
	for i, v := range f.vars {
		if !v.fits(w.width, longest) {
			continue
		}
		if s := f.shapes[v.shape]; s.sloped && !v.quarter && v.w == w.width {
			sloped = append(sloped, i)
		} else {
			flat = append(flat, i)
		}
		if v.w+least <= w.width {
			narrow = append(narrow, singleBlock(v))
		}
	}
	narrow = append(narrow, f.narrowPairs(narrow, w.width, longest)...)
	f.flat, f.narrow = append(f.flat, flat), append(f.narrow, narrow)
	f.classify(sloped)
}

// narrowPairs returns pairs of sloped blanks narrower than the sheet.
func (f *filler) narrowPairs(singles []*block, width, longest measure.Length) []*block {
	var out []*block
	for i, a := range singles {
		for j, b := range singles {
			if i == j && len(f.shapes[a.a.shape].copies) < 2 || len(out) > 4000 {
				continue
			}
			p := pairBlock(f.shapes, a.a, b.a, width)
			if p == nil || p.h > longest {
				continue
			}
			if i > j { // the same pair the other way up is no better unless it wants less
				if q := pairBlock(f.shapes, b.a, a.a, width); q != nil && q.need <= p.need {
					continue
				}
			}
			if p.h < a.h+b.h {
				out = append(out, p)
			}
		}
	}
	return out
}

// classify sorts sloped variants by slope and numbers classes from 1.
func (f *filler) classify(sloped []int) {
	delta := func(i int) measure.Length {
		s := f.shapes[f.vars[i].shape]
		return s.l - s.r
	}
	sort.SliceStable(sloped, func(a, b int) bool { return delta(sloped[a]) < delta(sloped[b]) })
	class := make([]int, len(sloped))
	closing := make([]measure.Length, len(sloped))
	for i, n := 0, 0; i < len(sloped); n++ {
		j := i
		for j < len(sloped) && delta(sloped[j])-delta(sloped[i]) <= maxClassSpread && (delta(sloped[i]) > 0) == (delta(sloped[j]) > 0) {
			j++
		}
		spread := delta(sloped[j-1]) - delta(sloped[i])
		for ; i < j; i++ {
			s := f.shapes[f.vars[sloped[i]].shape]
			class[i], closing[i] = n+1, min(s.l, s.r)+spread
		}
	}
	f.classes, f.classOf, f.close = append(f.classes, sloped), append(f.classOf, class), append(f.close, closing)
}

// patterns returns, for every sheet on sale, the most valuable patterns found at
// these prices with at most left copies of each shape.
func (f *filler) patterns(price []float64, left []int) []candidate {
	var out []candidate
	for k := range f.widths {
		out = append(out, f.patternsFor(k, price, left)...)
	}
	return out
}

func (f *filler) patternsFor(k int, price []float64, left []int) []candidate {
	w := f.widths[k]
	longest := f.stock[w.stock[len(w.stock)-1]].Length
	parts := f.parts(k, price, left)
	whole := make([]*block, len(w.stock))
	if len(f.narrow[k]) > 0 {
		rows := &rower{f: f, width: w.width, narrow: f.narrow[k], price: price, left: left, across: &f.across}
		parts = append(rows.levels(longest), parts...)
		for i, s := range w.stock {
			whole[i] = rows.strips(f.stock[s].Length)
		}
	}
	var out []candidate
	shelf := &f.shelf
	shelf.reset(parts, longest, f.buckets)
	shelf.run(parts, longest)
	for i, s := range w.stock {
		length := f.stock[s].Length
		taken, _ := shelf.best(length)
		if b := f.assemble(parts, taken, length, price, left); b != nil {
			out = append(out, f.candidate(s, b, price))
		}
		if b := whole[i]; b != nil {
			out = append(out, f.candidate(s, b, price))
		}
	}
	return out
}

func (f *filler) candidate(stock int, b *block, price []float64) candidate {
	u := b.u
	return candidate{stock, b, u, u.value(price)}
}

// parts returns what can be stacked on a sheet of width k one per level.
func (f *filler) parts(k int, price []float64, left []int) []part {
	var out []part
	for _, i := range f.flat[k] {
		v := f.vars[i]
		if n := left[v.shape]; n > 0 && price[v.shape] > 0 {
			out = append(out, part{b: f.singles[i], h: v.h, value: price[v.shape], max: n})
		}
	}
	for j, i := range f.classes[k] {
		v := f.vars[i]
		if n := left[v.shape]; n > 0 && price[v.shape] > 0 {
			out = append(out, part{
				b: f.singles[i], h: v.h, value: price[v.shape], max: n,
				class: f.classOf[k][j], close: f.close[k][j],
			})
		}
	}
	return out
}

// assemble turns stacked parts into a block: sloped parts of a class into pairs,
// and drops what would use a shape too often, filling its room again.
func (f *filler) assemble(parts []part, taken []int, length measure.Length, price []float64, left []int) *block {
	rest := append([]int(nil), left...)
	var kids []*block
	var h measure.Length
	for i := 0; i < len(taken); i++ {
		p := parts[taken[i]]
		b := p.b
		if i+1 < len(taken) && p.class > 0 && parts[taken[i+1]].class == p.class {
			b = pairBlock(f.shapes, p.b.a, parts[taken[i+1]].b.a, p.b.w)
			i++
		}
		if u := b.u; u.within(rest) && h+b.h <= length {
			u.take(rest, 1)
			kids, h = append(kids, b), h+b.h
		}
	}
	for dropped := true; dropped; {
		dropped = false
		var best *block
		var value float64
		for _, p := range parts {
			if h+p.h <= length && p.value > value && p.b.u.within(rest) {
				best, value = p.b, p.value
			}
		}
		if best != nil {
			best.u.take(rest, 1)
			kids, h, dropped = append(kids, best), h+best.h, true
		}
	}
	if len(kids) == 0 {
		return nil
	}
	return stackOf(kids...)
}
