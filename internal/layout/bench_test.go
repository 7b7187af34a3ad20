package layout

import (
	"math/rand/v2"
	"testing"

	"boardrun/internal/run"
)

// sixtyFoot is 60 ft with three doors, one ply a side.
func sixtyFoot(plies int) sketch {
	return sketch{length: 720 * in, spacing: 16 * in, deck: slope(720*in, 120*in, 126*in), board: fourFoot(), plies: plies,
		edit: noControl, openings: []run.Opening{door(69*in, 107*in, inch(85.25)), door(304*in, 342*in, inch(85.25)), door(551*in, 589*in, inch(85.25))}}
}

func BenchmarkSolve_sixtyFootThreeDoors(b *testing.B) {
	for name, plies := range map[string]int{"1": 1, "2": 2} {
		b.Run("plies="+name, func(b *testing.B) {
			r, env := sixtyFoot(plies).run()
			env.Effort = Quick
			for b.Loop() {
				Solve(r, env)
			}
		})
	}
}

// Random walls of up to 52 ft with up to five openings, a third of them under
// slopes.
func BenchmarkSolve_hundredWalls(b *testing.B) {
	for name, effort := range map[string]Effort{"quick": Quick, "best": Best} {
		b.Run(name, func(b *testing.B) {
			var runs []*run.Run
			var envs []Env
			for seed := range uint64(100) {
				r, env := randomSketch(rand.New(rand.NewPCG(seed, 2))).run()
				env.Effort = effort
				runs, envs = append(runs, r), append(envs, env)
			}
			for b.Loop() {
				for i, r := range runs {
					Solve(r, envs[i])
				}
			}
		})
	}
}
