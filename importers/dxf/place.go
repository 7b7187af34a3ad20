package dxf

import (
	"math"

	"boardrun/importers/linework"
	"github.com/paulmach/orb"
)

// segment hands w.seg to the sink, unless it has no length in plan.
func (w *walker) segment() {
	if w.seg.A != w.seg.B {
		w.drawn = true
		w.sink.Segment(&w.seg)
	}
}

func (w *walker) line(r *rec, f *frame) {
	s := &w.seg
	*s = linework.Segment{Common: w.c}
	x0, y0, x1, y1, ext := r.ends()
	var z0, z1 float64
	if len(ext) > 0 {
		z0, z1 = ext[0], ext[1]
		s.Thickness = ext[2] * f.a.scale
	}
	s.A[0], s.A[1], s.ZA = f.a.point(x0, y0, z0)
	s.B[0], s.B[1], s.ZB = f.a.point(x1, y1, z1)
	w.segment()
}

// noLength hands on an entity of which nothing shows in plan.
func (w *walker) noLength(r *rec, f *frame) {
	x := r.x
	switch r.kind {
	case kPoly:
		if x = x[1:]; r.flags&fExt != 0 {
			x = x[5:]
		}
	case kPaths:
		x = x[2:]
	}
	px, py := f.a.plan(x[0], x[1], 0)
	w.sink.Other(&linework.Other{Common: w.c, At: orb.Point{px, py}, Reason: reasons[reasonNoLength]})
}

// plane returns the map of an entity's own plane, by the numbers that ext
// appended, with its elevation and thickness.
func plane(f *frame, e []float64) (a affine, z, thickness float64) {
	a = f.a
	if e[2] != 0 || e[3] != 0 || e[4] <= 0 {
		o := ocs(e[2], e[3], e[4])
		a = f.a.then(&o)
	}
	return a, e[0], e[1] * f.a.scale
}

func (w *walker) poly(r *rec, x []float64, f *frame) {
	a, z, thickness := f.a, 0.0, 0.0
	width := x[0] * f.a.scale
	v := x[1:]
	if r.flags&fExt != 0 {
		a, z, thickness = plane(f, v)
		v = v[5:]
	}
	stride := 2
	if r.flags&(fBulge|fZ) != 0 {
		stride = 3
	}
	n := len(v) / stride
	pieces := n - 1
	if r.flags&fClosed != 0 {
		pieces = n
	}
	for i := range pieces {
		p, q := v[i*stride:], v[(i+1)%n*stride:]
		za, zb, bulge := z, z, 0.0
		if r.flags&fZ != 0 {
			za, zb = p[2], q[2]
		} else if stride == 3 {
			bulge = p[2]
		}
		if p[0] == q[0] && p[1] == q[1] {
			continue
		}
		if math.Abs(bulge) > minBulge {
			b := arcOfBulge(p[0], p[1], q[0], q[1], bulge)
			w.arcPiece(&a, b, z, i, width, thickness, r.flags&fClosed != 0)
			continue
		}
		s := &w.seg
		*s = linework.Segment{Common: w.c, Width: width, Thickness: thickness, Index: i, Closed: r.flags&fClosed != 0}
		s.A[0], s.A[1], s.ZA = a.point(p[0], p[1], za)
		s.B[0], s.B[1], s.ZB = a.point(q[0], q[1], zb)
		w.segment()
	}
}

// minBulge is the least bulge taken for an arc: below it the arc lies within
// 5e-10 of its chord's length from the chord.
const minBulge = 1e-9

func (w *walker) arcRec(r *rec, x []float64, f *frame) {
	a, z, thickness := f.a, 0.0, 0.0
	if r.flags&fExt != 0 {
		a, z, thickness = plane(f, x[5:])
	}
	sweep := math.Mod(x[4]-x[3], 360)
	if sweep <= 0 {
		sweep += 360
	}
	b := bulgeArc{x[0], x[1], x[2], x[3], sweep}
	if r.flags&fFull != 0 {
		b.start, b.sweep = 0, 360
	}
	w.arcPiece(&a, b, z, 0, 0, thickness, r.flags&fFull != 0)
}

// arcPiece places a circular piece: as an arc where circles stay circles, else
// flattened.
func (w *walker) arcPiece(a *affine, b bulgeArc, z float64, index int, width, thickness float64, closed bool) {
	if !a.similar {
		w.flattened(a, b, z, index, width, thickness, closed)
		return
	}
	s := &w.arc
	w.drawn = true
	*s = linework.Arc{Common: w.c, Radius: b.r * a.scale, Index: index, Width: width, Thickness: thickness}
	s.Centre[0], s.Centre[1] = a.plan(b.x, b.y, z)
	start, sweep := b.start, b.sweep
	if a.mirrored {
		start, sweep = -start, -sweep
	}
	start += a.turn
	if sweep < 0 {
		start, sweep = start+sweep, -sweep
	}
	if s.Full = sweep >= 360; s.Full {
		s.Start, s.End = 0, 360
		w.sink.Arc(s)
		return
	}
	start = math.Mod(start, 360)
	if start < 0 {
		start += 360
	}
	s.Start, s.End = start, start+sweep
	w.sink.Arc(s)
}

// flattened places a circular piece that becomes elliptic as chords.
func (w *walker) flattened(a *affine, b bulgeArc, z float64, index int, width, thickness float64, closed bool) {
	n := max(int(math.Ceil(math.Abs(b.sweep)/flattenStep)), 1)
	if w.left -= int64(n); w.left <= 0 {
		w.overflow(w.now)
		return
	}
	s := &w.seg
	for i := 0; i <= n; i++ {
		sin, cos := sinCos(b.start + b.sweep*float64(i)/float64(n))
		x, y, h := a.point(b.x+b.r*cos, b.y+b.r*sin, z)
		p, zp := s.B, s.ZB
		*s = linework.Segment{Common: w.c, A: p, ZA: zp, Width: width, Thickness: thickness, Index: index, Closed: closed}
		s.B, s.ZB = orb.Point{x, y}, h
		if i > 0 {
			w.segment()
		}
	}
}

func (w *walker) paths(x []float64, f *frame) {
	index := 0
	for len(x) > 0 {
		n, closed := int(x[0]), x[1] != 0
		pts := x[2 : 2+3*n]
		x = x[2+3*n:]
		last := n - 1
		if closed {
			last = n
		}
		for i := range last {
			p, q := pts[3*i:], pts[(i+1)%n*3:]
			s := &w.seg
			*s = linework.Segment{Common: w.c, Index: index, Closed: closed}
			s.A[0], s.A[1], s.ZA = f.a.point(p[0], p[1], p[2])
			s.B[0], s.B[1], s.ZB = f.a.point(q[0], q[1], q[2])
			w.segment()
			index++
		}
	}
}

func (w *walker) fill(x []float64, f *frame) {
	out := linework.Fill{Common: w.c, Pattern: w.m.store.string(x[0])}
	for x = x[1:]; len(x) > 0; {
		n := int(x[0])
		ring := make(orb.Ring, n, n+1)
		for i := range ring {
			ring[i][0], ring[i][1] = f.a.plan(x[1+3*i], x[2+3*i], x[3+3*i])
		}
		out.Rings = append(out.Rings, append(ring, ring[0]))
		x = x[1+3*n:]
	}
	w.sink.Fill(&out)
}

func (w *walker) text(r *rec, x []float64, f *frame) {
	a, z, angle := f.a, 0.0, 0.0
	rest := x[4:]
	if r.flags&fTurned != 0 {
		angle, rest = rest[0], rest[1:]
	}
	if r.flags&fAttrib != 0 {
		rest = rest[1:]
	}
	if r.flags&fExt != 0 {
		z = rest[0]
		o := ocs(rest[1], rest[2], rest[3])
		a = f.a.then(&o)
	}
	t := &w.txt
	*t = linework.Text{Common: w.c, Value: w.m.store.string(x[0])}
	t.At[0], t.At[1] = a.plan(x[1], x[2], z)
	sin, cos := sinCos(angle)
	m := &a.m
	t.Angle = degrees(m[4]*cos+m[5]*sin, m[0]*cos+m[1]*sin)
	t.Height = x[3] * math.Hypot(-m[0]*sin+m[1]*cos, -m[4]*sin+m[5]*cos)
	w.sink.Text(t)
}

func (w *walker) dimension(r *rec, x []float64, f *frame) {
	a, z := f.a, 0.0
	if r.flags&fExt != 0 {
		z = x[5]
		o := ocs(x[6], x[7], x[8])
		a = f.a.then(&o)
	}
	t := &w.txt
	*t = linework.Text{Common: w.c, Measured: x[4] * f.a.scale}
	t.At[0], t.At[1] = a.plan(x[2], x[3], z)
	shown, height := w.m.pictureText(x[1])
	t.Value, t.Height = dimensionText(w.m.store.string(x[0]), shown), height*f.a.scale
	w.sink.Text(t)
}

func (w *walker) other(x []float64, f *frame) {
	o := linework.Other{Common: w.c, Reason: reasons[int(x[0])]}
	o.At[0], o.At[1] = f.a.plan(x[1], x[2], x[3])
	for v := x[4:]; len(v) >= 3; v = v[3:] {
		a, b, c := f.a.point(v[0], v[1], v[2])
		o.Points = append(o.Points, [3]float64{a, b, c})
	}
	w.sink.Other(&o)
}
