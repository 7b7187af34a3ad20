package dxf

import (
	"math"

	"github.com/paulmach/orb"
)

// box is a bounding box in plan; empty until a point is added.
type box struct {
	min, max orb.Point
	ok       bool
}

func (b *box) add(x, y float64) {
	if !b.ok {
		b.min, b.max, b.ok = orb.Point{x, y}, orb.Point{x, y}, true
		return
	}
	b.min[0], b.min[1] = math.Min(b.min[0], x), math.Min(b.min[1], y)
	b.max[0], b.max[1] = math.Max(b.max[0], x), math.Max(b.max[1], y)
}

// corners returns lower left, lower right, upper right, upper left.
func (b box) corners() [4]orb.Point {
	return [4]orb.Point{b.min, {b.max[0], b.min[1]}, b.max, {b.min[0], b.max[1]}}
}

// boxWork is how many records are looked at for the exact extents of one turned
// insert; beyond it the turned corners of the block's box stand in.
const boxWork = 20_000

// blockBox returns the box of a block's own linework, nested blocks included,
// in its own coordinates. What is hidden does not count.
func (w *walker) blockBox(b uint32) box {
	if w.boxes == nil {
		w.boxes = map[uint32]box{}
	}
	bx, ok := w.boxes[b]
	if !ok {
		w.boxes[b] = box{} // a block met again inside itself adds nothing
		a := scaling(1)
		w.extend(&bx, w.m.block[b].span, &a, 0)
		w.boxes[b] = bx
	}
	return bx
}

// placedBox returns the extents of a block placed by a, and its box.
func (w *walker) placedBox(b uint32, a *affine) (extents box, corners [4]orb.Point) {
	own := w.blockBox(b)
	if !own.ok {
		var at box
		at.add(a.m[3], a.m[7])
		return at, at.corners()
	}
	corners = own.corners()
	for i := range corners {
		corners[i][0], corners[i][1] = a.plan(corners[i][0], corners[i][1], 0)
		extents.add(corners[i][0], corners[i][1])
	}
	m := &a.m
	onAxes := m[1] == 0 && m[4] == 0 || m[0] == 0 && m[5] == 0
	if onAxes || w.m.total[b].pieces > boxWork {
		return extents, corners
	}
	var exact box
	w.extend(&exact, w.m.block[b].span, a, 0)
	if exact.ok {
		extents = exact
	}
	return extents, corners
}

// extend adds the linework of a span placed by a.
func (w *walker) extend(bx *box, s span, a *affine, depth int) {
	m := w.m
	var r rec
	for pos := s.first; pos < s.end; {
		pos = m.store.next(pos, &r)
		if r.flags&fInvisible != 0 || r.layer != 0 && (m.layer[r.layer].off || m.layer[r.layer].frozen) {
			continue
		}
		x := r.x
		switch r.kind {
		case kInsert:
			w.extendInsert(bx, &r, a, depth)
		case kLine:
			x0, y0, x1, y1, _ := r.ends()
			addPlan(bx, a, x0, y0, 0)
			addPlan(bx, a, x1, y1, 0)
		case kArc:
			pa := *a
			if r.flags&fExt != 0 {
				pa = ownPlane(a, x[5:])
			}
			sweep := math.Mod(x[4]-x[3], 360)
			if sweep <= 0 || r.flags&fFull != 0 {
				sweep += 360
			}
			addArc(bx, &pa, bulgeArc{x[0], x[1], x[2], x[3], sweep})
		case kPoly:
			extendPoly(bx, &r, x, a)
		case kPaths:
			for len(x) > 0 {
				n := int(x[0])
				addPoints(bx, a, x[2:2+3*n])
				x = x[2+3*n:]
			}
		case kFill:
			for x = x[1:]; len(x) > 0; {
				n := int(x[0])
				addPoints(bx, a, x[1:1+3*n])
				x = x[1+3*n:]
			}
		}
	}
}

func (w *walker) extendInsert(bx *box, r *rec, a *affine, depth int) {
	m := w.m
	block, x := insertOf(r)
	if r.flags&fCut != 0 || depth > MaxDepth || m.total[block].pieces*cells(&x) > boxWork {
		return
	}
	cols := max(int(x[inCols]), 1)
	for cell := range int(cells(&x)) {
		in := insertion(&x, m.block[block].base, cell%cols, cell/cols)
		in = a.then(&in)
		w.extend(bx, m.block[block].span, &in, depth+1)
	}
}

func ownPlane(a *affine, e []float64) affine {
	o := ocs(e[2], e[3], e[4])
	return a.then(&o)
}

func extendPoly(bx *box, r *rec, x []float64, a *affine) {
	pa, v := *a, x[1:]
	if r.flags&fExt != 0 {
		pa = ownPlane(a, v)
		v = v[5:]
	}
	stride := 2
	if r.flags&(fBulge|fZ) != 0 {
		stride = 3
	}
	n := len(v) / stride
	for i := range n {
		p, q := v[i*stride:], v[(i+1)%n*stride:]
		addPlan(bx, &pa, p[0], p[1], 0)
		last := i == n-1 && r.flags&fClosed == 0
		if r.flags&fBulge != 0 && math.Abs(p[2]) > minBulge && !last {
			addArc(bx, &pa, arcOfBulge(p[0], p[1], q[0], q[1], p[2]))
		}
	}
}

func addPlan(bx *box, a *affine, x, y, z float64) { bx.add(a.plan(x, y, z)) }

func addPoints(bx *box, a *affine, pts []float64) {
	for ; len(pts) >= 3; pts = pts[3:] {
		addPlan(bx, a, pts[0], pts[1], pts[2])
	}
}

// addArc adds a circular piece: its ends and where it crosses the axes of the
// drawing; one that becomes elliptic as its chords.
func addArc(bx *box, a *affine, b bulgeArc) {
	at := func(deg float64) {
		sin, cos := sinCos(deg)
		addPlan(bx, a, b.x+b.r*cos, b.y+b.r*sin, 0)
	}
	if !a.similar {
		n := max(int(math.Ceil(math.Abs(b.sweep)/flattenStep)), 1)
		for i := 0; i <= n; i++ {
			at(b.start + b.sweep*float64(i)/float64(n))
		}
		return
	}
	start, sweep := b.start, b.sweep
	if sweep < 0 {
		start, sweep = start+sweep, -sweep
	}
	at(start)
	at(start + sweep)
	// Quarter points of the drawing's axes, in the arc's own angles.
	turn := a.turn
	for q := range 4 {
		t := float64(q)*90 - turn
		if a.mirrored {
			t = -t
		}
		if d := math.Mod(math.Mod(t-start, 360)+360, 360); d <= sweep {
			at(t)
		}
	}
}
