package dxf

import (
	"fmt"
	"math"
	"slices"

	"boardrun/internal/plan"
)

// cutCycles marks the inserts that would make a block contain itself, found in
// file order from modelspace, so that blocks form a tree to walk; and counts
// what each block holds once expanded.
func (m *Model) cutCycles() {
	c := counter{m: m, state: make([]uint8, len(m.block)), total: make([]tally, len(m.block)), depth: make([]int, len(m.block))}
	for _, s := range m.spaces {
		t, _ := c.span(s)
		m.expected.add(t, 1)
	}
	for i := range m.block {
		c.visit(uint32(i))
	}
	m.total, m.depth = c.total, c.depth
}

// counter is a depth-first search over blocks.
type counter struct {
	m     *Model
	state []uint8 // 0 new, 1 on the path, 2 done
	total []tally
	depth []int
	path  []uint32
}

const maxCount = math.MaxInt32

// tally counts what a run of records gives once expanded, saturating: pieces in
// all, and at most so many of each list.
type tally struct{ pieces, segments, arcs, texts, inserts, fills, others int64 }

func (t *tally) add(o tally, times int64) {
	for _, p := range []struct {
		sum *int64
		n   int64
	}{{&t.pieces, o.pieces}, {&t.segments, o.segments}, {&t.arcs, o.arcs}, {&t.texts, o.texts},
		{&t.inserts, o.inserts}, {&t.fills, o.fills}, {&t.others, o.others}} {
		*p.sum = min(*p.sum+p.n*times, maxCount)
	}
}

// weight is how many pieces an entity counts for: a long polyline in a block
// placed a thousand times is as large as so many lines.
func (r *rec) weight() int64 {
	switch r.kind {
	case kPoly, kPaths, kFill:
		return max(1, int64(len(r.x)/3))
	}
	return 1
}

// count adds a record that is no insert.
func (t *tally) count(r *rec) {
	t.pieces += r.weight()
	switch r.kind {
	case kLine:
		t.segments++
	case kPoly, kPaths:
		t.segments += int64(len(r.x) / 2)
		if r.flags&fBulge != 0 {
			t.arcs += int64(len(r.x) / 3)
		}
	case kArc:
		t.arcs++
	case kText, kDimension:
		t.texts++
	case kFill:
		t.fills++
	case kOther:
		t.others++
	}
}

// span counts the entities of a span with its inserts expanded, saturating, and
// how deep inserts are nested in it.
func (c *counter) span(s span) (total tally, depth int) {
	st := &c.m.store
	var r rec
	for pos := s.first; pos < s.end; {
		this := pos
		pos = st.next(pos, &r)
		if r.kind != kInsert {
			total.count(&r)
			continue
		}
		total.pieces++
		b, x := insertOf(&r)
		if c.state[b] == 1 {
			st.mark(this, fCut)
			c.cut(&r, b)
			continue
		}
		n, d := c.visit(b)
		total.inserts += cells(&x)
		total.add(n, cells(&x))
		depth = max(depth, d+1)
	}
	return total, depth
}

// visit counts a block. Its recursion is as deep as the chain of blocks; a chain
// beyond what may be expanded anyway is cut short as too large.
func (c *counter) visit(b uint32) (tally, int) {
	if c.state[b] == 0 {
		if len(c.path) > 10*MaxDepth {
			return tally{pieces: 1}, 10 * MaxDepth
		}
		c.state[b] = 1
		c.path = append(c.path, b)
		c.total[b], c.depth[b] = c.span(c.m.block[b].span)
		c.path = c.path[:len(c.path)-1]
		c.state[b] = 2
	}
	return c.total[b], c.depth[b]
}

// cells is how many times an INSERT places its block.
func cells(x *[inLen]float64) int64 { return int64(min(x[inCols]*x[inRows], maxCount)) }

// cut reports an insert of a block in itself.
func (c *counter) cut(r *rec, block uint32) {
	const shown = 6 // names of a long cycle
	m := c.m
	if m.report.full(CodeBlockCycle) {
		m.report.add("", plan.Exception{Code: CodeBlockCycle})
		return
	}
	cycle := c.path[slices.Index(c.path, block):]
	names := ""
	for i, b := range cycle {
		if i == shown {
			names += "… in "
			break
		}
		names += fmt.Sprintf("%q in ", m.blocks.list[b])
	}
	m.report.add("", m.exception(plan.Person, CodeBlockCycle, r, nil,
		fmt.Sprintf("block %q contains itself (%s%q)", m.blocks.list[block], names, m.blocks.list[block]),
		"this insert is left out, the rest is read"))
}

// exception makes one about a record; mm is its place in mm, nil if not known.
func (m *Model) exception(sev plan.Severity, code string, r *rec, mm *[2]float64, msg, did string) plan.Exception {
	e := plan.Exception{Severity: sev, Code: code, Message: msg, Did: did,
		Source: plan.Source{Line: int(r.line), Ref: ref(r.handle, r.line), Entity: m.types.list[r.typ], Layer: m.layers.list[r.layer]}}
	if mm != nil {
		e.At = at(mm[0], mm[1])
	}
	return e
}
