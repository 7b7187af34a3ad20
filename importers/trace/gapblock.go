package trace

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"boardrun/internal/plan"
)

const (
	// minGapBlocks and gapBlockShare are how many placements of a block, and what
	// share of all, have to stand in gaps between jambs for the block to be a door.
	// Source: own choice.
	minGapBlocks  = 3
	gapBlockShare = 0.5
)

// doorsByPlace makes doors of blocks that neither name nor layer tells of, but
// whose placements mostly stand in gaps of walls from jamb to jamb: bifold,
// sliding and pocket doors seldom show a swing. A placement that then stands in
// no wall is told, as of any door.
func (t *tracer) doorsByPlace() {
	type placed struct {
		host
		name string
	}
	var all []placed
	var ix boxIndex
	total := map[string]int{}
	for i := range t.d.Inserts {
		in := &t.d.Inserts[i]
		if in.Hidden && !t.opt.Hidden || in.Clipped || in.Parent >= 0 || !finite(in.At) || wordRole(in.Name) != Background {
			continue
		}
		if u := t.m.block(in.Name); u != nil {
			continue
		}
		if role, _ := t.blockRole(in); role != Background {
			continue
		}
		if _, role := t.roleOf(&in.Common); role != Background && role != Walls && role != Heads {
			continue
		}
		h := placed{host: host{insert: i, role: Doors, byPlace: true}, name: in.Name}
		ok := true
		for k, p := range in.Box {
			ok = ok && finite(p)
			if ok {
				h.box[k] = t.local(p[0], p[1])
			}
		}
		r := boundsOf(h.box[:])
		if !ok || max(r.W(), r.H()) > maxOpening || max(r.W(), r.H()) < minOpening/2 {
			continue
		}
		h.at = pt{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}
		if g := t.global(h.at); !t.inRegion(orb.Point{g.X.MM(), g.Y.MM()}, orb.Point{g.X.MM(), g.Y.MM()}) {
			continue
		}
		ix.add(int32(len(all)), h.box[:]...)
		all = append(all, h)
		total[in.Name]++
	}
	if len(all) == 0 {
		return
	}
	stands := make([]bool, len(all))
	for i := range t.strands {
		st := &t.strands[i]
		if st.dead || st.centre {
			continue
		}
		fr := &t.bundles[st.fr].fr
		for k := 1; k < len(st.pieces); k++ {
			g := interval{st.pieces[k-1].s1, st.pieces[k].s0}
			var op opening
			if w := t.width(int32(i), g); w < minOpening || w > maxCased || !t.jambAt(st, g.s0, &op) || !t.jambAt(st, g.s1, &op) {
				continue
			}
			ix.search(0, func(n int32) {
				s0, s1, r0, r1 := extent(fr, all[n].box[:])
				l := min(s1, g.s1) - max(s0, g.s0)
				if r0 <= st.rb+slip && r1 >= st.ra-slip && float64(l) >= 0.8*float64(s1-s0) {
					stands[n] = true
				}
			}, bandBox(fr, g.s0, g.s1, st.ra, st.rb)...)
		}
	}
	in := map[string]int{}
	for n := range all {
		if stands[n] {
			in[all[n].name]++
		}
	}
	var names []string
	for name, n := range in {
		if n >= minGapBlocks && float64(n) >= gapBlockShare*float64(total[name]) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for n := range all {
		h := &all[n]
		if !slices.Contains(names, h.name) {
			continue
		}
		k := int32(len(t.marks.hosts))
		t.marks.hosts = append(t.marks.hosts, h.host)
		t.marks.hostAt.add(k, h.box[:]...)
		handle := t.d.Inserts[h.insert].Handle
		t.hostBy[handle] = append(t.hostBy[handle], k)
	}
	for _, name := range names {
		var first *placed
		for n := range all {
			if h := &all[n]; h.name == name && (first == nil || cmpPt(h.at, first.at) < 0) {
				first = h
			}
		}
		at := t.global(first.at)
		t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
			Severity: plan.Note, Code: CodeBlock, At: &at, Source: t.sourceOf(&t.d.Inserts[first.insert].Common),
			Message: fmt.Sprintf("%d of %d placements of block %q stand in gaps of walls, between two jambs", in[name], total[name], name),
			Did:     "taken for a door; map the block in the job if it is none",
		})
	}
}
