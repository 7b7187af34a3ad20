package job_test

import (
	"fmt"
	"testing"

	"boardrun/internal/job"
)

func ExampleParse() {
	src := `drawings: [{file: plan.dxf, storey: "1"}]
celing: 9'-0"
types:
  - {name: A, stud: 3-5/8, both: {boards: 5/8 type X, height: to dek}}
`
	_, err := job.Parse("job.yaml", []byte(src), nil)
	fmt.Println(err)
	// Output:
	// job.yaml:2:1: unknown key "celing": did you mean "ceilings"?
	// job.yaml:4:26: length "3-5/8": a number without a unit; say the unit: 48in or 9'-6 1/2"
	// job.yaml:4:63: "to dek" is no height: write to deck, to ceiling, above ceiling, ceiling + 6in, or a length from the floor such as 9'-0"
}

func BenchmarkRead(b *testing.B) {
	for b.Loop() {
		if _, err := job.Read(jobs + "clinic.yaml"); err != nil {
			b.Fatal(err)
		}
	}
}
