package cutting

import (
	"sort"

	"boardrun/internal/geom"
)

// pocketKey names a notch of a shape.
type pocketKey struct{ shape, pocket int }

// fillPockets cuts small pieces from the board inside notches, the largest notches
// first, and takes them off left. A notch open to a long edge of the sheet has
// that factory edge to give, once. Such board is free, so using it never costs a
// sheet. The result queues one entry per copy
// of the notched shape; nil entries are not used.
func fillPockets(shapes []*shape, left []int, stock []Stock, buckets int) map[pocketKey][]*block {
	var keys []pocketKey
	for i, s := range shapes {
		for k, p := range s.pocket {
			if isRect(p) && !s.uncut && len(s.variants(i)) == 1 && !s.variants(i)[0].quarter {
				keys = append(keys, pocketKey{i, k})
			}
		}
	}
	if len(keys) == 0 {
		return nil
	}
	size := func(k pocketKey) int64 { return twiceArea(shapes[k.shape].pocket[k.pocket]) }
	sort.SliceStable(keys, func(a, b int) bool { return size(keys[a]) > size(keys[b]) })
	rest := make([]int, len(left))
	price := make([]float64, len(left))
	for i, s := range shapes {
		price[i] = s.area
		if vs := s.variants(i); len(vs) > 0 && vs[0].need < 2 && len(s.pocket) == 0 && !s.uncut {
			rest[i] = left[i]
		}
	}
	plain := func() []int { // what wants no factory edge
		out := append([]int(nil), rest...)
		for i, s := range shapes {
			if s.left || s.right || s.bottom || s.top {
				out[i] = 0
			}
		}
		return out
	}
	out := map[pocketKey][]*block{}
	for _, k := range keys {
		b := shapes[k.shape].pocket[k.pocket].Bounds()
		f := newFiller(shapes, []Stock{{Width: b.W(), Length: b.H(), Cost: 1}}, buckets)
		for range shapes[k.shape].copies {
			var best candidate
			edges := openEdges(shapes[k.shape], b, stock)
			for _, c := range append(f.patterns(price, rest), f.patterns(price, plain())...) {
				if c.value > best.value && c.b.need <= edges && !wantsBoth(c.b) {
					best = c
				}
			}
			if best.b == nil {
				break
			}
			best.u.take(rest, 1)
			best.u.take(left, 1)
			out[k] = append(out[k], best.b)
		}
	}
	return out
}

// openEdges returns how many tapered edges a notch has: one if its piece is as
// wide as every sheet and the notch lies at its side.
func openEdges(s *shape, pocket geom.Rect, stock []Stock) int {
	for _, k := range stock {
		if k.Width != s.w {
			return 0
		}
	}
	if pocket.Min.X == 0 || pocket.Max.X == s.w {
		return 1
	}
	return 0
}
