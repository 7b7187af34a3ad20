package dxf

import (
	"bytes"
	"fmt"
)

// binarySentinel begins every binary DXF file.
// Source: DXF Reference, "Binary DXF Files".
const binarySentinel = "AutoCAD Binary DXF\r\n\x1a\x00"

// FormatError says that a file is no DXF file, what it is instead, and what
// would help.
type FormatError struct {
	File   string
	Is     string // "a DWG drawing (AC1027)"
	Remedy string
}

func (e *FormatError) Error() string {
	return fmt.Sprintf("%s: this is %s, not DXF; %s", e.File, e.Is, e.Remedy)
}

// foreign tells formats that are met under the name of DXF by how they begin.
var foreign = []struct{ magic, is, remedy string }{
	{"%PDF-", "a PDF", "ask for the drawing as DXF: a PDF holds no layers or blocks"},
	{"PK\x03\x04", "a ZIP archive", "unpack it and give the DXF inside"},
	{"PK\x05\x06", "an empty ZIP archive", "ask for the DXF again"},
	{"\x1f\x8b", "a gzip archive", "unpack it and give the DXF inside"},
	{"Rar!", "a RAR archive", "unpack it and give the DXF inside"},
	{"7z\xbc\xaf\x27\x1c", "a 7z archive", "unpack it and give the DXF inside"},
	{"ISO-10303-21", "an IFC or STEP file", "give it the ending .ifc if it is IFC"},
	{"(DWF V", "a DWF", "export the drawing as DXF"},
	{"<?xml", "XML", "export the drawing as DXF"},
	{"<!DOCTYPE", "a web page", "download the drawing itself"},
	{"<html", "a web page", "download the drawing itself"},
	{"\x89PNG", "a PNG picture", "ask for the drawing as DXF"},
	{"\xff\xd8\xff", "a JPEG picture", "ask for the drawing as DXF"},
	{"\xd0\xcf\x11\xe0", "an office document or a DGN", "export the drawing as DXF"},
}

// sniff returns what head, the first bytes of a file, is if it is surely
// something other than DXF.
func sniff(name string, head []byte) *FormatError {
	if len(bytes.TrimSpace(head)) == 0 {
		return &FormatError{name, "an empty file", "export the drawing again"}
	}
	if v := dwgVersion(head); v != "" {
		return &FormatError{name, "a DWG drawing (" + v + ")", "open it where it was drawn and export it as DXF"}
	}
	for _, f := range foreign {
		if bytes.HasPrefix(head, []byte(f.magic)) {
			return &FormatError{name, f.is, f.remedy}
		}
	}
	return nil
}

// dwgVersion returns the release mark a DWG file begins with: "AC" and four
// digits (AC1.2 and the like before 1985), or "".
func dwgVersion(head []byte) string {
	if len(head) < 6 || head[0] != 'A' || head[1] != 'C' {
		return ""
	}
	for _, c := range head[2:6] {
		if (c < '0' || c > '9') && c != '.' {
			return ""
		}
	}
	return string(head[:6])
}
