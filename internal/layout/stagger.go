package layout

import (
	"cmp"
	"slices"

	"boardrun/internal/plan"
)

// A listed design staggers joints on opposite sides and between the plies of a
// side: upright joints by so many bays, and the horizontal joints of vertical
// sheets and their tops too. Neighbours through the wall alternate, so two sets
// of heights are enough: one for the plies of even depth, one for those of odd.

// stack is the heights of the horizontal joints of the plies of even and of odd
// depth.
type stack [2][]Length

// of returns the heights of p's horizontal joints.
func (s stack) of(p *ply) []Length { return s[p.depth&1] }

func (s stack) same(t stack) bool { return slices.Equal(s[0], t[0]) && slices.Equal(s[1], t[1]) }

func (s stack) none() bool { return len(s[0])+len(s[1]) == 0 }

// all returns every height once, sorted.
func (s stack) all() []Length {
	out := slices.Concat(s[0], s[1])
	slices.Sort(out)
	return slices.Compact(out)
}

// topStagger is how far the horizontal joints of neighbouring plies are apart
// at least; 0 = they run in one line.
// Source: Gypsum Association fire design WP 1200, older edition: all vertical
// and horizontal joints; the job's own rule where it is more.
func (w *wall) topStagger() Length {
	least := w.env.Rules.TopStagger
	if l := w.listing; l != nil {
		least = max(least, l.Stagger)
	}
	odd := func(p *ply) bool { return p.depth&1 != 0 }
	if !slices.ContainsFunc(w.plies, odd) || !slices.ContainsFunc(w.plies, func(p *ply) bool { return !odd(p) }) {
		return 0
	}
	return least
}

// mostStacks is how many pairs of sets of heights a group holds at most.
const mostStacks = 48

// staggered pairs the sets of heights that keep least apart, in groups: fewest
// joints first, then those out of sight, sheets cut short last.
func (w *wall) staggered(lines [][][]Length, least Length) [][]stack {
	type pair struct {
		stack
		joints, seen, short int
	}
	var classes [2][]*ply
	for _, p := range w.plies {
		classes[p.depth&1] = append(classes[p.depth&1], p)
	}
	sets, whole := w.setsApart(lines, least)
	var pairs []pair
	for i, a := range sets {
		for k, b := range sets {
			x, y := under(a, classes[0]), under(b, classes[1])
			if !keepApart(x, y, least) || len(x) < len(a) || len(y) < len(b) {
				continue // a set with joints over the top is another set
			}
			q := pair{stack: stack{x, y}, joints: len(x) + len(y)}
			for c, rows := range q.stack {
				if len(rows) > 0 && !w.hidesOn(rows, classes[c]) {
					q.seen++
				}
			}
			if i >= whole {
				q.short++
			}
			if k >= whole {
				q.short++
			}
			pairs = append(pairs, q)
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int {
		if w.env.Prices != nil {
			return cmp.Or(cmp.Compare(a.short, b.short), cmp.Compare(a.joints, b.joints), cmp.Compare(a.seen, b.seen))
		}
		return cmp.Or(cmp.Compare(a.joints, b.joints), cmp.Compare(a.short, b.short), cmp.Compare(a.seen, b.seen))
	})
	most := mostStacks
	if w.env.Effort == Quick {
		most /= 6
	}
	var out [][]stack
	for i, q := range pairs {
		p := pairs[max(0, i-1)]
		next := w.env.Prices == nil && (q.joints != p.joints || q.seen != p.seen) || q.short != p.short
		if i == 0 || next {
			out = append(out, nil)
		}
		if n := len(out) - 1; len(out[n]) < most {
			out[n] = append(out[n], q.stack)
		} else {
			w.pruned = true
		}
	}
	return out
}

// setsApart returns the sets of heights to be paired: those of whole sheets,
// whole of them, then sheets cut short so that a whole one stands on them or
// so that they keep apart from a set before.
func (w *wall) setsApart(lines [][][]Length, least Length) (sets [][]Length, whole int) {
	put := func(s []Length) {
		if !slices.ContainsFunc(sets, func(t []Length) bool { return slices.Equal(s, t) }) {
			sets = append(sets, s)
		}
	}
	for _, g := range lines[:max(0, len(lines)-1)] { // the last group is cut short
		for _, s := range g {
			put(s)
		}
	}
	whole = len(sets)
	step := w.env.Rules.System.CutStep()
	bottom, low, high, longest := w.plies[0].bottom, Length(maxLength), Length(minLength), w.plies[0].longest()
	var lengths []Length
	for _, p := range w.plies {
		low, high = min(low, p.top.Min(p.s0, p.s1)), max(high, p.top.Max(p.s0, p.s1))
		longest = min(longest, p.longest())
		lengths = append(lengths, p.lengths...)
	}
	one := func(v Length) {
		if v = v.FloorTo(step); v > bottom && v-bottom <= longest && high-v <= longest {
			put([]Length{v})
		}
	}
	for _, l := range lengths {
		one(low - l)
	}
	for _, s := range sets[:whole] {
		if len(s) == 1 {
			one(s[0] - least)
		}
	}
	for _, s := range lines[len(lines)-1] {
		put(s)
	}
	return sets, whole
}

// under drops the heights that no ply reaches.
func under(rows []Length, plies []*ply) []Length {
	top := Length(minLength)
	for _, p := range plies {
		top = max(top, p.top.Max(p.s0, p.s1))
	}
	for i, v := range rows {
		if v >= top {
			return rows[:i]
		}
	}
	return rows
}

func keepApart(a, b []Length, least Length) bool {
	for _, x := range a {
		for _, y := range b {
			if (x - y).Abs() < least {
				return false
			}
		}
	}
	return true
}

// onFace returns the heights of the horizontal joints of all plies of a face.
func (w *wall) onFace(s stack, id string) []Length {
	var on stack
	for _, p := range w.plies {
		if p.face.ID == id {
			on[p.depth&1] = s.of(p)
		}
	}
	return on.all()
}

// staggers lists horizontal joints that a listing or the job wants apart.
func (t *teller) staggers() {
	least := t.topStagger()
	rows := t.f.rows
	if len(t.f.spans) > 0 {
		rows = t.f.rowJoints()
	}
	if least == 0 || keepApart(rows[0], rows[1], least) {
		return
	}
	by := "the rule top-stagger asks for " + t.say(least)
	if l := t.listing; l != nil && l.Stagger >= least {
		by = l.Name + " staggers them " + t.say(least)
	}
	for _, fl := range t.out.Faces {
		if len(fl.Breaks) > 0 || fl.Ends {
			t.add(plan.Person, codeStagger, fl.Face.ID, "hung so; other sheet lengths would part them",
				"no legal layout: its horizontal joints are nearer to those of the ply beside them than allowed: %s", by)
		}
	}
}
