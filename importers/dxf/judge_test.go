package dxf

import (
	"os"
	"path/filepath"
	"testing"
)

func TestJudgeDump(t *testing.T) {
	fs, _ := filepath.Glob(shared(t, "data", "dxf") + "/*.dxf")
	f2, _ := filepath.Glob(shared(t, "data", "plans") + "/*.dxf")
	for _, f := range append(fs, f2...) {
		r, _ := os.Open(f)
		d, _, err := Read(filepath.Base(f), r, Options{})
		if err != nil {
			continue
		}
		j := JudgeUnit(d)
		t.Logf("%-45s header %-6s best %-6s sure %v contra %v  %.2f / %s %.2f", filepath.Base(f), j.Header.Name, j.Best().Unit.Name, j.Sure(), j.Contradicts(), j.Best().Score, j.Candidates[1].Unit.Name, j.Candidates[1].Score)
	}
}
