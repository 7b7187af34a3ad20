package quantity

import (
	"sort"

	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// Length is measure.Length.
type Length = measure.Length

// Input is what the quantities are taken from. Layouts holds the layout chosen
// for each run that is laid out, in any order, nil entries ignored; Bought the
// sheets of the cut list.
type Input struct {
	Job      *job.Job
	Runs     *run.Set
	Layouts  []*layout.Layout
	Bought   []Bought
	Cuts     int // straight cuts of the cut list
	Settings Settings
}

// Bought is a number of equal sheets of the cut list. Pieces names what is cut
// from them where Count is 1; it tells which sheets are stood out whole.
type Bought struct {
	Board         string
	Width, Length Length
	Storey        string
	Group         string // runs or room that share offcuts
	Count         int
	Pieces        []string
}

// Item is one line of framing, finishing, order or stocking. Length, AreaM2,
// Litres and MassKg are totals of the line, except that Length of a stud line
// and of a sheet is that of one. Zero members do not apply.
type Item struct {
	Item      string
	Spec      string
	Width     Length
	Length    Length
	AreaM2    float64
	Litres    float64
	Count     int
	Allowance int // part of Count that no layout asks for: damage, pairs, full boxes
	MassKg    float64
	Storey    string
	Area      string // room or place it is set down
	Runs      []string
	Note      string
	Sum       bool // Length is a total, not the length of each of Count
}

// Result is everything counted.
type Result struct {
	Screws     []ScrewCount
	Framing    []Item
	Finishing  []Item
	Insulation []Item
	Sealant    []Item
	Order      []Item
	Stocking   []Item
	Studs      []StudRow
	Tops       []TopRow
	CutList    []CutRow
	Schedule   []ScheduleRow
	Lifting    map[string]string // by piece id: "floor" or "lift" where it takes two people
	Labour     []LabourRow
	Checks     []Check
	Cost       *Cost // nil without prices
	Exceptions []plan.Exception
}

// taker carries what every count needs.
type taker struct {
	in      Input
	set     *rules.Set
	sys     measure.System
	layouts []*layout.Layout // not nil, by run id
	runs    map[string]*run.Run
	screws  *Screwer
	res     *Result

	beads    map[grouped][]Length // single lengths of bead and trim, for the order
	beadKeys []grouped            // their keys, in order
}

// Take counts everything. The settings' zero value stands for Defaults.
func Take(in Input) *Result {
	t := &taker{in: in, set: in.Job.Rules, sys: in.Job.Rules.System, runs: map[string]*run.Run{}, res: &Result{Lifting: map[string]string{}}}
	if t.in.Settings.ScrewBox == 0 {
		t.in.Settings = Defaults(t.sys)
	}
	for _, r := range in.Runs.Runs {
		t.runs[r.ID] = r
	}
	for _, l := range in.Layouts {
		if l != nil && l.Run != nil {
			t.layouts = append(t.layouts, l)
		}
	}
	sort.SliceStable(t.layouts, func(i, k int) bool { return t.layouts[i].Run.ID < t.layouts[k].Run.ID })
	t.screws = NewScrewer(in.Job, t.in.Settings)

	t.countScrews()
	t.framing()
	t.finishing()
	t.insulation()
	t.sealant()
	t.lifting()
	t.tops()
	t.cutList()
	t.schedule()
	t.order()
	t.stocking()
	t.labour()
	t.checks()
	t.cost()
	return t.res
}

// tally adds up items by everything but their amounts, keeping first-seen
// order, so that sums do not depend on map order.
type tally struct {
	at    map[tallyKey]int
	items []Item
}

type tallyKey struct {
	item, spec, storey, area, note string
	width, length                  Length
}

// add puts it in; run may be "". Items with Sum set are one line whatever
// their lengths.
func (y *tally) add(it Item, run string) {
	if y.at == nil {
		y.at = map[tallyKey]int{}
	}
	k := tallyKey{it.Item, it.Spec, it.Storey, it.Area, it.Note, it.Width, it.Length}
	if it.Sum {
		k.length = 0
	}
	i, ok := y.at[k]
	if !ok {
		i = len(y.items)
		y.at[k] = i
		first := it
		first.Runs = nil
		y.items = append(y.items, first)
	} else {
		have := &y.items[i]
		if it.Sum {
			have.Length += it.Length
		}
		have.AreaM2 += it.AreaM2
		have.Litres += it.Litres
		have.Count += it.Count
		have.Allowance += it.Allowance
		have.MassKg += it.MassKg
	}
	if run == "" {
		return
	}
	rs := y.items[i].Runs
	if len(rs) == 0 || rs[len(rs)-1] != run {
		if at := sort.SearchStrings(rs, run); at == len(rs) || rs[at] != run {
			rs = append(rs, "")
			copy(rs[at+1:], rs[at:])
			rs[at] = run
			y.items[i].Runs = rs
		}
	}
}

// sorted returns the items by storey, item, spec, size, area, note.
func (y *tally) sorted() []Item {
	sort.SliceStable(y.items, func(i, k int) bool {
		a, b := &y.items[i], &y.items[k]
		switch {
		case a.Storey != b.Storey:
			return a.Storey < b.Storey
		case a.Item != b.Item:
			return a.Item < b.Item
		case a.Spec != b.Spec:
			return a.Spec < b.Spec
		case a.Width != b.Width:
			return a.Width < b.Width
		case a.Length != b.Length:
			return a.Length < b.Length
		case a.Area != b.Area:
			return a.Area < b.Area
		}
		return a.Note < b.Note
	})
	return y.items
}
