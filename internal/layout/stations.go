package layout

import (
	"slices"

	"boardrun/internal/geom"
)

// stretch is a part of a run that no board crosses the ends of: full-height
// frames and control joints bound it. Rips are allowed at its ends.
type stretch struct {
	lanes []lane // as wall.plies
}

// lane is the part of one ply in one stretch.
type lane struct {
	*ply
	s0, s1 Length   // extent
	ends   []Length // of those that meet another board of the same ply: joints too
}

// stretches cuts the run at openings that leave no board on any ply.
func (w *wall) stretches() []stretch {
	cuts := w.fullHeight()
	var out []stretch
	lo := Length(minLength)
	for i := 0; i <= len(cuts); i++ {
		hi := Length(maxLength)
		if i < len(cuts) {
			hi = cuts[i].x0
		}
		if s := w.between(lo, hi); len(s.lanes) > 0 {
			out = append(out, s)
		}
		if i < len(cuts) {
			lo = cuts[i].x1
		}
	}
	return out
}

const (
	maxLength = 1 << 53
	minLength = -maxLength
)

func (w *wall) between(lo, hi Length) stretch {
	var s stretch
	for _, p := range w.plies {
		a, b := max(p.s0, lo), min(p.s1, hi)
		for k := range p.holes { // the ply's own edge of a full-height frame
			if h := &p.holes[k]; p.open(h) {
				if h.x0 <= a && a < h.x1 {
					a = h.x1
				}
				if h.x0 < b && b <= h.x1 {
					b = h.x0
				}
			}
		}
		if a < b {
			s.lanes = append(s.lanes, w.newLane(p, a, b))
		}
	}
	return s
}

// newLane returns the part of p in [a, b].
func (w *wall) newLane(p *ply, a, b Length) lane {
	l := lane{ply: p, s0: a, s1: b}
	start, end := w.meets(p)
	if start && a == p.s0 {
		l.ends = append(l.ends, a)
	}
	if end && b == p.s1 {
		l.ends = append(l.ends, b)
	}
	return l
}

// fullHeight returns the openings that break every ply of the run, by station.
func (w *wall) fullHeight() []hole {
	var out []hole
	for o := range w.Openings {
		var cut hole
		all := len(w.plies) > 0
		for _, p := range w.plies {
			k := slices.IndexFunc(p.holes, func(h hole) bool { return h.opening == o })
			if k < 0 || !p.open(&p.holes[k]) {
				all = false
				break
			}
			h := p.holes[k]
			if cut.x1 == 0 && cut.x0 == 0 {
				cut = h
			}
			cut.x0, cut.x1 = max(cut.x0, h.x0), min(cut.x1, h.x1)
		}
		if all && cut.x0 < cut.x1 {
			out = append(out, cut)
		}
	}
	slices.SortFunc(out, func(a, b hole) int { return int(a.x0 - b.x0) })
	return out
}

// mod is the remainder of a by b in [0, b).
func mod(a, b Length) Length { return a - a.FloorTo(b) }

// offsets returns the places, modulo the sheet width, where the joints of a
// stretch may matter: full sheets from either end of a lane, the limits of the
// rips and of the bands of openings, where a sloped top takes a longer sheet,
// each also bays to the left and right.
// With the studs as framed: those on the studs first, then the same. Sorted,
// for the width of the first lane; lanes of other widths take them modulo
// their own.
func (w *wall) offsets(lanes []lane) []Length {
	r := w.env.Rules
	var base []Length
	for _, l := range lanes {
		base = append(base, l.s0, l.s1, l.s0+r.RipHard, l.s0+r.RipWarn, l.s1-r.RipHard, l.s1-r.RipWarn)
		for i := range l.holes {
			if h := &l.holes[i]; h.x1 > l.s0 && h.x0 < l.s1 {
				base = append(base, w.limits(h)...)
			}
		}
	}
	base = append(base, w.steps(lanes)...)
	if w.Framing == framed {
		base = append(base, w.FirstStud)
	}
	width := lanes[0].width
	bays := 1
	if w.Spacing > 0 {
		bays = max(1, int(width/w.Spacing))
	}
	out := make([]Length, 0, len(base)*bays)
	for _, b := range base {
		for k := range bays {
			out = append(out, mod(b+Length(k)*w.Spacing, width))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// steps returns the stations where a sloped top outgrows a sheet or a share of
// one, over the floor or over a horizontal joint.
func (w *wall) steps(lanes []lane) []Length {
	var out []Length
	for _, l := range lanes {
		if l.top.Min(l.s0, l.s1) == l.top.Max(l.s0, l.s1) {
			continue
		}
		for _, v := range w.joinLines() {
			for _, length := range l.lengths {
				for n := Length(1); n <= 3; n++ {
					out = append(out, l.top.Reaches(v+length/n, l.s0, l.s1)...)
				}
			}
		}
	}
	return out
}

// joinLines returns the heights that pieces stand on: the bottom and every
// horizontal joint that may be.
func (w *wall) joinLines() []Length {
	if w.lines == nil {
		w.lines = []Length{w.plies[0].bottom}
		for _, g := range w.rowGroups() {
			for _, rows := range g {
				w.lines = append(append(w.lines, rows[0]...), rows[1]...)
			}
		}
		slices.Sort(w.lines)
		w.lines = slices.Compact(w.lines)
	}
	return w.lines
}

// limits returns the stations beside h where a joint begins to be allowed, or
// a column to stand in it.
func (w *wall) limits(h *hole) []Length {
	r := w.env.Rules
	if !h.banded {
		if !h.first {
			return []Length{h.x0, h.x1}
		}
		step := r.Step
		return []Length{h.x0, h.x0 + step, h.x1 - step, h.x1, (h.x0 + h.x1) / 2}
	}
	var out []Length
	for _, x := range [2]Length{h.x0, h.x1} {
		out = append(out, x-r.JambBandHard, x+r.JambBandHard, x-r.JambBandWarn, x+r.JambBandWarn)
	}
	return append(out, (h.x0+h.x1)/2)
}

// judge tells how a joint of l at x stands to the openings: inside a hard
// band, inside a warned one.
func (w *wall) judge(l *ply, x Length) (hard, warn bool) {
	r := w.env.Rules
	for i := range l.holes {
		h := &l.holes[i]
		if x < h.x0-r.JambBandWarn {
			break // holes are sorted by x0
		}
		if !h.banded || l.open(h) && (x <= h.x0 || x >= h.x1) {
			continue
		}
		d := min((x - h.x0).Abs(), (x - h.x1).Abs())
		hard = hard || d < max(r.JambBandHard, 1)
		warn = warn || d < r.JambBandWarn
	}
	return hard, warn
}

// solid returns the heights where p, up to top, has board on both sides of
// station x.
func (p *ply) solid(x, top Length) [][2]Length {
	out := [][2]Length{{p.bottom, top}}
	for i := range p.holes {
		h := &p.holes[i]
		if h.x0 >= x || x >= h.x1 {
			continue
		}
		var next [][2]Length
		for _, s := range out {
			if lo := ([2]Length{s[0], min(s[1], h.y0)}); lo[0] < lo[1] {
				next = append(next, lo)
			}
			if hi := ([2]Length{max(s[0], h.y1), s[1]}); hi[0] < hi[1] {
				next = append(next, hi)
			}
		}
		out = next
	}
	return out
}

// exposed returns how much of [lo, hi] is below p's ceiling.
func (p *ply) exposed(lo, hi Length) Length {
	if p.ceiling > 0 {
		hi = min(hi, p.ceiling)
	}
	return max(0, hi-lo)
}

// face region of a ply: its outline less its holes.
func (p *ply) region() geom.Region {
	r := geom.Under(p.bottom, p.top, p.s0, p.s1)
	for i := range p.holes {
		r = r.Minus(p.holes[i].shape)
	}
	return r
}
