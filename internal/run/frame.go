package run

import (
	"cmp"
	"fmt"
	"strings"

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

// frameOf returns the frame of the job that fits an opening best: one that
// names its mark, type or scheduled frame over one that names its kind. Without any, the
// opening is taken as drawn.
func (bld *builder) frameOf(b *band, o *plan.Opening) *job.Frame {
	best, weight := -1, -1
	for i := range bld.j.Frames {
		f := &bld.j.Frames[i]
		n := 0
		if f.Mark != "" {
			if !like(f.Mark, o.Mark) && !like(f.Mark, o.Type) && !like(f.Mark, o.Frame) {
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
		if q.Kind == plan.Framed {
			q.Kind = plan.Wrapped // trimmed by nothing but its own board
		}
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
