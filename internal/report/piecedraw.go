package report

import (
	"math"
	"slices"
	"sort"
)

// PieceCut draws one piece alone with the places to mark: along its bottom
// from the starting edge, along its starting side from the bottom. Every cut is
// so dimensioned square from two sides.
func (w *Draft) PieceCut(q *Piece, scale float64) *Picture {
	d := &Picture{Name: q.ID, Title: q.ID, Scale: scale}
	f := w.p.fac[q.Face]
	left := f == nil || f.HangFrom != "right"
	lo, hi := bounds(q.OutlineUV)
	mm := func(v float64) MM { return MM(v * scale) }
	for _, n := range w.notches(q) {
		a := UV{lo[0] + n.near, lo[1] + n.low}
		if !left {
			a[0] = lo[0] + n.far
		}
		d.area(PenHole, LayerHole, FillCross, Poly{a, {a[0] + n.w, a[1]}, {a[0] + n.w, a[1] + n.h}, {a[0], a[1] + n.h}})
	}
	d.area(PenJoint, LayerPiece, NoFill, q.OutlineUV)
	m := d.label(LayerNote, ShortMark(q.ID), sizeMark, roomFor(q, mm(5), mm(4)))
	m.Bold = true
	us, vs := w.corners(q)
	vs = w.besideTop(q, vs, left)
	at := make([]float64, len(us))
	for i, u := range us {
		at[i] = float64(u) / scale
	}
	for i, x := range spread(at, sizeText+0.1) {
		from := us[i] - lo[0]
		if !left {
			from = hi[0] - us[i]
		}
		if from < 0.5 {
			continue
		}
		foot := UV{MM(x * scale), lo[1] - mm(2.4)}
		d.line(PenDim, LayerDim, UV{us[i], lo[1] - mm(0.3)}, UV{us[i], lo[1] - mm(1)}, foot)
		t := d.label(LayerDim, w.p.cut(from).Text, sizeText, UV{foot[0], foot[1] - mm(0.4)})
		t.Angle, t.Align = 90, AlignRight
	}
	w.sideHeights(d, q, vs, left)
	edge, dir := lo[0], MM(1)
	if !left {
		edge, dir = hi[0], -1
	}
	a := mm(1.2)
	d.area(PenDim, LayerDim, FillSolid, Poly{{edge, lo[1] - a/2}, {edge, lo[1] - 2.5*a}, {edge + dir*1.6*a, lo[1] - 1.5*a}})
	d.fit()
	return d
}

// sideHeights writes the heights to mark beside the starting edge, and the
// height of the far edge where it differs.
func (w *Draft) sideHeights(d *Picture, q *Piece, vs []MM, left bool) {
	lo, hi := bounds(q.OutlineUV)
	mm := func(v float64) MM { return MM(v * d.Scale) }
	edge, dir, align := lo[0], MM(-1), AlignRight
	if !left {
		edge, dir, align = hi[0], 1, AlignLeft
	}
	at := make([]float64, len(vs))
	for i, v := range vs {
		at[i] = float64(v) / d.Scale
	}
	for i, y := range spread(at, sizeText+0.1) {
		if vs[i]-lo[1] < 0.5 {
			continue
		}
		foot := UV{edge + dir*mm(2.4), MM(y * d.Scale)}
		d.line(PenDim, LayerDim, UV{edge + dir*mm(0.3), vs[i]}, UV{edge + dir*mm(1), vs[i]}, foot)
		d.label(LayerDim, w.p.cut(vs[i]-lo[1]).Text, sizeText, UV{foot[0] + dir*mm(0.4), foot[1]}).Align = align
	}
	w.farHeight(d, q, left)
}

// farHeight writes the height of the edge away from the start where the top
// slopes.
func (w *Draft) farHeight(d *Picture, q *Piece, left bool) {
	h := q.Blank()
	if len(h) < 2 {
		return
	}
	lo, hi := bounds(q.OutlineUV)
	near, far, edge, dir, align := h[0][1], h[len(h)-1][1], hi[0], MM(1), AlignLeft
	if !left {
		near, far, edge, dir, align = far, near, lo[0], -1, AlignRight
	}
	text := w.p.cut(far).Text
	if text == w.p.cut(near).Text {
		return
	}
	at := UV{edge + dir*MM(0.8*d.Scale), lo[1] + far - MM(1.2*d.Scale)}
	d.label(LayerDim, text, sizeText, at).Align = align
}

// besideTop leaves out of the heights to mark those of the top that are not at
// the starting edge.
func (w *Draft) besideTop(q *Piece, vs []MM, left bool) []MM {
	lo, hi := bounds(q.OutlineUV)
	h := q.Blank()
	if len(h) < 2 {
		return vs
	}
	near, far, edge := h[0][1], h[len(h)-1][1], lo[0]
	if !left {
		near, far, edge = far, near, hi[0]
	}
	var out []MM
	for _, v := range vs {
		if d := v - lo[1]; d > far-1 && d < far+1 && (near < far-1 || near > far+1) && !atEdge(q, edge, v) {
			continue
		}
		out = append(out, v)
	}
	return out
}

// atEdge tells whether a piece has a corner at height v other than at its far
// edge.
func atEdge(q *Piece, edge, v MM) bool {
	for _, p := range q.OutlineUV {
		if p[0] == edge && p[1] == v {
			return true
		}
	}
	return false
}

// corners lists the distinct places of a piece's corners and cut-outs, across
// and up; bends of its top that a straight cut hits within a cut step are left
// out.
func (w *Draft) corners(q *Piece) (us, vs []MM) {
	slight := w.slight(q)
	var list [2][]MM
	for k := range list {
		for _, p := range q.OutlineUV {
			if !slices.Contains(slight, p) {
				list[k] = append(list[k], p[k])
			}
		}
		for _, c := range q.CutoutsUV {
			lo, hi := bounds(c)
			list[k] = append(list[k], lo[k], hi[k])
		}
		xs := list[k]
		sort.Slice(xs, func(a, b int) bool { return xs[a] < xs[b] })
		out := xs[:0]
		for i, x := range xs {
			if i == 0 || x-out[len(out)-1] > 1 {
				out = append(out, x)
			}
		}
		list[k] = out
	}
	return list[0], list[1]
}

// slight lists the corners along a piece's top that are no bends to cut.
func (w *Draft) slight(q *Piece) []UV {
	lo, hi := bounds(q.OutlineUV)
	bent := w.bends(q)
	var out []UV
	h := q.Blank()
	for i := 1; i+1 < len(h); i++ {
		at := UV{lo[0] + h[i][0], lo[1] + h[i][1]}
		from := h[i][0]
		if f := w.p.fac[q.Face]; f != nil && f.HangFrom == "right" {
			from = hi[0] - at[0]
		}
		if !slices.ContainsFunc(bent, func(b UV) bool { return math.Abs(float64(b[0]-from)) < 0.5 }) {
			out = append(out, at)
		}
	}
	return out
}

// Size is the box of a piece's outline: across and up.
func Size(q *Piece) (wide, high MM) {
	lo, hi := bounds(q.OutlineUV)
	return hi[0] - lo[0], hi[1] - lo[1]
}

func roomFor(q *Piece, w, h MM) UV {
	lo, hi := room(q.OutlineUV, q.CutoutsUV, w, h)
	return UV{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2}
}
