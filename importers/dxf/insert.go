package dxf

// insertNums is where the numbers of an INSERT stand in its record.
const (
	inX = iota
	inY
	inZ
	inSX
	inSY
	inSZ
	inAngle
	inCols
	inRows
	inDX
	inDY
	inNX
	inNY
	inNZ
	inLen
)

func (p *parser) insert() {
	x := [inLen]float64{inSX: 1, inSY: 1, inSZ: 1, inCols: 1, inRows: 1}
	block := uint32(0)
	for p.next() {
		switch c := p.s.Code; c {
		case 2:
			block = p.m.numberBlock(p.s.Bytes(), p.dec)
		case 10, 20, 30:
			x[inX+c/10-1] = p.coord()
		case 41, 42, 43:
			x[inSX+c-41] = p.coord()
		case 44, 45:
			x[inDX+c-44] = p.coord()
		case 50:
			x[inAngle] = p.coord()
		case 70, 71:
			if v, ok := p.s.Int(); ok && v > 1 {
				x[inCols+c-70] = float64(min(v, 1<<31))
			}
		default:
			p.common(c)
		}
	}
	copy(x[inNX:], p.c.normal[:])
	p.keep(kInsert, 0, block, x[:])
}

// table reads an ACAD_TABLE, whose picture is a block: door and partition
// schedules are often drawn so.
func (p *parser) table() {
	x := [inLen]float64{inSX: 1, inSY: 1, inSZ: 1, inCols: 1, inRows: 1, inNZ: 1}
	block, head := uint32(0), true
	for p.next() {
		switch c := p.s.Code; {
		case c == 100:
			head = head && string(p.s.Bytes()) != "AcDbTable"
		case head && c == 2:
			block = p.m.numberBlock(p.s.Bytes(), p.dec)
		case head && (c == 10 || c == 20 || c == 30):
			x[inX+c/10-1] = p.coord()
		case head || c == 5 || c == 8:
			p.common(c)
		}
	}
	if block == 0 {
		p.keep(kOther, 0, 0, p.reason(reasonNoLinework, x[0], x[1], x[2]))
		return
	}
	p.keep(kInsert, 0, block, x[:])
}

// attdef passes over the definition of an attribute; one that stands in
// modelspace itself is shown nowhere, but counted.
func (p *parser) attdef() {
	var x, y, z float64
	for p.next() {
		switch c := p.s.Code; c {
		case 10:
			x = p.coord()
		case 20:
			y = p.coord()
		case 30:
			z = p.coord()
		case 5, 8, 60, 67:
			p.common(c)
		}
	}
	if !p.inBlock {
		p.keep(kOther, 0, 0, p.reason(reasonAttdef, x, y, z))
	}
}
