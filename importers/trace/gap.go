package trace

import (
	"math"
	"strings"

	"boardrun/internal/measure"
)

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
		return op, true
	case w < minOpening || w > maxCased:
		return op, false
	case st.centre:
		op.doubt = "nothing drawn in the gap says what it is"
		return op, !(wall0 && wall1)
	case (j0 || wall0) && (j1 || wall1) && !(wall0 && wall1):
		return op, true
	}
	return op, false
}

// hostsAt finds the block that stands in a gap.
func (t *tracer) hostsAt(i int32, op *opening) {
	st := &t.strands[i]
	fr := &t.bundles[st.fr].fr
	best := Length(0)
	t.marks.hostAt.search(50*mm, func(k int32) {
		h := &t.marks.hosts[k]
		s0, s1, r0, r1 := extent(fr, h.box[:])
		if r0 > st.rb+50*mm || r1 < st.ra-50*mm {
			return
		}
		l := min(s1, op.s1) - max(s0, op.s0)
		if float64(l) < 0.6*float64(op.s1-op.s0) || float64(l) < 0.4*float64(s1-s0) {
			return
		}
		if l > best || l == best && op.host >= 0 && lessHost(t, k, op.host) {
			best, op.host, op.kind = l, k, h.role
		}
	}, bandBox(fr, op.s0, op.s1, st.ra, st.rb)...)
}

// lessHost orders blocks by place, then by file order.
func lessHost(t *tracer, a, b int32) bool {
	p, q := t.marks.hosts[a].at, t.marks.hosts[b].at
	if p != q {
		return p.X < q.X || p.X == q.X && p.Y < q.Y
	}
	return a < b
}

// swingsAt finds the door swings hinged at a jamb of the gap, with a radius
// that fits it: one leaf, or two that share it.
func (t *tracer) swingsAt(i int32, op *opening) {
	st := &t.strands[i]
	fr := &t.bundles[st.fr].fr
	w := float64(t.width(i, op.interval))
	near := 60*mm + Length(0.05*w)
	t.marks.swingAt.search(100*mm, func(k int32) {
		b := &t.marks.swings[k]
		sweep := b.end - b.start
		if sweep < 10 || sweep > 200 {
			return
		}
		s, r := fr.to(b.ctr)
		if r < st.ra-100*mm || r > st.rb+100*mm {
			return
		}
		if (s-op.s0).Abs() > near && (s-op.s1).Abs() > near {
			return
		}
		q := float64(b.radius) / w
		if q < 0.3 || q > 1.1 || q > 0.62 && q < 0.85 {
			return
		}
		op.swings = append(op.swings, k)
		if op.kind == Walls && t.src[b.src].role != Windows {
			op.kind = Doors
		}
	}, bandBox(fr, op.s0, op.s1, st.ra, st.rb)...)
}

// linesAt finds glass, sills, thresholds and heads drawn along the gap: lines
// of one role that together run over most of it.
func (t *tracer) linesAt(i int32, op *opening) {
	st := &t.strands[i]
	fr := &t.bundles[st.fr].fr
	over := map[Role][]interval{}
	var glass []interval
	t.marks.lineAt.search(50*mm, func(k int32) {
		m := &t.marks.lines[k]
		s0, s1, r0, r1 := extent2(fr, m.a, m.b)
		if r0 < st.ra-100*mm || r1 > st.rb+100*mm {
			return
		}
		v := interval{max(s0, op.s0), min(s1, op.s1)}
		if v.s1-v.s0 < -Eps {
			return
		}
		op.lines = append(op.lines, k)
		if r1-r0 > max(Eps, (s1-s0)/20) || v.s1 <= v.s0 {
			return
		}
		src := &t.src[m.src]
		over[m.role] = append(over[m.role], v)
		// a layer of openings in general: a full line between the faces is glass
		if m.role == Heads && r0 > st.ra+10*mm && r1 < st.rb-10*mm && !dashed(src.c.Linetype) {
			glass = append(glass, v)
		}
	}, bandBox(fr, op.s0, op.s1, st.ra, st.rb)...)
	if op.kind != Walls {
		return
	}
	full := func(iv []interval) bool {
		var sum Length
		for _, v := range union(iv) {
			sum += v.s1 - v.s0
		}
		return float64(sum) >= 0.8*float64(op.s1-op.s0)
	}
	switch {
	case full(over[Windows]), full(glass):
		op.kind = Windows
	case full(over[Doors]):
		op.kind = Doors
	case full(over[Heads]):
		op.kind = Heads
	}
}

// dashed reports whether a linetype is one of broken lines.
func dashed(linetype string) bool {
	l := strings.ToLower(linetype)
	for _, w := range []string{"dash", "hidden", "dot", "phantom", "center", "strich", "verdeckt"} {
		if strings.Contains(l, w) {
			return true
		}
	}
	return false
}

// jambAt reports whether a line across the wall ends a gap at station s.
func (t *tracer) jambAt(st *strand, s Length, op *opening) bool {
	fr := &t.bundles[st.fr].fr
	const reach = 30 * measure.Millimetre
	var covers []interval
	hit := func(a mark) {
		s0, s1, r0, r1 := extent2(fr, a.a, a.b)
		if s1-s0 > reach || s0 < s-reach || s1 > s+reach || r1-r0 < 2*(s1-s0) || r1 < st.ra || r0 > st.rb {
			return
		}
		covers = append(covers, interval{max(r0, st.ra), min(r1, st.rb)})
		op.jambs = append(op.jambs, a.src)
	}
	box := bandBox(fr, s-reach, s+reach, st.ra, st.rb)
	t.marks.jambAt.search(0, func(k int32) { hit(t.marks.jambs[k]) }, box...)
	t.marks.lineAt.search(0, func(k int32) { hit(t.marks.lines[k]) }, box...)
	var sum Length
	for _, v := range union(covers) {
		sum += max(0, v.s1-v.s0)
	}
	return float64(sum) >= 0.6*float64(st.thick())
}

// extent returns the bounds of points in a frame.
func extent(fr *frame, ps []pt) (s0, s1, r0, r1 Length) {
	s0, r0 = math.MaxInt64, math.MaxInt64
	s1, r1 = math.MinInt64, math.MinInt64
	for _, p := range ps {
		s, r := fr.to(p)
		s0, s1 = min(s0, s), max(s1, s)
		r0, r1 = min(r0, r), max(r1, r)
	}
	return
}

func extent2(fr *frame, a, b pt) (s0, s1, r0, r1 Length) {
	return extent(fr, []pt{a, b})
}
