package trace

import (
	"math"

	"github.com/paulmach/orb"
)

// poche gives walls that are drawn as fills only their faces: the outline of a
// hatch or solid on a wall or fill layer that no wall line follows. A fill
// between lines is evidence, and its outline would only double them.
func (t *tracer) poche() {
	var ix boxIndex
	for i := range t.faces {
		ix.add(int32(i), t.faces[i].a, t.faces[i].b)
	}
	for i := range t.d.Fills {
		f := &t.d.Fills[i]
		_, role := t.roleOf(&f.Common)
		if role != Walls && role != WallFill || len(f.Rings) == 0 || len(f.Rings[0]) < 3 {
			continue
		}
		id, _ := t.enter(&f.Common, f.Rings[0][0], f.Rings[0][0])
		if id < 0 {
			continue
		}
		var st []stroke
		for _, r := range f.Rings {
			for k := range r {
				a, b := r[k], r[(k+1)%len(r)]
				if finite(a) && finite(b) {
					if s := (stroke{t.local(a[0], a[1]), t.local(b[0], b[1]), id}); s.a != s.b {
						st = append(st, s)
					}
				}
			}
		}
		if t.followed(&ix, st) >= 0.5 {
			continue
		}
		t.faces = append(t.faces, st...)
		for _, s := range st {
			if norm2(s.b.Sub(s.a)) <= float64(maxThick)*float64(maxThick)*2 {
				t.marks.jambs = append(t.marks.jambs, mark{s.a, s.b, id, Walls})
			}
		}
	}
}

// followed is the share of an outline's length that wall lines follow.
func (t *tracer) followed(ix *boxIndex, st []stroke) float64 {
	var all, on float64
	for _, s := range st {
		d := s.b.Sub(s.a)
		l := math.Sqrt(norm2(d))
		all += l
		ux, uy := float64(d.X)/l, float64(d.Y)/l
		best := 0.0
		ix.search(5*mm, func(k int32) {
			w := &t.faces[k]
			a, b := w.a.Sub(s.a), w.b.Sub(s.a)
			ra, rb := float64(a.Y)*ux-float64(a.X)*uy, float64(b.Y)*ux-float64(b.X)*uy
			if math.Abs(ra) > float64(5*mm) || math.Abs(rb) > float64(5*mm) {
				return
			}
			sa, sb := float64(a.X)*ux+float64(a.Y)*uy, float64(b.X)*ux+float64(b.Y)*uy
			if sa > sb {
				sa, sb = sb, sa
			}
			best = max(best, min(sb, l)-max(sa, 0))
		}, s.a, s.b)
		on += max(0, best)
	}
	if all == 0 {
		return 1
	}
	return on / all
}

// usedFills counts the fills that stand in walls as used.
func (t *tracer) usedFills() {
	for i := range t.d.Fills {
		f := &t.d.Fills[i]
		if _, role := t.roleOf(&f.Common); role != Walls && role != WallFill || len(f.Rings) == 0 || f.Hidden && !t.opt.Hidden {
			continue
		}
		for _, p := range fillPoints(f.Rings[0]) {
			if !finite(p) {
				continue
			}
			q, in := t.local(p[0], p[1]), false
			t.wallTree.search(0, func(k int32) { in = in || t.offWall(&t.walls[k], q) <= 2*Eps }, q)
			if in {
				t.usedEnt[f.Entity] = true
				break
			}
		}
	}
}

// fillPoints are places to look for a wall under a fill: the middles of its
// sides and its corners.
func fillPoints(r orb.Ring) []orb.Point {
	var out []orb.Point
	for k := range r {
		a, b := r[k], r[(k+1)%len(r)]
		out = append(out, orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}, a)
	}
	return out
}
