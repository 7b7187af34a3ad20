package app

import (
	"fmt"
	"sort"
	"strings"

	"boardrun/internal/cutting"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/plan"
	"boardrun/internal/report"
	"boardrun/internal/run"
)

// Limits of the coupling of layouts and cut list: layouts of a run that differ
// in their pieces, and rounds over all runs. Beyond manyRuns runs or
// manyPieces pieces there are
// fewer of each, so that the work grows with the job and not faster.
const (
	mostLayouts, mostRounds = 16, 2
	fewLayouts, fewRounds   = 4, 1
	manyRuns, manyPieces    = 60, 400
)

// differing returns the layouts of one run worth choosing from by what their
// pieces cost to cut: the best, and those after it that break no more rules,
// add no more studs where studs have no price, and make other pieces than all
// before.
func differing(j *job.Job, all []layout.Layout, most int) []*layout.Layout {
	var out []*layout.Layout
	seen := map[string]bool{}
	for i := range all {
		l, best := &all[i], &all[0]
		if len(out) == most || i > 0 && best.Status == "infeasible" {
			break
		}
		if l.Status == "infeasible" && i > 0 || persons(l) > persons(best) || l.Cost.Added > best.Cost.Added && (j.Prices == nil || j.Prices.Stud == 0) {
			continue
		}
		key := fmt.Sprint(beside(j, l))
		pieces := make([]string, len(l.Pieces))
		for k := range l.Pieces {
			c := cutPiece(j, &l.Pieces[k])
			c.ID = ""
			pieces[k] = fmt.Sprint(c)
		}
		sort.Strings(pieces)
		if key += strings.Join(pieces, ";"); !seen[key] {
			seen[key] = true
			out = append(out, l)
		}
	}
	return out
}

// persons counts what a person has to settle about l.
func persons(l *layout.Layout) int {
	n := 0
	for i := range l.Exceptions {
		if l.Exceptions[i].Severity == plan.Person {
			n++
		}
	}
	return n
}

// beside is what a layout costs beside its sheets and cuts, at the job's
// prices: joints, those above the ceiling a third (one coat does; common
// practice, no source), and added studs.
func beside(j *job.Job, l *layout.Layout) (money int64) {
	if j.Prices == nil {
		return 0
	}
	for i := range l.Joints {
		x := &l.Joints[i]
		per := j.Prices.Joint[2]
		switch x.Kind {
		case layout.TaperedJoint:
			per = j.Prices.Joint[0]
		case layout.TaperedCut:
			per = j.Prices.Joint[1]
		case layout.ControlJoint:
			continue
		}
		d := x.To.Sub(x.From)
		m := int64(float64(per) * (d.X.Abs() + d.Y.Abs()).Metres())
		if !x.Exposed {
			m /= 3
		}
		money += m
	}
	return money + int64(l.Cost.Added)*j.Prices.Stud
}

// couple chooses a layout for each run by what its pieces cost to cut together
// with those of the runs beside it, and returns the choice with its cut list:
// that of the best layouts one by one where nothing comes out cheaper.
func couple(j *job.Job, set *run.Set, choices [][]*layout.Layout) ([]*layout.Layout, cutting.Solution) {
	first := make([]*layout.Layout, len(choices))
	options := make([][]cutting.Option, len(choices))
	several := false
	for r, ls := range choices {
		if len(ls) > 0 {
			first[r] = ls[0]
		}
	}
	few := manyToChoose(first)
	for r, ls := range choices {
		if len(ls) == 0 {
			continue
		}
		if few {
			ls = ls[:min(len(ls), fewLayouts)]
		}
		several = several || len(ls) > 1
		for _, l := range ls {
			o := cutting.Option{Cost: beside(j, l), Rest: l.Cost.Joints<<12 + int64(l.Cost.Pieces)}
			for i := range l.Pieces {
				o.Pieces = append(o.Pieces, cutPiece(j, &l.Pieces[i]))
			}
			options[r] = append(options[r], o)
		}
	}
	problem := cutProblem(j, set, first)
	alone := cutting.Solve(problem, cutting.Best)
	if !several {
		return first, alone
	}
	rounds := mostRounds
	if few {
		rounds = fewRounds
	}
	chosen := make([]*layout.Layout, len(choices))
	same := true
	for r, k := range cutting.Choose(options, problem.Stock, problem.Keep, rounds) {
		if len(choices[r]) > 0 {
			chosen[r] = choices[r][k]
			same = same && k == 0
		}
	}
	if same {
		return first, alone
	}
	together := cutting.Solve(cutProblem(j, set, chosen), cutting.Best)
	if cheaper(j, chosen, &together, first, &alone) {
		return chosen, together
	}
	return first, alone
}

// manyToChoose reports whether a job is so large that less is tried.
func manyToChoose(layouts []*layout.Layout) bool {
	pieces := 0
	for _, l := range layouts {
		if l != nil {
			pieces += len(l.Pieces)
		}
	}
	return len(layouts) > manyRuns || pieces > manyPieces
}

// cheaper reports whether layouts a cut as s cost less than b cut as t: in money,
// cuts with it; without prices in board, then joints, then pieces.
func cheaper(j *job.Job, a []*layout.Layout, s *cutting.Solution, b []*layout.Layout, t *cutting.Solution) bool {
	if n, m := len(s.Unplaced), len(t.Unplaced); n != m {
		return n < m
	}
	cost := func(ls []*layout.Layout, s *cutting.Solution) (sheets float64, rest int64) {
		for i := range s.Bounds {
			if j.Prices != nil {
				sheets += float64(s.Bounds[i].Cost)
			} else {
				sheets += s.Bounds[i].Bought.M2()
			}
		}
		if j.Prices != nil {
			sheets += float64(int64(cuts(s)) * j.Prices.Cut)
		}
		for _, l := range ls {
			if l != nil {
				sheets += float64(beside(j, l))
				rest += l.Cost.Joints<<12 + int64(l.Cost.Pieces)
			}
		}
		return sheets, rest
	}
	x, xr := cost(a, s)
	y, yr := cost(b, t)
	return x < y-1e-6 || x <= y+1e-6 && xr < yr
}

// hungAs takes for each run the layout whose pieces are those of a takeoff, the
// first where none is: what the cut list chose then is what hangs now.
func hungAs(choices [][]*layout.Layout, was *report.Takeoff) []*layout.Layout {
	pieces := map[string]string{}
	for i := range was.Pieces {
		pieces[was.Pieces[i].ID] = was.Pieces[i].Fingerprint
	}
	out := make([]*layout.Layout, len(choices))
	for r, ls := range choices {
		for _, l := range ls {
			same := true
			for i := range l.Pieces {
				same = same && pieces[l.Pieces[i].ID] == l.Pieces[i].Fingerprint
			}
			if same {
				out[r] = l
				break
			}
		}
		if out[r] == nil && len(ls) > 0 {
			out[r] = ls[0]
		}
	}
	return out
}
