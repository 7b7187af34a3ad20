package dxf

// Where the numbers of an INSERT stand in its payload, behind the block's.
const (
	inX = iota
	inY
	inAngle
	inSX
	inSY
	inZ
	inSZ
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
		case 10:
			x[inX] = p.coord()
		case 20:
			x[inY] = p.coord()
		case 30:
			x[inZ] = p.coord()
		case 41, 42:
			x[inSX+c-41] = p.coord()
		case 43:
			x[inSZ] = p.coord()
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
	p.keepInsert(block, &x)
}

// keepInsert stores an insert, short where it is a plain one.
func (p *parser) keepInsert(block uint32, x *[inLen]float64) {
	if _, ok := dimensionNumber(p.m.blocks.list[block]); ok {
		p.keep(kOther, 0, p.reason(reasonAnnotation, x[inX], x[inY], x[inZ]))
		return
	}
	nums := append(p.nums, float64(block), x[inX], x[inY], x[inAngle], x[inSX], x[inSY])
	flags := uint16(0)
	if plain := ([...]float64{0, 1, 1, 1, 0, 0, 0, 0, 1}); [9]float64(x[inZ:]) != plain {
		nums = append(nums, x[inZ:]...)
		flags = fExt
	}
	p.keep(kInsert, flags, nums)
}

// insertOf takes the payload of an INSERT apart.
func insertOf(r *rec) (block uint32, x [inLen]float64) {
	copy(x[:], r.x[1:])
	if r.flags&fExt == 0 {
		x[inSZ], x[inCols], x[inRows], x[inNZ] = 1, 1, 1, 1
	}
	return uint32(r.x[0]), x
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
		case head && c == 10:
			x[inX] = p.coord()
		case head && c == 20:
			x[inY] = p.coord()
		case head && c == 30:
			x[inZ] = p.coord()
		case head || c == 5 || c == 8:
			p.common(c)
		}
	}
	if block == 0 {
		p.keep(kOther, 0, p.reason(reasonNoLinework, x[inX], x[inY], x[inZ]))
		return
	}
	p.keepInsert(block, &x)
}
