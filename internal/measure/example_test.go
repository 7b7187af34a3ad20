package measure_test

import (
	"fmt"
	"testing"

	"boardrun/internal/measure"
)

func ExampleParse() {
	for _, s := range []string{`9'-6 1/2"`, "2.9m", "48"} {
		l, err := measure.Parse(s, measure.InchPound)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(measure.Cut(l, measure.InchPound), measure.FeetInches(l), measure.Cut(l, measure.Metric))
	}
	// Output:
	// 114-1/2 9'-6 1/2" 2908
	// 114-1/8 9'-6 1/8" 2900
	// length "48": a number without a unit; say the unit: 48in or 9'-6 1/2" (at character 3)
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := measure.Parse(`9'-6 1/2"`, measure.InchPound); err != nil {
			b.Fatal(err)
		}
	}
}
