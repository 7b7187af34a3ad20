package layout

import (
	"cmp"
	"slices"

	"boardrun/internal/job"
)

const framed = job.BoardAsFramed

// find is one layout as the search holds it.
type find struct {
	score    score
	start    Length // station of a stud of the grid
	rows     stack
	cost     tally
	added    int
	lays     []*lay  // by stretch, then through the wall
	spans    []*span // horizontal: by ply and course
	controls []Length
	swept    bool // found by a sweep: no layout obeys every rule
	fromEnd  bool // hung from the run's end
	first    *ply // base ply that is hung first; nil without board
}

// combo is one choice of lays for a stretch.
type combo struct {
	lays  []*lay
	cost  tally
	added int
	off   int // lanes off the grid
	score score
}

// legal returns the best layouts with sheets along the studs that obey every
// rule, best first. Two rips may stand side by side only where nothing else is
// left.
func (w *wall) legal(stretches []stretch, controls []Length) []*find {
	groups := w.rowGroups()
	for _, pairs := range []bool{false, true} {
		all := w.candidates(stretches, pairs)
		if all == nil {
			continue
		}
		// What is dropped is told once something is: then it need not be tried.
		if w.leaves() && slices.ContainsFunc(all, w.clash) {
			continue
		}
		w.skipped = false
		for tier, group := range groups {
			w.tier = tier
			if w.outOfReach(all) {
				w.skipped = true
				continue
			}
			var finds []*find
			for _, rows := range group {
				finds = append(finds, w.underRows(all, controls, rows)...)
			}
			for _, f := range finds {
				f.score[byTier] = int64(tier)
			}
			if finds = w.keep(finds); len(finds) > 0 {
				return finds
			}
		}
		if w.skipped {
			return nil // two rips side by side are worse still
		}
	}
	return nil
}

// keep sorts finds, drops repeats and keeps as many as are wanted.
func (w *wall) keep(finds []*find) []*find {
	slices.SortStableFunc(finds, func(a, b *find) int { return slices.Compare(a.score[:], b.score[:]) })
	var out []*find
	for _, f := range finds {
		if len(out) == w.env.most() {
			break
		}
		if !slices.ContainsFunc(out, f.same) {
			out = append(out, f)
		}
	}
	return out
}

// same reports whether f and g hang the same pieces.
func (f *find) same(g *find) bool {
	if !f.rows.same(g.rows) || !slices.Equal(f.controls, g.controls) || len(f.lays) != len(g.lays) || len(f.spans) != len(g.spans) {
		return false
	}
	for i := range f.spans {
		if f.spans[i].sheet != g.spans[i].sheet || !slices.Equal(f.spans[i].joints, g.spans[i].joints) {
			return false
		}
	}
	for i := range f.lays {
		if !slices.Equal(f.lays[i].joints, g.lays[i].joints) {
			return false
		}
	}
	return true
}

// candidates returns, by stretch and lane, the lays whose joints stand where
// joints may; nil if some lane has none.
func (w *wall) candidates(stretches []stretch, pairs bool) [][][]*lay {
	all := make([][][]*lay, len(stretches))
	for i := range stretches {
		s := &stretches[i]
		offsets := w.offsets(s.lanes)
		for k := range s.lanes {
			l := w.lays(&s.lanes[k], offsets, pairs)
			if len(l) == 0 {
				return nil
			}
			all[i] = append(all[i], l)
		}
	}
	return all
}

// underRows searches all stud starts under one set of horizontal joints: first
// joints on the grid only, then, if that has no legal layout or prices are
// given, with added studs.
func (w *wall) underRows(all [][][]*lay, controls []Length, rows stack) []*find {
	costed := make([][][]*lay, len(all))
	for i, lanes := range all {
		for _, lays := range lanes {
			legal := w.costed(lays, rows)
			if len(legal) == 0 {
				return nil
			}
			costed[i] = append(costed[i], legal)
		}
	}
	starts := w.starts(costed)
	least := w.leastAdded(starts, costed)
	var finds []*find
	before := w.skipped
	w.skipped = false
	for _, grid := range []bool{true, false} {
		if !grid && (len(finds) > 0 || w.skipped) && !w.studsPriced() {
			break
		}
		for i, start := range starts {
			finds = append(finds, w.atStart(costed, least[i], start, grid)...)
		}
	}
	w.skipped = w.skipped || before
	for _, f := range finds {
		f.rows, f.controls = rows, controls
		f.score[byRows] = w.rankRows(rows)
	}
	return finds
}

// rankRows breaks ties for the joint that runs as high as it can.
func (w *wall) rankRows(rows stack) (rank int64) {
	for _, r := range rows {
		for i, v := range r {
			rank -= int64(v) >> (2*i + 1)
		}
	}
	return rank
}

// starts returns the stud starts that matter, sorted.
func (w *wall) starts(all [][][]*lay) []Length {
	out := w.everyStart(all)
	if w.Framing == framed || w.Spacing <= 0 {
		return out
	}
	return w.promising(out, all)
}

// everyStart returns, sorted, the stud starts that put some joint of some lay on
// the grid, and the one at the first board's edge.
func (w *wall) everyStart(all [][][]*lay) []Length {
	if w.Framing == framed {
		return []Length{w.FirstStud}
	}
	if w.Spacing <= 0 {
		return []Length{0}
	}
	out := []Length{mod(w.edge(), w.Spacing)}
	for _, lanes := range all {
		for _, lays := range lanes {
			for _, l := range lays {
				for _, x := range l.joints[:min(len(l.joints), w.phases(l))] {
					out = append(out, mod(x, w.Spacing))
				}
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// promising keeps of many stud starts those that put the most lanes on the
// grid: on the others more studs are added. A wall of few lanes keeps all.
func (w *wall) promising(starts []Length, all [][][]*lay) []Length {
	lanes := 0
	for _, s := range all {
		lanes += len(s)
	}
	most := 24
	if w.env.Effort == Quick {
		most = 3
	}
	if lanes <= 4 || len(starts) <= most {
		return starts
	}
	w.pruned = true
	off := w.lanesOff(starts, all)
	edge := mod(w.edge(), w.Spacing)
	slices.SortStableFunc(starts, func(a, b Length) int {
		return cmp.Or(cmp.Compare(off[a], off[b]), cmp.Compare(min(1, (a-edge).Abs()), min(1, (b-edge).Abs())), cmp.Compare(a, b))
	})
	out := slices.Clone(starts[:most])
	slices.Sort(out)
	return out
}

// phases returns how many joints of l stand differently to the grid: one where
// the sheet is a whole number of bays.
func (w *wall) phases(l *lay) int {
	if l.lane.width%w.Spacing == 0 {
		return 1
	}
	return len(l.joints)
}

// edge returns the station where the board of the run begins.
func (w *wall) edge() Length {
	e := Length(maxLength)
	for _, p := range w.plies {
		e = min(e, p.s0)
	}
	return e
}

// atStart returns the best layouts with one stud start, at which the lanes of
// each stretch and of those after it add least studs at least.
func (w *wall) atStart(all [][][]*lay, least []int, start Length, grid bool) []*find {
	if grid && least[0] > 0 && w.leaves() {
		return nil // some lane has no lay on the grid
	}
	finds := []*find{{start: start}}
	for i, lanes := range all {
		if w.beyond(finds[0].score[byAdded] + int64(least[i])) {
			w.skipped = true
			return nil
		}
		combos := w.combos(lanes, start, grid)
		if len(combos) == 0 {
			return nil
		}
		if len(all) > 1 {
			combos = combos[:min(len(combos), perStretch)]
		}
		finds = w.put(finds, combos, len(all) > 1)
	}
	out := finds[:0]
	for _, f := range finds {
		if w.hopeless(f) {
			w.skipped = true
			continue
		}
		w.settle(f)
		out = append(out, f)
	}
	return out
}

// pair is a find with a choice of the next stretch after it.
type pair struct {
	f     *find
	c     *combo
	score score
}

// put puts every choice of a stretch after every find; of several stretches the
// best perStretch together.
func (w *wall) put(finds []*find, combos []combo, several bool) []*find {
	pairs, order := w.pairs[:0], w.pairOrder[:0]
	for _, f := range finds {
		for k := range combos {
			p := pair{f, &combos[k], f.score}
			for i := range p.score {
				p.score[i] += combos[k].score[i]
			}
			order = append(order, int32(len(pairs)))
			pairs = append(pairs, p)
		}
	}
	w.pairs, w.pairOrder = pairs, order
	if several {
		slices.SortStableFunc(order, func(a, b int32) int { return slices.Compare(pairs[a].score[:], pairs[b].score[:]) })
		order = order[:min(len(order), perStretch)]
	}
	out := make([]*find, len(order))
	for i, n := range order {
		p := &pairs[n]
		g := *p.f
		g.lays = slices.Concat(p.f.lays, p.c.lays)
		g.score = p.score
		out[i] = &g
	}
	return out
}

// combos returns the choices of one lay per lane whose neighbours keep apart,
// at one stud start, best first: all of them up to maxCombos, beyond that the
// best beamWidth after each lane.
func (w *wall) combos(lanes [][]*lay, start Length, grid bool) []combo {
	choices := w.choices(lanes, start, grid)
	beam := []combo{{}}
	total := 1
	for _, cs := range choices {
		total = min(total*max(1, len(cs)), maxCombos+1)
	}
	if total > w.enumerated() {
		if out := w.chain(choices); out != nil {
			return out
		}
	}
	for i, cs := range choices {
		var next []combo
		for _, b := range beam {
			for _, c := range cs {
				off := b.off + min(1, c.added)
				if off == len(choices) && w.Framing != framed {
					continue // another start puts one of them on the grid
				}
				if w.clear(b.lays, c.lay) {
					t := b.cost
					t.add(c.cost)
					next = append(next, combo{lays: append(slices.Clone(b.lays), c.lay), cost: t, added: b.added + c.added, off: off})
				}
			}
		}
		if total > maxCombos && len(next) > beamWidth {
			w.pruned = true
		}
		if beam = next; i == len(choices)-1 || total > maxCombos && len(beam) > beamWidth {
			w.rankCombos(beam, i == len(choices)-1)
			beam = beam[:min(len(beam), beamWidth)]
		}
	}
	return beam
}

// enumerated is up to how many choices all are tried together.
func (w *wall) enumerated() int {
	if w.env.Effort == Quick {
		return 1 << 6
	}
	return 1 << 10
}

const (
	maxCombos  = 1 << 12
	beamWidth  = 256
	perStretch = 16 // combos of one stretch that are put together with others'
	offGrid    = 16 // lays of one lane that are tried with studs added
)

// rankCombos scores combos, rips put together, and sorts them.
func (w *wall) rankCombos(cs []combo, whole bool) {
	rips := w.mixed
	for i := range cs {
		rips = rips[:0]
		for _, l := range cs[i].lays {
			rips = append(rips, l.rips...)
		}
		t := cs[i].cost
		t.add(w.chargeRips(rips))
		if whole {
			cs[i].cost = t
		}
		cs[i].score = w.rank(t, cs[i].added)
	}
	w.mixed = rips
	slices.SortStableFunc(cs, func(a, b combo) int { return slices.Compare(a.score[:], b.score[:]) })
}

// clear reports whether l keeps apart from the neighbours among lays.
func (w *wall) clear(lays []*lay, l *lay) bool {
	for _, m := range lays {
		if m.lane.neighbours(l.lane.ply) && !w.apart(m, l) {
			return false
		}
	}
	return true
}

// choice is a lay with the studs it adds to the grid.
type choice struct {
	*lay
	added int
}

// choices returns the lays of each lane that stand on the grid or, without
// grid, all of them with the studs they add; where that are many, the
// cheapest.
func (w *wall) choices(lanes [][]*lay, start Length, grid bool) [][]choice {
	out := make([][]choice, len(lanes))
	most := offGrid
	if w.env.Effort == Quick {
		most /= 2
	}
	if len(lanes) <= 2 {
		most *= 6
	}
	for i, lays := range lanes {
		all := w.chosen[:0]
		for _, l := range lays {
			if n := w.added(l, start); n == 0 || !grid {
				all = append(all, choice{l, n})
			}
		}
		w.chosen = all
		if grid || len(all) <= most {
			out[i] = slices.Clone(all)
		} else {
			out[i] = w.cheapest(all, most)
		}
	}
	return out
}

// cheapest returns the most cheapest choices, cheapest first.
func (w *wall) cheapest(cs []choice, most int) []choice {
	dearer := func(c, d *choice) bool {
		return cmp.Or(w.compareCost(&c.cost, c.added, &d.cost, d.added), cmp.Compare(c.cost.warnings, d.cost.warnings)) >= 0
	}
	out := make([]choice, 0, most)
	for i := range cs {
		c, n := &cs[i], len(out)
		if n == most {
			if n--; dearer(c, &out[n]) {
				continue
			}
			out = out[:n]
		}
		for n > 0 && !dearer(c, &out[n-1]) {
			n--
		}
		out = slices.Insert(out, n, *c)
	}
	return out
}

// settle adds a find up anew, so that rips of different stretches share sheets
// too, and chooses where its hanging starts.
func (w *wall) settle(f *find) {
	var sum tally
	rips := w.mixed[:0]
	added := 0
	for _, l := range f.lays {
		sum.add(l.cost)
		rips = append(rips, l.rips...)
		added += w.added(l, f.start)
	}
	w.mixed = rips
	sum.add(w.chargeRips(rips))
	f.cost, f.added = sum, added
	f.score = w.rank(sum, added)
	for _, l := range f.lays {
		if l.twoRips() {
			f.score[byBroken]++
		}
	}
	w.chooseStart(f)
}
