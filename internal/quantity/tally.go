package quantity

import "sort"

// tally adds up items by everything but their amounts, keeping first-seen
// order, so that sums do not depend on map order.
type tally struct {
	at    map[tallyKey]int
	items []Item
}

type tallyKey struct {
	item, spec, storey, area, note string
	width, length                  Length
}

// add puts it in; run may be "". Items with Sum set are one line whatever
// their lengths.
func (y *tally) add(it Item, run string) {
	if y.at == nil {
		y.at = map[tallyKey]int{}
	}
	k := tallyKey{it.Item, it.Spec, it.Storey, it.Area, it.Note, it.Width, it.Length}
	if it.Sum {
		k.length = 0
	}
	i, ok := y.at[k]
	if !ok {
		i = len(y.items)
		y.at[k] = i
		first := it
		first.Runs = nil
		y.items = append(y.items, first)
	} else {
		have := &y.items[i]
		if it.Sum {
			have.Length += it.Length
		}
		have.AreaM2 += it.AreaM2
		have.Litres += it.Litres
		have.Count += it.Count
		have.Allowance += it.Allowance
		have.MassKg += it.MassKg
	}
	if run == "" {
		return
	}
	rs := y.items[i].Runs
	if len(rs) == 0 || rs[len(rs)-1] != run {
		if at := sort.SearchStrings(rs, run); at == len(rs) || rs[at] != run {
			rs = append(rs, "")
			copy(rs[at+1:], rs[at:])
			rs[at] = run
			y.items[i].Runs = rs
		}
	}
}

// sorted returns the items by storey, item, spec, size, area, note.
func (y *tally) sorted() []Item {
	sort.SliceStable(y.items, func(i, k int) bool {
		a, b := &y.items[i], &y.items[k]
		switch {
		case a.Storey != b.Storey:
			return a.Storey < b.Storey
		case a.Item != b.Item:
			return a.Item < b.Item
		case a.Spec != b.Spec:
			return a.Spec < b.Spec
		case a.Width != b.Width:
			return a.Width < b.Width
		case a.Length != b.Length:
			return a.Length < b.Length
		case a.Area != b.Area:
			return a.Area < b.Area
		}
		return a.Note < b.Note
	})
	return y.items
}

// sortedKeys returns the keys of m, rising.
func sortedKeys[V any](m map[string]V) []string {
	ks := make([]string, 0, len(m))
	for k := range m {
		ks = append(ks, k)
	}
	sort.Strings(ks)
	return ks
}
