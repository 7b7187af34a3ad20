package dxf

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

func TestDumpBad(t *testing.T) {
	fs, _ := filepath.Glob(shared(t, "data", "bad") + "/*.dxf")
	for _, f := range fs {
		r, _ := os.Open(f)
		d, exc, err := Read(filepath.Base(f), r, Options{})
		fmt.Println("==", filepath.Base(f), err)
		if d != nil {
			fmt.Println(len(d.Segments), len(d.Inserts), len(d.Texts), len(d.Others), countTypes(d))
		}
		for _, e := range exc {
			fmt.Println("   ", e)
		}
	}
}
