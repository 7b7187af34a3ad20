package quantity

import (
	"math"
	"sort"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// Items of framing.
const (
	ItemStud       = "stud"
	ItemTrack      = "track"
	ItemSlipTrack  = "slip track"
	ItemHeader     = "header track"
	ItemSill       = "sill track"
	ItemFixing     = "track fixing"
	ItemFrameScrew = "framing screw"
	ItemKicker     = "kicker"
	ItemBridging   = "bridging"
	ItemFluteFill  = "flute fill"
	ItemPlate      = "backing plate"
	ItemPairs      = "control joint studs"
)

// framing fills in Result.Framing and Result.Studs.
func (t *taker) framing() {
	var sum tally
	for _, l := range t.layouts {
		t.studList(l)
		for _, s := range l.Studs {
			spec, _ := t.studSpec(l, s.Kind)
			sum.add(Item{Item: ItemStud, Spec: spec, Length: s.Length, Count: 1, Storey: l.Run.Storey}, l.Run.ID)
		}
		t.tracks(l, &sum)
		t.headers(l, &sum)
		t.frameScrews(l, &sum)
		t.bracing(l, &sum)
		t.atDeck(l, &sum)
	}
	t.res.Framing = sum.sorted()
	if lost := t.set.SlipLeg - t.set.DeckGap; lost < t.set.StudEngage && t.anySlip() {
		t.res.Exceptions = append(t.res.Exceptions, plan.Exception{Severity: plan.Warning, Code: "stud-engagement",
			Message: "studs stand less in the slip track than rule stud-engage asks", Did: "take a slip track with longer legs (slip-leg)"})
	}
}

func (t *taker) anySlip() bool {
	for _, l := range t.layouts {
		if slips(l.Run) {
			return true
		}
	}
	return false
}

// slips reports whether a run has a slip track at its head: one of its faces
// reaches the deck.
func slips(r *run.Run) bool {
	for _, f := range r.Faces {
		if f.Boarded && f.Head == run.Slip {
			return true
		}
	}
	return false
}

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

// tallest is the boarded face that goes highest, the first of equals; nil if
// none is boarded.
func tallest(r *run.Run) *run.Face {
	var best *run.Face
	for _, f := range r.Faces {
		if f.Side != run.Left && f.Side != run.Right || !f.Boarded {
			continue
		}
		if best == nil || f.Top.Max(0, f.Length) > best.Top.Max(0, best.Length) {
			best = f
		}
	}
	return best
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

// frameScrews counts stud-to-track screws: two at each end of jambs, corners,
// tees and cripples, none into a slip track; four per header and sill. Field
// studs stand by friction until the board holds them.
// Source: a maker guide's drawings (2 per stud, next to frames, corners and
// intersections), a maker handbook (2 at each end of a header); Ontario
// Building Code 9.24.3.6: bottom only where the head must move.
func (t *taker) frameScrews(l *layout.Layout, sum *tally) {
	r := l.Run
	count := map[string]int{}
	point := func(mil int) string {
		if PointForMil(mil) == "C954" {
			return "pan head 1/2 in C954"
		}
		return "pan head 3/8 in C1002"
	}
	head := 2
	if slips(r) {
		head = 0
	}
	for i := range l.Studs {
		s := &l.Studs[i]
		_, mil := t.studSpec(l, s.Kind)
		switch s.Kind {
		case layout.JambStud, layout.CornerStud, layout.TeeStud:
			count[point(mil)] += 2 + head
		case layout.CrippleStud:
			n := 2 + head
			if t.underSill(r, s) {
				n = 4
			}
			count[point(mil)] += n
		}
	}
	for i := range r.Openings {
		o := &r.Openings[i]
		if !framed(o, r.Spacing, t.set.Flange) {
			continue
		}
		if t.hasHeader(r, o) {
			count[point(t.in.Settings.jambMil(r.Mil))] += 4
		}
		if !onFloor(o, t.set.FloorGap) {
			count[point(t.in.Settings.jambMil(r.Mil))] += 4
		}
	}
	for _, k := range []string{"pan head 1/2 in C954", "pan head 3/8 in C1002"} {
		if count[k] > 0 {
			sum.add(Item{Item: ItemFrameScrew, Spec: k, Count: count[k], Storey: r.Storey}, r.ID)
		}
	}
}

// underSill reports whether a cripple stands under a sill: its top is no
// higher than the sill of an opening that spans it.
func (t *taker) underSill(r *run.Run, s *layout.Stud) bool {
	for i := range r.Openings {
		o := &r.Openings[i]
		if (s.Station-o.Centre).Abs() <= roughWidth(o)/2 && s.Bottom+s.Length <= o.Sill+inch/2 {
			return true
		}
	}
	return false
}

// bracing counts kickers over a wall that stops above the ceiling, bridging
// and control joint studs.
func (t *taker) bracing(l *layout.Layout, sum *tally) {
	r := l.Run
	spec, _ := t.studSpec(l, layout.FieldStud)
	if f := tallest(r); f != nil && !slips(r) && stopsAboveCeiling(r, f) {
		n := r.Length.CeilDiv(t.in.Settings.Kickers) + 1
		for i := range r.Openings {
			if onFloor(&r.Openings[i], t.set.FloorGap) {
				n += 2
			}
		}
		it := Item{Item: ItemKicker, Spec: spec, Count: n, Storey: r.Storey, Note: "45° to the structure, at jambs and between"}
		if len(r.Deck) > 0 {
			rise := r.Deck.Max(0, r.Length) - f.Top.Min(0, f.Length)
			it.Length = Length(math.Round(float64(rise) * math.Sqrt2)).CeilTo(inch)
		}
		sum.add(it, r.ID)
	}
	if f := tallest(r); f != nil {
		rows := max(1, (f.Top.Max(0, f.Length) - 1).CeilDiv(t.in.Settings.BridgeEvery))
		sum.add(Item{Item: ItemBridging, Spec: spec, Length: r.Length * Length(rows), Storey: r.Storey, Sum: true,
			Note: "only where the specification asks for it; a row at mid-height to 10 ft, one more per 10 ft"}, r.ID)
	}
	if n := controlJoints(l); n > 0 {
		sum.add(Item{Item: ItemPairs, Spec: spec, Count: n, Storey: r.Storey, Note: "places with two studs, counted among the studs"}, r.ID)
	}
}

func stopsAboveCeiling(r *run.Run, f *run.Face) bool {
	if f.Ceiling > 0 {
		return f.Top.Max(0, f.Length) > f.Ceiling+inch
	}
	return r.Make != nil && (r.Make.Sides[0].Height.Kind == job.AboveCeiling || r.Make.Sides[1].Height.Kind == job.AboveCeiling)
}

// controlJoints is the number of stations of a run with a control joint.
func controlJoints(l *layout.Layout) int {
	at := map[Length]bool{}
	for i := range l.Joints {
		if j := &l.Joints[i]; j.Kind == layout.ControlJoint && j.From.X == j.To.X {
			at[j.Face.Station(j.From.X)] = true
		}
	}
	return len(at)
}

// atDeck counts what closes a profiled deck over a wall that reaches it: fill
// per flute where it runs across, plates every PlateEvery where it runs along.
// Source: common practice, no source; the listed head-of-wall design governs.
func (t *taker) atDeck(l *layout.Layout, sum *tally) {
	r := l.Run
	if !slips(r) || len(r.Axis) < 2 {
		return
	}
	for i := range t.in.Job.Decks {
		d := &t.in.Job.Decks[i]
		if d.FluteDepth <= 0 && d.FlutePitch <= 0 || d.Storey != "" && d.Storey != r.Storey {
			continue
		}
		if d.FlutePitch <= 0 {
			t.res.Exceptions = append(t.res.Exceptions, plan.Exception{Severity: plan.Note, Code: "flute-pitch", Target: r.ID,
				Message: "the deck over this wall has flutes, but their pitch is not given", Did: "their fill is not counted; give the deck's flutes a pitch"})
			return
		}
		v := r.Axis[len(r.Axis)-1].Sub(r.Axis[0])
		across := v.Y.Abs()
		if d.FluteAlong == "y" {
			across = v.X.Abs()
		}
		if across >= d.FlutePitch {
			sum.add(Item{Item: ItemFluteFill, Count: across.CeilDiv(d.FlutePitch), Storey: r.Storey, Note: "wall across the flutes"}, r.ID)
		} else {
			sum.add(Item{Item: ItemPlate, Count: r.Length.CeilDiv(t.in.Settings.PlateEvery) + 1, Storey: r.Storey, Note: "wall along the flutes"}, r.ID)
		}
		return
	}
}

// sortedKeys returns the keys of m, rising.
func sortedKeys[V any](m map[string]V) []string {
	ks := make([]string, 0, len(m))
	for k := range m {
		ks = append(ks, k)
	}
	sort.Strings(ks)
	return ks
}
