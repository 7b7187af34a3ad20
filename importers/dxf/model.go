package dxf

import (
	"fmt"
	"io"

	"boardrun/importers/linework"
	group "boardrun/internal/dxf"
	"boardrun/internal/plan"
)

// Model is a drawing as read: blocks kept once, drawing units.
type Model struct {
	File    string
	Version string // "AC1024"; "" if the file does not say
	Header  Header

	opt      Options
	store    store
	types    *names
	tags     *names
	ltypes   *names
	layers   *names
	layer    []layerInfo // by number
	blocks   *names
	block    []blockInfo // by number
	spaces   []span      // modelspace: one run for each ENTITIES section
	report   report      // of reading
	walked   report      // of the last Walk
	placed   []linework.Layer
	shown    map[uint64]shownText // by number of a dimension picture
	byHandle map[uint64]uint32
	clips    map[uint64]*clip  // by handle of the INSERT
	standIn  map[uint64]uint64 // handle of the block record an INSERT stands for, where its block does not tell
	maxCoord float64           // largest magnitude of a coordinate read
	total    []tally           // of each block once expanded
	expected tally             // of modelspace
	depth    []int             // how deep each block is nested
}

// Header is what the drawing says about its units.
type Header struct {
	InsUnits    int // $INSUNITS, -1 if absent
	Measurement int // $MEASUREMENT, -1 if absent
	LUnits      int // $LUNITS, -1 if absent
	CodePage    string
	ExtMin      [2]float64 // $EXTMIN, $EXTMAX; equal if absent
	ExtMax      [2]float64
}

type layerInfo struct {
	colour      int16
	off, frozen bool
	inTable     bool
	ltype       uint16
}

type blockInfo struct {
	span
	base     [3]float64
	line     uint32
	handle   uint64            // of its BLOCK_RECORD
	standIn  uint64            // handle of the block record it was made from; 0 if none
	trueName string            // of the dynamic block, where its record tells
	constant map[string]string // attributes that every insert of it has
	defined  bool
	xref     bool
	path     string // of an external reference
}

// Open reads a drawing. The error is one line that names the file and what is
// wrong; damage that leaves something to read is among the exceptions instead.
func Open(name string, r io.Reader, opt Options) (*Model, error) {
	s, err := group.NewScanner(name, r)
	if err != nil {
		return nil, err
	}
	m := &Model{
		File:   name,
		Header: Header{InsUnits: -1, Measurement: -1, LUnits: -1},
		opt:    opt,
		types:  newNames(1000, "?"),
		tags:   newNames(MaxLayers, "?"),
		ltypes: newNames(60_000, "BYLAYER", "BYBLOCK", "Continuous"),
		layers: newNames(MaxLayers, "0"),
		layer:  []layerInfo{{colour: 7, ltype: ltContinuous}},
		blocks: newNames(MaxBlocks, ""),
		block:  make([]blockInfo, 1),
		report: report{file: name},
	}
	p := &parser{m: m, s: s}
	p.file()
	m.findSpace()
	p.objs.join(m)
	if err := p.finish(); err != nil {
		return nil, err
	}
	m.cutCycles()
	return m, nil
}

// findSpace takes the block of modelspace for it where there is nothing in
// ENTITIES: few programs write it so.
func (m *Model) findSpace() {
	if len(m.spaces) > 0 {
		return
	}
	for _, name := range []string{"*MODEL_SPACE", "$MODEL_SPACE"} {
		if b, ok := m.blocks.fold[name]; ok && m.block[b].first < m.block[b].end {
			m.spaces = append(m.spaces, m.block[b].span)
			return
		}
	}
}

// Numbers of the linetypes that mean something.
const (
	ltByLayer = iota
	ltByBlock
	ltContinuous
)

// Read reads a drawing whole. The drawing is in millimetres by the unit of opt,
// else of the header; where neither tells, its UnitMM is 0 and it stays in its
// own units until Rescale.
func Read(name string, r io.Reader, opt Options) (*linework.Drawing, []plan.Exception, error) {
	m, err := Open(name, r, opt)
	if err != nil {
		return nil, nil, err
	}
	d := m.Drawing()
	return d, m.Exceptions(), nil
}

// Exceptions returns what was repaired, passed over or assumed, in the order
// met; of placing, those of the last Walk.
func (m *Model) Exceptions() []plan.Exception { return append(m.report.all(), m.walked.all()...) }

// finish turns what the scanner met into exceptions, and what leaves nothing to
// read into an error.
func (p *parser) finish() error {
	m, s := p.m, p.s
	for _, f := range s.Audit() {
		e := plan.Exception{Severity: plan.Warning, Code: f.Code, Did: f.Did}
		e.Source.Line = f.Line
		where := ""
		if f.Line == 0 {
			where = fmt.Sprintf(" at byte %d", f.Offset)
		}
		times := ""
		if f.Count > 1 {
			times = fmt.Sprintf(", first of %d", f.Count)
		}
		e.Message = fmt.Sprintf("%q%s is no group code a DXF file can hold%s", f.Example, where, times)
		if f.Code == CodeValueCut {
			e.Message = fmt.Sprintf("a value is longer than any DXF file needs%s", times)
		}
		m.report.add("", e)
	}
	if err := s.Err(); err != nil {
		e := plan.Exception{Severity: plan.Person, Code: CodeReadFault, Message: err.Error(), Did: "read as far as it went; copy the file again"}
		m.report.add("", e)
	}
	if s.Truncated() {
		p.truncated()
	}
	for _, n := range []*names{m.layers, m.blocks, m.ltypes, m.types, m.tags} {
		if n.over {
			m.report.add("", plan.Exception{Severity: plan.Person, Code: CodeTooManyNames,
				Message: fmt.Sprintf("more than %d layers, blocks, linetypes or tags are named", n.limit),
				Did:     fmt.Sprintf("those beyond are taken for %q; purge the drawing", n.list[0])})
		}
	}
	if len(m.spaces) == 0 && !p.found {
		return p.nothing()
	}
	if len(m.spaces) == 0 {
		m.report.add("", plan.Exception{Severity: plan.Person, Code: CodeNoEntities,
			Message: "modelspace is empty; only block definitions were found", Did: "nothing to take off; export the plan itself, not a block library"})
	}
	return nil
}

func (p *parser) truncated() {
	place := ""
	if p.s.Binary() {
		place = fmt.Sprintf(" at byte %d", p.s.Offset())
	}
	msg := fmt.Sprintf("the file ends before its end mark (EOF)%s: it was cut short", place)
	did := "what stands before is read; export or copy the file again"
	if p.cutEntity != "" {
		msg += fmt.Sprintf(", in the middle of %s", p.cutEntity)
		did = "that entity is left out, what stands before it is read; export or copy the file again"
	}
	e := plan.Exception{Severity: plan.Person, Code: CodeTruncated, Message: msg, Did: did}
	e.Source.Line = p.lastLine
	p.m.report.add("", e)
}

// nothing says why there is nothing to take off.
func (p *parser) nothing() error {
	where := p.m.File
	switch {
	case p.s.Err() != nil:
		return p.s.Err()
	case p.s.Truncated():
		return fmt.Errorf("%s: the file is cut short (at %s) before any entity; export or copy it again", where, p.s.Where())
	case !p.sawSection:
		return fmt.Errorf("%s: no DXF section was found; export the drawing as DXF", where)
	case !p.sawEntities:
		return fmt.Errorf("%s: the file has no ENTITIES section: there is nothing to take off; export the drawing with its modelspace", where)
	}
	return fmt.Errorf("%s: modelspace is empty: there is nothing to take off; export the drawing with its modelspace", where)
}
