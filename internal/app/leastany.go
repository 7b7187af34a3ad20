package app

import (
	"slices"

	"boardrun/internal/cutting"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/parallel"
	"boardrun/internal/run"
)

// fewPlies is up to how many plies share offcuts for prices to be sought as long
// as they get better; of more, and in large jobs, a few rounds must do.
const fewPlies = 150

// plyOf names one ply of one face.
type plyOf struct {
	face *run.Face
	ply  int
}

// shared names the walls that share sheets of a board.
type shared struct{ board, group string }

// boundAny sets what any layouts of the runs must buy of each board at least,
// with no more horizontal joint than these take: otherwise sheets cut short and
// tops out of what is left would save board nobody wants to tape.
func boundAny(j *job.Job, set *run.Set, layouts []*layout.Layout, cut *cutting.Solution) {
	groups := hangings(j, set, layouts, cut)
	keys := make([]shared, 0, len(groups))
	for k := range groups {
		keys = append(keys, k)
	}
	least := make([]float64, len(keys))
	large := manyToChoose(layouts)
	parallel.Each(len(keys), func(i int) {
		k, effort := keys[i], cutting.Best
		if large || len(groups[k].Plies) > fewPlies {
			effort = cutting.Quick
		}
		least[i] = cutting.LeastOfAny(*groups[k], stockOf(j, k.board), effort)
	})
	for b := range cut.Bounds {
		bound := &cut.Bounds[b]
		if slices.ContainsFunc(cut.Unplaced, func(u cutting.Unplaced) bool { return u.Board == bound.Board }) {
			continue // not all that hangs is bought
		}
		var parts []float64
		for i, k := range keys {
			if k.board == bound.Board {
				parts = append(parts, least[i])
			}
		}
		slices.Sort(parts) // a sum of floats depends on its order
		for _, a := range parts {
			bound.ForAny += a
		}
	}
}

// hangings collects the ways of all plies by the walls that share sheets.
func hangings(j *job.Job, set *run.Set, layouts []*layout.Layout, cut *cutting.Solution) map[shared]*cutting.Hanging {
	groups := map[shared]*cutting.Hanging{}
	for i := range cut.Sheets {
		s := &cut.Sheets[i]
		k := shared{s.Board, s.Group}
		if groups[k] == nil {
			groups[k] = &cutting.Hanging{}
		}
		groups[k].Met += measure.Times(s.Width, s.Length).M2()
	}
	all := ways(j, set, layouts)
	for i := range set.Runs {
		l := layouts[i]
		if l == nil {
			continue
		}
		level, listed := levelJoints(l), map[plyOf]bool{}
		for _, w := range all[i] {
			h := groups[shared{w.Board, travelGroup(j, &layout.Piece{Face: w.Face})}]
			if w.Open || h == nil {
				continue
			}
			listed[plyOf{w.Face, w.Ply}] = true
			h.Plies = append(h.Plies, hanging(w.Choice))
			h.Level += level[plyOf{w.Face, w.Ply}]
		}
		for k := range l.Pieces {
			p := &l.Pieces[k]
			if h := groups[shared{p.Board, travelGroup(j, p)}]; !listed[plyOf{p.Face, p.Ply}] && h != nil {
				h.Net += p.Area.M2() * 1e6
			}
		}
	}
	return groups
}

// ways lists the ways to hang every run that is laid out, on all cores.
func ways(j *job.Job, set *run.Set, layouts []*layout.Layout) [][]layout.PlyWays {
	env := layout.Env{Rules: j.Rules, Boards: j.Board, Prices: j.Prices, Effort: layout.Best}
	if manyToChoose(layouts) {
		env.Effort = layout.Quick
	}
	out := make([][]layout.PlyWays, len(set.Runs))
	parallel.Each(len(set.Runs), func(i int) {
		if layouts[i] != nil && !layouts[i].Swept {
			out[i] = layout.Ways(set.Runs[i], env)
		}
	})
	return out
}

// levelJoints is the length of horizontal joint of each ply.
func levelJoints(l *layout.Layout) map[plyOf]measure.Length {
	out := map[plyOf]measure.Length{}
	for i := range l.Joints {
		if x := &l.Joints[i]; x.From.Y == x.To.Y {
			out[plyOf{x.Face, x.Ply}] += (x.To.X - x.From.X).Abs()
		}
	}
	return out
}

// hanging says the ways of a ply in the words of cutting.
func hanging(choice [][]layout.Lane) [][]cutting.Lane {
	out := make([][]cutting.Lane, len(choice))
	for i, lanes := range choice {
		for _, l := range lanes {
			n := cutting.Lane{Ways: l.Ways}
			for _, c := range l.Columns {
				var col cutting.Column
				for _, f := range c {
					fill := cutting.Fill{Level: f.Level}
					for _, b := range f.Blanks {
						fill.Blanks = append(fill.Blanks, cutting.Blank(b))
					}
					col = append(col, fill)
				}
				n.Columns = append(n.Columns, col)
			}
			out[i] = append(out[i], n)
		}
	}
	return out
}

// stockOf lists the sheets of a board.
func stockOf(j *job.Job, board string) []cutting.Stock {
	var out []cutting.Stock
	if b := j.Board(board); b != nil {
		for _, z := range b.Sheets {
			for _, l := range z.Lengths {
				out = append(out, cutting.Stock{Board: board, Width: z.Width, Length: l})
			}
		}
	}
	return out
}
