package trace

import (
	"math"
	"strings"

	"boardrun/internal/measure"
)

// hostsAt finds the block that stands in a gap.
func (t *tracer) hostsAt(i int32, op *opening) {
	st := &t.strands[i]
	fr := &t.bundles[st.fr].fr
	best := Length(0)
	var folded []int32
	t.marks.hostAt.search(50*mm, func(k int32) {
		h := &t.marks.hosts[k]
		s0, s1, r0, r1 := extent(fr, h.box[:])
		if r0 > st.rb+50*mm || r1 < st.ra-50*mm {
			return
		}
		l := min(s1, op.s1) - max(s0, op.s0)
		if h.byPlace {
			if float64(l) < 0.8*float64(s1-s0) {
				return
			}
			folded = append(folded, k)
		} else if float64(l) < 0.6*float64(op.s1-op.s0) || float64(l) < 0.4*float64(s1-s0) {
			return
		}
		if l > best || l == best && op.host >= 0 && lessHost(t, k, op.host) {
			best, op.host, op.kind = l, k, h.role
		}
	}, bandBox(fr, op.s0, op.s1, st.ra, st.rb)...)
	for _, k := range folded { // the other leaf of a pair, folded at the other jamb
		if k != op.host {
			op.mate = k + 1
		}
	}
	if op.host < 0 {
		t.leavesAt(i, op)
	}
}

// leavesAt finds two blocks of one leaf each that share a gap side by side.
func (t *tracer) leavesAt(i int32, op *opening) {
	st := &t.strands[i]
	fr := &t.bundles[st.fr].fr
	type leaf struct {
		interval
		host int32
	}
	var in []leaf
	t.marks.hostAt.search(50*mm, func(k int32) {
		h := &t.marks.hosts[k]
		s0, s1, r0, r1 := extent(fr, h.box[:])
		l := s1 - s0
		if h.role != Doors || r0 > st.rb+50*mm || r1 < st.ra-50*mm || s0 < op.s0-jambSlack || s1 > op.s1+jambSlack ||
			float64(l) < 0.35*float64(op.s1-op.s0) {
			return
		}
		in = append(in, leaf{interval{s0, s1}, k})
	}, bandBox(fr, op.s0, op.s1, st.ra, st.rb)...)
	if len(in) != 2 {
		return
	}
	if in[0].s0 > in[1].s0 || in[0].s0 == in[1].s0 && lessHost(t, in[1].host, in[0].host) {
		in[0], in[1] = in[1], in[0]
	}
	if in[1].s0-in[0].s1 < -2*jambSlack { // one over the other
		return
	}
	op.host, op.mate, op.kind = in[0].host, in[1].host+1, Doors
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
