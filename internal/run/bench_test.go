package run

import (
	"fmt"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// BenchmarkBuild: a grid of rooms of n × n walls, each room with a door.
func BenchmarkBuild(b *testing.B) {
	for _, n := range []int{10, 40} {
		p, j := grid(n)
		b.Run(fmt.Sprintf("%d walls", len(p.Walls)), func(b *testing.B) {
			for b.Loop() {
				if _, err := Build(p, j); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func grid(n int) (*plan.Plan, *job.Job) {
	p := &plan.Plan{}
	const m = 4 * measure.Metre
	for i := range Length(n) {
		for k := range Length(n) {
			a := geom.Pt{X: i * m, Y: k * m}
			for _, e := range [...]geom.Pt{{X: a.X + m, Y: a.Y}, {X: a.X, Y: a.Y + m}} {
				tag := string(rune('A' + (i+k)%2))
				p.Openings = append(p.Openings, plan.Opening{Wall: len(p.Walls), At: m / 2, Width: measure.FromMM(900), Head: measure.FromMM(2100), Kind: plan.Framed})
				p.Walls = append(p.Walls, plan.Wall{Axis: [2]geom.Pt{a, e}, Thickness: measure.FromMM(125), Tag: tag})
			}
		}
	}
	j := testJob(measure.Metric)
	j.Decks = []job.Deck{{Level: measure.FromMM(3000)}}
	side := job.Side{Plies: []string{"12.5"}}
	for _, t := range []string{"A", "B"} {
		j.Types = append(j.Types, job.WallType{Name: t, StudDepth: measure.FromMM(100), Sides: [2]job.Side{side, side}})
	}
	return p, j
}
