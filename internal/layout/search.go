package layout

import (
	"slices"

	"boardrun/internal/job"
)

const framed = job.BoardAsFramed

// find is one layout as the search holds it.
type find struct {
	score    score
	start    Length // station of a stud of the grid
	rows     []Length
	cost     tally
	added    int
	lays     []*lay // by stretch, then through the wall
	controls []Length
	fromEnd  bool // hung from the run's end
	first    int  // ply whose side is hung first, index into wall.plies
}

// combo is one choice of lays for a stretch.
type combo struct {
	lays  []*lay
	cost  tally
	added int
	score score
}

// vertical returns the best layouts with sheets along the studs, best first.
func (w *wall) vertical(stretches []stretch, controls []Length) []*find {
	for _, group := range w.rowGroups() {
		var finds []*find
		for _, rows := range group {
			finds = append(finds, w.underRows(stretches, controls, rows)...)
		}
		if finds = w.keep(finds); len(finds) > 0 {
			return finds
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
	if !slices.Equal(f.rows, g.rows) || len(f.lays) != len(g.lays) {
		return false
	}
	for i := range f.lays {
		if !slices.Equal(f.lays[i].joints, g.lays[i].joints) {
			return false
		}
	}
	return true
}

// underRows searches all stud starts under one set of horizontal joints: first
// joints on the grid only, then, if that has no legal layout or prices are
// given, with added studs.
func (w *wall) underRows(stretches []stretch, controls []Length, rows []Length) []*find {
	all := make([][][]*lay, len(stretches))
	for i := range stretches {
		s := &stretches[i]
		for k := range s.lanes {
			ln := &s.lanes[k]
			l := w.lays(ln, w.offsets(*ln, s.lanes), rows)
			if len(l) == 0 {
				return nil
			}
			all[i] = append(all[i], l)
		}
	}
	starts := w.starts(all)
	var finds []*find
	for _, grid := range []bool{true, false} {
		for _, start := range starts {
			finds = append(finds, w.atStart(all, start, grid)...)
		}
		if len(finds) > 0 && w.env.Prices == nil {
			break
		}
	}
	for _, f := range finds {
		f.rows, f.controls = rows, controls
		for i, v := range rows {
			f.score[byRows] -= int64(v) >> i // ties: the joint as high as it can be
		}
	}
	return finds
}

// starts returns the stud starts that matter: those that put some joint of
// some lay on the grid, and the one at the first board's edge.
func (w *wall) starts(all [][][]*lay) []Length {
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
				out = append(out, mod(l.off, w.Spacing))
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// edge returns the station where the board of the run begins.
func (w *wall) edge() Length {
	e := Length(maxLength)
	for _, p := range w.plies {
		e = min(e, p.s0)
	}
	return e
}

// atStart returns the best layouts with one stud start.
func (w *wall) atStart(all [][][]*lay, start Length, grid bool) []*find {
	finds := []*find{{start: start}}
	for _, lanes := range all {
		combos := w.combos(lanes, start, grid)
		if len(combos) == 0 {
			return nil
		}
		var next []*find
		for _, f := range finds {
			for _, c := range combos {
				g := *f
				g.lays = append(slices.Clone(f.lays), c.lays...)
				for i := range g.score {
					g.score[i] += c.score[i]
				}
				next = append(next, &g)
			}
		}
		if len(all) > 1 {
			slices.SortStableFunc(next, func(a, b *find) int { return slices.Compare(a.score[:], b.score[:]) })
			next = next[:min(len(next), 4*w.env.most())]
		}
		finds = next
	}
	for _, f := range finds {
		w.settle(f)
	}
	return finds
}

// combos returns the choices of one lay per lane whose neighbours keep apart,
// at one stud start, best first.
func (w *wall) combos(lanes [][]*lay, start Length, grid bool) []combo {
	type choice struct {
		*lay
		added int
	}
	choices := make([][]choice, len(lanes))
	for i, lays := range lanes {
		for _, l := range lays {
			if n := w.added(l, start); n == 0 || !grid {
				choices[i] = append(choices[i], choice{l, n})
			}
		}
	}
	var out []combo
	picked := make([]*lay, len(lanes))
	budget := maxCombos
	var pick func(i, added int, cost tally)
	pick = func(i, added int, cost tally) {
		if i == len(lanes) {
			budget--
			c := combo{lays: slices.Clone(picked), cost: cost, added: added}
			var rips []rip
			for _, l := range c.lays {
				rips = append(rips, l.rips...)
			}
			c.cost.add(w.chargeRips(rips))
			c.score = w.rank(c.cost, added)
			out = append(out, c)
			return
		}
		for _, c := range choices[i] {
			if budget <= 0 {
				return
			}
			if i > 0 && picked[i-1].lane.at+1 == c.lane.at && !w.apart(picked[i-1], c.lay) {
				continue
			}
			picked[i] = c.lay
			t := cost
			t.add(c.cost)
			pick(i+1, added+c.added, t)
		}
	}
	pick(0, 0, tally{})
	if len(out) > 1 {
		slices.SortStableFunc(out, func(a, b combo) int { return slices.Compare(a.score[:], b.score[:]) })
	}
	return out
}

// maxCombos bounds the choices looked at for one stud start: two plies with
// any two hundred offsets each stay exact.
const maxCombos = 1 << 16

// settle adds a find up anew, so that rips of different stretches share sheets
// too, and chooses where its hanging starts.
func (w *wall) settle(f *find) {
	var sum tally
	var rips []rip
	added := 0
	for _, l := range f.lays {
		sum.add(l.cost)
		rips = append(rips, l.rips...)
		added += w.added(l, f.start)
	}
	sum.add(w.chargeRips(rips))
	f.cost, f.added = sum, added
	f.score = w.rank(sum, added)
	w.chooseStart(f)
}

// chooseStart chooses the end both sides start at and the side hung first: the
// one that begins with an uncut sheet, at the board's edge the grid begins at,
// at the run's start, with the widest first piece.
func (w *wall) chooseStart(f *find) {
	best := f.score
	f.first = -1
	for _, fromEnd := range []bool{false, true} {
		for _, first := range w.bases() {
			s := f.score
			w.rankStart(f, &s, fromEnd, first)
			if f.first < 0 || s.less(&best) {
				best, f.fromEnd, f.first = s, fromEnd, first
			}
		}
	}
	f.score = best
}

// bases returns the base ply of each side, as indices into wall.plies.
func (w *wall) bases() []int {
	var out []int
	for i, p := range w.plies {
		if p.spec.Number == 1 {
			out = append(out, i)
		}
	}
	if out == nil {
		out = []int{0}
	}
	return out
}

func (w *wall) rankStart(f *find, s *score, fromEnd bool, first int) {
	width := w.startWidth(f, first, fromEnd)
	if width < w.plies[first].width {
		s[byStart] = 1
	}
	edge := w.plies[first].s0
	if fromEnd {
		edge = w.plies[first].s1
		s[byEnd] = 2
	}
	if w.Spacing > 0 && mod(edge-f.start, w.Spacing) != 0 {
		s[byGrid] = 1
	}
	if first != w.bases()[0] {
		s[byEnd]++
	}
	s[byWidth] = -int64(width)
	n := byWidth + 1
	for i := range w.plies {
		if i != first && n < byRows {
			s[n] = -int64(w.startWidth(f, i, fromEnd))
			n++
		}
	}
}

// startWidth returns the width of the first piece of a ply from one end.
func (w *wall) startWidth(f *find, ply int, fromEnd bool) Length {
	if fromEnd {
		for _, l := range slices.Backward(f.lays) {
			if l.lane.at == ply {
				return l.last()
			}
		}
		return 0
	}
	for _, l := range f.lays {
		if l.lane.at == ply {
			return l.first()
		}
	}
	return 0
}
