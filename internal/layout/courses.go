package layout

import (
	"slices"

	"boardrun/internal/geom"
)

// hangCourses cuts the courses of f into pieces.
func (w *wall) hangCourses(f *find) []hung {
	var out []hung
	columns := map[*course]int{}
	regions := map[*ply]geom.Region{}
	for _, s := range f.spans {
		if regions[s.ply] == nil {
			regions[s.ply] = s.ply.region()
		}
		s.pieces(func(i int, a, b Length) {
			box := geom.Rect{Min: geom.Pt{X: a, Y: s.lo}, Max: geom.Pt{X: b, Y: s.hi}}
			for _, shape := range regions[s.ply].Clip(box).Shapes() {
				h := hung{ply: s.ply, column: columns[s.course], row: s.number, course: true}
				w.coursePiece(&h, s, i, shape, a, b)
				out = append(out, h)
			}
			columns[s.course]++
		})
	}
	return out
}

// coursePiece fills in a piece of a course.
func (w *wall) coursePiece(h *hung, s *span, i int, shape geom.Shape, a, b Length) {
	p, pc := s.ply, &h.Piece
	box := shape.Outline.Bounds()
	pc.Face, pc.Ply, pc.Board, pc.Role, pc.Turned = p.face, p.spec.Number, p.board.Name, Course, true
	pc.Outline, pc.Cutouts, pc.Area = shape.Outline, shape.Holes, shapeArea(shape)
	pc.MassKg = pc.Area.M2() * p.board.MassM2
	long := Tapered
	if p.board.Square {
		long = EndEdge
	}
	if box.Max.Y == s.hi && !s.cutTop {
		pc.Top = long
	}
	if box.Min.Y == s.lo && !s.cutFloor {
		pc.Bottom = long
	}
	whole := slices.Contains(s.lengths, b-a)
	first, last := i == 0, i == len(s.joints)
	left := whole || !first || last // the end in the corner is cut
	right := whole || !last && (first || s.factory)
	if left && box.Min.X == a {
		pc.Left = EndEdge
	}
	if right && box.Max.X == b {
		pc.Right = EndEdge
	}
	pc.Uncut = whole && len(shape.Holes) == 0 && len(shape.Outline) == 4 && box.H() == s.width && box.W() == b-a
	w.hooks(pc, p, box)
	pc.Heights = heights(p, bit{bottom: box.Min.Y, top: box.Max.Y}, box)
}

// stations returns the stations of all joints along the studs of f.
func (f *find) stations() []Length {
	var out []Length
	for _, l := range f.lays {
		out = append(out, l.stands()...)
	}
	for _, s := range f.spans {
		out = append(out, s.joints...)
		for _, x := range [2]Length{s.s0, s.s1} {
			if start, end := s.meet[0], s.meet[1]; start && x == s.ply.s0 || end && x == s.ply.s1 {
				out = append(out, x)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// courses lists ends near openings and what the method is not exact for.
func (t *teller) courses() {
	for _, s := range t.f.spans {
		for _, x := range s.joints {
			t.nearEnd(s, x)
		}
	}
	if len(t.f.spans) > 0 {
		t.out.Gap = "courses: exact over ends on the grid and sheets of one length a course"
	}
}
