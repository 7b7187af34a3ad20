package cutting

import (
	"fmt"
	"sort"
	"strings"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// copyRef is one piece to hang: an index into Problem.Pieces and its copy.
type copyRef struct{ piece, copy int }

// shape is all pieces of a group that are alike: outline, wishes and turning.
type shape struct {
	outline, blank           geom.Poly
	w, h                     measure.Length
	left, right, bottom, top bool // wants a tapered edge there
	turn, uncut              bool
	copies                   []copyRef
	area                     float64 // of the blank, in units²
	// A sloped blank has a level bottom, plumb sides and one slanted top from
	// height l at its left to height r at its right.
	sloped bool
	l, r   measure.Length
	pocket []geom.Poly // board inside its notches, as hung
}

// variant is a shape lying one way on the sheet, up to a half turn.
type variant struct {
	shape       int
	quarter     bool // turned 90° anticlockwise
	w, h        measure.Length
	left, right bool // sides that want a factory edge
	need        int  // how many of them
}

// groupKey sets groups apart; they share nothing.
type groupKey struct{ board, group string }

// shapesOf collects pieces into shapes: largest first, ties by first piece. The
// order of the pieces does not matter beyond who gets which of equal places.
func shapesOf(pieces []Piece, members []int) []*shape {
	byKey := map[string]*shape{}
	var keys []string
	for _, i := range members {
		p := pieces[i]
		o := quarterTurns(tidy(p.Outline), 0)
		key := shapeKey(p, o)
		s := byKey[key]
		if s == nil {
			s = newShape(p, o)
			byKey[key] = s
			keys = append(keys, key)
		}
		for c := 0; c < max(p.Count, 1); c++ {
			s.copies = append(s.copies, copyRef{i, c})
		}
	}
	sort.Slice(keys, func(a, b int) bool {
		return shapeBefore(byKey[keys[a]], byKey[keys[b]], keys[a], keys[b])
	})
	out := make([]*shape, len(keys))
	for i, k := range keys {
		out[i] = byKey[k]
		sort.Slice(out[i].copies, func(a, b int) bool {
			x, y := out[i].copies[a], out[i].copies[b]
			if px, py := pieces[x.piece].ID, pieces[y.piece].ID; px != py {
				return px < py
			}
			return x.copy < y.copy
		})
	}
	return out
}

// shapeKey tells pieces of one shape alike; o is the outline, tidy and at (0, 0).
func shapeKey(p Piece, o geom.Poly) string {
	return fmt.Sprint(o, p.Left == Tapered, p.Right == Tapered, p.Bottom == Tapered, p.Top == Tapered, p.Turn, p.Uncut)
}

// shapeBefore is the order of shapes: largest first, then highest, then by key.
func shapeBefore(s, t *shape, skey, tkey string) bool {
	if s.area != t.area {
		return s.area > t.area
	}
	if s.h != t.h {
		return s.h > t.h
	}
	return strings.Compare(skey, tkey) < 0
}

func newShape(p Piece, o geom.Poly) *shape {
	b := o.Bounds()
	s := &shape{
		outline: o, blank: blankOf(o), w: b.W(), h: b.H(),
		left: p.Left == Tapered, right: p.Right == Tapered,
		bottom: p.Bottom == Tapered, top: p.Top == Tapered,
		turn: p.Turn, uncut: p.Uncut,
	}
	s.area = float64(twiceArea(s.blank)) / 2
	s.l, s.r, s.sloped = slopeOf(s.blank)
	s.pocket = pockets(s.outline, s.blank)
	return s
}

// slopeOf reports the two heights of a blank with a level bottom, plumb sides
// and one slanted top. b is tidy, so it starts at its lowest leftmost vertex.
func slopeOf(b geom.Poly) (l, r measure.Length, ok bool) {
	switch {
	case len(b) == 4 && b[0].Y == b[1].Y && b[1].X == b[2].X && b[0].X == b[3].X && b[2].Y != b[3].Y:
		return b[3].Y, b[2].Y, true
	case len(b) == 3 && b[0].Y == b[1].Y && b[2].X == b[0].X:
		return b[2].Y, 0, true
	case len(b) == 3 && b[0].Y == b[1].Y && b[2].X == b[1].X:
		return 0, b[2].Y, true
	}
	return 0, 0, false
}

// variants returns the ways s may lie on a sheet of some width.
func (s *shape) variants(index int) []variant {
	var out []variant
	if !s.bottom && !s.top {
		v := variant{shape: index, w: s.w, h: s.h, left: s.left, right: s.right}
		out = append(out, v)
	}
	square := s.w == s.h && !s.sloped && len(s.blank) == 4
	if !s.left && !s.right && (s.turn && !square || s.bottom || s.top) {
		// Anticlockwise the top comes to the left, the bottom to the right.
		v := variant{shape: index, quarter: true, w: s.h, h: s.w, left: s.top, right: s.bottom}
		out = append(out, v)
	}
	for i := range out {
		if out[i].left {
			out[i].need++
		}
		if out[i].right {
			out[i].need++
		}
	}
	return out
}

// fits reports whether v can be cut from a sheet of the given size.
func (v variant) fits(w, l measure.Length) bool {
	return v.h <= l && (v.w == w || v.w < w && v.need < 2)
}
