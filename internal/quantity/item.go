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
	Special   bool // of a line of sheets: the yard does not keep it
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
	Phases     []Phase
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

	spots    map[string]int                // screws of a piece below the ceiling
	beads    map[grouped][]Length          // single lengths of bead and trim, for the order
	beadKeys []grouped                     // their keys, in order
	cutFor   map[boardLine]map[string]bool // runs by the sheets they are cut from; made when wanted
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
	t.phases()
	t.checks()
	t.cost()
	return t.res
}
