package ifc

import (
	"encoding/json"
	"math"
	"os"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"boardrun/importers/ifc/part21"
)

// cpuSeconds returns user and system time of this process: the benchmarks
// report it beside the wall clock, as readers use all processors.
func cpuSeconds() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// benchFile opens the model named in BOARDRUN_IFC, one that gen_ifc.py made.
func benchFile(b *testing.B) (*os.File, int64) {
	name := os.Getenv("BOARDRUN_IFC")
	if name == "" {
		b.Skip("BOARDRUN_IFC names no model")
	}
	f, err := os.Open(name)
	if err != nil {
		b.Fatal(err)
	}
	st, err := f.Stat()
	if err != nil {
		b.Fatal(err)
	}
	return f, st.Size()
}

// BenchmarkHosting lists walls with their openings and what fills them.
func BenchmarkHosting(b *testing.B) {
	f, size := benchFile(b)
	defer f.Close()
	b.SetBytes(size)
	start := cpuSeconds()
	for b.Loop() {
		m, err := open("bench.ifc", f, size, Options{})
		if err != nil {
			b.Fatal(err)
		}
		rel := readHosting(m.f.Reader())
		filled := 0
		for _, w := range walls(m.f) {
			for _, v := range rel.voids.of(w) {
				filled += len(rel.fills.of(v.to))
			}
		}
		if filled == 0 {
			b.Fatal("nothing found")
		}
		var s runtime.MemStats
		runtime.ReadMemStats(&s)
		b.ReportMetric(float64(s.HeapSys-s.HeapReleased)/1e6, "heap-MB")
	}
	b.ReportMetric((cpuSeconds()-start)/float64(b.N), "cpu-s/op")
}

// BenchmarkRead reads a whole model. Beside a truth file of the generator it
// checks the sums. Oracle: gen_ifc.py, which adds up what it draws.
func BenchmarkRead(b *testing.B) {
	f, size := benchFile(b)
	defer f.Close()
	b.SetBytes(size)
	var net float64
	n := 0
	start := cpuSeconds()
	for b.Loop() {
		p, q, err := ReadQuantities("bench.ifc", f, size, Options{})
		if err != nil {
			b.Fatal(err)
		}
		net, n = 0, len(p.Walls)
		for _, a := range q {
			net += a.NetAreaM2
		}
	}
	b.ReportMetric((cpuSeconds()-start)/float64(b.N), "cpu-s/op")
	b.ReportMetric((cpuSeconds()-start)/float64(b.N)/float64(n)*1e6, "cpu-µs/wall")
	truth, err := os.ReadFile(strings.TrimSuffix(f.Name(), ".ifc") + ".json")
	if err != nil {
		return
	}
	var t struct {
		Net float64 `json:"net_side_area_m2"`
	}
	if err := json.Unmarshal(truth, &t); err != nil {
		b.Fatal(err)
	}
	off := math.Abs(net/t.Net - 1)
	b.ReportMetric(off, "net-off")
	if off > 1e-6 {
		b.Errorf("net area %.6f m², the generator drew %.6f", net, t.Net)
	}
}

// BenchmarkScan finds every instance and lists the wanted ones.
func BenchmarkScan(b *testing.B) {
	f, size := benchFile(b)
	defer f.Close()
	b.SetBytes(size)
	start := cpuSeconds()
	for b.Loop() {
		if _, err := part21.Open("bench.ifc", f, size, part21.Options{Vocabulary: words, Keep: wanted}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((cpuSeconds()-start)/float64(b.N), "cpu-s/op")
}
