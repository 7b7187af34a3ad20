package quantity

import (
	"sort"

	"boardrun/internal/geom"
	"boardrun/internal/layout"
	"boardrun/internal/run"
)

// studLine is one row of screws of a piece along one stud.
type studLine struct {
	u     Length // of the screws
	at    Length // of the stud's centre
	stud  *layout.Stud
	edge  bool        // along a sheet's side, else in its field
	holes []geom.Rect // holes whose side this line stands beside
}

const (
	// edgeReach is how near to a piece's side its outermost line still counts
	// as the line of that side: at an end of a wall the stud stands back from
	// the board by a lap or a flange.
	edgeReach = 3 * inch
	// twin is how near two studs stand that take one line of screws: a doubled
	// jamb, a stud beside a tee.
	twin = 2 * inch
)

// lines returns the stud lines of a piece from left to right.
func (s *Screwer) lines(l *layout.Layout, p *layout.Piece) []studLine {
	box, edge := p.Outline.Bounds(), s.set.EdgeDistance
	if box.W() < 2*edge { // nothing holds a sliver
		return nil
	}
	if p.Face.Side == run.End || p.Face.Side == run.Reveal {
		return returnLines(box)
	}
	var out []studLine
	for i := range l.Studs {
		stud := &l.Studs[i]
		if stud.Bottom >= box.Max.Y || stud.Length > 0 && stud.Bottom+stud.Length <= box.Min.Y {
			continue
		}
		at := faceU(p.Face, stud.Station)
		u := min(max(at, box.Min.X+edge), box.Max.X-edge)
		if (u - at).Abs() <= s.set.Flange/2 {
			out = append(out, studLine{u: u, at: at, stud: stud})
		}
	}
	sort.SliceStable(out, func(i, k int) bool { return out[i].u < out[k].u })
	s.besideHoles(p, out)
	out = single(out, box)
	if n := len(out); n > 0 {
		out[0].edge = out[0].u-box.Min.X <= edgeReach
		out[n-1].edge = out[n-1].edge || box.Max.X-out[n-1].u <= edgeReach
	}
	return out
}

// returnLines are the lines of the narrow pieces that close a wall's end or a
// reveal: along both flanges of the stud behind, or one line where it is under
// 3 in wide. Source: common practice, no source.
func returnLines(box geom.Rect) []studLine {
	if box.W() < 3*inch {
		return []studLine{{u: box.Min.X + box.W()/2, edge: true}}
	}
	return []studLine{{u: box.Min.X + box.W()/4, edge: true}, {u: box.Max.X - box.W()/4, edge: true}}
}

// besideHoles tells the line nearest to each side of each hole that it stands
// beside it. Of a doubled jamb only that one is screwed.
func (s *Screwer) besideHoles(p *layout.Piece, lines []studLine) {
	box := p.Outline.Bounds()
	reach := s.set.JambFromFrame + s.set.Flange
	for i := range p.Face.Holes {
		r := p.Face.Holes[i].Rect
		if r.Max.Y <= box.Min.Y || r.Min.Y >= box.Max.Y {
			continue
		}
		left, right := -1, -1
		for k := range lines {
			switch d := lines[k].u; {
			case d <= r.Min.X && r.Min.X-d <= reach:
				left = k // lines rise: the last is the nearest
			case d >= r.Max.X && d-r.Max.X <= reach && right < 0:
				right = k
			}
		}
		if left >= 0 {
			lines[left].holes = append(lines[left].holes, r)
			s.moveOff(&lines[left], min(lines[left].u, r.Min.X-s.set.EdgeDistance))
		}
		if right >= 0 {
			lines[right].holes = append(lines[right].holes, r)
			s.moveOff(&lines[right], max(lines[right].u, r.Max.X+s.set.EdgeDistance))
		}
	}
}

// moveOff moves a line off the side of a hole as far as its stud's flange goes.
func (s *Screwer) moveOff(ln *studLine, u Length) {
	if (u - ln.at).Abs() <= s.set.Flange/2 {
		ln.u = u
	}
}

// single leaves one line of studs that stand side by side: the one beside a
// hole, else the one nearest to the piece's side, else the first.
func single(lines []studLine, box geom.Rect) []studLine {
	rank := func(a *studLine) Length {
		if len(a.holes) > 0 {
			return -1
		}
		return min(a.u-box.Min.X, box.Max.X-a.u)
	}
	var out []studLine
	for i := range lines {
		if n := len(out); n > 0 && lines[i].u-out[n-1].u < twin {
			last := &out[n-1]
			if len(last.holes) > 0 && len(lines[i].holes) > 0 && lines[i].u > last.u {
				out = append(out, lines[i]) // a pier of one doubled stud between two holes
				continue
			}
			if rank(&lines[i]) < rank(last) {
				*last = lines[i]
			}
			continue
		}
		out = append(out, lines[i])
	}
	return out
}
