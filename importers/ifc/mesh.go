package ifc

import (
	"cmp"
	"math"
	"slices"
)

// mesh is a solid given by its plane faces: loops of points, the first of a
// face outermost. Whether the faces close is seen where they are cut.
type mesh struct {
	points []vec
	faces  [][][]int32 // face, loop, point
	index  map[[3]int64]int32
}

// pointGrid is the distance below which points of a mesh are one, in mm.
const pointGrid = 1e-3

func (m *mesh) add(p vec) int32 {
	if m.index == nil {
		m.index = map[[3]int64]int32{}
	}
	k := [3]int64{int64(math.Round(p.x / pointGrid)), int64(math.Round(p.y / pointGrid)), int64(math.Round(p.z / pointGrid))}
	if i, ok := m.index[k]; ok {
		return i
	}
	i := int32(len(m.points))
	m.index[k] = i
	m.points = append(m.points, p)
	return i
}

// face adds a face, dropping repeated points and loops without area.
func (m *mesh) face(loops [][]int32) {
	var kept [][]int32
	for i, l := range loops {
		l = slices.Compact(slices.Clone(l))
		for len(l) > 1 && l[0] == l[len(l)-1] {
			l = l[:len(l)-1]
		}
		if len(l) < 3 {
			if i == 0 {
				return
			}
			continue
		}
		kept = append(kept, l)
	}
	if len(kept) > 0 {
		m.faces = append(m.faces, kept)
	}
}

func (m *mesh) moved(a affine) solid {
	out := &mesh{points: make([]vec, len(m.points)), faces: m.faces}
	for i, p := range m.points {
		out.points[i] = a.point(p)
	}
	if a.det() < 0 { // a mirror turns the faces inside out
		out.faces = make([][][]int32, len(m.faces))
		for i, loops := range m.faces {
			for _, l := range loops {
				l = slices.Clone(l)
				slices.Reverse(l)
				out.faces[i] = append(out.faces[i], l)
			}
		}
	}
	return out
}

func (m *mesh) levels(f func(float64)) {
	for _, p := range m.points {
		f(p.y)
	}
}

// normal returns twice the area vector of a loop (Newell).
func (m *mesh) normal(l []int32) (n vec) {
	o := m.points[l[0]]
	for i := 1; i+1 < len(l); i++ {
		n = n.add(m.points[l[i]].sub(o).cross(m.points[l[i+1]].sub(o)))
	}
	return n
}

func (m *mesh) facets(f func(facet)) {
	for _, loops := range m.faces {
		n := m.normal(loops[0])
		a := n.len()
		for _, h := range loops[1:] {
			a -= m.normal(h).len()
		}
		if a > 0 {
			f(facet{n.unit(), m.points[loops[0][0]], a / 2})
		}
	}
}

// crossing is a place where the plane meets an edge of the mesh.
type crossing struct {
	edge [2]int32
	at   pt
}

// section chains what each face leaves in the plane into loops. Where the mesh
// does not close, the faces that lie in the plane are taken instead.
func (m *mesh) section(p plane) region {
	var segs [][2]crossing
	for _, loops := range m.faces {
		segs = m.cut(segs, loops, p)
	}
	if loops, closed := chain(segs); len(loops) > maxLoops {
		return poisoned
	} else if closed {
		return nest(loops)
	}
	return m.lying(p)
}

// cut adds the pieces in which a face meets the plane.
func (m *mesh) cut(segs [][2]crossing, loops [][]int32, p plane) [][2]crossing {
	var hits []crossing
	for _, l := range loops {
		i := l[len(l)-1]
		di := (m.points[i].y - p.y) * p.side
		for _, j := range l {
			dj := (m.points[j].y - p.y) * p.side
			if (di >= -sideTol) != (dj >= -sideTol) {
				a, b, da, db := i, j, di, dj
				if a > b { // the same point from both faces of an edge
					a, b, da, db = b, a, db, da
				}
				q := m.points[a].at(m.points[b], min(max(da/(da-db), 0), 1))
				hits = append(hits, crossing{[2]int32{a, b}, pt{q.x, q.z}})
			}
			i, di = j, dj
		}
	}
	if len(hits) > 2 {
		n := m.normal(loops[0])
		du, dv := -n.z, n.x // along the line in which face and plane meet
		slices.SortStableFunc(hits, func(a, b crossing) int {
			return cmp.Compare(a.at.u*du+a.at.v*dv, b.at.u*du+b.at.v*dv)
		})
	}
	for i := 0; i+1 < len(hits); i += 2 {
		segs = append(segs, [2]crossing{hits[i], hits[i+1]})
	}
	return segs
}

// chain joins pieces at common edges into loops. Ends that meet no other piece
// at their edge are joined to one at the same place; closed is false if some
// are left.
func chain(segs [][2]crossing) (loops []ring, closed bool) {
	ends := map[[2]int32][]int{} // edge → ends 2·segment + side
	for i, s := range segs {
		ends[s[0].edge] = append(ends[s[0].edge], 2*i)
		ends[s[1].edge] = append(ends[s[1].edge], 2*i+1)
	}
	mate := make([]int, 2*len(segs))
	for i := range mate {
		mate[i] = -1
	}
	var loose []int
	for i := range mate {
		if mate[i] >= 0 {
			continue
		}
		list := ends[segs[i/2][i%2].edge]
		list = slices.DeleteFunc(slices.Clone(list), func(j int) bool { return mate[j] >= 0 || j == i })
		if len(list) == 0 {
			loose = append(loose, i)
			mate[i] = -2
			continue
		}
		mate[i], mate[list[0]] = list[0], i
	}
	if len(loose) > maxLoops {
		return nil, false
	}
	for k, i := range loose {
		if mate[i] >= 0 {
			continue
		}
		for _, j := range loose[k+1:] {
			a, b := segs[i/2][i%2].at, segs[j/2][j%2].at
			if mate[j] < 0 && math.Hypot(a.u-b.u, a.v-b.v) < sideTol {
				mate[i], mate[j] = j, i
				break
			}
		}
		if mate[i] < 0 {
			return nil, false
		}
	}
	return walk(segs, mate), true
}

// walk follows the pieces from end to end. Where more than two meet at one
// edge, as where two boxes touch, a loop that comes back to an edge is closed
// there, so that loops may touch but never cross.
func walk(segs [][2]crossing, mate []int) (loops []ring) {
	used := make([]bool, len(segs))
	for i := range segs {
		if used[i] {
			continue
		}
		var path []crossing
		seen := map[[2]int32]int{}
		closeAt := func(k int) {
			r := make(ring, 0, len(path)-k)
			for _, c := range path[k:] {
				r = append(r, c.at)
				delete(seen, c.edge)
			}
			if r = r.tidy(); r != nil {
				loops = append(loops, r)
			}
			path = path[:k]
		}
		for e := 2 * i; !used[e/2]; {
			used[e/2] = true
			c := segs[e/2][e%2]
			if k, ok := seen[c.edge]; ok {
				closeAt(k)
			}
			seen[c.edge] = len(path)
			path = append(path, c)
			e = mate[e^1]
		}
		closeAt(0)
	}
	return loops
}

// nest sorts loops into outlines and holes: a loop within an odd number of
// others is a hole of the smallest of them.
func nest(loops []ring) region {
	slices.SortStableFunc(loops, func(a, b ring) int { return cmp.Compare(math.Abs(b.area()), math.Abs(a.area())) })
	var g region
	depth := make([]int, len(loops))
	home := make([]int, len(loops)) // shape of g that an outline or hole belongs to
	for i, r := range loops {
		parent := -1
		for j := range i {
			if loops[j].contains(r) {
				depth[i]++
				parent = j
			}
		}
		if depth[i]%2 == 0 {
			home[i] = len(g)
			g = append(g, shape{outer: r.turned(true)})
		} else {
			home[i] = home[parent]
			g[home[i]].holes = append(g[home[i]].holes, r.turned(false))
		}
	}
	return g
}

// contains reports whether s, which does not cross r, lies within it.
func (r ring) contains(s ring) bool {
	in := 0
	for i := range s { // most of the edge middles: touching loops share some points
		q := s[(i+1)%len(s)]
		if r.holds(pt{(s[i].u + q.u) / 2, (s[i].v + q.v) / 2}) {
			in++
		} else {
			in--
		}
	}
	return in > 0
}

// holds reports whether p lies within r, by the crossings of a ray.
func (r ring) holds(p pt) bool {
	in := false
	a := r[len(r)-1]
	for _, b := range r {
		if (a.v > p.v) != (b.v > p.v) && p.u < a.u+(p.v-a.v)/(b.v-a.v)*(b.u-a.u) {
			in = !in
		}
		a = b
	}
	return in
}

// lying joins the faces that lie in the plane.
func (m *mesh) lying(p plane) region {
	var g region
	for _, loops := range m.faces {
		if len(g) > maxLoops {
			return poisoned
		}
		in := true
		for _, i := range loops[0] {
			in = in && math.Abs(m.points[i].y-p.y) < sideTol
		}
		if !in {
			continue
		}
		var rings []ring
		for _, l := range loops {
			var r ring
			for _, i := range l {
				r = append(r, pt{m.points[i].x, m.points[i].z})
			}
			if r = r.tidy(); r != nil {
				rings = append(rings, r)
			}
		}
		g = union(g, nest(rings))
	}
	return g
}
