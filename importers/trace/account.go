package trace

import (
	"cmp"
	"math"
	"slices"

	"boardrun/importers/linework"
	"boardrun/internal/plan"
)

// Reasons for which an entity on a mapped layer is left out.
const (
	whyHidden  = "layer off or frozen, or entity invisible"
	whyClipped = "outside the clip of its block"
	whyRegion  = "outside the part of the sheet that is read"
	whyIgnored = "left out by the job"
	whyWall    = "wall line that no wall explains"
	whyFill    = "fill that no wall stands under"
	whyOpening = "door, window or head linework that no opening explains"
	whyColumn  = "column linework that is no closed outline"
	whyText    = "writing that names no wall, opening or room"
	whyPattern = "joint of a floor pattern"
	whyKind    = "entity of a kind that holds no walls"
)

// fate is what became of one entity.
type fate struct {
	read, used bool
	why        string
}

// account settles what became of every placed entity, and the lengths.
func (t *tracer) account() {
	n := 0
	t.eachEntity(func(c *linework.Common, _ string) { n = max(n, c.Entity) })
	t.fates = make([]fate, n+1)
	t.eachEntity(func(c *linework.Common, kind string) {
		f := &t.fates[c.Entity]
		_, role := t.roleOf(c)
		if role == Background || f.used {
			return
		}
		f.read = true
		f.used = t.usedEnt[c.Entity]
		if f.why == "" {
			f.why = t.whyNot(c, role, kind)
		}
	})
	var led plan.Ledger
	led.Drawing = t.d.File
	by := map[string]int{}
	for i := range t.fates {
		f := &t.fates[i]
		switch {
		case !f.read:
			continue
		case f.used:
			led.Used++
		default:
			by[f.why]++
		}
		led.Read++
	}
	for w, k := range by {
		led.Ignored = append(led.Ignored, plan.Reason{Reason: w, Count: k})
	}
	slices.SortFunc(led.Ignored, func(a, b plan.Reason) int { return cmp.Compare(a.Reason, b.Reason) })
	var all, rest Length
	for _, st := range t.faces {
		all += t.lengthOf(st)
	}
	for _, st := range t.centres {
		all += t.lengthOf(st)
	}
	for _, b := range t.arcs {
		all += round(float64(b.radius) * (b.end - b.start) * math.Pi / 180)
	}
	for _, r := range t.rest {
		rest += r
	}
	led.WallLineMM, led.WallLineUsedMM = all.MM(), (all - rest).MM()
	t.out.Ledger = []plan.Ledger{led}
}

func (t *tracer) lengthOf(st stroke) Length { return round(math.Sqrt(norm2(st.b.Sub(st.a)))) }

// eachEntity visits every placed piece of the drawing, several times for an
// entity of several pieces.
func (t *tracer) eachEntity(f func(c *linework.Common, kind string)) {
	d := t.d
	for i := range d.Segments {
		f(&d.Segments[i].Common, "line")
	}
	for i := range d.Arcs {
		f(&d.Arcs[i].Common, "line")
	}
	for i := range d.Fills {
		f(&d.Fills[i].Common, "fill")
	}
	for i := range d.Texts {
		f(&d.Texts[i].Common, "text")
	}
	for i := range d.Inserts {
		f(&d.Inserts[i].Common, "insert")
	}
	for i := range d.Others {
		f(&d.Others[i].Common, "other")
	}
}

// whyNot says why an entity was not used.
func (t *tracer) whyNot(c *linework.Common, role Role, kind string) string {
	switch {
	case role == Ignore:
		return whyIgnored
	case c.Clipped:
		return whyClipped
	case c.Hidden && !t.opt.Hidden:
		return whyHidden
	case t.outEnt[c.Entity]:
		return whyRegion
	case kind == "text":
		return whyText
	case kind == "other":
		return whyKind
	case kind == "fill":
		return whyFill
	case t.patternEnt[c.Entity]:
		return whyPattern
	case role == Walls:
		return whyWall
	case role == Columns:
		return whyColumn
	case role == Doors || role == Windows || role == Heads:
		return whyOpening
	}
	return whyKind
}

// markUsed notes every entity that a wall or an opening was made of.
func (t *tracer) markUsed() {
	t.usedEnt = map[int]bool{}
	for _, st := range t.faces {
		if l := t.lengthOf(st); t.rest[st.src] <= l/2 {
			t.usedEnt[t.src[st.src].c.Entity] = true
		}
	}
	for _, st := range t.centres {
		if l := t.lengthOf(st); t.rest[st.src] <= l/2 {
			t.usedEnt[t.src[st.src].c.Entity] = true
		}
	}
	for _, b := range t.arcs {
		if l := round(float64(b.radius) * (b.end - b.start) * math.Pi / 180); t.rest[b.src] <= l/2 {
			t.usedEnt[t.src[b.src].c.Entity] = true
		}
	}
	hosts, inserts := map[int32]bool{}, map[int]bool{}
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead {
			continue
		}
		for _, op := range w.openings() {
			for _, k := range [2]int32{op.host, op.mate - 1} {
				if k < 0 {
					continue
				}
				hosts[k] = true
				if in := t.marks.hosts[k].insert; in >= 0 {
					inserts[in] = true
					t.usedEnt[t.d.Inserts[in].Entity] = true
				}
				for _, s := range t.marks.hosts[k].swings {
					t.usedEnt[t.src[t.marks.swings[s].src].c.Entity] = true
				}
			}
			t.markBeside(w, &op)
		}
	}
	t.eachEntity(func(c *linework.Common, kind string) {
		if t.usedEnt[c.Entity] {
			return
		}
		for _, k := range t.hostOf(c.Handle) {
			if hosts[k] {
				t.usedEnt[c.Entity] = true
			}
		}
		if c.Insert >= 0 && inserts[c.Insert] {
			t.usedEnt[c.Entity] = true
		}
	})
}

// markBeside takes the leaf, swing and frame lines drawn beside an opening as
// part of it.
func (t *tracer) markBeside(w *wall, op *opening) {
	fr := &t.bundles[w.fr].fr
	l := op.s1 - op.s0
	box := bandBox(fr, op.s0-100*mm, op.s1+100*mm, w.ra-l-100*mm, w.rb+l+100*mm)
	t.marks.lineAt.search(0, func(k int32) {
		m := &t.marks.lines[k]
		s0, s1, r0, r1 := extent2(fr, m.a, m.b)
		if s0 >= op.s0-l-100*mm && s1 <= op.s1+l+100*mm && r0 >= w.ra-l-100*mm && r1 <= w.rb+l+100*mm {
			t.usedEnt[t.src[m.src].c.Entity] = true
		}
	}, box...)
	for _, k := range op.lines {
		t.usedEnt[t.src[t.marks.lines[k].src].c.Entity] = true
	}
	for _, k := range op.swings {
		t.usedEnt[t.src[t.marks.swings[k].src].c.Entity] = true
	}
}
