package dxf

import (
	"boardrun/importers/linework"
)

// Drawing places the whole drawing, in millimetres by the unit of the options,
// else of the header; with neither in drawing units, UnitMM 0.
func (m *Model) Drawing() *linework.Drawing {
	unit := m.opt.UnitMM
	if unit <= 0 {
		unit = UnitOf(m.Header.InsUnits).MM
	}
	d := &linework.Drawing{File: m.File, Version: m.Version, UnitMM: unit, UnitHeader: UnitOf(m.Header.InsUnits).Name,
		InsUnits: m.Header.InsUnits, Measurement: m.Header.Measurement, LUnits: m.Header.LUnits}
	c := collector{d}
	if unit <= 0 {
		unit, d.UnitMM = 1, 0
	}
	c.reserve(m)
	m.Walk(unit, c)
	d.Layers = m.Layers()
	return d
}

// Layers returns the layers with what the last Walk placed on them, in the
// order of the file's table, then those the table lacks.
func (m *Model) Layers() []linework.Layer {
	out := make([]linework.Layer, len(m.layers.list))
	copy(out, m.placed)
	for i := range out {
		info := m.layer[i]
		out[i].Name, out[i].Colour = m.layers.list[i], int(info.colour)
		out[i].Off, out[i].Frozen = info.off, info.frozen
	}
	return out
}

// collector is the sink that keeps everything.
type collector struct{ d *linework.Drawing }

// reserve makes room for what is expected, so that a large drawing is not
// copied as it grows. What the limits will leave out, or the options' choice of
// layers, is not counted on.
func (c collector) reserve(m *Model) {
	t := m.expected
	if m.opt.Layers != nil || t.pieces > m.opt.maxPlaced() {
		return
	}
	c.d.Segments = make([]linework.Segment, 0, t.segments)
	c.d.Arcs = make([]linework.Arc, 0, t.arcs)
	c.d.Texts = make([]linework.Text, 0, t.texts)
	c.d.Inserts = make([]linework.Insert, 0, t.inserts)
	c.d.Fills = make([]linework.Fill, 0, t.fills)
	c.d.Others = make([]linework.Other, 0, t.others)
}

func (c collector) Segment(s *linework.Segment) { c.d.Segments = append(c.d.Segments, *s) }
func (c collector) Arc(a *linework.Arc)         { c.d.Arcs = append(c.d.Arcs, *a) }
func (c collector) Fill(f *linework.Fill)       { c.d.Fills = append(c.d.Fills, *f) }
func (c collector) Text(t *linework.Text)       { c.d.Texts = append(c.d.Texts, *t) }
func (c collector) Insert(i *linework.Insert)   { c.d.Inserts = append(c.d.Inserts, *i) }
func (c collector) Other(o *linework.Other)     { c.d.Others = append(c.d.Others, *o) }

// Rescale changes the unit a drawing is scaled by to mm millimetres per drawing
// unit; of a drawing with UnitMM 0, which is in drawing units, it sets it.
func Rescale(d *linework.Drawing, mm float64) {
	k := mm
	if d.UnitMM > 0 {
		k = mm / d.UnitMM
	}
	d.UnitMM = mm
	if k == 1 {
		return
	}
	for i := range d.Segments {
		s := &d.Segments[i]
		scale(k, &s.A[0], &s.A[1], &s.B[0], &s.B[1], &s.ZA, &s.ZB, &s.Width, &s.Thickness)
	}
	for i := range d.Arcs {
		a := &d.Arcs[i]
		scale(k, &a.Centre[0], &a.Centre[1], &a.Radius, &a.Width, &a.Thickness)
	}
	for i := range d.Fills {
		for _, ring := range d.Fills[i].Rings {
			for j := range ring {
				scale(k, &ring[j][0], &ring[j][1])
			}
		}
	}
	for i := range d.Texts {
		t := &d.Texts[i]
		scale(k, &t.At[0], &t.At[1], &t.Height, &t.Measured)
	}
	for i := range d.Inserts {
		rescaleInsert(&d.Inserts[i], k)
	}
	for i := range d.Others {
		o := &d.Others[i]
		scale(k, &o.At[0], &o.At[1])
		for j := range o.Points {
			scale(k, &o.Points[j][0], &o.Points[j][1], &o.Points[j][2])
		}
	}
	for i := range d.Layers {
		scale(k, &d.Layers[i].Length)
	}
}

func rescaleInsert(in *linework.Insert, k float64) {
	scale(k, &in.At[0], &in.At[1], &in.Local[4], &in.Local[5],
		&in.Extents.Min[0], &in.Extents.Min[1], &in.Extents.Max[0], &in.Extents.Max[1])
	for i := range in.Box {
		scale(k, &in.Box[i][0], &in.Box[i][1])
	}
}

func scale(k float64, v ...*float64) {
	for _, p := range v {
		*p *= k
	}
}
