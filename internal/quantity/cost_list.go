package quantity

import (
	"fmt"
	"strconv"

	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// Kinds of cost lines.
const (
	Material = "material"
	Labour   = "labour"
	Added    = "added" // overhead, profit, tax
)

// sections are the MasterFormat sections of what is ordered.
// Source: section numbers as printed in published specifications, 09 29 00,
// 09 22 16, 07 21 00; 07 84 00 and 07 92 19 from memory. A price list may give
// its own.
var sections = map[string]string{
	ItemStud: "09 22 16", ItemTrack: "09 22 16", ItemSlipTrack: "09 22 16", ItemFixing: "09 22 16", ItemFrameScrew: "09 22 16",
	ItemInsulation: "07 21 00", ItemFirestop: "07 84 00", ItemAcoustic: "07 92 19",
}

const gypsumBoard = "09 29 00"

// costByList prices every line of the order and every hour of work by the
// user's list. What the list has no price or no hours for stands in the lines
// unpriced.
func (t *taker) costByList(c *Cost, p *job.Prices) {
	rows := listRows(p)
	t.costBoard(c, p)
	for i := range c.Lines {
		c.Lines[i].Kind, c.Lines[i].Section = Material, gypsumBoard
	}
	t.noteBoard(c, rows)
	used := map[*job.PriceRow]bool{}
	var sum tally
	for _, o := range t.res.Order {
		if o.Item != ItemBoard {
			o.Storey, o.Note, o.Runs = "", "", nil
			sum.add(o, "")
		}
	}
	for _, o := range sum.sorted() {
		t.costItem(c, p, rows, o, used)
	}
	t.costHours(c, p, rows, used)
	t.unusedRows(c, p, used)
}

// listRows is the rows of a list by name and length.
func listRows(p *job.Prices) map[string]*job.PriceRow {
	rows := map[string]*job.PriceRow{}
	for i := range p.List {
		r := &p.List[i]
		rows[r.Key+"|"+strconv.FormatInt(int64(r.Length), 10)] = r
	}
	return rows
}

// find returns the row that names an item most closely: item and
// specification with the length, without it, then the item alone.
func find(rows map[string]*job.PriceRow, item, spec string, length Length) *job.PriceRow {
	n := strconv.FormatInt(int64(length), 10)
	full, plain := job.PriceKey(item+" "+spec), job.PriceKey(item)
	for _, k := range []string{full + "|" + n, full + "|0", plain + "|" + n, plain + "|0"} {
		if r := rows[k]; r != nil {
			return r
		}
	}
	return nil
}

func (t *taker) costItem(c *Cost, p *job.Prices, rows map[string]*job.PriceRow, o Item, used map[*job.PriceRow]bool) {
	name := o.Item
	if o.Spec != "" {
		name += " " + o.Spec
	}
	l := CostLine{Item: name, Kind: Material, Section: sections[o.Item], Unit: "each", Quantity: float64(o.Count)}
	if o.Length > 0 {
		l.Item += " " + measure.Wall(o.Length, t.sys)
	}
	if o.AreaM2 > 0 && o.Count == 0 {
		l.Unit, l.Quantity = t.areaUnit(o.AreaM2)
	}
	if l.Section == "" {
		l.Section = gypsumBoard
	}
	r := find(rows, o.Item, o.Spec, o.Length)
	used[r] = true
	if r != nil && r.Priced {
		if r.Section != "" {
			l.Section = r.Section
		}
		q, ok := inUnit(r.Unit, o.Count, o.Length*Length(o.Count), o.AreaM2)
		if ok {
			l.Unit, l.Quantity, l.Price, l.Priced, l.Note = r.Unit, q, r.Price, true, rowNote(r)
		} else {
			t.wrongUnit(r, l.Unit)
		}
	} else if p.Screw > 0 && len(o.Item) > 6 && o.Item[:6] == "screw " {
		l.Unit, l.Quantity, l.Price, l.Priced = "1000", float64(o.Count*t.in.Settings.ScrewBox)/1000, p.Screw, true
	}
	if l.Quantity > 0 {
		c.Lines = append(c.Lines, l)
	}
}

func (t *taker) wrongUnit(r *job.PriceRow, unit string) {
	t.res.Exceptions = append(t.res.Exceptions, plan.Exception{Severity: plan.Warning, Code: "price-unit",
		Message: fmt.Sprintf("%s: %s is priced by %s; here it is counted by %s", r.Where, r.Item, r.Unit, unit), Did: "left without a price; give it by a unit that fits"})
}

func (t *taker) areaUnit(m2 float64) (string, float64) {
	if t.sys == measure.Metric {
		return "m²", m2
	}
	return "sf", m2 / squareMetresPerSqFt
}

// inUnit is an amount in a unit of the list; false where it has none in it.
func inUnit(unit string, count int, length Length, areaM2 float64) (float64, bool) {
	q := 0.0
	switch unit {
	case "each":
		q = float64(count)
	case "1000":
		q = float64(count) / 1000
	case "lf":
		q = length.Feet()
	case "m":
		q = length.Metres()
	case "sf":
		q = areaM2 / squareMetresPerSqFt
	case "1000 sf":
		q = areaM2 / squareMetresPerSqFt / 1000
	case "m²":
		q = areaM2
	}
	return q, q > 0
}

// Activities of the work, in their order. A list gives each its hours by area
// or by length; "hang" stands for both sides and "tape" for every level where
// the closer name is not listed.
const (
	DoFrame    = "frame"
	DoSide1    = "hang side 1"
	DoInsulate = "insulate"
	DoSide2    = "hang side 2"
	DoTops     = "tops"
	DoTape     = "tape level " // and the level
)

// activity is the amount of one activity: plain and above the height where work
// slows, each counted once; wall length for framing by length.
type activity struct {
	name, fall string
	low, high  float64 // m²
	length     Length
}

// activities measures the work. Openings under 32 sf are not taken off the
// area framed, hung or taped.
// Sources: as LabourRow's.
func (t *taker) activities() []activity { return t.activitiesOf(t.layouts) }

func (t *taker) activitiesOf(layouts []*layout.Layout) []activity {
	by := map[string]*activity{}
	order := []string{DoFrame, DoSide1, DoInsulate, DoSide2, DoTops}
	for level := 1; level <= 5; level++ {
		order = append(order, DoTape+itoa(level))
	}
	for _, n := range order {
		by[n] = &activity{name: n}
	}
	by[DoSide1].fall, by[DoSide2].fall, by[DoTops].fall = "hang", "hang", "hang"
	for level := 1; level <= 5; level++ {
		by[DoTape+itoa(level)].fall = "tape"
	}
	put := func(name string, area, share float64) {
		by[name].low += area * (1 - share)
		by[name].high += area * share
	}
	for _, l := range layouts {
		var side [2]float64
		var share [2]float64
		for _, f := range l.Run.Faces {
			if !f.Boarded || f.Length <= 0 || len(f.Top) == 0 {
				continue
			}
			small := 0.0
			for i := range f.Holes {
				if r := f.Holes[i].Rect; Deducted(r.W(), r.H()) == 0 {
					small += r.W().Metres() * r.H().Metres()
				}
			}
			area := netArea(f) + small
			hang := DoSide2
			if hungFirst(l, f) {
				hang = DoSide1
			}
			put(hang, small*float64(len(f.Plies)), 0)
			top := f.Top.Max(0, f.Length)
			high := 0.0
			if t.set.HighWork > 0 && top > t.set.HighWork {
				high = float64(top-max(t.set.HighWork, f.Bottom)) / float64(max(top-f.Bottom, 1))
			}
			if f.Side == run.Left || f.Side == run.Right {
				side[f.Side] += area
				share[f.Side] = high
			}
			above := 0.0
			if f.Ceiling > f.Bottom && top > f.Ceiling {
				above = float64(top-f.Ceiling) / float64(top-f.Bottom)
			}
			level := clampLevel(f.Finish)
			if level > 0 {
				put(DoTape+itoa(level), area*(1-above), max(0, high-above)/max(1-above, 1e-9))
				put(DoTape+"1", area*above, min(1, high/max(above, 1e-9)))
			}
		}
		k := 0
		if side[1] > side[0] {
			k = 1
		}
		put(DoFrame, side[k], share[k])
		by[DoFrame].length += l.Run.Length
		if l.Run.Make != nil && l.Run.Make.Insulation != "" {
			put(DoInsulate, cavity(l.Run), share[k])
		}
		for i := range l.Pieces {
			q := &l.Pieces[i]
			put(hangPhase(l, q), q.Area.M2(), highShare(q, t.set.HighWork))
		}
	}
	var out []activity
	for _, n := range order {
		if w := by[n]; w.low+w.high > 0 {
			out = append(out, *w)
		}
	}
	return out
}

// row returns the row of a list that gives the hours of an activity, nil if none
// does.
func (w *activity) row(rows map[string]*job.PriceRow) *job.PriceRow {
	r := rows[w.name+"|0"]
	if r == nil && w.fall != "" {
		r = rows[w.fall+"|0"]
	}
	return r
}

func (t *taker) costHours(c *Cost, p *job.Prices, rows map[string]*job.PriceRow, used map[*job.PriceRow]bool) {
	for _, w := range t.activities() {
		r := w.row(rows)
		used[r] = true
		weighted := w.low + w.high*t.set.LabourHigh
		unit, amount := t.areaUnit(weighted)
		l := CostLine{Item: w.name, Kind: Labour, Section: gypsumBoard, Unit: unit, Quantity: amount}
		if w.name == DoFrame {
			l.Section = "09 22 16"
		}
		if r != nil && r.Section != "" {
			l.Section = r.Section
		}
		rate := p.Hour
		if r != nil && r.Rate > 0 {
			rate = r.Rate
		}
		if r != nil && r.Hours > 0 {
			if q, ok := inUnit(r.Unit, 0, w.length, weighted); ok {
				l.Unit, l.Quantity, l.Price, l.Priced = "h", q*r.Hours, rate, rate > 0
				l.Note = fmt.Sprintf("%.0f %s at %v h, high work counted %v times; %s", q, r.Unit, r.Hours, t.set.LabourHigh, rowNote(r))
			} else {
				t.wrongUnit(r, unit)
			}
		}
		c.Lines = append(c.Lines, l)
	}
}
