package dxf

import "strings"

// blockText returns the first text of a block and its height: of a dimension's
// picture, what a person reads on paper.
func (m *Model) blockText(b uint32) (string, float64) {
	s := m.block[b].span
	for i := s.first; i < s.end; i++ {
		if r := m.store.rec(i); r.kind == kText {
			x := m.store.data(r)
			return m.store.string(x[0]), x[4]
		}
	}
	return "", 0
}

// dimensionText is what a dimension says: the text typed over it, "<>" standing
// for the measured one, else the text of its picture.
func dimensionText(typed, shown string) string {
	if typed == "" {
		return shown
	}
	if strings.Contains(typed, "<>") && !strings.Contains(shown, strings.TrimSpace(strings.ReplaceAll(typed, "<>", ""))) {
		return strings.TrimSpace(strings.ReplaceAll(typed, "<>", shown))
	}
	if strings.Contains(typed, "<>") {
		return shown
	}
	return strings.TrimSpace(typed)
}
