package quantity

import (
	"math"

	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

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
			it.Length = Length(math.Round(float64(rise) * math.Sqrt2)).CeilTo(t.whole())
		}
		sum.add(it, r.ID)
	}
	if f := tallest(r); f != nil {
		rows := max(1, (f.Top.Max(0, f.Length) - 1).CeilDiv(t.in.Settings.BridgeEvery))
		sum.add(Item{Item: ItemBridging, Spec: spec, Length: r.Length * Length(rows), Storey: r.Storey, Sum: true,
			Note: "only where the specification asks for it; a row at mid-height to " + measure.Wall(t.in.Settings.BridgeEvery, t.sys) + ", one more for each further"}, r.ID)
	}
	if n := controlJoints(l); n > 0 {
		sum.add(Item{Item: ItemPairs, Spec: spec, Count: n, Storey: r.Storey, Note: "places with two studs, counted among the studs"}, r.ID)
	}
}

// whole is the step that lengths of odd braces are rounded up to.
func (t *taker) whole() Length {
	if t.sys == measure.Metric {
		return 10 * mm
	}
	return inch
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
