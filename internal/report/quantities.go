package report

import (
	"math"

	"boardrun/internal/quantity"
)

// AddQuantities tells the quantities in the words of the contract.
func AddQuantities(t *Takeoff, q *quantity.Result) {
	for _, s := range q.Screws {
		t.Screws = append(t.Screws, Screw{s.Face, s.Ply, s.Item, s.Place, s.Count, s.Tack})
	}
	studMils(t, q.Studs)
	t.Framing = items(q.Framing)
	t.Sealant = items(q.Sealant)
	t.Finishing = append(append(items(q.Finishing), items(q.Insulation)...), t.Sealant...)
	t.Order = items(q.Order)
	t.Stocking = items(q.Stocking)
	for _, l := range q.Labour {
		t.Labour = append(t.Labour, Labour{l.Storey, l.Type, l.Hung, l.High, l.Openings, l.Weighted})
	}
	for _, f := range q.Phases {
		t.Phases = append(t.Phases, Phase{
			Storey: f.Storey, Name: f.Name, Sheets: f.Sheets, AreaM2: M2(f.AreaM2), HighM2: M2(f.HighM2), WeightedM2: M2(f.Weighted),
			LengthMM: Millimetres(f.Length), Hours: math.Round(f.Hours*1e4) / 1e4,
		})
	}
	for _, c := range q.Checks {
		t.Checks = append(t.Checks, Check{c.Name, c.Unit, c.Value, c.Against, c.Basis})
	}
	t.Cost = cost(q.Cost)
	for i := range t.Pieces {
		t.Pieces[i].TwoPeople = q.Lifting[t.Pieces[i].ID]
	}
}

// studMils tells the steel of studs that are heavier than their wall type's,
// such as those at jambs.
func studMils(t *Takeoff, rows []quantity.StudRow) {
	type kind struct{ run, kind string }
	mil, typ := map[kind]int{}, map[string]int{}
	for i := range rows {
		mil[kind{rows[i].Run, rows[i].Kind}] = rows[i].Mil
	}
	for i := range t.Job.Types {
		typ[t.Job.Types[i].Name] = t.Job.Types[i].Mil
	}
	for i := range t.Runs {
		r := &t.Runs[i]
		for k := range r.Studs {
			if m := mil[kind{r.ID, r.Studs[k].Kind}]; m != typ[r.Type] {
				r.Studs[k].Mil = m
			}
		}
	}
}

func items(in []quantity.Item) []Item {
	out := make([]Item, len(in))
	for i := range in {
		it := &in[i]
		out[i] = Item{
			Item: it.Item, Spec: it.Spec, WidthMM: Millimetres(it.Width), LengthMM: Millimetres(it.Length), AreaM2: M2(it.AreaM2),
			Count: it.Count - it.Allowance, Allowance: it.Allowance, MassKg: Kg(it.MassKg), VolumeL: math.Round(it.Litres*1e4) / 1e4, Storey: it.Storey, Area: it.Area, Runs: it.Runs, Note: it.Note, Special: it.Special,
		}
	}
	return out
}

// cost tells the priced lines. Each amount is rounded to the cent, as the
// workbook's formula rounds it, so that both add up to the same total.
func cost(c *quantity.Cost) *Cost {
	if c == nil {
		return nil
	}
	out := &Cost{Currency: c.Currency}
	for _, l := range c.Lines {
		q := CostLine{Item: l.Item, Unit: l.Unit, Quantity: l.Quantity, Price: float64(l.Price) / 1e4, Priced: l.Priced, Kind: l.Kind, Section: l.Section, Note: l.Note}
		if l.Percent {
			q.Of = l.Of
			q.Quantity = 0
			for _, above := range out.Lines {
				if l.Of == "" || above.Kind == l.Of {
					q.Quantity += above.Amount
				}
			}
			q.Quantity = math.Round(q.Quantity*100) / 100 / 100
		}
		if q.Priced {
			q.Amount = math.Round(q.Quantity*q.Price*100) / 100
		}
		out.Total += q.Amount
		out.Lines = append(out.Lines, q)
	}
	out.Total = math.Round(out.Total*100) / 100
	for _, u := range c.Unpriced {
		known := false
		for _, l := range c.Lines {
			known = known || l.Item == u
		}
		if !known {
			out.Lines = append(out.Lines, CostLine{Item: u})
		}
	}
	return out
}
