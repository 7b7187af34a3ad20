package trace

import (
	"cmp"
	"math"
	"slices"
)

// arrangement is the planar map of the wall linework as drawn: what a pen that
// knows nothing of walls leaves on the paper. It is the second opinion on the
// pairing and shares no code with it beyond the merged lines.
type arrangement struct {
	at    []pt
	from  []int32 // start node of each half-edge; i^1 is the other direction
	out   [][]int32
	cycle []int32 // of each half-edge
	loops []loop
	faces []planeFace
}

// loop is one closed walk with its face on the left.
type loop struct {
	area, length float64 // m², m; a hole's area is negative
	low          int32   // half-edge that starts at its lowest, then leftmost node
	face         int32
}

// planeFace is one bounded face: an outer loop less the loops within.
type planeFace struct {
	area, length float64
	loop         int32
	solid, thin  bool
}

// width is the mean width of a face: that of a strip is its thickness, a little
// less where the strip is short.
func (f *planeFace) width() float64 { return 2 * f.area / f.length }

// arrange builds the planar map of segments. Ends that miss each other by a
// slip are made to meet; what stays dangling bounds nothing and is left out. It
// is nil where the lines cross each other more often than walls do.
func arrange(segs []stroke) *arrangement {
	a := &arrangement{}
	if !a.split(segs) {
		return nil
	}
	a.prune()
	a.link()
	a.walk()
	a.nest()
	return a
}

type paramAt struct {
	t float64
	n int32
}

// maxCrossings is how many crossings a line may have on the mean; a plan's wall
// lines have about two.
const maxCrossings = 40

// split cuts the segments at their crossings; false if there are too many.
func (a *arrangement) split(segs []stroke) bool {
	var ix boxIndex
	for i := range segs {
		d := segs[i].b.Sub(segs[i].a)
		l := math.Sqrt(norm2(d))
		e := pt{X: round(float64(d.X) / l * float64(slip)), Y: round(float64(d.Y) / l * float64(slip))}
		segs[i].a, segs[i].b = segs[i].a.Sub(e), segs[i].b.Add(e)
		ix.add(int32(i), segs[i].a, segs[i].b)
	}
	g := &graph{}
	nodes := nodeSet{g: g, cell: make(map[[2]int64][]int32, len(segs))}
	cuts := make([][]paramAt, len(segs))
	var near []int32
	crossings := 0
	for i := range segs {
		near = near[:0]
		ix.search(0, func(k int32) {
			if k > int32(i) {
				near = append(near, k)
			}
		}, segs[i].a, segs[i].b)
		slices.Sort(near)
		s := &segs[i]
		u := s.b.Sub(s.a)
		for _, k := range near {
			o := &segs[k]
			v, w := o.b.Sub(o.a), o.a.Sub(s.a)
			den := float64(u.X)*float64(v.Y) - float64(u.Y)*float64(v.X)
			if math.Abs(den) < 1e-3*math.Sqrt(norm2(u)*norm2(v)) {
				continue
			}
			t := (float64(w.X)*float64(v.Y) - float64(w.Y)*float64(v.X)) / den
			r := (float64(w.X)*float64(u.Y) - float64(w.Y)*float64(u.X)) / den
			if t < 0 || t > 1 || r < 0 || r > 1 {
				continue
			}
			if crossings++; crossings > maxCrossings*len(segs) {
				return false
			}
			n := nodes.get(pt{X: s.a.X + round(t*float64(u.X)), Y: s.a.Y + round(t*float64(u.Y))})
			cuts[i] = append(cuts[i], paramAt{t, n})
			cuts[k] = append(cuts[k], paramAt{r, n})
		}
	}
	for _, c := range cuts {
		slices.SortFunc(c, func(x, y paramAt) int { return cmp.Or(cmp.Compare(x.t, y.t), cmp.Compare(x.n, y.n)) })
		for k := 1; k < len(c); k++ {
			if c[k-1].n != c[k].n {
				a.from = append(a.from, c[k-1].n, c[k].n)
			}
		}
	}
	a.at = g.at
	return true
}

// prune drops what dangles, and edges that are there twice.
func (a *arrangement) prune() {
	type key struct{ p, q int32 }
	seen := make(map[key]bool, len(a.from)/2)
	keep := a.from[:0]
	for i := 0; i < len(a.from); i += 2 {
		p, q := a.from[i], a.from[i+1]
		k := key{min(p, q), max(p, q)}
		if !seen[k] {
			seen[k] = true
			keep = append(keep, p, q)
		}
	}
	a.from = keep
	deg := make([]int32, len(a.at))
	at := make([][]int32, len(a.at))
	for i, n := range a.from {
		deg[n]++
		at[n] = append(at[n], int32(i))
	}
	gone := make([]bool, len(a.from)/2)
	var stack []int32
	for n := range deg {
		if deg[n] == 1 {
			stack = append(stack, int32(n))
		}
	}
	for len(stack) > 0 {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if deg[n] != 1 {
			continue
		}
		for _, h := range at[n] {
			if gone[h/2] {
				continue
			}
			gone[h/2] = true
			deg[n]--
			o := a.from[h^1]
			if deg[o]--; deg[o] == 1 {
				stack = append(stack, o)
			}
		}
	}
	keep = nil
	for i := 0; i < len(a.from); i += 2 {
		if !gone[i/2] {
			keep = append(keep, a.from[i], a.from[i+1])
		}
	}
	a.from = keep
}

// link sorts the half-edges round each node.
func (a *arrangement) link() {
	a.out = make([][]int32, len(a.at))
	angle := make([]float64, len(a.from))
	for i, n := range a.from {
		d := a.at[a.from[i^1]].Sub(a.at[n])
		angle[i] = math.Atan2(float64(d.Y), float64(d.X))
		a.out[n] = append(a.out[n], int32(i))
	}
	for _, o := range a.out {
		slices.SortFunc(o, func(x, y int32) int { return cmp.Or(cmp.Compare(angle[x], angle[y]), cmp.Compare(x, y)) })
	}
}

func (a *arrangement) next(h int32) int32 {
	o := a.out[a.from[h^1]]
	k := slices.Index(o, h^1)
	return o[(k+len(o)-1)%len(o)]
}

// walk lists the loops.
func (a *arrangement) walk() {
	a.cycle = make([]int32, len(a.from))
	for i := range a.cycle {
		a.cycle[i] = -1
	}
	for i := range a.from {
		if a.cycle[i] >= 0 {
			continue
		}
		l := loop{low: int32(i), face: -1}
		o := a.at[a.from[i]]
		for h := int32(i); a.cycle[h] < 0; h = a.next(h) {
			a.cycle[h] = int32(len(a.loops))
			p, q := a.at[a.from[h]].Sub(o), a.at[a.from[h^1]].Sub(o)
			l.area += (p.X.Metres()*q.Y.Metres() - p.Y.Metres()*q.X.Metres()) / 2
			l.length += math.Hypot(q.X.Metres()-p.X.Metres(), q.Y.Metres()-p.Y.Metres())
			if m, n := a.at[a.from[h]], a.at[a.from[l.low]]; m.Y < n.Y || m.Y == n.Y && m.X < n.X {
				l.low = h
			}
		}
		a.loops = append(a.loops, l)
	}
}

// nest makes faces of the outer loops and takes the loops that lie in a face
// off it: from the lowest node of each, the first edge to the left tells.
func (a *arrangement) nest() {
	for i := range a.loops {
		if l := &a.loops[i]; l.area > 0 {
			l.face = int32(len(a.faces))
			a.faces = append(a.faces, planeFace{area: l.area, length: l.length, loop: int32(i)})
		}
	}
	var ix boxIndex
	lo := pt{}
	for i := 0; i < len(a.from); i += 2 {
		p, q := a.at[a.from[i]], a.at[a.from[i+1]]
		ix.add(int32(i), p, q)
		lo.X = min(lo.X, p.X, q.X)
	}
	parent := make([]int32, len(a.loops)) // half-edge seen to the left
	for i := range a.loops {
		parent[i] = -1
		l := &a.loops[i]
		if l.area > 0 {
			continue
		}
		p := a.at[a.from[l.low]]
		best := math.Inf(-1)
		ix.search(0, func(k int32) {
			u, v := a.at[a.from[k]], a.at[a.from[k^1]]
			if (u.Y > p.Y) == (v.Y > p.Y) || a.from[k] == a.from[l.low] || a.from[k^1] == a.from[l.low] {
				return
			}
			x := float64(u.X) + float64(v.X-u.X)*float64(p.Y-u.Y)/float64(v.Y-u.Y)
			if x < float64(p.X) && x > best {
				best = x
				parent[i] = k
				if v.Y > u.Y { // its right side looks this way
					parent[i] = k ^ 1
				}
			}
		}, pt{X: lo.X, Y: p.Y}, p)
	}
	for i := range a.loops {
		l := &a.loops[i]
		if l.area > 0 {
			continue
		}
		for k, n := parent[i], 0; k >= 0 && n < len(a.loops); n++ {
			o := &a.loops[a.cycle[k]]
			if o.area > 0 {
				l.face = o.face
				f := &a.faces[o.face]
				f.area += l.area
				f.length += l.length
				break
			}
			k = parent[a.cycle[k]]
		}
	}
}

// classify says which faces are wall bodies: thin ones that border rooms or the
// outside, also through a board that does, and the small squares where walls
// cross. A thin face between walls only is a void.
func (a *arrangement) classify() {
	const board = 0.045
	thickest := maxThick.Metres() * 0.95
	for i := range a.faces {
		f := &a.faces[i]
		f.thin = f.width() <= thickest && f.area > 0
	}
	open := make([]float64, len(a.faces)) // length that borders no wall
	border := func(count func(f, o int32) bool) {
		for h := range a.from {
			f, o := a.loops[a.cycle[h]].face, a.loops[a.cycle[h^1]].face
			if f >= 0 && f != o && a.faces[f].thin && count(f, o) {
				d := a.at[a.from[h^1]].Sub(a.at[a.from[h]])
				open[f] += math.Hypot(d.X.Metres(), d.Y.Metres())
			}
		}
	}
	border(func(_, o int32) bool { return o < 0 || !a.faces[o].thin })
	first := slices.Clone(open)
	border(func(f, o int32) bool {
		return o >= 0 && a.faces[o].thin && a.faces[o].width() <= board && a.faces[f].width() > board && first[o] >= 0.3*a.faces[o].length
	})
	for i := range a.faces {
		f := &a.faces[i]
		f.solid = f.thin && (open[i] >= 0.4*f.length || f.length <= 4.2*maxThick.Metres())
	}
}

// ring returns the corners of a face's outer loop.
func (a *arrangement) ring(f *planeFace) []pt {
	var out []pt
	start := a.loops[f.loop].low
	for h := start; ; {
		out = append(out, a.at[a.from[h]])
		if h = a.next(h); h == start {
			return out
		}
	}
}

// solidArea is the area of all wall bodies in m².
func (a *arrangement) solidArea() float64 {
	sum := 0.0
	for i := range a.faces {
		if a.faces[i].solid {
			sum += a.faces[i].area
		}
	}
	return sum
}
