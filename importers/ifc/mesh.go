package ifc

import (
	"cmp"
	"math"
	"slices"

	"boardrun/importers/ifc/part21"
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

// mesh reads the solids that are given by their faces.
func (g *geo) mesh(rec *part21.Record) (solid, error) {
	m := &mesh{}
	var err error
	switch rec.Key {
	case ifcTriangulatedFaceSet, ifcTriangulatedIrregularNetwork:
		err = g.triangles(m, rec)
	case ifcPolygonalFaceSet:
		err = g.polygons(m, rec)
	case ifcFacetedBrep, ifcManifoldSolidBrep, ifcAdvancedBrep:
		err = g.shell(m, rec.Arg(0).Ref())
	case ifcFacetedBrepWithVoids, ifcAdvancedBrepWithVoids:
		if err = g.shell(m, rec.Arg(0).Ref()); err == nil {
			err = g.shells(m, rec.Arg(1))
		}
	case ifcFaceBasedSurfaceModel, ifcShellBasedSurfaceModel:
		err = g.shells(m, rec.Arg(0))
	case ifcClosedShell, ifcOpenShell, ifcConnectedFaceSet:
		err = g.shell(m, rec.ID)
	default:
		return nil, notSupported(rec)
	}
	if err == nil && len(m.faces) == 0 {
		err = bad(rec.ID, "%s without a usable face", rec.Name)
	}
	m.index = nil
	return m, err
}

func (g *geo) shells(m *mesh, v *part21.Value) error {
	for i := range v.List() {
		if err := g.shell(m, v.List()[i].Ref()); err != nil {
			return err
		}
	}
	return nil
}

func (g *geo) shell(m *mesh, id part21.ID) error {
	rec, err := g.r.Get(id)
	if err != nil {
		return err
	}
	l := rec.Arg(0).List()
	if len(l) > maxFaces {
		return bad(id, "%d faces; the limit is %d", len(l), maxFaces)
	}
	for i := range l {
		f, err := g.r.Get(l[i].Ref())
		if err != nil {
			return err
		}
		if err := g.face(m, f); err != nil {
			return err
		}
	}
	return nil
}

// face reads one face. Curved faces of advanced B-reps are taken by their
// edges: between the straight edges of a wall that is exact.
func (g *geo) face(m *mesh, rec *part21.Record) error {
	switch rec.Key {
	case ifcFace, ifcFaceSurface, ifcAdvancedFace:
	default:
		return notSupported(rec)
	}
	var loops [][]int32
	outer := 0
	l := rec.Arg(0).List()
	for i := range l {
		b, err := g.r.Get(l[i].Ref())
		if err != nil {
			return err
		}
		loop, err := g.loop(m, b.Arg(0).Ref())
		if err != nil {
			return err
		}
		if b.Arg(1).Is("F") {
			slices.Reverse(loop)
		}
		if b.Key == ifcFaceOuterBound {
			outer = i
		}
		loops = append(loops, loop)
	}
	if len(loops) > 0 {
		loops[0], loops[outer] = loops[outer], loops[0]
	}
	m.face(loops)
	return nil
}

func (g *geo) loop(m *mesh, id part21.ID) ([]int32, error) {
	rec, err := g.r.Get(id)
	if err != nil {
		return nil, err
	}
	l := rec.Arg(0).List()
	out := make([]int32, 0, len(l))
	switch rec.Key {
	case ifcPolyLoop:
		for i := range l {
			p, err := g.point(l[i].Ref())
			if err != nil {
				return nil, err
			}
			out = append(out, m.add(p))
		}
		return out, nil
	case ifcEdgeLoop:
		for i := range l {
			pts, err := g.orientedEdge(l[i].Ref())
			if err != nil {
				return nil, err
			}
			for _, p := range pts[:max(len(pts)-1, 0)] {
				out = append(out, m.add(p))
			}
		}
		return out, nil
	}
	return nil, notSupported(rec)
}

// orientedEdge returns the points of an edge in the sense of its loop.
func (g *geo) orientedEdge(id part21.ID) ([]vec, error) {
	o, err := g.r.Get(id)
	if err != nil {
		return nil, err
	}
	if o.Key != ifcOrientedEdge {
		return nil, notSupported(o)
	}
	e, err := g.follow(o, 2)
	if err != nil {
		return nil, err
	}
	pts := make([]vec, 2)
	for i := range pts {
		v, err := g.follow(e, i)
		if err != nil {
			return nil, err
		}
		if pts[i], err = g.point(v.Arg(0).Ref()); err != nil {
			return nil, err
		}
	}
	if e.Key == ifcEdgeCurve {
		if pts, err = g.bent(e, pts[0], pts[1]); err != nil {
			return nil, err
		}
	}
	if o.Arg(3).Is("F") {
		slices.Reverse(pts)
	}
	return pts, nil
}

// bent follows the curve of an edge from a to b.
func (g *geo) bent(e *part21.Record, a, b vec) ([]vec, error) {
	c, err := g.follow(e, 2)
	if err != nil {
		return nil, err
	}
	switch c.Key {
	case ifcLine, ifcPolyline:
		return []vec{a, b}, nil
	case ifcCircle, ifcEllipse:
		a1, a2, err := g.anglesOf(c, a, b)
		if err != nil {
			return nil, err
		}
		arc, err := g.conic(c, a1, a2, !e.Arg(3).Is("F"))
		return arc.points, err
	}
	return nil, notSupported(c)
}

func (g *geo) triangles(m *mesh, rec *part21.Record) error {
	pts, err := g.pointList(rec.Arg(0).Ref())
	if err != nil {
		return err
	}
	l := rec.Arg(3).List()
	if len(l) > maxFaces {
		return bad(rec.ID, "%d faces; the limit is %d", len(l), maxFaces)
	}
	at := make([]int32, len(pts))
	for i, p := range pts {
		at[i] = m.add(p)
	}
	pn := throughIndex(rec.Arg(4), l)
	for i := range l {
		loop, err := indices(rec, l[i].List(), at, pn)
		if err != nil {
			return err
		}
		m.face([][]int32{loop})
	}
	return nil
}

func (g *geo) polygons(m *mesh, rec *part21.Record) error {
	pts, err := g.pointList(rec.Arg(0).Ref())
	if err != nil {
		return err
	}
	l := rec.Arg(2).List()
	if len(l) > maxFaces {
		return bad(rec.ID, "%d faces; the limit is %d", len(l), maxFaces)
	}
	at := make([]int32, len(pts))
	for i, p := range pts {
		at[i] = m.add(p)
	}
	pn := rec.Arg(3).List()
	for i := range l {
		f, err := g.r.Get(l[i].Ref())
		if err != nil {
			return err
		}
		loop, err := indices(f, f.Arg(0).List(), at, pn)
		if err != nil {
			return err
		}
		loops := [][]int32{loop}
		for j := range f.Arg(1).List() {
			if loop, err = indices(f, f.Arg(1).List()[j].List(), at, pn); err != nil {
				return err
			}
			loops = append(loops, loop)
		}
		m.face(loops)
	}
	return nil
}

// throughIndex returns PnIndex if v is that. Before the second addendum of IFC4
// its place held the numbers of normals, nested or flat, which must not be
// taken for points: PnIndex is as long as the greatest number that uses it.
func throughIndex(v *part21.Value, faces []part21.Value) []part21.Value {
	pn := v.List()
	if len(pn) == 0 || pn[0].Kind != part21.Int {
		return nil
	}
	most := 0
	for i := range faces {
		for j := range faces[i].List() {
			most = max(most, int(faces[i].List()[j].Float()))
		}
	}
	if most != len(pn) {
		return nil
	}
	return pn
}

// indices turns a list of numbers, counted from 1 and going through pn where it
// is given, into points of the mesh.
func indices(rec *part21.Record, l []part21.Value, at []int32, pn []part21.Value) ([]int32, error) {
	out := make([]int32, 0, len(l))
	for i := range l {
		k := int(l[i].Float())
		if k >= 1 && k <= len(pn) {
			k = int(pn[k-1].Float())
		}
		if k < 1 || k > len(at) {
			return nil, bad(rec.ID, "point %d of %d is not in the list", k, len(at))
		}
		out = append(out, at[k-1])
	}
	return out, nil
}
