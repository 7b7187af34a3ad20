package dxf

import (
	"bytes"
	"strings"

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
	key := strings.ToUpper(name)
	i, ok := n.fold[key]
	if !ok {
		if len(n.list) >= n.limit {
			return 0
		}
		i = uint32(len(n.list))
		n.list = append(n.list, name)
		n.fold[key] = i
	}
	n.raw[raw] = i
	return i
}

// find returns the number of a decoded name.
func (n *names) find(name string) (uint32, bool) {
	i, ok := n.fold[strings.ToUpper(name)]
	return i, ok
}
