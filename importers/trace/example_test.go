package trace_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
)

// Two faces with a gap between jambs and a door's swing in it are one wall with
// one opening.
func ExampleTrace() {
	d := &linework.Drawing{File: "room.dxf", UnitMM: 1}
	line := func(x0, y0, x1, y1 float64) {
		d.Segments = append(d.Segments, linework.Segment{
			Common: linework.Common{Layer: "A-WALL", Type: "LINE", Insert: -1, Entity: len(d.Segments)},
			A:      orb.Point{x0, y0}, B: orb.Point{x1, y1}})
	}
	for _, y := range []float64{0, 125} {
		line(0, y, 2000, y)
		line(2900, y, 6000, y)
	}
	line(2000, 0, 2000, 125)
	line(2900, 0, 2900, 125)
	d.Arcs = append(d.Arcs, linework.Arc{
		Common: linework.Common{Layer: "A-DOOR", Type: "ARC", Insert: -1, Entity: 6},
		Centre: orb.Point{2000, 125}, Radius: 900, Start: 0, End: 90})

	p := trace.Trace(d, trace.Propose(d), trace.Options{Storey: "1"})
	for _, w := range p.Walls {
		fmt.Printf("wall %.0f mm thick from %.0f to %.0f\n", w.Thickness.MM(), w.Axis[0].X.MM(), w.Axis[1].X.MM())
	}
	for _, o := range p.Openings {
		fmt.Printf("%s %.0f mm wide, centre at %.0f, width as %s\n", o.Kind, o.Width.MM(), o.At.MM(), o.Basis)
	}
	l := p.Ledger[0]
	fmt.Printf("%d of %d entities used, %.0f of %.0f mm of wall line\n", l.Used, l.Read, l.WallLineUsedMM, l.WallLineMM)
	// Output:
	// wall 125 mm thick from 0 to 6000
	// door 900 mm wide, centre at 2450, width as drawn
	// 7 of 7 entities used, 10450 of 10450 mm of wall line
}
