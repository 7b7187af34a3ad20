package layout

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardrun/internal/run"
)

// least is the least that hanging a ply comes to where each blank is worth what
// worth says and a length of horizontal joint level times itself.
func (p *PlyWays) least(worth func(Blank) float64, level float64) float64 {
	best := math.Inf(1)
	for _, lanes := range p.Choice {
		var sum float64
		for _, l := range lanes {
			cheapest := math.Inf(1)
			for _, way := range l.Ways {
				var v float64
				for _, c := range way {
					column := math.Inf(1)
					for _, f := range l.Columns[c] {
						w := level * f.Level.Inches()
						for _, b := range f.Blanks {
							w += worth(b)
						}
						column = min(column, w)
					}
					v += column
				}
				cheapest = min(cheapest, v)
			}
			sum += cheapest
		}
		best = min(best, sum)
	}
	return best
}

// No layout takes less than the ways allow, whatever widths and heights are
// worth: held for every layout found of random walls, with prices that only ever
// rise with a piece.
func TestWays_underEveryLayout(t *testing.T) {
	held, open := 0, 0
	for seed := range uint64(60) {
		rng := rand.New(rand.NewPCG(seed, 21))
		s := randomSketch(rng)
		r, env := s.run()
		env.Most = 4
		if seed%3 > 0 {
			env.Effort = Quick
		}
		ways := Ways(r, env)
		for i, l := range Solve(r, env) {
			if l.Swept {
				continue
			}
			for k := range ways {
				if ways[k].Open {
					open++
					continue
				}
				held++
				if msg := dearerThan(&ways[k], &l, rng); msg != "" {
					t.Errorf("seed %d, layout %d, %s/%d: %s\n%s", seed, i, ways[k].Face.ID, ways[k].Ply, msg, l.Why)
				}
			}
		}
	}
	t.Logf("%d plies of layouts held, %d left open", held, open)
	if held < 300 || open > held/2 {
		t.Errorf("%d plies held, %d open: too few to say anything", held, open)
	}
}

func dearerThan(w *PlyWays, l *Layout, rng *rand.Rand) string {
	var have []Blank
	for _, p := range l.Pieces {
		if p.Face == w.Face && p.Ply == w.Ply {
			b := p.Outline.Bounds()
			have = append(have, Blank{Width: b.W(), Left: b.H(), Right: b.H(), Turn: p.Left != Tapered && p.Right != Tapered})
		}
	}
	joint := 0.0
	for _, j := range l.Joints {
		if j.Face == w.Face && j.Ply == w.Ply && j.From.Y == j.To.Y {
			joint += (j.To.X - j.From.X).Abs().Inches()
		}
	}
	for range 12 {
		width, height := Length(25+rng.IntN(24))*in, Length(rng.IntN(150))*in // of pieces so wide one line of a sheet holds one
		one := func(a, b Length) float64 {
			if a >= width && b >= height {
				return 1
			}
			return a.Inches() * b.Inches() / (48 * 144) / 8
		}
		worth := func(b Blank) float64 {
			low := min(b.Left, b.Right)
			if b.Turn {
				return min(one(b.Width, low), one(low, b.Width))
			}
			return one(b.Width, low)
		}
		level := float64(rng.IntN(3)) / 100
		got := level * joint
		for _, b := range have {
			got += worth(b)
		}
		if least := w.least(worth, level); least > got+1e-9 {
			return "the cheapest way is dearer than this layout"
		}
	}
	return ""
}

// A wall 12 ft long and 8 ft high without openings is three sheets a side; the
// cheapest way to hang it takes no less than their area. Worked by hand.
func TestWays_plain(t *testing.T) {
	s := sketch{board: fourFoot(), spacing: 16 * in, plies: 1, length: 144 * in, deck: level(96*in + inch(0.5)), fixedTop: true, edit: noControl}
	r, env := s.run()
	for _, w := range Ways(r, env) {
		if w.Face.Side != run.Left && w.Face.Side != run.Right {
			continue
		}
		area := func(b Blank) float64 { return b.Width.Inches() * (b.Left + b.Right).Inches() / 2 / (48 * 96) }
		face := w.Face.Top.At(0) - w.Face.Bottom
		u0, u1 := w.Face.Plies[0].U0, w.Face.Plies[0].U1
		want := (u1 - u0).Inches() * face.Inches() / (48 * 96)
		if got := w.least(area, 0); math.Abs(got-want) > 1e-2 {
			t.Errorf("%s: %.4f sheets, want %.4f", w.Face.ID, got, want)
		}
	}
}
