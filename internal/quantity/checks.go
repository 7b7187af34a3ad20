package quantity

import (
	"math"

	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// Check is one line an estimator lays beside the totals: what was taken off,
// and what a rule of thumb or a published rate gives. Against is 0 where there
// is nothing to compare with. Values are in Unit.
type Check struct {
	Name    string
	Unit    string
	Value   float64
	Against float64
	Basis   string // what Against rests on
}

// Difference is by how much Value is above Against, in per cent; 0 where there
// is nothing to compare with.
func (c Check) Difference() float64 {
	if c.Against == 0 {
		return 0
	}
	return (c.Value/c.Against - 1) * 100
}

// checks fills in Result.Checks.
func (t *taker) checks() {
	var length Length
	var hung float64
	for _, l := range t.layouts {
		length += l.Run.Length
		for i := range l.Pieces {
			hung += l.Pieces[i].Area.M2()
		}
	}
	if length == 0 {
		return
	}
	sf := hung / squareMetresPerSqFt
	if t.sys == measure.Metric {
		t.check("board per length of wall", "m²/m", hung/length.Metres(), 0, "")
	} else {
		t.check("board per length of wall", "sf/lf", sf/length.Feet(), 0, "")
	}
	t.checkFraming()
	t.checkSheets(hung)
	t.checkFinish(sf)
	doors := 0
	for _, l := range t.layouts {
		for i := range l.Run.Openings {
			if l.Run.Openings[i].Kind == plan.Door {
				doors++
			}
		}
	}
	t.check("doors", "", float64(doors), 0, "count them on the door schedule")
	t.check("board on walls with an assumed input", "%", 100*t.AssumedShare(), 0, "")
}

func (t *taker) check(name, unit string, value, against float64, basis string) {
	t.res.Checks = append(t.res.Checks, Check{name, unit, value, against, basis})
}

func (t *taker) checkFraming() {
	openings, tees, corners, thumb, studs, pieces := 0, 0, 0, 0, 0, 0
	for _, l := range t.layouts {
		for i := range l.Run.Openings {
			if framed(&l.Run.Openings[i], l.Run.Spacing, t.set.Flange) {
				openings++
			}
		}
		thumb += Studs(l.Run.Length, l.Run.Spacing)
		pieces += TrackPieces(l.Run.Length, t.in.Settings.TrackStock, trackWaste)
		for i := range l.Studs {
			if l.Studs[i].Kind != layout.CrippleStud {
				studs++
			}
		}
	}
	for i := range t.in.Runs.Junctions {
		switch t.in.Runs.Junctions[i].Kind {
		case run.Corner:
			corners++
		case run.Tee, run.Cross:
			tees++
		}
	}
	t.check("studs, cripples not counted", "", float64(studs), float64(WithWaste(ExtraStuds(thumb, openings, tees, corners), studWaste)),
		"rule of thumb: spaces + 1, 3 per opening, 2 per corner and intersection, 5 %")
	ordered := 0
	for _, o := range t.res.Order {
		if o.Item == ItemTrack || o.Item == ItemSlipTrack {
			ordered += o.Count
		}
	}
	t.check("lengths of track", "", float64(ordered), float64(pieces), "rule of thumb: top and bottom, 8 %")
}

// checkSheets compares the sheets of the cut list with the area hung.
func (t *taker) checkSheets(hung float64) {
	bought, sheets := 0.0, 0
	for _, b := range t.in.Bought {
		bought += float64(b.Count) * measure.Times(b.Width, b.Length).M2()
		sheets += b.Count
	}
	if sheets == 0 {
		return
	}
	mean := bought / float64(sheets)
	t.check("sheets cut from", "", float64(sheets), hung/mean, "area hung by the mean sheet")
	thumb := math.Ceil(t.thumbArea()/mean - 1e-9)
	t.check("sheets cut from", "", float64(sheets), math.Ceil(thumb*(100+boardWaste)/100-1e-9), "rule of thumb: every ply's area, openings under 32 sf not taken off, 5 %")
	t.check("board bought over board hung", "%", 100*(bought/hung-1), boardWaste, "rule of thumb: 5 % waste")
}

// thumbArea is the board area of the rule of thumb, in m².
func (t *taker) thumbArea() float64 {
	sum := 0.0
	for _, l := range t.layouts {
		for _, f := range l.Run.Faces {
			if !f.Boarded {
				continue
			}
			bare := *f
			bare.Holes = nil
			a := netArea(&bare)
			for i := range f.Holes {
				a -= Deducted(f.Holes[i].Rect.W(), f.Holes[i].Rect.H()) * squareMetresPerSqFt
			}
			sum += a * float64(len(f.Plies))
		}
	}
	return sum
}

func (t *taker) checkFinish(sf float64) {
	screws := 0
	for _, s := range t.res.Screws {
		screws += s.Count
	}
	t.check("board screws", "", float64(screws), sf*screwRateText/1000, "published: 1000 per 1000 sf")
	var tape Length
	litres := 0.0
	for _, f := range t.res.Finishing {
		switch f.Item {
		case ItemTape:
			tape += f.Length
		case ItemCompound:
			litres += f.Litres
		}
	}
	unit, per := "lf", measure.Foot
	vol, volUnit := litres/litresPerGallon, "gal"
	k := 1.0
	if t.sys == measure.Metric {
		unit, per, volUnit, vol, k = "m", measure.Metre, "L", litres, litresPerGallon
	}
	t.check("tape", unit, float64(tape)/float64(per), sf*tapeRateText/1000*float64(measure.Foot)/float64(per), "published: 380 lf per 1000 sf")
	t.check("joint compound", volUnit, vol, sf*compoundRateText/1000*k, "published: 5 gal per 1000 sf, looks low")
	t.check("joint compound", volUnit, vol, sf*compoundRateHigh/1000*k, "published: 11 gal per 1000 sf")
}

// AssumedShare is the part of the board hung, 0 to 1, on runs with at least one
// input nobody gave.
func (t *taker) AssumedShare() float64 {
	return AssumedShare(t.in.Layouts, func(l *layout.Layout) float64 {
		a := 0.0
		for i := range l.Pieces {
			a += l.Pieces[i].Area.M2()
		}
		return a
	})
}

// AssumedShare returns the part, 0 to 1, of a sum over layouts that rests on
// runs with an assumed input: of money where weight gives money.
func AssumedShare(layouts []*layout.Layout, weight func(*layout.Layout) float64) float64 {
	all, assumed := 0.0, 0.0
	for _, l := range layouts {
		if l == nil || l.Run == nil {
			continue
		}
		w := weight(l)
		all += w
		if len(l.Run.Assumed) > 0 {
			assumed += w
		}
	}
	if all == 0 {
		return 0
	}
	return assumed / all
}
