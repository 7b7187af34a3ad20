package app

import (
	"bytes"
	"context"
	"io"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/report"
	"boardrun/internal/write"
)

// thousandSides is a building of 500 walls apart, a door in each, under a
// sloped deck.
func thousandSides(b *testing.B) *report.Takeoff {
	b.Helper()
	j, err := job.Parse("case.yaml", []byte(caseJob+`decks: [{storey: "1", points: [[0, 0, 150in], [400ft, 0, 190in], [0, 400ft, 150in]]}]
frames: [{name: D, for: door, kind: knock-down, sizes-are: rough}]
stock: {5/8 type X: {sheets: {48in: [8ft, 10ft, 12ft]}}}
`), nil)
	if err != nil {
		b.Fatal(err)
	}
	p := &plan.Plan{Drawings: []plan.Drawing{{File: "case.dxf", Storey: "1"}}}
	for i := range 500 {
		x, y := measure.Length(i%20)*24*measure.Foot, measure.Length(i/20)*12*measure.Foot
		p.Walls = append(p.Walls, plan.Wall{
			Storey: "1", Axis: [2]geom.Pt{{X: x, Y: y}, {X: x + measure.Length(14+i%7)*measure.Foot, Y: y}}, Thickness: 39 * measure.EighthInch,
			Sources: []plan.Source{{File: "case.dxf", Ref: "1A"}},
		})
		p.Openings = append(p.Openings, plan.Opening{Wall: i, Kind: plan.Door, At: 88 * measure.Inch, Width: 38 * measure.Inch, Head: 85 * measure.Inch, HeadBy: "attribute", Basis: "drawn"})
	}
	out, err := (&pipeline{effort: "quick", out: io.Discard}).assemble(context.Background(), j, p, nil)
	if err != nil {
		b.Fatal(err)
	}
	return out
}

func BenchmarkPDF_thousandSides(b *testing.B) {
	out := thousandSides(b)
	for b.Loop() {
		var buf bytes.Buffer
		if err := write.PDF(&buf, out); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(buf.Len())/1e6, "MB")
		b.ReportMetric(float64(boarded(out)), "sides")
	}
}
