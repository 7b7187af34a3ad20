package trace

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// View is a part of the sheet that stands by itself: a plan, a section, an
// elevation.
type View struct {
	Bounds   geom.Rect // drawing millimetres on the grid
	WallMM   float64   // line on wall layers
	Plan     bool      // taken for a plan
	Doors    int       // door blocks and swings
	Rooms    int       // writings that name rooms
	Share    float64   // of the wall line that pairs up
	Title    string    // the writing that says what it is, if any
	Evidence string    // one sentence
}

// viewGap is how far apart linework must stand to be two views: between one and
// two of these. Source: common practice, none published.
const viewGap = 1500.0 // mm

// Views finds the views of a sheet that hold wall linework and says which are
// plans: by their title, their door swings and rooms' names, and by how much of
// their wall line pairs up as faces. Views are sorted by wall line, longest
// first. A sheet with one view has one, whatever it looks like.
func Views(d *linework.Drawing, m Mapping) []View {
	v := &viewer{d: d, m: m, cell: map[[2]int32]int32{}}
	v.paint()
	v.flood()
	v.measure()
	v.absorb()
	return v.judge()
}

type viewer struct {
	d     *linework.Drawing
	m     Mapping
	cell  map[[2]int32]int32 // painted cells; after flood the cluster of each
	views []View
	roles map[string]Role
	skip  map[string]bool
}

func cellOf(p orb.Point) [2]int32 {
	return [2]int32{int32(math.Floor(p[0] / viewGap)), int32(math.Floor(p[1] / viewGap))}
}

func (v *viewer) role(layer string) Role {
	if r, ok := v.roles[layer]; ok {
		return r
	}
	if v.roles == nil {
		v.roles, v.skip = map[string]Role{}, map[string]bool{}
	}
	r := Background
	if u := v.m.use(layer); u != nil {
		r = u.Role
	}
	v.roles[layer] = r
	n := plain(layer)
	grid := words{whole: []string{"axis", "axes", "grid", "border", "frame"}, any: []string{"achse", "grid", "rahmen", "border", "cartiglio"}}
	v.skip[layer] = r == Background && (otherWords.in(n) || grid.in(n))
	return r
}

// paint marks the cells that linework passes. Frames, grids and notes join what
// they pass through and are left out: by their layer's name, or by running over
// half the sheet on a layer nobody mapped.
func (v *viewer) paint() {
	lo, hi := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for i := range v.d.Segments {
		s := &v.d.Segments[i]
		if finite(s.A) && !s.Hidden {
			lo = orb.Point{min(lo[0], s.A[0]), min(lo[1], s.A[1])}
			hi = orb.Point{max(hi[0], s.A[0]), max(hi[1], s.A[1])}
		}
	}
	half := math.Hypot(hi[0]-lo[0], hi[1]-lo[1]) * 0.4
	for i := range v.d.Segments {
		s := &v.d.Segments[i]
		if s.Hidden || !finite(s.A) || !finite(s.B) {
			continue
		}
		l := math.Hypot(s.B[0]-s.A[0], s.B[1]-s.A[1])
		if r := v.role(s.Layer); r == Background && (v.skip[s.Layer] || l > half) {
			continue
		}
		n := min(4000, int(l/viewGap*2)+1)
		for k := 0; k <= n; k++ {
			f := float64(k) / float64(n)
			v.cell[cellOf(orb.Point{s.A[0] + (s.B[0]-s.A[0])*f, s.A[1] + (s.B[1]-s.A[1])*f})] = -1
		}
	}
}

// flood numbers the clusters of neighbouring cells, in order of place.
func (v *viewer) flood() {
	keys := make([][2]int32, 0, len(v.cell))
	for k := range v.cell {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b [2]int32) int { return cmp.Or(cmp.Compare(a[1], b[1]), cmp.Compare(a[0], b[0])) })
	n := int32(0)
	for _, k := range keys {
		if v.cell[k] >= 0 {
			continue
		}
		stack := [][2]int32{k}
		v.cell[k] = n
		r := geom.Rect{Min: geom.Pt{X: math.MaxInt64, Y: math.MaxInt64}, Max: geom.Pt{X: math.MinInt64, Y: math.MinInt64}}
		for len(stack) > 0 {
			c := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			g := measure.FromMM(viewGap)
			r = join(r, geom.Rect{Min: geom.Pt{X: g * Length(c[0]), Y: g * Length(c[1])}, Max: geom.Pt{X: g * Length(c[0]+1), Y: g * Length(c[1]+1)}})
			for dx := int32(-1); dx <= 1; dx++ {
				for dy := int32(-1); dy <= 1; dy++ {
					o := [2]int32{c[0] + dx, c[1] + dy}
					if at, ok := v.cell[o]; ok && at < 0 {
						v.cell[o] = n
						stack = append(stack, o)
					}
				}
			}
		}
		v.views = append(v.views, View{Bounds: r})
		n++
	}
}

// at returns the view a point lies in, nil if none.
func (v *viewer) at(p orb.Point) *View {
	if !finite(p) {
		return nil
	}
	if k, ok := v.cell[cellOf(p)]; ok {
		return &v.views[k]
	}
	return nil
}

// measure adds up what each view holds.
func (v *viewer) measure() {
	for i := range v.d.Segments {
		s := &v.d.Segments[i]
		if v.role(s.Layer) == Walls && !s.Hidden {
			if w := v.at(s.A); w != nil {
				w.WallMM += math.Hypot(s.B[0]-s.A[0], s.B[1]-s.A[1])
			}
		}
	}
	for i := range v.d.Arcs {
		a := &v.d.Arcs[i]
		sweep := a.End - a.Start
		if a.Full || a.Hidden || sweep < 25 || sweep > 185 || a.Radius < 450 || a.Radius > 1600 || v.role(a.Layer) == Walls {
			continue
		}
		if w := v.at(a.Centre); w != nil {
			w.Doors++
		}
	}
	for i := range v.d.Texts {
		x := &v.d.Texts[i]
		if x.Hidden || !finite(x.At) {
			continue
		}
		if w := v.near(x.At); w != nil {
			if v.role(x.Layer) == RoomText || roomLike(x.Value) {
				w.Rooms++
			}
			if t := titleOf(x.Value); t != 0 && w.Title == "" {
				w.Title = x.Value
			}
		}
	}
	t := &tracer{d: v.d, m: v.m, shift: shiftTol}
	t.collect()
	t.buildBundles()
	t.learnThickness()
	t.pairAll()
	paired := make([]float64, len(v.views))
	for i := range t.strands {
		s := &t.strands[i]
		if s.drawn() < 2*s.thick() || s.thick() < 60*mm || s.thick() > 450*mm {
			continue
		}
		p := t.global(t.bundles[s.fr].fr.from(s.s0(), s.ra))
		if w := v.at(orb.Point{p.X.MM(), p.Y.MM()}); w != nil {
			paired[v.cell[cellOf(orb.Point{p.X.MM(), p.Y.MM()})]] += 2 * s.drawn().MM()
		}
	}
	for i := range v.views {
		if w := &v.views[i]; w.WallMM > 0 {
			w.Share = min(1, paired[i]/w.WallMM)
		}
	}
}

// near is at, or the smallest view whose bounds, grown a little downwards where
// titles stand, hold the point.
func (v *viewer) near(p orb.Point) *View {
	if w := v.at(p); w != nil {
		return w
	}
	g := gridPt(p)
	best := -1
	for i := range v.views {
		b := v.views[i].Bounds
		b.Min.Y -= 3000 * mm
		if g.X >= b.Min.X && g.X <= b.Max.X && g.Y >= b.Min.Y && g.Y <= b.Max.Y {
			if best < 0 || b.W() < v.views[best].Bounds.W() {
				best = i
			}
		}
	}
	if best < 0 {
		return nil
	}
	return &v.views[best]
}
