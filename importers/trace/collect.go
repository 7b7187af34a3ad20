package trace

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// collect sorts the drawing's entities by what their layer holds. What is not
// on a mapped layer is background; what is hidden or outside the region is
// accounted for and left out.
func (t *tracer) collect() {
	t.outEnt = map[int]bool{}
	t.findClasses()
	t.setOrigin()
	t.collectInserts()
	d := t.d
	for i := range d.Segments {
		s := &d.Segments[i]
		id, role := t.enter(&s.Common, s.A, s.B)
		if id < 0 {
			continue
		}
		st := stroke{t.local(s.A[0], s.A[1]), t.local(s.B[0], s.B[1]), id}
		t.src[id].height, t.src[id].width = measure.FromMM(s.Thickness), measure.FromMM(s.Width)
		switch role {
		case Walls:
			t.enterWall(st, s)
		case Doors, Windows, Heads:
			t.marks.lines = append(t.marks.lines, mark{st.a, st.b, id, role})
		}
	}
	for i := range d.Arcs {
		a := &d.Arcs[i]
		c := orb.Point{a.Centre[0], a.Centre[1]}
		id, role := t.enter(&a.Common, c, c)
		if id < 0 {
			continue
		}
		b := bend{t.local(c[0], c[1]), measure.FromMM(a.Radius), a.Start, a.End, id}
		t.src[id].height, t.src[id].width = measure.FromMM(a.Thickness), measure.FromMM(a.Width)
		switch role {
		case Walls:
			t.arcs = append(t.arcs, b)
		case Doors, Windows, Heads:
			t.marks.swings = append(t.marks.swings, b)
		}
	}
}

// enterWall puts a wall-layer stroke with the faces or with the centrelines.
func (t *tracer) enterWall(st stroke, s *linework.Segment) {
	if st.a == st.b {
		return
	}
	c := &t.classes[t.src[st.src].class]
	if c.use.Guessed && t.inSmallBlock(&s.Common) {
		return
	}
	if c.isCentre(s) {
		t.centres = append(t.centres, st)
		return
	}
	t.faces = append(t.faces, st)
	if norm2(st.b.Sub(st.a)) <= float64(maxThick)*float64(maxThick)*2 {
		t.marks.jambs = append(t.marks.jambs, mark{st.a, st.b, st.src, Walls})
	}
}

// inSmallBlock reports whether a piece comes out of a block no larger than a
// piece of furniture or a door.
func (t *tracer) inSmallBlock(c *linework.Common) bool {
	if c.Block == "" || c.Insert < 0 || c.Insert >= len(t.d.Inserts) {
		return false
	}
	b := t.d.Inserts[c.Insert].Box
	w, h := 0.0, 0.0
	for i := range b {
		w, h = max(w, math.Abs(b[i][0]-b[0][0])), max(h, math.Abs(b[i][1]-b[0][1]))
	}
	return w < 4000 && h < 4000
}

// enter registers one piece of linework; −1 if it is not to be read.
func (t *tracer) enter(c *linework.Common, a, b orb.Point) (int32, Role) {
	use, role := t.roleOf(c)
	if role == Background && c.Block != "" {
		// a door on a furniture layer is known by its block
		if h := t.hostOf(c.Handle); len(h) > 0 {
			role = t.marks.hosts[h[0]].role
		}
	}
	if role == Background || role == Ignore {
		return -1, role
	}
	if c.Hidden && !t.opt.Hidden {
		return -1, role
	}
	if !finite(a) || !finite(b) || !t.inRegion(a, b) {
		t.outEnt[c.Entity] = true
		return -1, role
	}
	id := int32(len(t.src))
	t.src = append(t.src, source{c: c, class: use, role: role})
	return id, role
}

func finite(p orb.Point) bool {
	const far = 1e11 // mm: beyond it a length no longer fits the grid
	return math.Abs(p[0]) < far && math.Abs(p[1]) < far
}

// inRegion reports whether the middle of a piece is in the part of the sheet
// to read.
func (t *tracer) inRegion(a, b orb.Point) bool {
	if len(t.region) == 0 {
		return true
	}
	m := geom.Pt{X: measure.FromMM((a[0] + b[0]) / 2), Y: measure.FromMM((a[1] + b[1]) / 2)}
	if !t.regionAt.built {
		for i, r := range t.region {
			t.regionAt.add(int32(i), r...)
		}
	}
	in := false
	t.regionAt.search(0, func(i int32) { in = in || inside(t.region[i], m) }, m)
	return in
}

// setOrigin moves the drawing to the grid's middle, by whole metres so that a
// turned drawing gets the turned origin.
func (t *tracer) setOrigin() {
	var lo, hi geom.Pt
	first := true
	for i := range t.d.Segments {
		s := &t.d.Segments[i]
		if !finite(s.A) || t.roleIsBackground(&s.Common) {
			continue
		}
		p := geom.Pt{X: measure.FromMM(s.A[0]), Y: measure.FromMM(s.A[1])}
		if first {
			lo, hi, first = p, p, false
		}
		lo.X, lo.Y = min(lo.X, p.X), min(lo.Y, p.Y)
		hi.X, hi.Y = max(hi.X, p.X), max(hi.Y, p.Y)
	}
	t.origin = geom.Pt{X: ((lo.X + hi.X) / 2).RoundTo(measure.Metre), Y: ((lo.Y + hi.Y) / 2).RoundTo(measure.Metre)}
}

// findClasses lists the wall layers in use, by name.
func (t *tracer) findClasses() {
	t.layerUse = map[string]layerInfo{}
	var names []string
	note := func(c *linework.Common) {
		if _, ok := t.layerUse[c.Layer]; ok {
			return
		}
		u := t.m.use(c.Layer)
		li := layerInfo{class: -1}
		if u != nil {
			li.role = u.Role
			li.use = u
		}
		t.layerUse[c.Layer] = li
		names = append(names, c.Layer)
	}
	for i := range t.d.Segments {
		note(&t.d.Segments[i].Common)
	}
	for i := range t.d.Arcs {
		note(&t.d.Arcs[i].Common)
	}
	for i := range t.d.Fills {
		note(&t.d.Fills[i].Common)
	}
	for i := range t.d.Texts {
		note(&t.d.Texts[i].Common)
	}
	for i := range t.d.Inserts {
		note(&t.d.Inserts[i].Common)
	}
	for i := range t.d.Others {
		note(&t.d.Others[i].Common)
	}
	slices.SortFunc(names, func(a, b string) int { return cmp.Or(cmp.Compare(plain(a), plain(b)), cmp.Compare(a, b)) })
	for _, n := range names {
		li := t.layerUse[n]
		if li.role != Walls && li.role != WallFill {
			continue
		}
		// the same layer bound from two references is one class
		if k := len(t.classes); k > 0 && plain(t.classes[k-1].layer) == plain(n) {
			li.class = int32(k - 1)
		} else {
			li.class = int32(k)
			t.classes = append(t.classes, newClass(n, *li.use, &t.opt))
		}
		t.layerUse[n] = li
	}
}

type layerInfo struct {
	role  Role
	class int32
	use   *LayerUse
}

func (t *tracer) roleOf(c *linework.Common) (int32, Role) {
	li := t.layerUse[c.Layer]
	return li.class, li.role
}

func (t *tracer) roleIsBackground(c *linework.Common) bool {
	_, role := t.roleOf(c)
	return role == Background || role == Ignore
}

// inside reports whether p lies in a polygon; points on its outline may fall
// either way.
func inside(poly geom.Poly, p geom.Pt) bool {
	in := false
	for i, j := 0, len(poly)-1; i < len(poly); j, i = i, i+1 {
		a, b := poly[i], poly[j]
		if (a.Y > p.Y) == (b.Y > p.Y) {
			continue
		}
		if float64(p.X-a.X) < float64(b.X-a.X)*float64(p.Y-a.Y)/float64(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}
