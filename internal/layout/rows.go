package layout

import "slices"

// rowGroups returns the stacks of horizontal joints that may be, in groups: a
// later group is looked at only where no earlier one has a legal layout. Joints
// are straight lines along the run, alike on both sides except where a listing
// or the job wants them staggered.
func (w *wall) rowGroups() [][]stack {
	if w.stacks != nil {
		return w.stacks
	}
	lines := w.lineGroups()
	if least := w.topStagger(); least > 0 {
		w.stacks = w.staggered(lines, least)
	}
	if len(w.stacks) == 0 {
		for _, g := range lines {
			var all []stack
			for _, rows := range g {
				all = append(all, stack{rows, rows})
			}
			w.stacks = append(w.stacks, all)
		}
	}
	return w.stacks
}

// lineGroups returns the sets of heights where horizontal joints may run. A set
// holds sums of sheet lengths above the floor gap. Without prices the order of
// groups is: no joint, hidden above the ceiling, exposed, one row more than
// needed, sheets cut short. With prices all but the last compete.
func (w *wall) lineGroups() [][][]Length {
	if len(w.plies) == 0 {
		return nil
	}
	var need Length // height of the highest ply
	bottom, longest := w.plies[0].bottom, w.plies[0].longest()
	var lengths []Length
	for _, p := range w.plies {
		lengths = append(lengths, p.lengths...)
		longest = min(longest, p.longest())
		need = max(need, p.top.Max(p.s0, p.s1)-p.bottom)
	}
	slices.Sort(lengths)
	slices.Reverse(lengths)
	lengths = slices.Compact(lengths)
	least := need.CeilDiv(longest) - 1
	most := least + 1
	if few := max(1, 4-least/2); least > 2 && len(lengths) > few {
		lengths = lengths[:few] // very high walls: the longest sheets only
	}
	if !w.env.Rules.SpliceTops {
		most = 1
	}
	byCount := sums(bottom, need, longest, lengths, most)
	var groups [][][]Length
	switch {
	case w.env.Prices != nil:
		groups = [][][]Length{slices.Concat(byCount...)}
	case least == 0:
		groups = [][][]Length{{nil}, byCount[1]}
	default:
		var hidden, exposed [][]Length
		for _, s := range byCount[min(least, len(byCount)-1)] {
			if w.hides(s) {
				hidden = append(hidden, s)
			} else {
				exposed = append(exposed, s)
			}
		}
		groups = [][][]Length{hidden, exposed}
		if least+1 < len(byCount) {
			groups = append(groups, byCount[least+1])
		}
	}
	groups = append(groups, w.shorter(need, longest))
	groups = slices.DeleteFunc(groups, func(g [][]Length) bool { return len(g) == 0 })
	if len(groups) == 0 { // nothing reaches the head: the longest sheets, and what is too high is listed
		var rows []Length
		for v := bottom + longest; v < bottom+need && len(rows) < most; v += longest {
			rows = append(rows, v)
		}
		groups = [][][]Length{{rows}}
	}
	return groups
}

// sums returns, by their count, the sets of up to most heights that are sums
// of lengths above bottom and leave a top that one sheet covers.
func sums(bottom, need, longest Length, lengths []Length, most int) [][][]Length {
	out := make([][][]Length, most+1)
	var build func(at Length, rows []Length)
	build = func(at Length, rows []Length) {
		if need-(at-bottom) <= longest {
			out[len(rows)] = append(out[len(rows)], slices.Clone(rows))
		}
		if len(rows) == most {
			return
		}
		for _, l := range lengths {
			if at+l-bottom < need {
				build(at+l, append(rows, at+l))
			}
		}
	}
	build(bottom, nil)
	return out
}

// shorter returns rows of sheets cut short so that the top is not too low: for
// walls where no sum of sheet lengths leaves one.
func (w *wall) shorter(need, longest Length) [][]Length {
	var out [][]Length
	r := w.env.Rules
	step := r.System.CutStep()
	bottom := w.plies[0].bottom
	for _, least := range []Length{r.TopWarn, r.TopHard} {
		low := Length(maxLength)
		for _, p := range w.plies {
			if p.top.Max(p.s0, p.s1)-p.bottom > longest {
				low = min(low, p.top.Min(p.s0, p.s1)-least)
			}
		}
		v := low.FloorTo(step)
		if v > bottom && v-bottom <= longest && need-(v-bottom) <= longest {
			out = append(out, []Length{v})
		}
	}
	return out
}

// hides reports whether the joints are out of sight above every ceiling.
// Source: common practice, none published: sheet length ≥ ceiling + 4 in.
func (w *wall) hides(rows []Length) bool { return w.hidesOn(rows, w.plies) }

func (w *wall) hidesOn(rows []Length, plies []*ply) bool {
	for _, p := range plies {
		if p.ceiling == 0 {
			return false
		}
		for _, v := range rows {
			if v < p.ceiling+w.env.Rules.HideAbove && v < p.top.Max(p.s0, p.s1) {
				return false
			}
		}
	}
	return true
}
