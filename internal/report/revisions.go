package report

import (
	"slices"
)

// Revision is a wall that is not what it was in an earlier takeoff, or the rest
// of the job. Money is the wall's share of the priced lines of each takeoff, at
// that takeoff's own prices; the differences of all revisions add up to that of
// the totals.
type Revision struct {
	Run        string   `json:"run"`  // "" for the rest of the job
	Kind       string   `json:"kind"` // added, removed, changed, rest
	Was        []string `json:"was"`  // marks of the earlier takeoff it stands for
	TypeWas    string   `json:"type_was"`
	Type       string   `json:"type"`
	LengthMM   MM       `json:"length_difference_mm"`
	NetM2      M2       `json:"net_area_difference_m2"`
	BoughtM2   M2       `json:"bought_area_difference_m2"`
	Pieces     int      `json:"pieces_difference"`
	Studs      int      `json:"studs_difference"`
	Openings   int      `json:"openings_difference"`
	MoneyWas   float64  `json:"money_was"`
	Money      float64  `json:"money"`
	Difference float64  `json:"difference"`
	Priced     bool     `json:"priced"` // false: one of the takeoffs has no prices
	SamePrices bool     `json:"same_prices"`
}

// Revise lists what changed since an earlier takeoff of the job: walls by their
// marks, the rest of the job last. Nothing changed gives none.
func Revise(old, t *Takeoff) []Revision {
	was, now := wallShares(Option{T: old}), wallShares(Option{T: t})
	a, b := wallMeasures(old), wallMeasures(t)
	priced := old.Cost != nil && t.Cost != nil
	same := priced && samePrices(old.Cost, t.Cost)
	prints := map[string]string{}
	for i := range old.Runs {
		prints[old.Runs[i].ID] = old.Runs[i].Fingerprint
	}
	var out []Revision
	rest := Revision{Kind: "rest", Was: []string{}}
	add := func(id, kind string, marks []string) {
		x, y := was[id], now[id]
		if x == nil {
			x = &WallOption{}
		}
		if y == nil {
			y = &WallOption{}
		}
		r := Revision{
			Run: id, Kind: kind, Was: append([]string{}, marks...), TypeWas: x.Type, Type: y.Type, LengthMM: y.LengthMM - x.LengthMM, NetM2: b[id].net - a[id].net,
			BoughtM2: y.BoughtM2 - x.BoughtM2, Pieces: y.Pieces - x.Pieces, Studs: y.Studs - x.Studs, Openings: b[id].openings - a[id].openings,
		}
		if priced {
			r.MoneyWas, r.Money, r.Difference = x.Money, y.Money, cents(y.Money-x.Money)
		}
		if kind == "rest" {
			rest.BoughtM2, rest.Pieces, rest.Studs = rest.BoughtM2+r.BoughtM2, rest.Pieces+r.Pieces, rest.Studs+r.Studs
			rest.MoneyWas, rest.Money = rest.MoneyWas+r.MoneyWas, rest.Money+r.Money
			return
		}
		out = append(out, r)
	}
	seen := map[string]bool{}
	for i := range t.Runs {
		r := &t.Runs[i]
		seen[r.ID] = true
		switch print, kept := prints[r.ID]; {
		case !kept:
			add(r.ID, "added", r.Was)
		case print != r.Fingerprint:
			add(r.ID, "changed", r.Was)
		default:
			add(r.ID, "rest", nil)
		}
	}
	for i := range old.Runs {
		if id := old.Runs[i].ID; !seen[id] {
			add(id, "removed", nil)
		}
	}
	if priced {
		// Cents lost in sharing and lines no wall has are the rest's, so that all
		// adds up to the totals.
		rest.MoneyWas, rest.Money = old.Cost.Total, t.Cost.Total
		for i := range out {
			rest.MoneyWas, rest.Money = rest.MoneyWas-out[i].MoneyWas, rest.Money-out[i].Money
		}
		rest.MoneyWas, rest.Money = cents(rest.MoneyWas), cents(rest.Money)
		rest.Difference = cents(rest.Money - rest.MoneyWas)
	}
	if len(out) > 0 || rest.Difference != 0 || rest.Pieces != 0 || rest.Studs != 0 {
		out = append(out, rest)
	}
	for i := range out {
		out[i].Priced, out[i].SamePrices = priced, same
	}
	return out
}

type wallMeasure struct {
	net      M2
	openings int
}

func wallMeasures(t *Takeoff) map[string]wallMeasure {
	out := map[string]wallMeasure{}
	for i := range t.Faces {
		if f := &t.Faces[i]; f.Boarded {
			m := out[f.Run]
			m.net += f.NetM2
			out[f.Run] = m
		}
	}
	for i := range t.Openings {
		m := out[t.Openings[i].Run]
		m.openings++
		out[t.Openings[i].Run] = m
	}
	return out
}

// samePrices reports whether no line that both have is priced otherwise.
func samePrices(a, b *Cost) bool {
	price := map[string]float64{}
	for _, l := range a.Lines {
		if l.Priced {
			price[l.Item] = l.Price
		}
	}
	return a.Currency == b.Currency && !slices.ContainsFunc(b.Lines, func(l CostLine) bool {
		p, both := price[l.Item]
		return both && l.Priced && p != l.Price
	})
}

// revisions is what changed since an earlier takeoff, to add or deduct.
func (p *paper) revisions() Tab {
	s := Tab{Name: "Revisions", Landscape: true}
	list := p.t.Revisions
	if len(list) == 0 {
		return s
	}
	b := Block{Key: "revisions", Title: "Since the earlier takeoff: to add or deduct", Columns: []Column{
		col("run", "Wall", 12, Words), col("kind", "", 10, Words), col("was", "stands for", 16, Words), col("type", "Type", 16, Words), col("length", p.lfName(), 9, Decimal),
		col("net", "Net "+p.sfName(), 10, Whole), col("bought", "Bought "+p.sfName(), 10, Whole), col("pieces", "Pieces", 8, Whole), col("studs", "Studs", 8, Whole), col("open", "Openings", 9, Whole),
	}}
	priced := list[0].Priced
	if priced {
		b.Columns = append(b.Columns, col("moneywas", "Was, "+p.t.Cost.Currency, 13, Money), col("money", "Is", 13, Money), col("difference", "Add, deduct −", 13, Money))
	}
	for i := range list {
		r := &list[i]
		name, typ := r.Run, r.Type
		switch {
		case r.Kind == "rest":
			name = "all others"
		case r.Kind == "removed":
			typ = r.TypeWas
		case r.TypeWas != "" && r.TypeWas != r.Type:
			typ = r.TypeWas + " now " + r.Type
		}
		kind := r.Kind
		if kind == "rest" {
			kind = "as they were"
		}
		row := []Cell{T(name).As(Strong), T(kind), T(several(r.Was, 4)), T(typ), N(p.lf(float64(r.LengthMM))), N(p.sf(float64(r.NetM2))), N(p.sf(float64(r.BoughtM2))), I(r.Pieces), I(r.Studs), I(r.Openings)}
		if priced {
			row = append(row, N(r.MoneyWas), N(r.Money), F("{money}-{moneywas}", r.Difference))
		}
		b.Rows = append(b.Rows, row)
	}
	keys := []string{"length", "net", "bought", "pieces", "studs", "open"}
	if priced {
		keys = append(keys, "moneywas", "money", "difference")
	}
	b.Total = totalRow(b, "All", keys...)
	s.Lead = []string{"A wall's money is its share of the priced lines: of board by the sheets its pieces came from, which walls share as far as offcuts travel; so walls that did not change may move a little, all of them in one line."}
	switch {
	case !priced:
		s.Lead = append(s.Lead, "No money: this takeoff or the earlier one has no prices.")
	case !list[0].SamePrices:
		s.Lead = append(s.Lead, "Prices changed too: each takeoff stands at its own. Take the earlier drawing off at today's prices to part the two.")
	}
	s.Blocks = []Block{b}
	return s
}
