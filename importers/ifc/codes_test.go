package ifc

import (
	"path/filepath"
	"testing"
)

// Every exception that the corpus gives has a code of the table.
func TestCodes(t *testing.T) {
	for _, dir := range []string{"data/ifc", "data/bad"} {
		files, _ := filepath.Glob(shared(t, dir) + "/*.ifc*")
		for _, f := range files {
			p, _, err := readFile(f)
			if err != nil {
				continue
			}
			for _, e := range p.Exceptions {
				if Codes[e.Code] == "" || e.Message == "" || e.Did == "" || e.Source.File == "" {
					t.Errorf("%s: %+v", filepath.Base(f), e)
				}
			}
			for i, w := range p.Walls {
				if w.Sources[0].GUID == "" || w.Sources[0].Ref == "" {
					t.Errorf("%s: wall %d cannot be traced: %+v", filepath.Base(f), i, w.Sources)
				}
			}
		}
	}
}
