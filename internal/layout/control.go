package layout

import (
	"slices"

	"boardrun/internal/plan"
)

// controlSets returns sets of stations for control joints, each of which
// leaves no stretch longer than the rule allows: none where full-height frames
// break the run often enough. A set is tried with full sheets from either end,
// and spread evenly.
// Source: GA-216-2013 4.7, ASTM C840-08 section 20: 30 ft.
func (w *wall) controlSets() [][]Length {
	every := w.env.Rules.ControlJointEvery
	sets := make([][]Length, 3)
	for _, s := range w.unbroken() {
		sets[0] = append(sets[0], w.controlsFrom(s[0], s[1], every)...)
		back := w.controlsBack(s[0], s[1], every)
		slices.Reverse(back)
		sets[1] = append(sets[1], back...)
		even := w.controlsEven(s[0], s[1], every)
		if even == nil {
			even = w.controlsFrom(s[0], s[1], every)
		}
		sets[2] = append(sets[2], even...)
	}
	slices.SortStableFunc(sets, slices.Compare)
	return slices.CompactFunc(sets, slices.Equal)
}

// unbroken returns the lengths of the run that want control joints: longer
// than the rule allows and without a full-height frame.
func (w *wall) unbroken() (out [][2]Length) {
	every := w.env.Rules.ControlJointEvery
	if every <= 0 || len(w.plies) == 0 {
		return nil
	}
	bounds := []Length{w.edge(), w.farEdge()}
	for _, h := range w.fullHeight() {
		bounds = append(bounds, h.x0, h.x1)
	}
	slices.Sort(bounds)
	for i := 0; i+1 < len(bounds); i += 2 {
		if bounds[i+1]-bounds[i] > every {
			out = append(out, [2]Length{bounds[i], bounds[i+1]})
		}
	}
	return out
}

// shiftedControls returns further sets: those with full sheets from the start,
// moved back an eighth of a sheet at a time (a quarter for Quick) as far as the
// rule allows. They
// part the openings of a run in other ways.
func (w *wall) shiftedControls() (sets [][]Length) {
	every, step := w.env.Rules.ControlJointEvery, w.plies[0].width/8
	if w.env.Effort == Quick {
		step *= 2
	}
	for k := Length(1); k < 32; k++ {
		var set []Length
		moved := false
		for _, s := range w.unbroken() {
			from := w.controlsFrom(s[0], s[1], every)
			back := make([]Length, len(from))
			for i, x := range from {
				back[i] = x - k*step
			}
			last := back[len(back)-1]
			if s[1]-last > every || back[0] < s[0]+w.plies[0].width || slices.ContainsFunc(back, func(x Length) bool { return !w.freeAt(x) }) {
				back = from
			} else {
				moved = true
			}
			set = append(set, back...)
		}
		if moved {
			sets = append(sets, set)
		}
	}
	return sets
}

func (w *wall) farEdge() Length {
	e := Length(minLength)
	for _, p := range w.plies {
		e = max(e, p.s1)
	}
	return e
}

// controlsFrom puts each joint as many sheets from the last as can be.
func (w *wall) controlsFrom(a, b, every Length) (out []Length) {
	for at := a; b-at > every; {
		next := w.nextControl(at, every, false)
		out = append(out, next)
		at = next
	}
	return out
}

func (w *wall) controlsBack(a, b, every Length) (out []Length) {
	for at := b; at-a > every; {
		next := w.nextControl(at, every, true)
		out = append(out, next)
		at = next
	}
	return out
}

// controlsEven spreads the fewest joints evenly, on whole sheets from a where
// that is free.
func (w *wall) controlsEven(a, b, every Length) (out []Length) {
	n := Length((b - a).CeilDiv(every))
	at := a
	width := w.plies[0].width
	for k := Length(1); k < n; k++ {
		x := a + ((b-a)*k/n + width/2).FloorTo(width)
		if x <= at || x-at > every || !w.freeAt(x) || k == n-1 && b-x > every {
			return nil
		}
		out = append(out, x)
		at = x
	}
	return out
}

// nextControl returns a station up to every beyond at, off every opening: whole
// sheets away if it can be, else whole steps of a sixteenth of a sheet.
func (w *wall) nextControl(at, every Length, back bool) Length {
	width := w.plies[0].width
	for _, step := range []Length{width, max(1, width/16)} {
		for d := every.FloorTo(step); d >= width; d -= step {
			x := at + d
			if back {
				x = at - d
			}
			if w.freeAt(x) {
				return x
			}
		}
	}
	if back {
		return at - every
	}
	return at + every
}

// freeAt reports whether no opening is at x and no band of one.
func (w *wall) freeAt(x Length) bool {
	for _, p := range w.plies {
		if hard, _ := w.judge(p, x); hard {
			return false
		}
		for i := range p.holes {
			if h := &p.holes[i]; h.x0 <= x && x <= h.x1 {
				return false
			}
		}
	}
	return true
}

// withControls cuts stretches at control joints.
func (w *wall) withControls(stretches []stretch, controls []Length) []stretch {
	var out []stretch
	for _, s := range stretches {
		var at []Length
		lo, hi := s.lanes[0].s0, s.lanes[0].s1
		for _, l := range s.lanes {
			lo, hi = min(lo, l.s0), max(hi, l.s1)
		}
		for _, x := range controls {
			if x > lo && x < hi {
				at = append(at, x)
			}
		}
		from := Length(minLength)
		for i := 0; i <= len(at); i++ {
			to := Length(maxLength)
			if i < len(at) {
				to = at[i]
			}
			var part stretch
			for _, l := range s.lanes {
				if a, b := max(l.s0, from), min(l.s1, to); a < b {
					part.lanes = append(part.lanes, w.newLane(l.ply, a, b))
				}
			}
			if len(part.lanes) > 0 {
				out = append(out, part)
			}
			from = to
		}
	}
	return out
}

// tellControls lists the control joints: the drawing says nothing of them.
func (t *teller) controls() {
	for _, x := range t.f.controls {
		t.add(plan.Note, codeControl, t.ID, "its place is assumed; the designer has to show it",
			"a control joint at station %s: the run is longer than %s without one", t.say(x), t.say(t.env.Rules.ControlJointEvery))
	}
}
