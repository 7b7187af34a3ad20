package part21

import (
	"archive/zip"
	"bytes"
	"strings"
	"testing"
)

// packed returns an archive of members given as name and text in turn.
func packed(t *testing.T, members ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(members); i += 2 {
		m, err := w.Create(members[i])
		if err == nil {
			_, err = m.Write([]byte(members[i+1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Oracle: the limits of limits.go, and what a user can do about each case.
func TestArchive(t *testing.T) {
	model := head + "#1=IFCWALL('a');\n" + tail
	sound := packed(t, "a/b/model.ifc", model, "readme.txt", "x")
	stored := func() []byte {
		var b bytes.Buffer
		w := zip.NewWriter(&b)
		m, _ := w.CreateHeader(&zip.FileHeader{Name: "m.ifc", Method: zip.Store})
		m.Write([]byte(model))
		w.Close()
		return b.Bytes()
	}()
	locked := bytes.Clone(stored)
	for i := range locked { // the flag stands 8 bytes into the directory entry
		if bytes.HasPrefix(locked[i:], []byte("PK\x01\x02")) {
			locked[i+8] |= 1
		}
	}
	many := make([]string, 0, 2*(MaxMembers+1))
	for range MaxMembers + 1 {
		many = append(many, "x.txt", "")
	}
	for _, c := range []struct {
		name string
		data []byte
		want string // "" sound
	}{
		{"sound", sound, ""},
		{"stored", stored, ""},
		{"path that leaves", packed(t, "../../../etc/model.IFC", model), ""},
		{"absolute path", packed(t, `C:\models\m.ifc`, model), ""},
		{"resource fork beside it", packed(t, "m.ifc", model, "__MACOSX/._m.ifc", "x"), ""},
		{"two models", packed(t, "a.ifc", model, "b.ifc", model), "is an archive of 2 models (a.ifc, b.ifc, …); pack one model alone"},
		{"no model", packed(t, "a.txt", model), "is a ZIP archive without an .ifc file in it; pack the model itself"},
		{"empty model", packed(t, "a.ifc", ""), "a.ifc in the archive is empty; export the model as IFC in the STEP format (.ifc)"},
		{"archive in an archive", packed(t, "a.ifc", string(sound)), `a.ifc in the archive is not an ISO 10303-21 file: it starts with "PK\x03\x04`},
		{"xml by another name", packed(t, "a.ifc", "<?xml version='1.0'?>"), "a.ifc in the archive is XML (ifcXML), which is not read"},
		{"too many members", packed(t, many...), "is an archive of 1001 files; the limit is 1000; pack the model alone"},
		{"locked", locked, "m.ifc in the archive is encrypted; pack it without a password"},
		{"cut", sound[:len(sound)-30], "looks like a ZIP archive but cannot be opened"},
		{"damaged", bytes.Replace(stored, []byte("IFCWALL"), []byte("IFCWALK"), 1), "m.ifc in the archive cannot be unpacked: zip: checksum error; pack it again"},
		{"blanks", packed(t, "a.ifc", head+strings.Repeat(" ", 8<<20)+tail), "a.ifc in the archive grows more than 100-fold: no model packs like that; unpack and check it"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, err := Open("m.zip", bytes.NewReader(c.data), int64(len(c.data)), Options{Vocabulary: voc, Keep: []Keyword{wall}})
			if c.want == "" {
				if err != nil || len(f.Of(wall)) != 1 {
					t.Errorf("%v", err)
				}
				return
			}
			if err == nil || !strings.HasPrefix(err.Error(), "m.zip: "+c.want) {
				t.Errorf("got %v\nwant %s", err, c.want)
			}
		})
	}
}

// A file beyond 4 GiB is refused before it is read.
func TestOpen_tooLarge(t *testing.T) {
	_, err := Open("big.ifc", strings.NewReader(""), MaxFile+1, Options{Vocabulary: voc})
	if err == nil || err.Error() != "big.ifc: is 4294967296 bytes long; the limit is 4 GiB; export the storeys one by one" {
		t.Error(err)
	}
}
