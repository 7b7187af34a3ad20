package trace

import (
	"cmp"
	"math"
	"slices"

	"boardrun/internal/geom"
)

// fan is how many boxes one node of a boxIndex holds.
const fan = 16

// boxIndex finds the boxes that touch a box. It is filled and built on the
// first search after: boxes are packed by strips of x, then by y,
// so that neighbours share nodes however the drawing ordered them. (A tree that
// grows by insertion was tried: on rows of plans in file order its nodes
// overlap, and searches took three quarters of the tracer's time.)
type boxIndex struct {
	items []boxItem
	nodes []geom.Rect // level by level, leaves first
	level []int       // where each level starts
	built bool
}

type boxItem struct {
	box geom.Rect
	id  int32
}

// add puts the bounds of points in.
func (x *boxIndex) add(id int32, ps ...geom.Pt) {
	x.items = append(x.items, boxItem{boundsOf(ps), id})
	x.built = false
}

func (x *boxIndex) build() {
	x.built = true
	x.nodes, x.level = x.nodes[:0], x.level[:0]
	n := len(x.items)
	if n == 0 {
		return
	}
	slices.SortFunc(x.items, func(a, b boxItem) int {
		return cmp.Or(cmp.Compare(a.box.Min.X+a.box.Max.X, b.box.Min.X+b.box.Max.X), cmp.Compare(a.id, b.id))
	})
	leaves := (n + fan - 1) / fan
	strip := fan * int(math.Ceil(math.Sqrt(float64(leaves))))
	for i := 0; i < n; i += strip {
		slices.SortFunc(x.items[i:min(n, i+strip)], func(a, b boxItem) int {
			return cmp.Or(cmp.Compare(a.box.Min.Y+a.box.Max.Y, b.box.Min.Y+b.box.Max.Y), cmp.Compare(a.id, b.id))
		})
	}
	x.level = append(x.level, 0)
	for i := 0; i < n; i += fan {
		r := x.items[i].box
		for _, it := range x.items[i+1 : min(n, i+fan)] {
			r = join(r, it.box)
		}
		x.nodes = append(x.nodes, r)
	}
	for lo := 0; len(x.nodes)-lo > 1; {
		hi := len(x.nodes)
		x.level = append(x.level, hi)
		for i := lo; i < hi; i += fan {
			r := x.nodes[i]
			for _, q := range x.nodes[i+1 : min(hi, i+fan)] {
				r = join(r, q)
			}
			x.nodes = append(x.nodes, r)
		}
		lo = hi
	}
}

func join(a, b geom.Rect) geom.Rect {
	return geom.Rect{
		Min: geom.Pt{X: min(a.Min.X, b.Min.X), Y: min(a.Min.Y, b.Min.Y)},
		Max: geom.Pt{X: max(a.Max.X, b.Max.X), Y: max(a.Max.Y, b.Max.Y)},
	}
}

func touch(a, b *geom.Rect) bool {
	return a.Min.X <= b.Max.X && b.Min.X <= a.Max.X && a.Min.Y <= b.Max.Y && b.Min.Y <= a.Max.Y
}

// search calls f for each box that touches the bounds of the points grown by d.
func (x *boxIndex) search(d Length, f func(id int32), ps ...geom.Pt) {
	if !x.built {
		x.build()
	}
	if len(x.items) == 0 {
		return
	}
	r := boundsOf(ps)
	r.Min.X, r.Min.Y, r.Max.X, r.Max.Y = r.Min.X-d, r.Min.Y-d, r.Max.X+d, r.Max.Y+d
	x.visit(len(x.level)-1, 0, &r, f)
}

func (x *boxIndex) visit(level, k int, r *geom.Rect, f func(id int32)) {
	if !touch(&x.nodes[x.level[level]+k], r) {
		return
	}
	if level == 0 {
		for i := k * fan; i < min(len(x.items), (k+1)*fan); i++ {
			if touch(&x.items[i].box, r) {
				f(x.items[i].id)
			}
		}
		return
	}
	size := x.level[level] - x.level[level-1]
	for i := k * fan; i < min(size, (k+1)*fan); i++ {
		x.visit(level-1, i, r, f)
	}
}

func boundsOf(ps []geom.Pt) geom.Rect { return geom.Poly(ps).Bounds() }
