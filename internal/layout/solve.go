package layout

import (
	"slices"

	"boardrun/internal/job"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// Solve returns the few best layouts of a run, best first, at most 16. There is
// always one: where no layout obeys every rule it is the nearest one, its
// Status "infeasible" and its exceptions telling what blocks it. A run without
// boarded faces has a layout of its studs only.
func Solve(r *run.Run, env Env) []Layout {
	w := newWall(r, env)
	w.settleBend()
	w.check()
	if len(w.plies) == 0 {
		return []Layout{w.build(&find{start: w.FirstStud}, nil)}
	}
	finds := w.search()
	out := make([]Layout, 0, len(finds))
	for i, f := range finds {
		if i > 0 && env.First {
			break
		}
		out = append(out, w.build(f, finds[i+1:]))
	}
	return out
}

// search returns the best layouts of the ways the run may be hung.
func (w *wall) search() []*find {
	var finds []*find
	if w.Layout != job.Horizontal || !w.mayLie() {
		finds = w.standing()
	}
	if w.Layout != job.Vertical && w.mayLie() {
		finds = append(finds, w.horizontal()...)
		if len(finds) == 0 {
			w.list(plan.Note, codeEndInLine, w.ID, "no legal courses across the studs: the lowest would be under the least height of a top, or their ends meet openings or each other", "hung vertically")
			finds = w.standing()
		}
	}
	return w.keep(finds)
}

// standing returns the best layouts with sheets along the studs, over all sets
// of control joints: the usual places first, others where those need studs
// added or have nothing legal, bent rules where nothing has.
func (w *wall) standing() []*find {
	usual := w.controlSets()
	w.held = nil
	finds := w.underControls(usual, w.legal)
	if len(w.unbroken()) > 0 && !slices.ContainsFunc(finds, func(f *find) bool { return f.added == 0 }) {
		finds = append(finds, w.underControls(w.shiftedControls(), w.legal)...)
	}
	if len(finds) == 0 {
		finds = w.underControls(usual, w.forced)
	}
	return finds
}

func (w *wall) underControls(sets [][]Length, search func([]stretch, []Length) []*find) (finds []*find) {
	stretches := w.stretches()
	for _, controls := range sets {
		cut := stretches
		if len(controls) > 0 {
			cut = w.withControls(stretches, controls)
		}
		found := search(cut, controls)
		w.held = w.keep(append(w.held, found...))
		finds = append(finds, found...)
	}
	return finds
}
