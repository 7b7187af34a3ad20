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
