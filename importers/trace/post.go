package trace

import (
	"fmt"
	"math"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

const (
	// maxPost is the side of the largest post: 2 ft and some. What stands free
	// and is larger is a pier or a piece of wall.
	// Source: common practice, none published.
	maxPost = 650 * mm
	// postAspect is how much longer than wide a post may be.
	// Source: common practice, none published.
	postAspect = 1.6
)

// post is a small outline on a wall layer that touches no other line: a post or
// a column, drawn as a square, a square with a cross or a square in a square.
type post struct {
	outline geom.Poly
	srcs    []int32
}

// findPosts looks through the wall lines for what hangs together, is as small as
// a post and about as wide as long, and closes round. t.postOf names the post of
// each line's source, +1.
func (t *tracer) findPosts() {
	t.postOf = make([]int32, len(t.src))
	groups := newSets(len(t.faces))
	snap := func(p pt) pt { return pt{X: p.X.RoundTo(Eps), Y: p.Y.RoundTo(Eps)} }
	at := map[pt]int32{}
	var all boxIndex
	for i, s := range t.faces {
		all.add(int32(i), s.a, s.b)
		for _, p := range [2]pt{snap(s.a), snap(s.b)} {
			k, ok := at[p]
			if !ok {
				at[p] = int32(i)
				continue
			}
			groups.join(int32(i), k)
		}
	}
	// what is longer than a post, or hangs on something that is, is none
	big := make([]bool, len(t.faces))
	box := make([]geom.Rect, len(t.faces))
	members := make([][]int32, len(t.faces))
	for i, s := range t.faces {
		k := groups.of(int32(i))
		if big[k] {
			continue
		}
		r := boundsOf([]pt{s.a, s.b})
		if len(members[k]) > 0 {
			r = join(box[k], r)
		}
		box[k] = r
		members[k] = append(members[k], int32(i))
		if math.Hypot(float64(r.W()), float64(r.H())) > math.Sqrt2*float64(maxPost) || len(members[k]) > 40 {
			big[k] = true
		}
	}
	for k := range members {
		if big[k] || len(members[k]) < 4 {
			continue
		}
		if p, ok := t.postFrom(members[k]); ok && t.alone(&all, box[k], func(i int32) bool { return groups.of(i) == int32(k) }) {
			t.posts = append(t.posts, p)
			for _, s := range p.srcs {
				t.postOf[s] = int32(len(t.posts))
			}
		}
	}
}

// postFrom makes a post of strokes that hang together: their outermost points,
// which have to be the corners of a shape about as wide as long, with a line along
// each side.
func (t *tracer) postFrom(members []int32) (post, bool) {
	var ps []pt
	var p post
	for _, i := range members {
		s := &t.faces[i]
		ps = append(ps, s.a, s.b)
		p.srcs = append(p.srcs, s.src)
	}
	p.outline = hull(ps)
	n := len(p.outline)
	if n < 4 {
		return post{}, false
	}
	least, most := Length(math.MaxInt64), Length(0)
	for i := range p.outline {
		a, b := p.outline[i], p.outline[(i+1)%n]
		d := b.Sub(a)
		l := math.Sqrt(norm2(d))
		w := 0.0
		for _, q := range p.outline { // width across this side
			v := q.Sub(a)
			w = max(w, math.Abs(float64(float64(d.X)*float64(v.Y))-float64(float64(d.Y)*float64(v.X)))/l)
		}
		least, most = min(least, round(w)), max(most, round(w))
		drawn := slices.ContainsFunc(members, func(k int32) bool {
			s := &t.faces[k]
			near := func(u, v pt) bool { e := u.Sub(v); return e.X.Abs() <= 2*Eps && e.Y.Abs() <= 2*Eps }
			return near(s.a, a) && near(s.b, b) || near(s.a, b) && near(s.b, a)
		})
		if !drawn {
			return post{}, false
		}
	}
	return p, most <= maxPost && float64(most) <= postAspect*float64(least)
}

// alone reports whether no other line comes near a box, what lies within it
// aside.
func (t *tracer) alone(all *boxIndex, r geom.Rect, own func(int32) bool) bool {
	ok := true
	all.search(2*slip, func(i int32) {
		s := &t.faces[i]
		in := func(p pt) bool {
			return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
		}
		ok = ok && (own(i) || in(s.a) && in(s.b))
	}, r.Min, r.Max)
	return ok
}

// hull is the convex hull of points, anticlockwise, without points on its sides.
func hull(ps []pt) geom.Poly {
	ps = slices.Clone(ps)
	slices.SortFunc(ps, cmpPt)
	ps = slices.Compact(ps)
	cross := func(o, a, b pt) float64 {
		u, v := a.Sub(o), b.Sub(o)
		return float64(float64(u.X)*float64(v.Y)) - float64(float64(u.Y)*float64(v.X))
	}
	chain := func(ps []pt) []pt {
		var out []pt
		for _, p := range ps {
			for len(out) > 1 && cross(out[len(out)-2], out[len(out)-1], p) >= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out
	}
	if len(ps) < 3 {
		return ps
	}
	up := chain(ps) // sorted by y first: clockwise turns dropped from the left
	back := slices.Clone(ps)
	slices.Reverse(back)
	down := chain(back)
	out := geom.Poly(append(up[:len(up)-1:len(up)-1], down[:len(down)-1]...))
	slices.Reverse(out)
	return out
}

// postPiece reports whether a piece of a wall is drawn by the lines of posts
// alone.
func (t *tracer) postPiece(fr int32, p *piece) bool {
	if p.a < 0 {
		return false
	}
	b := &t.bundles[fr]
	only := true
	for _, k := range [2]int32{p.a, p.b} {
		for _, q := range b.edges[k].parts {
			if min(q.s1, p.s1) > max(q.s0, p.s0) {
				only = only && t.postOf[q.src] > 0
			}
		}
	}
	return only
}

// dropPosts ends walls before the posts that stand in line with them: a post is
// no wall, and a plain gap between a wall and a post is no opening.
func (t *tracer) dropPosts() {
	if len(t.posts) == 0 {
		return
	}
	plain := func(g *gap) bool {
		for i := range g.ops {
			if g.ops[i].kind != Walls {
				return false
			}
		}
		return true
	}
	for i := range t.walls {
		w := &t.walls[i]
		lo, hi := 0, len(w.pieces)
		for lo < hi && t.postPiece(w.fr, &w.pieces[lo]) && (lo+1 == hi || plain(&w.gaps[lo])) {
			lo++
		}
		for hi > lo && t.postPiece(w.fr, &w.pieces[hi-1]) && (hi-1 == lo || plain(&w.gaps[hi-2])) {
			hi--
		}
		if lo == hi {
			w.dead = true
			continue
		}
		w.pieces = w.pieces[lo:hi]
		if len(w.gaps) > 0 {
			w.gaps = w.gaps[lo : hi-1]
		}
	}
}

// postObstacles makes columns of the posts that no wall was made of.
func (t *tracer) postObstacles() {
	in := make([]bool, len(t.posts))
	for i := range t.walls {
		if w := &t.walls[i]; !w.dead {
			t.partsOf(w, func(src int32) {
				if k := t.postOf[src]; k > 0 {
					in[k-1] = true
				}
			})
		}
	}
	gone := map[int32]bool{}
	var stand []geom.Rect
	for k := range t.posts {
		p := &t.posts[k]
		if in[k] {
			continue
		}
		for _, s := range p.srcs {
			gone[s] = true
			t.rest[s] = 0
			t.usedEnt[t.src[s].c.Entity] = true
		}
		stand = append(stand, p.outline.Bounds())
	}
	for k := range t.posts {
		p := &t.posts[k]
		if in[k] || slices.ContainsFunc(stand, func(r geom.Rect) bool { // the inner one of two squares
			b := p.outline.Bounds()
			return r != b && b.Min.X >= r.Min.X && b.Max.X <= r.Max.X && b.Min.Y >= r.Min.Y && b.Max.Y <= r.Max.Y
		}) {
			continue
		}
		o := plan.Obstacle{Storey: t.opt.Storey, Kind: "column"}
		for _, q := range p.outline {
			o.Outline = append(o.Outline, t.global(q))
		}
		for _, s := range p.srcs {
			o.Sources = append(o.Sources, t.source(s))
		}
		o.Outline, o.Sources = canonical(o.Outline), sortSources(o.Sources)
		t.out.Obstacles = append(t.out.Obstacles, o)
		at := o.Outline[0]
		r := p.outline.Bounds()
		t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
			Severity: plan.Note, Code: CodePost, Source: o.Sources[0], At: &at, Span: max(r.W(), r.H()),
			Message: fmt.Sprintf("a closed outline %s by %s on a wall layer stands free", sizeText(min(r.W(), r.H())), sizeText(max(r.W(), r.H()))),
			Did:     "taken for a post: nothing is boarded",
		})
	}
	if len(gone) == 0 {
		return
	}
	t.unread = slices.DeleteFunc(t.unread, func(u unread) bool { return gone[u.src] })
}
