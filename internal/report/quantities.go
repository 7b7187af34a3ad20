package report

import (
	"boardrun/internal/quantity"
)

// AddQuantities tells the quantities in the words of the contract.
func AddQuantities(t *Takeoff, q *quantity.Result) {
	for _, s := range q.Screws {
		t.Screws = append(t.Screws, Screw{s.Face, s.Ply, s.Item, s.Place, s.Count, s.Tack})
	}
	t.Framing = items(q.Framing)
	t.Finishing = append(append(items(q.Finishing), items(q.Insulation)...), items(q.Sealant)...)
	t.Order = items(q.Order)
	t.Stocking = items(q.Stocking)
	for i := range t.Pieces {
		t.Pieces[i].TwoPeople = q.Lifting[t.Pieces[i].ID]
	}
}

func items(in []quantity.Item) []Item {
	out := make([]Item, len(in))
	for i := range in {
		it := &in[i]
		out[i] = Item{
			Item: it.Item, Spec: it.Spec, WidthMM: Millimetres(it.Width), LengthMM: Millimetres(it.Length), AreaM2: M2(it.AreaM2),
			Count: it.Count - it.Allowance, Allowance: it.Allowance, MassKg: Kg(it.MassKg), Storey: it.Storey, Area: it.Area, Runs: it.Runs, Note: it.Note,
		}
	}
	return out
}
