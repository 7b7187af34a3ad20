package part21

import (
	"os"
	"runtime"
	"testing"
)

// BenchmarkOpen scans the file named in BOARDRUN_IFC.
func BenchmarkOpen(b *testing.B) {
	name := os.Getenv("BOARDRUN_IFC")
	if name == "" {
		b.Skip("BOARDRUN_IFC names no file")
	}
	src, err := os.Open(name)
	if err != nil {
		b.Fatal(err)
	}
	defer src.Close()
	st, _ := src.Stat()
	b.SetBytes(st.Size())
	var f *File
	for b.Loop() {
		if f, err = Open(name, src, st.Size(), Options{Vocabulary: voc, Keep: []Keyword{wall, slab}}); err != nil {
			b.Fatal(err)
		}
	}
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.HeapAlloc)/1e6, "MB-kept")
	runtime.KeepAlive(f)
}
