package cutting

import (
	"math"
	"sort"

	"boardrun/internal/measure"
)

// scale replaces widths across the sheet by others such that pieces that lie
// side by side on a sheet still do: a conservative scale. Any real cutting then
// remains one of the scaled pieces, non-guillotine ones too, and every bound for
// them holds (Fekete and Schepers, Mathematical Programming 91, 2001; Belov,
// Kartak, Rohling and Scheithauer, Int. Trans. Oper. Res. 20, 2013). need is how
// many of the sheet's two tapered edges the piece takes wherever a line across
// meets it: no line meets pieces that take more than two.
type scale func(width measure.Length, need int) measure.Length

func asIs(w measure.Length, _ int) measure.Length { return w }

// edged counts a piece as half the width for every tapered edge it takes, and
// one as wide as the sheet as such.
func edged(width measure.Length) scale {
	return func(w measure.Length, need int) measure.Length {
		if w == width {
			return width
		}
		return measure.Length(need) * (width / barEdges)
	}
}

// above counts what is wider than width − t as the whole width, what is narrower
// than t as nothing.
func above(width, t measure.Length) scale {
	return func(w measure.Length, _ int) measure.Length {
		switch {
		case w > width-t:
			return width
		case w < t:
			return 0
		}
		return w
	}
}

// mixed is the mean of two scales, rounded down; it is conservative if they are.
func mixed(a, b scale) scale {
	return func(w measure.Length, need int) measure.Length { return (a(w, need) + b(w, need)) / 2 }
}

// width is what the programme across pays for a width that takes so many
// tapered edges, as a width.
type width struct {
	length, paid measure.Length
	need         int
}

// paid returns the sizes of the rows that have one way to be met and what the
// programme pays for them, as a part of whole where whole is what it pays for a
// bar at most; rounded down.
func (b *bars) paid(whole, g measure.Length) []width {
	most := 0.0
	for i := range b.items { // any number may lie on a line: parts of pieces are scaled too
		b.items[i].max = math.MaxInt32
	}
	b.price(b.centre)
	for _, s := range b.stock {
		most = max(most, b.worthOf(s.size))
	}
	ways := make([]int, len(b.need))
	for _, it := range b.items {
		ways[it.row]++
	}
	var out []width
	for _, it := range b.items {
		if y := b.centre[it.row]; ways[it.row] == 1 && most > 0 {
			part := measure.Length(float64(whole) * y / most * (1 - 1e-9))
			out = append(out, width{length: measure.Length(it.size) * g, paid: part, need: it.need})
		}
	}
	return out
}

// priced scales widths by the prices of the programme across the sheet: what it
// pays for a width is at most what a whole line across costs for any set of
// widths that fits. Widths between those it knows count as the next one below.
func (q *relaxed) priced() scale {
	width := q.stock[0].Width
	known := q.widths
	return func(w measure.Length, need int) measure.Length {
		if w >= width {
			return width
		}
		var best measure.Length
		for _, k := range known {
			if k.length <= w && k.need <= need {
				best = max(best, k.paid)
			}
		}
		return best
	}
}

// scales lists the scales worth trying, the best guess first.
func (q *relaxed) scales() []scale {
	width := q.stock[0].Width
	var out []scale
	if len(q.widths) > 0 {
		p := q.priced()
		out = append(out, p, mixed(p, asIs))
	}
	for _, s := range q.shapes {
		if s.left != s.right {
			out = append(out, mixed(edged(width), asIs))
			break
		}
	}
	for _, t := range q.thresholds(width) {
		out = append(out, above(width, t))
	}
	if len(out) > q.proof.scales {
		out = out[:q.proof.scales]
	}
	return out
}

// thresholds returns widths t worth trying for above: what some pair of pieces
// too wide to share a line across suggests.
func (q *relaxed) thresholds(width measure.Length) []measure.Length {
	seen := map[measure.Length]bool{}
	var out []measure.Length
	for i, s := range q.shapes {
		w, _ := q.inside(i)
		if vs := s.variants(i); q.left[i] == 0 || w == 0 || w >= width || len(vs) != 1 || vs[0].quarter {
			continue
		}
		t := w
		if 2*w > width {
			t = width - w + 1
		}
		if 2*t <= width && !seen[t] {
			seen[t] = true
			out = append(out, t)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i] > out[j] })
	for len(out) > q.proof.scales { // thin out evenly
		kept := out[:0]
		for i, t := range out {
			if i%2 == 0 {
				kept = append(kept, t)
			}
		}
		out = kept
	}
	return out
}
