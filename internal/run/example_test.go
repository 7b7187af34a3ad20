package run_test

import (
	"fmt"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// A corner of two walls, drawn from centre line to centre line.
func ExampleBuild() {
	at := func(x, y measure.Length) geom.Pt { return geom.Pt{X: x * measure.Inch, Y: y * measure.Inch} }
	p := &plan.Plan{Walls: []plan.Wall{
		{Axis: [2]geom.Pt{at(0, 0), at(120, 0)}, Thickness: 39 * measure.EighthInch, Tag: "A"},
		{Axis: [2]geom.Pt{at(0, 0), at(0, 96)}, Thickness: 39 * measure.EighthInch, Tag: "A"},
	}}
	side := job.Side{Plies: []string{"5/8"}}
	j := &job.Job{
		Rules:  rules.Default(measure.InchPound),
		Boards: []job.Board{{Name: "5/8", Thickness: 5 * measure.EighthInch}},
		Decks:  []job.Deck{{Level: 120 * measure.Inch}},
		Types:  []job.WallType{{Name: "A", StudDepth: 29 * measure.EighthInch, Sides: [2]job.Side{side, side}}},
	}
	set, err := run.Build(p, j)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range set.Runs {
		for _, f := range r.Faces {
			p := f.Plies[0]
			fmt.Printf("%s finished %s, board %s\n", f.ID, measure.Exact(f.Finished, j.System), measure.Exact(p.U1-p.U0, j.System))
		}
	}
	// Output:
	// 1-W001-L1 finished 117-9/16in, board 117-7/16in
	// 1-W001-R1 finished 122-7/16in, board 121-3/16in
	// 1-W001-E1 finished 4-7/8in, board 4-7/8in
	// 1-W002-L1 finished 98-7/16in, board 97-13/16in
	// 1-W002-R1 finished 93-9/16in, board 92-13/16in
	// 1-W002-E1 finished 4-7/8in, board 4-7/8in
}
