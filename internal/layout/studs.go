package layout

import (
	"cmp"
	"fmt"
	"slices"

	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// frame builds the studs of a layout: what the building fixes, jambs, the grid,
// cripples, and the studs added under joints.
type frame struct {
	*wall
	studs  []Stud
	joints map[Length]bool // stations of joints along the studs
}

// studs returns the studs of f, by station, then bottom.
func (w *wall) studs(f *find) []Stud {
	fr := &frame{wall: w, joints: map[Length]bool{}}
	for _, x := range f.stations() {
		fr.joints[x] = true
	}
	fr.fixed()
	fr.jambs(f.start)
	fr.grid(f.start)
	fr.underJoints()
	fr.controls(f.controls)
	slices.SortStableFunc(fr.studs, func(a, b Stud) int {
		return cmp.Or(cmp.Compare(a.Station, b.Station), cmp.Compare(a.Bottom, b.Bottom))
	})
	for i := range fr.studs {
		fr.studs[i].ID = fmt.Sprintf("S%02d", i+1)
	}
	return fr.studs
}

// head returns the height where a stud at x ends: the deck gap below the deck,
// or the top of the higher side of a wall that does not reach it.
func (w *wall) head(x Length) Length {
	var top Length
	slip := false
	for _, p := range w.plies {
		top = max(top, p.top.At(x))
		slip = slip || p.face.Head == run.Slip
	}
	if (slip || len(w.plies) == 0) && len(w.Deck) > 0 {
		return w.Deck.At(x) - w.env.Rules.DeckGap
	}
	return top
}

func (fr *frame) add(x Length, kind StudKind, bottom, top Length) {
	if top > bottom {
		fr.studs = append(fr.studs, Stud{Station: x, Kind: kind, Bottom: bottom, Length: top - bottom})
	}
}

// fixed adds the studs that the building wants: ends, corners, tees.
func (fr *frame) fixed() {
	fixed := slices.Clone(fr.Fixed)
	if len(fixed) == 0 {
		fixed = []run.Fixed{{Station: 0, Kind: "end"}, {Station: fr.Length, Kind: "end"}}
	}
	slices.SortStableFunc(fixed, func(a, b run.Fixed) int { return cmp.Compare(a.Station, b.Station) })
	for i, s := range fixed {
		if i > 0 && s.Station == fixed[i-1].Station {
			continue
		}
		kind := FieldStud
		switch s.Kind {
		case "corner":
			kind = CornerStud
		case "tee":
			kind = TeeStud
		}
		if fr.inOpening(s.Station) == nil {
			fr.add(s.Station, kind, fr.Base, fr.head(s.Station))
		}
	}
}

// rough returns the sides of an opening's rough opening.
func rough(o *run.Opening) (x0, x1 Length) {
	width := o.RoughWidth
	if width == 0 {
		width = o.Width
	}
	return o.Centre - width/2, o.Centre - width/2 + width
}

func roughHead(o *run.Opening) Length {
	if o.RoughHead > 0 {
		return o.RoughHead
	}
	return o.Head
}

// inOpening returns the opening whose rough opening holds station x.
func (w *wall) inOpening(x Length) *run.Opening {
	for i := range w.Openings {
		if a, b := rough(&w.Openings[i]); a < x && x < b {
			return &w.Openings[i]
		}
	}
	return nil
}

// jambs adds two studs each side of an opening, one each side of a penetration
// or niche that cuts a stud of the grid.
func (fr *frame) jambs(start Length) {
	flange := fr.env.Rules.Flange
	for i := range fr.Openings {
		o := &fr.Openings[i]
		a, b := rough(o)
		n := Length(2)
		if o.Kind == plan.Penetration || o.Kind == plan.Niche {
			n = 1
			if fr.Spacing > 0 && a+mod(start-a, fr.Spacing) >= b {
				n = 0 // between two studs
			}
		}
		for k := range n {
			fr.jamb(a - flange/2 - k*flange)
			fr.jamb(b + flange/2 + k*flange)
		}
	}
}

// jamb adds a stud beside an opening unless one stands there: between openings
// that are close, and in corners, one stud serves both.
func (fr *frame) jamb(x Length) {
	if x < 0 || x > fr.Length || fr.inOpening(x) != nil || fr.taken(x, fr.env.Rules.Flange) {
		return
	}
	fr.add(x, JambStud, fr.Base, fr.head(x))
}

// taken reports whether a stud stands nearer to x than d.
func (fr *frame) taken(x, d Length) bool {
	return slices.ContainsFunc(fr.studs, func(s Stud) bool { return (s.Station - x).Abs() < d })
}

// grid adds the studs at the spacing; those inside an opening become cripples,
// those that would stand in another stud are left out unless a joint needs
// them.
func (fr *frame) grid(start Length) {
	if fr.Spacing <= 0 {
		return
	}
	end := fr.Length
	if fr.Arc != nil { // the outer side of a curve is longer than the axis
		end = max(end, fr.farEdge())
	}
	for x := mod(start, fr.Spacing); x <= end; x += fr.Spacing {
		near := fr.env.Rules.Flange
		if fr.joints[x] {
			near = 1
		}
		if !fr.taken(x, near) {
			fr.through(x, FieldStud, CrippleStud)
		}
	}
}

// through adds a stud at x, or the cripples above and below the openings there.
func (fr *frame) through(x Length, whole, cripple StudKind) {
	at, kind := fr.Base, whole
	holes := fr.openingsAt(x)
	for _, o := range holes {
		if kind = cripple; o.Kind != plan.Door { // nothing stands under a door
			fr.add(x, kind, at, o.Sill)
		}
		at = roughHead(o)
	}
	fr.add(x, kind, at, fr.head(x))
}

func (w *wall) openingsAt(x Length) []*run.Opening {
	var out []*run.Opening
	for i := range w.Openings {
		if a, b := rough(&w.Openings[i]); a < x && x < b {
			out = append(out, &w.Openings[i])
		}
	}
	slices.SortStableFunc(out, func(a, b *run.Opening) int { return cmp.Compare(a.Sill, b.Sill) })
	return out
}

// underJoints adds a stud under every joint that stands on none.
func (fr *frame) underJoints() {
	stations := make([]Length, 0, len(fr.joints))
	for x := range fr.joints {
		stations = append(stations, x)
	}
	slices.Sort(stations)
	for _, x := range stations {
		if !fr.taken(x, 1) {
			fr.through(x, AddedStud, AddedStud)
		}
	}
}

// controls puts two studs back to back at a control joint.
// Source: common practice, none published.
func (fr *frame) controls(at []Length) {
	flange := fr.env.Rules.Flange
	for _, x := range at {
		fr.studs = slices.DeleteFunc(fr.studs, func(s Stud) bool {
			return (s.Station-x).Abs() < flange && s.Kind == FieldStud
		})
		fr.through(x-flange/2, FieldStud, CrippleStud)
		fr.through(x-flange/2+flange, AddedStud, AddedStud)
	}
}
