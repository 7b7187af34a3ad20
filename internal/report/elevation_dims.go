package report

import (
	"math"
	"slices"
	"sort"
)

// dimensions are: stud centres from the starting edge under the floor, where
// the side starts and which way the studs are open, the heights at both ends,
// and the names of the lines.
func (e *elevation) dimensions() {
	deep := e.centres()
	e.startArrow(deep + 4)
	e.heights()
	e.lineNames()
}

// centres writes the stud centres, counted from the starting edge; those that
// carry a joint are bold. It returns how deep on paper the row goes.
func (e *elevation) centres() float64 {
	jointed := map[string]bool{}
	for _, q := range e.w.joints[sidePly{e.f.ID, e.ply}] {
		if q.FromUV[0] == q.ToUV[0] {
			jointed[q.Stud] = true
		}
	}
	type place struct {
		u    MM
		text string
		bold bool
	}
	var list []place
	for _, s := range e.f.Studs {
		if s.UMM < e.u0-1 || s.UMM > e.u1+1 {
			continue
		}
		text := e.fromStart(s.UMM)
		if text == "0" {
			continue // the starting edge itself, below
		}
		if n := len(list); n > 0 && list[n-1].text == text { // cripples over one another
			list[n-1].bold = list[n-1].bold || jointed[s.Stud]
			continue
		}
		list = append(list, place{s.UMM, text, jointed[s.Stud]})
	}
	if u, _ := Start(e.f, e.ply); u >= e.u0-1 && u <= e.u1+1 {
		list = append(list, place{u: u}) // no number: the heavy line of the start stands there
	}
	sort.SliceStable(list, func(a, b int) bool { return list[a].u < list[b].u })
	want := make([]float64, len(list))
	for i, l := range list {
		want[i] = float64(l.u) / e.scale
	}
	deep := 0.0
	for i, x := range spread(want, sizeText+0.1) {
		l := list[i]
		if l.text == "" {
			continue
		}
		foot := UV{MM(x * e.scale), -e.mm(4)}
		e.d.line(PenDim, LayerDim, UV{l.u, -e.mm(0.4)}, UV{l.u, -e.mm(1.6)}, foot)
		m := e.d.label(LayerDim, l.text, sizeText, UV{foot[0], -e.mm(4.5)})
		m.Angle, m.Align, m.Bold = 90, AlignRight, l.bold
		deep = max(deep, 4.5+TextWidth(l.text, sizeText, l.bold))
	}
	return deep
}

// startArrow marks the starting edge, the way the side is hung, and the way the
// studs are open.
func (e *elevation) startArrow(depth float64) {
	if e.f.HangFrom == "" {
		return
	}
	u, left := Start(e.f, e.ply)
	dir := MM(1)
	if !left {
		dir = -1
	}
	v := -e.mm(depth)
	if u < e.u0-1 || u > e.u1+1 { // a later part: from where it goes on
		if u = e.u0; !left {
			u = e.u1
		}
		e.arrow(UV{u, v}, dir, 14)
		e.beside(UV{u, v}, dir, 16, "hung this way")
		return
	}
	e.d.line(PenJoint, LayerDim, UV{u, -e.mm(0.4)}, UV{u, v - e.mm(2)})
	e.arrow(UV{u, v}, dir, 14)
	e.beside(UV{u, v}, dir, 16, "start")
	e.flange(UV{u, v}, dir)
}

// arrow draws a filled arrow of a length on paper.
func (e *elevation) arrow(at UV, dir MM, length float64) {
	a, h := e.mm(length), e.mm(1.4)
	e.d.line(PenDim, LayerDim, at, UV{at[0] + dir*a, at[1]})
	e.d.area(PenDim, LayerDim, FillSolid, Poly{{at[0] + dir*a, at[1]}, {at[0] + dir*(a-2*h), at[1] + h}, {at[0] + dir*(a-2*h), at[1] - h}})
}

func (e *elevation) beside(at UV, dir MM, by float64, text string) {
	m := e.d.label(LayerNote, text, 2.8, UV{at[0] + dir*e.mm(by), at[1]})
	m.Bold, m.Align = true, AlignLeft
	if dir < 0 {
		m.Align = AlignRight
	}
}

// openSide is the way the open sides of the studs face, as seen on a face:
// "left", "right" or "" where not known.
func openSide(f *Face, r *Run) string {
	if r == nil || r.Flange == "" || f.Side != "left" && f.Side != "right" {
		return ""
	}
	// Stations grow to the right on a right face and to the left on a left one.
	if (r.Flange == "end") == (f.Side == "right") {
		return "right"
	}
	return "left"
}

// flange draws a stud's section in plan with its open side as framed.
func (e *elevation) flange(at UV, dir MM) {
	side := openSide(e.f, e.run)
	if side == "" {
		return
	}
	open := MM(1)
	if side == "left" {
		open = -1
	}
	c := UV{at[0] + dir*e.mm(32), at[1]}
	w, h := e.mm(1.2), e.mm(1.7)
	e.d.line(PenJoint, LayerDim,
		UV{c[0] + open*w, c[1] + h}, UV{c[0] - open*w, c[1] + h}, UV{c[0] - open*w, c[1] - h}, UV{c[0] + open*w, c[1] - h})
	e.beside(at, dir, 35, "studs open to the "+side)
}

// topAt is the top of the board at u.
func (e *elevation) topAt(u MM) MM {
	top := e.topLine(0)
	for i := 1; i < len(top); i++ {
		if u <= top[i][0]+0.001 {
			a, b := top[i-1], top[i]
			if u <= a[0] {
				return a[1]
			}
			return a[1] + (b[1]-a[1])*(u-a[0])/(b[0]-a[0])
		}
	}
	if n := len(top); n > 0 {
		return top[n-1][1]
	}
	return 0
}

// heights are dimension lines at both ends: the rows one by one, and all of
// it.
func (e *elevation) heights() {
	o := e.outline()
	if len(o) < 3 {
		return
	}
	lo, _ := bounds(o)
	for _, end := range []struct {
		u   MM
		dir MM
	}{{e.u0, -1}, {e.u1, 1}} {
		top := e.topAt(end.u)
		stops := []MM{lo[1]}
		for _, b := range e.breaks(end.u) {
			if b > lo[1]+1 && b < top-1 {
				stops = append(stops, b)
			}
		}
		stops = append(stops, top)
		sort.Slice(stops, func(i, k int) bool { return stops[i] < stops[k] })
		x := end.u + end.dir*e.mm(4.5)
		e.chain(x, end.dir, stops)
		if len(stops) > 2 {
			e.chain(x+end.dir*e.mm(4.5), end.dir, []MM{lo[1], top})
		}
	}
}

// breaks are the heights of the level joints that reach u.
func (e *elevation) breaks(u MM) []MM {
	var out []MM
	for _, q := range e.w.joints[sidePly{e.f.ID, e.ply}] {
		if v := q.FromUV[1]; q.ToUV[1] == v && min(q.FromUV[0], q.ToUV[0]) <= u+1 && max(q.FromUV[0], q.ToUV[0]) >= u-1 && !slices.Contains(out, v) {
			out = append(out, v)
		}
	}
	return out
}

// chain is one upright dimension line.
func (e *elevation) chain(x, dir MM, stops []MM) {
	t := e.mm(0.9)
	e.d.line(PenDim, LayerDim, UV{x, stops[0]}, UV{x, stops[len(stops)-1]})
	for _, v := range stops {
		e.d.line(PenDim, LayerDim, UV{x - t, v - t}, UV{x + t, v + t})
	}
	for i := 1; i < len(stops); i++ {
		a, b := stops[i-1], stops[i]
		text := e.w.p.cut(b - a).Text
		mid := UV{x, (a + b) / 2}
		if float64(b-a)/e.scale >= TextWidth(text, sizeText, false)+1 {
			mid[0] -= e.mm(1.4)
			m := e.d.label(LayerDim, text, sizeText, mid)
			m.Angle = 90
			continue
		}
		m := e.d.label(LayerDim, text, sizeText, UV{x + dir*e.mm(1.4), mid[1]})
		m.Align = AlignLeft
		if dir < 0 {
			m.Align = AlignRight
		}
	}
}

// lineNames names deck, slip line, ceiling and floor beside the right end.
func (e *elevation) lineNames() {
	type name struct {
		v    MM
		text string
	}
	list := []name{{0, "floor"}}
	if _, hi := bounds(e.outline()); e.f.CeilingMM > 0 && e.f.CeilingMM < hi[1] {
		list = append(list, name{e.f.CeilingMM, "ceiling " + e.w.p.wall(e.f.CeilingMM).Text})
	}
	if e.f.Top == "slip" {
		list = append(list, name{e.topAt(e.u1) - e.f.SlipBelowMM, "slip line: no screw above"})
		if d := e.deckLine(); len(d) > 1 {
			list = append(list, name{d[len(d)-1][1], "deck"})
		}
	}
	sort.SliceStable(list, func(i, k int) bool { return list[i].v < list[k].v })
	want := make([]float64, len(list))
	for i, l := range list {
		want[i] = float64(l.v) / e.scale
	}
	x := e.u1 + e.mm(1)
	end := x + e.mm(11.5)
	for i, y := range spread(want, 2.5) {
		v := MM(y * e.scale)
		if math.Abs(float64(v-list[i].v)) > 0.2*e.scale || list[i].text != "floor" {
			e.d.line(PenGround, LayerDim, UV{x, list[i].v}, UV{end - e.mm(1.5), list[i].v}, UV{end, v})
		}
		m := e.d.label(LayerNote, list[i].text, sizeSmall, UV{end + e.mm(0.6), v})
		m.Align = AlignLeft
	}
}
