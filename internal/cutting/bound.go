package cutting

import (
	"math"
	"sort"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// lower is a pair of lower bounds: on the cost and on the area bought.
type lower struct {
	cost   int64
	area   measure.Area
	method string
}

// The arguments a bound can rest on, in the order they are tried.
const (
	byArea   = "area"
	byAlong  = "lengths along the sheet, linear programme over all fillings of a line"
	byAcross = "widths across the sheet, linear programme over all fillings of a line"
	byTaper  = "tapered edges, linear programme over all fillings of an edge"
	byBoth   = "lengths along the sheet with widths scaled by what fits across it, linear programmes over all fillings of a line"
)

// maxRows limits the size of the programmes.
const maxRows = 320

// proof limits the work spent on a bound.
type proof struct {
	rounds int            // of column generation
	steps  measure.Length // a sheet's length is told apart in at least so many steps
	parts  int            // slabs a sloped piece is cut into
	scales int            // of widths, tried
}

func proofFor(e Effort) proof {
	if e == Best {
		return proof{rounds: 4000, steps: 9600, parts: 4, scales: 8}
	}
	return proof{rounds: 150, steps: 1600, parts: 2, scales: 2}
}

// relaxed bounds what any cutting of these shapes, straight cuts or not, needs at
// least: the best of several relaxations, rounded up to what whole sheets can
// cost. The cheap bound is there at once, the linear programmes run when asked.
type relaxed struct {
	shapes       []*shape
	takes        []geom.Poly // what each shape takes of a sheet
	left         []int
	stock        []Stock
	proof        proof
	costs, areas []int64
	proportional bool // costs are areas times a constant
	cost         int64
	method       string
	full         bool   // the linear programmes have run
	widths       []slab // what the programme across pays for a width, as a width
	met          int64  // a cost that was found; bounds need not go on above it
}

func newRelaxed(shapes []*shape, left []int, stock []Stock, wasteNotches bool, e Effort) *relaxed {
	q := &relaxed{
		shapes: shapes, takes: takes(shapes, wasteNotches), left: append([]int(nil), left...), stock: stock, proof: proofFor(e),
		method: byArea, proportional: true, met: math.MaxInt64,
	}
	for i, s := range stock {
		q.costs, q.areas = append(q.costs, s.Cost), append(q.areas, int64(s.Width)*int64(s.Length))
		q.proportional = q.proportional && float64(q.costs[i])*float64(q.areas[0]) == float64(q.costs[0])*float64(q.areas[i])
	}
	q.cost = roundUp(q.byArea(q.costs), q.costs)
	return q
}

// takes returns what each shape takes of a sheet: its outline where some piece
// could come out of its notches, else its blank, because straight cuts give
// blanks and notches are cut out of them after.
func takes(shapes []*shape, wasteNotches bool) []geom.Poly {
	out := make([]geom.Poly, len(shapes))
	for i, s := range shapes {
		out[i] = s.blank
		for _, p := range s.pocket {
			b := p.Bounds()
			for j, t := range shapes {
				for _, v := range t.variants(j) {
					if !wasteNotches && v.w <= b.W() && v.h <= b.H() {
						out[i] = s.outline
					}
				}
			}
		}
	}
	return out
}

// prove runs the linear programmes for the cost and returns the bound.
func (q *relaxed) prove() int64 {
	if !q.full && q.cost < q.met {
		q.cost, q.method = q.best(q.costs)
	}
	q.full = true
	return q.cost
}

// lower returns the bounds on cost and on area bought.
func (q *relaxed) lower() lower {
	area := q.cost
	if q.proportional {
		area = int64(math.Round(float64(q.cost) / float64(q.costs[0]) * float64(q.areas[0])))
	} else if anyLeft(q.left) {
		area, _ = q.best(q.areas)
	}
	return lower{cost: q.cost, area: measure.Area(area), method: q.method + "; rounded up to whole sheets"}
}

// best returns the greatest of the bounds on the sum of each over the sheets
// bought, rounded up, and what it rests on.
func (q *relaxed) best(each []int64) (int64, string) {
	best, method := roundUp(q.byArea(each), each), byArea
	try := func(name string, bound float64) {
		if v := roundUp(bound, each); v > best {
			best, method = v, name
		}
	}
	one := q.stock[0].Width == q.stock[len(q.stock)-1].Width
	slopes := one && q.hasSlopes()
	if slopes {
		try(byAlong, q.doubled(each, asIs))
	}
	if !slopes || q.proof.parts > 2 {
		try(byAlong, q.along(each))
	}
	try(byAcross, q.across(each))
	try(byTaper, q.taper(each))
	if one {
		for _, by := range q.scales() {
			try(byBoth, q.doubled(each, by))
		}
	}
	return best, method
}

// byArea bounds by the net area of the pieces at the cheapest rate.
func (q *relaxed) byArea(each []int64) float64 {
	var area float64
	for i := range q.shapes {
		area += float64(twiceArea(q.takes[i])) / 2 * float64(q.left[i])
	}
	rate := math.Inf(1)
	for i, s := range q.stock {
		rate = min(rate, float64(each[i])/(float64(s.Width)*float64(s.Length)))
	}
	return area * rate
}

// slab is a part of a piece between two parallel lines: its extent across them,
// and the least length of board on a line between them.
type slab struct{ extent, length measure.Length }

// slabsOf cuts an outline into slabs by upright lines through its vertices, and
// slabs whose length changes into parts of equal extent.
func slabsOf(o geom.Poly, parts int) []slab {
	xs := make([]measure.Length, len(o))
	for i, v := range o {
		xs[i] = v.X
	}
	sort.Slice(xs, func(i, j int) bool { return xs[i] < xs[j] })
	var out []slab
	for i := 1; i < len(xs); i++ {
		if xs[i] == xs[i-1] {
			continue
		}
		n := measure.Length(parts)
		if crossSection(o, xs[i-1], xs[i], xs[i-1]) == crossSection(o, xs[i-1], xs[i], xs[i]) {
			n = 1
		}
		for k := measure.Length(0); k < n; k++ {
			w := xs[i] - xs[i-1]
			a, b := xs[i-1]+w*k/n, xs[i-1]+w*(k+1)/n
			l := min(crossSection(o, xs[i-1], xs[i], a), crossSection(o, xs[i-1], xs[i], b))
			if a < b && l > 0 {
				out = append(out, slab{b - a, l})
			}
		}
	}
	return out
}

// crossSection returns the length of the upright line at x inside o, counting
// the sides that span x0 to x1 only; rounded down.
func crossSection(o geom.Poly, x0, x1, x measure.Length) measure.Length {
	var sum float64
	for i, v := range o {
		w := o[(i+1)%len(o)]
		lo, hi := v, w
		sign := -1.0 // a side that runs to the right is below the board
		if v.X > w.X {
			lo, hi, sign = w, v, 1
		}
		if lo.X <= x0 && hi.X >= x1 && lo.X < hi.X {
			sum += sign * (float64(lo.Y) + float64(hi.Y-lo.Y)*float64(x-lo.X)/float64(hi.X-lo.X))
		}
	}
	return measure.Length(math.Floor(sum + 1e-6))
}

// demand is one kind of row of a bar programme while it is put together.
type demand struct {
	lengths []slab // the ways to meet it: length on the bar, extent across it
	count   int
	on      int  // how often one piece can be on one (double) bar
	twice   bool // it lies on both bars of a double bar; length is of both together
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
	add := func(extent, length measure.Length, n int) {
		extent = by(extent)
		if extent == width {
			ds = append(ds, demand{[]slab{{2 * width, 2 * length}}, n, 1, true})
		} else if extent > 0 {
			// One crossing of a double bar meets half a sheet's width of it.
			ds = append(ds, demand{[]slab{{4 * extent, length}}, n, 2, false})
		}
	}
	for i, s := range q.shapes {
		vs := s.variants(i)
		switch {
		case q.left[i] == 0 || len(vs) == 2:
		case s.sloped && !vs[0].quarter && s.w == width && isConvex(q.takes[i]):
			ds = append(ds, demand{[]slab{{2 * width, s.l + s.r}}, q.left[i], 1, true})
		default:
			o := q.takes[i]
			if vs[0].quarter {
				o = quarterTurns(o, 1)
			}
			for _, sl := range slabsOf(o, 1) {
				add(sl.extent, sl.length, q.left[i])
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
				out = append(out, demand{[]slab{{w, h}, {h, w}}, q.left[i], 1, false})
			}
			continue
		}
		o := q.takes[i]
		if vs[0].quarter != across {
			o = quarterTurns(o, 1)
		}
		for _, sl := range slabsOf(o, parts) {
			out = append(out, demand{[]slab{sl}, q.left[i], 1, false})
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

// paid returns the sizes of the rows that have one way to be met and what the
// programme pays for them, as a part of whole where whole is what it pays for a
// bar at most; rounded down.
func (b *bars) paid(whole, g measure.Length) []slab {
	most := 0.0
	for i := range b.items { // any number may lie on a line: parts of pieces are scaled too
		b.items[i].max = math.MaxInt32
	}
	b.price()
	for _, s := range b.stock {
		most = max(most, b.val[s.size])
	}
	ways := make([]int, len(b.need))
	for _, it := range b.items {
		ways[it.row]++
	}
	var out []slab
	for _, it := range b.items {
		if y := max(b.lp.dual[it.row], 0); ways[it.row] == 1 && most > 0 {
			part := measure.Length(float64(whole) * y / most * (1 - 1e-9))
			out = append(out, slab{extent: part, length: measure.Length(it.size) * g})
		}
	}
	return out
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
		k.twice = d.twice
		if k.ways[0].length == 0 || len(d.lengths) > 1 && k.ways[1].length == 0 {
			continue
		}
		i, ok := rows[k]
		if !ok {
			i = len(need)
			rows[k] = i
			need = append(need, 0)
			for _, l := range d.lengths {
				it := barItem{row: i, size: int(l.length / g), coef: 1}
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
				ds = append(ds, demand{[]slab{{1, l}}, q.left[i], 1, false})
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

// scale replaces widths across the sheet by others such that pieces that lie
// side by side on a sheet still do: a conservative scale. Any real cutting then
// remains one of the scaled pieces, non-guillotine ones too, and every bound for
// them holds (Fekete and Schepers, Mathematical Programming 91, 2001; Belov,
// Kartak, Rohling and Scheithauer, Int. Trans. Oper. Res. 20, 2013).
type scale func(width measure.Length) measure.Length

func asIs(w measure.Length) measure.Length { return w }

// above counts what is wider than width − t as the whole width, what is narrower
// than t as nothing.
func above(width, t measure.Length) scale {
	return func(w measure.Length) measure.Length {
		switch {
		case w > width-t:
			return width
		case w < t:
			return 0
		}
		return w
	}
}

// mixed is the mean of two scales, rounded down; it is conservative if they are.
func mixed(a, b scale) scale {
	return func(w measure.Length) measure.Length { return (a(w) + b(w)) / 2 }
}

// priced scales widths by the prices of the programme across the sheet: what it
// pays for a width is at most what a whole line across costs for any set of
// widths that fits. Widths between those it knows count as the next one below.
func (q *relaxed) priced() scale {
	width := q.stock[0].Width
	known := q.widths
	return func(w measure.Length) measure.Length {
		if w >= width {
			return width
		}
		var best measure.Length
		for _, k := range known {
			if k.length <= w {
				best = max(best, k.extent)
			}
		}
		return best
	}
}

// scales lists the scales worth trying, the best guess first.
func (q *relaxed) scales() []scale {
	width := q.stock[0].Width
	var out []scale
	if len(q.widths) > 0 {
		p := q.priced()
		out = append(out, p, mixed(p, asIs))
	}
	for _, t := range q.thresholds(width) {
		out = append(out, above(width, t))
	}
	if len(out) > q.proof.scales {
		out = out[:q.proof.scales]
	}
	return out
}

// thresholds returns widths t worth trying for above: what some pair of pieces
// too wide to share a line across suggests.
func (q *relaxed) thresholds(width measure.Length) []measure.Length {
	seen := map[measure.Length]bool{}
	var out []measure.Length
	for i, s := range q.shapes {
		w, _ := q.inside(i)
		if vs := s.variants(i); q.left[i] == 0 || w == 0 || w >= width || len(vs) != 1 || vs[0].quarter {
			continue
		}
		t := w
		if 2*w > width {
			t = width - w + 1
		}
		if 2*t <= width && !seen[t] {
			seen[t] = true
			out = append(out, t)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i] > out[j] })
	for len(out) > q.proof.scales { // thin out evenly
		kept := out[:0]
		for i, t := range out {
			if i%2 == 0 {
				kept = append(kept, t)
			}
		}
		out = kept
	}
	return out
}

// roundUp returns the least sum of whole numbers of sheets not below x.
func roundUp(x float64, each []int64) int64 {
	x *= 1 - 1e-9 // guards against float noise lifting the bound by a sheet
	if x <= 0 {
		return 0
	}
	var g int64
	for _, c := range each {
		for a, b := g, c; ; a, b = b, a%b {
			if b == 0 {
				g = a
				break
			}
		}
	}
	need := int64(math.Ceil(x / float64(g)))
	if need > 1<<20 {
		return need * g
	}
	reach := make([]bool, need+1) // sums below need that whole sheets can have
	reach[0] = true
	best := int64(math.MaxInt64)
	for k := int64(0); k < need; k++ {
		if !reach[k] {
			continue
		}
		for _, c := range each {
			if n := k + c/g; n >= need {
				best = min(best, n)
			} else {
				reach[n] = true
			}
		}
	}
	return best * g
}
