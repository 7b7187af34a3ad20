package dxf

import (
	"slices"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
)

// Rescale changes the unit a drawing is scaled by to mm millimetres per drawing
// unit; of a drawing with UnitMM 0, which is in drawing units, it sets it. What
// comes to lie beyond ±MaxMM moves to Others.
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
	if k > 1 {
		moveFar(d)
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

// moveFar moves what lies beyond the range of lengths to Others. Inserts keep
// their places in the list; their coordinates are held at the limit.
func moveFar(d *linework.Drawing) {
	far := func(c linework.Common, v ...float64) bool {
		for _, x := range v {
			if !(x < MaxMM && x > -MaxMM) {
				d.Others = append(d.Others, linework.Other{Common: c, Reason: reasons[reasonTooFar]})
				return true
			}
		}
		return false
	}
	d.Segments = slices.DeleteFunc(d.Segments, func(s linework.Segment) bool {
		return far(s.Common, s.A[0], s.A[1], s.B[0], s.B[1], s.ZA, s.ZB, s.Width, s.Thickness)
	})
	d.Arcs = slices.DeleteFunc(d.Arcs, func(a linework.Arc) bool {
		return far(a.Common, a.Centre[0], a.Centre[1], a.Radius, a.Width, a.Thickness)
	})
	d.Fills = slices.DeleteFunc(d.Fills, func(f linework.Fill) bool {
		b := orb.Polygon(f.Rings).Bound()
		return far(f.Common, b.Min[0], b.Min[1], b.Max[0], b.Max[1])
	})
	d.Texts = slices.DeleteFunc(d.Texts, func(t linework.Text) bool {
		return far(t.Common, t.At[0], t.At[1], t.Height, t.Measured)
	})
	for i := range d.Inserts {
		in := &d.Inserts[i]
		hold(&in.At[0], &in.At[1], &in.Local[4], &in.Local[5], &in.Extents.Min[0], &in.Extents.Min[1], &in.Extents.Max[0], &in.Extents.Max[1])
		for j := range in.Box {
			hold(&in.Box[j][0], &in.Box[j][1])
		}
	}
	for i := range d.Others {
		hold(&d.Others[i].At[0], &d.Others[i].At[1])
	}
}

func hold(v ...*float64) {
	for _, p := range v {
		*p = max(-MaxMM, min(MaxMM, *p))
	}
}
