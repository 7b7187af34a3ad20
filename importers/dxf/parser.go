package dxf

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	group "boardrun/internal/dxf"
	"boardrun/internal/plan"
)

// parser reads a file into a model. Its methods are named for the parts of the
// format; each begins at the group that opens its part and ends at the first
// group behind it, a group 0.
type parser struct {
	m   *Model
	s   *group.Scanner
	dec group.Decoder

	live        bool // s stands on a pair
	sawSection  bool
	sawEntities bool
	inBlock     bool
	constant    map[string]string // attributes of the block being read that are constant
	skipSpace   bool              // in a paper space block
	afterInsert bool              // the record stored last is an INSERT or its attribute
	found       bool              // an entity was stored in a block
	objs        objects
	lastLine    int
	cutEntity   string // entity that the end of the data cut

	c    common    // of the entity being read
	nums []float64 // scratch
	aux  []float64
	pts  []float64
	str  []byte
	tag  []byte
	poly polyline
}

// file reads section by section.
func (p *parser) file() {
	p.dec, _ = group.NewDecoder("", "", p.s.Unicode())
	p.live = p.s.Next()
	for p.live {
		if !p.is0("SECTION") {
			p.skip()
			continue
		}
		p.live = p.s.Next()
		if !p.live || p.s.Code != 2 {
			continue
		}
		p.sawSection = true
		switch string(bytes.TrimSpace(p.s.Bytes())) {
		case "HEADER":
			p.header()
		case "TABLES":
			p.tables()
		case "BLOCKS":
			p.blocks()
		case "ENTITIES":
			p.sawEntities = true
			p.entities()
		case "OBJECTS":
			p.objects()
		default:
			p.skipSection()
		}
	}
	p.lastLine = p.s.Line
}

// is0 tells whether the current pair is group 0 with this value.
func (p *parser) is0(v string) bool {
	return p.s.Code == 0 && string(bytes.TrimSpace(p.s.Bytes())) == v
}

// next moves to the next pair of the current part; false at its end.
func (p *parser) next() bool {
	p.live = p.s.Next()
	return p.live && p.s.Code != 0
}

// skip passes over the current part.
func (p *parser) skip() {
	for p.next() {
	}
}

func (p *parser) skipSection() {
	for p.live = p.s.Next(); p.live; p.live = p.s.Next() {
		if p.s.Code == 0 && string(p.s.Bytes()) == "ENDSEC" {
			return
		}
		if p.s.Code == 0 && string(p.s.Bytes()) == "SECTION" {
			return
		}
	}
}

// entities reads the ENTITIES section. A file that has more than one adds up.
func (p *parser) entities() {
	first := p.m.store.here()
	p.skip()
	for p.live && !p.is0("ENDSEC") && !p.is0("SECTION") {
		p.entity()
	}
	p.endPolyline()
	if s := (span{first, p.m.store.here()}); s.first < s.end {
		p.m.spaces = append(p.m.spaces, s)
	}
}

// blocks reads the BLOCKS section.
func (p *parser) blocks() {
	p.skip()
	for p.live && !p.is0("ENDSEC") && !p.is0("SECTION") {
		if p.is0("BLOCK") {
			p.blockDefinition()
		} else {
			p.skip()
		}
	}
}

func (p *parser) blockDefinition() {
	b := blockInfo{line: uint32(p.s.Line), defined: true}
	name, path := "", ""
	dim, isDim := uint64(0), false
	for p.next() {
		switch p.s.Code {
		case 2:
			if dim, isDim = dimensionNumber(p.s.Bytes()); !isDim {
				name = p.dec.String(p.s.Bytes())
			}
		case 1:
			path = p.dec.String(p.s.Bytes())
		case 10, 20, 30:
			b.base[p.s.Code/10-1] = p.coord()
		case 70:
			f, _ := p.s.Int()
			b.xref = f&(4|8) != 0
		}
	}
	if isDim {
		p.dimensionPicture(dim)
		p.endBlock()
		return
	}
	b.path = clean(path)
	n := p.m.blockNumber(name)
	p.inBlock = true
	p.skipSpace = isPaperSpace(name)
	first := p.m.store.here()
	for p.live && !p.blockEnds() {
		p.entity()
	}
	p.endPolyline()
	p.inBlock, p.skipSpace = false, false
	b.span = span{first, p.m.store.here()}
	p.found = p.found || b.first < b.end
	old := &p.m.block[n]
	if old.defined {
		e := plan.Exception{Severity: plan.Warning, Code: CodeBlockRedefined,
			Message: fmt.Sprintf("block %q is defined twice (first on line %d)", name, old.line), Did: "the later one counts"}
		e.Source.Line = int(b.line)
		p.m.report.add("", e)
	}
	b.handle, b.standIn, b.trueName = old.handle, old.standIn, old.trueName
	b.constant, p.constant = p.constant, nil
	*old = b
	p.endBlock()
}

// blockEnds tells whether the current pair ends a block definition; one without
// its ENDBLK is ended by what follows.
func (p *parser) blockEnds() bool {
	switch string(bytes.TrimSpace(p.s.Bytes())) {
	case "ENDBLK", "ENDSEC", "SECTION", "BLOCK":
		return true
	}
	return false
}

func (p *parser) endBlock() {
	if p.live && p.is0("ENDBLK") {
		p.skip()
	}
}

// isPaperSpace tells the block of a sheet: *Paper_Space, *Paper_Space0, or
// $PAPER_SPACE of R12.
func isPaperSpace(name string) bool {
	const prefix = "PAPER_SPACE"
	return len(name) > len(prefix) && (name[0] == '*' || name[0] == '$') && strings.EqualFold(name[1:1+len(prefix)], prefix)
}

func (m *Model) blockNumber(name string) uint32 { return m.numberBlock([]byte(name), group.Decoder{}) }

func (m *Model) numberBlock(b []byte, d group.Decoder) uint32 {
	n := m.blocks.number(b, d)
	for int(n) >= len(m.block) {
		m.block = append(m.block, blockInfo{})
	}
	return n
}

func (p *parser) layerNumber(b []byte) uint32 {
	n := p.m.layers.number(b, p.dec)
	for int(n) >= len(p.m.layer) {
		p.m.layer = append(p.m.layer, layerInfo{colour: 7, ltype: ltContinuous})
	}
	return n
}

// coord reads a coordinate or a length. What is no number, or too large, makes
// the entity unusable.
func (p *parser) coord() float64 {
	x, ok := p.s.Float()
	if !ok {
		p.unusable(CodeBadNumber, "is no number")
		return 0
	}
	if !(x < MaxCoordinate && x > -MaxCoordinate) {
		p.unusable(CodeBadCoordinate, fmt.Sprintf("is beyond ±%g", float64(MaxCoordinate)))
		return 0
	}
	p.m.maxCoord = max(p.m.maxCoord, x, -x)
	return x
}

// tooLong marks the entity being read for having more vertices than are read.
func (p *parser) tooLong() {
	if p.c.fault == "" {
		p.c.faultCode, p.c.fault = CodeTooMany, fmt.Sprintf("it has more than %d vertices", MaxVertices)
	}
}

// unusable marks the entity being read; the first fault is kept.
func (p *parser) unusable(code, fault string) {
	if p.c.fault != "" {
		return
	}
	v := string(p.s.Bytes())
	if len(v) > 24 {
		v = v[:24] + "…"
	}
	if p.s.Bytes() == nil {
		x, _ := p.s.Float()
		v = strconv.FormatFloat(x, 'g', -1, 64)
	}
	p.c.faultCode = code
	p.c.fault = fmt.Sprintf("group %d: %q %s", p.s.Code, v, fault)
}
