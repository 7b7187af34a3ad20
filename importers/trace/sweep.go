package trace

import (
	"cmp"
	"slices"
	"sort"
)

// maxChain is how many lines may lie side by side, each within a wall's
// thickness of the next, and be walls. Source: own choice.
const maxChain = 64

// sweep runs along s over the edges of one bundle and calls strip for every
// stretch on which a chain of neighbouring edges stays the same. A chain is a
// maximal row of active edges, by rising r, each within reach of the next. The
// edges of one chain see each other; those of two chains never pair.
//
//	        s ──►      strip 1 │ strip 2 │ strip 3
//	edge 2  ───────────────────┼─────────┼───────
//	edge 1  ───────────────────┘         └───────
//	edge 0  ─────────────────────────────────────
//
// Cost: O(n log n) for the events plus the length of the chains touched, which
// maxChain bounds.
func sweep(edges []edge, reach Length, strip func(chain []int32, s0, s1 Length)) {
	type event struct {
		s    Length
		open bool
		e    int32
	}
	ev := make([]event, 0, 2*len(edges))
	for i := range edges {
		ev = append(ev, event{edges[i].s0, true, int32(i)}, event{edges[i].s1, false, int32(i)})
	}
	slices.SortFunc(ev, func(a, b event) int {
		if a.s != b.s {
			return cmp.Compare(a.s, b.s)
		}
		if a.open != b.open {
			if a.open {
				return 1
			}
			return -1
		}
		return cmp.Compare(a.e, b.e)
	})
	var active []int32 // edge indexes; edges are sorted by r, so by index
	since := make([]Length, len(edges))
	// flush closes the strip of every chain within reach of r. A chain of more
	// than maxChain edges is a pattern, brick or tile, not walls: it is passed
	// over, and only as much of it is touched as lies near.
	flush := func(r, s Length) {
		lo := sort.Search(len(active), func(k int) bool { return edges[active[k]].r >= r-reach })
		for n := 0; n <= maxChain && lo > 0 && lo < len(active) && edges[active[lo]].r-edges[active[lo-1]].r <= reach; n++ {
			lo--
		}
		for lo < len(active) && edges[active[lo]].r <= r+reach {
			hi := lo + 1
			for hi < len(active) && hi-lo <= 3*maxChain && edges[active[hi]].r-edges[active[hi-1]].r <= reach {
				hi++
			}
			from := since[active[lo]]
			for _, e := range active[lo:hi] {
				from = max(from, since[e])
				since[e] = s
			}
			if s > from && hi-lo > 1 && hi-lo <= maxChain {
				strip(active[lo:hi], from, s)
			}
			lo = hi
		}
	}
	for _, v := range ev {
		flush(edges[v.e].r, v.s)
		at, found := slices.BinarySearch(active, v.e)
		switch {
		case v.open:
			active = slices.Insert(active, at, v.e)
			since[v.e] = v.s
		case found:
			active = slices.Delete(active, at, at+1)
		}
	}
}
