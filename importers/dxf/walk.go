package dxf

import (
	"fmt"
	"math"
	"strconv"

	"boardrun/importers/linework"
	"boardrun/internal/plan"
)

// Sink receives the pieces of a drawing in file order, blocks expanded in
// place. What a pointer leads to is valid until the method returns; slices,
// maps and strings in it may be kept.
type Sink interface {
	Segment(*linework.Segment)
	Arc(*linework.Arc)
	Fill(*linework.Fill)
	Text(*linework.Text)
	Insert(*linework.Insert)
	Other(*linework.Other)
}

// Walk places every entity of modelspace and hands it to the sink, lengths
// scaled to millimetres by unitMM (1 leaves drawing units).
func (m *Model) Walk(unitMM float64, sink Sink) {
	w := &walker{m: m, sink: sink, left: m.opt.maxPlaced(), onPath: make([]bool, len(m.block))}
	w.layers = make([]linework.Layer, len(m.layers.list))
	w.unit = unitMM
	m.walked = report{file: m.File}
	root := frame{a: scaling(unitMM), insert: -1, parent: -1, colour: 7, ltype: ltContinuous}
	root.safe = w.safe(&root.a)
	for _, s := range m.spaces {
		w.span(s, &root)
	}
	m.placed = w.layers
}

// frame is where a block's entities are placed: modelspace, or one cell of an
// insert.
type frame struct {
	a      affine
	layer  uint32 // layer that entities on layer 0 take
	colour int16
	ltype  uint16
	hidden bool
	insert int // outermost insert
	parent int // innermost insert
	path   string
	block  string
	depth  int
	safe   bool // nothing of the file can lie too far when placed here
}

// walker carries the state of one walk.
type walker struct {
	m       *Model
	sink    Sink
	unit    float64
	left    int64 // pieces that may still be placed
	full    bool  // the limit was met and reported
	now     *rec  // being placed
	drawn   bool  // a piece of it was handed on
	entity  int
	inserts int
	onPath  []bool
	frames  [MaxDepth + 2]frame // by depth
	recs    [MaxDepth + 2][2]rec
	layers  []linework.Layer
	arena   []byte
	boxes   map[uint32]box

	c   linework.Common
	seg linework.Segment
	arc linework.Arc
	txt linework.Text
	ins linework.Insert
}

// span places a run of records.
func (w *walker) span(s span, f *frame) {
	st := &w.m.store
	r, attrib := &w.recs[f.depth][0], &w.recs[f.depth][1]
	for pos := s.first; pos < s.end; {
		pos = st.next(pos, r)
		if w.left <= 0 {
			w.overflow(r)
			return
		}
		if r.kind != kInsert {
			w.place(r, f)
			continue
		}
		attribs := span{pos, pos}
		for attribs.end < s.end {
			next := st.next(attribs.end, attrib)
			if attrib.flags&fAttrib == 0 {
				break
			}
			attribs.end = next
		}
		w.insert(r, attribs, f)
		pos = attribs.end
	}
}

func (w *walker) overflow(r *rec) {
	if w.full {
		return
	}
	w.full = true
	w.report(plan.Person, CodeTooMany, r, nil,
		fmt.Sprintf("the drawing holds more than %d pieces with blocks expanded", w.m.opt.maxPlaced()),
		"what follows is left out; take the wanted part of the drawing into a file of its own")
}

// common fills w.c for a record and tells whether its layer is wanted.
func (w *walker) common(r *rec, f *frame) bool {
	m := w.m
	w.left -= r.weight()
	layer := r.layer
	if layer == 0 && f.insert >= 0 {
		layer = f.layer
	}
	info := &m.layer[layer]
	c := &w.c
	c.Layer = m.layers.list[layer]
	c.Entity = w.entity
	w.entity++
	c.Hidden = (f.hidden || r.flags&fInvisible != 0 || info.off || info.frozen) && !m.opt.IncludeHidden
	l := &w.layers[layer]
	l.Entities++
	if m.opt.Layers != nil && !m.opt.Layers(c.Layer) {
		return false
	}
	c.Type = m.types.list[r.typ]
	c.Block = f.block
	c.Insert = f.insert
	c.Line = int(r.line)
	c.Handle = w.handle(r, f)
	c.Colour = int(w.colour(r.colour, info, f))
	c.Linetype = m.ltypes.list[w.ltype(r.ltype, info, f)]
	return true
}

func (w *walker) colour(c int16, layer *layerInfo, f *frame) int16 {
	switch c {
	case colourByLayer:
		return layer.colour
	case colourByBlock:
		return f.colour
	}
	return c
}

func (w *walker) ltype(t uint16, layer *layerInfo, f *frame) uint16 {
	switch t {
	case ltByLayer:
		return layer.ltype
	case ltByBlock:
		return f.ltype
	}
	return t
}

// handle returns the path of handles, through inserts, that names a placed
// entity: "1F/2A"; "@120" where the file has no handles. Strings are cut from
// shared blocks of bytes.
func (w *walker) handle(r *rec, f *frame) string {
	if cap(w.arena)-len(w.arena) < len(f.path)+24 {
		w.arena = make([]byte, 0, max(4096, len(f.path)+24))
	}
	start := len(w.arena)
	b := append(w.arena, f.path...)
	b = appendRef(b, r)
	w.arena = b
	return bytesString(b[start:len(b):len(b)])
}

func appendRef(b []byte, r *rec) []byte {
	if r.handle == 0 {
		return strconv.AppendUint(append(b, '@'), uint64(r.line), 10)
	}
	const hex = "0123456789ABCDEF"
	shift := 60
	for shift > 0 && r.handle>>shift == 0 {
		shift -= 4
	}
	for ; shift >= 0; shift -= 4 {
		b = append(b, hex[r.handle>>shift&15])
	}
	return b
}

// place hands an entity that is no insert to the sink.
func (w *walker) place(r *rec, f *frame) {
	w.now = r
	if !w.common(r, f) {
		if f.depth == 0 {
			w.measure(r, f)
		}
		return
	}
	if f.depth == 0 {
		w.measure(r, f)
	}
	if w.tooFar(r, f) {
		return
	}
	w.drawn = false
	switch r.kind {
	case kLine:
		w.line(r, f)
	case kPoly:
		w.poly(r, r.x, f)
	case kArc:
		w.arcRec(r, r.x, f)
	case kPaths:
		w.paths(r.x, f)
	case kFill:
		w.fill(r.x, f)
		return
	case kText:
		w.text(r, r.x, f)
		return
	case kDimension:
		w.dimension(r, r.x, f)
		return
	case kOther:
		w.other(r.x, f)
		return
	}
	if !w.drawn {
		w.noLength(r, f)
	}
}

// safe tells whether no number of the file, placed by a, leaves the range of
// lengths. 4 covers the far side of a circle, in x and y.
func (w *walker) safe(a *affine) bool { return reach(a, 4*w.m.maxCoord) < MaxMM }

// reach bounds the coordinates of a point within ±x placed by a.
func reach(a *affine, x float64) float64 {
	r := 0.0
	for k := 0; k < 12; k += 4 {
		m := a.m[k:]
		r = math.Max(r, (math.Abs(m[0])+math.Abs(m[1])+math.Abs(m[2]))*x+math.Abs(m[3]))
	}
	return r
}

// tooFar refuses an entity that scaling takes out of the range of lengths. Only
// a drawing in odd units or with damaged inserts holds one.
func (w *walker) tooFar(r *rec, f *frame) bool {
	if f.safe || r.kind == kOther {
		return false
	}
	x := r.x
	if r.kind == kText || r.kind == kFill || r.kind == kDimension {
		x = x[1:]
	}
	far := 0.0
	for _, v := range x {
		far = max(far, v, -v)
	}
	if reach(&f.a, 4*far) < MaxMM {
		return false
	}
	w.farOther(r)
	return true
}

func (w *walker) farOther(r *rec) {
	w.report(plan.Person, CodeBadCoordinate, r, nil, fmt.Sprintf("it reaches beyond ±%g mm once placed", float64(MaxMM)),
		"left out; check the unit and the inserts above it")
	w.sink.Other(&linework.Other{Common: w.c, Reason: reasons[reasonTooFar]})
}

// report notes an exception of placing.
func (w *walker) report(sev plan.Severity, code string, r *rec, mm *[2]float64, msg, did string) {
	w.m.walked.add("", w.m.exception(sev, code, r, mm, msg, did))
}
