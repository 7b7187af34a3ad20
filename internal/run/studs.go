package run

import (
	"cmp"
	"fmt"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

// toStuds keeps the top of a side within the reach of the run's studs. They end
// under the deck over the axis. Under a deck that slopes across the wall one
// side goes higher than they do, by half the thickness at most; where it is
// more, something lower stands over the middle of the wall, and board beside it
// would hang on nothing.
func (bld *builder) toStuds(b *band, f *Face) {
	r := b.run
	if f.Side > Right || f.Head != Slip || len(r.Deck) == 0 || len(f.Top) == 0 {
		return
	}
	head := r.Deck.Shift(-f.Start, -bld.j.Rules.DeckGap)
	if f.Side == Left {
		head = head.Mirror(f.Length)
	}
	top, over := f.Top, Length(0)
	var s sighting
	at := breaks(top, head, b.half(), f.Length)
	for i := 1; i < len(at); i++ {
		u0, u1 := at[i-1], at[i]
		under, mid := top, (u0+u1)/2
		if d := top.At(mid) - head.At(mid); d > b.half() {
			under, over = head, max(over, d)
		}
		s.pieces = append(s.pieces, piece{geom.Pt{X: u0, Y: under.At(u0)}, geom.Pt{X: u1, Y: under.At(u1)}})
	}
	if over == 0 {
		return
	}
	s.draw(bld.j.Rules.Step)
	f.Top = s.prof
	bld.note(plan.Person, "board-above-studs", f.ID, bld.facePoint(b, f, f.Length/2),
		fmt.Sprintf("what is over this side is up to %s higher than what is over the middle of the wall, where its studs end", bld.short(over)),
		"boarded as high as the studs; look at what stands there")
	bld.set.Exceptions[len(bld.set.Exceptions)-1].Span = f.Length
}

// breaks returns where, over [0, length], a vertex of either profile lies or
// p crosses q + above; sorted, without repeats.
func breaks(p, q geom.Profile, above, length Length) []Length {
	at := []Length{0, length}
	for _, list := range [...]geom.Profile{p, q} {
		for _, v := range list {
			if v.X > 0 && v.X < length {
				at = append(at, v.X)
			}
		}
	}
	slices.Sort(at)
	at = slices.Compact(at)
	for i := len(at) - 1; i > 0; i-- {
		d0, d1 := p.At(at[i-1])-q.At(at[i-1])-above, p.At(at[i])-q.At(at[i])-above
		if (d0 > 0) != (d1 > 0) {
			at = append(at, at[i-1]+geom.MulDiv(at[i]-at[i-1], d0, d0-d1))
		}
	}
	slices.SortFunc(at, cmp.Compare)
	return slices.Compact(at)
}
