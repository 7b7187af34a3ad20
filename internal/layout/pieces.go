package layout

import (
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/run"
)

// hung is a piece before it has a name: in stations, with what the order of
// hanging asks for.
type hung struct {
	Piece
	ply    *ply
	column int // in the ply, by station
	row    int
	course bool
}

// level is the turn a piece hangs in: sheets before all tops, courses one by
// one.
func (h *hung) level() int {
	if h.course {
		return h.row
	}
	return min(h.row, 1)
}

// hang cuts every ply of f into pieces.
func (w *wall) hang(f *find) []hung {
	var out []hung
	columns := map[int]int{} // by depth
	for _, l := range f.lays {
		p := l.lane.ply
		region := p.region()
		for _, leg := range p.legs {
			region = region.Minus(leg.Poly())
		}
		l.columns(func(i int, a, b Length) {
			at := columns[p.depth]
			columns[p.depth]++
			narrow := b-a < p.width
			bits, _ := w.fill(p, a, b, f.rows.of(p), narrow)
			for k, c := range bits {
				for _, s := range c.clip(p, region, a, b, k, bits) {
					h := hung{ply: p, column: at, row: c.row}
					w.shapePiece(&h, l, i, c, s, a, b)
					out = append(out, h)
				}
			}
			if len(p.legs) > 0 {
				out = append(out, w.hangLegs(p, a, b, bits, at)...)
			}
		})
	}
	return out
}

// clip returns the figures of bit k of the column: the region between the
// horizontal joints, or between the middles of openings over the whole column.
func (c bit) clip(p *ply, region geom.Region, a, b Length, k int, bits []bit) []geom.Shape {
	r := geom.Rect{Min: geom.Pt{X: a, Y: c.bottom}, Max: geom.Pt{X: b, Y: c.top}}
	if c.top == 0 {
		r.Max.Y = maxLength
	}
	for i := range p.holes {
		h := &p.holes[i]
		if h.x0 > a || h.x1 < b {
			continue
		}
		middle := (h.y0 + h.y1) / 2
		if c.bottom == h.y1 {
			r.Min.Y = middle
		}
		if c.top == h.y0 {
			r.Max.Y = middle
		}
	}
	return region.Clip(r).Shapes()
}

// shapePiece fills in all of a piece but its place in the order.
func (w *wall) shapePiece(h *hung, l *lay, column int, c bit, s geom.Shape, a, b Length) {
	p := l.lane.ply
	f := p.face
	pc := &h.Piece
	pc.Face, pc.Ply, pc.Board = f, p.spec.Number, c.board.Name
	box := s.Outline.Bounds()
	pc.Outline = s.Outline
	pc.Cutouts = s.Holes
	pc.Area = shapeArea(s)
	pc.MassKg = pc.Area.M2() * c.board.MassM2
	pc.Left, pc.Right = l.edges(column, box, a, b)
	w.ends(pc, p, c, box)
	pc.Uncut = len(s.Holes) == 0 && len(s.Outline) == 4 && box.W() == p.width && pc.Bottom == EndEdge && pc.Top == EndEdge
	switch {
	case c.over:
		pc.Role = Header
	case c.row > 0:
		pc.Role = Top
	case b-a < p.width:
		pc.Role = Rip
	}
	w.hooks(pc, p, box)
	pc.Heights = heights(p, c, box)
}

// edges returns what the outermost sides of a piece in column i are: factory
// edges at the sides of a full-width column, one towards the joint at a rip.
func (l *lay) edges(i int, box geom.Rect, a, b Length) (left, right Edge) {
	factory := Tapered
	if l.lane.board.Square {
		factory = EndEdge
	}
	left, right = factory, factory
	if b-a < l.lane.width {
		switch {
		case slices.Contains(l.narrow, i):
			left = CutEdge
		case i == 0 && len(l.joints) > 0:
			left = CutEdge
		default:
			right = CutEdge
		}
	}
	if box.Min.X > a {
		left = CutEdge
	}
	if box.Max.X < b {
		right = CutEdge
	}
	return left, right
}

// ends says which ends of the sheet a piece keeps: both where it is as long as
// a sheet, the lower one where no second piece fits the sheet's length.
func (w *wall) ends(pc *Piece, p *ply, c bit, box geom.Rect) {
	level := c.top != 0 || p.top.Min(box.Min.X, box.Max.X) == p.top.Max(box.Min.X, box.Max.X)
	if level && slices.Contains(c.lengths, box.H()) {
		pc.Bottom, pc.Top = EndEdge, EndEdge
	} else if 2*box.H() > c.lengths[len(c.lengths)-1] {
		pc.Bottom = EndEdge
	}
}

// hooks names the openings whose corner the piece goes round.
func (w *wall) hooks(pc *Piece, p *ply, box geom.Rect) {
	for i := range p.holes {
		h := &p.holes[i]
		inside := h.x0 >= box.Min.X && h.x1 <= box.Max.X && h.y0 > box.Min.Y && h.y1 < box.Max.Y
		if h.x0 >= box.Max.X || h.x1 <= box.Min.X || h.y0 >= box.Max.Y || h.y1 <= box.Min.Y || inside {
			continue
		}
		if h.opening >= 0 && h.opening < len(w.Openings) && w.Openings[h.opening].Kind != plan.Penetration {
			pc.Hooks = append(pc.Hooks, w.Openings[h.opening].ID)
		}
	}
}

// heights returns the height of the piece's top over its lowest point at its
// left side, at every vertex of a sloped top, and at its right side.
func heights(p *ply, c bit, box geom.Rect) []geom.Pt {
	if c.top != 0 {
		return []geom.Pt{{X: 0, Y: box.H()}, {X: box.W(), Y: box.H()}}
	}
	out := p.top.Vertices(box.Min.X, box.Max.X)
	for i := range out {
		out[i] = geom.Pt{X: out[i].X - box.Min.X, Y: out[i].Y - box.Min.Y}
	}
	return out
}

func shapeArea(s geom.Shape) measure.Area {
	a := s.Outline.Area()
	for _, h := range s.Holes {
		a += h.Area() // clockwise: negative
	}
	return a
}

// toFrame turns a piece from stations into its face's frame and lists the
// centres of the studs it crosses.
func (h *hung) toFrame(studs []Stud) {
	pc := &h.Piece
	box := pc.Outline.Bounds()
	var centres []Length
	last := Length(minLength)
	for _, s := range studs {
		if s.Station < box.Min.X || s.Station > box.Max.X || s.Station == last {
			continue
		}
		if h.crosses(s, box) {
			centres = append(centres, s.Station)
			last = s.Station
		}
	}
	f := h.ply.face
	pc.Outline = toFace(f, pc.Outline)
	for i := range pc.Cutouts {
		slices.Reverse(pc.Cutouts[i]) // counter-clockwise like every outline
		pc.Cutouts[i] = toFace(f, pc.Cutouts[i])
	}
	mirrored := f.Side == run.Left
	pc.Centres = make([]Length, 0, len(centres))
	for _, x := range centres {
		if mirrored {
			pc.Centres = append(pc.Centres, box.Max.X-x)
		} else {
			pc.Centres = append(pc.Centres, x-box.Min.X)
		}
	}
	if mirrored {
		slices.Reverse(pc.Centres)
		pc.Left, pc.Right = pc.Right, pc.Left
		slices.Reverse(pc.Heights)
		for i := range pc.Heights {
			pc.Heights[i].X = box.W() - pc.Heights[i].X
		}
	}
}

// crosses reports whether stud s has board of the piece in front of it.
func (h *hung) crosses(s Stud, box geom.Rect) bool {
	lo, hi := max(s.Bottom, box.Min.Y), min(s.Bottom+s.Length, box.Max.Y)
	if lo >= hi {
		return false
	}
	for i := range h.ply.holes {
		o := &h.ply.holes[i]
		if o.x0 < s.Station && s.Station < o.x1 && o.y0 <= lo && o.y1 >= hi {
			return false
		}
	}
	return true
}

// mark names the piece and takes its fingerprint.
func (pc *Piece) mark(number, order int) {
	pc.ID = fmt.Sprintf("%s/%d/%02d", pc.Face.ID, pc.Ply, number)
	pc.Order = order
	sum := fnv.New64a()
	fmt.Fprintf(sum, "%s|%d|%s|%d", pc.Face.ID, pc.Ply, pc.Board, pc.Role)
	put := func(p geom.Poly) {
		for _, q := range p {
			sum.Write(binary.BigEndian.AppendUint64(nil, uint64(q.X)))
			sum.Write(binary.BigEndian.AppendUint64(nil, uint64(q.Y)))
		}
	}
	put(pc.Outline)
	for _, c := range pc.Cutouts {
		put(c)
	}
	pc.Fingerprint = fmt.Sprintf("%08x", uint32(sum.Sum64()^sum.Sum64()>>32))
}
