package dxf

import (
	"bytes"
	"fmt"
	"strings"

	group "boardrun/internal/dxf"
	"boardrun/internal/plan"
)

// header reads the HEADER section: release, code page, units, extents.
func (p *parser) header() {
	h := &p.m.Header
	var name string
	for p.next() {
		if p.s.Code == 9 {
			name = string(bytes.TrimSpace(p.s.Bytes()))
			continue
		}
		switch name {
		case "$ACADVER":
			p.m.Version = clean(strings.TrimSpace(string(p.s.Bytes())))
		case "$DWGCODEPAGE":
			h.CodePage = clean(strings.TrimSpace(string(p.s.Bytes())))
		case "$INSUNITS":
			h.InsUnits = p.whole(h.InsUnits)
		case "$MEASUREMENT":
			h.Measurement = p.whole(h.Measurement)
		case "$LUNITS":
			h.LUnits = p.whole(h.LUnits)
		case "$EXTMIN":
			p.corner(&h.ExtMin)
		case "$EXTMAX":
			p.corner(&h.ExtMax)
		}
	}
	d, known := group.NewDecoder(h.CodePage, p.m.Version, p.s.Unicode())
	p.dec = d
	if !known {
		p.m.report.add("", plan.Exception{Severity: plan.Warning, Code: CodeCodePage,
			Message: fmt.Sprintf("code page %q is not known", h.CodePage), Did: "letters beyond ASCII are read as windows-1252; save the drawing as release 2007 or later if names look wrong"})
	}
}

func (p *parser) whole(old int) int {
	if v, ok := p.s.Int(); ok && v >= 0 && v < 1000 {
		return int(v)
	}
	return old
}

func (p *parser) corner(c *[2]float64) {
	if i := p.s.Code/10 - 1; p.s.Code%10 == 0 && (i == 0 || i == 1) {
		if x, ok := p.s.Float(); ok && x < MaxCoordinate && x > -MaxCoordinate {
			c[i] = x
		}
	}
}

// tables reads the TABLES section: layers, and of each block record the block
// it was made from.
func (p *parser) tables() {
	p.skip()
	for p.live && !p.is0("ENDSEC") && !p.is0("SECTION") {
		switch {
		case p.is0("LAYER"):
			p.layerRecord()
		case p.is0("BLOCK_RECORD"):
			p.blockRecord()
		default:
			p.skip()
		}
	}
}

func (p *parser) layerRecord() {
	info := layerInfo{colour: 7, ltype: ltContinuous, inTable: true}
	var name []byte
	for p.next() {
		switch p.s.Code {
		case 2:
			name = append([]byte{}, p.s.Bytes()...)
		case 6:
			info.ltype = uint16(p.m.ltypes.number(p.s.Bytes(), p.dec))
		case 62:
			c, _ := p.s.Int()
			if info.off = c < 0; info.off {
				c = -c
			}
			if c < 256 {
				info.colour = int16(c)
			}
		case 70:
			f, _ := p.s.Int()
			info.frozen = f&1 != 0
		}
	}
	if name != nil {
		p.m.layer[p.layerNumber(name)] = info
	}
}

// blockRecord reads the handle of a BLOCK_RECORD and, of the anonymous ones a
// dynamic block leaves behind, which block they stand for.
// Source: observed: extended data AcDbBlockRepBTag holds its handle,
// AcDbDynamicBlockTrueName its name.
func (p *parser) blockRecord() {
	var handle, standIn uint64
	var name []byte
	app, trueName := "", ""
	for p.next() {
		switch p.s.Code {
		case 2:
			name = append([]byte{}, p.s.Bytes()...)
		case 5:
			handle, _ = p.s.Handle()
		case 1001:
			app = string(p.s.Bytes())
		case 1000:
			if app == "AcDbDynamicBlockTrueName" {
				trueName = clean(p.dec.String(p.s.Bytes()))
			}
		case 1005:
			if app == "AcDbBlockRepBTag" {
				standIn, _ = p.s.Handle()
			}
		}
	}
	if _, dim := dimensionNumber(name); len(name) > 0 && !dim {
		b := &p.m.block[p.m.numberBlock(name, p.dec)]
		b.handle, b.standIn, b.trueName = handle, standIn, trueName
	}
}
