package dxf

import (
	"fmt"
	"strconv"
	"strings"

	"boardrun/internal/plan"
)

// insert places a block once for each cell of the insert, and its attributes.
func (w *walker) insert(r *rec, attribs span, f *frame) {
	block, x := insertOf(r)
	b := &w.m.block[block]
	expand := w.sound(r, block, &x, f)
	n := cells(&x)
	if !expand {
		n = 1
	}
	cols := max(int(x[inCols]), 1)
	values := w.attribValues(attribs, b.constant)
	w.common(r, f)
	common := w.c // of all cells: they are one entity
	for cell := range int(n) {
		if w.left <= 0 {
			w.overflow(r)
			return
		}
		if cell > 0 {
			w.left--
		}
		w.c = common
		a := insertion(&x, b.base, cell%cols, cell/cols)
		in := w.enter(r, block, f, &a, cell)
		if in == nil {
			continue
		}
		w.inserted(r, block, &x, f, in, cell, values, expand)
		w.sink.Insert(&w.ins)
		if expand {
			w.onPath[block] = true
			w.expand(r, block, &x, f, in)
			w.onPath[block] = false
		}
		if cell == 0 {
			w.attribs(attribs, f, in)
		}
	}
}

// expand places a block in its frame in, by the clip of its insert if it has one.
func (w *walker) expand(r *rec, block uint32, x *[inLen]float64, f, in *frame) {
	b := &w.m.block[block]
	c := w.m.clips[r.handle]
	if c == nil || r.handle == 0 {
		w.span(b.span, in)
		return
	}
	px, py := f.a.plan(x[inX], x[inY], x[inZ])
	at := &[2]float64{px, py}
	if c.outline == nil {
		w.report(plan.Person, CodeClipped, r, at,
			fmt.Sprintf("block %q is clipped here in a way that is not understood: tilted, damaged, or with more than %d corners", w.m.blocks.list[block], MaxClipPoints),
			"read whole, with what the clip hides; bind and trim the reference to settle it")
		w.span(b.span, in)
		return
	}
	// Each corner is looked at for each piece.
	w.left -= w.m.total[block].pieces * int64(len(c.outline)/32)
	// A clip is of the insert, not of each of its cells.
	first := insertion(x, b.base, 0, 0)
	first = f.a.then(&first)
	w.clipped(c.placed(&first, x, b.base), r, block, at, func() { w.span(b.span, in) })
}

// enter makes the frame that one cell of an insert places its block in, a being
// its map; nil if it lies too far. w.c is that of the INSERT.
func (w *walker) enter(r *rec, block uint32, f *frame, a *affine, cell int) *frame {
	in := &w.frames[f.depth+1]
	*in = frame{a: f.a.then(a), layer: r.layer, depth: f.depth + 1, block: w.m.blocks.list[block]}
	if !f.safe && reach(&in.a, 0) > MaxMM {
		w.farOther(r)
		return nil
	}
	in.safe = w.safe(&in.a)
	if in.layer == 0 && f.insert >= 0 {
		in.layer = f.layer
	}
	info := &w.m.layer[in.layer]
	in.colour, in.ltype = w.colour(r.colour, info, f), w.ltype(r.ltype, info, f)
	in.hidden = f.hidden || r.flags&fInvisible != 0 || info.frozen
	in.parent, in.insert = w.inserts, f.insert
	if in.insert < 0 {
		in.insert = w.inserts
	}
	w.inserts++
	in.path = w.c.Handle + "/"
	if cell > 0 {
		in.path = fmt.Sprintf("%s[%d]/", w.c.Handle, cell)
	}
	return in
}

// attribs places the attributes of an insert: they stand in the frame f of the
// insert itself and belong to the block that in places.
func (w *walker) attribs(s span, f, in *frame) {
	g := *f
	g.parent, g.block, g.insert, g.layer = in.parent, in.block, in.insert, in.layer
	attrib := &w.recs[f.depth][1]
	for pos := s.first; pos < s.end; {
		pos = w.m.store.next(pos, attrib)
		w.place(attrib, &g)
	}
}

// sound tells whether an insert can be expanded, and reports why not.
func (w *walker) sound(r *rec, block uint32, x *[inLen]float64, f *frame) bool {
	m := w.m
	b, name := &m.block[block], m.blocks.list[block]
	px, py := f.a.plan(x[inX], x[inY], x[inZ])
	at := &[2]float64{px, py}
	switch total := m.total[block].pieces * cells(x); {
	case r.flags&fCut != 0 || w.onPath[block]:
		return false // reported when it was found
	case (b.xref || b.path != "") && b.first == b.end:
		w.report(plan.Person, CodeXrefMissing, r, at,
			fmt.Sprintf("the external reference %q (%s) is not in this file", name, strings.TrimSpace(b.path)),
			"nothing of it is read and walls may be in it; bind the reference and export again")
	case x[inSX] == 0 || x[inSY] == 0:
		w.report(plan.Person, CodeBadNumber, r, at, fmt.Sprintf("block %q is scaled by 0", name), "left out; correct it where it was drawn")
	case !b.defined:
		w.report(plan.Person, CodeBlockMissing, r, at, fmt.Sprintf("block %q is not defined in this file", name),
			"nothing of it is read; export again with all blocks")
	case total > m.opt.maxPerInsert():
		w.report(plan.Person, CodeTooMany, r, at,
			fmt.Sprintf("block %q holds %s pieces once expanded, the limit for one insert is %d", name, countWord(total), m.opt.maxPerInsert()),
			"this insert is left out; explode or simplify the block")
	case total > w.left:
		w.report(plan.Person, CodeTooMany, r, at,
			fmt.Sprintf("block %q would take the drawing beyond %d pieces with blocks expanded", name, m.opt.maxPlaced()),
			"this insert is left out; take the wanted part of the drawing into a file of its own")
	case f.depth+1+m.depth[block] > MaxDepth:
		w.report(plan.Person, CodeTooDeep, r, at,
			fmt.Sprintf("block %q is nested more than %d deep", name, MaxDepth), "this insert is left out; explode the inner blocks")
	default:
		return true
	}
	return false
}

func countWord(n int64) string {
	if n >= maxCount {
		return "more than 2000000000"
	}
	return strconv.FormatInt(n, 10)
}
