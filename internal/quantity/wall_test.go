package quantity

import (
	"fmt"
	"sort"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// in makes a length of inches.
func in(x float64) Length { return measure.FromInches(x) }

// wall describes a run and the layout of both its sides, as the worked cases
// do: stations along the wall for both sides. Side A is the right face, whose u
// is the station; side B the left one.
type wall struct {
	sys      measure.System
	length   Length
	deck     geom.Profile // over the axis; heights
	fixed    Length       // top of the board under a ceiling; deck unused
	ceiling  Length
	spacing  Length
	mil      int
	a, b     []Length // joints
	breaks   []Length // heights of horizontal joint lines
	holes    []hole
	plies    int
	width    Length // of a sheet, for Uncut
	turned   bool   // sheets run across the studs
	rowsA    []courseRow
	rowsB    []courseRow
	listing  string
	insulate string
	finish   int
}

// courseRow is one row of a horizontal layout, with its own ends.
type courseRow struct {
	lo, hi Length
	ends   []Length
}

type hole struct {
	u0, u1, v0, v1 Length
	kind           plan.OpeningKind
	sealed         bool
}

// built is a wall made ready.
type built struct {
	job *job.Job
	run *run.Run
	lay *layout.Layout
	set *run.Set
}

func (b *built) input() Input {
	return Input{Job: b.job, Runs: b.set, Layouts: []*layout.Layout{b.lay}}
}

func (w wall) build() *built {
	if w.spacing == 0 {
		w.spacing = in(16)
		if w.sys == measure.Metric {
			w.spacing = 400 * mm
		}
	}
	if w.mil == 0 {
		w.mil = 18
	}
	if w.plies == 0 {
		w.plies = 1
	}
	set := rules.Default(w.sys)
	thick, sheet := in(0.625), in(48)
	if w.sys == measure.Metric {
		thick, sheet = in(0.625), 1200*mm
	}
	if w.width == 0 {
		w.width = sheet
	}
	j := &job.Job{Name: "case", System: w.sys, Rules: set,
		Boards: []job.Board{{Name: "5/8 X", Kind: "type X", Thickness: thick, MassM2: 2.2 * measure.KgPerPound / squareMetresPerSqFt}}}
	plies := make([]string, w.plies)
	for i := range plies {
		plies[i] = "5/8 X"
	}
	side := job.Side{Plies: plies, Finish: 4}
	if w.finish > 0 {
		side.Finish = w.finish
	}
	j.Types = []job.WallType{{Name: "P1", StudDepth: in(3.625), Mil: w.mil, Spacing: w.spacing, Sides: [2]job.Side{side, side}, Insulation: w.insulate, Listing: w.listing}}
	r := &run.Run{ID: "1-W001", Type: "P1", Make: &j.Types[0], Storey: "1", Length: w.length, Thickness: in(4.875), Spacing: w.spacing,
		StudDepth: in(3.625), Mil: w.mil, Deck: w.deck, Listing: w.listing, Axis: []geom.Pt{{}, {X: w.length}}}
	if w.listing != "" {
		r.Rating = "1 h"
	}
	top := w.deck.Shift(0, -set.DeckGap)
	head := run.Slip
	if w.fixed > 0 {
		top, head = geom.Level(0, w.length, w.fixed), run.FixedTop
	}
	for i, h := range w.holes {
		r.Openings = append(r.Openings, run.Opening{ID: fmt.Sprintf("O%d", i+1), Kind: h.kind, Centre: (h.u0 + h.u1) / 2, Width: h.u1 - h.u0,
			Sill: h.v0, Head: h.v1, RoughWidth: h.u1 - h.u0, RoughHead: h.v1})
	}
	l := &layout.Layout{Run: r, Spacing: w.spacing, OpenFaces: "end", Status: "feasible"}
	for k, s := range []run.Side{run.Left, run.Right} {
		f := &run.Face{ID: r.ID + [...]string{"-L1", "-R1"}[k], Run: r, Side: s, Boarded: true, Length: w.length, Finished: w.length,
			Bottom: set.FloorGap, Top: top, Head: head, Ceiling: w.ceiling, HeightBy: "deck", Finish: side.Finish}
		if s == run.Left {
			f.Top = top.Mirror(w.length)
		}
		for n := 1; n <= w.plies; n++ {
			f.Plies = append(f.Plies, run.Ply{Number: n, Board: "5/8 X", U1: w.length})
		}
		for i, h := range w.holes {
			u0, u1 := f.U(h.u0), f.U(h.u1)
			f.Holes = append(f.Holes, run.Hole{Opening: i, Sealed: h.sealed, First: h.sealed,
				Rect: geom.Rect{Min: geom.Pt{X: min(u0, u1), Y: h.v0}, Max: geom.Pt{X: max(u0, u1), Y: h.v1}}})
		}
		r.Faces = append(r.Faces, f)
	}
	w.studs(l, set)
	w.board(l, r.Faces[1], w.a, w.rowsA, true)
	w.board(l, r.Faces[0], w.b, w.rowsB, false)
	return &built{j, r, l, &run.Set{Runs: []*run.Run{r}}}
}

// studs frames the wall: grid from 0, doubled jambs 5/8 in and 1-7/8 in from
// each rough opening, cripples on the grid over (and under) it.
func (w wall) studs(l *layout.Layout, set *rules.Set) {
	r := l.Run
	height := func(s Length) Length {
		if w.fixed > 0 {
			return w.fixed
		}
		return w.deck.At(s) - set.DeckGap
	}
	add := func(s Length, kind layout.StudKind, lo, hi Length) {
		l.Studs = append(l.Studs, layout.Stud{ID: fmt.Sprintf("S%02d", len(l.Studs)+1), Station: s, Kind: kind, Bottom: lo, Length: hi - lo})
	}
	for s := Length(0); ; s += w.spacing {
		s = min(s, r.Length)
		open := -1
		for i, h := range w.holes {
			if !h.sealed && s > h.u0-in(2) && s < h.u1+in(2) {
				open = i
			}
		}
		switch {
		case open < 0:
			add(s, layout.FieldStud, 0, height(s))
		case s > w.holes[open].u0 && s < w.holes[open].u1:
			add(s, layout.CrippleStud, w.holes[open].v1, height(s))
			if v := w.holes[open].v0; v > set.FloorGap {
				add(s, layout.CrippleStud, 0, v)
			}
		}
		if s == r.Length {
			break
		}
	}
	for _, h := range w.holes {
		if h.sealed {
			continue
		}
		for _, d := range []float64{0.625, 1.875} {
			add(h.u0-in(d), layout.JambStud, 0, height(h.u0))
			add(h.u1+in(d), layout.JambStud, 0, height(h.u1))
		}
	}
	sort.SliceStable(l.Studs, func(i, k int) bool {
		a, b := l.Studs[i], l.Studs[k]
		return a.Station < b.Station || a.Station == b.Station && a.Bottom < b.Bottom
	})
}

// board makes the pieces of one side from its joints, given as stations.
func (w wall) board(l *layout.Layout, f *run.Face, stations []Length, rows []courseRow, first bool) {
	l.Faces = append(l.Faces, layout.FaceLayout{Face: f, First: first, HangFrom: "left", Breaks: w.breaks, Ends: w.turned})
	if rows == nil {
		lo := f.Bottom
		for _, b := range w.breaks {
			rows = append(rows, courseRow{lo, b, stations})
			lo = b
		}
		rows = append(rows, courseRow{lo, 0, stations})
	}
	order := 0
	for ply := 1; ply <= w.plies; ply++ {
		for k, row := range rows {
			us := []Length{0, f.Length}
			for _, s := range row.ends {
				us = append(us, f.U(s))
			}
			sort.Slice(us, func(i, k int) bool { return us[i] < us[k] })
			for i := 1; i < len(us); i++ {
				order++
				p := layout.Piece{ID: fmt.Sprintf("%s/%d/%02d", f.ID, ply, order), Face: f, Ply: ply, Board: "5/8 X", Order: order, Turned: w.turned,
					Left: layout.Tapered, Right: layout.Tapered}
				if k > 0 {
					p.Role = layout.Top
				}
				w.shape(&p, us[i-1], us[i], row.lo, row.hi)
				l.Pieces = append(l.Pieces, p)
				if i+1 < len(us) {
					l.Joints = append(l.Joints, layout.Joint{Face: f, Ply: ply, From: geom.Pt{X: us[i], Y: row.lo},
						To: geom.Pt{X: us[i], Y: topOf(f, us[i], row.hi)}, Kind: w.kind(), Exposed: true})
				}
			}
			if k+1 < len(rows) {
				l.Joints = append(l.Joints, layout.Joint{Face: f, Ply: ply, From: geom.Pt{Y: row.hi}, To: geom.Pt{X: f.Length, Y: row.hi}, Kind: w.rowKind(), Exposed: true})
			}
		}
	}
}

func (w wall) kind() layout.JointKind {
	if w.turned {
		return layout.Butt
	}
	return layout.TaperedJoint
}

func (w wall) rowKind() layout.JointKind {
	if w.turned {
		return layout.TaperedJoint
	}
	return layout.Butt
}

func topOf(f *run.Face, u, hi Length) Length {
	if hi == 0 || hi > f.Top.At(u) {
		return f.Top.At(u)
	}
	return hi
}

// shape makes the outline: bottom with a notch over a door, right and left side
// with notches beside a hole, sloped top.
func (w wall) shape(p *layout.Piece, u0, u1, lo, hi Length) {
	f := p.Face
	var bottom, right, left geom.Poly
	for _, h := range f.Holes {
		r := h.Rect.Intersect(geom.Rect{Min: geom.Pt{X: u0, Y: lo}, Max: geom.Pt{X: u1, Y: topOf(f, u0, hi)}})
		if r.Empty() {
			continue
		}
		switch {
		case r.Min.Y == lo:
			bottom = append(bottom, r.Min, geom.Pt{X: r.Min.X, Y: r.Max.Y}, r.Max, geom.Pt{X: r.Max.X, Y: r.Min.Y})
		case r.Max.X == u1:
			right = append(right, geom.Pt{X: u1, Y: r.Min.Y}, r.Min, geom.Pt{X: r.Min.X, Y: r.Max.Y}, r.Max)
		case r.Min.X == u0:
			left = append(left, geom.Pt{X: u0, Y: r.Max.Y}, r.Max, geom.Pt{X: r.Max.X, Y: r.Min.Y}, r.Min)
		default:
			p.Cutouts = append(p.Cutouts, r.Poly())
		}
	}
	out := geom.Poly{{X: u0, Y: lo}}
	out = append(out, bottom...)
	out = append(out, geom.Pt{X: u1, Y: lo})
	out = append(out, right...)
	out = append(out, geom.Pt{X: u1, Y: topOf(f, u1, hi)}, geom.Pt{X: u0, Y: topOf(f, u0, hi)})
	out = append(out, left...)
	p.Outline = tidy(out)
	p.Heights = []geom.Pt{{X: 0, Y: topOf(f, u0, hi) - lo}, {X: u1 - u0, Y: topOf(f, u1, hi) - lo}}
	if len(bottom) > 0 || len(right) > 0 || len(left) > 0 {
		p.Hooks = []string{"O1"}
	}
	p.Area = 0
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%len(p.Outline)]
		p.Area += measure.Area(a.X-u0)*measure.Area(b.Y-lo) - measure.Area(b.X-u0)*measure.Area(a.Y-lo)
	}
	p.Area /= 2
	for _, c := range p.Cutouts {
		p.Area -= measure.Times(c.Bounds().W(), c.Bounds().H())
	}
	p.MassKg = p.Area.M2() * 2.2 * measure.KgPerPound / squareMetresPerSqFt
}

// tidy drops repeated points and spikes along one line.
func tidy(p geom.Poly) geom.Poly {
	for again := true; again; {
		again = false
		for i := 0; i < len(p) && len(p) > 3; i++ {
			a, b, c := p[(i+len(p)-1)%len(p)], p[i], p[(i+1)%len(p)]
			if b == c || a.X == b.X && b.X == c.X || a.Y == b.Y && b.Y == c.Y {
				p = append(p[:i:i], p[i+1:]...)
				again = true
				break
			}
		}
	}
	return p
}

func sheetSize(width Length, lengths []Length) job.SheetSize {
	return job.SheetSize{Width: width, Lengths: lengths}
}

func inches(xs ...float64) []Length {
	out := make([]Length, len(xs))
	for i, x := range xs {
		out[i] = in(x)
	}
	return out
}

func (b *built) face(side run.Side) *run.Face {
	if side == run.Left {
		return b.run.Faces[0]
	}
	return b.run.Faces[1]
}

// pieces returns the pieces of a side by station, then height.
func (b *built) pieces(side run.Side) []*layout.Piece {
	var out []*layout.Piece
	for i := range b.lay.Pieces {
		if p := &b.lay.Pieces[i]; p.Face.Side == side {
			out = append(out, p)
		}
	}
	st := func(p *layout.Piece) Length {
		x := p.Outline.Bounds()
		return min(p.Face.Station(x.Min.X), p.Face.Station(x.Max.X))
	}
	sort.SliceStable(out, func(i, k int) bool {
		a, b := out[i], out[k]
		if a.Ply != b.Ply {
			return a.Ply < b.Ply
		}
		if x, y := a.Outline.Bounds().Min.Y, b.Outline.Bounds().Min.Y; x != y {
			return x < y
		}
		return st(a) < st(b)
	})
	return out
}

// screwCounts returns the number of screws and of tacks of each piece.
func (b *built) screwCounts(side run.Side) (all, tack []int) {
	s := NewScrewer(b.job, Defaults(b.job.System))
	for _, p := range b.pieces(side) {
		n, k := 0, 0
		for _, sc := range s.Screws(b.lay, p) {
			n++
			if sc.Tack {
				k++
			}
		}
		all, tack = append(all, n), append(tack, k)
	}
	return all, tack
}

func sum(xs []int) int {
	n := 0
	for _, x := range xs {
		n += x
	}
	return n
}

// The worked cases.

func caseC1() wall {
	return wall{length: in(240), deck: geom.Level(0, in(240), in(120)), a: inches(48, 96, 144, 192), b: inches(32, 80, 128, 176, 224)}
}

func caseC2() wall {
	return wall{length: in(192), deck: geom.Level(0, in(192), in(120)), a: inches(48, 96, 144), b: inches(32, 80, 128, 176),
		holes: []hole{{u0: in(69), u1: in(107), v0: in(0.5), v1: in(85.25), kind: plan.Door}}}
}

func caseC4() wall {
	return wall{length: in(192), deck: geom.Profile{{X: 0, Y: in(126)}, {X: in(192), Y: in(130)}}, a: inches(48, 96, 144), b: inches(32, 80, 128, 176)}
}

func caseC5() wall {
	return wall{length: in(240), deck: geom.Profile{{X: 0, Y: in(210)}, {X: in(240), Y: in(215)}}, a: inches(48, 96, 144, 192), b: inches(32, 80, 128, 176, 224),
		breaks: inches(120.5)}
}

func caseC6() wall {
	return wall{length: in(288), fixed: in(108), ceiling: in(108), turned: true,
		rowsA: []courseRow{{in(0.5), in(54), inches(96, 240)}, {in(54), in(108), inches(144)}},
		rowsB: []courseRow{{in(0.5), in(54), inches(112, 256)}, {in(54), in(108), inches(64, 208)}}}
}

func caseC7() wall {
	m := measure.Millimetre
	return wall{sys: measure.Metric, length: 5900 * m, deck: geom.Level(0, 5900*m, 2950*m), a: []Length{1200 * m, 2400 * m, 3600 * m, 4800 * m},
		b: []Length{800 * m, 2000 * m, 3200 * m, 4400 * m, 5600 * m}}
}

func caseC8() wall {
	return wall{length: in(144), deck: geom.Level(0, in(144), in(216)), a: inches(32, 80, 128), b: inches(16, 64, 112), breaks: inches(120.5),
		holes: []hole{{u0: in(59.75), u1: in(84.25), v0: in(149.75), v1: in(164.25), kind: plan.Penetration, sealed: true}}}
}
