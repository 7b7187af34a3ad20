package check

import "math"

// sums holds invariants 4 and 5: areas bought add up, bounds are below what was
// found, the ledger balances.
func (j *judge) sums() {
	bought, hung, kept := map[string]float64{}, map[string]float64{}, map[string]float64{}
	board := map[string]string{}
	for i := range j.t.Sheets {
		s := &j.t.Sheets[i]
		bought[s.Board] += float64(s.WidthMM) * float64(s.LengthMM)
		board[s.ID] = s.Board
		for _, o := range s.Offcuts {
			if o.Kept {
				kept[s.Board] += math.Abs(ringOf(o.OutlineMM).area())
			}
		}
	}
	for i := range j.t.Pieces {
		hung[j.t.Pieces[i].Board] += float64(j.t.Pieces[i].AreaM2) * 1e6
	}
	seen := map[string]bool{}
	for _, b := range j.t.Bound {
		seen[b.Board] = true
		near := func(what string, told, found float64) {
			if math.Abs(told-found/1e6) > 1e-4+1e-6*told {
				j.object("sum", b.Board, "%s is %.5f m², the sheets and pieces give %.5f", what, told, found/1e6)
			}
		}
		near("area bought", float64(b.AreaM2), bought[b.Board])
		near("area hung", float64(b.HungM2), hung[b.Board])
		near("offcuts kept", float64(b.KeptM2), kept[b.Board])
		near("waste", float64(b.WasteM2), bought[b.Board]-hung[b.Board]-kept[b.Board])
		if b.ForPiecesM2 > b.AreaM2+1e-6 || b.ForAnyM2 > b.AreaM2+1e-6 {
			j.object("bound", b.Board, "a lower bound is above the area bought")
		}
		if b.ForAnyM2 > b.ForPiecesM2+1e-6 {
			j.object("bound", b.Board, "the bound for any layout is above the one for these pieces")
		}
	}
	for b := range bought {
		if !seen[b] {
			j.object("sum", b, "is bought but has no entry in bound")
		}
	}
	for _, l := range j.t.Ledger {
		n := l.Used
		for _, r := range l.Ignored {
			n += r.Count
		}
		if n != l.Read {
			j.object("ledger", l.Drawing, "%d entities read, %d used or ignored", l.Read, n)
		}
	}
}
