package trace

import (
	"fmt"
	"math"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// tagReach is how far from a wall its tag may stand.
// Source: common practice, none published.
const tagReach = 1000 * mm

// tagWalls gives each wall the tag that stands nearest to it. Where two tags of
// one wall disagree the nearer holds and the wall is a doubt.
func (t *tracer) tagWalls() {
	type tagged struct {
		tag string
		off float64
	}
	got := map[int32]tagged{}
	for _, k := range t.textsOf(TagText) {
		x := &t.d.Texts[k]
		tag := strings.TrimSpace(x.Value)
		if tag == "" || len(tag) > 24 || strings.Contains(tag, "\n") {
			continue
		}
		p := t.local(x.At[0], x.At[1])
		reach := max(tagReach, measure.FromMM(5*x.Height))
		best, off := int32(-1), math.Inf(1)
		t.wallTree.search(reach, func(i int32) {
			if d := t.offWall(&t.walls[i], p); d < off || d == off && i < best {
				best, off = i, d
			}
		}, p)
		if best < 0 || off > float64(reach) {
			continue
		}
		t.usedEnt[x.Entity] = true
		old, ok := got[best]
		if ok && old.tag != tag {
			w := &t.walls[best]
			w.doubt = fmt.Sprintf("two tags stand by it: %s and %s", min(old.tag, tag), max(old.tag, tag))
		}
		if !ok || off < old.off || off == old.off && tag < old.tag {
			got[best] = tagged{tag, off}
		}
	}
	for i := range t.walls {
		g, ok := got[int32(i)]
		if !ok {
			continue
		}
		w := &t.walls[i]
		w.tag = g.tag
		if k := t.planWall[i]; k >= 0 {
			t.out.Walls[k].Tag = g.tag
			t.out.Walls[k].Doubt = w.doubt
			if w.doubt != "" {
				a, _ := t.axisOf(w)
				t.doubt(CodeTags, t.out.Walls[k], a, "the nearer, "+w.tag+", is taken")
			}
		}
	}
	t.markTagFrames()
}

// offWall is how far a point lies from a wall's band.
func (t *tracer) offWall(w *wall, p pt) float64 {
	s, r := t.bundles[w.fr].fr.to(p)
	ds := max(0, w.from-s, s-w.to)
	dr := max(0, w.ra-r, r-w.rb)
	return math.Hypot(float64(ds), float64(dr))
}

// markTagFrames counts the circles and boxes round used tags as used: every
// piece of linework on a tag layer belongs to the tag it stands round.
func (t *tracer) markTagFrames() {
	var ix boxIndex
	for _, k := range t.textsOf(TagText) {
		if x := &t.d.Texts[k]; t.usedEnt[x.Entity] {
			ix.add(int32(k), t.local(x.At[0], x.At[1]))
		}
	}
	for i := range t.d.Segments {
		s := &t.d.Segments[i]
		if _, r := t.roleOf(&s.Common); r != TagText || !finite(s.A) {
			continue
		}
		ix.search(400*mm, func(int32) { t.usedEnt[s.Entity] = true }, t.local(s.A[0], s.A[1]))
	}
	for i := range t.d.Arcs {
		a := &t.d.Arcs[i]
		if _, r := t.roleOf(&a.Common); r != TagText || !finite(a.Centre) {
			continue
		}
		ix.search(400*mm, func(int32) { t.usedEnt[a.Entity] = true }, t.local(a.Centre[0], a.Centre[1]))
	}
}

// notes hands on the writing that a person may want beside the walls.
func (t *tracer) notes() {
	for _, role := range []Role{TagText, OpeningText, RoomText} {
		for _, k := range t.textsOf(role) {
			x := &t.d.Texts[k]
			t.out.Texts = append(t.out.Texts, plan.Text{At: gridPt(x.At), Height: measure.FromMM(x.Height), Value: x.Value,
				Layer: x.Layer, Source: t.sourceOf(&x.Common)})
		}
	}
}
