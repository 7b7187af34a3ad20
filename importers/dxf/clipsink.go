package dxf

import (
	"fmt"
	"math"

	"boardrun/importers/linework"
	"boardrun/internal/plan"

	"github.com/paulmach/orb"
)

// clipSink stands before a sink while a clipped insert is placed and hands on
// what the clip shows. Of an entity wholly outside it hands on that it is there,
// among the others with the reason; an insert is handed on marked, since what it
// holds refers to it by number.
type clipSink struct {
	to Sink
	*region

	now    linework.Common // entity that pieces come of
	at     orb.Point       // of its first piece
	open   bool
	passed bool // a piece of it was handed on
	lost   bool // a piece of it was not, or not whole

	outside, cut int // entities
	broken       int // fills that could not be cut
}

// piece notes a piece of an entity and what became of it.
func (s *clipSink) piece(c *linework.Common, at orb.Point, passed, lost bool) {
	if s.open && c.Entity != s.now.Entity {
		s.flush()
	}
	if !s.open {
		s.now, s.at, s.open, s.passed, s.lost = *c, at, true, false, false
	}
	s.passed = s.passed || passed
	s.lost = s.lost || lost
}

// flush settles the entity whose pieces came last.
func (s *clipSink) flush() {
	if !s.open {
		return
	}
	s.open = false
	switch {
	case !s.lost:
	case s.passed:
		s.cut++
	default:
		s.outside++
		s.now.Clipped = true
		s.to.Other(&linework.Other{Common: s.now, At: s.at, Reason: reasons[reasonClipped]})
	}
}

func (s *clipSink) Segment(seg *linework.Segment) {
	parts := s.line(seg.A, seg.B)
	if len(parts) == 1 && parts[0] == [2]float64{0, 1} {
		s.piece(&seg.Common, seg.A, true, false)
		s.to.Segment(seg)
		return
	}
	s.piece(&seg.Common, seg.A, len(parts) > 0, true)
	for _, p := range parts {
		out := *seg
		out.A, out.ZA = between(seg, p[0])
		out.B, out.ZB = between(seg, p[1])
		if out.A != out.B {
			s.to.Segment(&out)
		}
	}
}

// between returns the point of a segment at a factor from its start; its ends
// exactly.
func between(s *linework.Segment, t float64) (orb.Point, float64) {
	switch t {
	case 0:
		return s.A, s.ZA
	case 1:
		return s.B, s.ZB
	}
	return orb.Point{s.A[0] + t*(s.B[0]-s.A[0]), s.A[1] + t*(s.B[1]-s.A[1])}, s.ZA + t*(s.ZB-s.ZA)
}

func (s *clipSink) Arc(a *linework.Arc) {
	sweep := a.End - a.Start
	parts := s.arc(a.Centre, a.Radius, a.Start, sweep)
	if len(parts) == 1 && parts[0] == [2]float64{0, sweep} {
		s.piece(&a.Common, a.Centre, true, false)
		s.to.Arc(a)
		return
	}
	s.piece(&a.Common, a.Centre, len(parts) > 0, true)
	if n := len(parts); a.Full && n > 1 && parts[0][0] == 0 && parts[n-1][1] == sweep {
		parts[n-1][1] += parts[0][1] // a circle has no ends
		parts = parts[1:]
	}
	for _, p := range parts {
		out := *a
		out.Full = false
		out.Start = math.Mod(a.Start+p[0], 360)
		out.End = out.Start + p[1] - p[0]
		s.to.Arc(&out)
	}
}

func (s *clipSink) Fill(f *linework.Fill) {
	at := f.Rings[0][0]
	var kept []orb.Ring
	whole := true
	for _, r := range f.Rings {
		rings, all, ok := s.ring(r)
		if !ok {
			s.broken++
			rings, all = []orb.Ring{r}, true
		}
		whole = whole && all
		kept = append(kept, rings...)
	}
	s.piece(&f.Common, at, len(kept) > 0, !whole)
	if len(kept) > 0 {
		f.Rings = kept
		s.to.Fill(f)
	}
}

func (s *clipSink) Text(t *linework.Text) {
	shown := s.shows(t.At)
	s.piece(&t.Common, t.At, shown, !shown)
	if shown {
		s.to.Text(t)
	}
}

func (s *clipSink) Insert(in *linework.Insert) {
	s.flush()
	if !s.box(in.Box) {
		s.outside++
		in.Hidden, in.Clipped = true, true
	}
	s.to.Insert(in)
}

func (s *clipSink) Other(o *linework.Other) {
	if o.Clipped { // by a clip further in
		s.flush()
		s.to.Other(o)
		return
	}
	shown := s.shows(o.At)
	s.piece(&o.Common, o.At, shown, !shown)
	if shown {
		s.to.Other(o)
	}
}

// clipped places what a clip of the insert r shows: what draw hands to the sink
// meanwhile goes through it.
func (w *walker) clipped(g *region, r *rec, block uint32, at *[2]float64, draw func()) {
	s := &clipSink{to: w.sink, region: g}
	w.sink = s
	draw()
	s.flush()
	w.sink = s.to
	name := w.m.blocks.list[block]
	if s.outside+s.cut > 0 {
		w.report(plan.Warning, CodeClipped, r, at,
			fmt.Sprintf("block %q is clipped here: %s outside the clip, %d cut by it", name, entities(s.outside), s.cut),
			"what the clip hides is left out, as the drawing does not show it")
	}
	if s.broken > 0 {
		w.report(plan.Person, CodeClipped, r, at,
			fmt.Sprintf("block %q is clipped here through fills whose outlines cross themselves", name),
			"these fills are read whole; look for poche that the drawing does not show")
	}
}
