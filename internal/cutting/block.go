package cutting

import (
	"cmp"
	"slices"
	"sort"

	"boardrun/internal/measure"
)

// blockKind says how a block is taken apart.
type blockKind uint8

const (
	single blockKind = iota // one blank
	pair                    // two sloped blanks, the second turned head to tail
	row                     // side by side across the sheet
	stack                   // one above the other along the sheet
)

// block is a rectangle that straight cuts take apart into blanks. Its parts lie
// anyhow on its sheet until it is laid out: need says how many factory long
// edges it must touch, and a block that needs one may lie on either side.
type block struct {
	kind blockKind
	w, h measure.Length
	need int
	a, b variant  // single: a; pair: a below, b turned above
	kids []*block // row, stack
	u    use      // what it holds, of all kids together
}

func singleBlock(v variant) *block {
	return &block{kind: single, w: v.w, h: v.h, need: v.need, a: v, u: use{{v.shape, 1}}}
}

// pairBlock lays b head to tail above a along slanted cuts; nil if it cannot be
// or their wishes would need both edges of a block narrower than width.
func pairBlock(shapes []*shape, a, b variant, width measure.Length) *block {
	s, t := shapes[a.shape], shapes[b.shape]
	if a.quarter || b.quarter || !s.sloped || !t.sloped || a.w != b.w || (s.l > s.r) != (t.l > t.r) {
		return nil
	}
	need := 0
	if a.left || b.right {
		need++
	}
	if a.right || b.left {
		need++
	}
	if need == 2 && a.w != width {
		return nil
	}
	u := use{{a.shape, 1}, {b.shape, 1}}
	switch {
	case a.shape == b.shape:
		u = use{{a.shape, 2}}
	case a.shape > b.shape:
		u[0], u[1] = u[1], u[0]
	}
	return &block{kind: pair, w: a.w, h: max(s.l+t.r, s.r+t.l), need: need, a: a, b: b, u: u}
}

// stackOf puts kids one above the other: those that need more edges and are
// wider lowest, like ones together.
func stackOf(kids ...*block) *block {
	if len(kids) == 1 {
		return kids[0]
	}
	b := &block{kind: stack, kids: kids, u: usesOf(kids)}
	for _, k := range kids {
		b.w, b.h, b.need = max(b.w, k.w), b.h+k.h, max(b.need, k.need)
	}
	slices.SortStableFunc(b.kids, func(x, y *block) int { return cmp.Or(cmp.Compare(y.w, x.w), cmp.Compare(y.h, x.h)) })
	return b
}

// rowOf puts kids side by side; the sum of their needs must be at most 2, and 2
// only if the row spans the sheet.
func rowOf(kids ...*block) *block {
	if len(kids) == 1 {
		return kids[0]
	}
	b := &block{kind: row, kids: kids, u: usesOf(kids)}
	for _, k := range kids {
		b.w, b.h, b.need = b.w+k.w, max(b.h, k.h), b.need+k.need
	}
	slices.SortStableFunc(b.kids, func(x, y *block) int { return cmp.Or(cmp.Compare(y.h, x.h), cmp.Compare(y.w, x.w)) })
	return b
}

// each calls f for every blank in b, in laying order.
func (b *block) each(f func(v variant)) {
	switch b.kind {
	case single:
		f(b.a)
	case pair:
		f(b.a)
		f(b.b)
	default:
		for _, k := range b.kids {
			k.each(f)
		}
	}
}

// use is how many of each shape a block holds, sorted by shape.
type use []struct{ shape, n int }

// usesOf adds up what several blocks hold.
func usesOf(kids []*block) use {
	n := 0
	for _, k := range kids {
		n += len(k.u)
	}
	u := make(use, 0, n)
	for _, k := range kids {
		for _, e := range k.u {
			i := sort.Search(len(u), func(i int) bool { return u[i].shape >= e.shape })
			if i < len(u) && u[i].shape == e.shape {
				u[i].n += e.n
				continue
			}
			u = slices.Insert(u, i, e)
		}
	}
	return u
}

// within reports whether left, the copies still wanted by shape, allow u.
func (u use) within(left []int) bool {
	for _, e := range u {
		if e.n > left[e.shape] {
			return false
		}
	}
	return true
}

// take subtracts times × u from left.
func (u use) take(left []int, times int) {
	for _, e := range u {
		left[e.shape] -= e.n * times
	}
}

// value returns what u is worth at the given prices per shape.
func (u use) value(price []float64) float64 {
	var s float64
	for _, e := range u {
		s += float64(e.n) * price[e.shape]
	}
	return s
}
