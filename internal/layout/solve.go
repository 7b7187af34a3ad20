package layout

import (
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// Solve returns the few best layouts of a run, best first, at most 16. There is
// always one: where no layout obeys every rule it is the nearest one, its
// Status "infeasible" and its exceptions telling what blocks it. A run without
// boarded faces has a layout of its studs only.
func Solve(r *run.Run, env Env) []Layout {
	w := newWall(r, env)
	w.check()
	if len(w.plies) == 0 {
		return []Layout{w.build(&find{start: mod(r.FirstStud, max(r.Spacing, 1))}, nil)}
	}
	finds := w.search()
	out := make([]Layout, 0, len(finds))
	for i, f := range finds {
		var next *find
		if i+1 < len(finds) {
			next = finds[i+1]
		}
		out = append(out, w.build(f, next))
	}
	return out
}

func (w *wall) search() []*find {
	if finds := w.vertical(w.stretches(), nil); len(finds) > 0 {
		return finds
	}
	w.list(plan.Person, codeNoLayout, w.ID, "no layout", "left out")
	return nil
}

func (w *wall) check() {}
