package dxf

import (
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
)

// codePages maps $DWGCODEPAGE, in lower case, to an encoding.
// Source: values met in files; the DXF Reference gives none but ANSI_1252.
var codePages = map[string]encoding.Encoding{
	"ansi_874": charmap.Windows874, "ansi_932": japanese.ShiftJIS, "ansi_936": simplifiedchinese.GBK,
	"ansi_949": korean.EUCKR, "ansi_950": traditionalchinese.Big5,
	"ansi_1250": charmap.Windows1250, "ansi_1251": charmap.Windows1251, "ansi_1252": charmap.Windows1252,
	"ansi_1253": charmap.Windows1253, "ansi_1254": charmap.Windows1254, "ansi_1255": charmap.Windows1255,
	"ansi_1256": charmap.Windows1256, "ansi_1257": charmap.Windows1257, "ansi_1258": charmap.Windows1258,
	"dos437": charmap.CodePage437, "dos850": charmap.CodePage850, "dos852": charmap.CodePage852,
	"dos855": charmap.CodePage855, "dos860": charmap.CodePage860, "dos862": charmap.CodePage862,
	"dos863": charmap.CodePage863, "dos865": charmap.CodePage865, "dos866": charmap.CodePage866,
	"dos932": japanese.ShiftJIS, "mac-roman": charmap.Macintosh, "macintosh": charmap.Macintosh,
	"iso8859-1": charmap.ISO8859_1, "iso8859-2": charmap.ISO8859_2, "iso8859-3": charmap.ISO8859_3,
	"iso8859-4": charmap.ISO8859_4, "iso8859-5": charmap.ISO8859_5, "iso8859-6": charmap.ISO8859_6,
	"iso8859-7": charmap.ISO8859_7, "iso8859-8": charmap.ISO8859_8, "iso8859-9": charmap.ISO8859_9,
}

// multibyte maps the digit of \M+nXXXX to an encoding; 4 is Johab, which no
// library at hand decodes.
// Source: from memory; DXF Reference, "Formatting of extended characters".
var multibyte = [...]encoding.Encoding{
	1: japanese.ShiftJIS, 2: traditionalchinese.Big5, 3: korean.EUCKR, 5: simplifiedchinese.GBK,
}

// Decoder turns bytes of a file into text. The zero value takes them for
// windows-1252.
type Decoder struct {
	unicode bool
	page    encoding.Encoding
}

// NewDecoder returns the decoder of a file by its $DWGCODEPAGE and $ACADVER
// ("AC1021" and later are UTF-8) or by a mark at its beginning. known is false
// where the code page is named and not known: windows-1252 is then taken.
func NewDecoder(codePage, version string, unicodeMark bool) (d Decoder, known bool) {
	d.page = charmap.Windows1252
	name := strings.ToLower(strings.TrimSpace(codePage))
	page, known := codePages[name]
	if known {
		d.page = page
	}
	switch name {
	case "", "undefined", "us_ascii", "ascii":
		known = true
	case "utf-8", "utf8", "ansi_65001":
		known, d.unicode = true, true
	}
	if unicodeMark || version >= "AC1021" && strings.HasPrefix(version, "AC") {
		d.unicode = true
	}
	return d, known
}

// String decodes b. Bytes that are not UTF-8 in a file that should be are taken
// by the code page; \U+XXXX and \M+nXXXX are decoded in both.
func (d Decoder) String(b []byte) string {
	ascii, escape := true, false
	for _, c := range b {
		if c >= utf8.RuneSelf {
			ascii = false
		}
		if c == '\\' {
			escape = true
		}
	}
	s := ""
	switch {
	case ascii, d.unicode && utf8.Valid(b):
		s = string(b)
	default:
		s = decodeWith(d.page, b)
	}
	if escape {
		s = unescape(s)
	}
	return s
}

func decodeWith(page encoding.Encoding, b []byte) string {
	if page == nil {
		page = charmap.Windows1252
	}
	out, err := page.NewDecoder().Bytes(b)
	if err != nil {
		return strings.ToValidUTF8(string(b), "\uFFFD")
	}
	return string(out)
}

// unescape decodes \U+XXXX and \M+nXXXX; what only looks like them stays.
func unescape(s string) string {
	if !strings.Contains(s, `\U+`) && !strings.Contains(s, `\M+`) {
		return s
	}
	var b strings.Builder
	for len(s) > 0 {
		i := strings.IndexByte(s, '\\')
		if i < 0 {
			break
		}
		b.WriteString(s[:i])
		s = s[i:]
		text, n := escapedRune(s)
		if n == 0 {
			text, n = s[:1], 1
		}
		b.WriteString(text)
		s = s[n:]
	}
	b.WriteString(s)
	return b.String()
}

// escapedRune reads one escape at the start of s and returns its text and
// length, or 0.
func escapedRune(s string) (string, int) {
	if strings.HasPrefix(s, `\U+`) {
		if r, ok := hex4(s, 3); ok {
			if 0xD800 <= r && r < 0xDC00 && strings.HasPrefix(s[7:], `\U+`) { // surrogate pair
				if lo, ok := hex4(s[7:], 3); ok && 0xDC00 <= lo && lo < 0xE000 {
					return string(rune(0x10000 + (r-0xD800)<<10 + lo - 0xDC00)), 14
				}
			}
			return string(rune(r)), 7
		}
	}
	if strings.HasPrefix(s, `\M+`) && len(s) >= 8 {
		n := int(s[3] - '0')
		r, ok := hex4(s, 4)
		if ok && n > 0 && n < len(multibyte) && multibyte[n] != nil {
			pair := []byte{byte(r >> 8), byte(r)}
			if pair[0] == 0 {
				pair = pair[1:]
			}
			return decodeWith(multibyte[n], pair), 8
		}
	}
	return "", 0
}

func hex4(s string, at int) (int, bool) {
	if len(s) < at+4 {
		return 0, false
	}
	v := 0
	for _, c := range []byte(s[at : at+4]) {
		switch {
		case c-'0' <= 9:
			v = v<<4 | int(c-'0')
		case c|0x20 >= 'a' && c|0x20 <= 'f':
			v = v<<4 | int(c|0x20-'a'+10)
		default:
			return 0, false
		}
	}
	return v, true
}
