package write

import (
	"archive/zip"
	"bytes"
	"cmp"
	"io"
	"regexp"
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
		if f.Name == "[Content_Types].xml" {
			if err := sortedTypes(out, f); err != nil {
				return err
			}
			continue
		}
		if err := out.Copy(f); err != nil {
			return err
		}
	}
	return out.Close()
}

var typeOfExtension = regexp.MustCompile(`<Default [^>]*(/>|></Default>)`)

// sortedTypes writes the list of content types with those of extensions in
// order: with pictures in a workbook the library lists them in any.
func sortedTypes(out *zip.Writer, f *zip.File) error {
	in, err := f.Open()
	if err != nil {
		return err
	}
	defer in.Close()
	list, err := io.ReadAll(in)
	if err != nil {
		return err
	}
	all := typeOfExtension.FindAll(list, -1)
	slices.SortFunc(all, bytes.Compare)
	n := -1
	list = typeOfExtension.ReplaceAllFunc(list, func([]byte) []byte { n++; return all[n] })
	h := f.FileHeader
	w, err := out.CreateHeader(&zip.FileHeader{Name: h.Name, Method: zip.Deflate, Modified: h.Modified})
	if err != nil {
		return err
	}
	_, err = w.Write(list)
	return err
}
