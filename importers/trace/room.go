package trace

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// minRoom is the least area of a closed space that is told as a room; smaller
// ones are voids between walls. Source: common practice, none published.
const minRoom = 0.1 // m²

// rooms walks round every face of the net of axes, half a wall off it: the
// inner finished outline with all openings closed. Free ends of walls in a room
// are walked round.
func (t *tracer) rooms() {
	g := t.axisGraph()
	done := make([]bool, len(g.halfs))
	for i := range g.halfs {
		if done[i] {
			continue
		}
		var ring []int32
		for k := int32(i); !done[k]; k = g.next(k) {
			done[k] = true
			ring = append(ring, k)
		}
		poly := t.outline(g, ring)
		t.netArea -= areaM2(poly) // an outer outline runs clockwise
		if len(poly) < 3 || areaM2(poly) < minRoom || !t.simpleEnough(poly) {
			continue
		}
		out := make(geom.Poly, len(poly))
		for k, p := range poly {
			out[k] = t.global(p)
		}
		t.out.Rooms = append(t.out.Rooms, plan.Room{Storey: t.opt.Storey, Outline: canonical(out)})
	}
	slices.SortFunc(t.out.Rooms, func(a, b plan.Room) int {
		return cmp.Or(cmp.Compare(a.Outline[0].Y, b.Outline[0].Y), cmp.Compare(a.Outline[0].X, b.Outline[0].X), cmp.Compare(len(a.Outline), len(b.Outline)))
	})
	t.nameRooms()
}

// simpleEnough drops faces whose two sides touch: slivers between walls that
// overlap.
func (t *tracer) simpleEnough(p geom.Poly) bool {
	per := 0.0
	for i := range p {
		d := p[(i+1)%len(p)].Sub(p[i])
		per += math.Hypot(d.X.Metres(), d.Y.Metres())
	}
	return areaM2(p) > per*0.02 // narrower than about 4 cm
}

// outline offsets a ring of halves to the left by half a wall each and joins
// the offset lines at the corners.
func (t *tracer) outline(g *graph, ring []int32) geom.Poly {
	n := len(ring)
	corners := make([][]pt, n) // after ring[i]
	for i, k := range ring {
		m := ring[(i+1)%n]
		corners[i] = t.corner(g, &g.halfs[k], &g.halfs[m], m == k^1)
	}
	var out geom.Poly
	for i, k := range ring {
		t.faceLine(&g.halfs[k], corners[(i+n-1)%n], corners[i], &out)
		out = append(out, corners[i]...)
	}
	return tidy(cutLoops(tidy(out)))
}

// leftOf is the offset, in its frame, of the face on the left of a half.
func (t *tracer) leftOf(h *half) Length {
	w := &t.walls2[h.wall]
	left := h.s1 > h.s0
	if t.bundles[w.fr].fr.polar { // r grows to the right of s
		left = !left
	}
	if left {
		return w.rb
	}
	return w.ra
}

// faceLine adds the points of a curved face between its corners.
func (t *tracer) faceLine(h *half, before, after []pt, out *geom.Poly) {
	w := &t.walls2[h.wall]
	fr := &t.bundles[w.fr].fr
	if !fr.polar {
		return
	}
	s0, s1, r := h.s0, h.s1, t.leftOf(h)
	if len(before) > 0 {
		s0, _ = fr.to(before[len(before)-1])
	}
	if len(after) > 0 {
		s1, _ = fr.to(after[0])
	}
	if (s1 > s0) != (h.s1 > h.s0) {
		return
	}
	n := int(math.Abs(float64(s1-s0))/float64(fr.scale)/(2*math.Pi/180)) + 1
	for i := 1; i < n; i++ {
		*out = append(*out, fr.from(s0+(s1-s0)*Length(i)/Length(n), r))
	}
}

// corner returns the corner between the left faces of two halves that follow
// each other round a face.
func (t *tracer) corner(g *graph, a, b *half, turn bool) []pt {
	wa, wb := &t.walls2[a.wall], &t.walls2[b.wall]
	fa, fb := &t.bundles[wa.fr].fr, &t.bundles[wb.fr].fr
	ra, rb := t.leftOf(a), t.leftOf(b)
	switch {
	case turn: // round a free end
		return []pt{fa.from(a.s1, ra), fb.from(b.s0, rb)}
	case a.wall == b.wall: // straight on
		return nil
	case wa.fr == wb.fr:
		s := t.stepAt(g, a, b)
		return []pt{fa.from(s, ra), fb.from(s, rb)}
	}
	if p, ok := t.meetFaces(fa, ra, a.s1, fb, rb); ok {
		return []pt{p}
	}
	return []pt{fa.from(a.s1, ra), fb.from(b.s0, rb)}
}

// stepAt is the station where the face steps between two walls in line: at the
// node, or, where the thicker wall turns a corner there, at the far face of the
// wall it turns into.
func (t *tracer) stepAt(g *graph, a, b *half) Length {
	wa, wb := &t.walls2[a.wall], &t.walls2[b.wall]
	var across Length
	for _, k := range g.out[b.node] {
		w := &t.walls2[g.halfs[k].wall]
		if w.fr != wa.fr {
			across = max(across, w.thick())
		}
	}
	walk := Length(1) // along the axis, or against it
	if a.s1 < a.s0 {
		walk = -1
	}
	if wa.thick() > wb.thick() {
		return a.s1 + walk*across/2
	}
	return a.s1 - walk*across/2
}

// meetFaces intersects face ra of frame fa, near station s, with face rb of fb.
func (t *tracer) meetFaces(fa *frame, ra, s Length, fb *frame, rb Length) (pt, bool) {
	at := s
	for range 20 { // one step for straight faces, Newton for curves
		so, ro := fb.to(fa.from(at, ra))
		ax, ay := fa.dir(at)
		bx, by := fb.dir(so)
		sin := float64(bx*ay) - float64(by*ax)
		if fb.polar { // r grows to the right
			sin = -sin
		}
		if math.Abs(sin) < 0.05 {
			return pt{}, false
		}
		step := fa.stretch(round(float64(rb-ro)/sin), ra)
		at += step
		if step.Abs() <= 1 || !fa.polar && !fb.polar {
			break
		}
	}
	if (at - s).Abs() > 4*maxThick {
		return pt{}, false
	}
	return fa.from(at, ra), true
}

// cutLoops cuts the small loops off a ring that nodes nearer to each other than
// the walls are thick leave: where an edge crosses one of the next four, what
// lies between goes.
func cutLoops(p geom.Poly) geom.Poly {
	for range len(p) {
		i, j, x, ok := firstLoop(p)
		if !ok {
			return p
		}
		n := len(p)
		out := geom.Poly{x}
		for k := (j + 1) % n; k != (i+1)%n; k = (k + 1) % n {
			out = append(out, p[k])
		}
		p = out
	}
	return p
}

// firstLoop finds edge i and a near later edge j that cross at x.
func firstLoop(p geom.Poly) (i, j int, x pt, ok bool) {
	n := len(p)
	for i := 0; i < n; i++ {
		var between float64
		for d := 2; d <= 4 && d < n-1; d++ {
			j := (i + d) % n
			v := p[(i+d)%n].Sub(p[(i+d-1)%n])
			between += math.Sqrt(norm2(v))
			if between > 3*float64(maxThick) {
				break
			}
			if x, ok := cross(p[i], p[(i+1)%n], p[j], p[(j+1)%n]); ok {
				return i, j, x, true
			}
		}
	}
	return 0, 0, pt{}, false
}

// cross is where the inner parts of two segments meet.
func cross(a, b, c, d pt) (pt, bool) {
	u, v, w := b.Sub(a), d.Sub(c), c.Sub(a)
	den := float64(u.X)*float64(v.Y) - float64(u.Y)*float64(v.X)
	if den == 0 {
		return pt{}, false
	}
	k := (float64(w.X)*float64(v.Y) - float64(w.Y)*float64(v.X)) / den
	l := (float64(w.X)*float64(u.Y) - float64(w.Y)*float64(u.X)) / den
	if k <= 0 || k >= 1 || l <= 0 || l >= 1 {
		return pt{}, false
	}
	return pt{X: a.X + round(k*float64(u.X)), Y: a.Y + round(k*float64(u.Y))}, true
}

// tidy drops repeated points and points on a straight line between their
// neighbours.
func tidy(p geom.Poly) geom.Poly {
	var out geom.Poly
	n := len(p)
	for i := 0; i < n; i++ {
		if p[i] != p[(i+1)%n] {
			out = append(out, p[i])
		}
	}
	p, out = out, nil
	n = len(p)
	for i := 0; i < n; i++ {
		a, b, c := p[(i+n-1)%n], p[i], p[(i+1)%n]
		u, v := b.Sub(a), c.Sub(b)
		cross := float64(u.X)*float64(v.Y) - float64(u.Y)*float64(v.X)
		dot := float64(u.X)*float64(v.X) + float64(u.Y)*float64(v.Y)
		if dot > 0 && math.Abs(cross) <= 16*math.Sqrt(norm2(u)+norm2(v)) {
			continue
		}
		out = append(out, b)
	}
	return out
}

// canonical starts a ring at its lowest, then leftmost point.
func canonical(p geom.Poly) geom.Poly {
	k := 0
	for i := range p {
		if p[i].Y < p[k].Y || p[i].Y == p[k].Y && p[i].X < p[k].X {
			k = i
		}
	}
	return append(slices.Clone(p[k:]), p[:k]...)
}

// areaM2 is the signed area of a ring, counter-clockwise positive.
func areaM2(p geom.Poly) float64 {
	if len(p) == 0 {
		return 0
	}
	o, sum := p[0], 0.0
	for i := range p {
		a, b := p[i].Sub(o), p[(i+1)%len(p)].Sub(o)
		sum += a.X.Metres()*b.Y.Metres() - a.Y.Metres()*b.X.Metres()
	}
	return sum / 2
}

// nameRooms gives each room the writing that stands in it.
func (t *tracer) nameRooms() {
	var ix boxIndex
	for i := range t.out.Rooms {
		ix.add(int32(i), t.out.Rooms[i].Outline...)
	}
	best := make([]Length, len(t.out.Rooms))
	for _, k := range t.textsOf(RoomText) {
		x := &t.d.Texts[k]
		p := gridPt(x.At)
		room, size := int32(-1), 0.0
		ix.search(0, func(i int32) {
			if o := t.out.Rooms[i].Outline; inside(o, p) {
				if a := areaM2(o); room < 0 || a < size {
					room, size = i, a
				}
			}
		}, p)
		if room < 0 {
			continue
		}
		r := &t.out.Rooms[room]
		name, number := nameIn(x.Value)
		if number != "" && r.Number == "" {
			r.Number = number
		}
		if name != "" && (r.Name == "" || measure.FromMM(x.Height) > best[room]) {
			r.Name, r.At, best[room] = name, p, measure.FromMM(x.Height)
		}
		r.Sources = append(r.Sources, t.sourceOf(&x.Common))
		t.usedEnt[x.Entity] = true
	}
	for i := range t.out.Rooms {
		sortSources(t.out.Rooms[i].Sources)
	}
}

// textsOf lists the visible writings of a role by place, so that their order in
// the file decides nothing.
func (t *tracer) textsOf(role Role) []int {
	var out []int
	for i := range t.d.Texts {
		x := &t.d.Texts[i]
		if _, r := t.roleOf(&x.Common); r != role || x.Hidden && !t.opt.Hidden || !finite(x.At) || !t.inRegion(x.At, x.At) {
			continue
		}
		out = append(out, i)
	}
	slices.SortFunc(out, func(i, j int) int {
		a, b := &t.d.Texts[i], &t.d.Texts[j]
		return cmp.Or(-cmp.Compare(a.At[1], b.At[1]), cmp.Compare(a.At[0], b.At[0]), cmp.Compare(a.Value, b.Value))
	})
	return out
}

// nameIn reads a room's name and number out of its writing: a line of words is
// the name, a line that is a number, alone or after a short word, the number; a
// line with an area is neither.
func nameIn(s string) (name, number string) {
	for _, l := range strings.Split(s, "\n") {
		l = strings.TrimSpace(l)
		switch {
		case l == "" || areaLine(l):
		case number == "" && numberLine(l) != "":
			number = numberLine(l)
		case name == "":
			name = l
		}
	}
	return name, number
}

func areaLine(l string) bool {
	l = strings.ToLower(l)
	if !strings.ContainsAny(l, "0123456789") {
		return false
	}
	for _, u := range []string{"m2", "m²", "sf", "sq", "qm", "ft²", "sqm"} {
		if strings.Contains(l, u) {
			return true
		}
	}
	return false
}

// numberLine returns the number in "101", "A-101B", "RM 101", "Raum 1.03".
func numberLine(l string) string {
	f := strings.Fields(l)
	if len(f) == 0 || len(f) > 2 {
		return ""
	}
	n := f[len(f)-1]
	digits, letters := 0, 0
	for _, r := range n {
		switch {
		case unicode.IsDigit(r):
			digits++
		case unicode.IsLetter(r):
			letters++
		}
	}
	if digits == 0 || letters > 2 || digits < 2 && len(f) == 2 {
		return ""
	}
	if len(f) == 2 {
		switch strings.ToLower(strings.Trim(f[0], ".:#")) {
		case "rm", "room", "raum", "no", "nr", "r", "local", "pièce", "sala", "vano", "пом":
		default:
			return ""
		}
	}
	return n
}
