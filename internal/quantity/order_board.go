package quantity

import (
	"sort"

	"boardrun/internal/measure"
)

// boardLine is the sheets of one size on one storey.
type boardLine struct {
	storey, board string
	width, length Length
}

func (t *taker) boardLines() ([]boardLine, map[boardLine]int) {
	count := map[boardLine]int{}
	var keys []boardLine
	for _, b := range t.in.Bought {
		k := boardLine{b.Storey, b.Board, b.Width, b.Length}
		if count[k] == 0 {
			keys = append(keys, k)
		}
		count[k] += b.Count
	}
	sort.Slice(keys, func(i, k int) bool {
		a, b := keys[i], keys[k]
		switch {
		case a.storey != b.storey:
			return a.storey < b.storey
		case a.board != b.board:
			return a.board < b.board
		case a.width != b.width:
			return a.width < b.width
		}
		return a.length < b.length
	})
	return keys, count
}

// Allowance is what is ordered beyond the sheets of the cut list, for sheets of
// one board and width on one storey, by length: percent of all of them for
// damage, in whole sheets, every length an even number because board is bundled
// in pairs. A sheet that makes up a pair counts as damage allowance; what is
// missing then is added in pairs where most is to be expected, to the longer of
// equals, since a longer sheet stands in for a shorter one. counts rise by
// length; the result is parallel to it.
// Source: common practice, no source.
func Allowance(counts []int, percent float64) []int {
	spare := make([]int, len(counts))
	all := 0
	for _, n := range counts {
		all += n
	}
	per := int64(percent*1000 + 0.5) // of 100 000
	want := int(ceilDiv(int64(all)*per, 100_000))
	for i, n := range counts {
		spare[i] = n % 2
		want -= n % 2
	}
	for want > 0 {
		best, most := -1, int64(0)
		for i, n := range counts {
			if lack := int64(n)*per - int64(spare[i])*100_000; n > 0 && (best < 0 || lack >= most) {
				best, most = i, lack
			}
		}
		spare[best] += 2
		want -= 2
	}
	return spare
}

func (t *taker) orderBoard(sum *tally) {
	keys, count := t.boardLines()
	for i := 0; i < len(keys); {
		var group []int
		first := i
		for ; i < len(keys) && keys[i].storey == keys[first].storey && keys[i].board == keys[first].board && keys[i].width == keys[first].width; i++ {
			group = append(group, count[keys[i]])
		}
		for k, spare := range Allowance(group, t.set.DamagePercent) {
			t.orderSheets(sum, keys[first+k], group[k], spare)
		}
	}
}

func (t *taker) orderSheets(sum *tally, k boardLine, sheets, spare int) {
	it := Item{Item: ItemBoard, Spec: k.board, Width: k.width, Length: k.length, Count: sheets + spare, Allowance: spare, Storey: k.storey}
	it.AreaM2 = float64(it.Count) * measure.Times(k.width, k.length).M2()
	it.MassKg = t.mass(k.board, it.AreaM2)
	b := t.in.Job.Board(k.board)
	if it.Special = b != nil && b.Special || special(k.width, k.length); it.Special {
		it.Note = "special order"
	}
	sum.add(it, "")
	sum.items[len(sum.items)-1].Runs = t.runsOf(k)
}

// special reports whether a sheet is wider than 4 ft or 1,220 mm or longer than
// 12 ft or 3,660 mm: such are made to order.
// Source: common practice, no source.
func special(width, length Length) bool {
	return width > 1221*mm || length > 3661*mm
}

func (t *taker) mass(board string, areaM2 float64) float64 {
	if b := t.in.Job.Board(board); b != nil {
		return b.MassM2 * areaM2
	}
	return 0
}

// runsOf names the runs whose pieces are cut from the sheets of one line, where
// the cut list tells.
func (t *taker) runsOf(k boardLine) []string {
	if t.cutFor == nil {
		t.cutFor = t.runsByLine()
	}
	return sortedKeys(t.cutFor[k])
}

// runsByLine collects the runs of every line at once: a job has a line for each
// storey, board and size.
func (t *taker) runsByLine() map[boardLine]map[string]bool {
	of := map[string]string{}
	for _, l := range t.layouts {
		for i := range l.Pieces {
			of[l.Pieces[i].ID] = l.Run.ID
		}
	}
	got := map[boardLine]map[string]bool{}
	for _, b := range t.in.Bought {
		k := boardLine{b.Storey, b.Board, b.Width, b.Length}
		if got[k] == nil {
			got[k] = map[string]bool{}
		}
		for _, p := range b.Pieces {
			if r := of[p]; r != "" {
				got[k][r] = true
			}
		}
	}
	return got
}
