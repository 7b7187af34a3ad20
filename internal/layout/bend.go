package layout

import (
	"boardrun/internal/job"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// A curved wall is boarded with its sheets across the studs, bent along their
// length, unless they are thin enough to be bent across their width. Where a
// job asks for sheets along the studs and its board does not bend so, the wall
// is hung in courses instead.

// radius returns the radius of one side of a curved run: the concave side's is
// less than the axis', the convex one's more, by half the thickness.
func (w *wall) radius(f *run.Face) Length {
	half := w.Thickness / 2
	if (w.Arc.Sweep > 0) == (f.Side == run.Left) { // counter-clockwise, the left is concave
		half = -half
	}
	return w.Arc.Radius + half
}

// bends reports whether the boards of a side may be bent dry to its radius,
// along the studs (upright) or across them.
func (w *wall) bends(f *run.Face, upright bool) bool {
	for _, p := range w.plies {
		if p.face != f {
			continue
		}
		least, ok := rules.MinRadius(w.env.Rules.System, p.board.Thickness, upright)
		if !ok || w.radius(f) < least {
			return false
		}
	}
	return true
}

// settleBend hangs a curved run in courses where only so its boards bend.
func (w *wall) settleBend() {
	if w.Arc == nil || len(w.plies) == 0 || w.Layout == job.Horizontal {
		return
	}
	upright, lying := true, true
	for _, p := range w.plies {
		upright = upright && w.bends(p.face, true)
		lying = lying && w.bends(p.face, false)
	}
	if upright || !lying || !w.mayLie() {
		return
	}
	own := *w.Run
	own.Layout = job.Horizontal
	w.Run = &own
	w.list(plan.Warning, codeBend, w.ID, "its board does not bend dry across its width to this curve, as vertical sheets would (%s)",
		"hung in courses across the studs", rules.BendSource)
}

// nearLeast is up to how many times its least radius a board counts as bent to
// it, where studs stand closer. Source: common practice, none published; the
// close studs are published for the least radius.
const nearLeast = 2

// checkBend holds a side of a curved wall against the least radius of its board.
func (w *wall) checkBend(p *ply) {
	if w.Arc == nil {
		return
	}
	upright := w.Layout != job.Horizontal
	way := map[bool]string{true: "across its width, as vertical sheets are", false: "along its length"}[upright]
	least, ok := rules.MinRadius(w.env.Rules.System, p.board.Thickness, upright)
	switch {
	case !ok:
		w.list(plan.Person, codeBend, p.face.ID, "no legal layout: %s cannot be bent dry %s (%s)", "counted as if it could; "+w.thinner(p, upright),
			p.board.Name, way, rules.BendSource)
	case w.radius(p.face) < least:
		w.list(plan.Person, codeBend, p.face.ID, "no legal layout: %s would be bent %s to a radius of %s, dry it takes at least %s (%s)", "counted as if it could; "+w.thinner(p, upright),
			p.board.Name, way, w.say(w.radius(p.face)), w.say(least), rules.BendSource)
	case w.radius(p.face) < nearLeast*least && w.Spacing > rules.BendSpacing(w.env.Rules.System):
		w.list(plan.Warning, codeBend, p.face.ID, "studs of a curve bent near its least radius stand at most %s apart (%s)", "spaced as given",
			w.say(rules.BendSpacing(w.env.Rules.System)), rules.BendSource)
	}
}

// thinner names the thickest board that bends to the side's radius, the nearest
// legal change.
func (w *wall) thinner(p *ply, upright bool) string {
	sys := w.env.Rules.System
	for i := len(rules.Bends) - 1; i >= 0; i-- {
		t := rules.Bends[i].Thickness[sys]
		for _, up := range []bool{upright, false} {
			if r, ok := rules.MinRadius(sys, t, up); ok && r <= w.radius(p.face) && (t < p.board.Thickness || up != upright) {
				how := "plies " + w.say(t) + " thick bend to it"
				if !up {
					how += ", hung across the studs"
				}
				return how
			}
		}
	}
	return "no board in the table bends to it dry: wet bending or another board by the maker's data"
}
