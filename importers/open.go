package importers

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Format is what a file is, by its first bytes; its name does not count.
type Format string

// Formats that are read.
const (
	DXF Format = "DXF"
	IFC Format = "IFC"
)

// opened is a file under its name in messages.
type opened struct {
	*os.File
	name   string
	size   int64
	format Format
}

// open opens a drawing and tells its format. Everything that is not clearly a
// model is handed to the DXF reader, which says what else a file is.
func open(path string) (*opened, error) {
	f, err := os.Open(path)
	if err != nil {
		var pe *fs.PathError
		if errors.As(err, &pe) && errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%s: no such file; check the name in the job or on the command line", path)
		}
		return nil, fmt.Errorf("%s: can't be opened: %w", path, errors.Unwrap(err))
	}
	st, err := f.Stat()
	if err == nil && st.IsDir() {
		err = fmt.Errorf("%s: is a folder; name a drawing in it", path)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	o := &opened{File: f, name: filepath.ToSlash(path), size: st.Size(), format: DXF}
	head := make([]byte, 512)
	n, _ := io.ReadFull(f, head)
	head = head[:n]
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		f.Close()
		return nil, fmt.Errorf("%s: can't be read: %w", path, err)
	}
	trimmed := bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")), " \t\r\n")
	ext := filepath.Ext(path)
	switch {
	case bytes.HasPrefix(trimmed, []byte("ISO-10303-21")), bytes.HasPrefix(trimmed, []byte("/*")),
		bytes.HasPrefix(trimmed, []byte("PK\x03\x04")) && ext != ".dxf",
		bytes.EqualFold([]byte(ext), []byte(".ifc")), bytes.EqualFold([]byte(ext), []byte(".ifczip")), bytes.EqualFold([]byte(ext), []byte(".ifcxml")):
		o.format = IFC
	}
	return o, nil
}
