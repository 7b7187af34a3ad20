package quantity

import (
	"sort"

	"boardrun/internal/job"
	"boardrun/internal/layout"
)

// Inspect is the phase between the side hung first and the insulation: what is in
// the wall is inspected before it is closed.
// Source: common practice, no source; the code in force says what is inspected.
const Inspect = "in-wall inspection"

// Phase is one phase of the work on one storey: what is hung in it in m², of it
// above the height where work slows, weighed for that, the sheets cut into or
// stood for it, and its hours, 0 where no price list gives any.
type Phase struct {
	Storey, Name   string
	Sheets         int
	AreaM2, HighM2 float64
	Weighted       float64 // m²
	Length         Length  // of walls, for framing
	Hours          float64
}

// phases fills in Result.Phases: by storey the activities in the order they are
// done, an inspection where something is closed in.
func (t *taker) phases() {
	by := map[string][]*layout.Layout{}
	var storeys []string
	for _, l := range t.layouts {
		if by[l.Run.Storey] == nil {
			storeys = append(storeys, l.Run.Storey)
		}
		by[l.Run.Storey] = append(by[l.Run.Storey], l)
	}
	sort.Strings(storeys)
	var rows map[string]*job.PriceRow
	if p := t.in.Job.Prices; p != nil {
		rows = listRows(p)
	}
	for _, s := range storeys {
		sheets := t.sheetsByPhase(by[s])
		side1 := false
		for _, w := range t.activitiesOf(by[s]) {
			if side1 && w.name != DoSide1 {
				t.res.Phases = append(t.res.Phases, Phase{Storey: s, Name: Inspect})
				side1 = false
			}
			side1 = side1 || w.name == DoSide1
			p := Phase{Storey: s, Name: w.name, Sheets: sheets[w.name], AreaM2: w.low + w.high, HighM2: w.high, Weighted: w.low + w.high*t.set.LabourHigh, Length: w.length}
			if r := w.row(rows); r != nil && r.Hours > 0 {
				if q, ok := inUnit(r.Unit, 0, w.length, p.Weighted); ok {
					p.Hours = q * r.Hours
				}
			}
			t.res.Phases = append(t.res.Phases, p)
		}
	}
}

// sheetsByPhase counts the sheets of some layouts by the first phase that takes a
// piece of them: that is when a sheet has to be there.
func (t *taker) sheetsByPhase(layouts []*layout.Layout) map[string]int {
	order := map[string]int{DoSide1: 1, DoSide2: 2, DoTops: 3}
	phase := map[string]string{}
	for _, l := range layouts {
		for i := range l.Pieces {
			phase[l.Pieces[i].ID] = hangPhase(l, &l.Pieces[i])
		}
	}
	out := map[string]int{}
	for _, b := range t.in.Bought {
		first := ""
		for _, p := range b.Pieces {
			if n := phase[p]; n != "" && (first == "" || order[n] < order[first]) {
				first = n
			}
		}
		if first != "" {
			out[first] += b.Count
		}
	}
	return out
}

// hangPhase is the activity in which a piece is hung.
func hangPhase(l *layout.Layout, p *layout.Piece) string {
	switch {
	case p.Role == layout.Top:
		return DoTops
	case hungFirst(l, p.Face):
		return DoSide1
	}
	return DoSide2
}
