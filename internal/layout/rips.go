package layout

import (
	"cmp"
	"slices"

	"boardrun/internal/job"
	"boardrun/internal/measure"
)

// rip is a piece narrower than the sheet that waits for a partner: two that
// fit one sheet side by side, each with one of its factory edges, share it.
type rip struct {
	board *job.Board
	sheet Length // width of the sheet
	width Length
	share Length // length of sheet it takes by itself
	money int64  // the same in money
	row   int

	across  Length   // of the rest of a course: width of its sheet, width is along the wall
	lengths []Length // and the sheets it may come from
}

// ripsOf appends the rips of the column [a, b] of p.
func (w *wall) ripsOf(out []rip, p *ply, a, b Length, bits []bit) []rip {
	for _, c := range bits {
		h := c.peak(p, a, b)
		r := rip{board: c.board, sheet: p.width, width: b - a, row: c.row, share: share(c.lengths, h)}
		if w.env.Prices != nil && w.env.Shapes != nil {
			r.money = w.env.Shapes(c.shapeOf(p, a, b))
		} else if w.env.Prices != nil {
			r.money = w.shareMoney(c.board, p.width, c.lengths, h)
		}
		out = append(out, r)
	}
	return out
}

// chargeRips adds the board of rips, sharing sheets as well as it can be done
// within each row: exact up to six rips of one row and board.
func (w *wall) chargeRips(rips []rip) (t tally) {
	for _, r := range rips {
		t.area += measure.Times(r.sheet, r.share)
		t.money += r.money
	}
	if w.env.Prices != nil {
		for _, r := range rips {
			t.money += 2 * w.env.Prices.Cut * min(1, int64(r.width)) // rip and cross cut
		}
	}
	if len(rips) < 2 || w.env.Shapes != nil && w.env.Prices != nil {
		return t // prices of shapes know what a sheet is shared for
	}
	w.rips = append(w.rips[:0], rips...)
	rips = w.rips
	slices.SortStableFunc(rips, func(a, b rip) int {
		return cmp.Or(cmp.Compare(a.board.Name, b.board.Name), cmp.Compare(a.row, b.row),
			cmp.Compare(b.share, a.share), cmp.Compare(b.width, a.width))
	})
	for lo := 0; lo < len(rips); {
		hi := lo + 1
		for hi < len(rips) && rips[hi].board.Name == rips[lo].board.Name && rips[hi].row == rips[lo].row {
			hi++
		}
		saved := pairUp(rips[lo:hi])
		t.area -= saved.area
		t.money -= saved.money
		lo = hi
	}
	return t
}

// pairUp returns what the best pairing of rips saves, by area, with prices by
// the money that goes with it.
func pairUp(rips []rip) tally {
	if len(rips) > 6 {
		return pairGreedy(rips)
	}
	if len(rips) < 2 {
		return tally{}
	}
	best := pairUp(rips[1:]) // the first alone
	var few [4]rip
	rest := few[:len(rips)-2]
	for i := 1; i < len(rips); i++ {
		s, ok := saving(rips[0], rips[i])
		if !ok {
			continue
		}
		copy(rest, rips[1:i])
		copy(rest[i-1:], rips[i+1:])
		s.add(pairUp(rest))
		if s.money > best.money || s.money == best.money && s.area > best.area {
			best = s
		}
	}
	return best
}

func saving(a, b rip) (tally, bool) {
	if a.width+b.width > a.sheet || a.sheet != b.sheet {
		return tally{}, false
	}
	return tally{area: measure.Times(a.sheet, min(a.share, b.share)), money: min(a.money, b.money)}, true
}

// pairGreedy gives each rip in turn, dearest first, the widest partner that
// fits.
func pairGreedy(rips []rip) (sum tally) {
	used := make([]bool, len(rips))
	for i := range rips {
		if used[i] {
			continue
		}
		best := -1
		for k := i + 1; k < len(rips); k++ {
			if _, ok := saving(rips[i], rips[k]); ok && !used[k] && (best < 0 || rips[k].width > rips[best].width) {
				best = k
			}
		}
		if best >= 0 {
			s, _ := saving(rips[i], rips[best])
			used[best] = true
			sum.add(s)
		}
	}
	return sum
}
