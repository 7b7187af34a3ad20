package run

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/plan"
)

// boxes are rectangles by their left sides, so that those round a point are
// found without asking all. The few that are much wider than the rest are
// always asked.
type boxes struct {
	narrow []numbered // by Min.X
	reach  Length     // width of the widest of them
	wide   []numbered
}

type numbered struct {
	geom.Rect
	i int
}

// outlinesOf returns the boxes of the rooms that have an outline.
func outlinesOf(rooms []plan.Room) *boxes {
	b := &boxes{}
	var sum float64 // of widths
	for i := range rooms {
		if o := rooms[i].Outline; len(o) >= 3 {
			b.narrow = append(b.narrow, numbered{o.Bounds(), i})
			sum += float64(o.Bounds().W())
		}
	}
	usual := Length(sum / float64(max(1, len(b.narrow))))
	b.narrow = slices.DeleteFunc(b.narrow, func(r numbered) bool {
		if r.W() > 2*usual {
			b.wide = append(b.wide, r)
			return true
		}
		b.reach = max(b.reach, r.W())
		return false
	})
	slices.SortStableFunc(b.narrow, func(r, s numbered) int { return cmp.Compare(r.Min.X, s.Min.X) })
	return b
}

// first returns the lowest number of a box round p that ok accepts, −1 for none.
func (b *boxes) first(p geom.Pt, ok func(i int) bool) int {
	best := -1
	try := func(r *numbered) {
		if p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y && (best < 0 || r.i < best) && ok(r.i) {
			best = r.i
		}
	}
	for k := range b.wide {
		try(&b.wide[k])
	}
	k, _ := slices.BinarySearchFunc(b.narrow, p.X-b.reach, func(r numbered, x Length) int { return cmp.Compare(r.Min.X, x) })
	for ; k < len(b.narrow) && b.narrow[k].Min.X <= p.X; k++ {
		try(&b.narrow[k])
	}
	return best
}

// places are points by their x.
type places struct {
	at []geom.Pt
	i  []int
}

// namesOf returns where the rooms' names stand.
func namesOf(rooms []plan.Room) *places {
	p := &places{}
	for i := range rooms {
		p.i = append(p.i, i)
	}
	slices.SortStableFunc(p.i, func(i, k int) int { return cmp.Compare(rooms[i].At.X, rooms[k].At.X) })
	for _, i := range p.i {
		p.at = append(p.at, rooms[i].At)
	}
	return p
}

// first returns the lowest number of a place in a box that ok accepts, −1 for
// none.
func (p *places) first(box geom.Rect, ok func(i int) bool) int {
	best := -1
	k, _ := slices.BinarySearchFunc(p.at, box.Min.X, func(q geom.Pt, x Length) int { return cmp.Compare(q.X, x) })
	for ; k < len(p.at) && p.at[k].X <= box.Max.X; k++ {
		if y := p.at[k].Y; y >= box.Min.Y && y <= box.Max.Y && (best < 0 || p.i[k] < best) && ok(p.i[k]) {
			best = p.i[k]
		}
	}
	return best
}
