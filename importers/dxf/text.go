package dxf

import (
	"math"
	"strings"
	"unicode/utf8"

	group "boardrun/internal/dxf"
)

// Flags of an ATTRIB and an ATTDEF, group 70.
// Source: DXF Reference, ATTDEF.
const (
	attribInvisible = 1
	attribConstant  = 2
)

// text reads a TEXT, an ATTRIB or an ATTDEF. Its place is the alignment point
// where it is aligned, else its lower left.
func (p *parser) text(typ string) {
	var x, y [3]float64 // groups 10 and 11
	var height, angle float64
	var align, valign, attribFlags int64
	p.tag = p.tag[:0]
	attrib, embedded := typ != "TEXT", false
	for p.next() {
		c := p.s.Code
		if embedded { // a copy as MTEXT follows in releases 2018 and later
			continue
		}
		switch c {
		case 1:
			p.str = append(p.str[:0], p.s.Bytes()...)
		case 2:
			if attrib {
				p.tag = append(p.tag[:0], p.s.Bytes()...)
			}
		case 10, 20, 30:
			x[c/10-1] = p.coord()
		case 11, 21, 31:
			y[c/10-1] = p.coord()
		case 40:
			height = p.coord()
		case 50:
			angle = p.coord()
		case 70:
			attribFlags, _ = p.s.Int()
		case 72:
			align, _ = p.s.Int()
		case 73, 74:
			if v, _ := p.s.Int(); c == 73 != attrib {
				valign = v
			}
		case 101:
			embedded = true
		default:
			p.common(c)
		}
	}
	if align != 0 && align != 3 && align != 5 || valign != 0 { // 3, 5: fitted between both
		x = y
	}
	value := p.plain(false)
	flags := uint16(0)
	if attrib && attribFlags&attribInvisible != 0 {
		flags |= fInvisible
	}
	if typ == "ATTDEF" {
		p.attdef(flags, attribFlags, value, x, height, angle)
		return
	}
	number := uint32(0)
	if attrib && p.afterInsert { // it belongs to the INSERT stored last
		flags |= fAttrib
		number = p.m.tags.number(p.tag, p.dec)
	}
	p.keepText(flags, number, value, x, height, angle)
}

// plain decodes the string gathered in p.str. It is valid until the next entity
// is read: most strings hold no codes, and these are not copied twice.
func (p *parser) plain(mtext bool) string {
	codes := false
	for _, c := range p.str {
		if c >= utf8.RuneSelf || c == '\\' || c == '%' || c == '^' || c == '{' || c == '}' {
			codes = true
			break
		}
	}
	switch {
	case !codes:
		return bytesString(p.str)
	case mtext:
		return group.PlainMText(p.dec.String(p.str))
	}
	return group.PlainText(p.dec.String(p.str))
}

// attdef keeps the definition of an attribute: in a block only of a constant
// one, which every insert shows and no ATTRIB repeats; one that stands in
// modelspace itself shows nowhere, but is counted.
func (p *parser) attdef(flags uint16, attribFlags int64, value string, x [3]float64, height, angle float64) {
	switch {
	case !p.inBlock:
		p.keep(kOther, 0, p.reason(reasonAttdef, x[:]...))
	case attribFlags&attribConstant != 0:
		if p.constant == nil {
			p.constant = map[string]string{}
		}
		p.constant[clean(p.dec.String(p.tag))] = strings.Clone(value)
		p.keepText(flags, 0, value, x, height, angle)
	}
}

func (p *parser) keepText(flags uint16, tag uint32, value string, x [3]float64, height, angle float64) {
	nums := append(p.nums, p.m.store.keepString(value), x[0], x[1], height)
	if angle != 0 {
		nums = append(nums, angle)
		flags |= fTurned
	}
	if flags&fAttrib != 0 {
		nums = append(nums, float64(tag))
	}
	if x[2] != 0 || p.c.normal != flat {
		nums = append(append(nums, x[2]), p.c.normal[:]...)
		flags |= fExt
	}
	p.keep(kText, flags, nums)
}

// mtext reads an MTEXT: its string comes in pieces, its place and direction are
// in world coordinates.
func (p *parser) mtext() {
	var x, dir [3]float64
	var height, angle float64
	for p.next() {
		c := p.s.Code
		switch c {
		case 1, 3:
			p.str = append(p.str, p.s.Bytes()...)
		case 10, 20, 30:
			x[c/10-1] = p.coord()
		case 11, 21, 31:
			dir[c/10-1] = p.coord()
			angle = math.Atan2(dir[1], dir[0]) * 180 / math.Pi
		case 40:
			height = p.coord()
		case 50:
			angle = p.coord()
		case 101: // columns, in releases 2018 and later
			p.skip()
		default:
			p.common(c)
		}
		if !p.live || p.s.Code == 0 {
			break
		}
	}
	p.c.normal = flat
	p.keepText(0, 0, p.plain(true), x, height, angle)
}
