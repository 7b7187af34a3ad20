package trace

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"boardrun/importers/linework"
	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

// ends returns a wall's axis, from its first station to its last.
func (t *tracer) axisOf(w *wall) (a, b geom.Pt) {
	fr := &t.bundles[w.fr].fr
	mid := (w.ra + w.rb) / 2
	return fr.from(w.from, mid), fr.from(w.to, mid)
}

// emit turns the walls and their openings into the plan's, in space order: by
// the axis' ends, from the bottom of the sheet up and left to right.
func (t *tracer) emit() {
	order := make([]int, 0, len(t.walls))
	for i := range t.walls {
		if !t.walls[i].dead {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(i, j int) int {
		a, b := t.axisOf(&t.walls[i])
		c, d := t.axisOf(&t.walls[j])
		return cmp.Or(cmp.Compare(a.Y, c.Y), cmp.Compare(a.X, c.X), cmp.Compare(b.Y, d.Y), cmp.Compare(b.X, d.X),
			cmp.Compare(t.walls[i].thick(), t.walls[j].thick()))
	})
	t.planWall = make([]int, len(t.walls))
	for i := range t.planWall {
		t.planWall[i] = -1
	}
	for _, i := range order {
		w := &t.walls[i]
		t.planWall[i] = len(t.out.Walls)
		t.out.Walls = append(t.out.Walls, t.emitWall(w))
		for _, op := range w.openings() {
			t.out.Openings = append(t.out.Openings, t.emitOpening(t.planWall[i], w, &op))
		}
	}
}

func (t *tracer) emitWall(w *wall) plan.Wall {
	a, b := t.axisOf(w)
	c := &t.classes[w.class()]
	out := plan.Wall{
		Storey: t.opt.Storey, Axis: [2]geom.Pt{t.global(a), t.global(b)}, Thickness: w.thick(),
		Tag: c.use.Type, Status: *c.use.Status, Kind: *c.use.Kind, Layer: c.layer, Doubt: w.doubt,
		Sources: t.wallSources(w), Height: t.heightOf(w),
	}
	if w.centre && t.nobodySaid(w) {
		out.Doubt = "drawn as a centreline, and neither layer nor job says how thick"
		if !t.thicknessTold[out.Layer] { // once a layer: one word of the job settles all
			if t.thicknessTold == nil {
				t.thicknessTold = map[string]bool{}
			}
			t.thicknessTold[out.Layer] = true
			t.doubt(CodeThickness, out, a, "all such walls on this layer are taken as "+sizeText(w.thick())+"; give the layer a thickness or a type")
		}
	}
	for e, k := range w.ends {
		out.Ext[e] = k == teeEnd || k == cornerEnd
	}
	if fr := &t.bundles[w.fr].fr; fr.polar {
		out.Arc = &plan.Arc{Centre: t.global(fr.ctr), Radius: (w.ra + w.rb) / 2,
			Start: degrees(float64(w.from)/float64(fr.scale) + fr.cut),
			Sweep: float64(w.to-w.from) / float64(fr.scale) * 180 / math.Pi}
	}
	return out
}

// degrees turns an angle in radians into degrees from 0 to 360.
func degrees(a float64) float64 {
	d := math.Mod(a*180/math.Pi, 360)
	if d < 0 {
		d += 360
	}
	return d
}

// partsOf visits the linework a wall's faces were drawn with.
func (t *tracer) partsOf(w *wall, f func(src int32)) {
	visit := func(e *edge, s0, s1 Length) {
		for _, p := range e.parts {
			if min(p.s1, s1) > max(p.s0, s0) {
				f(p.src)
			}
		}
	}
	b := &t.bundles[w.fr]
	for _, p := range w.pieces {
		switch {
		case p.s1 <= p.s0:
		case p.a >= 0:
			visit(&b.edges[p.a], p.s0, p.s1)
			visit(&b.edges[p.b], p.s0, p.s1)
		case p.b <= centreBase:
			visit(&t.centreEdges[centreBase-p.b].edge, p.s0, p.s1)
		}
	}
}

// centreBase and below: piece.b names a centreline edge, counted downwards.
const centreBase = -2

func (t *tracer) wallSources(w *wall) []plan.Source {
	var out []plan.Source
	last := -1
	t.partsOf(w, func(src int32) {
		c := t.src[src].c
		if c.Entity == last {
			return
		}
		last = c.Entity
		out = append(out, t.sourceOf(c))
	})
	return sortSources(out)
}

func sortSources(s []plan.Source) []plan.Source {
	slices.SortFunc(s, func(a, b plan.Source) int {
		return cmp.Or(cmp.Compare(len(a.Ref), len(b.Ref)), cmp.Compare(a.Ref, b.Ref), cmp.Compare(a.Line, b.Line))
	})
	return slices.CompactFunc(s, func(a, b plan.Source) bool { return a.Ref == b.Ref && a.Line == b.Line })
}

// heightOf is the extrusion height most of a wall's lines carry (group 39).
func (t *tracer) heightOf(w *wall) Length {
	var best Length
	t.partsOf(w, func(src int32) { best = max(best, t.src[src].height) })
	return best
}

func (t *tracer) emitOpening(k int, w *wall, op *opening) plan.Opening {
	fr := &t.bundles[w.fr].fr
	mid := (w.ra + w.rb) / 2
	o := plan.Opening{Wall: k, At: fr.along((op.s0+op.s1)/2-w.from, mid), Width: fr.along(op.s1-op.s0, mid), Basis: op.basis, Doubt: op.doubt}
	switch op.kind {
	case Doors:
		o.Kind = plan.Door
	case Windows:
		o.Kind = plan.Window
	case Heads:
		o.Kind = plan.Framed
	default:
		o.Kind = plan.Wrapped
	}
	if (o.Kind == plan.Wrapped || o.Kind == plan.Framed) && t.opt.Cased != plan.Door {
		o.Kind = t.opt.Cased
	}
	if op.host >= 0 {
		t.askBlock(&o, op)
	}
	for _, m := range op.lines {
		o.Sources = append(o.Sources, t.source(t.marks.lines[m].src))
	}
	for _, m := range op.swings {
		if h := t.hostOf(t.src[t.marks.swings[m].src].c.Handle); len(h) == 0 {
			o.Sources = append(o.Sources, t.source(t.marks.swings[m].src))
		}
	}
	for _, s := range op.jambs {
		o.Sources = append(o.Sources, t.source(s))
	}
	o.Sources = sortSources(o.Sources)
	if o.Kind == plan.Door {
		o.Leaves = max(1, len(op.swings))
		if op.host >= 0 {
			o.Leaves = max(1, min(2, len(t.marks.hosts[op.host].swings)))
		}
		if op.mate > 0 {
			o.Leaves = 2
			if in := t.marks.hosts[op.mate-1].insert; in >= 0 {
				o.Sources = sortSources(append(o.Sources, t.sourceOf(&t.d.Inserts[in].Common)))
			}
		}
	}
	return o
}

// askBlock puts what an opening's block says into it. The width stays the one
// drawn between the jambs; what the attributes say is the leaf's.
func (t *tracer) askBlock(o *plan.Opening, op *opening) {
	h := &t.marks.hosts[op.host]
	if h.insert < 0 {
		return
	}
	in := &t.d.Inserts[h.insert]
	said := tellsOf(in, t.d.UnitMM)
	o.Mark, o.Type = said.mark, in.Name
	if said.kind != "" {
		o.Type = said.kind
	}
	if h.use != nil {
		o.Kind = h.use.Kind
		if h.use.Type != "" {
			o.Type = h.use.Type
		}
	}
	o.Leaf = [2]Length{said.width, said.height}
	o.Sill = said.sill
	setHead(o, said.height, "attribute")
	o.Sources = append(o.Sources, t.sourceOf(&in.Common))
	if said.width > 0 && op.mate == 0 && (said.width-o.Width).Abs() > 10*mm && op.doubt == "" {
		o.Doubt = "the block says " + strings.TrimSpace(sizeText(said.width)) + ", between the jambs are " + sizeText(o.Width)
	}
}

// setHead sets an opening's head from the height of its leaf or window. A
// window's height says nothing of its head while nobody says the sill.
func setHead(o *plan.Opening, height Length, by string) {
	if height > 0 && o.Head == 0 && (o.Kind != plan.Window || o.Sill > 0) {
		o.Head, o.HeadBy = o.Sill+height, by
	}
}

func sizeText(l Length) string { return trimMM(l) + " mm" }

// source of a drawing's own entity.
func (t *tracer) source(src int32) plan.Source { return t.sourceOf(t.src[src].c) }

func (t *tracer) sourceOf(c *linework.Common) plan.Source {
	return plan.Source{File: t.d.File, Line: c.Line, Ref: c.Handle, Layer: c.Layer, Entity: c.Type}
}

// nobodySaid reports whether a centreline's thickness is the assumed one.
func (t *tracer) nobodySaid(w *wall) bool {
	said := false
	t.partsOf(w, func(src int32) { said = said || t.centreThickness(src) > 0 })
	return !said
}
