package run

import (
	"cmp"
	"fmt"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/plan"
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
	bld.editOpenings(list)
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
		q.stretch(o)
		return q
	}
	f := bld.frameOf(b, o)
	q.Frame, q.FrameKind, q.Basis = f.Name, f.Kind, f.Basis
	width, height := bld.sizes(b, o, f, &q)
	q.Nominal = [2]Length{width, height}
	bld.rough(b, f, width, height, &q)
	q.stretch(o)
	return q
}

// stretch brings the drawn outline of an opening that is no rectangle to the
// hole that its frame or clearance makes of it: each side moves out as that of
// a rectangle would. A round hole stays round.
func (q *Opening) stretch(o *plan.Opening) {
	if len(q.Shape) == 0 {
		return
	}
	from := q.Shape.Bounds()
	to := geom.Rect{Min: geom.Pt{X: q.lo(), Y: q.Sill}, Max: geom.Pt{X: q.hi(), Y: q.Head}}
	if from.Empty() || to.Empty() || o.Width <= 0 || o.Head <= o.Sill {
		q.Shape = nil
		return
	}
	for i, p := range q.Shape {
		q.Shape[i] = geom.Pt{X: to.Min.X + geom.MulDiv(p.X-from.Min.X, to.W(), from.W()), Y: to.Min.Y + geom.MulDiv(p.Y-from.Min.Y, to.H(), from.H())}
	}
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
