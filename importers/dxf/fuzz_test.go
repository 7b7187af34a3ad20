package dxf

import (
	"bytes"
	"encoding/binary"
	"math"
	"strconv"
	"strings"
	"testing"

	"boardrun/importers/linework"
)

// binaryFile turns the pairs of an ASCII file into a binary one of R13 or later,
// for codes whose values are strings, real numbers below 60 and whole numbers.
func binaryFile(ascii string) []byte {
	b := []byte("AutoCAD Binary DXF\r\n\x1a\x00")
	lines := strings.Split(ascii, "\n")
	for i := 0; i+1 < len(lines); i += 2 {
		code, _ := strconv.Atoi(lines[i])
		b = binary.LittleEndian.AppendUint16(b, uint16(code))
		x, _ := strconv.ParseFloat(lines[i+1], 64)
		switch {
		case code >= 10 && code < 60, code >= 210 && code < 240:
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
		case code >= 60 && code < 80:
			b = binary.LittleEndian.AppendUint16(b, uint16(int16(x)))
		case code >= 90 && code < 100:
			b = binary.LittleEndian.AppendUint32(b, uint32(int32(x)))
		default:
			b = append(append(b, lines[i+1]...), 0)
		}
	}
	return b
}

// seeds are small files that hold every entity that is read.
func seeds() []string {
	e := []string{
		"0 LINE|5 2A|8 A|10 1|20 2|30 1|11 3|21 4|39 2", "0 LWPOLYLINE|8 A|90 3|70 129|43 1|38 2|10 0|20 0|42 1|10 4|20 0|10 4|20 3|210 0|220 0|230 -1",
		"0 POLYLINE|8 A|66 1|70 1|0 VERTEX|10 0|20 0|42 0.5|0 VERTEX|10 4|20 0|0 VERTEX|10 4|20 2|0 SEQEND", "0 POLYLINE|70 64|0 VERTEX|10 1|20 2|70 192|0 SEQEND",
		"0 ARC|8 A|10 1|20 2|40 3|50 350|51 10", "0 CIRCLE|40 3", "0 ELLIPSE|10 1|20 2|11 5|40 0.4|41 1|42 5", "0 SPLINE|70 8|71 3|40 0|40 0|40 0|40 0|40 1|40 1|40 1|40 1|10 0|20 0|10 0|20 1|10 1|20 1|10 1|20 0",
		"0 SOLID|10 0|11 4|12 0|22 3|13 4|23 3", "0 HATCH|2 SOLID|91 2|92 7|72 1|73 1|93 3|10 0|20 0|42 1|10 4|20 0|10 4|20 3|97 0|92 1|93 4|72 1|10 0|20 0|11 4|21 0|72 2|10 0|20 0|40 2|50 0|51 90|73 0|72 3|10 0|20 0|11 2|40 0.5|50 0|51 90|72 4|94 1|40 0|40 0|40 1|40 1|10 0|20 0|10 1|20 1|97 0|75 0|98 1|10 1|20 1",
		"0 WIPEOUT|11 4|22 4|13 1|23 1|71 1|14 -0.5|24 -0.5|14 0.5|24 0.5", "0 MLINE|71 3|72 2|73 1|11 0|13 0|23 1|74 1|41 0.5|11 4|13 0|23 1|74 1|41 0.5",
		"0 TEXT|10 1|40 3|1 5%%d ^I\\U+2033|72 1|11 7|73 2", "0 MTEXT|10 1|40 3|3 {\\fArial;R}|1 \\S1/2;|11 0|21 1", "0 DIMENSION|2 *D1|70 32|13 0|14 4|42 4|1 <>", "0 3DFACE|10 1|11 2|12 3|13 4",
		"0 INSERT|8 B|2 N|66 1|41 2|42 3|50 30|70 2|71 2|44 9|45 9|0 ATTRIB|1 x|2 T|40 1|0 SEQEND", "0 ACAD_TABLE|100 AcDbBlockReference|2 *T1|10 5|100 AcDbTable|2 x", "0 POINT|10 1|0 AEC_WALL|10 2|0 XLINE|10 1",
	}
	header := "9 $ACADVER|1 AC1015|9 $DWGCODEPAGE|3 ANSI_1252|9 $INSUNITS|70 4|9 $EXTMIN|10 0|20 0"
	tables := layerTable + "|0 TABLE|2 BLOCK_RECORD|0 BLOCK_RECORD|5 1A|2 *U1|1001 AcDbBlockRepBTag|1070 1|1005 1B|0 BLOCK_RECORD|5 1B|2 N|0 ENDTAB"
	blocks := block("M", strings.Join(e[:8], "|")) + block("N", "0 INSERT|8 0|2 M|41 2|42 -1|0 INSERT|2 N") + block("*D1", "0 MTEXT|1 4|40 1") + block("*T1", e[12])
	clip := clipOf("70 4|10 0|20 0|10 3|20 0|10 3|20 3|10 1|20 3", noMap+noMap, "10 1|20 1|10 2|20 2")
	rest := strings.Join(append(e[1:12:12], e[15]), "|")
	clipped := withObjects(file("", "", block("B", e[0]+"|"+rest)+block("*U1", e[0]), "0 INSERT|5 1F|8 A|2 B|0 INSERT|5 2F|8 A|2 *U1"),
		strings.Replace(clip, "|0 ENDSEC", "|0 DICTIONARY|5 3A|330 3B|0 DICTIONARY|5 3B|330 2F|0 ACDB_BLOCKREPRESENTATION_DATA|5 3C|330 3A|100 AcDbBlockRepresentationData|70 1|340 1B|0 ENDSEC", 1))
	return []string{clipped, strings.Replace(clipped, "102\nACAD_INV", "102\nX", 1), file(header, tables, blocks, strings.Join(e, "|")), file("", "", "", e[0]), file("", "", blocks, e[16])}
}

// Whatever is read: no panic, an end, one line for each fault, numbers that the
// plan can hold, and inserts that exist.
func FuzzRead(f *testing.F) {
	for _, s := range seeds() {
		f.Add([]byte(s))
		f.Add(binaryFile(s))
		f.Add([]byte(s[:len(s)/2]))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		opt := Options{MaxPlaced: 20_000, MaxPerInsert: 5_000}
		d, exc, err := Read("f.dxf", bytes.NewReader(data), opt)
		if err != nil {
			oneLine(t, err.Error())
			return
		}
		for _, e := range exc {
			oneLine(t, e.String())
		}
		if d.UnitMM == 0 {
			Settle(d, 0)
		}
		sound(t, d)
	})
}

func oneLine(t *testing.T, s string) {
	t.Helper()
	if strings.ContainsAny(s, "\n\r") {
		t.Errorf("more than one line: %q", s)
	}
}

func sound(t *testing.T, d *linework.Drawing) {
	t.Helper()
	finite := func(c linework.Common, x ...float64) {
		for _, v := range x {
			if !(math.Abs(v) <= 2*MaxMM) {
				t.Fatalf("%s %s holds %g", c.Type, c.Handle, v)
			}
		}
		if c.Insert < -1 || c.Insert >= len(d.Inserts) || c.Handle == "" || c.Type == "" {
			t.Fatalf("%+v", c)
		}
	}
	for _, s := range d.Segments {
		finite(s.Common, s.A[0], s.A[1], s.B[0], s.B[1], s.ZA, s.ZB)
		if s.A == s.B && s.ZA == s.ZB {
			t.Fatalf("no length: %+v", s)
		}
	}
	for _, a := range d.Arcs {
		finite(a.Common, a.Centre[0], a.Centre[1], a.Radius, a.Start, a.End)
		if !(a.Radius > 0) || !(a.End > a.Start) || a.End > a.Start+360 {
			t.Fatalf("%+v", a)
		}
	}
	for _, x := range d.Fills {
		for _, r := range x.Rings {
			if len(r) < 4 || r[0] != r[len(r)-1] {
				t.Fatalf("ring %v", r)
			}
		}
	}
	for _, x := range d.Texts {
		finite(x.Common, x.At[0], x.At[1], x.Height, x.Angle, x.Measured)
	}
	for i, in := range d.Inserts {
		finite(in.Common, in.At[0], in.At[1], in.Extents.Min[0], in.Extents.Max[1])
		if in.Parent >= i || in.Parent < -1 {
			t.Fatalf("insert %d in %d", i, in.Parent)
		}
	}
	for _, o := range d.Others {
		finite(o.Common, o.At[0], o.At[1])
		if o.Reason == "" {
			t.Fatalf("%+v", o)
		}
	}
}

// Oracle: the ASCII file itself.
func TestRead_binaryTwin(t *testing.T) {
	for i, s := range seeds() {
		a, _ := read(t, s, Options{UnitMM: 1})
		b, _ := read(t, string(binaryFile(s)), Options{UnitMM: 1})
		if i == 2 { // handles are lines in the one and 0 in the other where there are none
			if len(a.Segments) == 0 || len(a.Arcs) == 0 || len(a.Fills) == 0 || len(a.Texts) == 0 || len(a.Inserts) == 0 || len(a.Others) == 0 {
				t.Errorf("the seed lacks something: %s", show(a))
			}
		}
		if show(a) != show(b) {
			t.Errorf("ASCII\n%s\nbinary\n%s", show(a), show(b))
		}
	}
}
