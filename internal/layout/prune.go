package layout

import (
	"slices"

	"boardrun/internal/measure"
)

// What cannot be among the layouts kept need not be put together. Most stud
// starts and places of control joints fall out this way, since without prices
// studs off the grid count before board.

// beyond reports whether a layout under the horizontal joints looked at that
// adds so many studs is worse than all that are kept already. Where a search is
// still exact it never is: what it drops has to be told.
func (w *wall) beyond(added int64) bool {
	last := w.lastHeld()
	if last == nil || last.score[byBroken] > 0 {
		return false
	}
	if tier := int64(w.tier); last.score[byTier] != tier {
		return last.score[byTier] < tier
	}
	return last.score[byAdded] < added
}

// hopeless is beyond for a find before its rips share sheets, which at best
// halves the board they take.
func (w *wall) hopeless(f *find) bool {
	if w.beyond(f.score[byAdded]) {
		return true
	}
	last := w.lastHeld()
	if last == nil || last.score[byBroken] > 0 || last.score[byTier] != int64(w.tier) || last.score[byAdded] != f.score[byAdded] {
		return false
	}
	var area, rips measure.Area
	for _, l := range f.lays {
		area += l.cost.area
		for i := range l.rips {
			rips += measure.Times(l.rips[i].sheet, l.rips[i].share)
		}
	}
	return measure.Area(last.score[byArea]) < area+rips/2
}

// lastHeld is the worst of the layouts kept, nil while there are not enough or
// where prices weigh studs against board.
func (w *wall) lastHeld() *find {
	if !w.pruned || w.env.Prices != nil || len(w.held) < w.env.most() {
		return nil
	}
	return w.held[len(w.held)-1]
}

// leastAdded returns how many studs the lanes of each stretch and of those
// after it add at least.
func (w *wall) leastAdded(all [][][]*lay, start Length) []int {
	out := make([]int, len(all))
	sum := 0
	for i, lanes := range slices.Backward(all) {
		for _, lays := range lanes {
			least := w.added(lays[0], start)
			for _, l := range lays[1:] {
				if least == 0 {
					break
				}
				least = min(least, w.added(l, start))
			}
			sum += least
		}
		out[i] = sum
	}
	return out
}

// lanesOff counts, for each stud start, the lanes that no lay puts on the grid.
// Starts are sorted.
func (w *wall) lanesOff(starts []Length, all [][][]*lay) map[Length]int {
	off := make([]int, len(starts))
	on := make([]bool, len(starts))
	for _, lanes := range all {
		for _, lays := range lanes {
			clear(on)
			for _, l := range lays {
				w.onGrid(l, starts, on)
			}
			for i := range on {
				if !on[i] {
					off[i]++
				}
			}
		}
	}
	out := make(map[Length]int, len(starts))
	for i, s := range starts {
		out[s] = off[i]
	}
	return out
}

// onGrid marks the starts at which l adds no stud: the one phase that all its
// joints have, or all where none needs one.
func (w *wall) onGrid(l *lay, starts []Length, on []bool) {
	w.findPhases(l)
	if len(l.phases) == 0 {
		for i, s := range starts {
			on[i] = on[i] || w.added(l, s) == 0
		}
		return
	}
	if i, ok := slices.BinarySearch(starts, l.phases[0]); ok && !on[i] {
		on[i] = w.added(l, starts[i]) == 0
	}
}

// costed returns those of the lays that break no rule under rows, with what
// they cost.
func (w *wall) costed(lays []*lay, rows stack) []*lay {
	all := make([]lay, len(lays)) // they stand together
	legal := make([]*lay, 0, len(lays))
	for i, l := range lays {
		all[i] = *l
		if w.costLay(&all[i], rows); all[i].cost.broken == 0 {
			legal = append(legal, &all[i])
		}
	}
	return legal
}
