package app

import (
	"fmt"
	"os"
	"path/filepath"
)

// sparesInputs refuses to write files of those names into dir where that would overwrite or remove a
// file that is read: an architect's plan.dxf beside the job, most of all.
func sparesInputs(dir string, names, inputs []string) error {
	for _, name := range names {
		out := filepath.Join(dir, name)
		for _, in := range inputs {
			if sameFile(in, out) {
				return fmt.Errorf("%s: is read by this job and would be overwritten; write into another folder than %s", in, dir)
			}
		}
	}
	return nil
}

// sameFile tells whether both paths name one file, by whatever links.
func sameFile(a, b string) bool {
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(x, y)
}
