package trace_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
)

// randomHall splits a rectangle into rooms, wall by wall, with a door in each
// partition and windows in the shell. Openings keep 200 mm off crossing walls.
func randomHall(rng *rand.Rand) []hallWall {
	grid := func(lo, hi float64) float64 { return math.Round((lo+rng.Float64()*(hi-lo))/12.5) * 12.5 }
	w, h := grid(9000, 24000), grid(7000, 16000)
	ts := []float64{92.075, 123.825, 155.575, 100, 184.15}
	rng.Shuffle(len(ts), func(i, j int) { ts[i], ts[j] = ts[j], ts[i] })
	ts = ts[:1+rng.Intn(3)]
	shell := []float64{203.2, 285.75, 300}[rng.Intn(3)]
	ws := []hallWall{{0, 0, w, 0, shell, nil}, {w, 0, w, h, shell, nil}, {0, h, w, h, shell, nil}, {0, 0, 0, h, shell, nil}}
	var split func(x0, y0, x1, y1 float64, depth int)
	split = func(x0, y0, x1, y1 float64, depth int) {
		if depth == 0 || x1-x0 < 3000 && y1-y0 < 3000 {
			return
		}
		t := ts[rng.Intn(len(ts))]
		if x1-x0 > y1-y0 {
			x := grid(x0+1300, x1-1300)
			ws = append(ws, hallWall{x, y0, x, y1, t, nil})
			split(x0, y0, x, y1, depth-1)
			split(x, y0, x1, y1, depth-1)
		} else {
			y := grid(y0+1300, y1-1300)
			ws = append(ws, hallWall{x0, y, x1, y, t, nil})
			split(x0, y0, x1, y, depth-1)
			split(x0, y, x1, y1, depth-1)
		}
	}
	split(0, 0, w, h, 2+rng.Intn(4))
	for i := range ws {
		a := &ws[i]
		free := [][2]float64{{0, a.length()}}
		for j, o := range ws { // off the walls that meet or cross it
			if i == j {
				continue
			}
			for _, p := range [][2]float64{{o.x0, o.y0}, {o.x1, o.y1}} {
				u, r := a.coords(p[0], p[1])
				if math.Abs(r) > 1 {
					continue
				}
				var next [][2]float64
				for _, f := range free {
					lo, hi := u-o.t/2-200, u+o.t/2+200
					next = append(next, [2]float64{f[0], min(f[1], lo)}, [2]float64{max(f[0], hi), f[1]})
				}
				free = next
			}
		}
		for _, f := range free {
			f[0], f[1] = max(f[0], 300), min(f[1], a.length()-300)
			if i < 4 {
				for f[1]-f[0] > 2500 {
					width := grid(600, 1800)
					a.ops = append(a.ops, hallOpening{f[0] + width/2, width, "window"})
					f[0] += width + grid(400, 3000)
				}
				continue
			}
			width := []float64{762, 812.8, 914.4, 1010}[rng.Intn(4)]
			if f[1]-f[0] > width && rng.Intn(3) > 0 {
				kind := []string{"door", "door", "door", "cased"}[rng.Intn(4)]
				a.ops = append(a.ops, hallOpening{grid(f[0]+width/2, f[1]-width/2), width, kind})
			}
		}
	}
	return ws
}

// coords returns a point's station along a wall and its offset from the axis.
func (w hallWall) coords(x, y float64) (u, r float64) {
	l := w.length()
	dx, dy := (w.x1-w.x0)/l, (w.y1-w.y0)/l
	return (x-w.x0)*dx + (y-w.y0)*dy, (y-w.y0)*dx - (x-w.x0)*dy
}

// Random plans, straight and turned, come back as they were built; two
// partitions that happen to stand in line across a third are one wall.
// Oracle: the random plan's own walls and openings; Euler: a rectangle split n
// times has n + 1 rooms.
func TestTrace_random(t *testing.T) {
	n := 60
	if testing.Short() {
		n = 20
	}
	for seed := range int64(n) {
		rng := rand.New(rand.NewSource(seed))
		ws := randomHall(rng)
		tr := hallTruth(ws)
		s := newSheet()
		s.lines("A-WALL", outline(solids(ws, 0)))
		s.openings(ws, "A-DOOR", "A-GLAZ")
		d := &s.d
		for _, l := range layersOf(d) {
			d.Layers = append(d.Layers, linework.Layer{Name: l})
		}
		p := trace.Trace(d, trace.Propose(d), trace.Options{Storey: "1"})
		sc := scoreOf(tr, p)
		if sc.recall < 0.999 || sc.precision < 0.999 || sc.openRecall < 1 || sc.openPrecision < 1 || len(p.Walls) > len(ws) || len(p.Rooms) != len(ws)-3 {
			t.Errorf("seed %d: walls %.4f/%.4f %d of %d, openings %.4f/%.4f, rooms %d of %d", seed, sc.recall, sc.precision, len(p.Walls), len(ws),
				sc.openRecall, sc.openPrecision, len(p.Rooms), len(ws)-3)
		}
		for _, e := range p.Exceptions {
			t.Errorf("seed %d: %s", seed, e)
		}
		turnedBy := turned(rng.Float64() * 90)
		q := trace.Trace(turnedBy.apply(d), trace.Propose(d), trace.Options{Storey: "1"})
		compare(t, fmt.Sprintf("seed %d %s", seed, turnedBy.name), quantities(p), quantities(q), 25.4/64)
	}
}
