package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// RowChart is a chart of rows of a block: a series each, named by the first
// column, over the columns From to To whose headers name the bars.
type RowChart struct {
	Title, Block string
	Rows         []int // indices into the block's rows
	From, To     string
	Stacked      bool
	Axis         string // unit along the axis
}

// CompareTabs returns the sheets of compare.xlsx and the charts of the last, each
// of rows of the first.
func CompareTabs(c *Comparison) ([]Tab, []RowChart) {
	p := comparePaper{c: c, paper: newPaper(&Takeoff{Job: JobInfo{System: c.System}})}
	sums, charts := p.sums()
	first := Tab{Name: "Compare", Blocks: []Block{p.money(), sums, p.differences(), p.changes()}, Lead: []string{
		fmt.Sprintf("%s: the job as it stands, and %d other ways to do it.", c.Title, len(c.Alternatives)-1),
		"Bought is before the damage allowance; money holds it. The least bought is a lower bound over all layouts: no layout of that alternative can do with less.",
	}}
	for i := range c.Alternatives {
		if a := &c.Alternatives[i]; a.Priced && len(a.Unpriced) > 0 {
			first.Lead = append(first.Lead, fmt.Sprintf("No price, and not in the money of %s: %s.", a.Name, several(a.Unpriced, 12)))
			break
		}
	}
	return []Tab{first, {Name: "Walls", Landscape: true, Blocks: p.walls(), Lead: []string{p.wallsLead()}},
		{Name: "Charts"}}, charts
}

type comparePaper struct {
	*paper
	c *Comparison
}

// measureRow is one line of the comparison.
type measureRow struct {
	name, unit string
	of         func(a *Alternative) float64
}

func (p *comparePaper) rows() []measureRow {
	area := func(name string, of func(a *Alternative) M2) measureRow {
		return measureRow{name, p.sfName(), func(a *Alternative) float64 { return p.sf(float64(of(a))) }}
	}
	number := func(name string, of func(a *Alternative) int) measureRow {
		return measureRow{name, "", func(a *Alternative) float64 { return float64(of(a)) }}
	}
	rows := []measureRow{
		area("Net area of boarded sides", func(a *Alternative) M2 { return a.NetM2 }),
		area("Board bought", func(a *Alternative) M2 { return a.BoughtM2 }),
		area("hung", func(a *Alternative) M2 { return a.HungM2 }),
		area("offcuts kept", func(a *Alternative) M2 { return a.KeptM2 }),
		area("waste", func(a *Alternative) M2 { return a.WasteM2 }),
		area("Least that must be bought, any layout", func(a *Alternative) M2 { return a.LeastM2 }),
		number("Sheets", func(a *Alternative) int { return a.Sheets }),
		number("Pieces to hang", func(a *Alternative) int { return a.Pieces }),
		number("Straight cuts", func(a *Alternative) int { return a.Cuts }),
	}
	for _, exposed := range []bool{true, false} {
		for _, kind := range JointKinds {
			rows = append(rows, p.jointRow(kind, exposed))
		}
	}
	rows = append(rows,
		number("Studs", func(a *Alternative) int { return a.Studs }),
		number("of them added under joints", func(a *Alternative) int { return a.AddedStuds }),
		measureRow{"Length of studs", p.lfName(), func(a *Alternative) float64 { return p.lf(float64(a.StudMM)) }},
		number("Board screws", func(a *Alternative) int { return a.Screws }),
		measureRow{"Weight of board bought", p.lbName(), func(a *Alternative) float64 { return p.mass(float64(a.MassKg)) }},
		area("Board to hang, weighted for height", func(a *Alternative) M2 { return a.WorkM2 }),
		number("Exceptions that need a person", func(a *Alternative) int { return a.Person }),
		number("Warnings", func(a *Alternative) int { return a.Warnings }),
	)
	return rows
}

func (p *comparePaper) moneyRow() measureRow {
	return measureRow{"Money", p.c.Currency, func(a *Alternative) float64 { return a.Total }}
}

// money is the totals, to the cent, and their differences.
func (p *comparePaper) money() Block {
	b := Block{Key: "money", Title: "Money", Columns: p.columns()}
	for i := range b.Columns[2:] {
		b.Columns[2+i].Kind = Money
	}
	if !p.priced() {
		return b
	}
	total, diff := []Cell{T("Priced lines, " + p.c.Currency), T("")}, []Cell{T("Difference to the job as it stands"), T("")}
	for i := range p.c.Alternatives {
		a := &p.c.Alternatives[i]
		total = append(total, N(a.Total).As(Strong))
		diff = append(diff, F(fmt.Sprintf("{Compare/money/%s#0}-{Compare/money/%s#0}", altKey(i), altKey(0)), cents(a.Total-p.c.Alternatives[0].Total)))
	}
	b.Rows = [][]Cell{total, diff}
	return b
}

// priced reports whether every alternative has prices.
func (p *comparePaper) priced() bool {
	return !slices.ContainsFunc(p.c.Alternatives, func(a Alternative) bool { return !a.Priced })
}

func (p *comparePaper) jointRow(kind string, exposed bool) measureRow {
	where := "above the ceiling"
	if exposed {
		where = "exposed"
	}
	names := map[string]string{"tapered": "Tapered joints", "tapered-cut": "Tapered-to-cut joints", "cut": "Cut joints", "butt": "Butt joints", "control": "Control joints"}
	return measureRow{names[kind] + ", " + where, p.lfName(), func(a *Alternative) float64 {
		for _, j := range a.Joints {
			if j.Kind == kind && j.Exposed == exposed {
				return p.lf(float64(j.LengthMM))
			}
		}
		return 0
	}}
}

func altKey(i int) string { return fmt.Sprintf("a%d", i) }

func (p *comparePaper) columns() []Column {
	cols := []Column{col("what", "", 34, Words), col("unit", "", 7, Words)}
	for i := range p.c.Alternatives {
		cols = append(cols, col(altKey(i), p.c.Alternatives[i].Name, 15, Whole))
	}
	return cols
}

// sums is the main table: a row a measure, a column an alternative.
func (p *comparePaper) sums() (Block, []RowChart) {
	b := Block{Key: "sums", Title: "Side by side", Columns: p.columns()}
	at := map[string]int{}
	for _, r := range p.rows() {
		cells := []Cell{T(r.name), T(r.unit)}
		some := false
		for i := range p.c.Alternatives {
			v := r.of(&p.c.Alternatives[i])
			some = some || v != 0
			cells = append(cells, N(v))
		}
		if !some {
			continue
		}
		at[r.name] = len(b.Rows)
		if r.name == "Board bought" {
			for i := range cells {
				cells[i] = cells[i].As(Strong)
			}
		}
		b.Rows = append(b.Rows, cells)
	}
	pickRows := func(names ...string) []int {
		var out []int
		for _, n := range names {
			if i, ok := at[n]; ok {
				out = append(out, i)
			}
		}
		return out
	}
	last := altKey(len(p.c.Alternatives) - 1)
	charts := []RowChart{
		{Title: "Board bought: hung, kept, waste", Block: "sums", Rows: pickRows("hung", "offcuts kept", "waste"), From: altKey(0), To: last, Stacked: true, Axis: p.sfName()},
		{Title: "Exposed joints by kind", Block: "sums", From: altKey(0), To: last, Stacked: true, Axis: p.lfName(),
			Rows: pickRows("Tapered joints, exposed", "Tapered-to-cut joints, exposed", "Cut joints, exposed", "Butt joints, exposed", "Control joints, exposed")},
	}
	if p.priced() {
		charts = append([]RowChart{{Title: "Money, priced lines", Block: "money", Rows: []int{0}, From: altKey(0), To: last, Axis: p.c.Currency}}, charts...)
	}
	return b, charts
}

// differences is each alternative less the job as it stands, as live formulas.
func (p *comparePaper) differences() Block {
	b := Block{Key: "differences", Title: "Difference to the job as it stands", Columns: p.columns()}
	if len(p.c.Alternatives) < 2 {
		return b
	}
	b.Columns = slices.Delete(b.Columns, 2, 3)
	first := &p.c.Alternatives[0]
	row := -1
	for _, r := range p.rows() {
		if !slices.ContainsFunc(p.c.Alternatives, func(a Alternative) bool { return r.of(&a) != 0 }) {
			continue
		}
		row++
		cells := []Cell{T(r.name), T(r.unit)}
		some := false
		for i := 1; i < len(p.c.Alternatives); i++ {
			v := r.of(&p.c.Alternatives[i]) - r.of(first)
			some = some || math.Abs(v) > 1e-9
			cells = append(cells, F(fmt.Sprintf("{Compare/sums/%s#%d}-{Compare/sums/%s#%d}", altKey(i), row, altKey(0), row), v))
		}
		if some {
			b.Rows = append(b.Rows, cells)
		}
	}
	return b
}

func (p *comparePaper) changes() Block {
	b := Block{Key: "changes", Title: "What each alternative changes in the job file", Columns: []Column{
		col("name", "Alternative", 34, Words), flow("what", "", 60),
	}}
	for i := range p.c.Alternatives {
		if a := &p.c.Alternatives[i]; len(a.Changes) > 0 {
			b.Rows = append(b.Rows, []Cell{T(a.Name).As(Strong), T(strings.Join(a.Changes, "; "))})
		}
	}
	return b
}

func (p *comparePaper) wallsLead() string {
	if p.priced() {
		return "A wall's money is its share of each priced line: of board by the sheets its pieces came from (sheets are shared as far as offcuts travel), of joints, cuts, studs and screws by its own, of anything else by board area. The walls that make the difference stand first."
	}
	return "Without prices the difference is of board bought; sheets that walls share are split by the area of their pieces. The walls that make the difference stand first."
}

// byWall returns the walls with their options in the order of the
// alternatives: the greatest difference of alternative k first (of any where k
// is 0), then in the order of marks.
func (c *Comparison) byWall(k int) [][]WallOption {
	n := len(c.Alternatives)
	var out [][]WallOption
	for i := 0; i+n <= len(c.Walls); i += n {
		out = append(out, c.Walls[i:i+n])
	}
	most := func(w []WallOption) float64 {
		if k > 0 {
			return math.Abs(w[k].Difference)
		}
		m := 0.0
		for i := range w {
			m = math.Max(m, math.Abs(w[i].Difference))
		}
		return m
	}
	slices.SortStableFunc(out, func(a, b []WallOption) int { return cmp.Compare(most(b), most(a)) })
	return out
}

// walls is a table for each alternative: what each wall comes to there and as
// the job stands, the greatest difference first.
func (p *comparePaper) walls() []Block {
	kind, unit := Money, p.c.Currency
	value := func(w *WallOption) float64 { return w.Money }
	if !p.priced() {
		kind, unit = Whole, p.sfName()
		value = func(w *WallOption) float64 { return p.sf(float64(w.BoughtM2)) }
	}
	var out []Block
	for i := 1; i < len(p.c.Alternatives); i++ {
		b := Block{Key: "walls" + altKey(i), Title: p.c.Alternatives[i].Name + ": which walls make the difference, " + unit, Columns: []Column{
			col("run", "Wall", 12, Words), col("type", "Type", 9, Words), col("length", "Length", 13, Lengths), col("was", p.c.Alternatives[0].Name, 14, kind),
			col("now", p.c.Alternatives[i].Name, 16, kind), col("difference", "difference", 12, kind), flow("why", "of which", 46),
		}}
		for _, ws := range p.c.byWall(i) {
			first, w := &ws[0], &ws[i]
			b.Rows = append(b.Rows, []Cell{
				T(first.Run).As(Strong), T(cmp.Or(w.Type, first.Type)), p.wall(max(first.LengthMM, w.LengthMM)), N(value(first)), N(value(w)),
				F("{now}-{was}", value(w)-value(first)), T(p.wallWhy(first, w)),
			})
		}
		b.Total = totalRow(b, "All", "was", "now", "difference")
		out = append(out, b)
	}
	return out
}

// wallWhy says in a few words how a wall differs.
func (p *comparePaper) wallWhy(was, w *WallOption) string {
	switch {
	case !w.Present:
		return "not in this alternative"
	case !was.Present:
		return "only in this alternative"
	}
	var parts []string
	add := func(v float64, unit string) {
		if r := math.Round(v); r != 0 {
			parts = append(parts, fmt.Sprintf("%+.0f %s", r, unit))
		}
	}
	add(p.sf(float64(w.BoughtM2-was.BoughtM2)), p.sfName()+" bought")
	add(p.lf(float64(w.JointsMM-was.JointsMM)), p.lfName()+" joints")
	add(float64(w.Pieces-was.Pieces), "pieces")
	add(float64(w.Studs-was.Studs), "studs")
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, ", ")
}

// CompareText is the short table for a terminal: a line a measure, a column an
// alternative, then the walls that make the difference.
func CompareText(c *Comparison) [][]string {
	p := comparePaper{c: c, paper: newPaper(&Takeoff{Job: JobInfo{System: c.System}})}
	head := []string{"", ""}
	for i := range c.Alternatives {
		head = append(head, c.Alternatives[i].Name)
	}
	out := [][]string{head}
	rows := p.rows()
	if p.priced() {
		rows = append(rows, p.moneyRow())
	}
	for _, r := range rows {
		line, some := []string{r.name, r.unit}, false
		for i := range c.Alternatives {
			v := r.of(&c.Alternatives[i])
			some = some || v != 0
			format := "%.0f"
			if r.name == "Money" {
				format = "%.2f"
			}
			line = append(line, fmt.Sprintf(format, v))
		}
		if some {
			out = append(out, line)
		}
	}
	for n, ws := range c.byWall(0) {
		if n == 5 {
			break
		}
		line, some := []string{"wall " + ws[0].Run, p.c.Currency}, false
		if !p.priced() {
			line[1] = p.sfName()
		}
		for i := range ws {
			v := ws[i].Difference
			if !p.priced() {
				v = p.sf(v)
			}
			some = some || math.Abs(v) >= 0.5
			line = append(line, fmt.Sprintf("%+.0f", v))
		}
		line[2] = ""
		if some {
			out = append(out, line)
		}
	}
	return out
}
