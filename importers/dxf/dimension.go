package dxf

import (
	"math"
	"strings"
)

// dimension reads a DIMENSION: what it says and what it measures. Its lines and
// arrows are no linework of the plan.
func (p *parser) dimension() {
	var q [7][3]float64 // groups 10 to 16
	var measured, turn float64
	var typ int64
	picture := 0.0 // block that draws it, or the number of a dimension's own
	hasMeasured := false
	for p.next() {
		switch c := p.s.Code; {
		case c == 1:
			p.str = append(p.str[:0], p.s.Bytes()...)
		case c == 2:
			picture = p.picture()
		case c >= 10 && c < 40 && c%10 < 7:
			q[c%10][c/10-1] = p.coord()
		case c == 42:
			measured, hasMeasured = p.coord(), true
		case c == 50:
			turn = p.coord()
		case c == 70:
			typ, _ = p.s.Int()
		default:
			p.common(c)
		}
	}
	if p.m.types.list[p.c.typ] != "DIMENSION" {
		typ = dimAngular
	}
	if !hasMeasured {
		measured = distance(typ&7, &q, turn)
	}
	if t := typ & 7; t == dimAngular || t == dimAngular3 {
		measured = 0
	}
	at := q[1]
	if at == ([3]float64{}) {
		at = q[0]
	}
	text := p.plain(true)
	nums := append(p.nums, p.m.store.keepString(text), picture, at[0], at[1], math.Abs(measured))
	flags := uint16(0)
	if at[2] != 0 || p.c.normal != flat {
		nums = append(append(nums, at[2]), p.c.normal[:]...)
		flags = fExt
	}
	p.keep(kDimension, flags, nums)
}

// Kinds of dimension, in the low bits of group 70.
// Source: DXF Reference, DIMENSION.
const (
	dimLinear = iota
	dimAligned
	dimAngular
	dimDiameter
	dimRadius
	dimAngular3
	dimOrdinate
)

// distance works out what a dimension measures from its points, where an old
// file does not say.
func distance(typ int64, q *[7][3]float64, turn float64) float64 {
	switch typ {
	case dimLinear:
		sin, cos := math.Sincos(turn * math.Pi / 180)
		return (q[4][0]-q[3][0])*cos + (q[4][1]-q[3][1])*sin
	case dimAligned:
		return math.Hypot(q[4][0]-q[3][0], q[4][1]-q[3][1])
	case dimDiameter, dimRadius:
		return math.Hypot(q[5][0]-q[0][0], q[5][1]-q[0][1])
	}
	return 0
}

// The pictures of dimensions are blocks named *D and a number. Nobody else uses
// them, and a large drawing has tens of thousands: of these blocks only the text
// is kept, by number.

// shownText is the first text of a dimension's picture.
type shownText struct {
	text   float64 // in the store
	height float64
}

// dimensionNumber returns the number of a dimension's picture.
func dimensionNumber[S string | []byte](name S) (uint64, bool) {
	if len(name) < 3 || len(name) > 14 || name[0] != '*' || name[1]|0x20 != 'd' {
		return 0, false
	}
	n := uint64(0)
	for _, c := range []byte(name[2:]) {
		if c-'0' > 9 {
			return 0, false
		}
		n = n*10 + uint64(c-'0')
	}
	return n, true
}

// picture names the block that draws a dimension: by its number, negative and
// less one, if it is one of a dimension's own, else as a block's number.
func (p *parser) picture() float64 {
	if n, ok := dimensionNumber(p.s.Bytes()); ok {
		return -float64(n) - 1
	}
	return float64(p.m.numberBlock(p.s.Bytes(), p.dec))
}

// dimensionPicture reads the rest of the definition of a dimension's picture.
func (p *parser) dimensionPicture(n uint64) {
	kept := false
	for p.live && !p.blockEnds() {
		typ := string(p.s.Bytes())
		if kept || typ != "TEXT" && typ != "MTEXT" {
			p.skip()
			continue
		}
		shown, height := p.shown(typ == "MTEXT")
		if kept = shown != ""; kept {
			if p.m.shown == nil {
				p.m.shown = map[uint64]shownText{}
			}
			p.m.shown[n] = shownText{p.m.store.keepString(shown), height}
		}
	}
}

// shown reads a TEXT or MTEXT for its string and height only.
func (p *parser) shown(mtext bool) (string, float64) {
	height := 0.0
	p.str = p.str[:0]
	for p.next() {
		switch p.s.Code {
		case 1, 3:
			p.str = append(p.str, p.s.Bytes()...)
		case 40:
			height, _ = p.s.Float()
		case 101:
			p.skip()
		}
		if !p.live || p.s.Code == 0 {
			break
		}
	}
	return p.plain(mtext), height
}

// pictureText returns what a person reads on a dimension, and its height.
func (m *Model) pictureText(picture float64) (string, float64) {
	if picture < 0 {
		s := m.shown[uint64(-picture-1)]
		return m.store.string(s.text), s.height
	}
	b := m.block[uint32(picture)].span
	var r rec
	for pos := b.first; pos < b.end; {
		if pos = m.store.next(pos, &r); r.kind == kText {
			return m.store.string(r.x[0]), r.x[3]
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
