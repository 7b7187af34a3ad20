package importers

import (
	"fmt"
	"math"
	"sort"

	"boardrun/internal/plan"
)

// Change is one wall or opening that an older drawing has otherwise.
type Change struct {
	What   string  `json:"what"`   // wall, opening
	Change string  `json:"change"` // added, removed, moved, changed
	Ref    string  `json:"ref"`    // in the newer drawing; of a removed thing in the older
	Was    string  `json:"was"`    // ref in the older drawing
	Layer  string  `json:"layer"`
	Wall   string  `json:"wall"` // of an opening
	Length float64 `json:"length_mm"`
	Before float64 `json:"length_before_mm"`
	MovedX float64 `json:"moved_x_mm"`
	MovedY float64 `json:"moved_y_mm"`
	Text   string  `json:"text"`
}

// Revision compares a drawing with an older one.
type Revision struct {
	Older     string   `json:"older"`
	Same      int      `json:"walls_unchanged"`
	AddedMM   float64  `json:"wall_added_mm"`
	RemovedMM float64  `json:"wall_removed_mm"`
	Changes   []Change `json:"changes"`
}

// Two drawings are compared to this: less is drafting noise.
// Source: common practice, none published.
const sameMM = 1.0

// A wall that kept neither handle nor place is the same wall where it lies
// within keptLateralMM of the old one's line and overlaps half of the shorter.
// Source: the rule that keeps marks from one takeoff to the next.
const keptLateralMM = 25.0

// Against tells what is new in s since older: walls first, longest first, then
// openings.
func (s *Survey) Against(older *Survey) *Revision {
	r := &Revision{Older: older.File, Changes: []Change{}}
	match := matchWalls(s.Walls, older.Walls)
	used := map[int]bool{}
	for i := range s.Walls {
		w := &s.Walls[i]
		k := match[i]
		if k < 0 {
			r.AddedMM += w.Length
			r.add(Change{What: "wall", Change: "added", Ref: w.Ref, Layer: w.Layer, Length: w.Length})
			continue
		}
		used[k] = true
		r.compare(w, &older.Walls[k])
	}
	for k := range older.Walls {
		if w := &older.Walls[k]; !used[k] {
			r.RemovedMM += w.Length
			r.add(Change{What: "wall", Change: "removed", Ref: w.Ref, Was: w.Ref, Layer: w.Layer, Before: w.Length})
		}
	}
	r.openings(s, older, match)
	for i := range r.Changes {
		r.Changes[i].Text = r.Changes[i].say()
	}
	sort.SliceStable(r.Changes, func(i, k int) bool {
		a, b := r.Changes[i], r.Changes[k]
		if (a.What == "wall") != (b.What == "wall") {
			return a.What == "wall"
		}
		return math.Max(a.Length, a.Before) > math.Max(b.Length, b.Before)
	})
	return r
}

func (r *Revision) add(c Change) { r.Changes = append(r.Changes, c) }

// compare tells what of one wall changed: its place, its length, its
// thickness.
func (r *Revision) compare(w, old *Wall) {
	dx, dy := shiftOf(w, old)
	switch {
	case math.Abs(w.Length-old.Length) > sameMM:
		if d := w.Length - old.Length; d > 0 {
			r.AddedMM += d
		} else {
			r.RemovedMM -= d
		}
		r.add(Change{What: "wall", Change: "changed", Ref: w.Ref, Was: old.Ref, Layer: w.Layer, Length: w.Length, Before: old.Length, MovedX: dx, MovedY: dy})
	case math.Hypot(dx, dy) > sameMM:
		r.add(Change{What: "wall", Change: "moved", Ref: w.Ref, Was: old.Ref, Layer: w.Layer, Length: w.Length, Before: old.Length, MovedX: dx, MovedY: dy})
	case math.Abs(w.Thickness-old.Thickness) > sameMM:
		r.add(Change{What: "wall", Change: "changed", Ref: w.Ref, Was: old.Ref, Layer: w.Layer, Length: w.Length, Before: old.Length})
	default:
		r.Same++
	}
}

// shiftOf is how far the middle of a wall moved.
func shiftOf(w, old *Wall) (dx, dy float64) {
	if len(w.Axis) < 2 || len(old.Axis) < 2 {
		return 0, 0
	}
	m := func(v *Wall, k int) float64 { return (v.Axis[0][k] + v.Axis[1][k]) / 2 }
	return m(w, 0) - m(old, 0), m(w, 1) - m(old, 1)
}

// matchWalls gives each new wall its old one, −1 for none: first by place, then
// by GlobalId or handle, then by lying along it. Each old wall is taken once.
func matchWalls(now, old []Wall) []int {
	out := make([]int, len(now))
	taken := make([]bool, len(old))
	for i := range out {
		out[i] = -1
	}
	pass := func(same func(a, b *Wall) bool) {
		for i := range now {
			for k := 0; k < len(old) && out[i] < 0; k++ {
				if !taken[k] && same(&now[i], &old[k]) {
					out[i], taken[k] = k, true
				}
			}
		}
	}
	matchInPlace(now, old, out, taken)
	pass(func(a, b *Wall) bool { return a.GUID != "" && a.GUID == b.GUID })
	pass(func(a, b *Wall) bool { return a.Storey == b.Storey && along(a, b) })
	pass(func(a, b *Wall) bool {
		return a.GUID == "" && a.Ref != "" && a.Ref == b.Ref && a.Layer == b.Layer && math.Abs(a.Thickness-b.Thickness) <= sameMM
	})
	return out
}

// matchInPlace pairs walls that stayed where they are: nearly all of them, so
// they are looked up by the place of their middle instead of one against all.
func matchInPlace(now, old []Wall, out []int, taken []bool) {
	middle := func(w *Wall) float64 {
		if len(w.Axis) < 2 {
			return 0
		}
		return (w.Axis[0][0] + w.Axis[1][0]) / 2
	}
	order := make([]int, len(old))
	for k := range order {
		order[k] = k
	}
	sort.SliceStable(order, func(i, k int) bool { return middle(&old[order[i]]) < middle(&old[order[k]]) })
	for i := range now {
		x := middle(&now[i])
		from := sort.Search(len(order), func(n int) bool { return middle(&old[order[n]]) >= x-sameMM })
		for n := from; n < len(order) && middle(&old[order[n]]) <= x+sameMM; n++ {
			a, b := &now[i], &old[order[n]]
			dx, dy := shiftOf(a, b)
			if !taken[order[n]] && a.Storey == b.Storey && math.Hypot(dx, dy) <= sameMM && math.Abs(a.Length-b.Length) <= sameMM && math.Abs(a.Thickness-b.Thickness) <= sameMM {
				out[i], taken[order[n]] = order[n], true
				break
			}
		}
	}
}

// along reports whether two straight walls lie on one line and overlap by half
// of the shorter.
func along(a, b *Wall) bool {
	if len(a.Axis) < 2 || len(b.Axis) < 2 || a.Length <= 0 || b.Length <= 0 || math.Abs(a.Thickness-b.Thickness) > 3 {
		return false
	}
	ux, uy := (a.Axis[1][0]-a.Axis[0][0])/a.Length, (a.Axis[1][1]-a.Axis[0][1])/a.Length
	at := func(p [2]float64) (s, d float64) {
		x, y := p[0]-a.Axis[0][0], p[1]-a.Axis[0][1]
		return x*ux + y*uy, math.Abs(y*ux - x*uy)
	}
	s0, d0 := at(b.Axis[0])
	s1, d1 := at(b.Axis[1])
	if d0 > keptLateralMM || d1 > keptLateralMM {
		return false
	}
	return math.Min(a.Length, math.Max(s0, s1))-math.Max(0, math.Min(s0, s1)) >= math.Min(a.Length, b.Length)/2
}

// openings compares the openings of walls that are in both drawings; those of
// added and removed walls come and go with them.
func (r *Revision) openings(s, older *Survey, match []int) {
	type place struct {
		o     *Opening
		x, y  float64
		taken bool
	}
	list := func(v *Survey) []place {
		var out []place
		for i := range v.Plan.Openings {
			q := &v.Plan.Openings[i]
			if q.Wall < 0 || q.Wall >= len(v.Plan.Walls) {
				continue
			}
			x, y := pointAt(&v.Plan.Walls[q.Wall], q.At.MM())
			out = append(out, place{o: &v.Openings[i], x: x, y: y})
		}
		return out
	}
	now, old := list(s), list(older)
	near := func(a, b *place) bool { return math.Hypot(a.x-b.x, a.y-b.y) <= sameMM }
	for i := range now {
		for k := range old {
			if a, b := &now[i], &old[k]; !a.taken && !b.taken && near(a, b) && math.Abs(a.o.Width-b.o.Width) <= sameMM {
				a.taken, b.taken = true, true
			}
		}
	}
	for i := range now {
		for k := range old {
			a, b := &now[i], &old[k]
			if a.taken || b.taken || a.o.Kind != b.o.Kind {
				continue
			}
			sameID := a.o.GUID != "" && a.o.GUID == b.o.GUID || a.o.Mark != "" && a.o.Mark == b.o.Mark || a.o.GUID == "" && a.o.Ref != "" && a.o.Ref == b.o.Ref
			if near(a, b) || sameID {
				a.taken, b.taken = true, true
				change := "moved"
				if math.Abs(a.o.Width-b.o.Width) > sameMM {
					change = "changed"
				}
				r.add(Change{What: "opening", Change: change, Ref: a.o.Ref, Was: b.o.Ref, Wall: a.o.Wall, Length: a.o.Width, Before: b.o.Width, MovedX: a.x - b.x, MovedY: a.y - b.y})
			}
		}
	}
	for i := range now {
		if a := &now[i]; !a.taken {
			r.add(Change{What: "opening", Change: "added", Ref: a.o.Ref, Wall: a.o.Wall, Length: a.o.Width})
		}
	}
	for k := range old {
		if b := &old[k]; !b.taken {
			r.add(Change{What: "opening", Change: "removed", Ref: b.o.Ref, Was: b.o.Ref, Wall: b.o.Wall, Before: b.o.Width})
		}
	}
}

// pointAt is the point of a wall's axis at a distance from its start, in mm.
func pointAt(w *plan.Wall, s float64) (x, y float64) {
	a, b := w.Axis[0], w.Axis[1]
	if w.Arc != nil && w.Arc.Radius > 0 {
		t := w.Arc.Start*math.Pi/180 + math.Copysign(s/w.Arc.Radius.MM(), w.Arc.Sweep)
		return w.Arc.Centre.X.MM() + w.Arc.Radius.MM()*math.Cos(t), w.Arc.Centre.Y.MM() + w.Arc.Radius.MM()*math.Sin(t)
	}
	dx, dy := (b.X - a.X).MM(), (b.Y - a.Y).MM()
	l := math.Hypot(dx, dy)
	if l == 0 {
		return a.X.MM(), a.Y.MM()
	}
	return a.X.MM() + dx*s/l, a.Y.MM() + dy*s/l
}

// say tells a change in a sentence, metres.
func (c *Change) say() string {
	name := c.What + " " + c.Ref
	switch c.Change {
	case "added":
		return fmt.Sprintf("%s added, %.3f m", name, c.Length/1000)
	case "removed":
		return fmt.Sprintf("%s removed, %.3f m", name, c.Before/1000)
	case "moved":
		return fmt.Sprintf("%s moved by (%.3f, %.3f) m", name, c.MovedX/1000, c.MovedY/1000)
	}
	return fmt.Sprintf("%s was %.3f m, is %.3f m", name, c.Before/1000, c.Length/1000)
}
