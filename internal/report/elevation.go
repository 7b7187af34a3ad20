package report

import (
	"math"
	"sort"
	"strconv"
	"strings"

	"boardrun/internal/measure"
)

// Layers of a CAD elevation, after the pattern of the national CAD standard:
// discipline, major, minor.
const (
	LayerPiece = "A-BORD-PNLS"
	LayerJoint = "A-BORD-JNTS"
	LayerStud  = "A-BORD-STUD"
	LayerHole  = "A-BORD-OPNG"
	LayerDeck  = "A-BORD-DECK"
	LayerDim   = "A-BORD-DIMS"
	LayerNote  = "A-BORD-IDEN"
)

// Elevation draws one ply of one side as a person facing it sees it: floor,
// deck and slip line, studs with their centres from the starting edge, pieces
// with mark and size, joints, openings.
func Elevation(t *Takeoff, f *Face, ply int) *Picture {
	p := newPaper(t)
	e := elevation{p: p, f: f, ply: ply, d: &Picture{Name: f.ID + "-" + strconv.Itoa(ply), Title: f.ID}}
	e.pieces(t)
	e.studs()
	e.holes()
	e.joints(t)
	e.structure(p.run[f.Run])
	e.marks(t)
	e.d.fit()
	return e.d
}

type elevation struct {
	p   *paper
	f   *Face
	ply int
	d   *Picture
}

// span is the stretch of u that the ply covers.
func (e *elevation) span() (u0, u1 MM) {
	u0, u1 = 0, e.f.LengthMM
	for _, y := range e.f.Plies {
		if y.Ply != e.ply {
			continue
		}
		for i, q := range y.OutlineUV {
			if i == 0 {
				u0, u1 = q[0], q[0]
			}
			u0, u1 = min(u0, q[0]), max(u1, q[0])
		}
	}
	return u0, u1
}

func (e *elevation) of(t *Takeoff) []*Piece {
	var out []*Piece
	for i := range t.Pieces {
		if q := &t.Pieces[i]; q.Face == e.f.ID && q.Ply == e.ply {
			out = append(out, q)
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].Order < out[b].Order })
	return out
}

// pieces are outlined; tops carry a hatch and whole sheets none, so that the
// kinds are told apart without colour.
func (e *elevation) pieces(t *Takeoff) {
	for _, q := range e.of(t) {
		fill := NoFill
		switch q.Role {
		case "top":
			fill = FillHatch
		case "header", "leg", "rip":
			fill = FillPale
		}
		e.d.area(PenOutline, LayerPiece, fill, q.OutlineUV).Ref = q.ID
		for _, c := range q.CutoutsUV {
			e.d.area(PenHole, LayerHole, NoFill, c).Ref = q.ID
		}
	}
}

func (e *elevation) studs() {
	r := e.p.run[e.f.Run]
	if r == nil {
		return
	}
	at := map[string]*Stud{}
	for i := range r.Studs {
		at[r.Studs[i].ID] = &r.Studs[i]
	}
	u0, u1 := e.span()
	for _, s := range e.f.Studs {
		st := at[s.Stud]
		if st == nil || s.UMM < u0-1 || s.UMM > u1+1 {
			continue
		}
		pen := PenStud
		if st.Kind == "added" {
			pen = PenAdded
		}
		e.d.line(pen, LayerStud, UV{s.UMM, st.BottomMM}, UV{s.UMM, st.BottomMM + st.LengthMM}).Ref = s.Stud
	}
}

func (e *elevation) holes() {
	for _, h := range e.f.HolesUV {
		e.d.area(PenHole, LayerHole, FillCross, h)
	}
}

func (e *elevation) joints(t *Takeoff) {
	for i := range t.Joints {
		q := &t.Joints[i]
		if q.Face != e.f.ID || q.Ply != e.ply {
			continue
		}
		pen := PenJoint
		if !q.Exposed {
			pen = PenHidden
		}
		e.d.line(pen, LayerJoint, q.FromUV, q.ToUV)
	}
}

// structure draws floor, deck and slip line.
func (e *elevation) structure(r *Run) {
	u0, u1 := e.span()
	e.d.line(PenFloor, LayerDeck, UV{u0, 0}, UV{u1, 0})
	if r != nil && e.f.Top == "slip" && len(r.Deck) > 1 && e.f.Side != "end" && e.f.Side != "reveal" {
		var deck []UV
		for _, q := range r.Deck {
			u := q[0] - e.f.StartMM
			if e.f.Side == "left" {
				u = e.f.StartMM + e.f.LengthMM - q[0]
			}
			deck = append(deck, UV{u, q[1]})
		}
		e.d.line(PenDeck, LayerDeck, deck...)
	}
	if e.f.Top == "slip" && len(e.f.OutlineUV) > 3 {
		var slip []UV
		for _, q := range e.f.OutlineUV[2:] {
			slip = append(slip, UV{q[0], q[1] - e.f.SlipBelowMM})
		}
		e.d.line(PenSlip, LayerDeck, slip...)
	}
}

// marks writes each piece's number and size into it, and the stud centres from
// the starting edge below the floor.
func (e *elevation) marks(t *Takeoff) {
	for _, q := range e.of(t) {
		w, l, r := pieceSize(q)
		at := inside(q.OutlineUV)
		e.d.label(LayerNote, ShortMark(q.ID), 3.2, UV{at[0], at[1]}).Bold = true
		size := e.p.cut(w).Text + " × " + e.p.cut(l).Text
		if math.Abs(float64(l-r)) > 0.5 {
			size += " / " + e.p.cut(r).Text
		}
		m := e.d.label(LayerNote, size, 2.2, at)
		m.Angle = 90
		m.Points[0][0] += w / 4
	}
	u0, u1 := e.span()
	from := u0
	if e.f.HangFrom == "right" {
		from = u1
	}
	for _, s := range e.f.Studs {
		if s.UMM < u0-1 || s.UMM > u1+1 {
			continue
		}
		d := s.UMM - from
		if d < 0 {
			d = -d
		}
		m := e.d.label(LayerDim, measure.Cut(d.Length(), e.p.sys), 2, UV{s.UMM, -100})
		m.Angle, m.Align = 90, AlignRight
	}
}

// ShortMark is a piece's number on its side.
func ShortMark(id string) string {
	if i := strings.LastIndexByte(id, '/'); i >= 0 {
		return id[i+1:]
	}
	return id
}

// inside returns a point well inside a piece: the middle of its widest level
// stretch at the height where that is widest.
func inside(o Poly) UV {
	lo, hi := o[0], o[0]
	for _, p := range o {
		for k := range p {
			lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
		}
	}
	best, width := UV{(lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2}, MM(-1)
	for i := 1; i < 8; i++ {
		v := lo[1] + (hi[1]-lo[1])*MM(i)/8
		xs := levelAt(o, v)
		for k := 0; k+1 < len(xs); k += 2 {
			if w := xs[k+1] - xs[k]; w > width+1 || w > width-1 && math.Abs(float64(v-(lo[1]+hi[1])/2)) < math.Abs(float64(best[1]-(lo[1]+hi[1])/2)) {
				best, width = UV{(xs[k] + xs[k+1]) / 2, v}, w
			}
		}
	}
	return best
}

func levelAt(o Poly, v MM) []MM {
	var xs []MM
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if (a[1] < v) != (b[1] < v) {
			xs = append(xs, a[0]+(b[0]-a[0])*(v-a[1])/(b[1]-a[1]))
		}
	}
	sort.Slice(xs, func(i, k int) bool { return xs[i] < xs[k] })
	return xs
}
