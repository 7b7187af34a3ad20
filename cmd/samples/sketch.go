package main

import "sort"

// pt is a point in drawing units.
type pt struct{ x, y float64 }

// box is an axis-parallel rectangle: one wall's band, one opening's gap.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) has(x, y float64) bool { return x > b.x0 && x < b.x1 && y > b.y0 && y < b.y1 }

// wall is a straight wall along an axis, drawn by its faces.
type wall struct {
	x0, y0, x1, y1 float64 // axis
	thick          float64
	layer          string
}

// band is the wall's outline. Axes meet on axes; at its end a wall that meets
// another one is cut off or filled in by the union of bands.
func (w wall) band() box {
	h := w.thick / 2
	if w.y0 == w.y1 {
		return box{min(w.x0, w.x1), w.y0 - h, max(w.x0, w.x1), w.y0 + h}
	}
	return box{w.x0 - h, min(w.y0, w.y1), w.x0 + h, max(w.y0, w.y1)}
}

// gap is an opening: the stretch of a wall's band that is open.
type gap struct {
	wall   int
	centre float64 // along the axis, in drawing coordinates of that axis
	width  float64
}

func (g gap) box(ws []wall) box {
	b := ws[g.wall].band()
	if ws[g.wall].y0 == ws[g.wall].y1 {
		return box{g.centre - g.width/2, b.y0, g.centre + g.width/2, b.y1}
	}
	return box{b.x0, g.centre - g.width/2, b.x1, g.centre + g.width/2}
}

// line is a drawn line.
type line struct {
	a, b  pt
	layer string
}

// faces draws the outline of all walls together less the gaps, as lines that
// run as far as they are straight and on one layer. jambs are the lines across
// a wall at the sides of a gap; they go to jambLayer.
func faces(ws []wall, gaps []gap, fill []box, fillLayer, jambLayer string) []line {
	type painted struct {
		box
		layer string
	}
	var solid []painted
	for _, w := range ws {
		solid = append(solid, painted{w.band(), w.layer})
	}
	for _, f := range fill {
		solid = append(solid, painted{f, fillLayer})
	}
	var open []box
	for _, g := range gaps {
		open = append(open, g.box(ws))
	}
	var xs, ys []float64
	for _, s := range solid {
		xs, ys = append(xs, s.x0, s.x1), append(ys, s.y0, s.y1)
	}
	for _, o := range open {
		xs, ys = append(xs, o.x0, o.x1), append(ys, o.y0, o.y1)
	}
	xs, ys = distinct(xs), distinct(ys)
	in := func(i, j int) (layer string, gapped, ok bool) {
		if i < 0 || j < 0 || i+1 >= len(xs) || j+1 >= len(ys) {
			return "", false, false
		}
		x, y := (xs[i]+xs[i+1])/2, (ys[j]+ys[j+1])/2
		for _, o := range open {
			if o.has(x, y) {
				return "", true, false
			}
		}
		for _, s := range solid {
			if s.has(x, y) {
				return s.layer, false, true
			}
		}
		return "", false, false
	}
	var out []line
	for j := 0; j <= len(ys)-1; j++ { // lines along x
		for i := 0; i+1 < len(xs); i++ {
			la, _, a := in(i, j-1)
			lb, _, b := in(i, j)
			_, ga, _ := in(i, j-1)
			_, gb, _ := in(i, j)
			if a == b {
				continue
			}
			l := la + lb
			if ga || gb {
				l = jambLayer
			}
			out = extend(out, line{pt{xs[i], ys[j]}, pt{xs[i+1], ys[j]}, l})
		}
	}
	for i := 0; i <= len(xs)-1; i++ { // lines along y
		for j := 0; j+1 < len(ys); j++ {
			la, ga, a := in(i-1, j)
			lb, gb, b := in(i, j)
			if a == b {
				continue
			}
			l := la + lb
			if ga || gb {
				l = jambLayer
			}
			out = extend(out, line{pt{xs[i], ys[j]}, pt{xs[i], ys[j+1]}, l})
		}
	}
	return out
}

// extend adds a line, lengthening the last one where it goes straight on.
func extend(out []line, l line) []line {
	if n := len(out) - 1; n >= 0 && out[n].b == l.a && out[n].layer == l.layer &&
		(out[n].a.x == l.b.x || out[n].a.y == l.b.y) {
		out[n].b = l.b
		return out
	}
	return append(out, l)
}

func distinct(v []float64) []float64 {
	sort.Float64s(v)
	out := v[:0]
	for i, x := range v {
		if i == 0 || x-out[len(out)-1] > 1e-9 {
			out = append(out, x)
		}
	}
	return out
}
