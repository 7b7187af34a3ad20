package ifc

import (
	"slices"

	"boardrun/importers/ifc/part21"
)

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
