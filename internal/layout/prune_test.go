package layout

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// What is left out, and columns that are costed once, change no layout: long
// walls with control joints, one and two plies, some rated so that the joints of
// both sides keep a bay apart.
// Oracle: the same search with nothing left out and nothing used again.
func TestSolve_leavesOutNothingThatCounts(t *testing.T) {
	swept, differ := 0, 0
	for seed := range uint64(8) {
		rng := rand.New(rand.NewPCG(seed, 77))
		s := randomSketch(rng)
		for s.length < Length(75+rng.IntN(60))*12*in {
			next := randomSketch(rng)
			for _, o := range next.openings {
				o.Centre += s.length
				s.openings = append(s.openings, o)
			}
			s.length += next.length
		}
		s.deck = level(Length(96+rng.IntN(60)) * in)
		s.plies = 1 + int(seed%4)/3
		if seed%3 == 0 {
			s.edit = func(r *run.Run, _ *rules.Set) { r.Rating = "1 HR" }
		}
		r, env := s.run()
		env.Effort = Quick
		got := Solve(r, env)
		env.whole = true
		want := Solve(r, env)
		if !reflect.DeepEqual(got, want) {
			t.Errorf("seed %d: %d layouts, the first %q; nothing left out: %d, %q", seed, len(got), got[0].Why, len(want), want[0].Why)
		}
		if want[0].Status == "feasible" {
			swept++
		}
		if len(want) > 1 {
			differ++
		}
	}
	if swept == 0 || differ == 0 {
		t.Errorf("%d walls with choices left out, %d with several layouts: the test saw nothing", swept, differ)
	}
}
