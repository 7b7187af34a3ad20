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
		if w.env.Prices != nil {
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
	if len(rips) < 2 {
		return t
	}
	order := w.ripOrder[:0]
	for i := range rips {
		order = append(order, int32(i))
	}
	w.ripOrder = order
	slices.SortStableFunc(order, func(i, k int32) int {
		a, b := &rips[i], &rips[k]
		return cmp.Or(compareBoards(a.board, b.board), cmp.Compare(a.row, b.row),
			cmp.Compare(b.share, a.share), cmp.Compare(b.width, a.width))
	})
	for lo := 0; lo < len(order); {
		hi := lo + 1
		for first := &rips[order[lo]]; hi < len(order); hi++ {
			if r := &rips[order[hi]]; r.row != first.row || compareBoards(r.board, first.board) != 0 {
				break
			}
		}
		saved := pairUp(rips, order[lo:hi])
		t.area -= saved.area
		t.money -= saved.money
		lo = hi
	}
	return t
}

func compareBoards(a, b *job.Board) int {
	if a == b {
		return 0
	}
	return cmp.Compare(a.Name, b.Name)
}

// saved is what rips save by sharing sheets.
type saved struct {
	area  measure.Area
	money int64
}

// pairUp returns what the best pairing of some of the rips saves, by area, with
// prices by the money that goes with it.
func pairUp(rips []rip, of []int32) saved {
	if len(of) > 6 {
		return pairGreedy(rips, of)
	}
	if len(of) < 2 {
		return saved{}
	}
	best := pairUp(rips, of[1:]) // the first alone
	var few [4]int32
	rest := few[:len(of)-2]
	for i := 1; i < len(of); i++ {
		a, b := &rips[of[0]], &rips[of[i]]
		if !a.fits(b) {
			continue
		}
		copy(rest, of[1:i])
		copy(rest[i-1:], of[i+1:])
		s, more := a.with(b), pairUp(rips, rest)
		s.area += more.area
		s.money += more.money
		if s.money > best.money || s.money == best.money && s.area > best.area {
			best = s
		}
	}
	return best
}

// fits reports whether a and b come out of one sheet side by side.
func (a *rip) fits(b *rip) bool { return a.width+b.width <= a.sheet && a.sheet == b.sheet }

// with returns what a and b save in one sheet.
func (a *rip) with(b *rip) saved {
	return saved{area: measure.Times(a.sheet, min(a.share, b.share)), money: min(a.money, b.money)}
}

// pairGreedy gives each rip in turn, dearest first, the widest partner that
// fits.
func pairGreedy(rips []rip, of []int32) (sum saved) {
	var few [64]bool
	used := few[:]
	if len(of) > len(few) {
		used = make([]bool, len(of))
	}
	for i := range of {
		if used[i] {
			continue
		}
		a := &rips[of[i]]
		best := -1
		for k := i + 1; k < len(of); k++ {
			if b := &rips[of[k]]; !used[k] && a.fits(b) && (best < 0 || b.width > rips[of[best]].width) {
				best = k
			}
		}
		if best >= 0 {
			s := a.with(&rips[of[best]])
			used[best] = true
			sum.area += s.area
			sum.money += s.money
		}
	}
	return sum
}
