package quantity

import (
	"sort"

	"boardrun/internal/geom"
	"boardrun/internal/layout"
)

// CutOut is a notch or a closed hole of one piece, dimensioned square from two
// sides: from the starting edge to its nearer side, and from the bottom edge.
type CutOut struct {
	Opening    string
	FromStart  Length
	FromBottom Length
	Width      Length
	Height     Length
	Notch      bool // open to a side of the piece
}

// fromRight reports whether the starting edge of a face's pieces is their
// right one: hanging starts at the right end.
func fromRight(l *layout.Layout, p *layout.Piece) bool {
	for i := range l.Faces {
		if l.Faces[i].Face == p.Face {
			return l.Faces[i].HangFrom == "right"
		}
	}
	return false
}

// cutOuts returns the notches and cut-outs of a piece, from the starting edge,
// then up.
func cutOuts(l *layout.Layout, p *layout.Piece) []CutOut {
	box := p.Outline.Bounds()
	right := fromRight(l, p)
	at := func(r geom.Rect) Length {
		if right {
			return box.Max.X - r.Max.X
		}
		return r.Min.X - box.Min.X
	}
	var out []CutOut
	closed := map[geom.Rect]bool{}
	for _, c := range p.Cutouts {
		r := c.Bounds()
		closed[r] = true
		out = append(out, CutOut{FromStart: at(r), FromBottom: r.Min.Y - box.Min.Y, Width: r.W(), Height: r.H(), Opening: holeOf(p, r)})
	}
	for i := range p.Face.Holes {
		h := &p.Face.Holes[i]
		r := h.Rect.Intersect(box)
		if r.Empty() || closed[r] || !bitten(p, r) {
			continue
		}
		out = append(out, CutOut{Opening: openingID(p, h.Opening), FromStart: at(r), FromBottom: r.Min.Y - box.Min.Y, Width: r.W(), Height: r.H(), Notch: true})
	}
	sort.SliceStable(out, func(i, k int) bool {
		return out[i].FromStart < out[k].FromStart || out[i].FromStart == out[k].FromStart && out[i].FromBottom < out[k].FromBottom
	})
	return out
}

// bitten reports whether the piece's outline leaves out the middle of r: not
// so where the sheet runs across and is routed, nor above a sloped top.
func bitten(p *layout.Piece, r geom.Rect) bool {
	u, v := r.Min.X+r.W()/2, r.Min.Y+r.H()/2
	for _, s := range crossings(p.Outline, u) {
		if v > s.lo && v < s.hi {
			return false
		}
	}
	return true
}

func holeOf(p *layout.Piece, r geom.Rect) string {
	for i := range p.Face.Holes {
		if h := &p.Face.Holes[i]; !h.Rect.Intersect(r).Empty() {
			return openingID(p, h.Opening)
		}
	}
	return ""
}

func openingID(p *layout.Piece, i int) string {
	if p.Face.Run == nil || i < 0 || i >= len(p.Face.Run.Openings) {
		return ""
	}
	return p.Face.Run.Openings[i].ID
}

// centres returns the stud centres of a piece from its starting edge, rising.
func centres(l *layout.Layout, p *layout.Piece) []Length {
	box := p.Outline.Bounds()
	cs := append([]Length(nil), p.Centres...)
	if len(cs) == 0 {
		for i := range l.Studs {
			s := &l.Studs[i]
			u := faceU(p.Face, s.Station)
			if u > box.Min.X && u < box.Max.X && s.Bottom < box.Max.Y && (s.Length == 0 || s.Bottom+s.Length > box.Min.Y) {
				cs = append(cs, u-box.Min.X)
			}
		}
	}
	if fromRight(l, p) {
		for i := range cs {
			cs[i] = box.W() - cs[i]
		}
	}
	sort.Slice(cs, func(i, k int) bool { return cs[i] < cs[k] })
	return cs
}

// ends returns the exact heights of a piece at its left and right, and whether
// it is cut straight: the same all along.
func ends(p *layout.Piece) (left, right Length, straight bool) {
	hs := p.Heights
	if len(hs) == 0 {
		h := p.Outline.Bounds().H()
		return h, h, true
	}
	straight = true
	for _, h := range hs {
		straight = straight && h.Y == hs[0].Y
	}
	return hs[0].Y, hs[len(hs)-1].Y, straight
}
