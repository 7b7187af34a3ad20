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
	bld.toStuds(b, f)
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
