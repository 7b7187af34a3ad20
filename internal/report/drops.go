package report

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"
	"strings"

	"boardrun/internal/measure"
)

// drops are the pages for the yard: one for each storey, which is one delivery,
// with the board in pairs, what it weighs and how it may be stacked, and the rest
// of what goes with it. Counts are those of the order's sheet, live.
func (p *paper) drops() []Tab {
	var out []Tab
	taken := map[string]bool{}
	for i, items := range p.dropsOf() {
		s := p.drop(orderKeyOf(i), items)
		s.Name = tabName("Drop "+items[0].Storey, taken)
		out = append(out, s)
	}
	return out
}

// dropsOf returns the lines of the order by storey.
func (p *paper) dropsOf() [][]Item {
	by := map[string][]Item{}
	for _, it := range p.t.Order {
		by[it.Storey] = append(by[it.Storey], it)
	}
	var out [][]Item
	for _, s := range slices.Sorted(maps.Keys(by)) {
		out = append(out, by[s])
	}
	return out
}

// orderKeyOf names the block of the order's sheet that has the lines of drop i.
func orderKeyOf(i int) string { return "order" + strconvI(i+1) }

// tabName makes a name that a workbook takes for a sheet: at most 31 characters,
// none of []:*?/\, no apostrophe at an end, and not one taken before.
func tabName(name string, taken map[string]bool) string {
	clean := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\'`, r) || r < ' ' {
			return '-'
		}
		return r
	}, strings.TrimSpace(name))
	for n := 1; ; n++ {
		end := ""
		if n > 1 {
			end = " " + strconvI(n)
		}
		r := []rune(clean)
		s := strings.TrimSpace(string(r[:min(len(r), 31-len(end))])) + end
		if k := strings.ToLower(s); !taken[k] {
			taken[k] = true
			return s
		}
	}
}

// storeyTitle is the title of a storey's block of the order.
func storeyTitle(storey string) string {
	if storey == "" {
		return "Whole job"
	}
	return "Storey " + storey
}

// drop is the page of one storey; from is the block of the order it is taken
// from, whose rows are those of items.
func (p *paper) drop(from string, items []Item) Tab {
	storey := items[0].Storey
	d := p.t.Job.Delivery
	if d == nil {
		d = &Delivery{}
	}
	s := Tab{OnePage: true, Lead: []string{
		storeyTitle(storey) + ". Sheets by where they are set down, see Stocking: " + p.places(storey) + ".",
		"Needed on site: " + orLine(d.Needed) + "   Checked against the order by: ____________   Received: ____________",
		p.wayIn(d),
		p.floor(d),
	}}
	board := Block{Key: "board", Title: "Board, in pairs face to face", Columns: []Column{
		col("board", "Board", 20, Words), col("size", "Size", 22, Words), col("sheets", "Sheets", 8, Whole), col("pairs", "Pairs", 10, Whole), col("odd", "and single", 8, Whole),
		col("each", p.lbName()+" a sheet", 10, Decimal), col("mass", p.lbName(), 9, Whole), col("one", p.loadName()+" a sheet", 10, Money), col("load", "all in one stack, "+p.loadName(), 10, Decimal), col("most", "Sheets in a stack at most", 10, Whole), flow("note", "Note", 16),
	}}
	rest := Block{Key: "rest", Title: "What comes with it", Columns: []Column{
		col("item", "Item", 20, Words), col("spec", "Specification", 22, Words), col("count", "Order", 8, Whole), col("unit", "Length, unit", 10, Words), flow("note", "Note", 30),
	}}
	allowed := false
	for _, it := range items {
		allowed = allowed || it.Allowance > 0
	}
	count := "{Order/" + from + "/count#%d}"
	if allowed {
		count = "{Order/" + from + "/order#%d}"
	}
	for i := range items {
		it := &items[i]
		n := it.Count + it.Allowance
		switch {
		case it.Item == "board":
			board.Rows = append(board.Rows, p.dropBoard(it, fmt.Sprintf(count, i), d.FloorKPa))
		case n > 0:
			unit := p.goods(it.WidthMM, it.LengthMM)
			rest.Rows = append(rest.Rows, []Cell{T(it.Item), T(it.Spec), F(fmt.Sprintf(count, i), float64(n)), T(unit), T(it.Note)})
		case it.AreaM2 > 0:
			rest.Rows = append(rest.Rows, []Cell{T(it.Item), T(it.Spec), F(fmt.Sprintf("{Order/"+from+"/sf#%d}", i), p.sf(float64(it.AreaM2))), T(p.sfName()), T(it.Note)})
		case it.LengthMM > 0:
			rest.Rows = append(rest.Rows, []Cell{T(it.Item), T(it.Spec), F(fmt.Sprintf("{Order/"+from+"/length#%d}", i), p.lf(float64(it.LengthMM))), T(p.lfName()), T(it.Note)})
		}
	}
	if len(board.Rows) > 0 {
		board.Total = totalRow(board, "All board", "sheets", "mass")
	}
	s.Blocks = []Block{board, rest}
	return s
}

// dropBoard is the line of one size of sheet. A stack as wide and long as its
// sheets loads the floor under it with as many sheets as lie in it.
func (p *paper) dropBoard(it *Item, count string, floor float64) []Cell {
	n := it.Count + it.Allowance
	each := 0.0
	if n > 0 {
		each = float64(it.MassKg) / float64(n)
	}
	load := 0.0 // of one sheet, kPa
	if area := float64(it.WidthMM) * float64(it.LengthMM) / 1e6; area > 0 {
		load = each * measure.Gravity / 1000 / area
	}
	most := T("")
	if floor > 0 && load > 0 {
		m := int(math.Floor(floor/load + 1e-9))
		most = I(m - m%2)
		if m < 2 {
			most = I(m).As(Alert)
		}
	}
	return []Cell{
		T(it.Spec), T(p.size(it.WidthMM, it.LengthMM)), F(count, float64(n)), F("INT({sheets}/2)", float64(n/2)), F("{sheets}-2*{pairs}", float64(n%2)),
		N(p.mass(each)), F("{sheets}*{each}", float64(n)*p.mass(each)), N(p.load(load)), F("{sheets}*{one}", float64(n)*p.load(load)), most, T(it.Note),
	}
}

func (p *paper) load(kpa float64) float64 {
	if p.sys == measure.Metric {
		return kpa
	}
	return kpa / measure.KPaPerPsf
}

func (p *paper) loadName() string { return pick(p.sys, "psf", "kPa") }

// places names where the sheets of a storey are set down, most first.
func (p *paper) places(storey string) string {
	count := map[string]int{}
	for _, it := range p.t.Stocking {
		if it.Storey == storey && it.Area != "" {
			place, _, _ := strings.Cut(it.Area, ",")
			count[place] += it.Count + it.Allowance
		}
	}
	names := make([]string, 0, len(count))
	for n := range count {
		names = append(names, n)
	}
	sort.Slice(names, func(i, k int) bool {
		return count[names[i]] > count[names[k]] || count[names[i]] == count[names[k]] && names[i] < names[k]
	})
	for i, n := range names {
		names[i] = fmt.Sprintf("%s (%d)", n, count[n])
	}
	if len(names) == 0 {
		return "____________"
	}
	return several(names, 12)
}

func (p *paper) wayIn(d *Delivery) string {
	if d.LongestMM > 0 {
		return "The way in takes lengths up to " + measure.Human(d.LongestMM.Length(), p.sys) + "; nothing here is longer unless a note says so."
	}
	return "The way in is not given: measure doors, lift and stairs before ordering the longest lengths (order: longest in the job file)."
}

func (p *paper) floor(d *Delivery) string {
	if d.FloorKPa > 0 {
		return "Stacks load the floor with at most " + measure.Pressure(d.FloorKPa, p.sys) + ", the job file's word; a stack loads what it covers. The structure's engineer confirms it: stacks side by side, beams and age of the slab count too."
	}
	return "What the floor may carry is not given (order: floor in the job file): ask the structure's engineer before stacking; spread stacks along walls and beams, flat, in pairs."
}

// orLine is a text, or a line to write on.
func orLine(s string) string {
	if s == "" {
		return "____________"
	}
	return s
}
