package cutting

import "sort"

// pocketKey names a notch of a shape.
type pocketKey struct{ shape, pocket int }

// fillPockets cuts small pieces that want no factory edge from the board inside
// notches, the largest notches first, and takes them off left. Such board is
// free, so using it never costs a sheet. The result queues one entry per copy
// of the notched shape; nil entries are not used.
func fillPockets(shapes []*shape, left []int, buckets int) map[pocketKey][]*block {
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
		if !s.left && !s.right && !s.bottom && !s.top && len(s.pocket) == 0 && !s.uncut {
			rest[i] = left[i]
		}
	}
	out := map[pocketKey][]*block{}
	for _, k := range keys {
		b := shapes[k.shape].pocket[k.pocket].Bounds()
		f := newFiller(shapes, []Stock{{Width: b.W(), Length: b.H(), Cost: 1}}, buckets)
		for range shapes[k.shape].copies {
			var best candidate
			for _, c := range f.patterns(price, rest) {
				if c.value > best.value {
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
