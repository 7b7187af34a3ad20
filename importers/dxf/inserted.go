package dxf

import (
	"cmp"
	"maps"
	"math"
	"strings"

	"boardrun/importers/linework"
	"github.com/paulmach/orb"
)

// inserted describes one cell of the insert r; w.c is that of the INSERT, in is
// the frame its block is placed in.
func (w *walker) inserted(r *rec, block uint32, x *[inLen]float64, f, in *frame, cell int, values map[string]string, expand bool) {
	m := w.m
	out := &w.ins
	*out = linework.Insert{Common: w.c, Name: m.standsFor(block, r.handle), Attribs: values, Parent: f.parent, Array: cell}
	mm := &in.a.m
	k := 1 / w.unit // Local is from millimetres of the block, in.a from its units
	out.Local = [6]float64{mm[0] * k, mm[4] * k, mm[1] * k, mm[5] * k, mm[3], mm[7]}
	base := m.block[block].base
	out.At[0], out.At[1] = in.a.plan(base[0], base[1], base[2])
	// Of the two ways to read a mirrored map, the one with the sign that the
	// drawing wrote for its x factor.
	sign := math.Copysign(1, x[inSX])
	sx, det := math.Hypot(mm[0], mm[4]), mm[0]*mm[5]-mm[1]*mm[4]
	if f.depth == 0 && x[inNX] == 0 && x[inNY] == 0 && x[inNZ] > 0 {
		out.ScaleX, out.ScaleY, out.Angle = x[inSX], x[inSY], x[inAngle]
	} else if sx > 0 {
		out.ScaleX, out.ScaleY = sign*sx*k, sign*det/sx*k
		out.Angle = degrees(sign*mm[4], sign*mm[0])
	}
	var ext box
	if expand && in.safe {
		ext, out.Box = w.placedBox(block, &in.a)
	} else {
		ext.add(out.At[0], out.At[1])
		out.Box = ext.corners()
	}
	out.Extents = orb.Bound{Min: ext.min, Max: ext.max}
}

// attribValues collects the attributes of an insert, those its block holds
// constant included. Of a tag met twice the first value that says something
// counts.
func (w *walker) attribValues(s span, constant map[string]string) map[string]string {
	if s.first == s.end && constant == nil {
		return nil
	}
	out := make(map[string]string, len(constant))
	maps.Copy(out, constant)
	var r rec
	for pos := s.first; pos < s.end; {
		if pos = w.m.store.next(pos, &r); r.kind != kText {
			continue
		}
		at := 4
		if r.flags&fTurned != 0 {
			at = 5
		}
		tag := w.m.tags.list[uint32(r.x[at])]
		if out[tag] == "" {
			out[tag] = w.m.store.string(r.x[0])
		}
	}
	return out
}

// standsFor returns the name a block goes by: of an anonymous one (*U12) that a
// dynamic block left behind, the dynamic block's, where its record or else the
// data of the INSERT tells.
func (m *Model) standsFor(b uint32, insert uint64) string {
	name := m.blocks.list[b]
	info := &m.block[b]
	if len(name) == 0 || name[0] != '*' {
		return name
	}
	for _, record := range []uint64{info.standIn, m.standIn[insert]} {
		if record == 0 {
			continue
		}
		if of, ok := m.blockOf(record); ok {
			if n := m.blocks.list[of]; !strings.HasPrefix(n, "*") {
				return n
			}
			if n := m.block[of].trueName; n != "" {
				return n
			}
		}
	}
	return cmp.Or(info.trueName, name)
}

// blockOf finds a block by the handle of its record.
func (m *Model) blockOf(record uint64) (uint32, bool) {
	if m.byHandle == nil {
		m.byHandle = map[uint64]uint32{}
		for i := range m.block {
			if h := m.block[i].handle; h != 0 {
				m.byHandle[h] = uint32(i)
			}
		}
	}
	b, ok := m.byHandle[record]
	return b, ok
}

// measure adds an entity of modelspace itself to the length of its layer: lines,
// polylines and arcs count, circles and blocks do not.
func (w *walker) measure(r *rec, f *frame) {
	x := r.x
	length := 0.0
	switch r.kind {
	case kLine:
		x0, y0, x1, y1, ext := r.ends()
		dz := 0.0
		if len(ext) > 0 {
			dz = ext[1] - ext[0]
		}
		length = math.Sqrt((x1-x0)*(x1-x0) + (y1-y0)*(y1-y0) + dz*dz)
	case kPoly:
		length = polyLength(r, x)
	case kArc:
		if r.flags&fFull == 0 {
			sweep := math.Mod(x[4]-x[3], 360)
			if sweep <= 0 {
				sweep += 360
			}
			length = x[2] * sweep * math.Pi / 180
		}
	}
	w.layers[r.layer].Length += length * f.a.scale
}

func polyLength(r *rec, x []float64) float64 {
	v := x[1:]
	if r.flags&fExt != 0 {
		v = v[5:]
	}
	stride := 2
	if r.flags&(fBulge|fZ) != 0 {
		stride = 3
	}
	n, sum := len(v)/stride, 0.0
	pieces := n - 1
	if r.flags&fClosed != 0 {
		pieces = n
	}
	for i := range pieces {
		p, q := v[i*stride:], v[(i+1)%n*stride:]
		d := math.Hypot(q[0]-p[0], q[1]-p[1])
		switch {
		case r.flags&fZ != 0:
			d = math.Hypot(d, q[2]-p[2])
		case stride == 3 && math.Abs(p[2]) > minBulge:
			b := math.Abs(p[2])
			d *= (1 + b*b) / (2 * b) * 2 * math.Atan(b) // radius × sweep
		}
		sum += d
	}
	return sum
}
