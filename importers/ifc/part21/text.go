package part21

import (
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// decodeText turns the inside of a string literal into UTF-8: doubled
// apostrophes and backslashes, \S\ and \P?\ (ISO 8859 pages), \X\ (one byte of
// ISO 8859-1), \X2\ (UTF-16) and \X4\ (UTF-32). Bytes above 127 are taken as UTF-8 where
// they form it and as Latin-1 where they do not. A broken escape stays as
// written. Source: ISO 10303-21:2016, 6.4.3.
func decodeText(b []byte) string {
	if plain(b) {
		return string(b)
	}
	var out strings.Builder
	out.Grow(len(b))
	page := byte('A')
	for i := 0; i < len(b); {
		c := b[i]
		switch {
		case c == '\'' && i+1 < len(b) && b[i+1] == '\'':
			out.WriteByte('\'')
			i += 2
		case c == '\\':
			i += escape(&out, b[i:], &page)
		case c < utf8.RuneSelf:
			out.WriteByte(c)
			i++
		default:
			r, n := utf8.DecodeRune(b[i:])
			if r == utf8.RuneError && n <= 1 {
				r, n = rune(c), 1
			}
			out.WriteRune(r)
			i += n
		}
	}
	return out.String()
}

func plain(b []byte) bool {
	for _, c := range b {
		if c == '\'' || c == '\\' || c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// escape writes what the control directive at the start of b stands for and
// returns its length.
func escape(out *strings.Builder, b []byte, page *byte) int {
	switch {
	case len(b) >= 2 && b[1] == '\\':
		out.WriteByte('\\')
		return 2
	case len(b) >= 4 && b[1] == 'S' && b[2] == '\\':
		out.WriteRune(highRune(*page, b[3]))
		return 4
	case len(b) >= 4 && b[1] == 'P' && b[3] == '\\' && b[2] >= 'A' && b[2] <= 'I':
		*page = b[2]
		return 4
	case len(b) >= 5 && b[1] == 'X' && b[2] == '\\':
		if v, ok := hex(b[3:5]); ok {
			out.WriteRune(rune(v))
			return 5
		}
	case len(b) >= 4 && b[1] == 'X' && b[3] == '\\' && (b[2] == '2' || b[2] == '4'):
		if n := wide(out, b, int(b[2]-'0')*2); n > 0 {
			return n
		}
	}
	out.WriteByte('\\')
	return 1
}

// wide reads \X2\…\X0\ (size 4 digits a unit) or \X4\…\X0\ (8 digits); 0 if it
// is broken.
func wide(out *strings.Builder, b []byte, size int) int {
	var units []uint16
	var runes []rune
	i := 4
	for i+size <= len(b) && b[i] != '\\' {
		v, ok := hex(b[i : i+size])
		if !ok {
			return 0
		}
		if size == 4 {
			units = append(units, uint16(v))
		} else {
			runes = append(runes, rune(v&0x7fffffff))
		}
		i += size
	}
	if len(b) < i+4 || string(b[i:i+4]) != `\X0\` {
		return 0
	}
	for _, r := range append(utf16.Decode(units), runes...) {
		out.WriteRune(r)
	}
	return i + 4
}

func hex(b []byte) (uint32, bool) {
	var v uint32
	for _, c := range b {
		switch {
		case c >= '0' && c <= '9':
			c -= '0'
		case c >= 'A' && c <= 'F':
			c -= 'A' - 10
		case c >= 'a' && c <= 'f':
			c -= 'a' - 10
		default:
			return 0, false
		}
		v = v<<4 | uint32(c)
	}
	return v, true
}
