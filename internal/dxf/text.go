package dxf

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// PlainText takes the control codes out of the string of a TEXT, ATTRIB or
// dimension: caret codes, %%d %%c %%p %%%, %%nnn, and the switches %%u %%o %%k.
// Lines are parted by '\n'.
// Source: DXF Reference, "TEXT"; caret codes, "String Group Code Ranges".
func PlainText(s string) string {
	s = caret(s)
	if !strings.Contains(s, "%%") {
		return s
	}
	var b strings.Builder
	for {
		i := strings.Index(s, "%%")
		if i < 0 || i+2 >= len(s) {
			b.WriteString(s)
			return b.String()
		}
		b.WriteString(s[:i])
		s = s[i+2:]
		text, n := percentCode(s)
		b.WriteString(text)
		s = s[n:]
	}
}

// percentCode decodes what follows "%%" and returns its text and how many bytes
// it took.
func percentCode(s string) (string, int) {
	switch s[0] {
	case 'd', 'D':
		return "°", 1
	case 'c', 'C':
		return "Ø", 1
	case 'p', 'P':
		return "±", 1
	case '%':
		return "%", 1
	case 'u', 'U', 'o', 'O', 'k', 'K':
		return "", 1
	}
	if len(s) >= 3 {
		if n, err := strconv.ParseUint(s[:3], 10, 8); err == nil && n >= ' ' {
			return decodeWith(nil, []byte{byte(n)}), 3
		}
	}
	return "%%", 0
}

// caret decodes control characters written as a caret and a letter: ^I is a
// tab, ^J a new line, "^ " the caret itself. Other control characters go.
func caret(s string) string {
	if strings.IndexByte(s, '^') < 0 {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] != '^' || i+1 == len(s) {
			b.WriteByte(s[i])
			continue
		}
		switch c := s[i+1]; {
		case c == ' ':
			b.WriteByte('^')
		case c == 'I':
			b.WriteByte('\t')
		case c == 'J':
			b.WriteByte('\n')
		case c >= '@' && c <= '_':
		default:
			b.WriteByte('^')
			continue
		}
		i++
	}
	return b.String()
}

// PlainMText takes the formatting out of the string of an MTEXT: fonts,
// heights, colours, alignment, stacked fractions ("3\S1/2;" gives "3 1/2"),
// groups. Paragraphs are parted by '\n'.
// Source: DXF Reference, "MTEXT"; format codes as published for the MTEXT
// editor, from memory.
func PlainMText(s string) string {
	s = caret(s)
	if !strings.ContainsAny(s, `\{}%`) {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		switch s[i] {
		case '{', '}':
			i++
		case '%':
			if strings.HasPrefix(s[i:], "%%") && i+2 < len(s) {
				text, n := percentCode(s[i+2:])
				b.WriteString(text)
				i += 2 + n
				continue
			}
			b.WriteByte('%')
			i++
		case '\\':
			i += 1 + mtextCode(&b, s[i+1:])
		default:
			b.WriteByte(s[i])
			i++
		}
	}
	return b.String()
}

// mtextCode handles what follows a backslash and returns how many bytes it took.
func mtextCode(b *strings.Builder, s string) int {
	if s == "" {
		b.WriteByte('\\')
		return 0
	}
	switch s[0] {
	case 'P', 'N', 'X':
		b.WriteByte('\n')
	case '~':
		b.WriteByte(' ')
	case '\\', '{', '}':
		b.WriteByte(s[0])
	case 'L', 'l', 'O', 'o', 'K', 'k':
	case 'S':
		return 1 + stack(b, s[1:])
	case 'A', 'C', 'c', 'F', 'f', 'H', 'Q', 'T', 'W', 'p':
		if end := strings.IndexByte(s, ';'); end >= 0 {
			return end + 1
		}
		return len(s)
	default: // no code: the backslash was meant
		b.WriteByte('\\')
		_, n := utf8.DecodeRuneInString(s)
		b.WriteString(s[:n])
		return n
	}
	return 1
}

// stack writes a stacked fraction or tolerance, parts parted by '/', '#' or '^',
// ended by ';', and returns how many bytes it took.
func stack(b *strings.Builder, s string) int {
	end, body := len(s), s
	var upper, lower strings.Builder
	part, sep := &upper, byte(0)
	for i := 0; i < len(body); i++ {
		c := body[i]
		if c == ';' {
			end = i + 1
			break
		}
		switch {
		case c == '\\' && i+1 < len(body):
			i++
			part.WriteByte(body[i])
		case sep == 0 && (c == '/' || c == '#' || c == '^'):
			sep, part = c, &lower
		default:
			part.WriteByte(c)
		}
	}
	up, low := strings.TrimSpace(upper.String()), strings.TrimSpace(lower.String())
	if t := b.String(); t != "" && t[len(t)-1] >= '0' && t[len(t)-1] <= '9' && up != "" {
		b.WriteByte(' ')
	}
	b.WriteString(up)
	if low != "" {
		if sep == '^' && !(allDigits(up) && allDigits(low)) {
			b.WriteByte(' ')
		} else {
			b.WriteByte('/')
		}
		b.WriteString(low)
	}
	return end
}

func allDigits(s string) bool {
	for _, c := range s {
		if c < '0' || c > '9' {
			return false
		}
	}
	return s != ""
}
