package run

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// What a welded frame is and what board does at it. Sources: frame makers'
// published tables, face of a hollow-metal frame 2 in, rough opening 1/4 in over
// its outside; board enters its throat by 1/2 in: common practice.
const (
	frameFace  = 2 * measure.Inch
	throat     = measure.Inch / 2
	weldedPlay = measure.Inch / 4
)

// openings settles the openings of a run and cuts their holes.
func (bld *builder) openings(b *band) {
	var list []Opening
	for _, i := range bld.openingsOf(b) {
		o := &bld.p.Openings[i]
		q := bld.settle(b, o)
		if q.Width <= 0 || q.Head <= q.Sill {
			bld.openingNote(plan.Person, "opening-no-size", b, &q, "it has no width or no height", "left out; give its frame a size in the job file")
			continue
		}
		list = append(list, q)
	}
	slices.SortStableFunc(list, func(x, y Opening) int {
		return cmp.Or(cmp.Compare(x.Centre, y.Centre), cmp.Compare(x.Sill, y.Sill), cmp.Compare(x.Width, y.Width), cmp.Compare(x.Mark, y.Mark))
	})
	list = bld.joinOpenings(b, list)
	for i := range list {
		list[i].ID = fmt.Sprintf("%s-O%d", b.run.ID, i+1)
	}
	b.run.Openings = list
	for _, f := range b.run.Faces {
		if f.Side <= Right {
			bld.cutHoles(b, f)
		}
	}
	for i := range list {
		bld.fits(b, &list[i])
	}
}

// openingsOf returns the indices of the openings in the walls of a band.
func (bld *builder) openingsOf(b *band) []int {
	if bld.hosted == nil {
		bld.hosted = map[int][]int{}
		for i, o := range bld.p.Openings {
			bld.hosted[o.Wall] = append(bld.hosted[o.Wall], i)
		}
	}
	var out []int
	for _, w := range b.walls {
		out = append(out, bld.hosted[w]...)
	}
	return out
}

// stationOf converts u along a wall's own axis to a station of the band as
// drawn.
func (b *band) stationOf(w *plan.Wall, u Length) Length {
	if b.arc != nil {
		if b.axis.o != w.Axis[0] {
			return b.length - u
		}
		return u
	}
	l, _ := lineThrough(w.Axis[0], w.Axis[1])
	return b.axis.along(l.at(u, 0))
}

// settle resolves one opening: which frame it has, the rough opening, the hole
// in the board.
func (bld *builder) settle(b *band, o *plan.Opening) Opening {
	w := &bld.p.Walls[o.Wall]
	q := Opening{
		Kind: o.Kind, Mark: o.Mark, Sources: o.Sources, Sill: o.Sill, HeadBy: o.HeadBy,
		Centre: b.stationOf(w, o.At) + b.ends[0].shift,
		First:  o.Kind == plan.Penetration,
	}
	for _, p := range o.Shape {
		q.Shape = append(q.Shape, geom.Pt{X: b.stationOf(w, p.X) + b.ends[0].shift, Y: p.Y})
	}
	if o.Kind == plan.Penetration || o.Kind == plan.Niche {
		bld.bare(o, &q)
		return q
	}
	f := bld.frameOf(b, o)
	q.Frame, q.FrameKind, q.Basis = f.Name, f.Kind, f.Basis
	width, height := bld.sizes(b, o, f, &q)
	q.Nominal = [2]Length{width, height}
	bld.rough(b, f, width, height, &q)
	return q
}

// bare sets the hole of a duct, pipe or niche: as drawn, with the clearance of a
// cut-out round what passes through.
func (bld *builder) bare(o *plan.Opening, q *Opening) {
	clear := bld.j.Rules.Cutout
	if o.Kind == plan.Niche {
		clear = 0
	}
	q.Basis, q.FrameKind = "drawn", job.NoFrame
	q.Nominal = [2]Length{o.Width, o.Head - o.Sill}
	q.Width, q.Sill, q.Head = o.Width+2*clear, o.Sill-clear, o.Head+clear
	q.RoughWidth, q.RoughHead = q.Width, q.Head
}

// frameOf returns the frame of the job that fits an opening best: one that
// names its mark or type over one that names its kind. Without any, the
// opening is taken as drawn.
func (bld *builder) frameOf(b *band, o *plan.Opening) *job.Frame {
	best, weight := -1, -1
	for i := range bld.j.Frames {
		f := &bld.j.Frames[i]
		n := 0
		if f.Mark != "" {
			if !like(f.Mark, o.Mark) && !like(f.Mark, o.Type) {
				continue
			}
			n += 2
		}
		if f.For != "" {
			if !strings.EqualFold(f.For, o.Kind.String()) {
				continue
			}
			n++
		}
		if n > weight {
			best, weight = i, n
		}
	}
	if best >= 0 {
		if bld.j.Frames[best].Assumed {
			bld.assume(b, "frame")
		}
		return &bld.j.Frames[best]
	}
	f := &job.Frame{Basis: "drawn"}
	if o.Kind == plan.Wrapped {
		f.Kind = job.NoFrame
		return f
	}
	bld.noteOnce("frame "+o.Kind.String(), plan.Exception{
		Severity: plan.Warning, Code: "frame-assumed", Target: b.run.ID, Source: firstSource(o.Sources),
		Message: fmt.Sprintf("no frame of the job is for a %s", o.Kind),
		Did:     "every such opening is taken as drawn, its frame set after the board; give a frame in the job file"})
	bld.assume(b, "frame")
	return f
}

// defaultHead is a door's height where nobody gives one: 7 ft, or 2100 mm.
// Source: common practice, none published.
func defaultHead(s measure.System) Length {
	if s == measure.Metric {
		return 2100 * measure.Millimetre
	}
	return 7 * measure.Foot
}

// sizes returns the width and height that the frame's basis speaks of: the
// leaf's where the drawing tells it and the basis is the leaf, else as drawn,
// else the frame's own. It sets q.Sill.
func (bld *builder) sizes(b *band, o *plan.Opening, f *job.Frame, q *Opening) (width, height Length) {
	drawn := Length(0)
	if o.Head > 0 {
		drawn = o.Head - o.Sill
	}
	leaf := o.Leaf
	if o.Leaves == 2 && (2*leaf[0]-o.Width).Abs() < (leaf[0]-o.Width).Abs() {
		leaf[0] *= 2 // a pair, told by one of its leaves
	}
	if strings.EqualFold(f.Basis, "leaf") {
		width, height = cmp.Or(leaf[0], o.Width, f.Width), cmp.Or(leaf[1], drawn)
	} else {
		width, height = cmp.Or(o.Width, leaf[0], f.Width), cmp.Or(drawn, leaf[1])
	}
	if q.Sill == 0 && o.Kind == plan.Window {
		q.Sill = f.Sill
	}
	if height == 0 {
		if height, q.HeadBy = f.Height, "job"; f.Assumed {
			q.HeadBy = "assumed"
			bld.assume(b, "head of an opening")
		}
	}
	if height == 0 {
		height, q.HeadBy = defaultHead(bld.j.System)-q.Sill, "assumed"
		bld.assume(b, "head of an opening")
		bld.noteOnce("head "+o.Kind.String()+o.Type, plan.Exception{
			Severity: plan.Person, Code: "head-unknown", Target: b.run.ID, Source: firstSource(o.Sources),
			Message: fmt.Sprintf("the height of openings of kind %s is not known", strings.TrimSpace(o.Kind.String()+" "+o.Type)),
			Did:     fmt.Sprintf("taken as %s; give their frame a height in the job file", bld.short(q.Sill+height))})
	}
	return width, height
}

// rough sets the rough opening and the hole in the board from a size and the
// frame it is the size of.
func (bld *builder) rough(b *band, f *job.Frame, width, height Length, q *Opening) {
	addW, addH := f.AddWidth, f.AddHeight
	if addW == 0 && addH == 0 {
		addW, addH = job.Allowance(f.Kind, strings.ToLower(f.Basis), bld.j.System)
	}
	q.RoughWidth, q.RoughHead = width+addW, q.Sill+height+addH
	q.Width, q.Head = q.RoughWidth, q.RoughHead
	switch f.Kind {
	case job.Welded:
		outW, outH := outside(f, width, height, q)
		q.Width, q.Head = outW-2*throat, q.Sill+outH-throat
		if q.Kind == plan.Window { // the frame runs round: the sill is covered as the head is
			q.Sill += throat
		}
	case job.NoFrame:
		// The drawing gives the clear opening; the reveal's boards stand in it.
		t := boards(b.plies(max(b.endSide(), 0)), bld.j)
		q.RoughWidth, q.RoughHead = width+2*t, q.Sill+height+t
		if q.Kind != plan.Door && q.Sill > 0 {
			q.Sill -= t
		}
		q.Width, q.Head = q.RoughWidth, q.RoughHead
	}
}

// outside is the size of a welded frame over its faces. A sill is not a face.
func outside(f *job.Frame, width, height Length, q *Opening) (w, h Length) {
	face := f.FaceWidth
	if face == 0 {
		face = frameFace
	}
	switch strings.ToLower(f.Basis) {
	case "leaf":
		return width + 2*face, height + face
	case "frame":
		return width, height
	case "rough":
		return width - weldedPlay, height - weldedPlay
	}
	// As drawn: between jambs, taken for the hole in the wall that is seen.
	return width + 2*throat, height + throat
}

// joinOpenings joins openings of a run that overlap: two holes in one place
// would be one.
func (bld *builder) joinOpenings(b *band, list []Opening) []Opening {
	var out []Opening
	for _, q := range list {
		n := len(out)
		if n == 0 || !overlaps(&out[n-1], &q) {
			out = append(out, q)
			continue
		}
		p := &out[n-1]
		bld.openingNote(plan.Warning, "openings-overlap", b, &q, "it overlaps another opening of the wall", "both are cut as one hole")
		lo, hi := min(p.lo(), q.lo()), max(p.hi(), q.hi())
		p.Centre, p.Width = (lo+hi)/2, hi-lo
		p.Sill, p.Head = min(p.Sill, q.Sill), max(p.Head, q.Head)
		p.RoughWidth, p.RoughHead = max(p.Width, p.RoughWidth), max(p.RoughHead, q.RoughHead)
		p.Sources = append(slices.Clone(p.Sources), q.Sources...)
		p.Shape = nil
	}
	return out
}

func (q *Opening) lo() Length { return q.Centre - q.Width/2 }
func (q *Opening) hi() Length { return q.lo() + q.Width }

func overlaps(p, q *Opening) bool {
	return q.lo() < p.hi() && p.lo() < q.hi() && q.Sill < p.Head && p.Sill < q.Head
}

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
		if q.Sill <= b.base {
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

// reveals gives wrapped openings their returns: two jambs and a head, and a sill
// under a window, as wide as studs and both boards.
func (bld *builder) reveals(b *band) {
	n := 0
	k := b.endSide()
	if k < 0 {
		return
	}
	for i := range b.run.Openings {
		q := &b.run.Openings[i]
		if q.FrameKind != job.NoFrame || q.Kind == plan.Penetration || q.Kind == plan.Niche {
			continue
		}
		t := boards(b.plies(k), bld.j)
		bottom := max(q.Sill, b.base+bld.j.Rules.FloorGap)
		add := func(station, length, from, to Length) {
			n++
			step := bld.j.Rules.Step
			f := &Face{Run: b.run, Side: Reveal, ID: fmt.Sprintf("%s-V%d", b.run.ID, n), Boarded: true, Opening: i,
				Start: toStep(station, step), Length: toStep(length, step), Bottom: toStep(from, step), Head: FixedTop,
				HeightBy: "opening", Finish: b.made(k).Finish}
			f.Finished = f.Length
			f.Parts = []Part{{0, f.Length, ""}}
			f.Top = geom.Level(0, f.Length, toStep(to, step))
			f.Ends = [2]FaceEnd{{Kind: EndFree}, {Kind: EndFree}}
			b.run.Faces = append(b.run.Faces, f)
		}
		// The head board hangs first; jambs stand under it, on the sill board.
		low := bottom
		if q.Sill > bottom {
			low += t
		}
		add(q.lo(), b.thickness, low, q.Head-t)
		add(q.hi(), b.thickness, low, q.Head-t)
		add(q.lo(), q.Width, 0, b.thickness)
		if q.Sill > bottom {
			add(q.lo(), q.Width, 0, b.thickness)
		}
	}
}
