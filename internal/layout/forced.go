package layout

import (
	"cmp"
	"slices"
)

// licence says which rules a sweep may break, and at what count.
type licence struct {
	near     bool // plies of one side nearer than a bay, on studs of their own
	stations bool // stations off the grid too
	any      bool // any rule, where nothing else is left
}

// forced returns layouts for runs where no legal one exists: pieces narrower
// than the sheet between full ones, as few as can be; then with studs added to
// the grid; then with whatever rule blocks broken, as little as can be.
func (w *wall) forced(stretches []stretch, controls []Length) []*find {
	groups := w.rowGroups()
	starts := w.forcedStarts(stretches)
	defer func() { w.near = false }()
	for _, give := range []licence{{}, {near: true}, {near: true, stations: true}, {near: true, stations: true, any: true}} {
		if w.near = give.near; give == (licence{near: true}) && !w.layered() {
			continue
		}
		for tier, group := range groups {
			var finds []*find
			for _, rows := range group {
				finds = append(finds, w.forcedUnder(stretches, starts, rows, give)...)
			}
			for _, f := range finds {
				f.controls = controls
				f.score[byTier] = int64(tier)
				f.score[byRows] = w.rankRows(f.rows)
			}
			if finds = w.keep(finds); len(finds) > 0 {
				return finds
			}
		}
	}
	return nil
}

// layered reports whether a bay between plies is asked for anywhere.
func (w *wall) layered() bool {
	return w.rated() || slices.ContainsFunc(w.plies, func(p *ply) bool { return p.spec.Number > 1 })
}

// forcedUnder sweeps from the stud starts that promise the fewest narrow
// pieces.
func (w *wall) forcedUnder(stretches []stretch, starts []Length, rows stack, give licence) []*find {
	type promise struct {
		start Length
		least int
	}
	var list []promise
	for _, start := range starts {
		if least, ok := w.fewest(stretches, start, give); ok {
			list = append(list, promise{start, least})
		}
	}
	slices.SortStableFunc(list, func(a, b promise) int { return cmp.Compare(a.least, b.least) })
	var finds []*find
	best := maxSwept // narrow pieces of the best find
	for i, p := range list {
		if i >= maxSwept || i >= w.env.most() && p.least >= best {
			break
		}
		if len(finds) > 0 && w.breaksMore(p.least) {
			break
		}
		if f, inner := w.sweepAll(stretches, p.start, rows, give); f != nil {
			finds = append(finds, f)
			best = min(best, inner)
		}
	}
	return finds
}

// maxSwept is how many stud starts are swept in full.
const maxSwept = 12

// fewest returns the least number of pieces that are narrower than the sheet
// and away from the ends, every depth by itself: no layout has fewer.
func (w *wall) fewest(stretches []stretch, start Length, give licence) (sum int, ok bool) {
	for i := range stretches {
		for k := range stretches[i].lanes {
			n := w.fewestIn(&stretches[i].lanes[k], start, give)
			if n < 0 {
				return 0, false
			}
			sum += n
		}
	}
	return sum, true
}

// fewestIn is fewest for one lane; −1 if it cannot be hung.
func (w *wall) fewestIn(ln *lane, start Length, give licence) int {
	stations := w.stations(ln, start, give)
	at := append(w.used[:0], ln.s0)
	for _, x := range stations {
		if x <= ln.s0 || x >= ln.s1 {
			continue
		}
		if hard, _ := w.judge(ln.ply, x); !hard || give.any {
			at = append(at, x)
		}
	}
	at = append(at, ln.s1)
	w.used = at
	const none = 1 << 20
	least := slices.Grow(w.least[:0], len(at))[:len(at)]
	w.least, least[0] = least, 0
	for j := 1; j < len(at); j++ {
		least[j] = none
		for i := j - 1; i >= 0 && at[j]-at[i] <= ln.width; i-- {
			n := least[i]
			if i > 0 && j < len(at)-1 && at[j]-at[i] < ln.width {
				n++
			}
			least[j] = min(least[j], n)
		}
	}
	if n := least[len(at)-1]; n < none {
		return n
	}
	return -1
}

// forcedStarts returns the stud starts a sweep looks at: all that matter, by
// station.
func (w *wall) forcedStarts(stretches []stretch) []Length {
	if w.Framing == framed || w.Spacing <= 0 {
		return []Length{w.FirstStud}
	}
	var out []Length
	for i := range stretches {
		for _, o := range w.offsets(stretches[i].lanes) {
			out = append(out, mod(o, w.Spacing))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// sweepAll sweeps every stretch from one stud start; nil if one cannot be
// hung under the licence. The base plies are swept together, plies over them
// after, each against the one below.
func (w *wall) sweepAll(stretches []stretch, start Length, rows stack, give licence) (f *find, inner int) {
	f = &find{start: start, rows: rows, swept: true}
	for i := range stretches {
		joints := map[*lane][]Length{}
		tracks := w.tracks(&stretches[i], start, give)
		for _, group := range w.together(tracks, give) {
			l := w.sweep(group, joints, start, rows, give)
			if l == nil {
				return nil, 0
			}
			trace(group, l, joints)
			inner += l.inner
		}
		for k := range stretches[i].lanes {
			f.lays = append(f.lays, newSwept(&stretches[i].lanes[k], joints))
		}
	}
	for _, l := range f.lays {
		w.costLay(l, rows)
	}
	w.settle(f)
	return f, inner
}

// together groups the tracks of a stretch for sweeping: the base plies of both
// sides, then plies outwards one by one. Off the grid there are too many
// stations for two at a time.
func (w *wall) together(tracks []*track, give licence) [][]*track {
	out := [][]*track{nil}
	rest := slices.Clone(tracks)
	slices.SortStableFunc(rest, func(a, b *track) int {
		return cmp.Compare(max(a.depth, -1-a.depth), max(b.depth, -1-b.depth)) // base plies first
	})
	for _, t := range rest {
		n := len(out) - 1
		pair := len(out[n]) == 1 && out[n][0].depth+t.depth == -1 && (t.depth == 0 || t.depth == -1) && !give.stations
		if pair || len(out[n]) == 0 {
			out[n] = append(out[n], t)
		} else {
			out = append(out, []*track{t})
		}
	}
	return out
}
