package cutting

import (
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
	seen := map[measure.Length]bool{}
	for _, b := range r.narrow {
		u := b.use()
		if v := u.value(r.price); v > 0 && u.within(r.left) {
			r.order = append(r.order, rated{b, u, v})
			if !seen[b.w] {
				seen[b.w] = true
				r.widths = append(r.widths, b.w)
			}
		}
	}
	sort.SliceStable(r.order, func(i, j int) bool {
		a, b := r.order[i], r.order[j]
		return a.value*float64(b.b.h) > b.value*float64(a.b.h)
	})
	sort.Slice(r.widths, func(i, j int) bool { return r.widths[i] < r.widths[j] })
}

// levels returns rows as tall as one of the narrow blocks, each begun with that
// block, as parts to be stacked once.
func (r *rower) levels(longest measure.Length) []part {
	r.prepare()
	bases := append([]rated(nil), r.order...)
	sort.SliceStable(bases, func(i, j int) bool {
		a, b := bases[i], bases[j]
		da, db := a.value/(float64(a.b.h)*float64(a.b.w)), b.value/(float64(b.b.h)*float64(b.b.w))
		return da > db
	})
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
			out = append(out, part{b: b, h: b.h, value: b.use().value(r.price), max: 1})
		}
	}
	return out
}

// strips returns the best row of full-length strips found.
func (r *rower) strips(length measure.Length) *block {
	r.prepare()
	var best *block
	var value float64
	for _, w := range r.tried(r.width) {
		first := r.strip(w, length, 1, r.left)
		if first == nil {
			continue
		}
		if b := r.row(length, first); b.use().value(r.price) > value {
			best, value = b, b.use().value(r.price)
		}
	}
	return best
}

// row fills a level of height h, begun with base, strip by strip.
func (r *rower) row(h measure.Length, base *block) *block {
	rest := append([]int(nil), r.left...)
	base.use().take(rest, 1)
	kids := []*block{base}
	room, edges := r.width-base.w, 2-base.need
	for {
		var best *block
		var rate float64
		for _, w := range r.tried(room) {
			s := r.strip(w, h, min(edges, 1), rest)
			if s == nil {
				continue
			}
			v := s.use().value(r.price) / float64(s.w)
			if s.w == room {
				v *= 1.0001 // nothing left over beside it
			}
			if v > rate {
				best, rate = s, v
			}
		}
		if best == nil {
			return rowOf(kids...)
		}
		best.use().take(rest, 1)
		room, edges = room-best.w, edges-best.need
		kids = append(kids, best)
	}
}

// tried returns the strip widths to try in a room, at most maxStrips of them.
func (r *rower) tried(room measure.Length) []measure.Length {
	n := sort.Search(len(r.widths), func(i int) bool { return r.widths[i] > room })
	if n <= maxStrips {
		return r.widths[:n]
	}
	var out []measure.Length
	for i := 1; i <= maxStrips; i++ {
		out = append(out, r.widths[i*n/maxStrips-1])
	}
	return out
}

// strip stacks the best blocks not wider than w into height h.
func (r *rower) strip(w, h measure.Length, edges int, left []int) *block {
	var kids []*block
	var taken use
	for _, x := range r.order {
		if x.b.w > w || x.b.need > edges || x.b.h > h || left[x.u[0].shape] == 0 {
			continue
		}
		for x.b.h <= h && x.u.withinAfter(left, taken) {
			kids, h = append(kids, x.b), h-x.b.h
			taken = append(taken, x.u...)
		}
	}
	if kids == nil {
		return nil
	}
	return stackOf(kids...)
}

// withinAfter reports whether left allows u once taken (not sorted) is used.
func (u use) withinAfter(left []int, taken use) bool {
	for _, e := range u {
		n := e.n
		for _, t := range taken {
			if t.shape == e.shape {
				n += t.n
			}
		}
		if n > left[e.shape] {
			return false
		}
	}
	return true
}
