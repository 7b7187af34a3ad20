package dxf_test

import (
	"fmt"
	"strings"

	"boardrun/importers/dxf"
)

// A drawing whose header gives no unit stays in its own units until the unit is
// settled.
func ExampleSettle() {
	file := "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nA-WALL\n11\n144\n0\nENDSEC\n0\nEOF\n"
	d, _, err := dxf.Read("plan.dxf", strings.NewReader(file), dxf.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(d.UnitMM, d.Segments[0].B)
	unit, exceptions := dxf.Settle(d, 25.4) // the job says inch
	fmt.Println(unit.Used, d.Segments[0].B[0], len(exceptions))
	// Output:
	// 0 [144 0]
	// inch 3657.6 0
}
