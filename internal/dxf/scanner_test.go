package dxf

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf16"
)

// pairs reads everything and prints it one pair a word: "0=SECTION".
func pairs(t testing.TB, data []byte) (string, *Scanner, error) {
	t.Helper()
	s, err := NewScanner("f.dxf", bytes.NewReader(data))
	if err != nil {
		return "", nil, err
	}
	var out []string
	for s.Next() {
		v := string(s.Bytes())
		if s.Bytes() == nil {
			x, _ := s.Float()
			v = fmt.Sprint(x)
		}
		out = append(out, fmt.Sprintf("%d=%s", s.Code, v))
	}
	return strings.Join(out, " "), s, nil
}

const small = "0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n1.5\n0\nENDSEC\n0\nEOF\n"
const smallPairs = "0=SECTION 2=ENTITIES 0=LINE 10=1.5 0=ENDSEC"

func utf16le(s string) []byte {
	b := []byte{0xff, 0xfe}
	for _, u := range utf16.Encode([]rune(s)) {
		b = binary.LittleEndian.AppendUint16(b, u)
	}
	return b
}

func utf16be(s string) []byte {
	b := []byte{0xfe, 0xff}
	for _, u := range utf16.Encode([]rune(s)) {
		b = binary.BigEndian.AppendUint16(b, u)
	}
	return b
}

// binaryPairs writes pairs as a binary file; floats are given as float64, whole
// numbers as int.
func binaryPairs(twoByte bool, vals ...any) []byte {
	b := []byte(binarySentinel)
	for i := 0; i < len(vals); i += 2 {
		code := vals[i].(int)
		switch {
		case twoByte:
			b = binary.LittleEndian.AppendUint16(b, uint16(code))
		case code < 255:
			b = append(b, byte(code))
		default:
			b = binary.LittleEndian.AppendUint16(append(b, 255), uint16(code))
		}
		switch v := vals[i+1].(type) {
		case string:
			b = append(append(b, v...), 0)
		case float64:
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		case int:
			switch valueTypes[code] {
			case typeInt8:
				b = append(b, byte(v))
			case typeInt16:
				b = binary.LittleEndian.AppendUint16(b, uint16(v))
			case typeInt32:
				b = binary.LittleEndian.AppendUint32(b, uint32(v))
			case typeInt64:
				b = binary.LittleEndian.AppendUint64(b, uint64(v))
			}
		case []byte:
			b = append(append(b, byte(len(v))), v...)
		}
	}
	return b
}

// Oracle: written out by hand beside each case.
func TestScanner(t *testing.T) {
	sectionBinary := []any{0, "SECTION", 2, "ENTITIES", 0, "LINE", 10, 1.5, 62, -3, 90, 70000, 290, 1, 310, []byte("ab"), 1070, 5, 0, "ENDSEC", 0, "EOF"}
	const binaryWant = "0=SECTION 2=ENTITIES 0=LINE 10=1.5 62=-3 90=70000 290=1 310=ab 1070=5 0=ENDSEC"
	for _, c := range []struct {
		name, in, want string
		truncated      bool
		audit          string // code:line:count of each finding
	}{
		{"LF", small, smallPairs, false, ""},
		{"CRLF", strings.ReplaceAll(small, "\n", "\r\n"), smallPairs, false, ""},
		{"CR only", strings.ReplaceAll(small, "\n", "\r"), smallPairs, false, ""},
		{"padded codes", "  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n 10\n1.5\n  0\nENDSEC\n  0\nEOF\n", smallPairs, false, ""},
		{"codes with blanks behind", "0 \nSECTION\n2\t\nENTITIES\n0\nLINE\n10  \n1.5\n0\nENDSEC\n0\nEOF\n", smallPairs, false, ""},
		{"no line end at the end", strings.TrimSuffix(small, "\n"), smallPairs, false, ""},
		{"UTF-8 mark", "\xef\xbb\xbf" + small, smallPairs, false, ""},
		{"UTF-16 LE", string(utf16le(small)), smallPairs, false, ""},
		{"UTF-16 BE", string(utf16be(small)), smallPairs, false, ""},
		{"UTF-16 LE without a mark", string(utf16le(small)[2:]), smallPairs, false, ""},
		{"UTF-16 BE without a mark", string(utf16be(small)[2:]), smallPairs, false, ""},
		{"binary R12", string(binaryPairs(false, sectionBinary...)), binaryWant, false, ""},
		{"binary R13", string(binaryPairs(true, sectionBinary...)), binaryWant, false, ""},
		{"binary R12 begun by a comment", string(binaryPairs(false, 999, "c", 0, "EOF")), "999=c", false, ""},
		{"binary R13 begun by a comment", string(binaryPairs(true, 999, "c", 0, "EOF")), "999=c", false, ""},
		{"nothing behind EOF counts", small + "0\nLINE\n", smallPairs, false, ""},
		{"blank lines behind EOF", small + "\n\n", smallPairs, false, ""},
		{"no EOF", "0\nSECTION\n0\nENDSEC\n", "0=SECTION 0=ENDSEC", true, ""},
		{"no EOF, blank lines", "0\nSECTION\n0\nENDSEC\n\n\n\n", "0=SECTION 0=ENDSEC", true, ""},
		{"cut behind a code", "0\nSECTION\n10\n", "0=SECTION", true, ""},
		{"cut in a value", "0\nSECTION\n10\n1.2", "0=SECTION 10=1.2", true, ""},
		{"a bad code", "0\nLINE\nabc\n7\n8\nX\n10\n1\n20\n2\n0\nEOF\n", "0=LINE 8=X 10=1 20=2", false, "bad-group-code:3:1"},
		{"negative and huge codes", "0\nLINE\n-5\nx\n99999999999999999999\ny\n8\nX\n10\n1\n20\n2\n0\nEOF\n", "0=LINE 8=X 10=1 20=2", false, "bad-group-code:3:2"},
		{"a line too many", "0\nLINE\n8\nX\n\n10\n1\n20\n2\n30\n3\n0\nEOF\n", "0=LINE 8=X 10=1 20=2 30=3", false, "lines-out-of-step:5:1"},
		{"a line of text too many", "0\nLINE\n8\nX\nfoo\n10\n1\n20\n2\n30\n3\n0\nEOF\n", "0=LINE 8=X 10=1 20=2 30=3", false, "lines-out-of-step:5:1"},
		{"a value lost", "0\nLINE\n8\n10\n1.5\n20\n2.5\n30\n3.5\n0\nEOF\n", "0=LINE 8=10 20=2.5 30=3.5", false, "lines-out-of-step:5:1"},
		{"binary, unknown code", string(binaryPairs(true, 0, "SECTION", 95+5000, "x", 0, "EOF")), "0=SECTION", true, "bad-binary-code:0:1"},
		{"binary, cut in a number", string(binaryPairs(true, 0, "LINE", 10, 1.5)[:22+2+5+2+4]), "0=LINE", true, ""},
		{"binary, cut in a string", string(binaryPairs(true, 0, "LINE", 8, "A-WALL")[:22+2+5+2+3]), "0=LINE", true, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, s, err := pairs(t, []byte(c.in))
			if err != nil {
				t.Fatal(err)
			}
			if got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
			if s.Truncated() != c.truncated {
				t.Errorf("truncated %v", s.Truncated())
			}
			var audit []string
			for _, f := range s.Audit() {
				audit = append(audit, fmt.Sprintf("%s:%d:%d", f.Code, f.Line, f.Count))
			}
			if strings.Join(audit, " ") != c.audit {
				t.Errorf("audit %v, want %q", audit, c.audit)
			}
			if s.Next() {
				t.Error("Next is true behind the end")
			}
		})
	}
}

func TestScanner_otherFormats(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"DWG", "AC1027\x00\x00\x00\x00\x00\x03", "f.dxf: this is a DWG drawing (AC1027), not DXF; open it where it was drawn and export it as DXF"},
		{"old DWG", "AC1.50\x00", "a DWG drawing (AC1.50)"},
		{"PDF", "%PDF-1.7\n", "a PDF"},
		{"ZIP", "PK\x03\x04....", "a ZIP archive"},
		{"IFC", "ISO-10303-21;\nHEADER;", "an IFC or STEP file"},
		{"empty", "", "an empty file"},
		{"blank", " \r\n\n", "an empty file"},
		{"text", "Dear all,\n", `begins with "Dear all," on line 1 where a group code`},
		{"UTF-16 text", string(utf16le("Dear all\n")), `begins with "Dear all"`},
		{"XML", "<?xml version='1.0'?>", "XML"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := pairs(t, []byte(c.in))
			var f *FormatError
			if !errors.As(err, &f) || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}

// Pairs that straddle the buffer's end come out whole, whatever size the reader
// hands out, and values longer than the buffer are cut and noted.
func TestScanner_buffer(t *testing.T) {
	var b strings.Builder
	n := 0
	for b.Len() < 3*bufSize {
		fmt.Fprintf(&b, "%d\n%s\n", n%1000+1, strings.Repeat("x", n*7%300))
		n++
	}
	b.WriteString("0\nEOF\n")
	for name, r := range map[string]io.Reader{
		"whole":     strings.NewReader(b.String()),
		"halves":    iotest.HalfReader(strings.NewReader(b.String())),
		"data, EOF": iotest.DataErrReader(strings.NewReader(b.String())),
	} {
		s, err := NewScanner("f.dxf", r)
		if err != nil {
			t.Fatal(err)
		}
		i := 0
		for ; s.Next(); i++ {
			if s.Code != i%1000+1 || len(s.Bytes()) != i*7%300 || s.Line != 2*i+1 {
				t.Fatalf("%s: pair %d is %d, %d long, line %d", name, i, s.Code, len(s.Bytes()), s.Line)
			}
		}
		if i != n || s.Truncated() {
			t.Errorf("%s: %d pairs of %d", name, i, n)
		}
	}
	long := "1\n" + strings.Repeat("y", 5*bufSize) + "\n2\nz\n0\nEOF\n"
	s, err := NewScanner("f.dxf", strings.NewReader(long))
	if err != nil {
		t.Fatal(err)
	}
	if !s.Next() || s.Code != 1 || len(s.Bytes()) < bufSize/4 {
		t.Errorf("long value: code %d, %d bytes", s.Code, len(s.Bytes()))
	}
	if !s.Next() || string(s.Bytes()) != "z" || s.Line != 3 {
		t.Errorf("behind the long value: %d=%q line %d", s.Code, s.Bytes(), s.Line)
	}
	if a := s.Audit(); len(a) != 1 || a[0].Code != "value-cut" {
		t.Errorf("audit %v", a)
	}
}

func TestScanner_readFault(t *testing.T) {
	fault := errors.New("disk gone")
	s, err := NewScanner("f.dxf", io.MultiReader(strings.NewReader(strings.Repeat("1\nx\n", bufSize/4+10)), iotest.ErrReader(fault)))
	if err != nil {
		t.Fatal(err)
	}
	for s.Next() {
	}
	if !errors.Is(s.Err(), fault) || !s.Truncated() {
		t.Errorf("err %v, truncated %v", s.Err(), s.Truncated())
	}
	if _, err := NewScanner("f.dxf", iotest.ErrReader(fault)); !errors.Is(err, fault) {
		t.Errorf("err %v", err)
	}
}
