package cutting

import (
	"cmp"
	"slices"
	"sort"

	"boardrun/internal/measure"
)

// rower puts narrow blocks side by side, in stacks, into levels across a sheet.
type rower struct {
	f      *filler
	width  measure.Length
	narrow []*block
	price  []float64
	left   []int
	order  []rated          // narrow blocks by value per length, best first
	widths []measure.Length // distinct widths, rising
	// Room to work in.
	rest          []int
	usable, picks []*rated
	some          []measure.Length
}

type rated struct {
	b     *block
	u     use
	value float64
}

// Limits on the levels tried at one set of prices; they bound the work on jobs
// with hundreds of narrow pieces.
const (
	maxLevels = 80
	maxStrips = 24
)

func (r *rower) prepare() {
	if r.order != nil {
		return
	}
	r.rest = make([]int, len(r.left))
	seen := map[measure.Length]bool{}
	for _, b := range r.narrow {
		u := b.u
		if v := u.value(r.price); v > 0 && u.within(r.left) {
			r.order = append(r.order, rated{b, u, v})
			if !seen[b.w] {
				seen[b.w] = true
				r.widths = append(r.widths, b.w)
			}
		}
	}
	slices.SortStableFunc(r.order, func(a, b rated) int {
		return cmp.Compare(b.value*float64(a.b.h), a.value*float64(b.b.h))
	})
	slices.Sort(r.widths)
}

// levels returns rows as tall as one of the narrow blocks, each begun with that
// block, as parts to be stacked once.
func (r *rower) levels(longest measure.Length) []part {
	r.prepare()
	bases := slices.Clone(r.order)
	dense := func(x rated) float64 { return x.value / (float64(x.b.h) * float64(x.b.w)) }
	slices.SortStableFunc(bases, func(a, b rated) int { return cmp.Compare(dense(b), dense(a)) })
	if len(bases) > maxLevels {
		bases = bases[:maxLevels]
	}
	var out []part
	for _, x := range bases {
		if x.b.h > longest || x.b.need == 2 {
			continue
		}
		b := r.row(x.b.h, x.b)
		if b.kind == row {
			out = append(out, part{b: b, h: b.h, value: b.u.value(r.price), max: 1})
		}
	}
	return out
}

// strips returns the best row of full-length strips found.
func (r *rower) strips(length measure.Length) *block {
	r.prepare()
	var best *block
	var value float64
	for _, w := range slices.Clone(r.tried(r.width)) {
		first := r.strip(w, length, 1)
		if first == nil {
			continue
		}
		if b := r.row(length, first); b.u.value(r.price) > value {
			best, value = b, b.u.value(r.price)
		}
	}
	return best
}

// row fills a level of height h, begun with base, strip by strip.
func (r *rower) row(h measure.Length, base *block) *block {
	copy(r.rest, r.left)
	base.u.take(r.rest, 1)
	r.usable = r.usable[:0]
	for i := range r.order {
		if x := &r.order[i]; x.b.h <= h && x.u.within(r.rest) {
			r.usable = append(r.usable, x)
		}
	}
	kids := []*block{base}
	room, edges := r.width-base.w, 2-base.need
	for len(r.usable) > 0 {
		var rate float64
		var most measure.Length // the width of the best strip may be less
		for _, w := range r.tried(room) {
			value, wide := r.stacked(w, h, min(edges, 1))
			if wide == 0 {
				continue
			}
			v := value / float64(wide)
			if wide == room {
				v *= 1.0001 // nothing left over beside it
			}
			if v > rate {
				rate, most = v, w
			}
		}
		if rate == 0 {
			break
		}
		r.stacked(most, h, min(edges, 1))
		best := r.picked()
		best.u.take(r.rest, 1)
		room, edges = room-best.w, edges-best.need
		kids = append(kids, best)
	}
	return rowOf(kids...)
}

// tried returns the strip widths to try in a room, at most maxStrips of them.
func (r *rower) tried(room measure.Length) []measure.Length {
	n := sort.Search(len(r.widths), func(i int) bool { return r.widths[i] > room })
	if n <= maxStrips {
		return r.widths[:n]
	}
	r.some = r.some[:0]
	for i := 1; i <= maxStrips; i++ {
		r.some = append(r.some, r.widths[i*n/maxStrips-1])
	}
	return r.some
}

// strip stacks the best blocks not wider than w into height h; nil if none fits.
func (r *rower) strip(w, h measure.Length, edges int) *block {
	copy(r.rest, r.left)
	r.usable = r.usable[:0]
	for i := range r.order {
		r.usable = append(r.usable, &r.order[i])
	}
	if _, wide := r.stacked(w, h, edges); wide == 0 {
		return nil
	}
	return r.picked()
}

// stacked stacks the best usable blocks not wider than w, of what is in rest,
// into height h. It returns what they are worth and how wide they are, and leaves
// them in picks.
func (r *rower) stacked(w, h measure.Length, edges int) (value float64, wide measure.Length) {
	r.picks = r.picks[:0]
	for _, x := range r.usable {
		if x.b.w > w || x.b.need > edges {
			continue
		}
		for x.b.h <= h && x.u.within(r.rest) {
			x.u.take(r.rest, 1)
			h -= x.b.h
			value, wide = value+x.value, max(wide, x.b.w)
			r.picks = append(r.picks, x)
		}
	}
	for _, x := range r.picks {
		x.u.take(r.rest, -1)
	}
	return value, wide
}

func (r *rower) picked() *block {
	kids := make([]*block, len(r.picks))
	for i, x := range r.picks {
		kids[i] = x.b
	}
	return stackOf(kids...)
}
