package run

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// cover is what stands over one storey.
type cover struct {
	decks    []surface
	ceilings []surface
}

// overhead answers what is above a line on one side of a run.
type overhead struct {
	p      *plan.Plan
	j      *job.Job
	covers map[string]*cover
}

func (o *overhead) over(storey string) *cover {
	c := o.covers[storey]
	if c == nil {
		c = &cover{decks: decksOver(storey, o.p, o.j)}
		for _, d := range o.p.Ceilings {
			if d.Storey == "" || d.Storey == storey {
				c.ceilings = append(c.ceilings, surface{outline: d.Outline, plane: planeOf(d), by: "ceiling of the model"})
			}
		}
		o.covers[storey] = c
	}
	return c
}

// sighting is what is above a line, u from 0 to its length.
type sighting struct {
	pieces  []piece
	open    [][2]Length // stretches of u that nothing covers
	prof    geom.Profile
	steps   []Length // where the profile steps
	by      string
	assumed bool // nobody gave it
}

// piece is a straight piece of a profile, from a to b in u.
type piece struct{ a, b geom.Pt }

// along reads surfaces over the points of a face; at gives the point at u.
// Curved faces are read in chords.
func along(list []surface, length Length, at func(u Length) geom.Pt, curved bool) (s sighting) {
	n := Length(1)
	if curved {
		n = 1 + length/(300*measure.Millimetre)
	}
	last := -1
	for i := Length(0); i < n; i++ {
		u0, u1 := geom.MulDiv(length, i, n), geom.MulDiv(length, i+1, n)
		a, b := at(u0), at(u1)
		l, chord := lineThrough(a, b)
		if chord == 0 {
			continue
		}
		for _, st := range stretches(list, a, b) {
			from, to := u0+geom.MulDiv(st.u0, u1-u0, chord), u0+geom.MulDiv(st.u1, u1-u0, chord)
			if st.of < 0 {
				s.open = append(s.open, [2]Length{from, to})
				continue
			}
			f := &list[st.of]
			if s.by = f.by; last >= 0 && st.of != last {
				s.by = "decks"
			}
			s.assumed = s.assumed || f.order >= byDefault
			s.pieces = append(s.pieces, piece{geom.Pt{X: from, Y: f.plane.at(l.at(st.u0, 0))}, geom.Pt{X: to, Y: f.plane.at(l.at(st.u1, 0))}})
			last = st.of
		}
	}
	return s
}

// gap is the length that nothing covers.
func (s *sighting) gap() Length {
	var sum Length
	for _, o := range s.open {
		sum += o[1] - o[0]
	}
	return sum
}

// fill closes the open stretches with pieces of another source, cut to them.
func (s *sighting) fill(from []piece) {
	for _, o := range s.open {
		for _, p := range from {
			lo, hi := max(o[0], p.a.X), min(o[1], p.b.X)
			if lo < hi {
				s.pieces = append(s.pieces, piece{geom.Pt{X: lo, Y: p.at(lo)}, geom.Pt{X: hi, Y: p.at(hi)}})
			}
		}
	}
}

func (p piece) at(u Length) Length { return geom.Profile{p.a, p.b}.At(u) }

// draw makes the profile of the pieces, on the measuring step.
func (s *sighting) draw(step Length) {
	slices.SortFunc(s.pieces, func(x, y piece) int { return cmp.Or(cmp.Compare(x.a.X, y.a.X), cmp.Compare(x.b.X, y.b.X)) })
	s.prof, s.steps = nil, nil
	for _, p := range s.pieces {
		s.add(p, step)
	}
}

// add puts a piece after the profile. A step in height becomes a ramp one
// measuring step wide that keeps to the lower side; a step of a hair is none.
func (s *sighting) add(p piece, step Length) {
	n := len(s.prof)
	if n > 0 && p.a.X < s.prof[n-1].X { // it overlaps what is there
		x := min(s.prof[n-1].X, p.b.X)
		p.a = geom.Pt{X: x, Y: p.at(x)}
	}
	a := geom.Pt{X: toStep(p.a.X, step), Y: toStep(p.a.Y, step)}
	b := geom.Pt{X: toStep(p.b.X, step), Y: toStep(p.b.Y, step)}
	if b.X <= a.X {
		return
	}
	switch {
	case n == 0 || a.X > s.prof[n-1].X:
		s.prof = append(s.prof, a)
	case (a.Y - s.prof[n-1].Y).Abs() <= 2*step: // goes on
	case a.Y < s.prof[n-1].Y: // down: the lower side begins one step earlier
		s.steps = append(s.steps, a.X)
		if x := a.X - step; n < 2 || x > s.prof[n-2].X {
			s.prof[n-1].X = x
		} else {
			s.prof = s.prof[:n-1]
		}
		s.prof = append(s.prof, a)
	default: // up: it goes on one step
		s.steps = append(s.steps, a.X)
		if a.X += step; a.X >= b.X {
			return
		}
		s.prof = append(s.prof, a)
	}
	s.prof = append(s.prof, b)
}

// lower returns the lower of a profile and a height over [0, length].
func lower(p geom.Profile, h, length Length) geom.Profile {
	var out geom.Profile
	put := func(q geom.Pt) {
		if n := len(out); n == 0 || q.X > out[n-1].X {
			out = append(out, q)
		}
	}
	v := p.Vertices(0, length)
	for i, q := range v {
		if i > 0 {
			if a := v[i-1]; (a.Y > h) != (q.Y > h) {
				put(geom.Pt{X: a.X + geom.MulDiv(q.X-a.X, h-a.Y, q.Y-a.Y), Y: h})
			}
		}
		put(geom.Pt{X: q.X, Y: min(q.Y, h)})
	}
	return tidy(out)
}

// tidy drops vertices of a profile that lie on the line between their level
// neighbours.
func tidy(p geom.Profile) geom.Profile {
	var out geom.Profile
	for i, q := range p {
		if i > 0 && i+1 < len(p) && p[i-1].Y == q.Y && p[i+1].Y == q.Y {
			continue
		}
		out = append(out, q)
	}
	return out
}

// defaultHeight stands in where neither job nor drawing gives any height.
// Source: common practice, none published.
func defaultHeight(s measure.System) Length {
	if s == measure.Metric {
		return 3 * measure.Metre
	}
	return 10 * measure.Foot
}

// crown gives a face along the given rooms (indices into Set.Rooms) its top: the height rule of its side applied to what is
// above its own line, so that both sides of a wall across a slope get their own.
func (bld *builder) crown(b *band, f *Face, k int, rooms []int) {
	rules := bld.j.Rules
	rule := b.rule(k)
	at := func(u Length) geom.Pt { return bld.facePoint(b, f, u) }
	deck, known := bld.deckAlong(b, f, at)
	ceiling := bld.ceilingOver(b.storey, rooms, at(f.Length/2))
	f.Ceiling = ceiling
	f.Bottom = b.base + rules.FloorGap
	level := func(h Length) geom.Profile { return geom.Level(0, f.Length, h) }
	capped := func(h Length) {
		f.Top, f.Head = level(h), FixedTop
		if known {
			under := deck.prof.Shift(0, -rules.DeckGap)
			if f.Top = lower(under, h, f.Length); under.Max(0, f.Length) <= h {
				f.Head = Slip
			}
		}
	}
	switch {
	case rule.Kind == job.ToDeck:
		if !known {
			deck = sighting{prof: level(defaultHeight(bld.j.System)), by: "assumed", assumed: true}
			bld.doubtHeight(b, f, "no deck is known over it", deck.prof[0].Y)
		}
		f.Top, f.Head, f.HeightBy = deck.prof.Shift(0, -rules.DeckGap), Slip, deck.by
	case rule.Kind == job.FixedHeight:
		capped(b.base + rule.Value)
		f.HeightBy = "fixed"
	default:
		if ceiling == 0 {
			ceiling = bld.assumedCeiling(b, f, deck, known)
		}
		if rule.Kind == job.ToCeiling {
			capped(ceiling - rules.CeilingGap)
			f.HeightBy = "ceiling"
			break
		}
		extra := rule.Value
		if extra == 0 {
			extra = rules.AboveCeiling
		}
		capped(ceiling + extra)
		f.HeightBy = "ceiling + " + bld.short(extra)
	}
	for i, q := range f.Top {
		f.Top[i].Y = max(q.Y, f.Bottom)
	}
	if deck.assumed && (f.Head == Slip) {
		bld.assume(b, "deck height")
	}
	for _, u := range deck.steps {
		if f.Head == Slip {
			bld.note(plan.Note, "deck-step", f.ID, at(u), "the deck over the face steps",
				"the lower side is carried on one measuring step past it")
		}
	}
}

// uncovered is how much of a face may lie past the edge of the decks given
// without a word: decks are drawn to walls' axes or to either face.
// Source: common practice, none published.
const uncovered = 300 * measure.Millimetre

// deckAlong returns the deck over a face: from job and model, else from the
// wall's own top as the model claims it, else from decks that nobody gave.
func (bld *builder) deckAlong(b *band, f *Face, at func(Length) geom.Pt) (s sighting, known bool) {
	list := bld.over.over(b.storey).decks
	given := slices.DeleteFunc(slices.Clone(list), func(s surface) bool { return s.order >= byDefault })
	s = along(given, f.Length, at, b.arc != nil)
	if s.gap() > uncovered || len(s.pieces) == 0 {
		switch claims := bld.claim(b, f); {
		case len(claims) > 0:
			if s.fill(claims); s.by == "" {
				s.by = "model"
			}
			bld.assume(b, "top of the wall as the model draws it")
		case len(s.pieces) == 0:
			s = along(list, f.Length, at, b.arc != nil)
		default:
			bld.doubtHeight(b, f, "the decks given leave part of it open", 0)
		}
	}
	s.draw(bld.j.Rules.Step)
	return s, len(s.prof) > 0
}

// claim reads the tops that a model draws for the walls of a run: of the face's
// own side where it tells the side's shape, else over the axis, else the height.
func (bld *builder) claim(b *band, f *Face) []piece {
	var list []piece
	for _, i := range b.walls {
		w := &bld.p.Walls[i]
		for _, e := range claimed(b, w, f.Side) {
			for k := range e {
				s := b.stationOf(w, e[k].X) + b.ends[0].shift
				if e[k].X = s - f.Start; f.Side == Left {
					e[k].X = f.Length - e[k].X
				}
			}
			if e[0].X > e[1].X {
				e[0], e[1] = e[1], e[0]
			}
			list = append(list, piece{e[0], e[1]})
		}
	}
	if len(list) > 0 { // the outermost tops go on to the face's ends
		slices.SortFunc(list, func(x, y piece) int { return cmp.Compare(x.a.X, y.a.X) })
		first, last := &list[0], &list[len(list)-1]
		if first.a.X > 0 {
			list = append([]piece{{geom.Pt{X: 0, Y: first.a.Y}, first.a}}, list...)
		}
		if last.b.X < f.Length {
			list = append(list, piece{last.b, geom.Pt{X: f.Length, Y: last.b.Y}})
		}
	}
	return list
}

// claimed returns the pieces of a wall's top as the model tells it, u along the
// wall's own axis.
func claimed(b *band, w *plan.Wall, side Side) [][2]geom.Pt {
	var out [][2]geom.Pt
	if side <= Right {
		k := int(side)
		if b.axis.d.dot(b.wallDir(w)) < 0 {
			k = 1 - k
		}
		// Counter-clockwise, the upper edges of an outline run to the left.
		shape := w.Sides[k].Outline
		for i, p := range shape {
			if q := shape[(i+1)%len(shape)]; q.X < p.X {
				out = append(out, [2]geom.Pt{q, p})
			}
		}
	}
	top := w.Top
	if len(top) == 0 && w.Height > 0 {
		l := hypot(w.Axis[1].X-w.Axis[0].X, w.Axis[1].Y-w.Axis[0].Y)
		if b.arc != nil {
			l = b.length
		}
		top = geom.Level(0, l, w.Base+w.Height)
	}
	if len(out) > 0 {
		return out
	}
	for n := 1; n < len(top); n++ {
		out = append(out, [2]geom.Pt{top[n-1], top[n]})
	}
	return out
}

// ceilingOver returns the height of the ceiling on one side: the job's by room,
// the model's, the job's by storey; 0 if nobody says. Of several rooms along
// one face the highest counts.
func (bld *builder) ceilingOver(storey string, rooms []int, at geom.Pt) Length {
	c := bld.j.Ceilings
	var best Length
	for _, i := range rooms {
		if i >= 0 {
			q := &bld.set.Rooms[i]
			best = max(best, cmp.Or(named(c.ByRoom, q.Name), named(c.ByRoom, q.Number), q.Ceiling))
		}
	}
	if best > 0 {
		return best
	}
	for _, s := range bld.over.over(storey).ceilings {
		if len(s.outline) < 3 || inside(s.outline, at) {
			return s.plane.at(at)
		}
	}
	if h := named(c.ByStorey, storey); h > 0 {
		return h
	}
	return c.Default
}

// named looks up a height by a name in any case; 0 if there is none.
func named(m map[string]Length, name string) Length {
	if h, ok := m[name]; ok || name == "" {
		return h
	}
	for _, k := range sortedKeys(m) {
		if strings.EqualFold(k, name) {
			return m[k]
		}
	}
	return 0
}

// assumedCeiling stands in for a ceiling nobody gave: 9 ft or 2.7 m, and no
// higher than the deck. Source: common practice, none published.
func (bld *builder) assumedCeiling(b *band, f *Face, deck sighting, known bool) Length {
	h := 9 * measure.Foot
	if bld.j.System == measure.Metric {
		h = 2700 * measure.Millimetre
	}
	if known {
		h = min(h, deck.prof.Min(0, f.Length)-bld.j.Rules.DeckGap)
	}
	bld.doubtHeight(b, f, "it goes to the ceiling and no ceiling height is known", h)
	return h
}

// doubtHeight lists a height nobody gave.
func (bld *builder) doubtHeight(b *band, f *Face, why string, taken Length) {
	did := "filled in from the decks beside it; give a deck that covers it"
	if taken > 0 {
		did = fmt.Sprintf("taken as %s; give the height in the job file", bld.short(taken))
		bld.assume(b, "height")
	}
	bld.note(plan.Person, "height-unknown", f.ID, bld.facePoint(b, f, f.Length/2), why, did)
	bld.set.Exceptions[len(bld.set.Exceptions)-1].Span = f.Length
}
