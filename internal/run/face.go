package run

import (
	"fmt"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// leastFace is the narrowest face that is boarded on its own; less is a strip
// out of an offcut. Source: common practice, none published.
const leastFace = 50 * measure.Millimetre

// board gives a run its faces, openings, tops and fixed studs.
func (bld *builder) board(b *band) {
	bld.deckOver(b)
	for k := range b.sides {
		bld.sideFaces(b, k)
	}
	bld.endFaces(b)
	bld.stepFaces(b)
	bld.openings(b)
	bld.reveals(b)
	bld.fixStuds(b)
}

// sideFaces groups the edges of one side into faces: a new one wherever a stem
// interrupts the board.
func (bld *builder) sideFaces(b *band, k int) {
	edges := b.sides[k].edges
	var group []*edge
	var before []string
	n := 0
	flush := func() {
		if len(group) > 0 {
			n++
			bld.newFace(b, k, n, group, before)
		}
		group, before = nil, nil
	}
	for i := range edges {
		e := &edges[i]
		if i > 0 {
			if in := b.innerOf(e.arms[0]); b.behind(in, k) {
				for _, a := range b.stems(in, k) {
					before = append(before, a.b.run.ID)
				}
			} else {
				flush()
			}
		}
		if b.onSide(e.to-e.from, k) > bld.j.Rules.Step {
			group = append(group, e)
		}
	}
	flush()
}

// innerOf returns the place inside a band that an arm belongs to.
func (b *band) innerOf(a *arm) inner {
	for _, in := range b.inner {
		if in.plus == a || in.back == a {
			return in
		}
	}
	return inner{}
}

// newFace makes one face of edges in a row.
func (bld *builder) newFace(b *band, k, n int, group []*edge, before []string) {
	r, rules := b.run, bld.j.Rules
	first, last := group[0], group[len(group)-1]
	f := &Face{Run: r, Side: Side(k), ID: fmt.Sprintf("%s-%c%d", r.ID, "LR"[k], n), Before: dedupe(before), first: first, last: last}
	zero := b.ends[0].shift
	f.Start = toStep(first.from+zero, rules.Step)
	f.Length = toStep(b.onSide(last.to-first.from, k), rules.Step)
	f.Finished = f.Length
	made := b.made(k)
	f.Finish = made.Finish
	var rooms []int
	whole := b.onSide(last.to-first.from, k)
	bld.round(whole, f.Length)
	for _, e := range group {
		e.face = f
		p := Part{b.onSide(e.from-first.from, k), b.onSide(e.to-first.from, k), bld.roomOf(e)}
		if k == 0 {
			p.U0, p.U1 = whole-p.U1, whole-p.U0
		}
		p.U0, p.U1 = toStep(p.U0, rules.Step), toStep(p.U1, rules.Step)
		f.Parts = append(f.Parts, p)
		rooms = append(rooms, e.room)
	}
	if k == 0 {
		reverse(f.Parts)
	}
	f.Parts[0].U0, f.Parts[len(f.Parts)-1].U1 = 0, f.Length
	if bld.enter(f, first); k == 0 {
		bld.enter(f, last)
	}
	f.Room = f.Parts[0].Room
	switch {
	case len(made.Plies) == 0:
		f.Reason = made.Reason
		if f.Reason == "" {
			f.Reason = "the type has no board on this side"
		}
	case f.Length < leastFace:
		f.Reason = "narrower than " + bld.short(leastFace) + ": a strip out of an offcut"
	default:
		f.Boarded = true
	}
	bld.crown(b, f, k, rooms)
	r.Faces = append(r.Faces, f)
}

func reverse[T any](s []T) {
	for i, j := 0, len(s)-1; i < j; i, j = i+1, j-1 {
		s[i], s[j] = s[j], s[i]
	}
}

// dedupe drops repeats, keeping the order.
func dedupe(list []string) []string {
	var out []string
	seen := map[string]bool{}
	for _, s := range list {
		if !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	return out
}

// facePoint returns the point in plan at u on a left, right or end face, on the
// finished surface. It counts from the face's own left end before rounding, so
// that it does not depend on which way the run goes.
func (bld *builder) facePoint(b *band, f *Face, u Length) geom.Pt {
	switch w := b.half(); f.Side {
	case Left:
		return b.pointAt(f.last.to-b.onAxis(u, 0), w)
	case Right:
		return b.pointAt(f.first.from+b.onAxis(u, 1), -w)
	default:
		// Seen from outside, left is the run's left at its start and its right
		// at its end.
		s := f.Start - b.ends[0].shift
		if w -= u; s > b.length/2 {
			w = -w
		}
		return b.pointAt(s, w)
	}
}

// uOf returns u of a station on a left or right face, as facePoint counts it.
func (f *Face) uOf(b *band, station Length) Length {
	station -= b.ends[0].shift
	if f.Side == Left {
		return b.onSide(f.last.to-station, 0)
	}
	return b.onSide(station-f.first.from, 1)
}

// deckOver sets the deck over the run's axis, on u = station.
func (bld *builder) deckOver(b *band) {
	r := b.run
	at := func(u Length) geom.Pt { return b.pointAt(u-b.ends[0].shift, 0) }
	list := bld.over.over(b.storey).decks
	given := slices.DeleteFunc(slices.Clone(list), func(s surface) bool { return s.order >= byDefault })
	s := along(given, r.Length, at, b.arc != nil)
	if s.gap() > uncovered || len(s.pieces) == 0 {
		if claims := bld.claimOver(b); len(claims) > 0 {
			s.fill(claims)
		} else if len(s.pieces) == 0 {
			s = along(list, r.Length, at, b.arc != nil)
		}
	}
	if s.draw(bld.j.Rules.Step); len(s.prof) > 0 {
		r.Deck = s.prof
	}
}

// fixStuds lists the stations where the building wants a stud: where faces
// begin and end, and behind every tee.
func (bld *builder) fixStuds(b *band) {
	r := b.run
	put := func(s Length, kind string) {
		for _, f := range r.Fixed {
			if f.Station == s {
				return
			}
		}
		r.Fixed = append(r.Fixed, Fixed{s, kind})
	}
	for i := range b.ends {
		kind := "corner"
		switch b.ends[i].arm.node.kind {
		case FreeEnd, AgainstStructure, InLine:
			kind = "end"
		}
		for _, f := range r.Faces {
			switch {
			case f.Side > Right:
			case i == 0 && b.reaches(f, 0):
				put(f.Start, kind)
			case i == 1 && b.reaches(f, 1):
				put(f.end(b), kind)
			}
		}
	}
	for _, in := range b.inner {
		if len(b.stems(in, 0))+len(b.stems(in, 1)) > 0 {
			put(toStep(in.s+b.ends[0].shift, bld.j.Rules.Step), "tee")
		}
	}
	sortFixed(r.Fixed)
}

// end returns the station where a side's face ends.
func (f *Face) end(b *band) Length { return f.Start + b.onAxis(f.Length, int(f.Side)) }

// reaches reports whether a face begins (i = 0) or ends (i = 1) its side.
func (b *band) reaches(f *Face, i int) bool {
	edges := b.sides[f.Side].edges
	if i == 0 {
		return edges[0].face == f
	}
	return edges[len(edges)-1].face == f
}
