package write

import (
	"archive/zip"
	"bytes"
	"cmp"
	"io"
	"slices"
)

// inOrder writes the parts of a packed workbook in the order of their names, the
// list of content types first as readers expect it: the library writes them in
// any order, and the same takeoff has to give the same bytes. Parts are copied
// as they are packed.
func inOrder(w io.Writer, packed []byte) error {
	r, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil {
		return err
	}
	rank := func(f *zip.File) int {
		switch f.Name {
		case "[Content_Types].xml":
			return 0
		case "_rels/.rels":
			return 1
		}
		return 2
	}
	slices.SortFunc(r.File, func(a, b *zip.File) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.Name, b.Name))
	})
	out := zip.NewWriter(w)
	for _, f := range r.File {
		if err := out.Copy(f); err != nil {
			return err
		}
	}
	return out.Close()
}
