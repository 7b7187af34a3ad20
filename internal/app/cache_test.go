package app

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"testing"

	"boardrun/internal/report"
	"boardrun/internal/write"
)

// The same bytes without the store, filling it, from it, and with its files
// spoilt. Oracle: the takeoff without a store.
func TestCache_sameBytes(t *testing.T) {
	for _, name := range []string{"vet-clinic", "library-wing"} {
		s := &store{filepath.Join(t.TempDir(), "kept")}
		take := func(s *store) (out [2][]byte) {
			p := &pipeline{effort: "quick", store: s, out: io.Discard}
			now, err := p.run(context.Background(), filepath.Join("..", "..", "samples", name, "job.yaml"))
			if err != nil {
				t.Fatal(err)
			}
			for i, f := range []func(io.Writer, *report.Takeoff) error{write.JSON, write.PlanDXF} {
				var b bytes.Buffer
				if err := f(&b, now); err != nil {
					t.Fatal(err)
				}
				out[i] = b.Bytes()
			}
			return out
		}
		want := take(nil)
		for _, when := range []string{"filling", "from it", "spoilt", "again"} {
			if when == "spoilt" {
				list, _ := os.ReadDir(s.dir)
				if len(list) != 1 {
					t.Fatalf("%d files kept", len(list))
				}
				path := filepath.Join(s.dir, list[0].Name())
				b, _ := os.ReadFile(path)
				b[len(b)/2] ^= 1
				os.WriteFile(path, b, 0o666)
			}
			for i, b := range take(s) {
				if !bytes.Equal(b, want[i]) {
					t.Errorf("%s, %s: output %d differs from that without a store", name, when, i)
				}
			}
		}
	}
}
