package report

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"boardrun/internal/measure"
)

// CompareSchema is the version of compare.json.
const CompareSchema = 1

// Comparison is a job's alternatives side by side, the whole content of
// compare.json. The first alternative is the job as it stands.
type Comparison struct {
	Schema       int           `json:"schema"`
	Job          string        `json:"job"`
	Title        string        `json:"title"`
	Stamp        string        `json:"stamp"`
	System       string        `json:"system"`
	Currency     string        `json:"currency"` // "" without prices
	Alternatives []Alternative `json:"alternatives"`
	Walls        []WallOption  `json:"walls"`
}

// Alternative is one way to do the job, in sums. Joints count once however many
// pieces meet there; studs are those of the layout.
type Alternative struct {
	Name       string     `json:"name"`
	Changes    []string   `json:"changes"` // what it changes in the job file, "path: value"
	Walls      int        `json:"walls"`
	NetM2      M2         `json:"net_area_m2"` // boarded sides
	BoughtM2   M2         `json:"bought_area_m2"`
	HungM2     M2         `json:"hung_area_m2"`
	KeptM2     M2         `json:"offcuts_kept_m2"`
	WasteM2    M2         `json:"waste_m2"`
	LeastM2    M2         `json:"for_any_layout_m2"` // lower bound of what must be bought
	Sheets     int        `json:"sheets"`
	Pieces     int        `json:"pieces"`
	Cuts       int        `json:"cuts"`
	Joints     []JointSum `json:"joints"`
	Studs      int        `json:"studs"`
	AddedStuds int        `json:"added_studs"`
	StudMM     MM         `json:"stud_length_mm"`
	Screws     int        `json:"screws"`
	MassKg     Kg         `json:"board_mass_kg"` // as bought, without the damage allowance
	WorkM2     M2         `json:"work_area_m2"`  // board to hang, weighted for height; openings that are not deducted counted in
	Person     int        `json:"exceptions_for_a_person"`
	Warnings   int        `json:"warnings"`
	Priced     bool       `json:"priced"`
	Total      float64    `json:"total"`
	Unpriced   []string   `json:"unpriced"` // what the total does not hold for want of a price
}

// JointSum is the length of all joints of one kind, seen or not.
type JointSum struct {
	Kind     string `json:"kind"`
	Exposed  bool   `json:"exposed"`
	LengthMM MM     `json:"length_mm"`
}

// WallOption is one wall under one alternative. Money is its share of each
// priced line: of board by the area of sheets its pieces came from, of joints,
// cuts, studs and screws by its own, of anything else by board area.
type WallOption struct {
	Run          string  `json:"run"`
	Alternative  string  `json:"alternative"`
	Type         string  `json:"type"`
	Present      bool    `json:"present"` // false: the alternative does not have this wall
	LengthMM     MM      `json:"length_mm"`
	BoughtM2     M2      `json:"bought_area_m2"`
	JointsMM     MM      `json:"exposed_joints_mm"`
	Pieces       int     `json:"pieces"`
	Studs        int     `json:"studs"`
	Money        float64 `json:"money"`
	Difference   float64 `json:"difference"` // of money, or of bought area in m² without prices, to the job as it stands
	MeasuredByM2 bool    `json:"difference_is_area"`
}

// Option is one alternative with its takeoff.
type Option struct {
	Name    string
	Changes []string
	T       *Takeoff
}

// JointKinds are the kinds of joint, the cheapest to finish first.
var JointKinds = []string{"tapered", "tapered-cut", "cut", "butt", "control"}

// Compare puts takeoffs of the same drawings side by side; the first is the
// job as it stands, walls are matched by their marks.
func Compare(options []Option) *Comparison {
	base := options[0].T
	c := &Comparison{Schema: CompareSchema, Job: base.Job.Name, Title: base.Job.Title, Stamp: base.Job.Stamp, System: base.Job.System}
	if base.Cost != nil {
		c.Currency = base.Cost.Currency
	}
	priced := base.Cost != nil
	for _, o := range options {
		priced = priced && o.T.Cost != nil
	}
	shares := make([]map[string]*WallOption, len(options))
	var marks []string
	for i, o := range options {
		c.Alternatives = append(c.Alternatives, alternative(o))
		shares[i] = wallShares(o)
		for k := range o.T.Runs {
			if id := o.T.Runs[k].ID; !slices.Contains(marks, id) {
				marks = append(marks, id)
			}
		}
	}
	for _, mark := range marks {
		first := shares[0][mark]
		for i, o := range options {
			w := shares[i][mark]
			if w == nil {
				w = &WallOption{Run: mark, Alternative: o.Name}
			}
			was := WallOption{}
			if first != nil {
				was = *first
			}
			w.Difference, w.MeasuredByM2 = cents(w.Money-was.Money), !priced
			if !priced {
				w.Difference = float64(w.BoughtM2 - was.BoughtM2)
			}
			c.Walls = append(c.Walls, *w)
		}
	}
	return c
}

func cents(v float64) float64 { return math.Round(v*100) / 100 }

func alternative(o Option) Alternative {
	t := o.T
	a := Alternative{Name: o.Name, Changes: append([]string{}, o.Changes...), Walls: len(t.Runs), Pieces: len(t.Pieces), Sheets: len(t.Sheets), Unpriced: []string{}}
	for i := range t.Faces {
		if t.Faces[i].Boarded {
			a.NetM2 += t.Faces[i].NetM2
		}
	}
	for _, b := range t.Bound {
		a.BoughtM2, a.HungM2, a.KeptM2, a.WasteM2, a.LeastM2 = a.BoughtM2+b.AreaM2, a.HungM2+b.HungM2, a.KeptM2+b.KeptM2, a.WasteM2+b.WasteM2, a.LeastM2+b.ForAnyM2
	}
	mass := map[string]Kg{}
	for _, b := range t.Job.Boards {
		mass[b.Name] = b.MassKgM2
	}
	for i := range t.Sheets {
		s := &t.Sheets[i]
		a.MassKg += mass[s.Board] * Kg(s.areaM2())
		a.Cuts += len(s.Cuts)
	}
	a.Joints = jointSums(t)
	for i := range t.Runs {
		for _, s := range t.Runs[i].Studs {
			a.Studs++
			a.StudMM += s.LengthMM
			if s.Kind == "added" {
				a.AddedStuds++
			}
		}
	}
	for _, s := range t.Screws {
		a.Screws += s.Count
	}
	for _, e := range t.Exceptions {
		switch e.Severity {
		case "person":
			a.Person++
		case "warning":
			a.Warnings++
		}
	}
	for _, l := range t.Labour {
		a.WorkM2 += M2(l.Weighted)
	}
	if t.Cost != nil {
		a.Priced, a.Total = true, t.Cost.Total
		for _, l := range t.Cost.Lines {
			if !l.Priced {
				a.Unpriced = append(a.Unpriced, l.Item)
			}
		}
	}
	return a
}

func (s *Sheet) areaM2() M2 { return M2(float64(s.WidthMM) * float64(s.LengthMM) / 1e6) }

func (q *Joint) length() MM {
	return MM(math.Hypot(float64(q.ToUV[0]-q.FromUV[0]), float64(q.ToUV[1]-q.FromUV[1])))
}

func jointSums(t *Takeoff) []JointSum {
	var out []JointSum
	for _, exposed := range []bool{true, false} {
		for _, kind := range JointKinds {
			out = append(out, JointSum{Kind: kind, Exposed: exposed})
		}
	}
	for i := range t.Joints {
		q := &t.Joints[i]
		for k := range out {
			if out[k].Kind == q.Kind && out[k].Exposed == q.Exposed {
				out[k].LengthMM += q.length()
			}
		}
	}
	return out
}

// wallShares splits what is bought and paid among the walls.
func wallShares(o Option) map[string]*WallOption {
	t := o.T
	out := map[string]*WallOption{}
	for i := range t.Runs {
		r := &t.Runs[i]
		out[r.ID] = &WallOption{Run: r.ID, Alternative: o.Name, Type: r.Type, Present: true, LengthMM: r.LengthMM, Studs: len(r.Studs)}
	}
	d := newDrivers(t)
	for id, w := range out {
		w.BoughtM2, w.JointsMM, w.Pieces = M2(d.by[driveBoard][id]), MM(d.exposed[id]), d.pieces[id]
	}
	if t.Cost == nil {
		return out
	}
	for i := range t.Cost.Lines {
		l := &t.Cost.Lines[i]
		for id, part := range d.split(l.Item) {
			if w := out[id]; w != nil {
				w.Money += l.Amount * part
			}
		}
	}
	for _, w := range out {
		w.Money = cents(w.Money)
	}
	return out
}

// drivers are what each wall has of the things that priced lines count.
type drivers struct {
	by      map[string]map[string]float64 // driver, then run
	exposed map[string]float64            // mm
	pieces  map[string]int
	names   []string
}

const driveBoard = "board"

// newDrivers counts by wall. A sheet belongs to the walls its pieces hang on,
// by their area.
func newDrivers(t *Takeoff) *drivers {
	d := &drivers{by: map[string]map[string]float64{}, exposed: map[string]float64{}, pieces: map[string]int{}}
	face := map[string]string{}
	for i := range t.Faces {
		face[t.Faces[i].ID] = t.Faces[i].Run
	}
	sheet := map[string]*Sheet{}
	for i := range t.Sheets {
		sheet[t.Sheets[i].ID] = &t.Sheets[i]
	}
	hung := map[string]float64{}
	for i := range t.Pieces {
		hung[t.Pieces[i].Sheet] += float64(t.Pieces[i].AreaM2)
	}
	for i := range t.Pieces {
		p := &t.Pieces[i]
		id := face[p.Face]
		d.pieces[id]++
		if !p.Uncut {
			d.add("cuts", id, 1)
		}
		s := sheet[p.Sheet]
		if s == nil || hung[p.Sheet] == 0 {
			continue
		}
		part := float64(s.areaM2()) * float64(p.AreaM2) / hung[p.Sheet]
		d.add(driveBoard, id, part)
		d.add("board "+s.Board+" "+sheetName(t, s.WidthMM, s.LengthMM), id, part)
	}
	names := map[string]string{ // of the cost lines; oracle of both staying in step: TestCompare_moneyOfWallsAddsUp
		"tapered": "tapered joints, exposed", "tapered-cut": "tapered-to-cut joints, exposed", "butt": "butt joints, exposed", "cut": "butt joints, exposed",
	}
	for i := range t.Joints {
		if q := &t.Joints[i]; q.Exposed {
			id := face[q.Face]
			d.exposed[id] += float64(q.length())
			if name, ok := names[q.Kind]; ok {
				d.add(name, id, float64(q.length()))
			}
		}
	}
	for i := range t.Runs {
		for _, s := range t.Runs[i].Studs {
			if s.Kind == "added" {
				d.add("added studs", t.Runs[i].ID, 1)
			}
		}
	}
	for _, s := range t.Screws {
		d.add("board screws", face[s.Face], float64(s.Count))
	}
	for _, list := range [][]Item{t.Framing, t.Finishing} {
		d.addItems(t, list)
	}
	return d
}

// addItems counts what lists by item name one or several walls: among several
// by their length.
func (d *drivers) addItems(t *Takeoff, list []Item) {
	length := map[string]float64{}
	for i := range t.Runs {
		length[t.Runs[i].ID] = float64(t.Runs[i].LengthMM)
	}
	for i := range list {
		it := &list[i]
		n := cmp.Or(float64(it.AreaM2), float64(it.LengthMM)*math.Max(1, float64(it.Count)), float64(it.Count))
		sum := 0.0
		for _, r := range it.Runs {
			sum += length[r]
		}
		if sum == 0 || n == 0 { // nothing to share by: compound tells no amount of its own
			continue
		}
		for _, r := range it.Runs {
			d.add("item "+it.Item, r, n*length[r]/sum)
		}
	}
}

func (d *drivers) add(driver, run string, n float64) {
	m := d.by[driver]
	if m == nil {
		m = map[string]float64{}
		d.by[driver] = m
		d.names = append(d.names, driver)
	}
	m[run] += n
}

// split returns what part of a priced line each wall has: by the driver of the
// line's own name, else by that of the longest item its name begins with, else
// by board area.
func (d *drivers) split(line string) map[string]float64 {
	best := d.by[line]
	if best == nil {
		n := 0
		for _, name := range d.names {
			if item, ok := strings.CutPrefix(name, "item "); ok && len(item) > n && strings.HasPrefix(line, item) {
				best, n = d.by[name], len(item)
			}
		}
	}
	if best == nil {
		best = d.by[driveBoard]
	}
	sum := 0.0
	ids := make([]string, 0, len(best))
	for id := range best {
		ids = append(ids, id)
	}
	slices.Sort(ids) // sums of floats in one order give the same bytes
	for _, id := range ids {
		sum += best[id]
	}
	out := make(map[string]float64, len(best))
	if sum > 0 {
		for _, id := range ids {
			out[id] = best[id] / sum
		}
	}
	return out
}

// sheetName is what a sheet is called in the job's units.
func sheetName(t *Takeoff, w, l MM) string {
	sys := measure.InchPound
	if t.Job.System == measure.Metric.String() {
		sys = measure.Metric
	}
	return measure.SheetName(w.Length(), l.Length(), sys)
}
