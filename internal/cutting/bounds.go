package cutting

import (
	"sort"

	"boardrun/internal/measure"
)

// boundsOf adds up sheets and bounds by board.
func boundsOf(sheets []Sheet, results []groupResult) []Bound {
	var out []Bound
	at := map[string]int{}
	for _, r := range results {
		i, ok := at[r.key.board]
		if !ok {
			i = len(out)
			at[r.key.board] = i
			out = append(out, Bound{Board: r.key.board, Method: r.bound.method})
		}
		out[i].CostAt += r.bound.cost
		out[i].ForThese = out[i].ForThese.Add(r.bound.area)
	}
	for _, s := range sheets {
		out[at[s.Board]].count(s)
	}
	for i := range out {
		b := &out[i]
		b.Waste = b.Bought.Minus(b.Hung).Minus(b.Kept)
		if b.Cost <= b.CostAt {
			b.Status = Optimal
		}
		sort.Slice(b.Sheets, func(i, j int) bool {
			x, y := b.Sheets[i], b.Sheets[j]
			if x.Width != y.Width {
				return x.Width < y.Width
			}
			return x.Length < y.Length
		})
	}
	return out
}

func (b *Bound) count(s Sheet) {
	b.Bought = b.Bought.Plus(measure.Times(s.Width, s.Length))
	b.Cost += s.Cost
	for _, p := range s.Placements {
		b.Hung = b.Hung.Plus(measure.Area(twiceArea(p.Outline) / 2))
	}
	for _, o := range s.Offcuts {
		if o.Kept {
			b.Kept = b.Kept.Plus(measure.Area(twiceArea(o.Outline) / 2))
		}
	}
	for i := range b.Sheets {
		if b.Sheets[i].Width == s.Width && b.Sheets[i].Length == s.Length {
			b.Sheets[i].Count++
			return
		}
	}
	b.Sheets = append(b.Sheets, LengthCount{s.Width, s.Length, 1})
}
