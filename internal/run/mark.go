package run

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// OldRun is a run of an earlier takeoff, as its file tells it.
type OldRun struct {
	ID, Storey, Type string
	Axis             []geom.Pt
	Refs             []string // handles and GlobalIds of what it was made of
	Was              []string
}

// A new run stands for an old one where they share a source, or else are of one
// type, within lateralKept of one line and overlapping by half of the shorter.
// Source: common practice, none published.
const lateralKept = 25 * measure.Millimetre

// rowHeight is how deep a row of the plan is that marks count through from left
// to right, lowest row first; walls of one row are not told apart by small
// differences in y.
const rowHeight = measure.Metre

// storeys numbers the storeys: by the number in their names where each has one
// of its own, else from 1 in the plan's order, then any others by name.
func (bld *builder) storeys() map[string]int {
	var names []string
	for _, s := range bld.p.Storeys {
		if !slices.Contains(names, s.Name) {
			names = append(names, s.Name)
		}
	}
	var more []string
	for _, b := range bld.bands {
		if !slices.Contains(names, b.storey) && !slices.Contains(more, b.storey) {
			more = append(more, b.storey)
		}
	}
	slices.Sort(more)
	names = append(names, more...)
	n, taken := map[string]int{}, map[int]bool{}
	for _, s := range names {
		k := numberIn(s)
		if k <= 0 || taken[k] {
			for i, s := range names {
				n[s] = i + 1
			}
			return n
		}
		n[s], taken[k] = k, true
	}
	return n
}

// numberIn returns the first number written in a name, 0 if there is none.
func numberIn(name string) int {
	from := strings.IndexAny(name, "0123456789")
	if from < 0 {
		return 0
	}
	rest := name[from:]
	to := strings.IndexFunc(rest, func(r rune) bool { return r < '0' || r > '9' })
	if to < 0 {
		to = len(rest)
	}
	n, err := strconv.Atoi(rest[:min(to, 4)])
	if err != nil {
		return 0
	}
	return n
}

// mark gives every band that is taken off its run and its mark.
func (bld *builder) mark(old []OldRun) {
	storeys := bld.storeys()
	list := bld.runs()
	slices.SortStableFunc(list, func(a, b *band) int {
		pa, pb := a.pointAt(a.length/2, 0), b.pointAt(b.length/2, 0)
		return cmp.Or(
			cmp.Compare(storeys[a.storey], storeys[b.storey]), cmp.Compare(a.drawing, b.drawing),
			cmp.Compare(pa.Y.FloorTo(rowHeight), pb.Y.FloorTo(rowHeight)),
			cmp.Compare(pa.X, pb.X), cmp.Compare(pa.Y, pb.Y), cmp.Compare(a.length, b.length))
	})
	next := lastMarks(old)
	kept := keep(list, old)
	for i, b := range list {
		b.run = bld.newRun(b)
		if k := kept[i]; k >= 0 {
			b.run.ID = old[k].ID
			b.run.Was = old[k].Was
		} else {
			n := storeys[b.storey]
			next[n]++
			b.run.ID = fmt.Sprintf("%d-W%03d", n, next[n])
		}
		bld.describe(b)
	}
	// Old runs that several new ones or none stand for are retired: a new run
	// that overlaps one says so.
	for i, b := range list {
		for k, o := range old {
			if kept[i] != k && !slices.Contains(kept, k) && standsFor(b, &o) {
				b.run.Was = append(slices.Clone(b.run.Was), o.ID)
			}
		}
	}
	slices.SortStableFunc(bld.bands, func(a, b *band) int {
		switch {
		case a.run == nil || b.run == nil:
			return compareBool(a.run == nil, b.run == nil)
		}
		return cmp.Or(cmp.Compare(storeys[a.storey], storeys[b.storey]), compareMarks(a.run.ID, b.run.ID))
	})
}

// newRun starts the run of a band.
func (bld *builder) newRun(b *band) *Run {
	r := &Run{Storey: b.storey, Status: b.status, Drawing: b.drawing, Arc: b.arc, Base: b.base}
	r.Length = b.length + b.ends[0].shift + b.ends[1].shift
	r.Axis = []geom.Pt{b.pointAt(-b.ends[0].shift, 0), b.pointAt(b.length+b.ends[1].shift, 0)}
	for _, i := range b.walls {
		r.Sources = append(r.Sources, bld.p.Walls[i].Sources...)
	}
	slices.SortFunc(r.Sources, compareSources)
	r.Sources = slices.Compact(r.Sources)
	return r
}

func compareSources(a, b plan.Source) int {
	return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Ref, b.Ref), cmp.Compare(a.GUID, b.GUID))
}

// keep returns, for each band, the index of the old run whose mark it keeps, or
// −1. A shared source goes before a shared place; of several the longest
// overlap wins, then the lower mark.
func keep(list []*band, old []OldRun) []int {
	type match struct {
		band, old int
		source    bool
		overlap   Length
	}
	var all []match
	for i, b := range list {
		for k := range old {
			if b.storey != old[k].Storey {
				continue
			}
			source := b.shares(&old[k])
			if source || standsFor(b, &old[k]) {
				all = append(all, match{i, k, source, b.overlap(&old[k])})
			}
		}
	}
	slices.SortStableFunc(all, func(x, y match) int {
		return cmp.Or(compareBool(y.source, x.source), cmp.Compare(y.overlap, x.overlap), compareMarks(old[x.old].ID, old[y.old].ID))
	})
	kept := make([]int, len(list))
	for i := range kept {
		kept[i] = -1
	}
	taken := make([]bool, len(old))
	for _, m := range all {
		if kept[m.band] < 0 && !taken[m.old] {
			kept[m.band], taken[m.old] = m.old, true
		}
	}
	return kept
}

// shares reports whether a band is made of something the old run was made of. A
// GlobalId is enough; a handle counts only within a metre, because programs that
// write a drawing anew may give handles anew.
func (b *band) shares(o *OldRun) bool {
	for _, r := range b.refs {
		if slices.Contains(o.Refs, r.id) && (r.global || b.near(o)) {
			return true
		}
	}
	return false
}

func (b *band) near(o *OldRun) bool {
	return slices.ContainsFunc(o.Axis, func(p geom.Pt) bool { return b.axis.left(p).Abs() <= measure.Metre }) && b.overlap(o) > 0
}

// standsFor reports whether a band lies where an old run of its type lay.
func standsFor(b *band, o *OldRun) bool {
	if len(o.Axis) < 2 || o.Storey != b.storey || b.make == nil || b.make.Name != o.Type || b.arc != nil {
		return false
	}
	for _, p := range o.Axis {
		if b.axis.left(p).Abs() > lateralKept {
			return false
		}
	}
	l := b.axis.along(o.Axis[0]) - b.axis.along(o.Axis[len(o.Axis)-1])
	return 2*b.overlap(o) >= min(b.length, l.Abs())
}

// overlap is the length that a band and an old run share along the band.
func (b *band) overlap(o *OldRun) Length {
	if len(o.Axis) < 2 {
		return 0
	}
	s, e := b.axis.along(o.Axis[0]), b.axis.along(o.Axis[len(o.Axis)-1])
	return max(0, min(b.length, max(s, e))-max(0, min(s, e)))
}

// lastMarks returns the highest number given so far on each storey; retired
// marks count, so that none is used twice.
func lastMarks(old []OldRun) map[int]int {
	last := map[int]int{}
	for _, o := range old {
		for _, id := range append([]string{o.ID}, o.Was...) {
			if s, n, ok := splitMark(id); ok {
				last[s] = max(last[s], n)
			}
		}
	}
	return last
}

// splitMark reads "2-W014".
func splitMark(id string) (storey, n int, ok bool) {
	s, rest, found := strings.Cut(id, "-W")
	if !found {
		return 0, 0, false
	}
	storey, err1 := strconv.Atoi(s)
	n, err2 := strconv.Atoi(rest)
	return storey, n, err1 == nil && err2 == nil
}

// compareMarks orders marks by storey and number, not as text.
func compareMarks(a, b string) int {
	sa, na, oka := splitMark(a)
	sb, nb, okb := splitMark(b)
	if !oka || !okb {
		return cmp.Compare(a, b)
	}
	return cmp.Or(cmp.Compare(sa, sb), cmp.Compare(na, nb))
}
