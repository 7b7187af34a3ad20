package trace

import (
	"math"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/internal/geom"
)

// mark is a line that may speak for an opening.
type mark struct {
	a, b geom.Pt
	src  int32
	role Role
}

// bend is an arc: a curved wall face or a door's swing.
type bend struct {
	ctr        geom.Pt
	radius     Length
	start, end float64 // degrees, counter-clockwise
	src        int32
}

// host is a block that stands for an opening.
type host struct {
	insert int // index into the drawing's inserts
	role   Role
	use    *BlockUse
	box    [4]geom.Pt
	at     geom.Pt
	swings []int32

	byPlace bool // a door because such blocks stand in gaps: a folded leaf fills none
}

// symbols is all that speaks for openings, with an index of each kind.
type symbols struct {
	lines  []mark // on door, window and head layers
	jambs  []mark // short wall-layer lines
	swings []bend
	hosts  []host
	lone   map[int32]int32 // of a swing without a block, its host + 1

	lineAt, jambAt, swingAt, hostAt boxIndex
}

// index builds the search trees. Called once, after collect.
func (s *symbols) index() {
	for i, m := range s.lines {
		s.lineAt.add(int32(i), m.a, m.b)
	}
	for i, m := range s.jambs {
		s.jambAt.add(int32(i), m.a, m.b)
	}
	for i, b := range s.swings {
		p, q := b.ends()
		s.swingAt.add(int32(i), b.ctr, p, q)
	}
	for i := range s.hosts {
		if s.hosts[i].insert < 0 {
			continue
		}
		s.hostAt.add(int32(i), s.hosts[i].box[:]...)
	}
}

// addLine adds a mark found on the way, before the first search.
func (s *symbols) addLine(m mark) {
	s.lineAt.add(int32(len(s.lines)), m.a, m.b)
	s.lines = append(s.lines, m)
}

// ends returns the two ends of an arc.
func (b *bend) ends() (p, q geom.Pt) {
	at := func(deg float64) geom.Pt {
		a := deg * math.Pi / 180
		return geom.Pt{X: b.ctr.X + round(float64(b.radius)*math.Cos(a)), Y: b.ctr.Y + round(float64(b.radius)*math.Sin(a))}
	}
	return at(b.start), at(b.end)
}

// collectInserts finds the blocks that stand for openings: by the job's word,
// by the layer they stand on, by their name. A block inside another that
// qualifies belongs to that one.
func (t *tracer) collectInserts() {
	t.hostBy = map[string][]int32{}
	is := make([]Role, len(t.d.Inserts))
	for i := range t.d.Inserts {
		in := &t.d.Inserts[i]
		role, use := t.blockRole(in)
		is[i] = role
		if role != Doors && role != Windows {
			continue
		}
		if in.Hidden && !t.opt.Hidden || in.Clipped || !finite(in.At) {
			is[i] = Background
			continue
		}
		h := host{insert: i, role: role, use: use}
		for k, p := range in.Box {
			if !finite(p) {
				p = in.At
			}
			h.box[k] = t.local(p[0], p[1])
		}
		r := boundsOf(h.box[:])
		h.at = geom.Pt{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2} // a block's base point may lie anywhere
		if g := t.global(h.at); !t.inRegion(orb.Point{g.X.MM(), g.Y.MM()}, orb.Point{g.X.MM(), g.Y.MM()}) {
			is[i] = Background
			continue
		}
		if r.W() > 2*maxOpening || r.H() > 2*maxOpening { // a reference drawn on a door layer, not a door
			is[i] = Background
			continue
		}
		if up := in.Parent; up >= 0 && up < i && (is[up] == Doors || is[up] == Windows) {
			continue
		}
		t.hostBy[in.Handle] = append(t.hostBy[in.Handle], int32(len(t.marks.hosts)))
		t.marks.hosts = append(t.marks.hosts, h)
	}
}

// blockRole says whether an insert is a door or a window.
func (t *tracer) blockRole(in *linework.Insert) (Role, *BlockUse) {
	if u := t.m.block(in.Name); u != nil {
		return u.Role, u
	}
	li := t.layerUse[in.Layer]
	switch li.role {
	case Doors, Windows:
		return li.role, nil
	case Ignore, Columns, RoomText, TagText, OpeningText:
		return Background, nil
	}
	switch w := wordRole(in.Name); w {
	case Doors, Windows:
		return w, nil
	}
	return Background, nil
}
