package run

import (
	"slices"

	"boardrun/internal/geom"
)

// place is a candidate of a node: a band with one of its ends or a station.
type place struct {
	b  int
	at int // 0, 1 end; 2 inside
	s  Length
}

// meeting is a pair of bands that meet.
type meeting struct {
	a, b   place
	inLine bool
}

// findMeetings returns every meeting of two bands.
func findMeetings(list []*band) []meeting {
	var out []meeting
	for _, q := range nearPairs(list) {
		a, b := list[q[0]], list[q[1]]
		if m, ok := inLine(a, b); ok {
			m.a.b, m.b.b = q[0], q[1]
			out = append(out, m)
			continue
		}
		for _, x := range crossings(a, b) {
			if m, ok := meets(a, b, x); ok {
				m.a.b, m.b.b = q[0], q[1]
				out = append(out, m)
			}
		}
	}
	return firstMet(list, out)
}

// crossings returns pairs of stations where two axes, carried on, cross.
func crossings(a, b *band) [][2]Length {
	switch {
	case a.arc == nil && b.arc == nil:
		s, ok := a.axis.meet(0, b.axis, 0)
		if !ok {
			return nil
		}
		t, _ := b.axis.meet(0, a.axis, 0)
		return [][2]Length{{s, t}}
	case a.arc == nil:
		var out [][2]Length
		for _, t := range b.meetLine(a.axis) {
			out = append(out, [2]Length{a.axis.along(b.pointAt(t, 0)), t})
		}
		return out
	case b.arc == nil:
		out := crossings(b, a)
		for i, x := range out {
			out[i] = [2]Length{x[1], x[0]}
		}
		return out
	}
	// Two curves: where their ends lie within reach.
	var out [][2]Length
	for _, s := range [...]Length{0, a.length} {
		for _, t := range [...]Length{0, b.length} {
			if d := a.pointAt(s, 0).Sub(b.pointAt(t, 0)); hypot(d.X, d.Y) <= a.half()+b.half()+slack {
				out = append(out, [2]Length{s, t})
			}
		}
	}
	return out
}

// meets decides whether two bands whose axes cross at stations x meet there,
// and whether each ends there or passes.
func meets(a, b *band, x [2]Length) (meeting, bool) {
	da, db := a.tangent(x[0]).d, b.tangent(x[1]).d
	sin, cos := da.cross(db).Abs(), da.dot(db).Abs()
	if sin < leastSin {
		return meeting{}, false
	}
	reach := func(own, other *band) Length {
		return geom.MulDiv(other.half(), one, sin) + geom.MulDiv(own.half(), cos, sin) + slack
	}
	pa, oka := a.placeAt(x[0], reach(a, b))
	pb, okb := b.placeAt(x[1], reach(b, a))
	return meeting{a: pa, b: pb}, oka && okb
}

// placeAt says whether station s is at one of the band's ends, within reach, or
// inside it.
func (b *band) placeAt(s, reach Length) (place, bool) {
	ds, de := s.Abs(), (b.length - s).Abs()
	switch {
	case ds <= reach && ds <= de:
		return place{at: 0, s: s}, true
	case de <= reach:
		return place{at: 1, s: s}, true
	case s > 0 && s < b.length:
		return place{at: 2, s: s}, true
	}
	return place{}, false
}

// inLine reports whether two bands, nearly parallel, meet end to end.
func inLine(a, b *band) (meeting, bool) {
	for i, s := range [...]Length{0, a.length} {
		for k, t := range [...]Length{0, b.length} {
			la, lb := a.tangent(s), b.tangent(t)
			if la.d.cross(lb.d).Abs() >= leastSin {
				continue
			}
			// Bodies on opposite sides of the meeting.
			if away := la.d.dot(lb.d) > 0; away == (i == k) {
				continue
			}
			if la.along(lb.o).Abs() <= slack && la.left(lb.o).Abs() < a.half()+b.half() {
				return meeting{place{at: i, s: s}, place{at: k, s: t}, true}, true
			}
		}
	}
	return meeting{}, false
}

// endKey names one end of a band.
type endKey struct{ b, at int }

// firstMet keeps, for each end of a band, what it meets first coming along the
// band: of two walls back to back a stem ends at the nearer. Two stems on
// opposite sides of a wall do not meet each other, though their axes may.
func firstMet(list []*band, all []meeting) []meeting {
	atEnds(all)
	first := map[endKey]Length{}
	depth := func(p place) Length { // how far out from the band's middle
		if p.at == 0 {
			return -p.s
		}
		return p.s - list[p.b].length
	}
	for _, m := range all {
		for _, p := range [...]place{m.a, m.b} {
			k := endKey{p.b, p.at}
			if d, ok := first[k]; p.at < 2 && !m.inLine && (!ok || depth(p) < d) {
				first[k] = depth(p)
			}
		}
	}
	near := func(p place) bool { return p.at == 2 || depth(p) <= first[endKey{p.b, p.at}]+slack }
	all = slices.DeleteFunc(all, func(m meeting) bool { return !m.inLine && (!near(m.a) || !near(m.b)) })
	stem := map[endKey]bool{} // ends that meet a band passing by
	for _, m := range all {
		if m.a.at == 2 {
			stem[endKey{m.b.b, m.b.at}] = true
		}
		if m.b.at == 2 {
			stem[endKey{m.a.b, m.a.at}] = true
		}
	}
	return slices.DeleteFunc(all, func(m meeting) bool {
		return m.inLine && (stem[endKey{m.a.b, m.a.at}] || stem[endKey{m.b.b, m.b.at}])
	})
}

// atEnds moves places inside a band to its end where the end meets another wall
// at the same station: a corner drawn to its outer face puts a third, thinner
// wall that ends there inside.
func atEnds(all []meeting) {
	corners := map[endKey][]Length{}
	for _, m := range all {
		for _, p := range [...]place{m.a, m.b} {
			if p.at < 2 && !m.inLine {
				corners[endKey{p.b, p.at}] = append(corners[endKey{p.b, p.at}], p.s)
			}
		}
	}
	move := func(p *place) {
		for at := 0; p.at == 2 && at < 2; at++ {
			if slices.ContainsFunc(corners[endKey{p.b, at}], func(s Length) bool { return (s - p.s).Abs() <= slack }) {
				p.at = at
			}
		}
	}
	for i := range all {
		move(&all[i].a)
		move(&all[i].b)
	}
}
