package dxf

import (
	"bytes"
	"strings"
	"testing"
)

// Whatever is read: no panic, it ends, and lines and pairs are no more than the
// bytes can hold.
func FuzzScanner(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte(strings.ReplaceAll(small, "\n", "\r")))
	f.Add(utf16le(small))
	f.Add(utf16be("0\nEOF\n"))
	f.Add([]byte("\xef\xbb\xbf0\nEOF\n"))
	f.Add([]byte("0\nLINE\n8\nX\nfoo\n10\n1\n20\n2\n30\n3\n0\nEOF\n"))
	f.Add([]byte("0\nLINE\n-5\nx\n99999999999999999999\ny\n\n\n"))
	f.Add(binaryPairs(true, 0, "LINE", 10, 1.5, 62, 3, 90, 4, 290, 1, 310, []byte("ab"), 1071, 5, 0, "EOF"))
	f.Add(binaryPairs(false, 0, "LINE", 10, 1.5, 62, 3, 1000, "x", 0, "EOF"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := NewScanner("f.dxf", bytes.NewReader(data))
		if err != nil {
			if strings.Contains(err.Error(), "\n") {
				t.Errorf("more than one line: %q", err)
			}
			return
		}
		n := 0
		for s.Next() {
			n++
			s.Float()
			s.Int()
			s.Handle()
			if s.Code < 0 || s.Code > maxCode {
				t.Fatalf("code %d", s.Code)
			}
		}
		if n > len(data) || s.Line > len(data)+1 {
			t.Errorf("%d pairs, line %d of %d bytes", n, s.Line, len(data))
		}
		s.Where()
	})
}

// Text comes out as UTF-8 without control characters of its own making.
func FuzzText(f *testing.F) {
	for _, s := range []string{`\A1;12'-3\S1/2;"`, "%%065^I^ ", `\U+D83D\U+DEAA\M+195C7`, `{\fArial|b0;x}\P`, "T\xfcr", `\S`, "%%", "^"} {
		f.Add([]byte(s), "ANSI_932", "AC1015")
		f.Add([]byte(s), "", "AC1027")
	}
	f.Fuzz(func(t *testing.T, b []byte, page, version string) {
		d, _ := NewDecoder(page, version, false)
		s := d.String(b)
		if valid := strings.ToValidUTF8(s, ""); valid != s {
			t.Errorf("%q is not UTF-8", s)
		}
		for _, p := range []string{PlainText(s), PlainMText(s)} {
			if strings.ToValidUTF8(p, "") != p {
				t.Errorf("%q is not UTF-8", p)
			}
		}
	})
}

// What is written as text reads back the same.
func FuzzEscape(f *testing.F) {
	for _, s := range []string{`100%% ^ \U+0041`, "%%%%%%%d", "^I^ ^", `\M+195C7`, `\\U+`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c := checker{}
		if c.text(s); c.err != nil {
			return
		}
		d, _ := NewDecoder("ANSI_1252", Version, false)
		if got := PlainText(d.String([]byte(escape(s)))); got != s {
			t.Errorf("%q written as %q reads as %q", s, escape(s), got)
		}
	})
}
