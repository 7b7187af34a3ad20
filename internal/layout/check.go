package layout

import (
	"boardrun/internal/job"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// check lists what no layout of the run can help: studs too far apart for the
// board, sheets that do not fit the studs, boards bent too tightly, courses
// where the top is not level.
func (w *wall) check() {
	seen := map[*run.Face]bool{}
	for _, p := range w.plies {
		if seen[p.face] {
			continue
		}
		seen[p.face] = true
		w.checkSpacing(p)
		w.checkModule(p)
		w.checkBend(p)
	}
	w.checkListing()
	if w.Layout != job.Vertical && len(w.plies) > 0 && !w.lowEnough() {
		w.list(plan.Note, codeModule, w.ID, "courses want level tops and one board a ply", "hung vertically")
	}
}

// checkSpacing holds the stud spacing against the tables of frame spacing.
func (w *wall) checkSpacing(p *ply) {
	thin, n := p.board.Thickness, 0
	for _, q := range w.plies {
		if q.face == p.face {
			thin = min(thin, q.board.Thickness)
			n = max(n, q.spec.Number)
		}
	}
	along := "parallel"
	if w.Layout == job.Horizontal {
		along = "perpendicular"
	}
	most, source, ok := rules.MaxSpacing(w.env.Rules.System, p.board.Kind, thin, n, false, along)
	switch {
	case !ok:
		w.list(plan.Warning, codeSpacing, p.face.ID, "no table of frame spacing holds %s %s thick as the only board", "hung as given; check the maker's data",
			p.board.Name, w.say(thin))
	case w.Spacing > most:
		w.list(plan.Warning, codeSpacing, p.face.ID, "studs at %s are too far apart for %s: at most %s (%s)", "hung as given; change the stud spacing or the board",
			w.say(w.Spacing), p.board.Name, w.say(most), source)
	}
}

// checkModule warns of sheets whose long edges cannot all stand on the grid.
func (w *wall) checkModule(p *ply) {
	if w.Spacing > 0 && w.Layout != job.Horizontal && !rules.OnModule(p.width, w.Spacing) {
		w.list(plan.Warning, codeModule, p.face.ID, "sheets %s wide are no whole number of bays of %s: their edges miss the studs",
			"a stud is added under every such joint; other sheets or another spacing would save them", w.say(p.width), w.say(w.Spacing))
	}
}
