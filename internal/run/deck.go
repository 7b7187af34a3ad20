package run

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// plane is z(x, y) fitted to points by least squares, kept as whole numbers:
//
//	z = (sz·D + A·(n·x − sx) + B·(n·y − sy)) / (n·D)
//
// with n points and their sums. Three points are met exactly.
type plane struct {
	n, sx, sy, sz, a, b, d *big.Int
}

// level returns the plane z.
func level(z Length) plane {
	return plane{n: big.NewInt(1), sx: big.NewInt(0), sy: big.NewInt(0), sz: big.NewInt(int64(z)),
		a: big.NewInt(0), b: big.NewInt(0), d: big.NewInt(1)}
}

// fit returns the plane through points. Points in one line give a plane that
// rises along the line and is level across it; ok is false for no points.
func fit(pts []job.Point3) (p plane, ok bool) {
	if len(pts) == 0 {
		return plane{}, false
	}
	p = plane{n: big.NewInt(int64(len(pts))), sx: new(big.Int), sy: new(big.Int), sz: new(big.Int)}
	for _, q := range pts {
		p.sx.Add(p.sx, big.NewInt(int64(q.X)))
		p.sy.Add(p.sy, big.NewInt(int64(q.Y)))
		p.sz.Add(p.sz, big.NewInt(int64(q.Z)))
	}
	centred := func(v Length, sum *big.Int) *big.Int {
		x := new(big.Int).Mul(p.n, big.NewInt(int64(v)))
		return x.Sub(x, sum)
	}
	var xx, xy, yy, xz, yz big.Int
	for _, q := range pts {
		x, y, z := centred(q.X, p.sx), centred(q.Y, p.sy), centred(q.Z, p.sz)
		for _, t := range [...]struct{ sum, a, b *big.Int }{{&xx, x, x}, {&xy, x, y}, {&yy, y, y}, {&xz, x, z}, {&yz, y, z}} {
			t.sum.Add(t.sum, new(big.Int).Mul(t.a, t.b))
		}
	}
	// With centred sums n times the points' own, A/D and B/D are the slopes.
	p.a, p.b, p.d = minus(&xz, &yy, &yz, &xy), minus(&yz, &xx, &xz, &xy), minus(&xx, &yy, &xy, &xy)
	if p.d.Sign() == 0 {
		// In one line: A/D = Sxz/(Sxx+Syy), B/D = Syz/(Sxx+Syy).
		p.a.Set(&xz)
		p.b.Set(&yz)
		p.d.Add(&xx, &yy)
		if p.d.Sign() == 0 {
			p.d.SetInt64(1)
		}
	}
	return p, true
}

// minus returns ab − cd.
func minus(a, b, c, d *big.Int) *big.Int {
	x := new(big.Int).Mul(a, b)
	return x.Sub(x, new(big.Int).Mul(c, d))
}

// at returns z over a point, rounded to the grid, halves up.
func (p plane) at(q geom.Pt) Length {
	x := new(big.Int).Mul(p.n, big.NewInt(int64(q.X)))
	x.Sub(x, p.sx).Mul(x, p.a)
	y := new(big.Int).Mul(p.n, big.NewInt(int64(q.Y)))
	y.Sub(y, p.sy).Mul(y, p.b)
	num := new(big.Int).Mul(p.sz, p.d)
	num.Add(num, x).Add(num, y)
	den := new(big.Int).Mul(p.n, p.d)
	num.Lsh(num, 1).Add(num, den)
	return Length(num.Div(num, den.Lsh(den, 1)).Int64())
}

// surface is the underside of a deck or ceiling over part of a storey.
type surface struct {
	outline geom.Poly // empty: everywhere
	plane   plane
	order   int // lower comes first where several cover a place
	by      string
}

// Order of surfaces over one place: what the job says, then the model, then
// what nobody said. An outline goes before a whole storey.
const (
	byJob = iota * 2
	byModel
	byDefault
)

// decksOver returns the decks of a storey in order, and exceptions about points
// that do not lie in a plane.
func decksOver(storey string, p *plan.Plan, j *job.Job) []surface {
	var out []surface
	for i := range j.Decks {
		d := &j.Decks[i]
		if d.Storey != "" && !strings.EqualFold(d.Storey, storey) {
			continue
		}
		s := surface{outline: d.Outline, plane: level(d.Level), by: "deck", order: byJob}
		if f, ok := fit(d.Points); ok {
			s.plane = f
		} else if d.Level == 0 {
			continue
		}
		if assumedDeck(j, d) {
			s.order, s.by = byDefault, "deck (assumed)"
		}
		out = append(out, s)
	}
	for _, d := range p.Decks {
		if d.Storey != "" && d.Storey != storey {
			continue
		}
		out = append(out, surface{outline: d.Outline, plane: planeOf(d), by: "deck of the model", order: byModel})
	}
	for i := range out {
		if len(out[i].outline) < 3 {
			out[i].order++
		}
	}
	slices.SortStableFunc(out, func(a, b surface) int { return cmp.Compare(a.order, b.order) })
	return out
}

func planeOf(d plan.Deck) plane {
	var pts []job.Point3
	for _, q := range d.Plane {
		pts = append(pts, job.Point3(q))
	}
	f, _ := fit(pts)
	return f
}

// assumedDeck reports whether a deck of the job is a default nobody gave.
func assumedDeck(j *job.Job, d *job.Deck) bool {
	for _, a := range j.Assumed {
		if a.Height && strings.EqualFold(a.Path, "decks."+d.Storey+".level") {
			return true
		}
	}
	return false
}

// checkDecks lists decks of the job whose points do not lie in one plane.
func (bld *builder) checkDecks() {
	for i := range bld.j.Decks {
		d := &bld.j.Decks[i]
		f, ok := fit(d.Points)
		if !ok || len(d.Points) < 4 {
			continue
		}
		var worst Length
		for _, q := range d.Points {
			worst = max(worst, (q.Z - f.at(geom.Pt{X: q.X, Y: q.Y})).Abs())
		}
		e := plan.Exception{Severity: plan.Note, Code: "deck-fitted", Source: plan.Source{File: bld.j.File, Line: d.Line},
			Message: fmt.Sprintf("a plane was fitted to the %d points of the deck; the worst is %s off", len(d.Points), measure.Exact(worst, bld.j.System)),
			Did:     "tops follow the plane"}
		if worst > residualWarn {
			e.Severity, e.Did = plan.Warning, "tops follow the plane; split the deck where it bends, or check the points"
		}
		bld.set.Exceptions = append(bld.set.Exceptions, e)
	}
}

// residualWarn is how far a measured point may lie off its deck's plane before
// somebody should look. Source: common practice, none published.
const residualWarn = measure.Inch / 4

// stretch is part of a line under one surface; of is −1 where there is none.
type stretch struct {
	u0, u1 Length
	of     int
}

// stretches cuts the line from a to b (u from 0 to its length) at the outlines
// of the surfaces and says which one lies over each part: of those with the
// lowest order the lowest.
func stretches(list []surface, a, b geom.Pt) []stretch {
	l, length := lineThrough(a, b)
	crossed := make([][]Length, len(list))
	cuts := []Length{0, length}
	for i, s := range list {
		crossed[i] = crossingsOf(s.outline, l)
		for _, u := range crossed[i] {
			if u > 0 && u < length {
				cuts = append(cuts, u)
			}
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	var out []stretch
	for i := 1; i < len(cuts); i++ {
		st := stretch{cuts[i-1], cuts[i], -1}
		mid := (st.u0 + st.u1) / 2
		for k, s := range list {
			if len(s.outline) >= 3 && !oddBeyond(crossed[k], mid) {
				continue
			}
			z := s.plane.at(l.at(mid, 0))
			if st.of < 0 || s.order == list[st.of].order && z < list[st.of].plane.at(l.at(mid, 0)) {
				st.of = k
			}
		}
		if n := len(out); n > 0 && out[n-1].of == st.of {
			out[n-1].u1 = st.u1
		} else {
			out = append(out, st)
		}
	}
	return out
}

// crossingsOf returns where the edges of a polygon cross a line.
func crossingsOf(poly geom.Poly, l line) []Length {
	var out []Length
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		wp, wq := l.left(p), l.left(q)
		if (wp >= 0) == (wq >= 0) {
			continue
		}
		sp, sq := l.along(p), l.along(q)
		out = append(out, sp+geom.MulDiv(sq-sp, wp, wp-wq))
	}
	return out
}

// oddBeyond reports whether an odd number of crossings lie beyond u: u is then
// inside the polygon.
func oddBeyond(crossed []Length, u Length) bool {
	odd := false
	for _, c := range crossed {
		if c > u {
			odd = !odd
		}
	}
	return odd
}

// inside reports whether a point lies in a polygon.
func inside(poly geom.Poly, p geom.Pt) bool {
	return len(poly) >= 3 && oddBeyond(crossingsOf(poly, line{p, dir{x: one}}), 0)
}
