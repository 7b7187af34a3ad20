package part21

import (
	"cmp"
	"slices"
)

// run is a stretch of instances whose ids follow each other in the file.
type run struct {
	first ID
	ord   uint32 // number of the first within its segment
	n     uint32
	seg   uint32
}

func (a run) end() ID { return a.first + ID(a.n) }

// index finds the offset of an instance: runs sorted by first id, none
// overlapping.
type index struct {
	runs []run
	segs []*segment
}

// Duplicate is an instance name used more than once. The first one counts.
type Duplicate struct {
	ID          ID
	Offset, And int64 // of the one that counts and of the one left out
}

func (x *index) offset(a run, id ID) int64 {
	return int64(x.segs[a.seg].offs.at(a.ord + uint32(id-a.first)))
}

// find returns the number of the run that holds id, −1 if none; hint is a run
// that is tried first.
func (x *index) find(id ID, hint int) int {
	if hint >= 0 && hint < len(x.runs) && id >= x.runs[hint].first && id < x.runs[hint].end() {
		return hint
	}
	i, ok := slices.BinarySearchFunc(x.runs, id, func(a run, id ID) int { return cmp.Compare(a.first, id) })
	if !ok {
		i--
	}
	if i < 0 || id >= x.runs[i].end() {
		return -1
	}
	return i
}

// build sorts the runs of all segments and takes out repeated ids.
func (x *index) build() []Duplicate {
	for i, g := range x.segs {
		for _, a := range g.runs {
			a.seg = uint32(i)
			x.runs = append(x.runs, a)
		}
		g.runs = nil
	}
	byID := func(a, b run) int {
		return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(x.offset(a, a.first), x.offset(b, b.first)))
	}
	if !slices.IsSortedFunc(x.runs, byID) {
		slices.SortFunc(x.runs, byID)
	}
	var dups []Duplicate
	out := x.runs[:0:0]
	for i := 0; i < len(x.runs); {
		end, j := x.runs[i].end(), i+1
		for j < len(x.runs) && x.runs[j].first < end {
			end = max(end, x.runs[j].end())
			j++
		}
		if j == i+1 {
			if out != nil {
				out = append(out, x.runs[i])
			}
		} else {
			if out == nil {
				out = append(make([]run, 0, len(x.runs)), x.runs[:i]...)
			}
			single, d := x.apart(x.runs[i:j])
			out, dups = append(out, single...), append(dups, d...)
		}
		i = j
	}
	if out != nil {
		x.runs = out
	}
	return dups
}

// apart splits overlapping runs into single instances and keeps the first of
// each id.
func (x *index) apart(runs []run) (single []run, dups []Duplicate) {
	for _, a := range runs {
		for k := uint32(0); k < a.n; k++ {
			single = append(single, run{a.first + ID(k), a.ord + k, 1, a.seg})
		}
	}
	slices.SortFunc(single, func(a, b run) int {
		return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(x.offset(a, a.first), x.offset(b, b.first)))
	})
	kept := single[:0]
	for _, a := range single {
		if n := len(kept); n > 0 && kept[n-1].first == a.first {
			dups = append(dups, Duplicate{a.first, x.offset(kept[n-1], a.first), x.offset(a, a.first)})
			continue
		}
		kept = append(kept, a)
	}
	return kept, dups
}
