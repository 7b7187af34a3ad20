package trace

import (
	"fmt"
	"math"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

// piers makes obstacles of the closed outlines on wall layers that are no wall:
// columns and piers drawn with the walls.
func (t *tracer) piers() {
	var st []stroke
	for _, s := range t.faces {
		if t.rest[s.src] > 0 {
			st = append(st, s)
		}
	}
	gone := map[int32]bool{}
	for _, r := range rings(st) {
		o := plan.Obstacle{Storey: t.opt.Storey, Kind: "structure"}
		for _, k := range r {
			o.Outline = append(o.Outline, t.global(st[k.stroke].end(k.back)))
			o.Sources = append(o.Sources, t.source(st[k.stroke].src))
		}
		a := math.Abs(areaM2(o.Outline))
		if b := o.Outline.Bounds(); a < 0.005 || a > maxPier || b.W() > maxPierLong || b.H() > maxPierLong {
			continue
		}
		for _, k := range r {
			src := st[k.stroke].src
			gone[src] = true
			t.usedEnt[t.src[src].c.Entity] = true
		}
		if areaM2(o.Outline) < 0 {
			slices.Reverse(o.Outline)
		}
		o.Outline, o.Sources = canonical(o.Outline), sortSources(o.Sources)
		t.out.Obstacles = append(t.out.Obstacles, o)
		t.tellPier(o, 2*math.Sqrt(a))
	}
	if len(gone) == 0 {
		return
	}
	keep := t.unread[:0]
	for _, u := range t.unread {
		if !gone[u.src] {
			keep = append(keep, u)
		}
	}
	t.unread = keep
	for s := range gone {
		t.rest[s] = 0
	}
}

// maxPier is the area of the largest pier and maxPierWidth its mean width: twice
// its area over its outline; maxPierLong its length. Source: common practice, none published.
const (
	maxPier      = 4.0 // m²
	maxPierWidth = 1.0 // m
	maxPierLong  = 4000 * mm
)

// pierFaces makes obstacles of the small closed faces of the linework that
// border on lines no wall explains: piers and chimney breasts that grow out of a
// wall and share its face.
func (t *tracer) pierFaces(a *arrangement) {
	if len(t.unread) == 0 {
		return
	}
	var ix boxIndex
	for i, u := range t.unread {
		ix.add(int32(i), u.a, u.b)
	}
	gone := map[int32]bool{}
	for i := range a.faces {
		f := &a.faces[i]
		if f.area < 0.02 || f.area > maxPier || f.width() > maxPierWidth {
			continue
		}
		ring := geom.Poly(a.ring(f))
		by, share := t.unreadRound(&ix, ring)
		if share < 0.5 || t.wallIn(ring) {
			continue
		}
		o := plan.Obstacle{Storey: t.opt.Storey, Kind: "structure"}
		for _, p := range tidy(ring) {
			o.Outline = append(o.Outline, t.global(p))
		}
		for _, k := range by {
			gone[k] = true
			o.Sources = append(o.Sources, t.source(t.unread[k].src))
		}
		if len(o.Outline) < 3 {
			continue
		}
		o.Outline, o.Sources = canonical(o.Outline), sortSources(o.Sources)
		t.out.Obstacles = append(t.out.Obstacles, o)
		t.tellPier(o, f.length/2)
		f.solid = false
	}
	keep := t.unread[:0:0]
	for i, u := range t.unread {
		if !gone[int32(i)] {
			keep = append(keep, u)
			continue
		}
		t.rest[u.src] = max(0, t.rest[u.src]-u.l)
		t.usedEnt[t.src[u.src].c.Entity] = true
	}
	t.unread = keep
}

// unreadRound lists the unread stretches that a ring runs along, and what share
// of the ring they make.
func (t *tracer) unreadRound(ix *boxIndex, ring geom.Poly) (by []int32, share float64) {
	var all, on float64
	for i := range ring {
		a, b := ring[i], ring[(i+1)%len(ring)]
		d := b.Sub(a)
		l := math.Sqrt(norm2(d))
		all += l
		mid := pt{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
		hit := int32(-1)
		ix.search(2*Eps, func(k int32) {
			u := &t.unread[k]
			v := u.b.Sub(u.a)
			n := math.Sqrt(norm2(v))
			w := mid.Sub(u.a)
			off := (float64(v.X)*float64(w.Y) - float64(v.Y)*float64(w.X)) / n
			par := (float64(v.X)*float64(d.Y) - float64(v.Y)*float64(d.X)) / n / l
			if math.Abs(off) <= 2*Eps && math.Abs(par) < 0.02 && (hit < 0 || k < hit) {
				hit = k
			}
		}, mid)
		if hit >= 0 {
			on += l
			by = append(by, hit)
		}
	}
	slices.Sort(by)
	return slices.Compact(by), on / all
}

// tellPier lists a closed outline on a wall layer that was taken for structure.
func (t *tracer) tellPier(o plan.Obstacle, metres float64) {
	at := o.Outline[0]
	t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
		Severity: plan.Warning, Code: CodePier, Source: o.Sources[0], At: &at, Span: round(metres * 8e6),
		Message: fmt.Sprintf("a closed outline of %.2f m² on a wall layer is too thick for a wall", math.Abs(areaM2(o.Outline))),
		Did:     "taken for a pier: walls stop at it, nothing is boarded",
	})
}
