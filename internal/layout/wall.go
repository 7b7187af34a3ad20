package layout

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// wall is a run as the search sees it: both sides in one frame, stations along
// the axis and heights above the storey's floor.
type wall struct {
	*run.Run            // as laid out
	of         *run.Run // as given
	env        Env
	plies      []*ply  // by depth through the wall, then station
	strips     []*ply  // plies of ends and reveals, each laid out by itself
	pruned     bool    // some choices were not looked at
	held       []*find // best so far with sheets along the studs
	tier       int     // of the horizontal joints looked at
	skipped    bool    // something was not looked at because it cannot be among the best
	near       bool    // nothing else is left: plies of one side need not keep a bay apart
	exceptions []plan.Exception

	sheets map[sheetKey]int64 // prices looked up
	lines  []Length           // of joinLines
	stacks [][]stack          // of rowGroups

	listing    *rules.Listing // fire design that governs; nil if none does
	bits       []bit          // scratch of fill
	parts      []part
	rips       []rip   // scratch of chargeRests
	ripOrder   []int32 // scratch of chargeRips
	layRoom    []lay   // slabs
	lengthRoom []Length
	labelRoom  []label
	ripRoom    []rip
	pairs      []pair // scratch of put
	pairOrder  []int32
	mixed      []rip               // scratch of settle and rankCombos
	where      []Length            // scratch of stations
	least      []int               // scratch of fewestIn
	chosen     []choice            // scratch of choices
	used       []Length            // scratch of chargeRests
	alone      []rip               // scratch of a sweep's moves
	tried      []try               // scratch of chain
	off        map[offKey][]Length // of offStations
}

// ply is one thickness of board of one face, in stations.
type ply struct {
	face    *run.Face
	spec    run.Ply
	depth   int // through the wall: … −2 left face ply, −1 left base, 0 right base, 1 right face ply …
	board   *job.Board
	s0, s1  Length // extent
	bottom  Length
	top     geom.Profile
	mean    Length      // of top
	holes   []hole      // by x0
	legs    []geom.Rect // strips beside openings hung by themselves
	width   Length      // of the sheets used
	lengths []Length    // of sheets that wide, shortest first
	ceiling Length
	bands   []zoneBand // other boards at other heights, bottom up; nil = one board throughout
	costs   []*costs   // of columns and joints looked at
}

// hole is a hole in a ply's board, in stations.
type hole struct {
	x0, x1, y0, y1 Length
	shape          geom.Poly
	opening        int
	first          bool // no closed hole round it in one piece
	banded         bool // joints keep off its jamb lines
}

// newWall turns a run into stations. A face that cannot be laid out is listed
// and left out.
func newWall(r *run.Run, env Env) *wall {
	w := &wall{Run: r, env: env, of: r}
	if r.Spacing != 0 && r.Spacing < 2*env.Rules.Flange {
		own := *r // no stud fits between two so close: none but those of joints
		own.Spacing = 0
		w.Run = &own
		w.list(plan.Person, codeSpacing, r.ID, "studs at %s cannot be: their flanges touch", "studs under joints only; give a spacing", w.say(r.Spacing))
	}
	ok := w.govern()
	for _, f := range r.Faces {
		if !f.Boarded || !ok {
			continue
		}
		for _, spec := range f.Plies {
			if !sided(f) {
				if p := w.newPly(f, spec); p != nil {
					w.strips = append(w.strips, p)
				}
				continue
			}
			for _, part := range w.zonePlies(f, spec) {
				if p := w.newPly(f, part); p != nil {
					w.plies = append(w.plies, p)
				}
			}
		}
	}
	slices.SortStableFunc(w.plies, func(a, b *ply) int { return cmp.Or(cmp.Compare(a.depth, b.depth), cmp.Compare(a.s0, b.s0)) })
	return w
}

// neighbours reports whether p and q are next to each other through the wall.
func (p *ply) neighbours(q *ply) bool {
	return (p.depth-q.depth == 1 || q.depth-p.depth == 1) && p.s0 < q.s1 && q.s0 < p.s1
}

func (w *wall) newPly(f *run.Face, spec run.Ply) *ply {
	board := w.env.Boards(spec.Board)
	if len(spec.Zones) == 1 && covers(spec.Zones[0].Rect, spec, f) {
		board = w.env.Boards(spec.Zones[0].Board)
	}
	switch {
	case board == nil:
		w.list(plan.Person, codeNoLayout, f.ID, "its board %q is not among the boards of the job", "left out", spec.Board)
		return nil
	case spec.U1 <= spec.U0:
		w.list(plan.Note, codeNoLayout, f.ID, "ply %d has no length after laps", "nothing to hang", spec.Number)
		return nil
	}
	p := &ply{face: f, spec: spec, board: board, bottom: f.Bottom, ceiling: f.Ceiling}
	p.s0, p.s1 = f.Station(spec.U0), f.Station(spec.U1)
	p.top = f.Top.Shift(f.Start, 0)
	p.depth = spec.Number - 1
	if f.Side == run.Left {
		p.depth = -spec.Number
		p.s0, p.s1 = p.s1, p.s0
		p.top = f.Top.Mirror(f.Length).Shift(f.Start, 0)
	}
	if p.top.Max(p.s0, p.s1) <= p.bottom {
		w.list(plan.Person, codeNoLayout, f.ID, "its top is not above its bottom", "left out; give it a height")
		return nil
	}
	p.mean = p.top.Mean(p.s0, p.s1)
	p.width, p.lengths = pickWidth(board, w.Spacing)
	if p.width < leastSheet || p.lengths[0] < leastSheet {
		w.list(plan.Person, codeNoLayout, f.ID, "no sheets of %q a foot wide and long can be bought", "left out; give the board a stock", board.Name)
		return nil
	}
	for i := range f.Holes {
		if !f.Holes[i].Rect.Empty() {
			p.holes = append(p.holes, w.hole(f, &f.Holes[i]))
		}
	}
	slices.SortStableFunc(p.holes, func(a, b hole) int { return cmp.Or(cmp.Compare(a.x0, b.x0), cmp.Compare(a.y0, b.y0)) })
	p.zone(w)
	p.legs = w.legs(p)
	return p
}

// leastSheet is the smallest sheet a wall is hung with; a smaller one is a slip
// of the job file. Source: common practice, none published.
const leastSheet = 300 * measure.Millimetre

// pickWidth returns the sheet width to hang with: the widest that is a whole
// number of bays, else the widest there is, and its lengths.
func pickWidth(b *job.Board, spacing Length) (Length, []Length) {
	best := -1
	on := func(i int) bool { return spacing > 0 && b.Sheets[i].Width%spacing == 0 }
	for i := range b.Sheets {
		if len(b.Sheets[i].Lengths) == 0 {
			continue
		}
		if best < 0 || on(i) && !on(best) || on(i) == on(best) && b.Sheets[i].Width > b.Sheets[best].Width {
			best = i
		}
	}
	if best < 0 {
		return 0, nil
	}
	lengths := slices.Clone(b.Sheets[best].Lengths)
	slices.Sort(lengths)
	return b.Sheets[best].Width, slices.Compact(lengths)
}

// hole turns a face's hole into stations.
func (w *wall) hole(f *run.Face, h *run.Hole) hole {
	out := hole{opening: h.Opening, first: h.First, y0: h.Rect.Min.Y, y1: h.Rect.Max.Y}
	out.x0, out.x1 = f.Station(h.Rect.Min.X), f.Station(h.Rect.Max.X)
	if out.x0 > out.x1 {
		out.x0, out.x1 = out.x1, out.x0
	}
	if len(h.Shape) >= 3 {
		out.shape = toStations(f, h.Shape)
	} else {
		out.shape = geom.Rect{Min: geom.Pt{X: out.x0, Y: out.y0}, Max: geom.Pt{X: out.x1, Y: out.y1}}.Poly()
	}
	out.banded = !h.Sealed
	if h.Opening >= 0 && h.Opening < len(w.Openings) {
		k := w.Openings[h.Opening].Kind
		out.banded = k != plan.Penetration && k != plan.Niche
	}
	return out
}

func (p *ply) longest() Length { return p.lengths[len(p.lengths)-1] }

// open reports whether h leaves no board of p at its place: a
// full-height frame.
func (p *ply) open(h *hole) bool {
	return h.y0 <= p.bottom && h.y1 >= p.top.Max(h.x0, h.x1)
}

// toStations turns a polygon of a face into stations, counter-clockwise again.
func toStations(f *run.Face, p geom.Poly) geom.Poly { return along(p, f, f.Station) }

// toFace turns a polygon in stations into the frame of a face.
func toFace(f *run.Face, p geom.Poly) geom.Poly { return along(p, f, f.U) }

func along(p geom.Poly, f *run.Face, move func(Length) Length) geom.Poly {
	out := make(geom.Poly, len(p))
	for i, q := range p {
		k := i
		if f.Side == run.Left {
			k = len(p) - 1 - i
		}
		out[k] = geom.Pt{X: move(q.X), Y: q.Y}
	}
	return out
}

func hasWidth(b *job.Board, width Length) bool { return len(lengthsOf(b, width)) > 0 }

// lengthsOf returns the lengths of b's sheets of that width, shortest first.
func lengthsOf(b *job.Board, width Length) []Length {
	for _, s := range b.Sheets {
		if s.Width == width {
			l := slices.Clone(s.Lengths)
			slices.Sort(l)
			return l
		}
	}
	return nil
}
