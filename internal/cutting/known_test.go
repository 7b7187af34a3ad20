package cutting

import (
	"fmt"
	"math/rand"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// knownOptimum cuts sheets up at random by straight cuts, some slanted, forgets
// the plan and returns the pieces with what was bought: no waste, so nothing can
// be cheaper. Pieces that lay on a factory edge may want one.
func knownOptimum(r *rand.Rand, sheets, pieces int) (Problem, int64) {
	p := Problem{Stock: boards(96, 120, 144)}
	type frag struct {
		r           geom.Rect
		left, right bool
	}
	var frags []frag
	var bought int64
	for i := 0; i < sheets; i++ {
		s := p.Stock[r.Intn(3)]
		frags = append(frags, frag{geom.Rect{Max: geom.Pt{X: s.Width, Y: s.Length}}, true, true})
		bought += int64(s.Width) * int64(s.Length)
	}
	n := 0
	add := func(o geom.Poly, left, right bool) {
		pc := Piece{ID: fmt.Sprintf("%03d", n), Board: "A", Outline: quarterTurns(tidy(o), 0)}
		if left && r.Intn(2) == 0 {
			pc.Left = Tapered
		}
		if right && r.Intn(2) == 0 {
			pc.Right = Tapered
		}
		p.Pieces = append(p.Pieces, pc)
		n++
	}
	slants := 0
	for tries := 0; len(frags)+n+slants < pieces && tries < 1000; tries++ {
		k := r.Intn(len(frags))
		f := frags[k]
		cutAt := func(l measure.Length) measure.Length {
			return (6*in + measure.Length(r.Int63n(int64(l-12*in)+1))).RoundTo(in / 8)
		}
		switch c := r.Intn(10); {
		case c < 2 && f.r.H() >= 30*in: // one slanted cut, both parts done with
			a := f.r.H()/2 + measure.Length(r.Intn(65)-32)*in/8
			b := a + measure.Length(1+r.Intn(32))*in/8
			w, h := f.r.W(), f.r.H()
			frags = append(frags[:k], frags[k+1:]...)
			add(geom.Poly{{}, {X: w}, {X: w, Y: b}, {Y: a}}, f.left, f.right)
			add(geom.Poly{{}, {X: w}, {X: w, Y: h - a}, {Y: h - b}}, f.right, f.left) // turned upright
		case c < 6 && f.r.W() >= 14*in:
			x := f.r.Min.X + cutAt(f.r.W())
			g := f
			f.r.Max.X, g.r.Min.X = x, x
			f.right, g.left = false, false
			frags[k] = f
			frags = append(frags, g)
		case f.r.H() >= 14*in:
			y := f.r.Min.Y + cutAt(f.r.H())
			g := f
			f.r.Max.Y, g.r.Min.Y = y, y
			frags[k] = f
			frags = append(frags, g)
		}
	}
	for _, f := range frags {
		add(f.r.Poly(), f.left, f.right)
	}
	r.Shuffle(len(p.Pieces), func(i, j int) { p.Pieces[i], p.Pieces[j] = p.Pieces[j], p.Pieces[i] })
	return p, bought
}

// runKnown solves seeds 0 … n−1 and returns how many came out at the optimum and
// how many within the longest sheet of it. Oracle: the generator.
func runKnown(t *testing.T, seeds, sheets, pieces int) (met, near int) {
	t.Helper()
	longest := int64(48*in) * int64(144*in)
	for seed := 0; seed < seeds; seed++ {
		r := rand.New(rand.NewSource(int64(seed)))
		p, want := knownOptimum(r, sheets, pieces)
		s := Solve(p, Best)
		for _, b := range judge(p, s) {
			t.Errorf("seed %d: %s", seed, b)
		}
		b := s.Bounds[0]
		if b.CostAt != want {
			t.Errorf("seed %d: bound %d, the pieces' own area %d", seed, b.CostAt, want)
		}
		if b.Cost < want {
			t.Errorf("seed %d: cost %d below the optimum %d", seed, b.Cost, want)
		}
		if b.Cost == want {
			met++
		} else {
			t.Logf("seed %d: %d pieces, %.2f sheets of 8 ft above the optimum", seed, len(p.Pieces), float64(b.Cost-want)/float64(48*in*96*in))
		}
		if b.Cost <= want+longest {
			near++
		}
	}
	t.Logf("%d sheets cut into about %d pieces: %d of %d at the optimum, %d within one sheet", sheets, pieces, met, seeds, near)
	return met, near
}

func TestKnownOptimum_small(t *testing.T) {
	seeds := 200
	if testing.Short() {
		seeds = 30
	}
	if met, _ := runKnown(t, seeds, 4, 24); met*100 < seeds*95 {
		t.Errorf("%d of %d at the optimum, want 95 %%", met, seeds)
	}
}

func TestKnownOptimum_larger(t *testing.T) {
	seeds := 40
	if testing.Short() {
		seeds = 6
	}
	if _, near := runKnown(t, seeds, 10, 60); near < seeds {
		t.Errorf("%d of %d within one sheet", near, seeds)
	}
}
