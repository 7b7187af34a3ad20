package quantity

import (
	"math"

	"boardrun/internal/geom"
	"boardrun/internal/layout"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// tracks counts floor and head track and what fixes them. The floor track
// loses the width of openings that stand on the floor; the head track runs
// along the slope.
func (t *taker) tracks(l *layout.Layout, sum *tally) {
	r := l.Run
	floor := t.floorTrack(r)
	var total Length
	fixings := 0
	for _, s := range floor {
		total += s.hi - s.lo
		fixings += Fixings(s.hi-s.lo, t.set.TrackFix, t.set.TrackFixEnd)
	}
	leg := MemberSpec(r.StudDepth, t.set.TrackLeg, r.Mil, "T", t.sys)
	sum.add(Item{Item: ItemTrack, Spec: leg, Length: total, Storey: r.Storey, Note: "floor", Sum: true}, r.ID)
	sum.add(Item{Item: ItemFixing, Spec: "floor", Count: fixings, Storey: r.Storey}, r.ID)

	head := alongTop(r)
	if slips(r) {
		slip := MemberSpec(r.StudDepth, t.set.SlipLeg, r.Mil, "T", t.sys)
		sum.add(Item{Item: ItemSlipTrack, Spec: slip, Length: head, Storey: r.Storey, Note: "head", Sum: true}, r.ID)
		sum.add(Item{Item: ItemFixing, Spec: "structure", Count: Fixings(head, t.set.TrackFix, t.set.TrackFixEnd), Storey: r.Storey}, r.ID)
		return
	}
	sum.add(Item{Item: ItemTrack, Spec: leg, Length: head, Storey: r.Storey, Note: "head", Sum: true}, r.ID)
}

// Fixings returns how many fixings a track of one length takes: the first and
// last end in from its ends, none further apart than every.
// Source: maker guide and UL U419: at most 24 in; Ontario Building Code
// 9.24.3.1: about 50 mm from the ends.
func Fixings(length, every, end Length) int {
	if length <= 0 {
		return 0
	}
	if length <= 2*end {
		return 1
	}
	return (length - 2*end).CeilDiv(every) + 1
}

// floorTrack returns the stations where floor track lies.
func (t *taker) floorTrack(r *run.Run) []span {
	out := []span{{0, r.Length}}
	for i := range r.Openings {
		if o := &r.Openings[i]; onFloor(o, t.set.FloorGap) {
			w := roughWidth(o)
			out = without(out, o.Centre-w/2, o.Centre-w/2+w)
		}
	}
	return out
}

func onFloor(o *run.Opening, gap Length) bool { return o.Sill <= gap+inch/2 }

func roughWidth(o *run.Opening) Length {
	if o.RoughWidth > 0 {
		return o.RoughWidth
	}
	return o.Width
}

// alongTop is the length of a run's head along its slope.
func alongTop(r *run.Run) Length {
	top := r.Deck
	if !slips(r) || len(top) == 0 {
		f := tallest(r)
		if f == nil {
			return r.Length
		}
		if len(f.Top) == 0 || f.Length < r.Length/2 {
			return r.Length
		}
		return slope(f.Top, 0, f.Length) + r.Length - f.Length
	}
	return slope(top, 0, r.Length)
}

// slope is the length of a profile between two places.
func slope(p geom.Profile, u0, u1 Length) Length {
	vs := p.Vertices(u0, u1)
	var sum Length
	for i := 1; i < len(vs); i++ {
		d := vs[i].Sub(vs[i-1])
		sum += Length(math.Round(math.Sqrt(float64(d.X*d.X + d.Y*d.Y))))
	}
	return sum
}

// framed reports whether an opening interrupts the framing: a penetration that
// fits between two studs does not. Source: common practice, no source.
func framed(o *run.Opening, spacing, flange Length) bool {
	return o.Kind != plan.Penetration || roughWidth(o) > spacing-flange
}

// headers counts header and sill track: rough opening + HeaderExtra.
func (t *taker) headers(l *layout.Layout, sum *tally) {
	r := l.Run
	spec := MemberSpec(r.StudDepth, t.set.TrackLeg, r.Mil, "T", t.sys)
	for i := range r.Openings {
		o := &r.Openings[i]
		if !framed(o, r.Spacing, t.set.Flange) {
			continue
		}
		it := Item{Item: ItemHeader, Spec: spec, Length: roughWidth(o) + t.set.HeaderExtra, Count: 1, Storey: r.Storey}
		if t.hasHeader(r, o) {
			sum.add(it, r.ID)
		}
		if !onFloor(o, t.set.FloorGap) {
			it.Item = ItemSill
			sum.add(it, r.ID)
		}
	}
}

// hasHeader reports whether wall goes on above an opening.
func (t *taker) hasHeader(r *run.Run, o *run.Opening) bool {
	f := tallest(r)
	return f == nil || max(o.RoughHead, o.Head) < f.Top.At(f.U(o.Centre))
}
