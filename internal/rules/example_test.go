package rules_test

import (
	"fmt"

	"boardrun/internal/measure"
	"boardrun/internal/rules"
)

func ExampleSet_Change() {
	s := rules.Default(measure.InchPound)
	fmt.Println(s.Change("floor-gap", "3/8in"), s.FloorGap == 3*measure.EighthInch)
	fmt.Println(s.Change("floor-gap", "3/16in"))
	fmt.Println(s.Change("joint-on-stud", "no"))
	// Output:
	// <nil> true
	// floor-gap: 3/16in is below the least of 1/4in (GA-216-2024 4.6.11: at least 1/4 in (6 mm); 1/2 in tolerated by US Navy NAVEDTRA 14044; the rest common practice, no source)
	// joint-on-stud is fixed: a joint along the studs stands on a stud's centre (International Building Code 2021 2508.3; Gypsum Association, Using Gypsum Board III)
}
