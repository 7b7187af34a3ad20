package quantity

import (
	"math"
	"sort"

	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
)

// Cost is what the order and the work come to at the job's prices. Total adds
// up the priced lines only, without what the user adds below them (the report
// adds that, to the cent); Unpriced names the others, so that no amount is
// zero in silence. Money is in 1/10000 of the currency.
type Cost struct {
	Currency string
	Lines    []CostLine
	Total    int64
	Unpriced []string
}

// CostLine is one line; Amount is Quantity × Price, rounded to money's unit.
type CostLine struct {
	Item     string
	Unit     string
	Quantity float64
	Price    int64 // per Unit
	Amount   int64
	Priced   bool
	Kind     string // material, labour, added
	Section  string // MasterFormat
	Note     string
	Percent  bool   // Price is per cent of what stands above
	Of       string // of which: "", material, labour
}

func (t *taker) cost() {
	p := t.in.Job.Prices
	if p == nil {
		return
	}
	c := &Cost{Currency: p.Currency}
	if len(p.List) > 0 {
		t.costByList(c, p)
	} else {
		t.costBoard(c, p)
		t.costJoints(c, p)
		t.costPieces(c, p)
		t.costRest(c)
	}
	for i := range c.Lines {
		l := &c.Lines[i]
		if l.Priced {
			l.Amount = int64(math.Round(l.Quantity * float64(l.Price)))
			c.Total += l.Amount
		} else {
			c.Unpriced = append(c.Unpriced, l.Item)
		}
	}
	for _, a := range p.Add {
		l := CostLine{Item: a.Name, Unit: "sum", Quantity: 1, Price: a.Amount, Priced: true, Kind: Added}
		if a.Percent > 0 {
			l.Unit, l.Price, l.Percent, l.Of = "%", a.Percent, true, a.Of
		}
		c.Lines = append(c.Lines, l)
	}
	if p.Hour > 0 && len(p.List) == 0 {
		c.Unpriced = append(c.Unpriced, "labour: a price per hour is given, hours are not; see the weighted areas")
	}
	t.res.Cost = c
}

func (c *Cost) add(item, unit string, quantity float64, price int64) {
	if quantity > 0 {
		c.Lines = append(c.Lines, CostLine{Item: item, Unit: unit, Quantity: quantity, Price: price, Priced: price > 0})
	}
}

// costBoard prices the sheets ordered, the allowance with them.
func (t *taker) costBoard(c *Cost, p *job.Prices) {
	type size struct {
		board         string
		width, length Length
	}
	count := map[size]int{}
	var keys []size
	for _, o := range t.res.Order {
		if o.Item == ItemBoard {
			k := size{o.Spec, o.Width, o.Length}
			if count[k] == 0 {
				keys = append(keys, k)
			}
			count[k] += o.Count
		}
	}
	sort.Slice(keys, func(i, k int) bool {
		a, b := keys[i], keys[k]
		if a.board != b.board {
			return a.board < b.board
		}
		return a.width < b.width || a.width == b.width && a.length < b.length
	})
	for _, k := range keys {
		price, _ := p.Sheet(k.board, k.width, k.length, t.sys)
		c.add("board "+k.board+" "+measure.SheetName(k.width, k.length, t.sys), "sheet", float64(count[k]), price)
	}
}

// costJoints prices exposed joints by kind, by the metre.
func (t *taker) costJoints(c *Cost, p *job.Prices) {
	var n [3]Length
	for _, f := range t.res.Finishing {
		if f.Spec != SpecExposed {
			continue
		}
		switch f.Item {
		case jointItems[layout.TaperedJoint]:
			n[0] += f.Length
		case jointItems[layout.TaperedCut]:
			n[1] += f.Length
		case jointItems[layout.Butt], jointItems[layout.CutJoint]:
			n[2] += f.Length
		}
	}
	for i, name := range []string{"tapered joints", "tapered-to-cut joints", "butt joints"} {
		c.add(name+", exposed", "m", n[i].Metres(), p.Joint[i])
	}
}

func (t *taker) costPieces(c *Cost, p *job.Prices) {
	c.add("cuts", "cut", float64(t.in.Cuts), p.Cut)
	added, screws := 0, 0
	for _, l := range t.layouts {
		for i := range l.Studs {
			if l.Studs[i].Kind == layout.AddedStud {
				added++
			}
		}
	}
	for _, s := range t.res.Screws {
		screws += s.Count
	}
	c.add("added studs", "stud", float64(added), p.Stud)
	c.add("board screws", "1000", float64(screws)/1000, p.Screw)
}

// costRest lists what the order holds and the job file has no price for.
func (t *taker) costRest(c *Cost) {
	sums := map[string]float64{}
	unit := map[string]string{}
	for _, o := range t.res.Order {
		if o.Item == ItemBoard || len(o.Item) > 6 && o.Item[:6] == "screw " {
			continue
		}
		name := o.Item
		if o.Spec != "" {
			name += " " + o.Spec
		}
		switch {
		case o.AreaM2 > 0:
			sums[name] += o.AreaM2
			unit[name] = "m²"
		case o.Length > 0:
			name += " " + measure.Wall(o.Length, t.sys)
			sums[name] += float64(o.Count)
			unit[name] = "length"
		default:
			sums[name] += float64(o.Count)
			unit[name] = "each"
		}
	}
	for _, name := range sortedKeys(sums) {
		c.add(name, unit[name], sums[name], 0)
	}
}
