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
func (w *wall) forced(stretches []stretch, controls []Length, groups [][][]Length) []*find {
	starts := w.forcedStarts(stretches)
	defer func() { w.near = false }()
	for _, give := range []licence{{}, {near: true}, {near: true, stations: true}, {near: true, stations: true, any: true}} {
		if w.near = give.near; give == (licence{near: true}) && !w.layered() {
			continue
		}
		for _, group := range groups {
			var finds []*find
			for _, rows := range group {
				finds = append(finds, w.forcedUnder(stretches, starts, rows, give)...)
			}
			for _, f := range finds {
				f.controls = controls
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
	return w.Rating != "" || slices.ContainsFunc(w.plies, func(p *ply) bool { return p.spec.Number > 1 })
}

// forcedUnder sweeps from the stud starts that promise most: every depth is
// swept by itself first, which costs less than all of them together can.
func (w *wall) forcedUnder(stretches []stretch, starts []Length, rows []Length, give licence) []*find {
	type promise struct {
		start Length
		least label
	}
	var list []promise
	for _, start := range starts {
		if least, ok := w.alone(stretches, start, rows, give); ok {
			list = append(list, promise{start, least})
		}
	}
	slices.SortStableFunc(list, func(a, b promise) int {
		switch {
		case w.better(&a.least, &b.least):
			return -1
		case w.better(&b.least, &a.least):
			return 1
		}
		return 0
	})
	var finds []*find
	var best *label
	for i, p := range list {
		if i >= w.env.most() && best != nil && !w.better(&p.least, best) || i >= maxSwept || i >= maxSwept/4 && give.stations {
			break
		}
		f, cost := w.sweepAll(stretches, p.start, rows, give)
		if f == nil {
			continue
		}
		finds = append(finds, f)
		if best == nil || w.better(&cost, best) {
			best = &cost
		}
	}
	return finds
}

// maxSwept is how many stud starts are swept in full.
const maxSwept = 24

// alone sweeps every depth by itself and adds up.
func (w *wall) alone(stretches []stretch, start Length, rows []Length, give licence) (sum label, ok bool) {
	for i := range stretches {
		for _, t := range w.tracks(&stretches[i], start, give) {
			l := w.sweep([]*track{t}, nil, start, rows, give)
			if l == nil {
				return sum, false
			}
			sum.cost.add(l.cost)
			sum.inner += l.inner
			sum.added += l.added
		}
	}
	return sum, true
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
func (w *wall) sweepAll(stretches []stretch, start Length, rows []Length, give licence) (*find, label) {
	f := &find{start: start, rows: rows, swept: true}
	var sum label
	for i := range stretches {
		joints := map[*lane][]Length{}
		tracks := w.tracks(&stretches[i], start, give)
		for _, group := range w.together(tracks, give) {
			l := w.sweep(group, joints, start, rows, give)
			if l == nil {
				return nil, sum
			}
			trace(group, l, joints)
			sum.cost.add(l.cost)
			sum.inner += l.inner
			sum.added += l.added
		}
		for k := range stretches[i].lanes {
			f.lays = append(f.lays, newSwept(&stretches[i].lanes[k], joints))
		}
	}
	for _, l := range f.lays {
		w.costLay(l, rows)
	}
	w.settle(f)
	return f, sum
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
