package app

import (
	"context"
	"io"
	"path/filepath"
	"runtime"
	"testing"
)

// Twenty jobs in one process keep nothing of each other: after the first few,
// which fill caches, the heap stays where it is.
func TestLeak_twentyJobs(t *testing.T) {
	file := filepath.Join("..", "..", "testdata", "jobs", "earlier", "job.yaml")
	heap := func() uint64 {
		runtime.GC()
		runtime.GC() // pools are emptied by the second
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	take := func(n int) {
		for range n {
			p := &pipeline{effort: "quick", out: io.Discard}
			out, err := p.run(context.Background(), file)
			if err != nil {
				t.Fatal(err)
			}
			if err := writeAll(context.Background(), t.TempDir(), nil, out); err != nil {
				t.Fatal(err)
			}
		}
	}
	take(3)
	before, threads := heap(), runtime.NumGoroutine()
	take(20)
	after := heap()
	// One takeoff of this job, kept, is 50 KB as text alone: 20 would be told.
	const room = 512 << 10
	if after > before+room {
		t.Errorf("heap %d KB after 3 jobs, %d KB after 23", before>>10, after>>10)
	}
	if n := runtime.NumGoroutine(); n > threads {
		t.Errorf("%d goroutines after 3 jobs, %d after 23", threads, n)
	}
	t.Logf("heap %d KB after 3 jobs, %d KB after 23", before>>10, after>>10)
}
