package trace

import (
	"math"
	"slices"

	"boardrun/internal/geom"
)

// span is a stretch of a strand that is solid or interrupted by no more than a
// crossing wall: what other walls can abut or cross.
type span struct {
	strand int32
	s0, s1 Length
}

// spanIndex finds the spans near a place.
type spanIndex struct {
	spans []span
	tree  boxIndex
}

// indexSpans lists the spans of all living strands.
func (t *tracer) indexSpans() {
	ix := &t.spans
	*ix = spanIndex{}
	for i := range t.strands {
		st := &t.strands[i]
		if st.dead {
			continue
		}
		cur := span{int32(i), st.pieces[0].s0, st.pieces[0].s1}
		for k := 1; k < len(st.pieces); k++ {
			p := &st.pieces[k]
			if p.s0-cur.s1 > maxThick+slip {
				ix.add(t, cur)
				cur = span{int32(i), p.s0, p.s1}
				continue
			}
			cur.s1 = max(cur.s1, p.s1)
		}
		ix.add(t, cur)
	}
}

func (ix *spanIndex) add(t *tracer, s span) {
	st := &t.strands[s.strand]
	ix.tree.add(int32(len(ix.spans)), bandBox(&t.bundles[st.fr].fr, s.s0, s.s1, st.ra, st.rb)...)
	ix.spans = append(ix.spans, s)
}

// bandBox returns points whose bounds hold a band.
func bandBox(fr *frame, s0, s1, ra, rb Length) []geom.Pt {
	if !fr.polar {
		return []geom.Pt{fr.from(s0, ra), fr.from(s1, ra), fr.from(s1, rb), fr.from(s0, rb)}
	}
	n := 2 + int(float64(s1-s0)/float64(fr.scale)/0.1)
	n = min(n, 200)
	out := make([]geom.Pt, 0, 2*n+2)
	for i := 0; i <= n; i++ {
		s := s0 + (s1-s0)*Length(i)/Length(n)
		out = append(out, fr.from(s, ra), fr.from(s, rb))
	}
	return out
}

// interval is a stretch of an axis.
type interval struct{ s0, s1 Length }

// crossing is how another wall lies across an axis line.
type crossing struct {
	at   Length // station of the axes' crossing on this axis
	on   Length // station of it on the other
	half Length // half the stretch of this wall's faces it interrupts
	sin  float64
	cos  float64
}

// crossOf intersects strand a's axis, near station s, with strand b's.
func (t *tracer) crossOf(a, b *strand, s Length) (crossing, bool) {
	fa, fb := &t.bundles[a.fr].fr, &t.bundles[b.fr].fr
	if a.fr == b.fr {
		return crossing{}, false
	}
	if fa.polar || fb.polar {
		return t.crossCurve(a, b, s)
	}
	ax, ay := fa.dir(0)
	bx, by := fb.dir(0)
	sin := float64(bx*ay) - float64(by*ax)
	cos := float64(bx*ax) + float64(by*ay)
	if math.Abs(sin) < 0.1 {
		return crossing{}, false
	}
	sb, rb := fb.to(fa.from(s, (a.ra+a.rb)/2))
	midB := float64(b.ra+b.rb) / 2
	ds := (midB - float64(rb)) / sin
	ta, tb := float64(a.thick()), float64(b.thick())
	return crossing{
		at:   s + round(ds),
		on:   sb + round(float64(cos*ds)),
		half: round((tb/2 + ta/2*math.Abs(cos)) / math.Abs(sin)),
		sin:  sin, cos: cos,
	}, true
}

// covered returns the parts of [g0, g1] on a strand's axis that walls across
// it fill, sorted and merged.
func (t *tracer) covered(i int32, g0, g1 Length) []interval {
	a := &t.strands[i]
	fa := &t.bundles[a.fr].fr
	var out []interval
	t.spans.tree.search(25*mm, func(k int32) {
		sp := t.spans.spans[k]
		if sp.strand == i || t.strands[sp.strand].dead {
			return
		}
		b := &t.strands[sp.strand]
		c, ok := t.crossOf(a, b, (g0+g1)/2)
		if !ok {
			return
		}
		slack := round(float64(a.thick())/2/math.Abs(c.sin)+float64(b.thick())/2*math.Abs(c.cos/c.sin)) + joinSlack
		if c.on < sp.s0-slack || c.on > sp.s1+slack {
			return
		}
		// a wall that crosses stands in the gap whole; one that reaches into the
		// drawn faces beside it only turns a corner there
		tol := 2*joinSlack + round(float64(a.thick())*math.Abs(c.cos/c.sin))
		if c.at-c.half < g0-tol || c.at+c.half > g1+tol {
			return
		}
		out = append(out, interval{max(g0, c.at-c.half), min(g1, c.at+c.half)})
	}, bandBox(fa, g0, g1, a.ra, a.rb)...)
	return union(out)
}

func union(iv []interval) []interval {
	slices.SortFunc(iv, func(a, b interval) int {
		if a.s0 != b.s0 {
			return int(max(-1, min(1, a.s0-b.s0)))
		}
		return int(max(-1, min(1, a.s1-b.s1)))
	})
	var out []interval
	for _, v := range iv {
		if k := len(out) - 1; k >= 0 && v.s0 <= out[k].s1 {
			out[k].s1 = max(out[k].s1, v.s1)
			continue
		}
		out = append(out, v)
	}
	return out
}

// less returns [g0, g1] without the given intervals, leaving out slips.
func less(g0, g1 Length, iv []interval) []interval {
	var out []interval
	at := g0
	for _, v := range iv {
		if v.s0-at > slip {
			out = append(out, interval{at, v.s0})
		}
		at = max(at, v.s1)
	}
	if g1-at > slip {
		out = append(out, interval{at, g1})
	}
	return out
}

// crossCurve is crossOf where one of the axes is a circle: the crossing
// nearest to station s.
func (t *tracer) crossCurve(a, b *strand, s Length) (crossing, bool) {
	fa, fb := &t.bundles[a.fr].fr, &t.bundles[b.fr].fr
	midA, midB := (a.ra+a.rb)/2, (b.ra+b.rb)/2
	// walk along a's axis for the change of side of b's axis nearest to s
	lo, hi := a.s0()-2*maxThick, a.s1()+2*maxThick
	side := func(x Length) float64 {
		_, r := fb.to(fa.from(x, midA))
		return float64(r - midB)
	}
	n := int((hi-lo)/(100*mm)) + 1
	best, found := Length(0), false
	px, pv := lo, side(lo)
	for i := 1; i <= n; i++ {
		x := lo + (hi-lo)*Length(i)/Length(n)
		v := side(x)
		if (pv <= 0) != (v <= 0) && math.Abs(v-pv) < float64(maxOpening) {
			l, h, lv := px, x, pv
			for h-l > 1 {
				m := (l + h) / 2
				if mv := side(m); (mv <= 0) == (lv <= 0) {
					l, lv = m, mv
				} else {
					h = m
				}
			}
			if !found || (l-s).Abs() < (best-s).Abs() {
				best, found = l, true
			}
		}
		px, pv = x, v
	}
	if !found {
		return crossing{}, false
	}
	on, _ := fb.to(fa.from(best, midA))
	ax, ay := fa.dir(best)
	bx, by := fb.dir(on)
	sin, cos := bx*ay-by*ax, bx*ax+by*ay
	if math.Abs(sin) < 0.1 {
		return crossing{}, false
	}
	half := round((float64(b.thick())/2 + float64(a.thick())/2*math.Abs(cos)) / math.Abs(sin))
	return crossing{at: best, on: on, half: fa.stretch(half, midA), sin: sin, cos: cos}, true
}
