package part21

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"path"
	"strings"
)

// unpack looks at the first bytes of a file, whatever it is called, and returns
// the exchange structure: the file itself, or the one model in a ZIP archive,
// inflated into memory. Everything else is refused with what it looks like.
func unpack(name string, src io.ReaderAt, size int64) (io.ReaderAt, int64, error) {
	fail := func(msg, do string) (io.ReaderAt, int64, error) {
		return nil, 0, &Error{File: name, Msg: msg, Do: do}
	}
	if size > MaxFile {
		return fail(fmt.Sprintf("is %d bytes long; the limit is 4 GiB", size), "export the storeys one by one")
	}
	head := make([]byte, min(size, 512))
	if n, err := src.ReadAt(head, 0); int64(n) < int64(len(head)) {
		return fail("cannot be read: "+err.Error(), "")
	}
	if bytes.HasPrefix(head, []byte("PK")) {
		return unzip(name, src, size)
	}
	if msg, do := refuse(head); msg != "" {
		return fail(msg, do)
	}
	return src, size, nil
}

// refuse says what a file that cannot be an exchange structure looks like; ""
// if it may be one.
func refuse(head []byte) (msg, do string) {
	const export = "export the model as IFC in the STEP format (.ifc)"
	t := bytes.TrimPrefix(head, []byte("\xef\xbb\xbf"))
	t = skipBlank(t)
	switch {
	case len(head) == 0:
		return "is empty", export
	case bytes.HasPrefix(t, []byte("<")):
		return "is XML (ifcXML), which is not read", export
	case bytes.HasPrefix(t, []byte("{")):
		return "is JSON, which is not read", export
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")):
		return "is encoded as UTF-16", "save it as UTF-8 or export it again"
	case bytes.HasPrefix(t, []byte("%PDF")):
		return "is a PDF", export
	case bytes.HasPrefix(t, []byte("AC10")):
		return "is a DWG drawing", export
	case len(t) >= 12 && !strings.EqualFold(string(t[:12]), "ISO-10303-21"):
		return fmt.Sprintf("is not an ISO 10303-21 file: it starts with %q", t[:12]), export
	}
	return "", ""
}

// unzip finds the one model among the members of an archive. Member names are
// only looked at, never used as paths.
func unzip(name string, src io.ReaderAt, size int64) (io.ReaderAt, int64, error) {
	fail := func(msg, do string) (io.ReaderAt, int64, error) {
		return nil, 0, &Error{File: name, Msg: msg, Do: do}
	}
	z, err := zip.NewReader(src, size)
	if err != nil {
		return fail("looks like a ZIP archive but cannot be opened: "+err.Error(), "pack it again")
	}
	if len(z.File) > MaxMembers {
		return fail(fmt.Sprintf("is an archive of %d files; the limit is %d", len(z.File), MaxMembers), "pack the model alone")
	}
	var models, xml []*zip.File
	for _, m := range z.File {
		switch ext := strings.ToLower(path.Ext(m.Name)); {
		case strings.Contains(m.Name, "__MACOSX"):
		case ext == ".ifc" || ext == ".step" || ext == ".stp":
			models = append(models, m)
		case ext == ".ifcxml" || ext == ".xml":
			xml = append(xml, m)
		}
	}
	switch {
	case len(models) > 1:
		return fail(fmt.Sprintf("is an archive of %d models (%s, %s, …)", len(models), clean(models[0].Name), clean(models[1].Name)), "pack one model alone")
	case len(models) == 0 && len(xml) > 0:
		return fail("holds ifcXML ("+clean(xml[0].Name)+"), which is not read", "export the model as IFC in the STEP format (.ifc)")
	case len(models) == 0:
		return fail("is a ZIP archive without an .ifc file in it", "pack the model itself")
	}
	m := models[0]
	if m.Flags&1 != 0 {
		return fail(clean(m.Name)+" in the archive is encrypted", "pack it without a password")
	}
	return inflate(name, m)
}

// clean shortens a member's name for a message.
func clean(s string) string {
	if s = path.Base(strings.ReplaceAll(s, `\`, "/")); len(s) > 60 {
		s = s[:60] + "…"
	}
	return strings.Map(func(r rune) rune {
		if r < ' ' {
			return '?'
		}
		return r
	}, s)
}

// inflate unpacks one member into memory, watching its size and ratio as it
// grows: what the archive's directory says is not trusted.
func inflate(name string, m *zip.File) (io.ReaderAt, int64, error) {
	fail := func(msg, do string) (io.ReaderAt, int64, error) {
		return nil, 0, &Error{File: name, Msg: clean(m.Name) + " in the archive " + msg, Do: do}
	}
	rc, err := m.Open()
	if err != nil {
		return fail("cannot be opened: "+err.Error(), "pack it again")
	}
	defer rc.Close()
	packed := int64(m.CompressedSize64)
	var c chunks
	for {
		page := make([]byte, chunkSize)
		n, err := io.ReadFull(rc, page)
		c.pages, c.size = append(c.pages, page[:n]), c.size+int64(n)
		switch {
		case c.size > MaxInflated:
			return fail("grows beyond 1 GiB", "unpack it and give the .ifc file")
		case c.size > 4*chunkSize && c.size/MaxRatio > packed:
			return fail(fmt.Sprintf("grows more than %d-fold: no model packs like that", MaxRatio), "unpack and check it")
		case err == io.EOF || err == io.ErrUnexpectedEOF && n < len(page):
			if err == io.ErrUnexpectedEOF && c.size < int64(m.UncompressedSize64) {
				return fail("is incomplete", "copy or pack it again")
			}
			head := make([]byte, min(c.size, 512))
			c.ReadAt(head, 0)
			if msg, do := refuse(head); msg != "" {
				return fail(msg, do)
			}
			return &c, c.size, nil
		case err != nil:
			return fail("cannot be unpacked: "+err.Error(), "pack it again")
		}
	}
}

// chunks is a growing file in memory that is never copied.
type chunks struct {
	pages [][]byte
	size  int64
}

const chunkSize = 1 << 20

// ReadAt implements io.ReaderAt.
func (c *chunks) ReadAt(p []byte, off int64) (int, error) {
	n := 0
	for n < len(p) && off < c.size {
		m := copy(p[n:], c.pages[off/chunkSize][off%chunkSize:])
		n, off = n+m, off+int64(m)
	}
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}
