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
	bases         []*rated
	some          []measure.Length
	across        *across
}

type rated struct {
	b     *block
	u     use
	value float64
}

// dense is the value per area.
func (x *rated) dense() float64 { return x.value / (float64(x.b.h) * float64(x.b.w)) }

// Limits on the levels tried at one set of prices; they bound the work on jobs
// with hundreds of narrow pieces.
const (
	maxLevels = 40
	maxStrips = 24
	maxSides  = 150
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

// levels returns rows as tall as one of the narrow blocks, each with that block
// and the best found to lie beside it, as parts to be stacked once.
func (r *rower) levels(longest measure.Length) []part {
	r.prepare()
	r.bases = r.bases[:0]
	for i := range r.order {
		if x := &r.order[i]; x.b.h <= longest && x.b.need < barEdges {
			r.bases = append(r.bases, x)
		}
	}
	if len(r.bases) > maxSides {
		slices.SortStableFunc(r.bases, func(a, b *rated) int { return cmp.Compare(b.dense(), a.dense()) })
		r.bases = r.bases[:maxSides]
	}
	slices.SortStableFunc(r.bases, func(a, b *rated) int { return cmp.Compare(a.b.h, b.b.h) })
	rows := r.beside(longest, nil)
	slices.SortStableFunc(rows, func(a, b begun) int {
		return cmp.Compare(b.value*float64(a.tallest.b.h), a.value*float64(b.tallest.b.h))
	})
	var out []part
	for _, x := range rows[:min(len(rows), maxLevels)] {
		if b := r.row(x.tallest.b.h, x.blocks); b.kind == row {
			out = append(out, part{b: b, h: b.h, value: b.u.value(r.price), max: 1})
		}
	}
	return out
}

// strips returns the best row of full-length strips found.
func (r *rower) strips(length measure.Length) *block {
	r.prepare()
	r.bases = r.bases[:0]
	for i := range r.order {
		if x := &r.order[i]; x.b.h <= length && x.b.need < barEdges && len(r.bases) < maxSides {
			r.bases = append(r.bases, x)
		}
	}
	above := make([]float64, len(r.bases)) // what can be stacked on each is worth
	copy(r.rest, r.left)
	r.usable = append(r.usable[:0], r.bases...)
	for i, x := range r.bases {
		x.u.take(r.rest, 1)
		above[i], _ = r.stacked(x.b.w, length-x.b.h, x.b.need)
		x.u.take(r.rest, -1)
	}
	var best *block
	var value float64
	rows := r.beside(length, above)
	slices.SortStableFunc(rows, func(a, b begun) int { return cmp.Compare(b.value, a.value) })
	for _, x := range rows[:min(len(rows), 3)] {
		if b := r.row(length, x.blocks); b.u.value(r.price) > value {
			best, value = b, b.u.value(r.price)
		}
	}
	return best
}

// begun is blocks to lie side by side, the last of the bases among them first.
type begun struct {
	tallest *rated
	blocks  []*rated
	value   float64
}

// beside returns for each of the bases the most valuable row of it and those
// before it; above is added to what they are worth.
func (r *rower) beside(h measure.Length, above []float64) []begun {
	r.across.reset(r.width)
	var of []*rated
	var out []begun
	for i, x := range r.bases {
		copies := int(r.width / x.b.w)
		for _, e := range x.u {
			copies = min(copies, r.left[e.shape]/e.n)
		}
		s := side{x.b.w, x.b.need, x.value}
		if above != nil {
			s.value += above[i]
		}
		for ; copies > 0; copies-- {
			r.across.put(s)
			of = append(of, x)
		}
	}
	for n, x := range of {
		if n+1 < len(of) && of[n+1] == x {
			continue
		}
		b := begun{tallest: x, value: r.across.last[n].value}
		for _, k := range r.across.set(n) {
			b.blocks = append(b.blocks, of[k])
		}
		out = append(out, b)
	}
	return out
}

// row fills a level of height h: blocks side by side as far as copies are left,
// others on top of them, and strips beside them.
func (r *rower) row(h measure.Length, blocks []*rated) *block {
	copy(r.rest, r.left)
	room, edges := r.width, barEdges
	strips := make([][]*block, 0, len(blocks))
	for _, x := range blocks {
		if x.u.within(r.rest) && x.b.w <= room && x.b.need <= edges {
			x.u.take(r.rest, 1)
			room, edges = room-x.b.w, edges-x.b.need
			strips = append(strips, []*block{x.b})
		}
	}
	r.usable = r.usable[:0]
	for i := range r.order {
		if x := &r.order[i]; x.b.h <= h && x.u.within(r.rest) {
			r.usable = append(r.usable, x)
		}
	}
	kids := make([]*block, 0, len(strips))
	for _, s := range strips {
		low := s[0]
		r.stacked(low.w, h-low.h, low.need)
		for _, x := range r.picks {
			x.u.take(r.rest, 1)
			s = append(s, x.b)
		}
		kids = append(kids, stackOf(s...))
	}
	for len(r.usable) > 0 {
		b := r.strip(room, h, min(edges, 1))
		if b == nil {
			break
		}
		b.u.take(r.rest, 1)
		room, edges = room-b.w, edges-b.need
		kids = append(kids, b)
	}
	return rowOf(kids...)
}

// strip returns the stack of height h not wider than room that is worth most for
// its width, nil if there is none.
func (r *rower) strip(room, h measure.Length, edges int) *block {
	var rate float64
	var most measure.Length // the width of the best strip may be less
	for _, w := range r.tried(room) {
		value, wide := r.stacked(w, h, edges)
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
		return nil
	}
	r.stacked(most, h, edges)
	kids := make([]*block, len(r.picks))
	for i, x := range r.picks {
		kids[i] = x.b
	}
	return stackOf(kids...)
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
