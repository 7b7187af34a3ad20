package part21

import (
	"math/rand"
	"os"
	"path/filepath"
	"testing"
)

// Bytes of real models changed, dropped and doubled: no panic, and every error
// names the file. Seeds are fixed.
func TestMutations(t *testing.T) {
	files, _ := filepath.Glob(shared(t, "data/ifc") + "/*.ifc")
	r := rand.New(rand.NewSource(5))
	for _, name := range files {
		b, err := os.ReadFile(name)
		if err != nil || len(b) > 60_000 {
			continue
		}
		for range 40 {
			c := append([]byte(nil), b...)
			for range 1 + r.Intn(4) {
				i, j := r.Intn(len(c)), r.Intn(len(c))
				switch r.Intn(4) {
				case 0:
					c[i] = "#;'(),*/\\\n\x00\xff0A"[r.Intn(14)]
				case 1:
					c = append(c[:min(i, j)], c[max(i, j):]...)
				case 2:
					c = append(c[:max(i, j)], c[min(i, j):]...)
				case 3:
					c = c[:max(i, 1)]
				}
			}
			f, err := open(t, string(c), 1+r.Intn(3))
			if err != nil {
				if e, ok := err.(*Error); !ok || e.File != "t.ifc" || e.Msg == "" {
					t.Errorf("%s: %v", name, err)
				}
				continue
			}
			rd := f.Reader()
			for _, a := range f.index.runs {
				for k := ID(0); k < ID(a.n); k++ {
					rd.Get(a.first + k)
				}
				rd.Reset()
			}
		}
	}
}
