package run

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"

	"pgregory.net/rapid"
)

// What must not change when a drawing is made another way. Oracle: the same
// plan, untouched.

// quantities prints what is bought and hung, without marks, places and
// direction of runs: one line per face, sorted.
func quantities(s *Set) []string {
	var out []string
	for _, r := range s.Runs {
		for _, f := range r.Faces {
			var b strings.Builder
			fmt.Fprint(&b, r.Type, " ", f.Boarded, " ", f.Length, f.Bottom, f.Top, f.Head)
			for _, p := range f.Plies {
				fmt.Fprint(&b, " ply ", p.U0, p.U1)
			}
			for _, h := range f.Holes {
				fmt.Fprint(&b, " hole ", h.Rect)
			}
			fmt.Fprint(&b, " ends ", f.Ends[0].Kind, f.Ends[0].Lap, f.Ends[1].Kind, f.Ends[1].Lap, len(f.Parts))
			out = append(out, b.String())
		}
	}
	slices.Sort(out)
	return out
}

// everything prints a set with its marks and places, without sources.
func everything(s *Set) []string {
	var out []string
	for _, r := range s.Runs {
		out = append(out, fmt.Sprint(r.ID, r.Fingerprint, r.Axis, r.Length, r.Fixed))
		for _, f := range r.Faces {
			out = append(out, fmt.Sprint(f.ID, f.Start, f.Length, f.Top, f.Parts, f.Ends, f.Plies, f.Holes, f.Before))
		}
		for _, o := range r.Openings {
			o.Sources = nil
			out = append(out, fmt.Sprint(o))
		}
	}
	for _, j := range s.Junctions {
		out = append(out, fmt.Sprint(j))
	}
	return out
}

func differ(t interface{ Errorf(string, ...any) }, got, want []string) {
	for i := range max(len(got), len(want)) {
		switch {
		case i >= len(got):
			t.Errorf("missing: %s", want[i])
		case i >= len(want):
			t.Errorf("too many: %s", got[i])
		case got[i] != want[i]:
			t.Errorf("got  %s\nwant %s", got[i], want[i])
		default:
			continue
		}
		return
	}
}

// clone copies what a test changes of a plan.
func clone(p *plan.Plan) *plan.Plan {
	q := *p
	q.Walls, q.Openings, q.Rooms = slices.Clone(p.Walls), slices.Clone(p.Openings), slices.Clone(p.Rooms)
	return &q
}

// shuffled gives a plan's walls in another order.
func shuffled(p *plan.Plan, rnd *rand.Rand) *plan.Plan {
	q := clone(p)
	perm := rnd.Perm(len(p.Walls))
	for i, k := range perm {
		q.Walls[k] = p.Walls[i]
	}
	for i := range q.Openings {
		q.Openings[i].Wall = perm[q.Openings[i].Wall]
	}
	rnd.Shuffle(len(q.Openings), func(i, k int) { q.Openings[i], q.Openings[k] = q.Openings[k], q.Openings[i] })
	return q
}

// reversed draws some walls from their other end.
func reversed(p *plan.Plan, rnd *rand.Rand) *plan.Plan {
	q := clone(p)
	for i := range q.Walls {
		w := &q.Walls[i]
		if rnd.Intn(2) == 0 {
			continue
		}
		l := hypot(w.Axis[1].X-w.Axis[0].X, w.Axis[1].Y-w.Axis[0].Y)
		if w.Arc != nil {
			a := *w.Arc
			l = Length(math.Round(float64(a.Radius) * math.Abs(a.Sweep) * math.Pi / 180))
			a.Start, a.Sweep = a.Start+a.Sweep, -a.Sweep
			w.Arc = &a
		}
		w.Axis[0], w.Axis[1] = w.Axis[1], w.Axis[0]
		for k := range q.Openings {
			if q.Openings[k].Wall == i {
				q.Openings[k].At = l - q.Openings[k].At
			}
		}
	}
	return q
}

// inSeven splits every straight wall without openings in seven.
func inSeven(p *plan.Plan) *plan.Plan {
	q := clone(p)
	host := map[int]bool{}
	for _, o := range q.Openings {
		host[o.Wall] = true
	}
	for i := range p.Walls {
		w := p.Walls[i]
		l, length := lineThrough(w.Axis[0], w.Axis[1])
		if host[i] || w.Arc != nil {
			continue
		}
		at := func(k Length) geom.Pt {
			switch k {
			case 0:
				return w.Axis[0]
			case 7:
				return w.Axis[1]
			}
			return l.at(length*k/7, 0)
		}
		for k := Length(1); k < 7; k++ {
			part := w
			part.Axis = [2]geom.Pt{at(k), at(k + 1)}
			q.Walls = append(q.Walls, part)
		}
		q.Walls[i].Axis[1] = at(1)
	}
	return q
}

// moved maps every point of a plan.
func moved(p *plan.Plan, to func(geom.Pt) geom.Pt, turnDeg float64, mirror bool) *plan.Plan {
	q := clone(p)
	for i := range q.Walls {
		w := &q.Walls[i]
		w.Axis[0], w.Axis[1] = to(w.Axis[0]), to(w.Axis[1])
		if w.Arc != nil {
			a := *w.Arc
			a.Centre = to(a.Centre)
			if mirror {
				a.Start, a.Sweep = 180-a.Start, -a.Sweep
			}
			a.Start += turnDeg
			w.Arc = &a
		}
	}
	for i := range q.Rooms {
		q.Rooms[i].At = to(q.Rooms[i].At)
	}
	return q
}

func TestSame_order(t *testing.T) {
	rnd := rand.New(rand.NewSource(7))
	for _, path := range truths(t) {
		p, j := readTruth(t, path).planOf(nodeToNode)
		want := everything(mustBuild(t, p, j))
		for name, q := range map[string]*plan.Plan{
			"shuffled": shuffled(p, rnd), "reversed": reversed(p, rnd),
			"split in seven": inSeven(p), "all of it": reversed(shuffled(inSeven(p), rnd), rnd),
		} {
			t.Run(path+" "+name, func(t *testing.T) { differ(t, everything(mustBuild(t, q, j)), want) })
		}
	}
}

func TestSame_place(t *testing.T) {
	for _, path := range truths(t) {
		p, j := readTruth(t, path).planOf(nodeToNode)
		want := quantities(mustBuild(t, p, j))
		quarter := func(n int) func(geom.Pt) geom.Pt {
			return func(p geom.Pt) geom.Pt {
				for range n {
					p = geom.Pt{X: -p.Y, Y: p.X}
				}
				return p
			}
		}
		far := geom.Pt{X: 500_123_456 * measure.Millimetre, Y: 5_400_987_654 * measure.Millimetre}
		for name, q := range map[string]*plan.Plan{
			"turned 90°":  moved(p, quarter(1), 90, false),
			"turned 180°": moved(p, quarter(2), 180, false),
			"turned 270°": moved(p, quarter(3), 270, false),
			"at map coordinates, 500 km east and 5400 km north": moved(p, func(p geom.Pt) geom.Pt { return p.Add(far) }, 0, false),
		} {
			t.Run(path+" "+name, func(t *testing.T) { differ(t, quantities(mustBuild(t, q, j)), want) })
		}
	}
}

// Mirrored or turned by any angle, lengths stay within one measuring step.
func TestSame_lengths(t *testing.T) {
	lengths := func(s *Set) []Length {
		var out []Length
		for _, r := range s.Runs {
			for _, f := range r.Faces {
				out = append(out, f.Length)
			}
		}
		slices.Sort(out)
		return out
	}
	turned := func(deg float64) func(geom.Pt) geom.Pt {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return func(p geom.Pt) geom.Pt {
			x, y := float64(p.X), float64(p.Y)
			return geom.Pt{X: Length(math.Round(x*cos - y*sin)), Y: Length(math.Round(x*sin + y*cos))}
		}
	}
	for _, path := range truths(t) {
		p, j := readTruth(t, path).planOf(nodeToNode)
		want := lengths(mustBuild(t, p, j))
		for name, q := range map[string]*plan.Plan{
			"mirrored":     moved(p, func(p geom.Pt) geom.Pt { return geom.Pt{X: -p.X, Y: p.Y} }, 0, true),
			"turned 17.3°": moved(p, turned(17.3), 17.3, false),
			"turned 211°":  moved(p, turned(211), 211, false),
		} {
			t.Run(path+" "+name, func(t *testing.T) {
				got := lengths(mustBuild(t, q, j))
				if len(got) != len(want) {
					t.Fatalf("%d faces, want %d", len(got), len(want))
				}
				for i := range want {
					if d := got[i] - want[i]; d.Abs() > j.Rules.Step {
						t.Errorf("face %d is %v mm, want %v", i, got[i].MM(), want[i].MM())
					}
				}
			})
		}
	}
}

// TestLong_wall: a wall of 300 m, at an angle.
func TestLong_wall(t *testing.T) {
	j := testJob(measure.Metric)
	j.Decks = []job.Deck{{Level: measure.FromMM(3000)}}
	side := job.Side{Plies: []string{"12.5"}}
	j.Types = []job.WallType{{Name: "P", StudDepth: measure.FromMM(100), Sides: [2]job.Side{side, side}}}
	p := &plan.Plan{Walls: []plan.Wall{{Axis: [2]geom.Pt{{}, {X: measure.FromMM(180_000), Y: measure.FromMM(240_000)}}, Thickness: measure.FromMM(125), Tag: "P"}}}
	if f := mustBuild(t, p, j).face("1-W001-L1"); f.Length != measure.FromMM(300_000) {
		t.Errorf("%v mm, want 300000", f.Length.MM())
	}
}

// gridPlan draws random rooms: a rectangle cut by walls from side to side, some
// of them stopped half way.
func gridPlan(t *rapid.T) (*plan.Plan, []Length) {
	mm := func(n int) Length { return Length(n) * measure.Millimetre }
	p := &plan.Plan{}
	tags := []string{"A", "B", "C"}
	thick := map[string]Length{"A": mm(100), "B": mm(125), "C": mm(200)}
	add := func(x0, y0, x1, y1 Length) {
		tag := rapid.SampledFrom(tags).Draw(t, "type")
		p.Walls = append(p.Walls, plan.Wall{Axis: [2]geom.Pt{{X: x0, Y: y0}, {X: x1, Y: y1}}, Tag: tag, Thickness: thick[tag]})
	}
	cols := rapid.IntRange(1, 4).Draw(t, "columns")
	rows := rapid.IntRange(1, 3).Draw(t, "rows")
	xs, ys := []Length{0}, []Length{0}
	for range cols {
		xs = append(xs, xs[len(xs)-1]+mm(rapid.IntRange(1000, 6000).Draw(t, "width")))
	}
	for range rows {
		ys = append(ys, ys[len(ys)-1]+mm(rapid.IntRange(1000, 6000).Draw(t, "depth")))
	}
	for _, y := range ys {
		add(0, y, xs[cols], y)
	}
	for i, x := range xs {
		if i == 0 || i == cols || rapid.Bool().Draw(t, "one wall") {
			add(x, 0, x, ys[rows])
			continue
		}
		for k := 1; k <= rows; k++ {
			add(x, ys[k-1], x, ys[k])
		}
	}
	var perimeters []Length
	for k := 1; k <= rows; k++ {
		for i := 1; i <= cols; i++ {
			perimeters = append(perimeters, 2*(xs[i]-xs[i-1])+2*(ys[k]-ys[k-1]))
		}
	}
	return p, perimeters
}

// TestRooms_random: the parts of faces round every room of a random plan add up
// to the perimeter of its rectangle. Oracle: the rooms' outlines from the walls'
// centre lines less half their thickness, worked out from the outlines' bounds.
func TestRooms_random(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, perimeters := gridPlan(t)
		j := testJob(measure.Metric)
		j.Decks = []job.Deck{{Level: measure.FromMM(3000)}}
		for name, stud := range map[string]float64{"A": 75, "B": 100, "C": 175} {
			side := job.Side{Plies: []string{"12.5"}}
			j.Types = append(j.Types, job.WallType{Name: name, StudDepth: measure.FromMM(stud), Sides: [2]job.Side{side, side}})
		}
		slices.SortFunc(j.Types, func(a, b job.WallType) int { return strings.Compare(a.Name, b.Name) })
		s, err := Build(p, j)
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Rooms) != len(perimeters) {
			t.Fatalf("%d rooms, want %d", len(s.Rooms), len(perimeters))
		}
		var sum, want Length
		for _, r := range s.Runs {
			for _, f := range r.Faces {
				if f.Length <= 0 || f.Boarded && (f.Plies[0].U0 >= f.Plies[0].U1) {
					t.Errorf("%s is %v long", f.ID, f.Length)
				}
				for _, q := range f.Parts {
					sum += q.U1 - q.U0
				}
			}
		}
		for _, r := range s.Rooms {
			b := r.Outline.Bounds()
			want += 2*b.W() + 2*b.H()
		}
		if outer := outline(p); (sum - want - outer).Abs() > 10*measure.Millimetre+2*steps(s) {
			t.Errorf("faces add up to %.1f mm, rooms and outside to %.1f", sum.MM(), (want + outer).MM())
		}
	})
}

// outline is the perimeter of a rectangle round all walls.
func outline(p *plan.Plan) Length {
	var pts geom.Poly
	for i := range p.Walls {
		l, length := lineThrough(p.Walls[i].Axis[0], p.Walls[i].Axis[1])
		h := p.Walls[i].Thickness / 2
		pts = append(pts, l.at(0, h), l.at(length, -h))
	}
	b := pts.Bounds()
	return 2*b.W() + 2*b.H()
}

// steps adds up what the steps between walls in line of unlike thickness make
// rooms longer than their bounds.
func steps(s *Set) Length {
	var sum Length
	for _, r := range s.Runs {
		for _, f := range r.Faces {
			if f.Side == End {
				sum += f.Length
			}
		}
	}
	return sum
}
