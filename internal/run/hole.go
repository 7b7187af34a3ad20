package run

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// cutHoles cuts the holes of a face, clipped to it, on the measuring step.
func (bld *builder) cutHoles(b *band, f *Face) {
	step := bld.j.Rules.Step
	k := int(f.Side)
	for i := range b.run.Openings {
		q := &b.run.Openings[i]
		if q.Kind == plan.Niche && !bld.nicheOn(b, q, k) {
			continue
		}
		u := toStep(f.uOf(b, q.Centre)-q.Width/2, step)
		whole := geom.Rect{Min: geom.Pt{X: u, Y: toStep(q.Sill, step)}, Max: geom.Pt{X: u + toStep(q.Width, step), Y: toStep(q.Head, step)}}
		if q.Sill <= b.base || q.Kind == plan.Door {
			whole.Min.Y = min(whole.Min.Y, f.Bottom)
		}
		r := whole.Intersect(geom.Rect{Min: geom.Pt{Y: f.Bottom}, Max: geom.Pt{X: f.Length, Y: whole.Max.Y}})
		r.Max.Y = min(r.Max.Y, f.Top.Max(r.Min.X, r.Max.X))
		if r.Empty() {
			continue
		}
		h := Hole{Opening: i, Rect: r, First: q.First, Sealed: q.Kind == plan.Penetration, Wrapped: q.FrameKind == job.NoFrame && q.Kind != plan.Penetration && q.Kind != plan.Niche}
		if len(q.Shape) > 0 {
			h.Shape = f.onFace(b, q.Shape)
		}
		f.Holes = append(f.Holes, h)
	}
	slices.SortFunc(f.Holes, func(x, y Hole) int {
		return cmp.Or(cmp.Compare(x.Rect.Min.X, y.Rect.Min.X), cmp.Compare(x.Opening, y.Opening))
	})
}

// onFace turns an outline on (station, v) into the face's frame,
// counter-clockwise.
func (f *Face) onFace(b *band, shape geom.Poly) geom.Poly {
	out := make(geom.Poly, len(shape))
	for i, p := range shape {
		out[i] = geom.Pt{X: f.uOf(b, p.X), Y: p.Y}
	}
	var twice Length // area in square centimetres is enough for a sign
	const cm = measure.Centimetre
	for i, p := range out {
		q := out[(i+1)%len(out)]
		twice += (p.X/cm)*(q.Y/cm) - (q.X/cm)*(p.Y/cm)
	}
	if twice < 0 {
		reverse(out)
	}
	return out
}

// nicheOn reports whether a niche is in side k: the side whose model shape has a
// hole there, or both where the drawing does not tell.
func (bld *builder) nicheOn(b *band, q *Opening, k int) bool {
	has := [2]bool{}
	for _, i := range b.walls {
		w := &bld.p.Walls[i]
		back := b.axis.d.dot(b.wallDir(w)) < 0
		for s := range w.Sides {
			for _, hole := range w.Sides[s].Holes {
				r := hole.Bounds()
				x := b.stationOf(w, (r.Min.X+r.Max.X)/2) + b.ends[0].shift
				if x > q.lo() && x < q.hi() {
					has[s^int(compareBool(back, false))] = true
				}
			}
		}
	}
	return has[k] || has == [2]bool{}
}

func (b *band) wallDir(w *plan.Wall) dir {
	l, _ := lineThrough(w.Axis[0], w.Axis[1])
	return l.d
}

// fits lists openings that reach past their wall's ends or top.
func (bld *builder) fits(b *band, q *Opening) {
	r := b.run
	if q.lo() < -slack || q.hi() > r.Length+slack {
		bld.openingNote(plan.Warning, "opening-past-end", b, q, "it reaches past the end of its wall", "cut at the end; check width and place")
	}
	for _, f := range r.Faces {
		if f.Side > Right || !f.Boarded {
			continue
		}
		u0, u1 := f.U(q.lo()), f.U(q.hi())
		if u0, u1 = max(min(u0, u1), 0), min(max(u0, u1), f.Length); u0 < u1 && q.Head > f.Top.Min(u0, u1) && q.Kind != plan.Penetration {
			bld.openingNote(plan.Warning, "opening-above-top", b, q, "its head is above the top of face "+f.ID, "cut at the top; check head and height")
			break
		}
	}
	for k := range b.sides {
		if lo, hi := max(q.lo(), 0), min(q.hi(), r.Length); b.seen(k, lo, hi) < hi-lo-slack && q.lo() > b.corner(k, 0) && q.hi() < b.corner(k, 1) {
			bld.openingNote(plan.Warning, "opening-at-junction", b, q, "it stands where another wall meets this one", "cut as far as the board goes; check its place")
			return
		}
	}
}

// seen returns how much of [lo, hi], in stations of the run, the faces of side k
// cover.
func (b *band) seen(k int, lo, hi Length) Length {
	var sum Length
	for _, e := range b.sides[k].edges {
		if e.face != nil {
			sum += max(0, min(hi, e.to+b.ends[0].shift)-max(lo, e.from+b.ends[0].shift))
		}
	}
	return sum
}

// corner returns the station where side k of a run begins (i = 0) or ends.
func (b *band) corner(k, i int) Length {
	edges := b.sides[k].edges
	if i == 0 {
		return edges[0].from + b.ends[0].shift
	}
	return edges[len(edges)-1].to + b.ends[0].shift
}

func (bld *builder) openingNote(s plan.Severity, code string, b *band, q *Opening, message, did string) {
	target := q.ID
	if target == "" {
		target = b.run.ID
	}
	what := q.Kind.String()
	if q.Mark != "" {
		what += " " + q.Mark
	}
	at := b.pointAt(q.Centre-b.ends[0].shift, 0)
	bld.set.Exceptions = append(bld.set.Exceptions, plan.Exception{
		Severity: s, Code: code, Target: target, At: &at, Source: firstSource(q.Sources), Message: what + ": " + message, Did: did})
}
