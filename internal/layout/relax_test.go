package layout

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"boardrun/internal/job"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// Relaxing a rule never raises an exact optimum. Oracle: the same wall under
// the stricter rule.
func TestSolve_relaxing(t *testing.T) {
	relax := map[string]func(*rules.Set){
		"narrower band": func(s *rules.Set) { s.JambBandHard = 4 * in },
		"lesser rip":    func(s *rules.Set) { s.RipHard = 4 * in },
		"lesser top":    func(s *rules.Set) { s.TopHard = 3 * in },
	}
	for name, ease := range relax {
		for seed := range uint64(60) {
			s := randomSketch(rand.New(rand.NewPCG(seed, 4)))
			s.plies, s.edit = 1, noControl // places of control joints are not searched to the end
			r, env := s.run()
			env.Most = 1
			strict := newWall(r, env).search()[0]
			rules := *env.Rules
			ease(&rules)
			env.Rules = &rules
			eased := newWall(r, env).search()[0]
			if !strict.swept && slices.Compare(eased.score[:byStart], strict.score[:byStart]) > 0 {
				t.Errorf("%s, seed %d: %v, was %v", name, seed, eased.score, strict.score)
			}
		}
	}
}

// A lower price never raises the money.
func TestSolve_prices(t *testing.T) {
	s := sketch{length: 240 * in, spacing: 16 * in, deck: slope(240*in, 126*in, 131*in), board: fourFoot()}
	r, env := s.run()
	prices := job.Prices{PerM2: map[string]int64{"5/8 type X": 60000}, Joint: [3]int64{30000, 45000, 90000}, Cut: 5000, Stud: 120000}
	env.Prices = &prices
	dear := Solve(r, env)[0]
	cheap := prices
	cheap.PerM2 = map[string]int64{"5/8 type X": 50000}
	env.Prices = &cheap
	if got := Solve(r, env)[0]; got.Cost.Money >= dear.Cost.Money || got.Cost.Money <= 0 {
		t.Errorf("money %d, was %d at a higher price", got.Cost.Money, dear.Cost.Money)
	}
}

// The same run gives the same layouts, whatever else ran.
func TestSolve_deterministic(t *testing.T) {
	for seed := range uint64(20) {
		r, env := randomSketch(rand.New(rand.NewPCG(seed, 5))).run()
		a, b := Solve(r, env), Solve(r, env)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("seed %d: two solves differ", seed)
		}
	}
}

// Layouts come best first, at most 16, without repeats.
func TestSolve_several(t *testing.T) {
	r, env := sketch{length: 300 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(),
		openings: []run.Opening{door(69*in, 107*in, inch(85.25))}}.run()
	all := Solve(r, env)
	if len(all) < 3 || len(all) > 16 {
		t.Fatalf("%d layouts", len(all))
	}
	seen := map[string]bool{}
	for i, l := range all {
		k := stationsOf(l, run.Left, 1, in) + "/" + stationsOf(l, run.Right, 1, in)
		if seen[k] {
			t.Errorf("layout %d repeats %s", i, k)
		}
		seen[k] = true
		if i > 0 && (l.Cost.Area < all[i-1].Cost.Area && l.Cost.Added <= all[i-1].Cost.Added) {
			t.Errorf("layout %d is cheaper than the one before", i)
		}
	}
}
