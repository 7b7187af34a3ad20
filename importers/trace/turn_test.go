package trace_test

import (
	"fmt"
	"math"
	"math/rand"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
	"boardrun/internal/plan"
)

// move applies a rigid motion, with or without mirroring, to a drawing.
type move struct {
	name       string
	a, b, c, d float64 // x' = a·x + b·y + e, y' = c·x + d·y + f
	e, f       float64
	turn       float64 // degrees
	mirror     bool
}

func (m move) point(p orb.Point) orb.Point {
	return orb.Point{m.a*p[0] + m.b*p[1] + m.e, m.c*p[0] + m.d*p[1] + m.f}
}

func (m move) apply(d *linework.Drawing) *linework.Drawing {
	out := *d
	out.Segments = slices.Clone(d.Segments)
	for i := range out.Segments {
		s := &out.Segments[i]
		s.A, s.B = m.point(s.A), m.point(s.B)
	}
	out.Arcs = slices.Clone(d.Arcs)
	for i := range out.Arcs {
		a := &out.Arcs[i]
		a.Centre = m.point(a.Centre)
		if m.mirror { // x' = −x before the turn
			a.Start, a.End = 180-a.End, 180-a.Start
		}
		a.Start += m.turn
		a.End += m.turn
	}
	out.Fills = slices.Clone(d.Fills)
	for i := range out.Fills {
		var rs []orb.Ring
		for _, r := range out.Fills[i].Rings {
			var q orb.Ring
			for _, p := range r {
				q = append(q, m.point(p))
			}
			rs = append(rs, q)
		}
		out.Fills[i].Rings = rs
	}
	out.Texts = slices.Clone(d.Texts)
	for i := range out.Texts {
		out.Texts[i].At = m.point(out.Texts[i].At)
	}
	out.Inserts = slices.Clone(d.Inserts)
	for i := range out.Inserts {
		n := &out.Inserts[i]
		n.At = m.point(n.At)
		for k := range n.Box {
			n.Box[k] = m.point(n.Box[k])
		}
	}
	return &out
}

func quarterTurn(n int) move {
	m := move{name: fmt.Sprintf("turned by %d", 90*n), turn: float64(90 * n)}
	switch n {
	case 1:
		m.b, m.c = -1, 1
	case 2:
		m.a, m.d = -1, -1
	case 3:
		m.b, m.c = 1, -1
	}
	return m
}

func turned(deg float64) move {
	s, c := math.Sincos(deg * math.Pi / 180)
	return move{name: fmt.Sprintf("turned by %g", deg), a: c, b: -s, c: s, d: c, turn: deg}
}

// quantities lists what is measured, in an order that does not depend on the
// place: walls by thickness and length, openings by width and distance to the
// nearer end, rooms by perimeter.
func quantities(p *plan.Plan) []string {
	var out []string
	for _, w := range p.Walls {
		out = append(out, fmt.Sprintf("wall %s %.6f %.6f", w.Layer, w.Thickness.MM(), wallLength(w)))
	}
	for _, o := range p.Openings {
		l := wallLength(p.Walls[o.Wall])
		out = append(out, fmt.Sprintf("opening %s %s %.6f %.6f %.6f", o.Kind, o.Mark, o.Width.MM(), math.Min(o.At.MM(), l-o.At.MM()), o.Head.MM()))
	}
	for _, r := range p.Rooms {
		per, _ := perimeterMM(r.Outline)
		out = append(out, fmt.Sprintf("room %s %s %.4f", r.Name, r.Number, per))
	}
	slices.Sort(out)
	return out
}

func wallLength(w plan.Wall) float64 {
	if w.Arc != nil {
		return w.Arc.Radius.MM() * math.Abs(w.Arc.Sweep) * math.Pi / 180
	}
	return math.Hypot(w.Axis[1].X.MM()-w.Axis[0].X.MM(), w.Axis[1].Y.MM()-w.Axis[0].Y.MM())
}

func eachPlan(t *testing.T, f func(t *testing.T, d *linework.Drawing)) {
	t.Helper()
	files, _ := filepath.Glob("testdata/plans/*.dxf")
	if len(files) == 0 {
		t.Fatal("no plans")
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".dxf")
		t.Run(name, func(t *testing.T) {
			tr := readTruth(t, strings.TrimSuffix(file, ".dxf")+".truth.json")
			f(t, readDrawing(t, file, tr.Unit))
		})
	}
}

func trace1(d *linework.Drawing) *plan.Plan {
	return trace.Trace(d, trace.Propose(d), trace.Options{Storey: "1"})
}

// A plan turned by quarter turns has the same quantities to the last digit.
// Oracle: the plan as drawn.
func TestTrace_quarterTurns(t *testing.T) {
	eachPlan(t, func(t *testing.T, d *linework.Drawing) {
		want := quantities(trace1(d))
		// a wall at a slant or on an arc has its ends rounded to the grid of
		// 1/8 µm, and its length is taken from them here
		tol := 0.0
		for _, w := range trace1(d).Walls {
			if w.Arc != nil || w.Axis[0].X != w.Axis[1].X && w.Axis[0].Y != w.Axis[1].Y {
				tol = 0.0005
			}
		}
		for n := 1; n <= 3; n++ {
			m := quarterTurn(n)
			compare(t, m.name, want, quantities(trace1(m.apply(d))), tol)
		}
	})
}

// Other turns, mirroring and map coordinates keep lengths within 1/64 in.
// Oracle: the plan as drawn.
func TestTrace_moves(t *testing.T) {
	mirror := move{name: "mirrored", a: -1, d: 1, mirror: true}
	far := move{name: "at map coordinates", a: 1, d: 1, e: 4_512_345_678, f: 5_431_234_567}
	eachPlan(t, func(t *testing.T, d *linework.Drawing) {
		want := quantities(trace1(d))
		for _, m := range []move{mirror, far, turned(17.3), turned(45), turned(-61.07)} {
			compare(t, m.name, want, quantities(trace1(m.apply(d))), 25.4/64)
		}
	})
}

// Entity order, the direction of lines and lines split in seven change nothing.
// Oracle: the plan as drawn.
func TestTrace_sameLines(t *testing.T) {
	eachPlan(t, func(t *testing.T, d *linework.Drawing) {
		want := quantities(trace1(d))
		rng := rand.New(rand.NewSource(7))
		shuffled := *d
		shuffled.Segments = slices.Clone(d.Segments)
		rng.Shuffle(len(shuffled.Segments), func(i, j int) {
			shuffled.Segments[i], shuffled.Segments[j] = shuffled.Segments[j], shuffled.Segments[i]
		})
		shuffled.Texts = slices.Clone(d.Texts)
		slices.Reverse(shuffled.Texts)
		compare(t, "shuffled", want, quantities(trace1(&shuffled)), 0)
		back := *d
		back.Segments = slices.Clone(d.Segments)
		for i := range back.Segments {
			s := &back.Segments[i]
			s.A, s.B = s.B, s.A
		}
		compare(t, "reversed", want, quantities(trace1(&back)), 0)
		split := *d
		split.Segments = nil
		for _, s := range d.Segments {
			for k := 0; k < 7; k++ {
				p := s
				f, g := float64(k)/7, float64(k+1)/7
				p.A = orb.Point{s.A[0] + (s.B[0]-s.A[0])*f, s.A[1] + (s.B[1]-s.A[1])*f}
				p.B = orb.Point{s.A[0] + (s.B[0]-s.A[0])*g, s.A[1] + (s.B[1]-s.A[1])*g}
				if k == 6 {
					p.B = s.B
				}
				split.Segments = append(split.Segments, p)
			}
		}
		// a point on a slanted line is off it by the rounding to the grid
		compare(t, "split in seven", want, quantities(trace1(&split)), 0.002)
		twice := *d
		twice.Segments = append(slices.Clone(d.Segments), d.Segments...)
		compare(t, "drawn twice", want, quantities(trace1(&twice)), 0)
	})
}

// The order of entities changes no byte of the plan.
// Oracle: the plan of the drawing as read.
func TestTrace_order(t *testing.T) {
	eachPlan(t, func(t *testing.T, d *linework.Drawing) {
		want := trace1(d)
		rng := rand.New(rand.NewSource(11))
		for range 3 {
			o := *d
			o.Segments = shuffleEntities(rng, d.Segments, func(s *linework.Segment) int { return s.Entity })
			o.Arcs = shuffleEntities(rng, d.Arcs, func(a *linework.Arc) int { return a.Entity })
			o.Texts = shuffleEntities(rng, d.Texts, func(x *linework.Text) int { return x.Entity })
			o.Fills = shuffleEntities(rng, d.Fills, func(f *linework.Fill) int { return f.Entity })
			o.Layers = slices.Clone(d.Layers)
			slices.Reverse(o.Layers)
			if diff := cmp.Diff(want, trace1(&o)); diff != "" {
				t.Fatalf("in another order (-as read +shuffled):\n%.2000s", diff)
			}
		}
	})
}

// shuffleEntities shuffles entities, each with its pieces together.
func shuffleEntities[T any](rng *rand.Rand, list []T, entity func(*T) int) []T {
	var groups [][]T
	for i := range list {
		if k := len(groups) - 1; k >= 0 && entity(&groups[k][0]) == entity(&list[i]) {
			groups[k] = append(groups[k], list[i])
			continue
		}
		groups = append(groups, []T{list[i]})
	}
	rng.Shuffle(len(groups), func(i, j int) { groups[i], groups[j] = groups[j], groups[i] })
	return slices.Concat(groups...)
}

// compare holds two lists of quantities against each other: words equal,
// numbers within tol.
func compare(t *testing.T, name string, want, got []string, tol float64) {
	t.Helper()
	if len(want) != len(got) {
		t.Errorf("%s: %d quantities, want %d", name, len(got), len(want))
		return
	}
	used := make([]bool, len(got))
	bad := 0
	for _, w := range want {
		found := false
		for i, g := range got {
			if !used[i] && near(w, g, tol) {
				used[i], found = true, true
				break
			}
		}
		if !found {
			if bad++; bad <= 3 {
				t.Errorf("%s: no match for %s", name, w)
			}
		}
	}
}

func near(a, b string, tol float64) bool {
	if a == b {
		return true
	}
	if tol == 0 {
		return false
	}
	x, y := strings.Fields(a), strings.Fields(b)
	if len(x) != len(y) {
		return false
	}
	for i := range x {
		if x[i] == y[i] {
			continue
		}
		var p, q float64
		if n, _ := fmt.Sscan(x[i], &p); n != 1 {
			return false
		}
		if n, _ := fmt.Sscan(y[i], &q); n != 1 {
			return false
		}
		lim := tol
		if x[0] == "room" && i == len(x)-1 { // a sum of many sides
			lim *= 8
		}
		if math.Abs(p-q) > lim {
			return false
		}
	}
	return true
}
