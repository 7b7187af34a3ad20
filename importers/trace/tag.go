package trace

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// tagReach is how far from a wall its tag may stand.
// Source: common practice, none published.
const tagReach = 1000 * mm

// tagOn is one way to give a tag to a wall.
type tagOn struct {
	wall int32
	off  float64
}

// tagWalls gives each wall the tag that stands nearest to it. Near a corner a
// tag may stand nearer to the wrong wall: where the walls a tag mostly stands by
// are of one thickness, a wall of that thickness hardly further off is meant.
// Where two tags of one wall disagree the nearer holds and the wall is a doubt.
func (t *tracer) tagWalls() {
	texts := t.textsOf(TagText)
	near := make([][]tagOn, len(texts))
	byTag := map[string]map[Length]int{}
	for n, k := range texts {
		near[n] = t.wallsBy(k)
		if len(near[n]) == 0 {
			continue
		}
		tag := strings.TrimSpace(t.d.Texts[k].Value)
		if byTag[tag] == nil {
			byTag[tag] = map[Length]int{}
		}
		byTag[tag][t.walls[near[n][0].wall].thick()/thickTol]++
	}
	type tagged struct {
		tag string
		off float64
	}
	got := map[int32]tagged{}
	for n, k := range texts {
		if len(near[n]) == 0 {
			continue
		}
		x := &t.d.Texts[k]
		tag := strings.TrimSpace(x.Value)
		best := near[n][0]
		for _, o := range near[n] {
			if usual(byTag[tag], t.walls[o.wall].thick()/thickTol) {
				best = o
				break
			}
		}
		t.usedEnt[x.Entity] = true
		old, ok := got[best.wall]
		if ok && old.tag != tag {
			t.walls[best.wall].doubt = fmt.Sprintf("two tags stand by it: %s and %s", min(old.tag, tag), max(old.tag, tag))
		}
		if !ok || best.off < old.off || best.off == old.off && tag < old.tag {
			got[best.wall] = tagged{tag, best.off}
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

// usual reports whether more than half of a tag's places are by walls of a
// thickness.
func usual(by map[Length]int, th Length) bool {
	all := 0
	for _, n := range by {
		all += n
	}
	return 2*by[th] > all
}

// wallsBy lists the walls a tag may mean, the nearest first: those no further
// off than the nearest and a hand's breadth or three.
func (t *tracer) wallsBy(k int) []tagOn {
	x := &t.d.Texts[k]
	tag := strings.TrimSpace(x.Value)
	if tag == "" || len(tag) > 24 || strings.Contains(tag, "\n") {
		return nil
	}
	p := t.local(x.At[0], x.At[1])
	reach := max(tagReach, measure.FromMM(5*x.Height))
	var out []tagOn
	t.wallTree.search(reach, func(i int32) {
		if d := t.offWall(&t.walls[i], p); d <= float64(reach) {
			out = append(out, tagOn{i, d})
		}
	}, p)
	slices.SortFunc(out, func(a, b tagOn) int { return cmp.Or(cmp.Compare(a.off, b.off), cmp.Compare(a.wall, b.wall)) })
	for i := range out {
		if out[i].off > out[0].off+float64(300*mm) {
			return out[:i]
		}
	}
	return out
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
