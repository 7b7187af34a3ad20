package trace

import (
	"cmp"
	"slices"
	"strings"

	"boardrun/internal/measure"
)

// jambSlack is how far a block's jamb may lie from the wall's end it belongs
// to: frames and casings overlap the wall. Source: common practice.
const jambSlack = 60 * measure.Millimetre

// adoptHosts finds walls for the blocks that stand in no gap: over a wall
// whose faces are drawn through (the block masks them), or between a wall's
// end and the wall across it, where the opening leaves no nib.
func (t *tracer) adoptHosts() {
	taken := make([]bool, len(t.marks.hosts))
	for i := range t.walls {
		w := &t.walls[i]
		for _, g := range w.gaps {
			for _, op := range g.ops {
				if op.host >= 0 {
					taken[op.host] = true
				}
				if op.mate > 0 {
					taken[op.mate-1] = true
				}
				for _, k := range op.swings {
					if h := t.marks.lone[k]; h > 0 {
						taken[h-1] = true
					}
				}
			}
		}
	}
	order := make([]int32, 0, len(taken))
	for k := range taken {
		if !taken[k] {
			order = append(order, int32(k))
		}
	}
	slices.SortFunc(order, func(a, b int32) int {
		if lessHost(t, a, b) {
			return -1
		}
		return 1
	})
	for _, k := range order {
		if !t.adopt(k) && !t.loose(&t.marks.hosts[k]) {
			t.homeless = append(t.homeless, k)
		}
	}
}

// adoption is one way to put a block into a wall.
type adoption struct {
	wall int32
	interval
	end int // 0, 1: beyond that end; 2: within
	off Length
}

func (t *tracer) adopt(k int32) bool {
	h := &t.marks.hosts[k]
	best := adoption{wall: -1}
	t.wallTree.search(2*jambSlack, func(i int32) {
		w := &t.walls[i]
		v, off, ok := t.hostSpan(k, w)
		if !ok {
			return
		}
		a, ok := t.place(i, v)
		if !ok {
			return
		}
		a.off = off
		if best.wall < 0 || a.off < best.off || a.off == best.off && a.wall < best.wall {
			best = a
		}
	}, h.box[:]...)
	if best.wall < 0 {
		return false
	}
	t.cut(best, k)
	return true
}

// hostSpan returns the stretch of a wall's axis a block takes up if it stands
// in that wall: from its swings, hinged in the wall and closing along it, or
// from the box of a block that lies in the wall. off is how far it is from
// the wall's middle.
func (t *tracer) hostSpan(k int32, w *wall) (v interval, off Length, ok bool) {
	h := &t.marks.hosts[k]
	fr := &t.bundles[w.fr].fr
	mid := (w.ra + w.rb) / 2
	for _, i := range h.swings {
		b := &t.marks.swings[i]
		if sweep := b.end - b.start; sweep < 10 || sweep > 200 {
			continue
		}
		s, r := fr.to(b.ctr)
		if r < w.ra-80*mm || r > w.rb+80*mm {
			continue
		}
		p, q := b.ends()
		sp, rp := fr.to(p)
		sq, rq := fr.to(q)
		if (rq - r).Abs() < (rp - r).Abs() {
			sp, rp = sq, rq
		}
		if (rp - r).Abs() > b.radius/8 {
			continue
		}
		u := interval{min(s, sp), max(s, sp)}
		if !ok {
			v, ok, off = u, true, (r - mid).Abs()
		} else {
			v = interval{min(v.s0, u.s0), max(v.s1, u.s1)}
		}
	}
	if ok || len(h.swings) > 0 {
		return v, off, ok
	}
	s0, s1, r0, r1 := extent(fr, h.box[:])
	if r1-r0 > w.thick()+200*mm || r1-r0 > s1-s0 {
		return v, 0, false
	}
	off = ((r0+r1)/2 - mid).Abs()
	return interval{s0, s1}, off, off <= w.thick()/2+50*mm
}

// place sees where on a wall a stretch lies.
func (t *tracer) place(i int32, v interval) (adoption, bool) {
	w := &t.walls[i]
	a := adoption{wall: i, interval: v, end: 2}
	if t.bundles[w.fr].fr.along(v.s1-v.s0, (w.ra+w.rb)/2) < minOpening/2 {
		return a, false
	}
	if v.s0 >= w.s0()-jambSlack && v.s1 <= w.s1()+jambSlack {
		a.s0, a.s1 = max(v.s0, w.s0()), min(v.s1, w.s1())
		for _, g := range w.gaps {
			for _, op := range g.ops {
				if min(op.s1, a.s1)-max(op.s0, a.s0) > jambSlack {
					return a, false
				}
			}
		}
		return a, true
	}
	switch {
	case (v.s0 - w.s1()).Abs() <= jambSlack:
		a.end, a.s0 = 1, w.s1()
	case (v.s1 - w.s0()).Abs() <= jambSlack:
		a.end, a.s1 = 0, w.s0()
	default:
		return a, false
	}
	far, ok := t.faceBeyond(i, a)
	if !ok {
		return a, false
	}
	if a.end == 1 {
		a.s1 = far
	} else {
		a.s0 = far
	}
	return a, true
}

// faceBeyond finds the face of the wall across, where an opening beyond a
// wall's end stops.
func (t *tracer) faceBeyond(i int32, a adoption) (Length, bool) {
	w := &t.walls[i]
	fr := &t.bundles[w.fr].fr
	at := a.s1
	if a.end == 0 {
		at = a.s0
	}
	best, found := Length(0), false
	t.wallTree.search(maxThick, func(k int32) {
		o := &t.walls[k]
		if k == i || o.fr == w.fr {
			return
		}
		c, ok := t.crossOf(&w.strand, &o.strand, at)
		if !ok || c.on < o.s0()-c.half-joinSlack || c.on > o.s1()+c.half+joinSlack {
			return
		}
		f := c.at - c.half
		if a.end == 0 {
			f = c.at + c.half
		}
		if (f - at).Abs() > jambSlack+15*mm {
			return
		}
		if !found || (f-at).Abs() < (best-at).Abs() {
			best, found = f, true
		}
	}, fr.from(at, w.ra), fr.from(at, w.rb))
	return best, found
}

// cut puts an opening into a wall.
func (t *tracer) cut(a adoption, k int32) {
	w := &t.walls[a.wall]
	h := &t.marks.hosts[k]
	op := opening{interval: a.interval, host: k, kind: h.role, basis: "drawn"}
	switch a.end {
	case 1:
		last := w.pieces[len(w.pieces)-1]
		last.s0, last.s1 = a.s1, a.s1
		w.pieces = append(slices.Clone(w.pieces), last)
		w.gaps = append(slices.Clone(w.gaps), gap{interval: a.interval, ops: []opening{op}})
	case 0:
		first := w.pieces[0]
		first.s0, first.s1 = a.s0, a.s0
		w.pieces = append([]piece{first}, w.pieces...)
		w.gaps = append([]gap{{interval: a.interval, ops: []opening{op}}}, w.gaps...)
	default:
		w.over = append(w.over, op)
	}
}

// hostOf returns the blocks an entity stands in, by the handle path.
func (t *tracer) hostOf(ref string) []int32 {
	for {
		i := strings.LastIndexByte(ref, '/')
		if i < 0 {
			return nil
		}
		ref = ref[:i]
		if k, ok := t.hostBy[ref]; ok {
			return k
		}
	}
}

// linkHosts tells each block which of the swings are its own. The cells of an
// array share a handle, so the swing's centre must lie in the block's box.
func (t *tracer) linkHosts() {
	for i := range t.marks.swings {
		b := &t.marks.swings[i]
		for _, k := range t.hostOf(t.src[b.src].c.Handle) {
			h := &t.marks.hosts[k]
			r := boundsOf(h.box[:])
			if b.ctr.X >= r.Min.X-50*mm && b.ctr.X <= r.Max.X+50*mm && b.ctr.Y >= r.Min.Y-50*mm && b.ctr.Y <= r.Max.Y+50*mm {
				h.swings = append(h.swings, int32(i))
			}
		}
	}
}

// loneSwings makes hosts of door swings drawn without a block: one each, or one
// of two leaves whose tips meet.
func (t *tracer) loneSwings() {
	t.marks.lone = map[int32]int32{}
	var single []int32
	for i := range t.marks.swings {
		b := &t.marks.swings[i]
		sweep := b.end - b.start
		if sweep < 25 || sweep > 185 || b.radius < 400*mm || b.radius > 1600*mm || t.src[b.src].role == Windows ||
			len(t.hostOf(t.src[b.src].c.Handle)) > 0 {
			continue
		}
		single = append(single, int32(i))
	}
	slices.SortFunc(single, func(i, j int32) int {
		a, b := &t.marks.swings[i], &t.marks.swings[j]
		return cmp.Or(cmp.Compare(a.ctr.Y, b.ctr.Y), cmp.Compare(a.ctr.X, b.ctr.X), cmp.Compare(a.start, b.start), cmp.Compare(i, j))
	})
	var ix boxIndex
	for _, i := range single {
		p, q := t.marks.swings[i].ends()
		ix.add(i, p)
		ix.add(i, q)
	}
	for _, i := range single {
		if t.marks.lone[i] > 0 {
			continue
		}
		b := &t.marks.swings[i]
		p, q := b.ends()
		h := host{insert: -1, role: Doors, swings: []int32{i}, at: b.ctr, box: [4]pt{b.ctr, p, q, q}}
		mate := int32(-1)
		for _, tip := range [2]pt{p, q} {
			ix.search(30*mm, func(k int32) {
				o := &t.marks.swings[k]
				if k != i && t.marks.lone[k] == 0 && (mate < 0 || k < mate) && (o.radius-b.radius).Abs() <= 300*mm && o.ctr != b.ctr {
					mate = k
				}
			}, tip)
		}
		k := int32(len(t.marks.hosts) + 1)
		t.marks.lone[i] = k
		if mate >= 0 {
			t.marks.lone[mate] = k
			h.swings = append(h.swings, mate)
		}
		t.marks.hosts = append(t.marks.hosts, h)
	}
}
