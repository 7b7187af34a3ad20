package report

import "math"

// KeyBase draws the walls of a storey small, a line each; it is the same under
// every side of that storey, and made once.
func (w *Draft) KeyBase(storey string) *Picture {
	if d := w.bases[storey]; d != nil {
		return d
	}
	d := &Picture{Name: "key " + storey}
	w.bases[storey] = d
	for i := range w.t.Standing { // what was there before says best where one is
		if s := &w.t.Standing[i]; s.Storey == storey && len(s.OutlineMM) > 2 && s.Kind != "demolish" {
			d.area(PenGround, LayerWallLeft, NoFill, s.OutlineMM)
		}
	}
	for i := range w.t.Runs {
		r := &w.t.Runs[i]
		if r.Storey != storey || len(r.AxisMM) < 2 {
			continue
		}
		n := 1
		if r.Arc != nil {
			n = max(4, int(math.Abs(r.Arc.SweepDeg)/6))
		}
		var axis []UV
		for k := range n + 1 {
			c, _ := along(r, r.LengthMM*MM(k)/MM(n))
			axis = append(axis, c)
		}
		d.line(PenKey, LayerWall, axis...).Ref = r.ID
	}
	d.fit()
	return d
}

// KeySide draws over the base where a side is: its wall solid, an arrow as a
// person looks at it, a ring at the start.
func (w *Draft) KeySide(f *Face, scale float64) *Picture {
	d := &Picture{Name: "key " + f.ID, Scale: scale}
	r := w.p.run[f.Run]
	if r == nil || len(r.AxisMM) < 2 {
		return d
	}
	mm := func(v float64) MM { return MM(v * scale) }
	d.area(PenWall, LayerWall, FillSolid, Band(r))
	if f.Side != "left" && f.Side != "right" {
		d.fit()
		return d
	}
	side := MM(1) // of the axis, left positive
	if f.Side == "right" {
		side = -1
	}
	mid, a := along(r, f.StartMM+f.LengthMM/2)
	n := UV{-MM(math.Sin(a)) * side, MM(math.Cos(a)) * side}
	t := UV{-n[1], n[0]}
	at := func(c UV, out, across MM) UV { return UV{c[0] + n[0]*out + t[0]*across, c[1] + n[1]*out + t[1]*across} }
	face := r.ThicknessMM / 2
	tip := face + mm(0.8)
	d.line(PenJoint, LayerMark, at(mid, tip+mm(5), 0), at(mid, tip, 0))
	d.area(PenWall, LayerMark, FillSolid, Poly{at(mid, tip, 0), at(mid, tip+mm(2), mm(1)), at(mid, tip+mm(2), -mm(1))})
	u := MM(0)
	if f.HangFrom == "right" {
		u = f.LengthMM
	}
	if f.HangFrom != "" {
		c, _ := along(r, station(f, u))
		d.area(PenWall, LayerMark, NoFill, ring(at(c, face+mm(1.6), 0), mm(1.2)))
	}
	d.fit()
	return d
}

// ring is a circle as a polygon.
func ring(c UV, r MM) Poly {
	var o Poly
	for i := range 16 {
		s, k := math.Sincos(float64(i) * math.Pi / 8)
		o = append(o, UV{c[0] + r*MM(k), c[1] + r*MM(s)})
	}
	return o
}
