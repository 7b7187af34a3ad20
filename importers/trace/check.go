package trace

import (
	"fmt"
	"math"

	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

const (
	// agree is how far the areas of the two methods may lie apart, as a share.
	// Source: common practice, none published.
	agree = 0.005
	// agreeM2 is the difference too small to tell of.
	agreeM2 = 0.1
	// maxCheck is the number of lines up to which the second method is run: it
	// costs as much again as the first.
	maxCheck = 60_000
)

// crossCheck holds the area of the walls found by pairing faces against the
// area of the thin faces of the linework: two methods that share no step. A
// difference is told, with the bodies that one has and the other has not.
func (t *tracer) crossCheck() {
	var segs []stroke
	for i := range t.bundles {
		b := &t.bundles[i]
		for k := range b.edges {
			e := &b.edges[k]
			ps := []pt{b.fr.from(e.s0, e.r), b.fr.from(e.s1, e.r)}
			if b.fr.polar {
				ps = ps[:0]
				n := int(float64(e.s1-e.s0)/float64(b.fr.scale)/(2*math.Pi/180)) + 1
				for j := 0; j <= n; j++ {
					ps = append(ps, b.fr.from(e.s0+(e.s1-e.s0)*Length(j)/Length(n), e.r))
				}
			}
			for j := 1; j < len(ps); j++ {
				if ps[j] != ps[j-1] {
					segs = append(segs, stroke{ps[j-1], ps[j], -1})
				}
			}
		}
	}
	if len(segs) == 0 {
		return
	}
	if len(segs) > maxCheck {
		t.notChecked(fmt.Sprintf("%d wall lines are more than the second method is run for", len(segs)))
		return
	}
	a := arrange(append(segs, t.portals()...))
	if a == nil {
		t.notChecked("the wall lines cross each other more often than walls do")
		return
	}
	a.classify()
	t.emptyOpenings(a)
	t.pierFaces(a)
	got, want := t.bodyArea(), a.solidArea()
	missed := t.unpairedBodies(a)
	if d := math.Abs(got - want); d <= agreeM2 || d <= agree*math.Max(got, want) {
		return
	}
	at := t.global(pt{})
	if len(t.out.Walls) > 0 {
		at = t.out.Walls[0].Axis[0]
	}
	t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
		Severity: plan.Warning, Code: CodeAreas, At: &at, Source: plan.Source{File: t.d.File},
		Message: fmt.Sprintf("paired faces give %.2f m² of wall in plan, the closed outlines of the lines %.2f m²", got, want),
		Did:     fmt.Sprintf("the paired faces hold; %d closed outlines without a wall are listed", missed),
	})
}

// bodyArea is the area of the walls' bodies as found by pairing: inside the
// outer outlines of the net of axes, less the closed spaces, less the openings.
func (t *tracer) bodyArea() float64 {
	sum := t.netArea
	t.eachGapOpening(func(w *wall, op *opening) {
		if t.stands(w) {
			sum -= t.bundles[w.fr].fr.along(op.s1-op.s0, (w.ra+w.rb)/2).Metres() * w.thick().Metres()
		}
	})
	return sum
}

// notChecked tells that there is no second opinion on the walls' area.
func (t *tracer) notChecked(why string) {
	at := t.global(pt{})
	t.out.Exceptions = append(t.out.Exceptions, plan.Exception{Severity: plan.Note, Code: CodeUnchecked, At: &at,
		Source: plan.Source{File: t.d.File}, Message: why, Did: "the walls' area was not checked a second way"})
}

// portals close the gaps of the openings straight across, jamb to jamb, where
// the drawing has the jambs on another layer or not at all.
func (t *tracer) portals() []stroke {
	var out []stroke
	t.eachGapOpening(func(w *wall, op *opening) {
		fr := &t.bundles[w.fr].fr
		for _, s := range [2]Length{op.s0, op.s1} {
			out = append(out, stroke{fr.from(s, w.ra), fr.from(s, w.rb), -1})
		}
	})
	for i := range t.walls { // and the free ends, where a wall runs into a pier
		w := &t.walls[i]
		if w.dead || w.centre {
			continue
		}
		fr := &t.bundles[w.fr].fr
		for e, s := range [2]Length{w.s0(), w.s1()} {
			if w.ends[e] == freeEnd {
				out = append(out, stroke{fr.from(s, w.ra), fr.from(s, w.rb), -1})
			}
		}
	}
	return out
}

// eachGapOpening visits the openings that break a wall's faces.
func (t *tracer) eachGapOpening(f func(w *wall, op *opening)) {
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead || w.centre {
			continue
		}
		for g := range w.gaps {
			for k := range w.gaps[g].ops {
				f(w, &w.gaps[g].ops[k])
			}
		}
	}
}

// emptyOpenings takes the faces within openings, between sills and glass, out
// of the bodies.
func (t *tracer) emptyOpenings(a *arrangement) {
	var ix boxIndex
	for i := range a.faces {
		if f := &a.faces[i]; f.solid {
			ix.add(int32(i), a.ring(f)...)
		}
	}
	t.eachGapOpening(func(w *wall, op *opening) {
		fr := &t.bundles[w.fr].fr
		ix.search(slip, func(k int32) {
			f := &a.faces[k]
			for _, p := range a.ring(f) {
				if s, r := fr.to(p); s < op.s0-2*slip || s > op.s1+2*slip || r < w.ra-2*slip || r > w.rb+2*slip {
					return
				}
			}
			f.solid = false
		}, bandBox(fr, op.s0, op.s1, w.ra, w.rb)...)
	})
}

// unpairedBodies lists the thin faces no wall stands in.
func (t *tracer) unpairedBodies(a *arrangement) int {
	n := 0
	for i := range a.faces {
		f := &a.faces[i]
		if !f.solid || f.area < 0.02 {
			continue
		}
		ring := geom.Poly(a.ring(f))
		if t.wallIn(ring) {
			continue
		}
		n++
		at := t.global(ring[0])
		t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
			Severity: plan.Warning, Code: CodeOutline, At: &at, Source: plan.Source{File: t.d.File}, Span: round(f.length / 2 * 8e6),
			Message: fmt.Sprintf("a closed outline of %.2f m², %.0f mm wide, looks like a wall and was not paired", f.area, f.width()*1000),
			Did:     "left out",
		})
	}
	return n
}

// wallIn reports whether a wall's body or a known obstacle lies in a ring.
func (t *tracer) wallIn(ring geom.Poly) bool {
	in := false
	for i := range ring {
		a, b := ring[i], ring[(i+1)%len(ring)]
		mid := pt{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
		t.wallTree.search(2*Eps, func(k int32) {
			w := &t.walls[k]
			if s, r := t.bundles[w.fr].fr.to(mid); !in && r >= w.ra-2*Eps && r <= w.rb+2*Eps && s >= w.from && s <= w.to {
				in = inside(ring, t.bundles[w.fr].fr.from(s, (w.ra+w.rb)/2)) || in
			}
		}, mid)
		if in {
			return true
		}
	}
	r := ring.Bounds()
	for i := range t.out.Obstacles {
		o := t.out.Obstacles[i].Outline
		if len(o) == 0 {
			continue
		}
		b := o.Bounds()
		b.Min, b.Max = b.Min.Sub(t.origin), b.Max.Sub(t.origin)
		if inside(ring, o[0].Sub(t.origin).Add(pt{X: 1, Y: 1})) ||
			r.Min.X >= b.Min.X && r.Min.Y >= b.Min.Y && r.Max.X <= b.Max.X && r.Max.Y <= b.Max.Y { // a ring between two squares
			return true
		}
	}
	return false
}
