package layout

import (
	"cmp"
	"slices"
)

// Horizontal layout: courses run across the studs, the top one first and whole,
// tapers meet mid-wall, the cut edge is at the floor; sheets of two widths are
// mixed where that saves a joint. Ends stand on studs, a
// bay apart from those of neighbouring courses, on no stud of the other side.
// Exact over ends on the grid and one length of sheet a course, as long as no
// partial layout is dropped.

// course is one row of one ply between two breaks of the row: an opening over
// its whole height, or the ply's ends.
type course struct {
	ply      *ply
	number   int // from the top, 0 first
	rows     int // of the ply
	lo, hi   Length
	s0, s1   Length
	width    Length // of the sheets
	lengths  []Length
	cutFloor bool    // its lower edge is cut
	cutTop   bool    // its upper edge is cut
	meet     [2]bool // its ply goes on in another board at its start, its end
}

// lowEnough reports whether the run can be hung in courses: level tops only.
func (w *wall) lowEnough() bool {
	for _, p := range w.plies {
		if p.top.Min(p.s0, p.s1) != p.top.Max(p.s0, p.s1) || p.bands != nil {
			return false
		}
	}
	return len(w.plies) > 0 && w.Spacing > 0
}

// horizontal returns the best layouts in courses, best first; none if some
// course has no legal ends.
func (w *wall) horizontal() []*find {
	var finds []*find
	for _, controls := range w.controlSets() {
		courses := w.courses(controls)
		if courses == nil {
			return nil
		}
		for _, start := range w.courseStarts() {
			for _, f := range w.beam(courses, start) {
				f.start, f.controls = start, controls
				finds = append(finds, f)
			}
		}
	}
	return w.keep(finds)
}

// beamBest is how many partial layouts of two courses on two sides are kept.
const beamBest = 1 << 11

// courseStarts returns the stud starts that courses are tried on: at the ends
// of the plies and, where openings forbid ends, at the limits of their bands.
func (w *wall) courseStarts() []Length {
	if w.Framing == framed {
		return []Length{w.FirstStud}
	}
	var out []Length
	for _, p := range w.plies {
		from := []Length{p.s0, p.s1}
		if w.env.Effort == Best {
			for i := range p.holes {
				from = append(from, w.limits(&p.holes[i])...)
			}
		}
		for _, e := range from {
			if m := mod(e, w.Spacing); !slices.Contains(out, m) {
				out = append(out, m)
			}
		}
	}
	return out
}

// courses cuts every ply into rows from the top and the rows at openings over
// their whole height and at control joints. Nil where no sheet width leaves a legal lowest row.
func (w *wall) courses(controls []Length) []*course {
	var out []*course
	least := w.topStagger()
	var joins stack // by parity of depth, as decided so far
	for _, p := range w.inOrder() {
		var off []Length
		if least > 0 {
			off = joins[1-p.depth&1]
		}
		rows := w.rowsOf(p, off, least)
		if rows == nil && len(off) > 0 {
			rows = w.rowsOf(p, nil, 0) // listed
		}
		if rows == nil {
			return nil
		}
		joins[p.depth&1] = append(joins[p.depth&1], joinsOf(rows)...)
		for k, r := range rows {
			c := course{ply: p, number: k, rows: len(rows), hi: r.hi, lo: r.lo, width: r.width, lengths: lengthsOf(p.board, r.width),
				cutFloor: r.cutFloor, cutTop: r.cutTop}
			c.meet[0], c.meet[1] = w.meets(p)
			out = append(out, c.split(controls)...)
		}
	}
	return out
}

// inOrder returns the plies in the order they are decided: base plies first,
// the left side before the right.
func (w *wall) inOrder() []*ply {
	out := slices.Clone(w.plies)
	slices.SortStableFunc(out, func(a, b *ply) int {
		return cmp.Or(cmp.Compare(a.spec.Number, b.spec.Number), cmp.Compare(a.face.Side, b.face.Side), cmp.Compare(a.s0, b.s0))
	})
	return out
}

// split cuts a row at holes that leave no board of it and at control joints.
func (c course) split(controls []Length) []*course {
	var out []*course
	at := c.ply.s0
	add := func(to Length) {
		for _, x := range append(slices.Clone(controls), to) {
			if x > at && x <= to {
				d := c
				d.s0, d.s1 = at, x
				out = append(out, &d)
				at = x
			}
		}
	}
	for i := range c.ply.holes {
		if h := &c.ply.holes[i]; h.y0 <= c.lo && h.y1 >= c.hi {
			add(h.x0)
			at = max(at, h.x1)
		}
	}
	add(c.ply.s1)
	return out
}

// branch is a partial layout in courses.
type branch struct {
	from  *branch
	span  *span
	cost  tally
	stray int64
	score score
}

// spans returns the spans of a branch, the latest first.
func (b *branch) spans() (out []*span) {
	for ; b.span != nil; b = b.from {
		out = append(out, b.span)
	}
	return out
}

// beam decides the courses in turn, keeping the best partial layouts.
func (w *wall) beam(courses []*course, start Length) []*find {
	width := beamWidth
	switch {
	case w.env.Effort == Best && len(courses) <= 6: // two courses on two sides, a door in one of them
		width = beamBest
	case len(courses) > 4:
		width = beamWidth / 8
	}
	beam := []*branch{{}}
	for _, c := range courses {
		var next []*branch
		spans := w.spans(c, start)
		for _, b := range beam {
			sofar := b.spans()
			for _, s := range spans {
				if !w.endsApart(sofar, s) {
					continue
				}
				n := &branch{from: b, span: s, cost: b.cost, stray: b.stray + w.stray(sofar, s)}
				n.cost.add(s.cost)
				t := n.cost
				t.add(w.chargeRests(n))
				n.score = w.rank(t, 0)
				n.score[byWidth] = n.stray
				next = append(next, n)
			}
		}
		slices.SortStableFunc(next, func(a, b *branch) int { return slices.Compare(a.score[:], b.score[:]) })
		if len(next) > width {
			w.pruned = true
			next = next[:width]
		}
		beam = next
	}
	out := make([]*find, 0, len(beam))
	for _, b := range beam[:min(len(beam), w.env.most())] {
		f := &find{spans: b.spans(), cost: b.cost, score: b.score, first: w.inOrder()[0]}
		slices.Reverse(f.spans)
		f.cost.add(w.chargeRests(b))
		if w.Spacing > 0 && mod(f.first.s0-start, w.Spacing) != 0 {
			f.score[byGrid] = 1
		}
		f.fromEnd = w.unwanted(f.first, false)
		out = append(out, f)
	}
	return out
}

// endsApart reports whether the ends of s keep a bay from those of neighbouring
// courses and off the studs of neighbouring plies.
func (w *wall) endsApart(spans []*span, s *span) bool {
	stagger := Length(max(1, w.env.Rules.EndStaggerBays)) * w.Spacing
	for _, o := range spans {
		least := Length(0)
		switch {
		case o.ply == s.ply && max(o.number-s.number, s.number-o.number) == 1:
			least = stagger
		case o.ply.neighbours(s.ply):
			least = w.distance(o.ply, s.ply)
		}
		for _, x := range s.joints {
			for _, y := range o.joints {
				if (x - y).Abs() < least {
					return false
				}
			}
		}
	}
	return true
}

// stray says how far a course's first end is from where the trade likes it:
// the first side's top course begins with a whole sheet, the other side's with
// half of one, each lower course a third of a sheet from the one above.
// Source: common practice, none published; it breaks ties only.
func (w *wall) stray(spans []*span, s *span) int64 {
	if len(s.joints) == 0 {
		return 0
	}
	sheet, at := s.sheet, s.joints[0]-s.s0
	want := sheet
	if s.ply.depth >= 0 && len(w.plies) > 1 && w.plies[0].depth < 0 {
		want = sheet / 2
	}
	for _, o := range spans {
		if o.ply == s.ply && o.number == s.number-1 && len(o.joints) > 0 && o.s0 == s.s0 {
			above := o.joints[0] - o.s0
			want = max(mod(above-sheet/3, sheet), mod(above+sheet/3, sheet))
		}
	}
	d := int64((at - want).Abs()) * 2
	if at > want {
		d++ // of equals the shorter one: its rest is handier
	}
	return d
}
