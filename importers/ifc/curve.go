package ifc

import (
	"math"
	"slices"

	"boardrun/importers/ifc/part21"
)

// curve is a flattened curve; round tells that some of it was not straight.
type curve struct {
	points []vec
	round  bool
}

// curve reads a bounded curve in mm.
func (g *geo) curve(id part21.ID) (curve, error) {
	rec, err := g.r.Get(id)
	if err != nil {
		return curve{}, err
	}
	if err := g.enter(id); err != nil {
		return curve{}, err
	}
	defer g.leave()
	switch rec.Key {
	case ifcPolyline:
		return g.polyline(rec)
	case ifcIndexedPolyCurve:
		return g.indexedCurve(rec)
	case ifcCompositeCurve:
		return g.compositeCurve(rec)
	case ifcTrimmedCurve:
		return g.trimmed(rec)
	case ifcCircle, ifcEllipse:
		return g.conic(rec, 0, 2*math.Pi, true)
	}
	return curve{}, notSupported(rec)
}

func (g *geo) polyline(rec *part21.Record) (curve, error) {
	l := rec.Arg(0).List()
	c := curve{points: make([]vec, 0, len(l))}
	for i := range l {
		p, err := g.point(l[i].Ref())
		if err != nil {
			return c, err
		}
		c.points = append(c.points, p)
	}
	if len(c.points) < 2 {
		return c, bad(rec.ID, "a polyline of %d points", len(c.points))
	}
	return c, nil
}

// pointList reads an IfcCartesianPointList.
func (g *geo) pointList(id part21.ID) ([]vec, error) {
	rec, err := g.r.Get(id)
	if err != nil {
		return nil, err
	}
	if rec.Key != ifcCartesianPointList2D && rec.Key != ifcCartesianPointList3D {
		return nil, notSupported(rec)
	}
	l := rec.Arg(0).List()
	if len(l) > maxPoints {
		return nil, bad(id, "%d points in one list; the limit is %d", len(l), maxPoints)
	}
	pts := make([]vec, len(l))
	for i := range l {
		if pts[i] = triple(l[i].List()).mul(g.unit.mm); !pts[i].usable() {
			return nil, bad(id, "point %d is beyond 10,000 km", i+1)
		}
	}
	return pts, nil
}

func (g *geo) indexedCurve(rec *part21.Record) (curve, error) {
	pts, err := g.pointList(rec.Arg(0).Ref())
	if err != nil {
		return curve{}, err
	}
	if rec.Arg(1).IsNull() {
		return curve{points: pts}, nil
	}
	var c curve
	segs := rec.Arg(1).List()
	for i := range segs {
		var at []vec
		idx := segs[i].List()
		if len(idx) == 1 && idx[0].Kind == part21.List {
			idx = idx[0].List()
		}
		for j := range idx {
			k := int(idx[j].Float())
			if k < 1 || k > len(pts) {
				return c, bad(rec.ID, "point %d of %d is not in the list", k, len(pts))
			}
			at = append(at, pts[k-1])
		}
		if segs[i].Key == ifcArcIndex && len(at) == 3 {
			c.join(arcThrough(at[0], at[1], at[2]))
		} else {
			c.join(curve{points: at})
		}
	}
	return c, nil
}

// joinTol is how far in mm the pieces of a composite curve may miss each other:
// ends of arcs are given by rounded angles.
const joinTol = 0.5

// join appends d, dropping its first point where it repeats the last of c.
func (c *curve) join(d curve) {
	skip := 0
	if n := len(c.points); n > 0 && len(d.points) > 0 && c.points[n-1].sub(d.points[0]).len() < joinTol {
		skip = 1
	}
	c.round = c.round || d.round
	c.points = append(c.points, d.points[min(skip, len(d.points)):]...)
}

func (c curve) reversed() curve {
	out := curve{points: slices.Clone(c.points), round: c.round}
	slices.Reverse(out.points)
	return out
}

func (g *geo) compositeCurve(rec *part21.Record) (curve, error) {
	var c curve
	l := rec.Arg(0).List()
	for i := range l {
		seg, err := g.r.Get(l[i].Ref())
		if err != nil {
			return c, err
		}
		if seg.Key != ifcCompositeCurveSegment {
			return c, notSupported(seg)
		}
		d, err := g.curve(seg.Arg(2).Ref())
		if err != nil {
			return c, err
		}
		if seg.Arg(1).Is("F") {
			d = d.reversed()
		}
		c.join(d)
	}
	if len(c.points) < 2 {
		return c, bad(rec.ID, "a composite curve without length")
	}
	return c, nil
}

// trimmed reads a trimmed line, circle or ellipse. Parameters are used where
// given, except that a line's ends are taken from points where the file has
// them: they need no unit.
func (g *geo) trimmed(rec *part21.Record) (curve, error) {
	basis, err := g.follow(rec, 0)
	if err != nil {
		return curve{}, err
	}
	sense := !rec.Arg(3).Is("F")
	t1, p1, err := g.trim(rec.Arg(1))
	if err != nil {
		return curve{}, err
	}
	t2, p2, err := g.trim(rec.Arg(2))
	if err != nil {
		return curve{}, err
	}
	switch basis.Key {
	case ifcLine:
		return g.trimmedLine(rec, basis, t1, t2, p1, p2)
	case ifcCircle, ifcEllipse:
		byPoint := rec.Arg(4).Is("CARTESIAN") && p1 != nil && p2 != nil
		if t1 == nil || t2 == nil || byPoint {
			if p1 == nil || p2 == nil {
				return curve{}, bad(rec.ID, "an arc without ends")
			}
			a1, a2, err := g.anglesOf(basis, *p1, *p2)
			if err != nil {
				return curve{}, err
			}
			return g.conic(basis, a1, a2, sense)
		}
		return g.conic(basis, *t1*g.unit.radians, *t2*g.unit.radians, sense)
	}
	return curve{}, notSupported(basis)
}

// trim reads one end of a trimmed curve: a parameter, a point, or both.
func (g *geo) trim(v *part21.Value) (t *float64, p *vec, err error) {
	l := v.List()
	for i := range l {
		if id := l[i].Ref(); id != 0 {
			q, err := g.point(id)
			if err != nil {
				return nil, nil, err
			}
			p = &q
		} else if f, ok := l[i].Number(); ok {
			t = &f
		}
	}
	return t, p, nil
}

func (g *geo) trimmedLine(rec, line *part21.Record, t1, t2 *float64, p1, p2 *vec) (curve, error) {
	if p1 != nil && p2 != nil {
		return curve{points: []vec{*p1, *p2}}, nil
	}
	o, err := g.point(line.Arg(0).Ref())
	if err != nil {
		return curve{}, err
	}
	v, err := g.follow(line, 1)
	if err != nil {
		return curve{}, err
	}
	d, err := g.direction(v.Arg(0).Ref(), vec{1, 0, 0})
	if err != nil || t1 == nil || t2 == nil {
		return curve{}, bad(rec.ID, "a line without ends")
	}
	d = d.mul(v.Arg(1).Float() * g.unit.mm)
	return curve{points: []vec{o.add(d.mul(*t1)), o.add(d.mul(*t2))}}, nil
}

// anglesOf returns the angles of two points on a conic.
func (g *geo) anglesOf(rec *part21.Record, p1, p2 vec) (a1, a2 float64, err error) {
	m, rx, ry, err := g.conicFrame(rec)
	if err != nil {
		return 0, 0, err
	}
	inv := m.inverse()
	q1, q2 := inv.point(p1), inv.point(p2)
	return math.Atan2(q1.y/ry, q1.x/rx), math.Atan2(q2.y/ry, q2.x/rx), nil
}

func (g *geo) conicFrame(rec *part21.Record) (m affine, rx, ry float64, err error) {
	if m, err = g.axis3(rec.Arg(0).Ref()); err != nil {
		return
	}
	rx = rec.Arg(1).Float() * g.unit.mm
	ry = rx
	if rec.Key == ifcEllipse {
		ry = rec.Arg(2).Float() * g.unit.mm
	}
	if !(rx > 0 && ry > 0 && rx+ry < farthest) {
		err = bad(rec.ID, "%s with a radius that is not positive or too long", rec.Name)
	}
	return
}

// conic flattens an arc from angle a1 to a2, counter-clockwise if sense is set.
func (g *geo) conic(rec *part21.Record, a1, a2 float64, sense bool) (curve, error) {
	m, rx, ry, err := g.conicFrame(rec)
	if err != nil {
		return curve{}, err
	}
	sweep := a2 - a1
	if math.IsNaN(sweep) || math.IsInf(sweep, 0) {
		return curve{}, bad(rec.ID, "an arc without ends")
	}
	const turn = 2 * math.Pi
	if sense {
		for sweep = math.Mod(sweep, turn); sweep <= 1e-12; sweep += turn {
		}
	} else {
		for sweep = math.Mod(sweep, turn); sweep >= -1e-12; sweep -= turn {
		}
	}
	n := chords(sweep)
	c := curve{points: make([]vec, n+1), round: true}
	for i := range c.points {
		a := a1 + sweep*float64(i)/float64(n)
		c.points[i] = m.point(vec{rx * math.Cos(a), ry * math.Sin(a), 0})
	}
	return c, nil
}

// chordAngle is the angle one chord of a flattened arc spans. It does not depend
// on the radius, so that the chords of both sides of a round wall are parallel;
// at 10 m radius a chord leaves its arc by 0.4 mm.
const chordAngle = math.Pi / 180

// chords returns into how many chords an arc is cut.
func chords(sweep float64) int {
	return min(max(int(math.Ceil(math.Abs(sweep)/chordAngle-1e-3)), 4), 360)
}

// arcThrough returns the arc from a through b to c; their chords if they are in
// line.
func arcThrough(a, b, c vec) curve {
	u, v := b.sub(a), c.sub(a)
	n := u.cross(v)
	d := 2 * n.dot(n)
	if d < 1e-12*u.dot(u)*v.dot(v) || d == 0 {
		return curve{points: []vec{a, b, c}}
	}
	o := a.add(n.cross(u).mul(v.dot(v)).add(v.cross(n).mul(u.dot(u))).mul(1 / d))
	r := a.sub(o).len()
	f := frame(o, n, a.sub(o))
	q := f.inverse().point(c)
	sweep := math.Atan2(q.y, q.x)
	if sweep <= 0 {
		sweep += 2 * math.Pi
	}
	k := chords(sweep)
	out := curve{points: make([]vec, k+1), round: true}
	for i := range out.points {
		t := sweep * float64(i) / float64(k)
		out.points[i] = f.point(vec{r * math.Cos(t), r * math.Sin(t), 0})
	}
	out.points[0], out.points[k] = a, c
	return out
}
