package dxf

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
)

// Oracle: what a person who sent the file would want to be told (README.md of
// the collection of broken files), each on one line.
func TestBad(t *testing.T) {
	checked := map[string]bool{}
	for _, c := range []struct {
		file     string
		err      string   // the error, if nothing can be read
		lines    []string // exceptions, else
		segments int
	}{
		{file: "dwg-renamed.dxf", err: "dwg-renamed.dxf: this is a DWG drawing (AC1027), not DXF; open it where it was drawn and export it as DXF"},
		{file: "pdf-renamed.dxf", err: "pdf-renamed.dxf: this is a PDF, not DXF; ask for the drawing as DXF: a PDF holds no layers or blocks"},
		{file: "no-entities-section.dxf", err: "no-entities-section.dxf: the file has no ENTITIES section: there is nothing to take off; export the drawing with its modelspace"},
		{file: "mac-line-ends.dxf", segments: 4},
		{file: "utf16-le-bom.dxf", segments: 4},
		{file: "exponential-insert.dxf", lines: []string{
			`exponential-insert.dxf:1113: person [too-many-entities] INSERT @1113, layer 0, at (0.000, 0.000) m: block "L0" holds 2111111110 pieces once expanded, the limit for one insert is 500000; this insert is left out; explode or simplify the block`}},
		{file: "huge-group-codes.dxf", segments: 8, lines: []string{
			`huge-group-codes.dxf:69: warning [bad-group-code] "99999999999999999999" is no group code a DXF file can hold, first of 4; group passed over`}},
		{file: "recursive-insert.dxf", segments: 8, lines: []string{
			`recursive-insert.dxf:105: person [block-cycle] INSERT @105, layer 0: block "A" contains itself ("A" in "B" in "A"); this insert is left out, the rest is read`}},
		{file: "truncated-binary.dxf", segments: 3, lines: []string{
			`truncated-binary.dxf: person [file-truncated] the file ends before its end mark (EOF) at byte 10540: it was cut short; what stands before is read; export or copy the file again`}},
		{file: "truncated-mid-entity.dxf", segments: 36, lines: []string{
			`truncated-mid-entity.dxf:4405: person [file-truncated] the file ends before its end mark (EOF): it was cut short, in the middle of DIMENSION 88; that entity is left out, what stands before it is read; export or copy the file again`}},
		{file: "xref-missing.dxf", segments: 4, lines: []string{
			`xref-missing.dxf:41: person [xref-missing] INSERT @41, layer 0, at (0.000, 0.000) m: the external reference "XR" (..\\xref\\arch-plan.dwg) is not in this file; nothing of it is read and walls may be in it; bind the reference and export again`}},
	} {
		checked[c.file] = true
		t.Run(c.file, func(t *testing.T) {
			d, exc, err := readShared(t, Options{}, "data", "bad", c.file)
			if c.err != "" {
				if err == nil || err.Error() != c.err {
					t.Errorf("got  %v\nwant %s", err, c.err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if len(d.Segments) != c.segments {
				t.Errorf("%d segments, want %d", len(d.Segments), c.segments)
			}
			var got []string
			for _, e := range exc {
				got = append(got, e.String())
			}
			if strings.Join(got, "\n") != strings.Join(c.lines, "\n") {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.lines, "\n"))
			}
		})
	}
	all, _ := filepath.Glob(filepath.Join(shared(t, "data", "bad"), "*.dxf"))
	for _, f := range all {
		if !checked[filepath.Base(f)] {
			t.Errorf("%s is not checked", f)
		}
	}
}

// Drawings that are damaged in a way their author did not see.
// Oracle: golden counts of the same files.
func TestBad_real(t *testing.T) {
	for file, want := range map[string]string{
		"damaged-r12-lines.dxf":            "file-truncated",
		"empty-handles.dxf":                "",
		"r12-greek-layer-bad-codepage.dxf": "",
	} {
		_, exc, err := readShared(t, Options{}, "data", "dxf", file)
		if err != nil {
			t.Errorf("%s: %v", file, err)
		}
		var codes []string
		for _, e := range exc {
			codes = append(codes, e.Code)
		}
		if got := strings.Join(codes, " "); got != want {
			t.Errorf("%s: %q, want %q\n%s", file, got, want, fmt.Sprint(exc))
		}
	}
}
