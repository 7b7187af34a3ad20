package cutting

// The judge replays a cut list with its own geometry (float millimetres, general
// polygons) and calls none of the solver's code. Oracle for every property test
// of this package.

import (
	"fmt"
	"math"
	"testing"

	"boardrun/internal/geom"
)

type jpt struct{ x, y float64 }
type jpoly []jpt

const jtol = 1e-3 // mm; cut ends off the grid are rounded to 1/8 µm

func jfrom(p geom.Poly) jpoly {
	q := make(jpoly, len(p))
	for i, v := range p {
		q[i] = jpt{v.X.MM(), v.Y.MM()}
	}
	return q
}

func (p jpoly) area() float64 {
	s := 0.0
	for i, v := range p {
		w := p[(i+1)%len(p)]
		s += v.x*w.y - v.y*w.x
	}
	return s / 2
}

func jdist(p, a, b jpt) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	l := dx*dx + dy*dy
	t := 0.0
	if l > 0 {
		t = math.Max(0, math.Min(1, ((p.x-a.x)*dx+(p.y-a.y)*dy)/l))
	}
	return math.Hypot(p.x-a.x-t*dx, p.y-a.y-t*dy)
}

func (p jpoly) onBoundary(v jpt) bool {
	for i, a := range p {
		if jdist(v, a, p[(i+1)%len(p)]) < jtol {
			return true
		}
	}
	return false
}

func (p jpoly) inside(v jpt) bool { // strictly, by ray casting
	if p.onBoundary(v) {
		return false
	}
	in := false
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if (a.y > v.y) != (b.y > v.y) && v.x < a.x+(v.y-a.y)/(b.y-a.y)*(b.x-a.x) {
			in = !in
		}
	}
	return in
}

// contains reports whether q lies in p, both simple: every vertex and every
// side's middle of q inside or on p, and no vertex of p inside q.
func (p jpoly) contains(q jpoly) bool {
	for i, v := range q {
		w := q[(i+1)%len(q)]
		for _, m := range []jpt{v, {(v.x + w.x) / 2, (v.y + w.y) / 2}} {
			if !p.inside(m) && !p.onBoundary(m) {
				return false
			}
		}
	}
	for _, v := range p {
		if q.inside(v) {
			return false
		}
	}
	return true
}

// cutBy splits convex p along a–b if the cut runs from boundary to boundary.
func (p jpoly) cutBy(a, b jpt) (l, r jpoly, ok bool) {
	m := jpt{(a.x + b.x) / 2, (a.y + b.y) / 2}
	if !p.onBoundary(a) || !p.onBoundary(b) || !p.inside(m) {
		return nil, nil, false
	}
	n := math.Hypot(b.x-a.x, b.y-a.y)
	for _, v := range p {
		d := ((b.x-a.x)*(v.y-a.y) - (b.y-a.y)*(v.x-a.x)) / n
		if d > jtol {
			l = append(l, v)
		} else if d < -jtol {
			r = append(r, v)
		}
	}
	// Put the two cut ends in their place by angle about the middle of each part.
	return jorder(append(l, a, b)), jorder(append(r, a, b)), true
}

func jorder(p jpoly) jpoly { // convex: order by angle about the mean
	var c jpt
	for _, v := range p {
		c.x += v.x / float64(len(p))
		c.y += v.y / float64(len(p))
	}
	for i := range p {
		for j := i + 1; j < len(p); j++ {
			if math.Atan2(p[j].y-c.y, p[j].x-c.x) < math.Atan2(p[i].y-c.y, p[i].x-c.x) {
				p[i], p[j] = p[j], p[i]
			}
		}
	}
	return p
}

func jconvex(p jpoly) bool {
	for i, a := range p {
		b, c := p[(i+1)%len(p)], p[(i+2)%len(p)]
		if (b.x-a.x)*(c.y-b.y)-(b.y-a.y)*(c.x-b.x) < -1e-6 {
			return false
		}
	}
	return true
}

// judge returns everything wrong with solution s of problem p.
func judge(p Problem, s Solution) []string {
	var bad []string
	say := func(f string, a ...any) { bad = append(bad, fmt.Sprintf(f, a...)) }
	pieces, want := map[string]Piece{}, map[string]int{}
	for _, pc := range p.Pieces {
		n := pc.Count
		if n == 0 {
			n = 1
		}
		pieces[pc.ID] = pc
		want[pc.ID] += n
	}
	for _, u := range s.Unplaced {
		want[u.Piece] = 0
	}
	for _, sh := range s.Sheets {
		for _, pl := range sh.Placements {
			want[pl.Piece]--
			pc := pieces[pl.Piece]
			if pc.Board != sh.Board || pc.Group != sh.Group {
				say("%s: %s is of another board or group", sh.ID, pl.Piece)
			}
			judgePlacement(sh, pc, pl, say)
		}
		judgeCuts(sh, say)
		judgeAreas(sh, say)
	}
	for id, n := range want {
		if n != 0 {
			say("%s: %d copies missing", id, n)
		}
	}
	for _, b := range s.Bounds {
		if b.CostAt > b.Cost || b.Bought.Less(b.ForThese) {
			say("%s: bound above what was found: %+v", b.Board, b)
		}
		if b.Bought != b.Hung.Add(b.Kept).Add(b.Waste) || b.Waste.Less(Total{}) {
			say("%s: areas do not add up: %+v", b.Board, b)
		}
	}
	return bad
}

func judgePlacement(sh Sheet, pc Piece, pl Placement, say func(string, ...any)) {
	o, q := jfrom(pl.Outline), jfrom(pc.Outline)
	// Turn the piece about the origin; its vertices must be the placed ones, moved.
	a := float64(pl.Turned) * math.Pi / 180
	for i, v := range q {
		q[i] = jpt{v.x*math.Cos(a) - v.y*math.Sin(a), v.x*math.Sin(a) + v.y*math.Cos(a)}
	}
	lo := func(p jpoly) jpt {
		m := jpt{math.Inf(1), math.Inf(1)}
		for _, v := range p {
			m.x, m.y = math.Min(m.x, v.x), math.Min(m.y, v.y)
		}
		return m
	}
	d, e := lo(q), lo(o)
	for _, v := range q {
		w := jpt{v.x - d.x + e.x, v.y - d.y + e.y}
		if !o.onBoundary(w) {
			say("%s: %s is not the piece turned %d", sh.ID, pl.Piece, pl.Turned)
			break
		}
	}
	if math.Abs(o.area()-q.area()) > 1e-3 {
		say("%s: %s has another area (mirrored?)", sh.ID, pl.Piece)
	}
	sheet := jpoly{{0, 0}, {sh.Width.MM(), 0}, {sh.Width.MM(), sh.Length.MM()}, {0, sh.Length.MM()}}
	if !sheet.contains(o) {
		say("%s: %s lies outside the sheet", sh.ID, pl.Piece)
	}
	// A side lies on a factory long edge if, turned, it is at x = 0 or x = width.
	for i, want := range []Edge{pc.Left, pc.Bottom, pc.Right, pc.Top} {
		got := []Edge{pl.Left, pl.Bottom, pl.Right, pl.Top}[i]
		side := (i + pl.Turned/90) % 4 // 0 left, 1 bottom, 2 right, 3 top of the sheet
		has := CutEdge
		for k, v := range o {
			w := o[(k+1)%len(o)]
			switch {
			case side == 0 && v.x < jtol && w.x < jtol, side == 2 && v.x > sh.Width.MM()-jtol && w.x > sh.Width.MM()-jtol:
				has = Tapered
			case side == 1 && v.y < jtol && w.y < jtol, side == 3 && v.y > sh.Length.MM()-jtol && w.y > sh.Length.MM()-jtol:
				has = End
			}
		}
		if has != got {
			say("%s: %s side %d is %v, said to be %v", sh.ID, pl.Piece, i, has, got)
		}
		if want == Tapered && has != Tapered {
			say("%s: %s side %d wants a tapered edge", sh.ID, pl.Piece, i)
		}
	}
	if pc.Uncut && len(sh.Cuts) > 0 {
		say("%s: %s must stay uncut", sh.ID, pl.Piece)
	}
}

// judgeCuts replays the through cuts, then the cuts in the boards that came out
// of notches, and looks for every placement among the fragments.
func judgeCuts(sh Sheet, say func(string, ...any)) {
	frags := []jpoly{{{0, 0}, {sh.Width.MM(), 0}, {sh.Width.MM(), sh.Length.MM()}, {0, sh.Length.MM()}}}
	apply := func(c Cut) {
		a, b := jpt{c.From.X.MM(), c.From.Y.MM()}, jpt{c.To.X.MM(), c.To.Y.MM()}
		for i, f := range frags {
			if l, r, ok := f.cutBy(a, b); ok {
				frags[i] = l
				frags = append(frags, r)
				return
			}
		}
		say("%s: cut %d crosses no fragment from boundary to boundary", sh.ID, c.Order)
	}
	for i, c := range sh.Cuts {
		if c.Order != i+1 {
			say("%s: cut %d is numbered %d", sh.ID, i+1, c.Order)
		}
		if !c.Notch {
			apply(c)
		}
	}
	taken := make([]bool, len(frags))
	match := func(pl Placement) {
		o := jfrom(pl.Outline)
		for i, f := range frags {
			if (i >= len(taken) || !taken[i]) && f.contains(o) && (!jconvex(o) || math.Abs(f.area()-o.area()) < 1) {
				if i < len(taken) {
					taken[i] = true
				}
				return
			}
		}
		say("%s: cuts do not give %s", sh.ID, pl.Piece)
	}
	for _, pl := range sh.Placements {
		if !pl.Notch {
			match(pl)
		}
	}
	// The boards inside notches: bounding boxes of the fragments less the piece
	// are not rebuilt; they must not meet any other placement, and replay.
	for i, pl := range sh.Placements {
		for _, q := range sh.Placements[i+1:] {
			if joverlap(jfrom(pl.Outline), jfrom(q.Outline)) {
				say("%s: %s and %s overlap", sh.ID, pl.Piece, q.Piece)
			}
		}
	}
}

// joverlap reports whether two polygons share area, by sampling a fine set of
// points inside the smaller one and by vertices.
func joverlap(p, q jpoly) bool {
	if math.Abs(p.area()) > math.Abs(q.area()) {
		p, q = q, p
	}
	lo, hi := p[0], p[0]
	for _, v := range p {
		lo = jpt{math.Min(lo.x, v.x), math.Min(lo.y, v.y)}
		hi = jpt{math.Max(hi.x, v.x), math.Max(hi.y, v.y)}
		if q.inside(v) {
			return true
		}
	}
	const n = 9
	for i := 1; i < n; i++ {
		for j := 1; j < n; j++ {
			v := jpt{lo.x + (hi.x-lo.x)*float64(i)/n, lo.y + (hi.y-lo.y)*float64(j)/n}
			if p.inside(v) && q.inside(v) {
				return true
			}
		}
	}
	for _, v := range q {
		if p.inside(v) {
			return true
		}
	}
	return false
}

func judgeAreas(sh Sheet, say func(string, ...any)) {
	sum := 0.0
	for _, pl := range sh.Placements {
		sum += jfrom(pl.Outline).area()
	}
	for _, o := range sh.Offcuts {
		if a := jfrom(o.Outline).area(); a <= 0 {
			say("%s: offcut of area %v", sh.ID, a)
		} else {
			sum += a
		}
	}
	if whole := sh.Width.MM() * sh.Length.MM(); math.Abs(sum-whole) > 1 {
		say("%s: placements and offcuts add up to %.3f of %.3f mm²", sh.ID, sum, whole)
	}
}

func mustPass(t *testing.T, p Problem, s Solution) {
	t.Helper()
	for _, b := range judge(p, s) {
		t.Error(b)
	}
}
