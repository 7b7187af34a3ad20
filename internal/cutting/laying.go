package cutting

import (
	"math"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// laying draws one pattern on its sheet: cuts in order, placements, offcuts.
type laying struct {
	sheet  *Sheet
	pieces []Piece
	shapes []*shape
	next   []int // copies of each shape already given out
	keep   Keep
	notch  bool // the fragment came out of a notch
	// fillings queues what is cut from each pocket, one entry per copy.
	fillings map[pocketKey][]*block
}

// onLeft reports whether b goes to the left side of r. A block that wants a
// factory edge gets it; one that does not leaves it to the offcut.
func (y *laying) onLeft(b *block, r geom.Rect) bool {
	left, right := r.Min.X == 0, r.Max.X == y.sheet.Width
	if b.need > 0 {
		return left
	}
	return !left || right
}

// place lays b into r, which is at least as large, and cuts r up.
func (y *laying) place(b *block, r geom.Rect) {
	switch b.kind {
	case single:
		y.placeSingle(b, r)
	case pair:
		y.placePair(b, y.trim(b, r))
	case row:
		y.placeRow(b, r)
	case stack:
		y.placeStack(b, r)
	}
}

// trim cuts r down to the size of b, the larger offcut first.
func (y *laying) trim(b *block, r geom.Rect) geom.Rect {
	rip := func() {
		if r.W() == b.w || b.need == 2 {
			return
		}
		if y.onLeft(b, r) {
			y.ripAt(&r, r.Min.X+b.w, false)
		} else {
			y.ripAt(&r, r.Max.X-b.w, true)
		}
	}
	if float64(r.W()-b.w)*float64(r.H()) >= float64(r.H()-b.h)*float64(r.W()) {
		rip()
		y.crossAt(&r, r.Min.Y+b.h)
	} else {
		y.crossAt(&r, r.Min.Y+b.h)
		rip()
	}
	return r
}

// ripAt cuts r along x and keeps the part right of it, or left of it; the other
// part is an offcut.
func (y *laying) ripAt(r *geom.Rect, x measure.Length, keepRight bool) {
	y.cut(geom.Pt{X: x, Y: r.Min.Y}, geom.Pt{X: x, Y: r.Max.Y})
	o := *r
	if keepRight {
		o.Max.X, r.Min.X = x, x
	} else {
		o.Min.X, r.Max.X = x, x
	}
	y.offcut(o.Poly())
}

// crossAt cuts r at height h and keeps the lower part.
func (y *laying) crossAt(r *geom.Rect, h measure.Length) {
	if h == r.Max.Y {
		return
	}
	y.cut(geom.Pt{X: r.Min.X, Y: h}, geom.Pt{X: r.Max.X, Y: h})
	o := *r
	o.Min.Y, r.Max.Y = h, h
	y.offcut(o.Poly())
}

func (y *laying) cut(from, to geom.Pt) {
	y.sheet.Cuts = append(y.sheet.Cuts, Cut{From: from, To: to, Order: len(y.sheet.Cuts) + 1, Notch: y.notch})
}

func (y *laying) placeSingle(b *block, r geom.Rect) {
	v, s := b.a, y.shapes[b.a.shape]
	left := y.onLeft(b, r)
	half := v.need == 1 && v.left != left
	turn := 0
	if v.quarter {
		turn = 1
	}
	if half {
		turn += 2
	}
	at := r.Min
	if !left {
		at.X = r.Max.X - v.w
	}
	if half && s.sloped { // the slope looks down: what is left over lies below it
		at.Y = r.Max.Y - v.h
	}
	y.carve(r.Poly(), moved(quarterTurns(s.blank, turn), at))
	y.give(v.shape, turn, at)
}

// carve cuts fragment f down to blank b inside it: plumb and level cuts first,
// the larger offcut first, then the slanted ones.
func (y *laying) carve(f, b geom.Poly) {
	for _, slanted := range []bool{false, true} {
		for {
			var rest, off geom.Poly
			var from, to geom.Pt
			for i, v := range b {
				w := b[(i+1)%len(b)]
				if (v.X != w.X && v.Y != w.Y) != slanted {
					continue
				}
				in, out, p, q := split(f, v, w)
				if out != nil && in != nil && (off == nil || twiceArea(out) > twiceArea(off)) {
					rest, off, from, to = in, out, p, q
				}
			}
			if off == nil {
				break
			}
			if f = rest; isSliver(off, from, to) {
				continue // one cut parts both
			}
			y.cut(from, to)
			y.offcut(off)
		}
	}
}

// sliver is a width of board that no knife can part: two cuts this near are
// one. It guards against tops of one slope whose ends were rounded to the grid
// apart. Source: own choice, a hundredth of a millimetre.
const sliver = measure.Millimetre / 100

// isSliver reports whether an offcut along a cut is nowhere wider than that.
func isSliver(off geom.Poly, from, to geom.Pt) bool {
	d := to.Sub(from)
	return float64(twiceArea(off)) <= 2*float64(sliver)*math.Hypot(float64(d.X), float64(d.Y))
}

func (y *laying) placePair(b *block, r geom.Rect) {
	low, high := b.a, b.b
	if b.need == 1 && (low.left || high.right) != (r.Min.X == 0) {
		low, high = high, low
	}
	y.carvePair(low, high, r)
}

// carvePair cuts r along the top of low, then along the underside of high if
// their slopes differ.
func (y *laying) carvePair(low, high variant, r geom.Rect) {
	s, t := y.shapes[low.shape], y.shapes[high.shape]
	at := geom.Pt{X: r.Min.X, Y: r.Max.Y - t.h}
	p, q := geom.Pt{X: r.Min.X, Y: r.Min.Y + s.l}, geom.Pt{X: r.Max.X, Y: r.Min.Y + s.r}
	_, upper, from, to := split(r.Poly(), q, p)
	y.cut(from, to)
	y.give(low.shape, 0, r.Min)
	y.carve(upper, moved(quarterTurns(t.blank, 2), at))
	y.give(high.shape, 2, at)
}

func (y *laying) placeRow(b *block, r geom.Rect) {
	y.crossAt(&r, r.Min.Y+b.h)
	left, right := r.Min.X == 0, r.Max.X == y.sheet.Width
	fromLeft, fromRight := b.sides(left, right)
	for _, k := range fromLeft {
		o := r
		if o.Max.X = r.Min.X + k.w; o.Max.X < r.Max.X {
			y.cut(geom.Pt{X: o.Max.X, Y: r.Min.Y}, o.Max)
		}
		r.Min.X = o.Max.X
		y.place(k, o)
	}
	for _, k := range fromRight {
		o := r
		if o.Min.X = r.Max.X - k.w; o.Min.X > r.Min.X {
			y.cut(o.Min, geom.Pt{X: o.Min.X, Y: r.Max.Y})
		}
		r.Max.X = o.Min.X
		y.place(k, o)
	}
	if !r.Empty() {
		y.offcut(r.Poly())
	}
}

// sides says in which order the parts of a row are cut off from its left and
// from its right, given which of its sides are factory edges. The offcut is
// left where a factory edge nobody wants is, else in the middle.
func (b *block) sides(left, right bool) (fromLeft, fromRight []*block) {
	var plain []*block
	for _, k := range b.kids {
		switch {
		case k.need == 0:
			plain = append(plain, k)
		case left && len(fromLeft) == 0:
			fromLeft = append(fromLeft, k)
		default:
			fromRight = append(fromRight, k)
		}
	}
	if len(fromLeft) == 0 && left && !right {
		return nil, append(fromRight, plain...)
	}
	return append(fromLeft, plain...), fromRight
}

func (y *laying) placeStack(b *block, r geom.Rect) {
	if r.W() > b.w && b.need < 2 {
		if (r.W()-b.w) < 24*measure.Inch && r.H() > b.h {
			y.crossAt(&r, r.Min.Y+b.h)
		}
		if y.onLeft(b, r) {
			y.ripAt(&r, r.Min.X+b.w, false)
		} else {
			y.ripAt(&r, r.Max.X-b.w, true)
		}
	}
	for i, k := range b.kids {
		o := r
		if i < len(b.kids)-1 {
			o.Max.Y = r.Min.Y + k.h
			y.cut(geom.Pt{X: r.Min.X, Y: o.Max.Y}, o.Max)
		}
		r.Min.Y = o.Max.Y
		y.place(k, o)
	}
}

// give hands the next copy of a shape its place; turn counts quarter turns.
func (y *laying) give(s, turn int, at geom.Pt) {
	sh := y.shapes[s]
	ref := sh.copies[y.next[s]]
	y.next[s]++
	p := y.pieces[ref.piece]
	outline, pocket := sh.outline, sh.pocket
	if o := quarterTurns(tidy(p.Outline), 0); !slices.Equal(o, outline) { // of one blank with others
		outline, pocket = o, pockets(o, sh.blank)
	}
	pl := Placement{
		Piece: p.ID, Turned: turn * 90, Notch: y.notch,
		Outline: moved(quarterTurns(outline, turn), at),
	}
	if p.Count > 1 {
		pl.Copy = ref.copy + 1
	}
	y.edges(&pl, turn)
	y.sheet.Placements = append(y.sheet.Placements, pl)
	for k, p := range pocket {
		y.notchOut(pocketKey{s, k}, moved(turnedIn(p, sh, turn), at))
	}
}

// turnedIn turns p, a part of shape s, with it.
func turnedIn(p geom.Poly, s *shape, turn int) geom.Poly {
	w, h := s.w, s.h
	q := append(geom.Poly(nil), p...)
	for ; turn > 0; turn-- {
		for i, v := range q {
			q[i] = geom.Pt{X: h - v.Y, Y: v.X}
		}
		w, h = h, w
	}
	return q
}

// notchOut deals with the board that comes out of a notch.
func (y *laying) notchOut(key pocketKey, pocket geom.Poly) {
	was := y.notch
	y.notch = true
	defer func() { y.notch = was }()
	if q := y.fillings[key]; len(q) > 0 && isRect(pocket) {
		y.fillings[key] = q[1:]
		if q[0] != nil {
			y.place(q[0], pocket.Bounds())
			return
		}
	}
	y.offcut(pocket)
}

func isRect(p geom.Poly) bool {
	return len(p) == 4 && twiceArea(p) == 2*int64(p.Bounds().W())*int64(p.Bounds().H())
}

// edges records what the sides of a placed piece, as hung, have become.
func (y *laying) edges(pl *Placement, turn int) {
	w, l := y.sheet.Width, y.sheet.Length
	o := pl.Outline
	onSheet := [4]Edge{ // left, bottom, right, top of the placed outline
		flush(o, func(p geom.Pt) bool { return p.X == 0 }, Tapered),
		flush(o, func(p geom.Pt) bool { return p.Y == 0 }, End),
		flush(o, func(p geom.Pt) bool { return p.X == w }, Tapered),
		flush(o, func(p geom.Pt) bool { return p.Y == l }, End),
	}
	// Each quarter turn anticlockwise moves a side on by one in this order.
	side := func(asHung int) Edge { return onSheet[(asHung+turn)%4] }
	pl.Left, pl.Bottom, pl.Right, pl.Top = side(0), side(1), side(2), side(3)
}

func flush(o geom.Poly, on func(geom.Pt) bool, e Edge) Edge {
	for i, p := range o {
		if on(p) && on(o[(i+1)%len(o)]) {
			return e
		}
	}
	return CutEdge
}

func (y *laying) offcut(p geom.Poly) {
	y.sheet.Offcuts = append(y.sheet.Offcuts, Offcut{Outline: p, Kept: y.worthKeeping(p), Notch: y.notch})
}

// worthKeeping reports whether p holds the rectangle asked for, either way, and
// has a factory edge long enough for it.
func (y *laying) worthKeeping(p geom.Poly) bool {
	a, b := y.keep.MinWidth, y.keep.MinLength
	if !y.keep.CutEdges {
		long := false
		for i, v := range p {
			w := p[(i+1)%len(p)]
			long = long || v.X == w.X && (v.X == 0 || v.X == y.sheet.Width) && (v.Y-w.Y).Abs() >= min(a, b)
		}
		if !long {
			return false
		}
	}
	if isRect(p) {
		w, h := p.Bounds().W(), p.Bounds().H()
		return w >= a && h >= b || w >= b && h >= a
	}
	return isConvex(p) && (holds(p, a, b) || holds(p, b, a))
}

// holds reports whether a rectangle w × h fits into convex p at its left or at
// its right end.
func holds(p geom.Poly, w, h measure.Length) bool {
	b := p.Bounds()
	if b.W() < w {
		return false
	}
	for _, x := range []measure.Length{b.Min.X, b.Max.X - w} {
		l0, h0 := upright(p, x)
		l1, h1 := upright(p, x+w)
		if min(h0, h1)-max(l0, l1) >= h {
			return true
		}
	}
	return false
}

// upright returns the lowest and highest y of convex p at x, rounded to the grid.
func upright(p geom.Poly, x measure.Length) (low, high measure.Length) {
	first := true
	add := func(v measure.Length) {
		if first {
			low, high, first = v, v, false
		}
		low, high = min(low, v), max(high, v)
	}
	for i, v := range p {
		w := p[(i+1)%len(p)]
		if v.X == x {
			add(v.Y)
		}
		if v.X < x && x < w.X || w.X < x && x < v.X {
			add(v.Y + geom.MulDiv(w.Y-v.Y, x-v.X, w.X-v.X))
		}
	}
	return low, high
}
