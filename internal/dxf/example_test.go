package dxf_test

import (
	"bytes"
	"fmt"
	"strings"

	"boardrun/internal/dxf"
)

// A drawing is a plain value; what could not be read back is refused.
func ExampleDrawing_Write() {
	d := dxf.Drawing{
		InsUnits: 1, LUnits: 4,
		Layers: []dxf.Layer{{Name: "A-WALL", Colour: 7}},
		Entities: []dxf.Entity{
			dxf.Line{Pen: dxf.Pen{Layer: "A-WALL"}, B: [2]float64{144.0625, 0}},
			dxf.Text{At: [2]float64{72, 6}, Height: 4, Value: `12'-0 1/16"`, H: dxf.Centre},
		},
	}
	var b bytes.Buffer
	fmt.Println(d.Write(&b), strings.Contains(b.String(), "144.0625"))
	d.Entities = append(d.Entities, dxf.Circle{Pen: dxf.Pen{Layer: "A-DOOR"}, Radius: 36})
	fmt.Println(d.Write(&b))
	// Output:
	// <nil> true
	// dxf: modelspace, entity 2 (dxf.Circle): layer "A-DOOR" is not defined
}

// Pairs are read one by one; the scanner goes on after damage and keeps an
// account of it.
func ExampleScanner() {
	file := "0\nSECTION\n2\nENTITIES\n0\nLINE\nfifty\n8\n10\n1.5\n0\nENDSEC\n0\nEOF\n"
	s, err := dxf.NewScanner("plan.dxf", strings.NewReader(file))
	if err != nil {
		fmt.Println(err)
		return
	}
	for s.Next() {
		if x, ok := s.Float(); ok && s.Code == 10 {
			fmt.Println("group 10 on line", s.Line, "is", x)
		}
	}
	for _, f := range s.Audit() {
		fmt.Printf("line %d: %s %q, %s\n", f.Line, f.Code, f.Example, f.Did)
	}
	// Output:
	// group 10 on line 9 is 1.5
	// line 7: bad-group-code "fifty", group passed over
}
