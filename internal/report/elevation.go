package report

import (
	"slices"
	"strconv"
	"strings"
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

// DefaultScale is what elevations are laid out for where nobody says
// otherwise: millimetres of wall to one on paper.
const DefaultScale = 40

// View says how an elevation is seen.
type View struct {
	Scale    float64 // 0: DefaultScale
	From, To MM      // stretch of u shown; equal: all of it
}

// Elevation draws one ply of one side as a person facing it sees it: floor,
// deck and slip line, studs with their centres from the starting edge, pieces
// with mark and size, joints, openings. Callers with many sides keep a Draft.
func Elevation(t *Takeoff, f *Face, ply int) *Picture {
	return NewDraft(t).Elevation(f, ply, View{})
}

// Elevation is like the function of that name, for a view.
func (w *Draft) Elevation(f *Face, ply int, v View) *Picture {
	if v.Scale <= 0 {
		v.Scale = DefaultScale
	}
	e := elevation{w: w, f: f, run: w.p.run[f.Run], ply: ply, scale: v.Scale}
	e.d = &Picture{Name: f.ID + "-" + strconv.Itoa(ply), Title: f.ID, Scale: v.Scale}
	e.u0, e.u1 = Span(f, ply)
	e.all0, e.all1 = e.u0, e.u1
	if v.To > v.From {
		e.u0, e.u1 = max(e.u0, v.From), min(e.u1, v.To)
	}
	e.pieces()
	e.studs()
	e.holes()
	e.joints()
	e.structure()
	e.match()
	e.marks()
	e.controls()
	e.dimensions()
	e.d.fit()
	return e.d
}

type elevation struct {
	w          *Draft
	f          *Face
	run        *Run // nil where the face names none
	ply        int
	scale      float64
	u0, u1     MM // stretch shown
	all0, all1 MM // stretch of the ply
	d          *Picture
}

// mm is a length on paper as one on the wall.
func (e *elevation) mm(paper float64) MM { return MM(paper * e.scale) }

// outline is that of the ply; empty where the face has none.
func (e *elevation) outline() Poly { return plyOutline(e.f, e.ply) }

func plyOutline(f *Face, ply int) Poly {
	for _, y := range f.Plies {
		if y.Ply == ply {
			return y.OutlineUV
		}
	}
	return nil
}

// Span is the stretch of u that a ply of a face covers.
func Span(f *Face, ply int) (u0, u1 MM) {
	o := plyOutline(f, ply)
	if len(o) == 0 {
		return 0, f.LengthMM
	}
	lo, hi := bounds(o)
	return lo[0], hi[0]
}

// Start is the u of the edge a ply is hung from, and whether that is the left
// one.
func Start(f *Face, ply int) (u MM, left bool) {
	u0, u1 := Span(f, ply)
	if f.HangFrom == "right" {
		return u1, false
	}
	return u0, true
}

func bounds(o Poly) (lo, hi UV) {
	for i, p := range o {
		if i == 0 {
			lo, hi = p, p
		}
		for k := range p {
			lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
		}
	}
	return lo, hi
}

// seen tells whether a stretch of u is in the view.
func (e *elevation) seen(a, b MM) bool { return b > e.u0+0.01 && a < e.u1-0.01 }

// pieces are outlined; tops carry a hatch and whole sheets none, so that the
// kinds are told apart without colour.
func (e *elevation) pieces() {
	for _, q := range e.w.Pieces(e.f, e.ply) {
		lo, hi := bounds(q.OutlineUV)
		if !e.seen(lo[0], hi[0]) {
			continue
		}
		fill := NoFill
		switch q.Role {
		case "top":
			fill = FillHatch
		case "header", "leg", "rip":
			fill = FillPale
		}
		e.d.area(PenOutline, LayerPiece, fill, e.clip(q.OutlineUV)).Ref = q.ID
		for _, c := range q.CutoutsUV {
			e.d.area(PenHole, LayerHole, FillCross, e.clip(c)).Ref = q.ID
		}
	}
}

func (e *elevation) studs() {
	if e.run == nil {
		return
	}
	at := map[string]*Stud{}
	for i := range e.run.Studs {
		at[e.run.Studs[i].ID] = &e.run.Studs[i]
	}
	for _, s := range e.f.Studs {
		st := at[s.Stud]
		if st == nil || s.UMM < e.u0-1 || s.UMM > e.u1+1 {
			continue
		}
		pen := PenStud
		switch st.Kind {
		case "added":
			pen = PenAdded
		case "jamb", "corner", "tee":
			pen = PenJamb
		}
		e.d.line(pen, LayerStud, UV{s.UMM, st.BottomMM}, UV{s.UMM, st.BottomMM + st.LengthMM}).Ref = s.Stud
		if st.Kind == "added" { // a wedge at the floor says it in black and white
			a := e.mm(0.9)
			e.d.area(PenAdded, LayerStud, FillSolid, Poly{{s.UMM - a, -2 * a}, {s.UMM + a, -2 * a}, {s.UMM, 0}})
		}
	}
}

func (e *elevation) holes() {
	for _, h := range e.f.HolesUV {
		if lo, hi := bounds(h); e.seen(lo[0], hi[0]) {
			e.d.area(PenHole, LayerHole, FillCross, e.clip(h))
		}
	}
}

func (e *elevation) joints() {
	for _, q := range e.w.joints[sidePly{e.f.ID, e.ply}] {
		pen := PenJoint
		if !q.Exposed {
			pen = PenHidden
		}
		a, b := q.FromUV, q.ToUV
		switch {
		case a[0] == b[0]:
			if a[0] < e.u0-0.01 || a[0] > e.u1+0.01 {
				continue
			}
		case !e.seen(min(a[0], b[0]), max(a[0], b[0])):
			continue
		default:
			c := clipTo([]UV{a, b}, e.u0, e.u1)
			a, b = c[0], c[len(c)-1]
		}
		e.d.line(pen, LayerJoint, a, b)
	}
}

// structure draws floor, deck, slip line and ceiling.
func (e *elevation) structure() {
	e.d.line(PenFloor, LayerDeck, UV{e.u0, 0}, UV{e.u1, 0})
	if e.f.Top == "slip" {
		if deck := e.deckLine(); len(deck) > 1 {
			e.d.line(PenDeck, LayerDeck, deck...)
		}
		if slip := e.topLine(e.f.SlipBelowMM); len(slip) > 1 {
			e.d.line(PenSlip, LayerDeck, slip...)
		}
	}
	if _, hi := bounds(e.outline()); e.f.CeilingMM > 0 && e.f.CeilingMM < hi[1] {
		e.d.line(PenCeiling, LayerDeck, UV{e.u0, e.f.CeilingMM}, UV{e.u1, e.f.CeilingMM})
	}
}

// deckLine is the structure's underside over the side from left to right, as far
// as it is known.
func (e *elevation) deckLine() []UV {
	if e.run == nil || len(e.run.Deck) < 2 || e.f.Side != "left" && e.f.Side != "right" {
		return nil
	}
	var deck []UV
	for _, q := range e.run.Deck {
		u := q[0] - e.f.StartMM
		if e.f.Side == "left" {
			u = e.f.StartMM + e.f.LengthMM - q[0]
		}
		deck = append(deck, UV{u, q[1]})
	}
	if e.f.Side == "left" { // stations grow to the left there
		slices.Reverse(deck)
	}
	return clipTo(deck, e.u0, e.u1)
}

// topLine is the board's top, lowered, from left to right.
func (e *elevation) topLine(below MM) []UV {
	o := e.outline()
	if len(o) < 4 {
		return nil
	}
	var top []UV
	for i := len(o) - 1; i >= 2; i-- {
		top = append(top, UV{o[i][0], o[i][1] - below})
	}
	return clipTo(top, e.u0, e.u1)
}

// match marks where a split drawing goes on.
func (e *elevation) match() {
	_, hi := bounds(e.outline())
	for _, u := range []MM{e.u0, e.u1} {
		if u <= e.all0+1 || u >= e.all1-1 {
			continue
		}
		e.d.line(PenMatch, LayerDim, UV{u, -e.mm(3)}, UV{u, hi[1] + e.mm(5)})
		m := e.d.label(LayerNote, "match line at "+e.fromStart(u), 2.2, UV{u, hi[1] + e.mm(6.5)})
		m.Bold = true
	}
}

// controls names the control joints, each along its longest stretch: it is left
// open and takes a bead, so a hanger must know it from the other joints.
func (e *elevation) controls() {
	longest := map[MM]*Joint{}
	var at []MM
	for _, q := range e.w.joints[sidePly{e.f.ID, e.ply}] {
		u := q.FromUV[0]
		if q.Kind != "control" || u != q.ToUV[0] || u < e.u0-0.01 || u > e.u1+0.01 {
			continue
		}
		switch was := longest[u]; {
		case was == nil:
			at = append(at, u)
		case q.rise() <= was.rise():
			continue
		}
		longest[u] = q
	}
	for _, u := range at {
		q := longest[u]
		text := "control joint " + e.fromStart(u)
		if float64(q.rise())/e.scale < TextWidth(text, sizeSmall, true) {
			text = "CJ"
		}
		m := e.text(text, sizeSmall, true, 90, UV{u, 0}, 0, 0)
		for _, k := range []MM{0.5, 0.25, 0.75, 0.15, 0.85, 0.5} { // clear of other writing, if that can be
			m.Points[0][1] = q.FromUV[1] + k*(q.ToUV[1]-q.FromUV[1])
			if e.d.clear(len(e.d.Marks) - 1) {
				break
			}
		}
	}
}

// rise is how far up an upright joint goes.
func (q *Joint) rise() MM { return max(q.ToUV[1]-q.FromUV[1], q.FromUV[1]-q.ToUV[1]) }

// fromStart is a place along the side, from its starting edge.
func (e *elevation) fromStart(u MM) string {
	from, _ := Start(e.f, e.ply)
	d := u - from
	if d < 0 {
		d = -d
	}
	return e.w.p.cut(d).Text
}

// ShortMark is a piece's number on its side.
func ShortMark(id string) string {
	if i := strings.LastIndexByte(id, '/'); i >= 0 {
		return id[i+1:]
	}
	return id
}
