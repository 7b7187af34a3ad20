package layout

import (
	"boardrun/internal/geom"
	"boardrun/internal/run"
)

// Ends and reveals are strips as wide as a wall is thick: no stud stands behind
// their joints, no rip is too narrow. A strip that lies (the head of a reveal)
// is cut with its length along the sheet.

// hangStrips lays out ends and reveals.
func (w *wall) hangStrips() []hung {
	var out []hung
	for _, p := range w.strips {
		out = append(out, w.strip(p)...)
	}
	return out
}

func (w *wall) strip(p *ply) []hung {
	height := p.top.Max(p.s0, p.s1) - p.bottom
	across, along := p.width, p.longest()
	lies := height <= p.width && p.s1-p.s0 > height
	if lies {
		across, along = along, across
	}
	region := p.region()
	var out []hung
	for i, a := 0, p.s0; a < p.s1; i, a = i+1, a+across {
		b := min(a+across, p.s1)
		for row, v := 0, p.bottom; v < p.bottom+height; row, v = row+1, v+along {
			box := geom.Rect{Min: geom.Pt{X: a, Y: v}, Max: geom.Pt{X: b, Y: v + along}}
			for _, s := range region.Clip(box).Shapes() {
				out = append(out, w.stripPiece(p, s, i, row, lies))
			}
		}
	}
	return out
}

func (w *wall) stripPiece(p *ply, s geom.Shape, column, row int, lies bool) hung {
	h := hung{ply: p, column: column, row: row}
	pc := &h.Piece
	box := s.Outline.Bounds()
	pc.Face, pc.Ply, pc.Board = p.face, p.spec.Number, p.board.Name
	pc.Outline, pc.Cutouts, pc.Area = s.Outline, s.Holes, shapeArea(s)
	pc.MassKg = pc.Area.M2() * p.board.MassM2
	pc.Role, pc.Turned = Rip, lies
	c := bit{bottom: box.Min.Y}
	if box.Max.Y < p.top.Min(box.Min.X, box.Max.X) {
		c.top = box.Max.Y
	}
	pc.Heights = heights(p, c, box)
	return h
}

// sided reports whether a face is a long side of its run.
func sided(f *run.Face) bool { return f.Side == run.Left || f.Side == run.Right }
