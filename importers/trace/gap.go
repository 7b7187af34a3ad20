package trace

// gap is the stretch between two pieces of a strand that stays one wall: walls
// across it, openings, slips of the pen.
type gap struct {
	interval
	ops []opening
}

// opening is a hole in a strand, in the strand's stations.
type opening struct {
	interval
	kind   Role // Doors, Windows, Heads for a cased one, Walls for a plain gap
	host   int32
	mate   int32 // the block of a second leaf, +1
	swings []int32
	lines  []int32
	jambs  []int32
	basis  string
	doubt  string
}

// bridge decides each gap of a strand: closed, opening or break. It returns
// the strands that are left, each one wall.
func (t *tracer) bridge(i int32) []strand {
	st := t.strands[i]
	var out []strand
	cur := strand{fr: st.fr, ra: st.ra, rb: st.rb, centre: st.centre, arc: st.arc, pieces: st.pieces[:1:1]}
	for k := 1; k < len(st.pieces); k++ {
		p := st.pieces[k]
		last := &cur.pieces[len(cur.pieces)-1]
		g := gap{interval: interval{last.s1, p.s0}}
		if t.parts(last, &p) || !t.decide(i, last, &p, &g) {
			out = append(out, cur)
			cur = strand{fr: st.fr, ra: st.ra, rb: st.rb, centre: st.centre, arc: st.arc, pieces: []piece{p}}
			continue
		}
		cur.pieces = append(cur.pieces, p)
		cur.gaps = append(cur.gaps, g)
	}
	return append(out, cur)
}

// parts reports whether two pieces on one axis are of two walls by what their
// layers say. Layers that differ in nothing but the name part a wall only where
// one passes into the other without a gap: an outline drawn between openings is
// often on the layer of the wall it joins.
func (t *tracer) parts(p, q *piece) bool {
	if p.class == q.class {
		return false
	}
	a, b := &t.classes[p.class].use, &t.classes[q.class].use
	if *a.Status != *b.Status || *a.Kind != *b.Kind || a.Type != b.Type || a.Thickness != b.Thickness {
		return true
	}
	return q.s0-p.s1 <= slip
}

// decide says whether the wall goes on over a gap, and notes the openings.
func (t *tracer) decide(i int32, p, q *piece, g *gap) bool {
	w := t.width(i, g.interval)
	if w <= slip {
		return true
	}
	if t.faceRunsOn(&t.strands[i], p, g.interval) {
		// a sill or a threshold may run through an opening
		if op, ok := t.opening(i, g.interval, false, false); ok && w >= minOpening && (op.kind == Doors || op.kind == Windows) {
			g.ops = append(g.ops, op)
		}
		return true
	}
	cov := t.covered(i, g.s0, g.s1)
	for _, v := range less(g.s0, g.s1, cov) {
		op, ok := t.opening(i, v, v.s0 > g.s0, v.s1 < g.s1)
		if !ok {
			if v.s0 == g.s0 && v.s1 == g.s1 {
				t.noteOpen(i, v)
			}
			return false
		}
		g.ops = append(g.ops, op)
	}
	return true
}

// openGap is a gap between two walls in line that nothing explains.
type openGap struct {
	at    pt
	width Length
	src   int32
}

// noteOpen keeps a gap for the list of doubts, if it is no wider than a plain
// opening may be: beyond that two walls merely stand in line.
func (t *tracer) noteOpen(i int32, v interval) {
	w := t.width(i, v)
	if w > maxCased {
		return
	}
	st := &t.strands[i]
	b := &t.bundles[st.fr]
	g := openGap{at: b.fr.from((v.s0+v.s1)/2, (st.ra+st.rb)/2), width: w, src: -1}
	for k := range st.pieces {
		if p := &st.pieces[k]; p.a >= 0 && p.s1 <= v.s0 {
			g.src = b.edges[p.a].parts[0].src
		}
	}
	t.openGaps = append(t.openGaps, g)
}

// width is the true width of a stretch on a strand's axis.
func (t *tracer) width(i int32, v interval) Length {
	st := &t.strands[i]
	return t.bundles[st.fr].fr.along(v.s1-v.s0, (st.ra+st.rb)/2)
}

// faceRunsOn reports whether one face of a wall is drawn right through a gap:
// a wall abuts on the other side, or the faces are there and something stands
// between them. Such a gap is closed unless it is far wider than any wall.
func (t *tracer) faceRunsOn(st *strand, p *piece, v interval) bool {
	if p.a < 0 || v.s1-v.s0 > 2*maxThick {
		return false
	}
	b := &t.bundles[st.fr]
	return b.runs(p.a, v) || b.runs(p.b, v)
}

// runs reports whether edge e covers the interval.
func (b *bundle) runs(e int32, v interval) bool {
	return b.edges[e].s0 <= v.s0+Eps && b.edges[e].s1 >= v.s1-Eps
}

// opening looks for what makes a gap an opening: a block, a swing, glass, a
// head, or jambs at both ends. wall0 and wall1 say that a crossing wall rather
// than a jamb ends it.
func (t *tracer) opening(i int32, v interval, wall0, wall1 bool) (opening, bool) {
	st := &t.strands[i]
	w := t.width(i, v)
	op := opening{interval: v, host: -1, basis: "drawn", kind: Walls}
	if w > maxOpening {
		return op, false
	}
	t.hostsAt(i, &op)
	t.swingsAt(i, &op)
	t.linesAt(i, &op)
	j0, j1 := t.jambAt(st, v.s0, &op), t.jambAt(st, v.s1, &op)
	switch {
	case op.kind != Walls && w >= minOpening/2:
		if op.kind == Doors && op.host < 0 && len(op.swings) == 1 {
			if r := t.marks.swings[op.swings[0]].radius; float64(r) < 0.62*float64(w) {
				op.doubt = "one leaf of " + sizeText(r) + " in a gap of " + sizeText(w)
			}
		}
		return op, true
	case w < minOpening || w > maxCased:
		return op, false
	case st.centre:
		op.doubt = "nothing drawn in the gap says what it is"
		return op, !(wall0 && wall1)
	case (j0 || wall0) && (j1 || wall1) && !(wall0 && wall1):
		if w > wideCased {
			op.doubt = "a plain gap this wide may be an opening, or two walls that end there"
		}
		return op, true
	}
	return op, false
}
