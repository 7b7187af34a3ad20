package trace

import (
	"cmp"
	"math"
	"slices"
)

// half is one direction of one stretch of a wall's axis between two nodes: the
// wall as somebody walks along it who has its left face on the left.
type half struct {
	wall   int32
	s0, s1 Length // stations walked from and to; s0 > s1 against the axis
	node   int32  // start node
	angle  float64
}

// graph is the net of the walls' axes: half[i] and half[i^1] are the two
// directions of one stretch.
type graph struct {
	at    []pt
	halfs []half
	out   [][]int32 // of each node, the halves that start there, by angle
}

// nodeTol is how near two crossings must be to be one node.
const nodeTol = 8000 // 1 mm

// axisGraph cuts the axes of all standing walls at their crossings.
func (t *tracer) axisGraph() *graph {
	g := &graph{}
	var ix boxIndex
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead || !t.stands(w) {
			continue
		}
		ix.add(int32(i), bandBox(&t.bundles[w.fr].fr, w.from, w.to, (w.ra+w.rb)/2, (w.ra+w.rb)/2)...)
	}
	nodes := nodeSet{g: g, cell: map[[2]int64][]int32{}}
	cuts := make([][]cutAt, len(t.walls))
	ends := make([][2]int32, len(t.walls)) // node of each end, +1
	t.joinEnds(&nodes, cuts, ends)
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead || !t.stands(w) {
			continue
		}
		fr := &t.bundles[w.fr].fr
		mid := (w.ra + w.rb) / 2
		var near []int32
		ix.search(nodeTol, func(k int32) {
			if k > int32(i) {
				near = append(near, k)
			}
		}, bandBox(fr, w.from, w.to, mid, mid)...)
		slices.Sort(near)
		for _, k := range near {
			o := &t.walls[k]
			c, ok := t.axesCross(w, o)
			if !ok {
				continue
			}
			n := nodes.get(fr.from(c.at, mid))
			cuts[i] = append(cuts[i], cutAt{c.at, n})
			cuts[k] = append(cuts[k], cutAt{c.on, n})
		}
	}
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead || !t.stands(w) {
			continue
		}
		fr := &t.bundles[w.fr].fr
		mid := (w.ra + w.rb) / 2
		list := cuts[i]
		for e, s := range [2]Length{w.from, w.to} {
			if ends[i][e] == 0 {
				list = append(list, cutAt{s, nodes.get(fr.from(s, mid))})
			}
		}
		slices.SortFunc(list, func(a, b cutAt) int { return cmp.Or(cmp.Compare(a.s, b.s), cmp.Compare(a.node, b.node)) })
		for k := 1; k < len(list); k++ {
			a, b := list[k-1], list[k]
			if a.node != b.node {
				g.add(fr, int32(i), mid, a, b)
			}
		}
	}
	g.sort()
	return g
}

// joinEnds gives each end that meets a wall a node on that wall's axis. A step
// between walls in line, or a corner that is also a tee, has axes that pass
// each other by less than a wall: they are one node all the same, since rooms
// are closed by faces, not by axes.
func (t *tracer) joinEnds(nodes *nodeSet, cuts [][]cutAt, ends [][2]int32) {
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead || !t.stands(w) {
			continue
		}
		for e, s := range [2]Length{w.from, w.to} {
			k := w.meets[e]
			if k < 0 || t.walls[k].dead || !t.stands(&t.walls[k]) {
				continue
			}
			o := &t.walls[k]
			of := &t.bundles[o.fr].fr
			on, _ := of.to(t.bundles[w.fr].fr.from(s, (w.ra+w.rb)/2))
			on = max(o.from, min(o.to, on))
			n := nodes.get(of.from(on, (o.ra+o.rb)/2))
			ends[i][e] = n + 1
			cuts[i] = append(cuts[i], cutAt{s, n})
			cuts[k] = append(cuts[k], cutAt{on, n})
		}
	}
}

// cutAt is a node on a wall's axis.
type cutAt struct {
	s    Length
	node int32
}

// stands reports whether a wall bounds rooms: what is demolished does not.
func (t *tracer) stands(w *wall) bool { return *t.classes[w.class()].use.Status != 2 }

// axesCross is where two walls' axes meet within both.
func (t *tracer) axesCross(w, o *wall) (crossing, bool) {
	if w.fr == o.fr {
		return crossing{}, false
	}
	wp, op := t.bundles[w.fr].fr.polar, t.bundles[o.fr].fr.polar
	if op && !wp {
		c, ok := t.axesCross(o, w)
		c.at, c.on = c.on, c.at
		return c, ok
	}
	tries := []Length{(w.from + w.to) / 2}
	if wp { // a circle and a line cross twice
		tries = append(tries, w.from, w.to)
	}
	for _, s := range tries {
		c, ok := t.crossOf(&w.strand, &o.strand, s)
		if ok && c.at >= w.from-nodeTol && c.at <= w.to+nodeTol && c.on >= o.from-nodeTol && c.on <= o.to+nodeTol {
			return c, true
		}
	}
	return crossing{}, false
}

// nodeSet finds nodes by place.
type nodeSet struct {
	g    *graph
	cell map[[2]int64][]int32
}

func (n *nodeSet) get(p pt) int32 {
	const size = 4 * nodeTol
	cx, cy := int64(floorDiv(p.X, size)), int64(floorDiv(p.Y, size))
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for _, k := range n.cell[[2]int64{cx + dx, cy + dy}] {
				if d := n.g.at[k].Sub(p); d.X.Abs() <= nodeTol && d.Y.Abs() <= nodeTol {
					return k
				}
			}
		}
	}
	k := int32(len(n.g.at))
	n.g.at = append(n.g.at, p)
	n.cell[[2]int64{cx, cy}] = append(n.cell[[2]int64{cx, cy}], k)
	return k
}

func (g *graph) add(fr *frame, wall int32, mid Length, a, b cutAt) {
	ax, ay := fr.dir(a.s)
	bx, by := fr.dir(b.s)
	g.halfs = append(g.halfs,
		half{wall, a.s, b.s, a.node, math.Atan2(ay, ax)},
		half{wall, b.s, a.s, b.node, math.Atan2(-by, -bx)})
}

func (g *graph) sort() {
	g.out = make([][]int32, len(g.at))
	for i := range g.halfs {
		n := g.halfs[i].node
		g.out[n] = append(g.out[n], int32(i))
	}
	for _, o := range g.out {
		slices.SortFunc(o, func(a, b int32) int {
			return cmp.Or(cmp.Compare(g.halfs[a].angle, g.halfs[b].angle), cmp.Compare(a, b))
		})
	}
}

// next is the half that follows i round the face on its left: at its end the
// one next clockwise from the way back.
func (g *graph) next(i int32) int32 {
	back := i ^ 1
	o := g.out[g.halfs[back].node]
	k := slices.Index(o, back)
	return o[(k+len(o)-1)%len(o)]
}
