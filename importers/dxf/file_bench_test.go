package dxf

import (
	"os"
	"testing"
)

// BenchmarkFile opens the drawing named in BOARDRUN_DXF, expands its blocks,
// reads its attributes and hands every piece to a sink that keeps none: the job
// to compare with readers that only add up lines.
func BenchmarkFile(b *testing.B) {
	name := os.Getenv("BOARDRUN_DXF")
	if name == "" {
		b.Skip("BOARDRUN_DXF names no drawing")
	}
	for b.Loop() {
		f, err := os.Open(name)
		if err != nil {
			b.Fatal(err)
		}
		m, err := Open(name, f, Options{})
		if err != nil {
			b.Fatal(err)
		}
		m.Walk(25.4, &linesOnly{})
		f.Close()
	}
}
