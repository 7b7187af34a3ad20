package layout

import (
	"cmp"
	"slices"

	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// build turns a find into a layout; rest are the finds after it, best first.
func (w *wall) build(f *find, rest []*find) Layout {
	out := Layout{Run: w.of, Spacing: w.Spacing, StudStart: f.start, OpenFaces: "start", Status: "optimal", Swept: f.swept}
	if f.fromEnd {
		out.OpenFaces = "end"
	}
	out.Studs = w.studs(f)
	out.Exceptions = slices.Clone(w.exceptions)
	var pieces []hung
	if len(f.lays) > 0 {
		pieces = w.hang(f)
	}
	pieces = append(pieces, w.hangCourses(f)...)
	pieces = append(pieces, w.hangStrips()...)
	w.order(f, pieces)
	datums(pieces)
	for i := range pieces {
		pieces[i].toFrame(out.Studs)
		out.Pieces = append(out.Pieces, pieces[i].Piece)
	}
	w.name(&out)
	w.join(f, &out)
	out.Faces = w.faceLayouts(f)
	w.tell(f, &out)
	out.Cost = f.total(&out)
	out.Why = w.why(f, rest)
	return out
}

// order sorts pieces the way they are hung: the first side before the other,
// faces away from the hanging end, base ply before face ply, low pieces before
// tops; ends and reveals last.
func (w *wall) order(f *find, pieces []hung) {
	side := func(p *ply) int {
		switch {
		case p.face.Side == run.End || p.face.Side == run.Reveal:
			return 2
		case f.first != nil && p.face.Side == f.first.face.Side:
			return 0
		}
		return 1
	}
	away := func(a, b Length) int {
		if f.fromEnd {
			a, b = -a, -b
		}
		return cmp.Compare(a, b)
	}
	slices.SortStableFunc(pieces, func(a, b hung) int {
		p, q := a.ply, b.ply
		if c := cmp.Compare(side(p), side(q)); c != 0 {
			return c
		}
		if p.face != q.face {
			if side(p) == 2 {
				return cmp.Compare(slices.Index(w.Faces, p.face), slices.Index(w.Faces, q.face))
			}
			return cmp.Or(away(p.face.Start, q.face.Start), cmp.Compare(slices.Index(w.Faces, p.face), slices.Index(w.Faces, q.face)))
		}
		m, n := a.Outline.Bounds(), b.Outline.Bounds()
		return cmp.Or(cmp.Compare(p.spec.Number, q.spec.Number), cmp.Compare(a.level(), b.level()),
			away(Length(a.column), Length(b.column)), cmp.Compare(a.row, b.row),
			cmp.Compare(m.Min.Y, n.Min.Y), cmp.Compare(m.Min.X, n.Min.X))
	})
}

// datum puts first, among the tops of one ply, the one of full width with the
// fewest corners: the others are measured off its edge, away from the hanging
// end first, then back.
// Source: common practice, none published.
func datum(tops []hung) {
	best := -1
	for i := range tops {
		h := &tops[i]
		if h.Outline.Bounds().W() < h.ply.width || h.Role != Top {
			continue
		}
		if best < 0 || h.corners() < tops[best].corners() {
			best = i
		}
	}
	if best <= 0 {
		return
	}
	before := slices.Clone(tops[:best])
	slices.Reverse(before)
	copy(tops, tops[best:])
	copy(tops[len(tops)-best:], before)
}

func (h *hung) corners() int {
	n := len(h.Outline)
	for _, c := range h.Cutouts {
		n += len(c)
	}
	return n
}

// datums applies datum to every run of tops.
func datums(pieces []hung) {
	for lo := 0; lo < len(pieces); {
		hi := lo + 1
		for hi < len(pieces) && pieces[hi].ply == pieces[lo].ply && pieces[hi].level() == pieces[lo].level() {
			hi++
		}
		if !pieces[lo].course && pieces[lo].level() == 1 && sided(pieces[lo].ply.face) {
			datum(pieces[lo:hi])
		}
		lo = hi
	}
}

// name numbers the pieces in hanging order and sorts them by face, ply, number.
func (w *wall) name(l *Layout) {
	type key struct {
		face *run.Face
		ply  int
	}
	n := map[key]int{}
	for i := range l.Pieces {
		k := key{l.Pieces[i].Face, l.Pieces[i].Ply}
		n[k]++
		l.Pieces[i].mark(n[k], i+1)
	}
	slices.SortStableFunc(l.Pieces, func(a, b Piece) int {
		return cmp.Or(cmp.Compare(slices.Index(w.Faces, a.Face), slices.Index(w.Faces, b.Face)), cmp.Compare(a.Ply, b.Ply), cmp.Compare(a.Order, b.Order))
	})
}

// join lists the joints of every face and ply.
func (w *wall) join(f *find, l *Layout) {
	for lo := 0; lo < len(l.Pieces); {
		hi := lo + 1
		for hi < len(l.Pieces) && l.Pieces[hi].Face == l.Pieces[lo].Face && l.Pieces[hi].Ply == l.Pieces[lo].Ply {
			hi++
		}
		l.Joints = append(l.Joints, w.seams(l.Pieces[lo:hi], l.Studs, f.controls)...)
		lo = hi
	}
}

func (w *wall) faceLayouts(f *find) []FaceLayout {
	var out []FaceLayout
	for _, face := range w.Faces {
		if !face.Boarded {
			continue
		}
		fl := FaceLayout{Face: face, HangFrom: "left", Zones: w.zonesLaid(face)}
		switch face.Side {
		case run.Left, run.Right:
			if (face.Side == run.Left) != f.fromEnd {
				fl.HangFrom = "right"
			}
			fl.Ends = len(f.spans) > 0
			fl.First = f.first != nil && f.first.face.Side == face.Side
			for _, v := range w.onFace(f.rows, face.ID) {
				if v < face.Top.Max(0, face.Length) {
					fl.Breaks = append(fl.Breaks, v)
				}
			}
		}
		out = append(out, fl)
	}
	return out
}

// total is the cost of a layout as it is told: counted from its pieces and
// joints, the board as charged in the search.
func (f *find) total(l *Layout) Cost {
	c := Cost{Money: f.score[byMoney], Area: f.cost.area, Joints: f.cost.joints, Pieces: len(l.Pieces), Added: f.added}
	for _, e := range l.Exceptions {
		if e.Severity == plan.Warning {
			c.Warnings++
		}
	}
	return c
}
