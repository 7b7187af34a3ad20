package run

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// slack is how far an end may be drawn off what it meets and still meet it;
// less than a board piece anybody would cut. Source: common practice, none
// published.
const slack = 25 * measure.Millimetre

// band is a straight or curved strip of wall: an axis with a thickness. Bands
// become runs; those that are not taken off stay as structure that runs meet.
type band struct {
	run       *Run // nil: structure
	make      *job.WallType
	drawing   int
	storey    string
	status    plan.Status
	base      Length
	thickness Length
	axis      line
	length    Length
	arc       *plan.Arc
	walls     []int // indices into Plan.Walls, sorted
	ends      [2]end
	inner     []inner // by station
	sides     [2]side // left, right
	flip      bool
	height    [2]*job.HeightRule
	rating    string
	refs      []ref
}

// ref names one source: a GlobalId or a handle.
type ref struct {
	id     string
	global bool
}

// half returns the distance of a side from the axis.
func (b *band) half() Length { return b.thickness / 2 }

// bandsOf makes one band of each wall and joins those that continue one
// another. The order of walls does not matter to the result.
func bandsOf(p *plan.Plan, j *job.Job, verdicts []verdict) []*band {
	var list []*band
	for i := range p.Walls {
		if b := bandOf(p, j, i, verdicts[i]); b != nil {
			list = append(list, b)
		}
	}
	slices.SortFunc(list, compareBands)
	return joinBands(list)
}

func compareBands(a, b *band) int {
	return cmp.Or(
		cmp.Compare(a.storey, b.storey), cmp.Compare(a.drawing, b.drawing),
		cmp.Compare(a.axis.o.X, b.axis.o.X), cmp.Compare(a.axis.o.Y, b.axis.o.Y),
		cmp.Compare(a.end().X, b.end().X), cmp.Compare(a.end().Y, b.end().Y),
		cmp.Compare(a.thickness, b.thickness), cmp.Compare(a.walls[0], b.walls[0]))
}

func (b *band) end() geom.Pt { return b.pointAt(b.length, 0) }

// bandOf returns the band of one wall, from its lower left end; nil for a wall
// that does not stand there.
func bandOf(p *plan.Plan, j *job.Job, i int, v verdict) *band {
	w := &p.Walls[i]
	if !v.solid {
		return nil
	}
	a, e := w.Axis[0], w.Axis[1]
	flipped := e.X < a.X || e.X == a.X && e.Y < a.Y
	if flipped {
		a, e = e, a
	}
	b := &band{
		make: v.make, drawing: drawingOf(p, w), storey: w.Storey, status: w.Status,
		base: w.Base, walls: []int{i}, rating: w.Rating,
	}
	for _, s := range w.Sources {
		if s.GUID != "" {
			b.refs = append(b.refs, ref{s.GUID, true})
		} else if s.Ref != "" {
			b.refs = append(b.refs, ref{s.Ref, false})
		}
	}
	if v.code != "" {
		b.make = nil
	}
	b.axis, b.length = lineThrough(a, e)
	b.thickness = w.Thickness
	if b.make != nil {
		b.finish(j, drawnAs(p, j, b))
	}
	if w.Arc != nil {
		b.bend(*w.Arc, flipped)
	}
	if b.length == 0 {
		return nil
	}
	return b
}

// finish turns a drawn thickness into the finished one where the drawing shows
// studs or centrelines only.
func (b *band) finish(j *job.Job, drawn job.Drawn) {
	full := b.make.Thickness(j.Board)
	switch {
	case drawn == job.DrawnStud && full > 0:
		// The axis is the middle of the studs; the finished wall's middle lies
		// towards the side with more board.
		shift := (boards(b.make.Sides[0].Plies, j) - boards(b.make.Sides[1].Plies, j)) / 2
		b.axis.o = b.axis.at(0, shift)
		b.thickness = full
	case b.thickness == 0:
		b.thickness = full
	}
}

// drawnAs returns what the wall lines of a band's drawing are.
func drawnAs(p *plan.Plan, j *job.Job, b *band) job.Drawn {
	if b.drawing >= len(p.Drawings) {
		return job.DrawnFinish
	}
	file, best := p.Drawings[b.drawing].File, job.DrawnFinish
	for _, d := range j.Drawings {
		if d.File == file || d.Path == file {
			if best = d.Drawn; d.Storey == b.storey {
				break
			}
		}
	}
	return best
}

// boards is the thickness of a side's plies.
func boards(plies []string, j *job.Job) Length {
	var sum Length
	for _, p := range plies {
		if b := j.Board(p); b != nil {
			sum += b.Thickness
		}
	}
	return sum
}

func drawingOf(p *plan.Plan, w *plan.Wall) int {
	if len(w.Sources) == 0 {
		return 0
	}
	at := 0
	for i, d := range p.Drawings {
		if d.File == w.Sources[0].File {
			at = i
			if d.Storey == w.Storey {
				return i
			}
		}
	}
	return at
}

// joinBands joins bands of one make-up that continue one another: ends that
// touch, overlaps, and gaps that a crossing wall fills.
func joinBands(list []*band) []*band {
	parent := make([]int, len(list))
	for i := range parent {
		parent[i] = i
	}
	var find func(int) int
	find = func(i int) int {
		if parent[i] != i {
			parent[i] = find(parent[i])
		}
		return parent[i]
	}
	var open [][2]int // collinear, apart by no more than a wall's thickness
	near := nearPairs(list)
	for _, q := range near {
		switch a, b := list[q[0]], list[q[1]]; {
		case !sameMake(a, b) || !collinear(a, b):
		case apart(a, b) <= joinGap:
			parent[max(find(q[0]), find(q[1]))] = min(find(q[0]), find(q[1]))
		default:
			open = append(open, q)
		}
	}
	for _, q := range open {
		if filled(list, near, q) {
			parent[max(find(q[0]), find(q[1]))] = min(find(q[0]), find(q[1]))
		}
	}
	var out []*band
	for i, b := range list {
		if k := find(i); k != i {
			list[k].absorb(b)
		}
	}
	for i, b := range list {
		if find(i) == i {
			slices.Sort(b.walls)
			out = append(out, b)
		}
	}
	return out
}

// joinGap is the drafting gap that is closed without asking.
// Source: common practice, none published.
const joinGap = 5 * measure.Millimetre

// lateral is how far off one another collinear walls may be drawn.
const lateral = measure.Millimetre

func sameMake(a, b *band) bool {
	return a.make == b.make && a.arc == nil && b.arc == nil && a.status == b.status && a.base == b.base &&
		a.storey == b.storey && a.drawing == b.drawing && (a.thickness-b.thickness).Abs() <= thicknessTol
}

// collinear reports whether the shorter band's ends lie on the longer one's
// axis.
func collinear(a, b *band) bool {
	if a.length < b.length {
		a, b = b, a
	}
	return a.axis.left(b.axis.o).Abs() <= lateral && a.axis.left(b.end()).Abs() <= lateral
}

// apart is the gap between two collinear bands; negative where they overlap.
func apart(a, b *band) Length {
	s, e := a.axis.along(b.axis.o), a.axis.along(b.end())
	return max(min(s, e)-a.length, -max(s, e))
}

// filled reports whether a wall across the gap between two collinear bands
// fills it.
func filled(list []*band, near [][2]int, q [2]int) bool {
	a, b := list[q[0]], list[q[1]]
	s, e := a.axis.along(b.axis.o), a.axis.along(b.end())
	lo, hi := a.length, min(s, e)
	if hi < lo {
		lo, hi = max(s, e), 0
	}
	for _, n := range near {
		if n[0] != q[0] && n[1] != q[0] {
			continue
		}
		c := list[n[0]+n[1]-q[0]]
		x, ok := a.axis.meet(0, c.axis, 0)
		if c == b || !ok || c.arc != nil {
			continue
		}
		on := c.axis.along(a.axis.at(x, 0))
		wide := geom.MulDiv(c.half(), one, a.axis.d.cross(c.axis.d).Abs()) + joinGap
		if x-wide <= lo && x+wide >= hi && on >= -slack && on <= c.length+slack {
			return true
		}
	}
	return false
}

// absorb joins the collinear band b to a; the axis then runs between the
// outermost of the four ends, as drawn.
func (a *band) absorb(b *band) {
	from, to := a.axis.o, a.end()
	for _, p := range []geom.Pt{b.axis.o, b.end()} {
		if a.axis.along(p) < a.axis.along(from) {
			from = p
		}
		if a.axis.along(p) > a.axis.along(to) {
			to = p
		}
	}
	if b.length > a.length {
		a.thickness = b.thickness
	}
	a.axis, a.length = lineThrough(from, to)
	a.walls = append(a.walls, b.walls...)
	a.refs = append(a.refs, b.refs...)
	if a.rating == "" {
		a.rating = b.rating
	}
}
