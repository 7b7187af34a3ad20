package cutting

import (
	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// demand is one kind of row of a bar programme while it is put together.
type demand struct {
	lengths []slab // the ways to meet it: length on the bar, extent across it
	count   int
	on      int  // how often one piece can be on one (double) bar
	twice   bool // it lies on both bars of a double bar; length is of both together
	need    int  // tapered edges it takes of a bar
}

// along relaxes to bars along the sheets, one as wide as a sheet costing it.
func (q *relaxed) along(each []int64) float64 {
	return q.solve(each, q.demands(false), false)
}

// doubled relaxes to pairs of bars along the sheets that lie as far from the one
// edge as from the other. A sloped piece as wide as the sheet takes its two
// heights of such a pair wherever it lies, so nothing is lost by its slope; with
// nothing but full-width pieces this is the one-dimensional programme at their
// mean heights. Widths are scaled first (see scale). Sheets must be of one width.
func (q *relaxed) doubled(each []int64, by scale) float64 {
	width := q.stock[0].Width
	var ds []demand
	add := func(extent, length measure.Length, need, n int) {
		extent = by(extent, need)
		if extent == width {
			ds = append(ds, demand{[]slab{{2 * width, 2 * length}}, n, 1, true, 0})
		} else if extent > 0 {
			// One crossing of a double bar meets half a sheet's width of it.
			ds = append(ds, demand{[]slab{{4 * extent, length}}, n, 2, false, 0})
		}
	}
	for i, s := range q.shapes {
		vs := s.variants(i)
		switch {
		case q.left[i] == 0 || len(vs) == 2:
		case s.sloped && !vs[0].quarter && s.w == width && isConvex(q.takes[i]):
			ds = append(ds, demand{[]slab{{2 * width, s.l + s.r}}, q.left[i], 1, true, 0})
		default:
			o := q.takes[i]
			if vs[0].quarter {
				o = quarterTurns(o, 1)
			}
			for _, sl := range slabsOf(o, 1) {
				add(sl.extent, sl.length, needOn(sl.extent, vs[0]), q.left[i])
			}
		}
	}
	var longest measure.Length
	for _, s := range q.stock {
		longest = max(longest, 2*s.Length)
	}
	g := q.grid(ds, longest, false)
	var stock []barStock
	for i, s := range q.stock {
		stock = append(stock, barStock{int(2 * s.Length / g), float64(each[i])})
	}
	bound, _ := boundBars(ds, stock, g, 2*width, q.proof.rounds, each)
	return bound
}

// needOn is how many tapered edges a line across a shape's part of some width
// meets: those the shape wants if it is as wide as the shape, else perhaps none.
func needOn(width measure.Length, v variant) int {
	if width == v.w {
		return v.need
	}
	return 0
}

// hasSlopes reports whether double bars say more than single ones.
func (q *relaxed) hasSlopes() bool {
	for i, s := range q.shapes {
		if q.left[i] > 0 && s.sloped && s.w == q.stock[0].Width {
			return true
		}
	}
	return false
}

// across relaxes to bars across the sheets.
func (q *relaxed) across(each []int64) float64 {
	q.widths = nil
	return q.solve(each, q.demands(true), true)
}

// demands turns the shapes into slabs for bars along or across the sheet. A
// shape that may be turned either way counts as the rectangle inside it.
func (q *relaxed) demands(across bool) []demand {
	sloped := 0
	for i := range q.shapes {
		if !isRect(q.takes[i]) {
			sloped++
		}
	}
	parts := max(1, min(q.proof.parts, 200/max(sloped, 1)))
	var out []demand
	for i, s := range q.shapes {
		if q.left[i] == 0 {
			continue
		}
		vs := s.variants(i)
		if len(vs) == 2 {
			w, h := q.inside(i)
			if w > 0 && h > 0 {
				out = append(out, demand{[]slab{{w, h}, {h, w}}, q.left[i], 1, false, 0})
			}
			continue
		}
		o := q.takes[i]
		if vs[0].quarter != across {
			o = quarterTurns(o, 1)
		}
		for _, sl := range slabsOf(o, parts) {
			need := 0
			if across {
				need = needOn(sl.length, vs[0])
			}
			out = append(out, demand{[]slab{sl}, q.left[i], 1, false, need})
		}
	}
	return out
}

// inside returns a rectangle that shape i takes of a sheet.
func (q *relaxed) inside(i int) (w, h measure.Length) {
	s := q.shapes[i]
	switch {
	case isRect(q.takes[i]):
		return s.w, s.h
	case s.sloped && isConvex(q.takes[i]):
		return s.w, min(s.l, s.r)
	}
	return 0, 0
}

// solve merges equal demands into rows and bounds the bars they need.
func (q *relaxed) solve(each []int64, ds []demand, across bool) float64 {
	var wide, longest measure.Length
	for _, s := range q.stock {
		w, l := s.Width, s.Length
		if across {
			w, l = l, w
		}
		wide, longest = max(wide, w), max(longest, l)
	}
	var stock []barStock
	g := q.grid(ds, longest, across)
	for i, s := range q.stock {
		w, l := s.Width, s.Length
		if across {
			w, l = l, w
		}
		stock = append(stock, barStock{int(l / g), float64(each[i]) * float64(wide) / float64(w)})
	}
	bound, b := boundBars(ds, stock, g, wide, q.proof.rounds, each)
	if across && b != nil {
		q.widths = b.paid(q.stock[0].Width, g)
	}
	return bound
}

// grid returns the step that bars are measured in: exact if that is fine enough.
func (q *relaxed) grid(ds []demand, longest measure.Length, across bool) measure.Length {
	g := longest
	for _, s := range q.stock {
		if across {
			g = gcd(g, s.Width)
		} else {
			g = gcd(g, s.Length)
		}
	}
	for _, d := range ds {
		for _, l := range d.lengths {
			g = gcd(g, l.length)
		}
	}
	return max(g, longest/q.proof.steps)
}

// boundBars rounds lengths down to step g, which keeps every filling allowed,
// and runs the programme. It returns 0 if that is too large.
func boundBars(ds []demand, stock []barStock, g, wide measure.Length, rounds int, each []int64) (float64, *bars) {
	type key struct {
		ways  [2]slab
		twice bool
		need  int
	}
	rows := map[key]int{}
	var need []float64
	var items []barItem
	for _, d := range ds {
		var k key
		for i, l := range d.lengths {
			k.ways[i] = slab{0, l.length / g}
			if len(d.lengths) > 1 {
				k.ways[i].extent = l.extent
			}
		}
		k.twice, k.need = d.twice, d.need
		if k.ways[0].length == 0 || len(d.lengths) > 1 && k.ways[1].length == 0 {
			continue
		}
		i, ok := rows[k]
		if !ok {
			i = len(need)
			rows[k] = i
			need = append(need, 0)
			for _, l := range d.lengths {
				it := barItem{row: i, size: int(l.length / g), coef: 1, need: d.need}
				if len(d.lengths) > 1 {
					it.coef = float64(wide) / float64(l.extent)
				}
				items = append(items, it)
			}
		}
		if len(d.lengths) > 1 {
			need[i] += float64(d.count)
		} else {
			need[i] += float64(d.count) * float64(d.lengths[0].extent) / float64(wide)
		}
		for j := range items {
			if items[j].row == i {
				items[j].max += d.count * d.on
			}
		}
	}
	if len(need) == 0 || len(need) > maxRows {
		return 0, nil
	}
	unit := stock[0].cost
	for i := range stock {
		stock[i].cost /= unit
	}
	b := newBars(need, items, stock)
	if b == nil {
		return 0, nil
	}
	enough := settled(each)
	return unit * b.bound(rounds, func(x, z float64) bool { return enough(x*unit, z*unit) }), b
}

// taper relaxes to the tapered edges: every sheet has two, and each side that
// wants one takes its length of it.
func (q *relaxed) taper(each []int64) float64 {
	var ds []demand
	for i, s := range q.shapes {
		w, h := s.w, s.h
		sides := []struct {
			wants bool
			on    func(geom.Pt) bool
		}{
			{s.left, func(p geom.Pt) bool { return p.X == 0 }},
			{s.right, func(p geom.Pt) bool { return p.X == w }},
			{s.bottom, func(p geom.Pt) bool { return p.Y == 0 }},
			{s.top, func(p geom.Pt) bool { return p.Y == h }},
		}
		for _, side := range sides {
			if l := longestOn(s.outline, side.on); side.wants && l > 0 && q.left[i] > 0 {
				ds = append(ds, demand{[]slab{{1, l}}, q.left[i], 1, false, 0})
			}
		}
	}
	if len(ds) == 0 {
		return 0
	}
	var longest measure.Length
	for _, s := range q.stock {
		longest = max(longest, s.Length)
	}
	g := q.grid(ds, longest, false)
	var stock []barStock
	for i, s := range q.stock {
		stock = append(stock, barStock{int(s.Length / g), float64(each[i]) / 2})
	}
	bound, _ := boundBars(ds, stock, g, 1, q.proof.rounds, each)
	return bound
}

func longestOn(o geom.Poly, on func(geom.Pt) bool) measure.Length {
	var l measure.Length
	for i, v := range o {
		if w := o[(i+1)%len(o)]; on(v) && on(w) {
			d := v.Sub(w)
			l = max(l, d.X.Abs()+d.Y.Abs())
		}
	}
	return l
}
