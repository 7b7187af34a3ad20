package quantity

import (
	"cmp"

	"boardrun/internal/layout"
	"boardrun/internal/measure"
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
		t.limitHeight(l)
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

// tallest is the boarded face that goes highest, of equals the longest, of these
// the first; nil if none is boarded.
func tallest(r *run.Run) *run.Face {
	var best *run.Face
	for _, f := range r.Faces {
		if f.Side != run.Left && f.Side != run.Right || !f.Boarded {
			continue
		}
		if best == nil || cmp.Or(cmp.Compare(f.Top.Max(0, f.Length), best.Top.Max(0, best.Length)), cmp.Compare(f.Length, best.Length)) > 0 {
			best = f
		}
	}
	return best
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
	specs := map[string]string{"C1002": "pan head 3/8 in C1002", "C954": "pan head 1/2 in C954"}
	if t.sys == measure.Metric {
		specs = map[string]string{"C1002": "pan head 10 mm C1002", "C954": "pan head 13 mm C954"}
	}
	point := func(mil int) string { return specs[PointForMil(mil)] }
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
	for _, k := range sortedKeys(count) {
		sum.add(Item{Item: ItemFrameScrew, Spec: k, Count: count[k], Storey: r.Storey}, r.ID)
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
