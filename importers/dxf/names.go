package dxf

import (
	"bytes"
	"strings"
	"unicode"

	group "boardrun/internal/dxf"
)

// names numbers the names of one kind (layers, blocks, linetypes, types) as they
// are met. Names that differ in case only are one name, spelled as first met.
// Source: DXF Reference, symbol table names are not case-sensitive.
type names struct {
	raw   map[string]uint32 // as in the file
	fold  map[string]uint32 // decoded, in upper case
	list  []string
	limit int
	over  bool // a name was met beyond the limit
	last  []byte
	lastN uint32
}

func newNames(limit int, first ...string) *names {
	n := &names{raw: map[string]uint32{}, fold: map[string]uint32{}, limit: limit}
	for _, s := range first {
		n.number([]byte(s), group.Decoder{})
	}
	return n
}

// number returns the number of a name, a new one if it was never met. Beyond
// the limit every new name is number 0.
func (n *names) number(b []byte, d group.Decoder) uint32 {
	if len(n.list) > 0 && bytes.Equal(b, n.last) {
		return n.lastN
	}
	i, ok := n.raw[string(b)]
	if !ok {
		i = n.add(string(b), d.String(b))
	}
	n.last, n.lastN = append(n.last[:0], b...), i
	return i
}

func (n *names) add(raw, name string) uint32 {
	name = clean(name)
	key := strings.ToUpper(name)
	i, ok := n.fold[key]
	if !ok {
		if len(n.list) >= n.limit {
			n.over = true
			return 0
		}
		i = uint32(len(n.list))
		n.list = append(n.list, name)
		n.fold[key] = i
	}
	n.raw[raw] = i
	return i
}

// clean makes a name fit for one line: control characters, which only a binary
// file or an escape can hold, become U+FFFD.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return unicode.ReplacementChar
		}
		return r
	}, s)
}
