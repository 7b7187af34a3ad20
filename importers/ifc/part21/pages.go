package part21

import "golang.org/x/text/encoding/charmap"

// pages are the parts of ISO 8859 that \PA\ to \PI\ choose; A is the default.
var pages = [...]*charmap.Charmap{
	charmap.ISO8859_1, charmap.ISO8859_2, charmap.ISO8859_3, charmap.ISO8859_4, charmap.ISO8859_5,
	charmap.ISO8859_6, charmap.ISO8859_7, charmap.ISO8859_8, charmap.ISO8859_9,
}

// highRune returns the character 128 places above c in a page.
func highRune(page, c byte) rune {
	return pages[page-'A'].DecodeByte(c | 0x80)
}
