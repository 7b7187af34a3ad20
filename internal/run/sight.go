package run

import (
	"cmp"
	"slices"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// sighting is what is above a line, u from 0 to its length.
type sighting struct {
	pieces  []piece
	open    [][2]Length // stretches of u that nothing covers
	prof    geom.Profile
	steps   []Length // where the profile steps
	by      string
	assumed bool // nobody gave it
}

// piece is a straight piece of a profile, from a to b in u.
type piece struct{ a, b geom.Pt }

// along reads surfaces over the points of a face; at gives the point at u.
// Curved faces are read in chords.
func along(list []surface, length Length, at func(u Length) geom.Pt, curved bool) (s sighting) {
	n := Length(1)
	if curved {
		n = 1 + length/(300*measure.Millimetre)
	}
	last := -1
	for i := Length(0); i < n; i++ {
		u0, u1 := geom.MulDiv(length, i, n), geom.MulDiv(length, i+1, n)
		a, b := at(u0), at(u1)
		l, chord := lineThrough(a, b)
		if chord == 0 {
			continue
		}
		for _, st := range stretches(list, a, b) {
			from, to := u0+geom.MulDiv(st.u0, u1-u0, chord), u0+geom.MulDiv(st.u1, u1-u0, chord)
			if st.of < 0 {
				s.open = append(s.open, [2]Length{from, to})
				continue
			}
			f := &list[st.of]
			if s.by = f.by; last >= 0 && st.of != last {
				s.by = "decks"
			}
			s.assumed = s.assumed || f.order >= byDefault
			s.pieces = append(s.pieces, piece{geom.Pt{X: from, Y: f.plane.at(l.at(st.u0, 0))}, geom.Pt{X: to, Y: f.plane.at(l.at(st.u1, 0))}})
			last = st.of
		}
	}
	return s
}

// gap is the length that nothing covers.
func (s *sighting) gap() Length {
	var sum Length
	for _, o := range s.open {
		sum += o[1] - o[0]
	}
	return sum
}

// fill closes the open stretches with pieces of another source, cut to them.
func (s *sighting) fill(from []piece) {
	for _, o := range s.open {
		for _, p := range from {
			lo, hi := max(o[0], p.a.X), min(o[1], p.b.X)
			if lo < hi {
				s.pieces = append(s.pieces, piece{geom.Pt{X: lo, Y: p.at(lo)}, geom.Pt{X: hi, Y: p.at(hi)}})
			}
		}
	}
}

func (p piece) at(u Length) Length { return geom.Profile{p.a, p.b}.At(u) }

// draw makes the profile of the pieces, on the measuring step.
func (s *sighting) draw(step Length) {
	slices.SortFunc(s.pieces, func(x, y piece) int { return cmp.Or(cmp.Compare(x.a.X, y.a.X), cmp.Compare(x.b.X, y.b.X)) })
	s.prof, s.steps = nil, nil
	for _, p := range s.pieces {
		s.add(p, step)
	}
}

// rampSlope is the steepest that a step in height is drawn. Steeper, the grid's
// rounding along the wall would show in heights. Common practice, no source.
const rampSlope = 1000

// add puts a piece after the profile. A step in height becomes a ramp, one
// measuring step wide or as wide as rampSlope wants, that keeps to the lower
// side; a step of a hair is none.
func (s *sighting) add(p piece, step Length) {
	n := len(s.prof)
	if n > 0 && p.a.X < s.prof[n-1].X { // it overlaps what is there
		x := min(s.prof[n-1].X, p.b.X)
		p.a = geom.Pt{X: x, Y: p.at(x)}
	}
	a := geom.Pt{X: toStep(p.a.X, step), Y: toStep(p.a.Y, step)}
	b := geom.Pt{X: toStep(p.b.X, step), Y: toStep(p.b.Y, step)}
	if b.X <= a.X {
		return
	}
	ramp := step
	if n > 0 {
		ramp = max(step, toStep((a.Y-s.prof[n-1].Y).Abs()/rampSlope, step))
	}
	switch {
	case n == 0 || a.X > s.prof[n-1].X:
		s.prof = append(s.prof, a)
	case (a.Y - s.prof[n-1].Y).Abs() <= 2*step: // goes on
	case a.Y < s.prof[n-1].Y: // down: the lower side begins one step earlier
		s.steps = append(s.steps, a.X)
		if x := a.X - ramp; n < 2 || x > s.prof[n-2].X {
			s.prof[n-1].X = x
		} else {
			s.prof = s.prof[:n-1]
		}
		s.prof = append(s.prof, a)
	default: // up: it goes on a little
		s.steps = append(s.steps, a.X)
		if a.X += ramp; a.X >= b.X {
			return
		}
		s.prof = append(s.prof, a)
	}
	s.prof = append(s.prof, b)
}

// claim reads the tops that a model draws for the walls of a run: of the face's
// own side where it tells the side's shape, else over the axis, else the height.
func (bld *builder) claim(b *band, f *Face) []piece {
	var list []piece
	for _, i := range b.walls {
		w := &bld.p.Walls[i]
		for _, e := range claimed(b, w, f.Side) {
			for k := range e {
				s := b.stationOf(w, e[k].X) + b.ends[0].shift
				if e[k].X = s - f.Start; f.Side == Left {
					e[k].X = f.Length - e[k].X
				}
			}
			if e[0].X > e[1].X {
				e[0], e[1] = e[1], e[0]
			}
			list = append(list, piece{e[0], e[1]})
		}
	}
	if len(list) > 0 { // the outermost tops go on to the face's ends
		slices.SortFunc(list, func(x, y piece) int { return cmp.Compare(x.a.X, y.a.X) })
		first, last := &list[0], &list[len(list)-1]
		if first.a.X > 0 {
			list = append([]piece{{geom.Pt{X: 0, Y: first.a.Y}, first.a}}, list...)
		}
		if last.b.X < f.Length {
			list = append(list, piece{last.b, geom.Pt{X: f.Length, Y: last.b.Y}})
		}
	}
	return list
}

// claimOver is claim over the axis of a run: the higher of its sides, as its
// studs carry both.
func (bld *builder) claimOver(b *band) []piece {
	length := b.run.Length
	var both [2]geom.Profile
	for k := range both {
		s := sighting{pieces: bld.claim(b, &Face{Side: Side(k), Length: length})}
		if s.draw(bld.j.Rules.Step); len(s.prof) == 0 {
			return bld.claim(b, &Face{Side: Reveal, Length: length})
		}
		both[k] = s.prof
	}
	p, q := both[Left].Mirror(length), both[Right]
	var out []piece
	at := breaks(p, q, 0, length)
	for i := 1; i < len(at); i++ {
		from, to := at[i-1], at[i]
		higher := p
		if mid := (from + to) / 2; q.At(mid) > p.At(mid) {
			higher = q
		}
		out = append(out, piece{geom.Pt{X: from, Y: higher.At(from)}, geom.Pt{X: to, Y: higher.At(to)}})
	}
	return out
}

// claimed returns the pieces of a wall's top as the model tells it, u along the
// wall's own axis.
func claimed(b *band, w *plan.Wall, side Side) [][2]geom.Pt {
	var out [][2]geom.Pt
	if side <= Right {
		k := int(side)
		if b.axis.d.dot(b.wallDir(w)) < 0 {
			k = 1 - k
		}
		// Counter-clockwise, the upper edges of an outline run to the left.
		shape := w.Sides[k].Outline
		for i, p := range shape {
			if q := shape[(i+1)%len(shape)]; q.X < p.X {
				out = append(out, [2]geom.Pt{q, p})
			}
		}
	}
	top := w.Top
	if len(top) == 0 && w.Height > 0 {
		l := hypot(w.Axis[1].X-w.Axis[0].X, w.Axis[1].Y-w.Axis[0].Y)
		if b.arc != nil {
			l = b.length
		}
		top = geom.Level(0, l, w.Base+w.Height)
	}
	if len(out) > 0 {
		return out
	}
	for n := 1; n < len(top); n++ {
		out = append(out, [2]geom.Pt{top[n-1], top[n]})
	}
	return out
}
