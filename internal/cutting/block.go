package cutting

import (
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
}

func singleBlock(v variant) *block {
	return &block{kind: single, w: v.w, h: v.h, need: v.need, a: v}
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
	return &block{kind: pair, w: a.w, h: max(s.l+t.r, s.r+t.l), need: need, a: a, b: b}
}

// stackOf puts kids one above the other: those that need more edges and are
// wider lowest, like ones together.
func stackOf(kids ...*block) *block {
	if len(kids) == 1 {
		return kids[0]
	}
	b := &block{kind: stack, kids: kids}
	for _, k := range kids {
		b.w, b.h, b.need = max(b.w, k.w), b.h+k.h, max(b.need, k.need)
	}
	sort.SliceStable(b.kids, func(i, j int) bool {
		if x, y := b.kids[i], b.kids[j]; x.w != y.w {
			return x.w > y.w
		} else if x.h != y.h {
			return x.h > y.h
		}
		return false
	})
	return b
}

// rowOf puts kids side by side; the sum of their needs must be at most 2, and 2
// only if the row spans the sheet.
func rowOf(kids ...*block) *block {
	if len(kids) == 1 {
		return kids[0]
	}
	b := &block{kind: row, kids: kids}
	for _, k := range kids {
		b.w, b.h, b.need = b.w+k.w, max(b.h, k.h), b.need+k.need
	}
	sort.SliceStable(b.kids, func(i, j int) bool {
		if x, y := b.kids[i], b.kids[j]; x.h != y.h {
			return x.h > y.h
		} else if x.w != y.w {
			return x.w > y.w
		}
		return false
	})
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

func (b *block) use() use {
	var u use
	b.each(func(v variant) {
		i := sort.Search(len(u), func(i int) bool { return u[i].shape >= v.shape })
		if i < len(u) && u[i].shape == v.shape {
			u[i].n++
			return
		}
		u = append(u, struct{ shape, n int }{})
		copy(u[i+1:], u[i:])
		u[i] = struct{ shape, n int }{v.shape, 1}
	})
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
