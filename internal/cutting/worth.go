package cutting

import "boardrun/internal/measure"

// Blank is the least that a piece takes of a sheet: so wide, so high at its left
// and at its right. Turn: it may lie across the sheet.
type Blank struct {
	Width, Left, Right measure.Length
	Turn               bool
}

// worth prices blanks such that no sheet gives blanks of more worth than 1 for
// each square millimetre of it, however they are cut: what all blanks of a
// layout are worth is then a bound on the board it takes. A sheet is seen as
// double bars: pairs of lines along it, as far from its one edge as from the
// other (see doubled). A line gives lengths that add up to its own; across it
// widths are scaled (see scale). Worth of a length is the dearest filling of it
// by lengths that a linear programme has priced, so any lengths side by side on
// a line are worth at most the line.
type worth struct {
	width measure.Length // of the sheets
	step  measure.Length // of the table
	value []float64      // of a length on a double bar, in mm² of its sheet
	by    scale
	most  float64 // no prices of this scale make the lengths it was made for dearer, in mm²
	count bool    // of sheets, not of double bars: a piece is as long as its shorter side
}

// of returns what b is worth.
func (f *worth) of(b Blank) float64 {
	v := f.lying(b.Width, b.Left, b.Right)
	if low := min(b.Left, b.Right); b.Turn && low <= f.width {
		v = min(v, f.lying(low, b.Width, b.Width))
	}
	return v
}

func (f *worth) lying(w, l, r measure.Length) float64 {
	if w >= f.width && !f.count {
		return f.at(l + r)
	}
	if l == r {
		return f.share(w) * f.at(l)
	}
	if f.by != nil || f.count {
		return f.share(w) * f.at(min(l, r))
	}
	var sum float64
	for k := measure.Length(0); k < slopeParts; k++ {
		a, b := l+(r-l)*k/slopeParts, l+(r-l)*(k+1)/slopeParts
		sum += f.share(w/slopeParts) * f.at(min(a, b))
	}
	return sum
}

// slopeParts is into how many slabs a sloped rip is cut.
const slopeParts = 4

// share is how many double bars of length 1 a width of it takes.
func (f *worth) share(w measure.Length) float64 {
	if f.by != nil {
		w = f.by(w, 0) // its edges are not known here
	}
	return 2 * float64(w) / float64(f.width)
}

func (f *worth) at(l measure.Length) float64 {
	return f.value[min(int(l/f.step), len(f.value)-1)]
}

// lengths adds the lengths that b takes of double bars to need.
func (f *worth) lengths(b Blank, n float64, need map[int]float64) {
	add := func(l measure.Length, share float64) {
		if k := int(l / f.step); k > 0 && share > 0 {
			need[k] += n * share
		}
	}
	w, l, r := b.Width, b.Left, b.Right
	if low := min(l, r); b.Turn && low <= f.width && f.lying(low, w, w) < f.lying(w, l, r) {
		w, l, r = low, w, w
	}
	switch {
	case w >= f.width:
		add(l+r, 1)
	case l == r || f.by != nil:
		add(min(l, r), f.share(w))
	default:
		for k := measure.Length(0); k < slopeParts; k++ {
			a, b := l+(r-l)*k/slopeParts, l+(r-l)*(k+1)/slopeParts
			add(min(a, b), f.share(w/slopeParts))
		}
	}
}

// areaWorth is the worth that is the blank's area.
func areaWorth(width, longest, step measure.Length) *worth {
	f := &worth{width: width, step: step, value: make([]float64, 2*longest/step+1)}
	for i := range f.value {
		f.value[i] = (measure.Length(i) * step).MM() / 2 * width.MM()
	}
	return f
}

// dearest returns a worth that makes the lengths needed dear: the prices of the
// linear programme for them, see doubled. It is nil if there are none.
func dearest(need map[int]float64, width, step measure.Length, lengths []measure.Length, by scale, known *barPool) *worth {
	if len(need) == 0 {
		return nil
	}
	p := newPricing(need, step, lengths, known)
	p.run()
	longest := lengths[len(lengths)-1]
	p.fill(p.centre)
	f := &worth{width: width, step: step, value: make([]float64, len(p.val)), by: by}
	over := p.over() * (1 + 1e-12)
	_, most := p.lp.solution()
	f.most = most * width.MM() * longest.MM()
	for i, v := range p.val {
		f.value[i] = float64(v / over * width.MM() * longest.MM())
	}
	return f
}

// countWorth is 1 for a sheet longer than over, at least half as long as the
// longest: of blanks longer than over no two lie on one line along a sheet, so
// each is worth its share of the width, and what fits one sheet at most 1.
func countWorth(width, longest, over, step measure.Length, by scale) *worth {
	f := &worth{width: width, step: step, by: by, value: make([]float64, longest/step+1), count: true}
	for i := range f.value {
		if measure.Length(i)*step > over {
			f.value[i] = 0.5
		}
	}
	return f
}
