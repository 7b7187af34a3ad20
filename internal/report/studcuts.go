package report

import (
	"slices"
	"sort"
	"strings"

	"boardrun/internal/cutting"
	"boardrun/internal/measure"
)

// studBar is one stock length with the studs cut from it.
type studBar struct {
	stock MM
	cuts  []MM // longest first
	left  MM
}

func (b *studBar) cut(c MM) {
	b.cuts = append(b.cuts, c)
	b.left -= c
}

// studBars cuts the studs of one specification from the lengths ordered for
// it: longest first, each from the first opened length that still holds it,
// else from the shortest unopened one that does. It is the way the order was
// counted, so no more is opened than is ordered; what finds no length is
// returned apart.
func studBars(cuts []MM, order map[MM]int) (bars []*studBar, none []MM) {
	const slack = 1e-4 // mm: lengths have come through decimals
	left := map[MM]int{}
	lengths := make([]MM, 0, len(order))
	for l, n := range order {
		left[l], lengths = n, append(lengths, l)
	}
	slices.Sort(lengths)
	cuts = slices.Clone(cuts)
	sort.Slice(cuts, func(i, k int) bool { return cuts[i] > cuts[k] })
	from := 0 // no bar before it holds a cut as long as the last one
next:
	for i, c := range cuts {
		if i > 0 && c != cuts[i-1] {
			from = 0
		}
		for ; from < len(bars); from++ {
			if b := bars[from]; b.left >= c-slack {
				b.cut(c)
				continue next
			}
		}
		for _, l := range lengths {
			if left[l] > 0 && l >= c-slack {
				left[l]--
				b := &studBar{stock: l, left: l}
				b.cut(c)
				bars = append(bars, b)
				continue next
			}
		}
		none = append(none, c)
	}
	return bars, none
}

// studCuts is the list for the shear: which studs come out of which stock
// length; and beside each specification the least stock it could take.
func (p *paper) studCuts() Tab {
	type goods struct{ storey, spec string }
	cuts, order := map[goods][]MM{}, map[goods]map[MM]int{}
	var keys []goods
	for i := range p.t.Framing {
		it := &p.t.Framing[i]
		if it.Item != "stud" {
			continue
		}
		k := goods{it.Storey, it.Spec}
		if order[k] == nil {
			order[k], keys = map[MM]int{}, append(keys, k)
		}
		for n := 0; n < it.Count; n++ {
			cuts[k] = append(cuts[k], it.LengthMM)
		}
	}
	for i := range p.t.Order {
		it := &p.t.Order[i]
		if m := order[goods{it.Storey, it.Spec}]; it.Item == "stud" && m != nil {
			m[it.LengthMM] += it.Count + it.Allowance
		}
	}
	list := Block{Key: "bars", Title: "Studs from stock lengths", Columns: []Column{
		col("storey", "Storey", 9, Words), col("stock", "Stock", 10, Lengths), col("number", "Number", 8, Whole), col("left", "Left over, each", 12, Lengths),
		col("spec", "Specification", 26, Words), col("each", "Studs of each", 8, Whole), col("cuts", "Cut from each", 60, Words), col("done", "Cut", 6, Box),
	}}
	sum := Block{Key: "least", Title: "Stock for studs, and the least it could be", Columns: []Column{
		col("storey", "Storey", 9, Words), col("ordered", "Ordered, "+p.lfName(), 10, Decimal), col("cut", "Cut, "+p.lfName(), 10, Decimal), col("waste", "Waste of ordered", 10, Percent),
		col("spec", "Specification", 26, Words), col("bound", "Least possible, "+p.lfName(), 12, Decimal),
	}, Notes: []string{"Least possible: no way of cutting these studs from whole lengths of the sizes ordered takes less (linear programme, raised to a sum of such lengths)."}}
	for _, k := range keys {
		bars, none := studBars(cuts[k], order[k])
		p.studBarRows(&list, k.storey, k.spec, bars, none)
		// Added up as whole units: sums of floats depend on their order.
		var bought, needed measure.Length
		var stock []measure.Length
		for l, n := range order[k] {
			bought += l.Length() * measure.Length(n)
			stock = append(stock, l.Length())
		}
		slices.Sort(stock)
		pieces := make([]cutting.BarPiece, len(cuts[k]))
		for i, c := range cuts[k] {
			needed += c.Length()
			pieces[i] = cutting.BarPiece{Length: c.Length(), Count: 1}
		}
		ordered, cut := bought.MM(), needed.MM()
		least := T("")
		if v := cutting.LeastStock(pieces, stock); v > 0 {
			least = N(p.lf(v.MM()))
		}
		sum.Rows = append(sum.Rows, []Cell{
			T(k.storey), N(p.lf(ordered)), N(p.lf(cut)), F("IF({ordered}=0,0,1-{cut}/{ordered})", ratio(ordered-cut, ordered)), T(k.spec), least,
		})
	}
	return Tab{Name: "Stud cuts", Blocks: []Block{sum, list}}
}

func (p *paper) studBarRows(list *Block, storey, spec string, bars []*studBar, none []MM) {
	at := map[string]int{}
	for _, b := range bars {
		var words []string
		for i := 0; i < len(b.cuts); {
			n := 1
			for i+n < len(b.cuts) && b.cuts[i+n] == b.cuts[i] {
				n++
			}
			w := p.cut(b.cuts[i]).Text
			if n > 1 {
				w = strconvI(n) + " × " + w
			}
			words, i = append(words, w), i+n
		}
		left := p.cut(max(0, b.left))
		key := p.cut(b.stock).Text + "|" + strings.Join(words, " + ") + "|" + left.Text
		r, ok := at[key]
		if !ok {
			r = len(list.Rows)
			at[key] = r
			list.Rows = append(list.Rows, []Cell{T(storey), p.wall(b.stock), I(0), left, T(spec), I(len(b.cuts)), T(strings.Join(words, " + ")), T("")})
		}
		list.Rows[r][2].Num++
	}
	for _, c := range none {
		list.Rows = append(list.Rows, []Cell{T(storey), T(""), I(1), T(""), T(spec).As(Alert), I(1), T(p.cut(c).Text + ": no length ordered holds it"), T("")})
	}
}
