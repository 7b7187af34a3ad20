package layout

import (
	"slices"

	"boardrun/internal/measure"
)

// What cannot be among the layouts kept need not be put together. Most stud
// starts and places of control joints fall out this way, since without prices
// studs off the grid count before board.

// leaves reports whether anything may be left out.
func (w *wall) leaves() bool { return w.pruned && !w.env.whole }

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

// breaksMore reports whether layouts that break so many rules are worse than all
// that are kept already.
func (w *wall) breaksMore(rules int) bool {
	return !w.env.whole && len(w.held) >= w.env.most() && w.held[len(w.held)-1].score[byBroken] < int64(rules)
}

// clash reports whether two lanes beside each other have no lays that keep apart.
func (w *wall) clash(lanes [][]*lay) bool {
	for i, these := range lanes {
		for _, those := range lanes[i+1:] {
			a, b := these[0].lane, those[0].lane
			if a.neighbours(b.ply) && a.s0 < b.s1 && b.s0 < a.s1 && !w.anyApart(these, those) {
				return true
			}
		}
	}
	return false
}

func (w *wall) anyApart(these, those []*lay) bool {
	for _, l := range these {
		for _, m := range those {
			if w.apart(l, m) {
				return true
			}
		}
	}
	return false
}

// lastHeld is the worst of the layouts kept, nil while there are not enough or
// where prices weigh studs against board.
func (w *wall) lastHeld() *find {
	if !w.leaves() || w.env.Prices != nil || len(w.held) < w.env.most() {
		return nil
	}
	return w.held[len(w.held)-1]
}

// leastOf puts into out, for each of the stud starts, how many studs a lane adds
// at least, whichever of the lays it has. Starts are sorted and in [0, spacing).
func (w *wall) leastOf(lays []*lay, starts []Length, out []int) {
	if w.Spacing <= 0 {
		clear(out)
		return
	}
	all := len(lays[0].joints)
	for _, l := range lays {
		w.findPhases(l)
		all = min(all, len(l.phases))
	}
	for i := range out {
		out[i] = all
	}
	for _, l := range lays {
		for i, x := range l.phases {
			if i > 0 && x == l.phases[i-1] {
				continue
			}
			if k, ok := slices.BinarySearch(starts, x); ok {
				n := len(l.phases)
				for _, y := range l.phases {
					if y == x {
						n--
					}
				}
				out[k] = min(out[k], n)
			}
		}
	}
	for _, x := range lays[0].lane.ends {
		if x == lays[0].lane.s0 && !w.fixedAt(x) {
			for i := range out {
				if starts[i] != mod(x, w.Spacing) {
					out[i]++
				}
			}
		}
	}
}

// leastAdded returns, for each of the stud starts, how many studs the lanes of
// each stretch and of those after it add at least.
func (w *wall) leastAdded(starts []Length, all [][][]*lay) [][]int {
	starts = w.phasesOf(starts)
	out := make([][]int, len(starts))
	slab := make([]int, len(starts)*(len(all)+1))
	for i := range out {
		out[i] = slab[i*(len(all)+1):][:len(all)+1]
	}
	lane := make([]int, len(starts))
	for k, lanes := range slices.Backward(all) {
		for i := range out {
			out[i][k] = out[i][k+1]
		}
		for _, lays := range lanes {
			w.leastOf(lays, starts, lane)
			for i := range out {
				out[i][k] += lane[i]
			}
		}
	}
	return out
}

// phasesOf returns stud starts as they stand in a bay.
func (w *wall) phasesOf(starts []Length) []Length {
	if w.Framing != framed || w.Spacing <= 0 {
		return starts
	}
	return []Length{mod(starts[0], w.Spacing)}
}

// lanesOff counts, for each stud start, the lanes that no lay puts on the grid.
func (w *wall) lanesOff(starts []Length, all [][][]*lay) map[Length]int {
	out := make(map[Length]int, len(starts))
	lane := make([]int, len(starts))
	for _, lanes := range all {
		for _, lays := range lanes {
			w.leastOf(lays, starts, lane)
			for i, n := range lane {
				out[starts[i]] += min(1, n)
			}
		}
	}
	return out
}

// outOfReach reports whether no stud start makes one of the best layouts of the
// lays.
func (w *wall) outOfReach(all [][][]*lay) bool {
	if w.lastHeld() == nil {
		return false
	}
	least := int64(1) << 32
	for _, by := range w.leastAdded(w.everyStart(all), all) {
		least = min(least, int64(by[0]))
	}
	return w.beyond(least)
}

// costed returns those of the lays that break no rule under rows, with what
// they cost.
func (w *wall) costed(lays []*lay, rows stack) []*lay {
	legal := make([]*lay, 0, len(lays))
	for _, l := range lays {
		c := *l
		if w.costLay(&c, rows); c.cost.broken == 0 {
			legal = append(legal, w.newLay(&c))
		}
	}
	return legal
}
