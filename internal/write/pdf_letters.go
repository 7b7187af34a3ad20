package write

import (
	"encoding/binary"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
)

// letters knows which letters the embedded typeface has. What it lacks becomes
// a question mark and is remembered: never an empty box.
type letters struct {
	has     map[rune]bool
	missing map[rune]bool
}

// newLetters reads the character map of a TrueType file: the format 4 subtable,
// which covers the basic plane. A file without one has no letters.
// Source: ISO/IEC 14496-22 (Open Font Format), table cmap.
func newLetters(ttf []byte) *letters {
	l := &letters{has: map[rune]bool{}, missing: map[rune]bool{}}
	if t := table(ttf, "cmap"); len(t) > 4 {
		for i := range int(u16(t, 2)) {
			at := int(u32(t, 4+8*i+4))
			if at+14 < len(t) && u16(t, at) == 4 {
				l.segments(t[at:])
			}
		}
	}
	return l
}

func u16(b []byte, at int) uint16 {
	if at < 0 || at+2 > len(b) {
		return 0
	}
	return binary.BigEndian.Uint16(b[at:])
}

func u32(b []byte, at int) uint32 { return uint32(u16(b, at))<<16 | uint32(u16(b, at+2)) }

func table(ttf []byte, name string) []byte {
	for i := range int(u16(ttf, 4)) {
		at := 12 + 16*i
		if at+16 > len(ttf) || string(ttf[at:at+4]) != name {
			continue
		}
		off, n := int(u32(ttf, at+8)), int(u32(ttf, at+12))
		if off+n <= len(ttf) {
			return ttf[off : off+n]
		}
	}
	return nil
}

// segments notes the letters of a format 4 subtable.
func (l *letters) segments(t []byte) {
	n := int(u16(t, 6)) / 2
	for i := range n {
		end, start := u16(t, 14+2*i), u16(t, 16+2*n+2*i)
		delta, rangeAt := u16(t, 16+4*n+2*i), 16+6*n+2*i
		off := int(u16(t, rangeAt))
		for c := int(start); c <= int(end) && c < 0xffff; c++ {
			glyph := uint16(c) + delta
			if off != 0 {
				if glyph = u16(t, rangeAt+off+2*(c-int(start))); glyph != 0 {
					glyph += delta
				}
			}
			if glyph != 0 {
				l.has[rune(c)] = true
			}
		}
	}
}

// plain replaces what cannot be printed; the order of letters stays.
func (l *letters) plain(s string) string {
	if ascii(s) {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.Cf, r):
			return -1 // joiners, directions
		case l.has[r] && !unicode.IsControl(r):
			return r
		case unicode.Is(unicode.Mn, r):
			return -1 // marks on the letter before
		case unicode.IsSpace(r) || unicode.IsControl(r):
			return ' '
		}
		l.missing[r] = true
		return '?'
	}, s)
}

func ascii(s string) bool {
	for i := range len(s) {
		if s[i] < 0x20 || s[i] > 0x7e {
			return false
		}
	}
	return true
}

// shown is a text as its letters stand on paper from left to right.
func (l *letters) shown(s string) string {
	s = l.plain(s)
	if !strings.ContainsFunc(s, func(r rune) bool { return unicode.In(r, unicode.Hebrew, unicode.Arabic) }) {
		return s
	}
	var p bidi.Paragraph
	if _, err := p.SetString(s); err != nil {
		return s
	}
	o, err := p.Order()
	if err != nil {
		return s
	}
	var b strings.Builder
	for i := range o.NumRuns() {
		r := o.Run(i)
		if r.Direction() == bidi.RightToLeft {
			b.WriteString(bidi.ReverseString(r.String()))
		} else {
			b.WriteString(r.String())
		}
	}
	return b.String()
}

// lost lists the letters replaced so far.
func (l *letters) lost() []rune {
	out := make([]rune, 0, len(l.missing))
	for r := range l.missing {
		out = append(out, r)
	}
	slices.Sort(out)
	return out
}
