package layout

import (
	"slices"

	"boardrun/internal/measure"
)

// lay is one way to hang a lane: where its joints are, what that costs before
// rips share sheets, and the rips.
type lay struct {
	lane   *lane
	off    Length // joints modulo the sheet width
	joints []Length
	narrow []int // columns narrower than the sheet away from the lane's ends
	cost   tally
	rips   []rip
	phases []Length // of its joints to the grid, without those at studs that stand anyway; made when wanted

	alone   saved // board of its rips charged by themselves; made when wanted
	charged bool
}

// first and last return the widths of the outermost columns.
func (l *lay) first() Length {
	if len(l.joints) == 0 {
		return l.lane.s1 - l.lane.s0
	}
	return l.joints[0] - l.lane.s0
}

func (l *lay) last() Length {
	if len(l.joints) == 0 {
		return l.lane.s1 - l.lane.s0
	}
	return l.lane.s1 - l.joints[len(l.joints)-1]
}

// stands returns the stations where the lay has joints, the ends that meet
// another board among them, sorted.
func (l *lay) stands() []Length {
	if len(l.lane.ends) == 0 {
		return l.joints
	}
	out := append(slices.Clone(l.joints), l.lane.ends...)
	slices.Sort(out)
	return out
}

// columns calls f with the sides of every column, left to right.
func (l *lay) columns(f func(i int, a, b Length)) {
	a := l.lane.s0
	for i, x := range l.joints {
		f(i, a, x)
		a = x
	}
	f(len(l.joints), a, l.lane.s1)
}

// lays returns the ways to hang a lane in full sheets with rips at its ends
// only, that pass the cheap tests; pairs allows two rips side by side.
func (w *wall) lays(ln *lane, offsets []Length, pairs bool) []*lay {
	var out []*lay
	if ln.s1-ln.s0 <= ln.width {
		out = append(out, &lay{lane: ln, off: mod(ln.s1, ln.width)})
	}
	for _, off := range offsets {
		l := lay{lane: ln, off: off, joints: ln.jointsAt(w.used[:0], off)}
		w.used = l.joints
		if len(l.joints) > 0 && w.stands(&l, pairs) {
			own := w.newLay(&l)
			own.joints = w.keepLengths(l.joints)
			out = append(out, own)
		}
	}
	return out
}

// jointsAt appends the joints of full sheets whose joints are off modulo the
// sheet width.
func (ln *lane) jointsAt(out []Length, off Length) []Length {
	x := ln.s0 + mod(off-ln.s0, ln.width)
	if x == ln.s0 {
		x += ln.width
	}
	for ; x < ln.s1; x += ln.width {
		out = append(out, x)
	}
	return out
}

// stands is the cheap test of a lay: rips wide enough, joints off the bands.
func (w *wall) stands(l *lay, pairs bool) bool {
	if min(l.first(), l.last()) < w.env.Rules.RipHard {
		return false
	}
	if !pairs && l.twoRips() {
		return false
	}
	for _, x := range l.joints {
		if hard, _ := w.judge(l.lane.ply, x); hard {
			return false
		}
	}
	return true
}

// twoRips reports whether two rips stand side by side and make up the lane.
func (l *lay) twoRips() bool {
	return len(l.joints) == 1 && max(l.first(), l.last()) < l.lane.width
}

// costLay fills the columns of l and adds up.
func (w *wall) costLay(l *lay, rows stack) {
	l.cost, l.rips = tally{}, w.roomForRips()
	p := l.lane.ply
	known := w.known(p, rows.of(p))
	l.columns(func(i int, a, b Length) {
		if b-a >= p.width {
			l.cost.add(*w.fullColumn(p, known, a, b))
			return
		}
		bits, t := w.fill(p, a, b, rows.of(p), true)
		l.cost.add(t)
		l.rips = w.ripsOf(l.rips, p, a, b, bits)
		if i > 0 && i < len(l.joints) {
			l.cost.broken++
		}
		if len(l.joints) > 0 && b-a < w.env.Rules.RipHard {
			l.cost.broken += 5
		} else if len(l.joints) > 0 && b-a < w.env.Rules.RipWarn {
			l.cost.warnings++
		}
	})
	for _, x := range l.lane.ends {
		if x == l.lane.s0 {
			l.cost.add(w.upright(p, x, TaperedCut))
		}
	}
	for i, x := range l.joints {
		if len(l.narrow) > 0 {
			l.cost.add(w.joint(p, x, l.kind(i)))
			continue
		}
		l.cost.add(*known.joints.of(x, 0, func() tally { return w.joint(p, x, l.kind(i)) }))
	}
	w.keepRips(l)
}

// fullColumn costs a column of p as wide as the sheet.
func (w *wall) fullColumn(p *ply, known *costs, a, b Length) *tally {
	return known.columns.of(a, b-a, func() tally {
		_, t := w.fill(p, a, b, known.rows, false)
		return t
	})
}

// joint costs a joint of p at x, the rules it breaks with it.
func (w *wall) joint(p *ply, x Length, kind JointKind) tally {
	t := w.upright(p, x, kind)
	if hard, warn := w.judge(p, x); hard {
		t.broken += 10
	} else if warn {
		t.warnings++
	}
	return t
}

// kind returns the kind of joint i: factory edge to factory edge, except where
// a narrow column away from the ends turns its cut edge there.
func (l *lay) kind(i int) JointKind {
	switch {
	case l.lane.board.Square:
		return Butt
	case slices.Contains(l.narrow, i+1): // the column right of the joint: cut edge on its left
		return TaperedCut
	}
	return TaperedJoint
}

// added counts the joints of l that stand on no stud of the grid.
func (w *wall) added(l *lay, start Length) int {
	if w.Spacing <= 0 {
		return 0
	}
	w.findPhases(l)
	n := 0
	start = mod(start, w.Spacing)
	for _, x := range l.phases {
		if x != start {
			n++
		}
	}
	for _, x := range l.lane.ends { // of two that meet, the second counts it
		if x == l.lane.s0 && mod(x-start, w.Spacing) != 0 && !w.fixedAt(x) {
			n++
		}
	}
	return n
}

// findPhases makes l.phases.
func (w *wall) findPhases(l *lay) {
	if l.phases != nil {
		return
	}
	phases := w.used[:0]
	for _, x := range l.joints {
		if !w.fixedAt(x) {
			phases = append(phases, mod(x, w.Spacing))
		}
	}
	w.used = phases
	l.phases = w.keepLengths(phases)
}

// chargeAlone makes l.alone.
func (l *lay) chargeAlone(w *wall) {
	if !l.charged {
		t := w.chargeRips(l.rips)
		l.alone, l.charged = saved{t.area, t.money}, true
	}
}

func (w *wall) fixedAt(x Length) bool {
	for _, f := range w.Fixed {
		if f.Station == x && f.Kind == "tee" {
			return true
		}
	}
	return false
}

// apart reports whether the joints of two neighbouring plies keep their
// distance: never one stud, a whole bay within one side.
// Source: GA-216-2024 4.6.8 (one side), common rule of the trade (both sides).
func (w *wall) apart(a, b *lay) bool {
	least := w.distance(a.lane.ply, b.lane.ply)
	i := 0
	from, to := a.stands(), b.stands()
	for _, x := range from {
		for i < len(to) && to[i] <= x-least {
			i++
		}
		if i < len(to) && to[i] < x+least {
			return false
		}
	}
	return true
}

// nominal is how much shorter a metric bay is than the bay of the same name in
// inches: a stagger of 24 in is one bay of 600 mm.
const nominal = 10 * measure.Millimetre

// distance is how far joints of neighbouring plies are apart at least: never on
// one stud, a whole bay within a side and in a rated wall, the stagger of its
// listing if that is more.
// Source: Gypsum Association fire designs WP 1200, 1201 and 1204; GA-216-2024
// 4.6.8.
func (w *wall) distance(a, b *ply) Length {
	flange := max(w.env.Rules.Flange, 1)
	switch l := w.listing; {
	case w.near:
		return flange
	case l != nil && l.Stagger > w.Spacing+nominal:
		return max(l.Stagger, 1)
	case a.face == b.face || w.rated():
		return max(w.Spacing, 1)
	}
	return flange
}
