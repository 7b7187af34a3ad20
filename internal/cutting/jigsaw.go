package cutting

import (
	"math/bits"
	"sort"

	"boardrun/internal/measure"
)

// The jigsaw puts blanks together bottom-up wherever next to nothing is lost,
// as Wang did for guillotine cutting (Operations Research 31, 1983), and looks
// for sheets that come out full. It is what finds a plan without waste when
// there is one; with much waste to give away it stops early and adds little.
type jigsaw struct {
	shapes []*shape
	stock  []Stock
	limit  counts // copies of each shape
	guard  counts
	at     []int // first bit of each shape's counter
	spread float64
	max    int // bricks kept
	bricks []brick
	byW    map[measure.Length][]int
	byH    map[measure.Length][]int
	seen   map[brickKey]bool
}

// counts packs one small counter per shape, each with a guard bit above it.
type counts [4]uint64

type brick struct {
	b     *block
	u     counts
	waste float64
}

type brickKey struct {
	u    counts
	w, h measure.Length
	need int
}

// newJigsaw returns nil if the counters of all shapes do not fit.
func newJigsaw(shapes []*shape, left []int, stock []Stock, spread float64, max int) *jigsaw {
	z := &jigsaw{
		shapes: shapes, stock: stock, spread: spread, max: max, at: make([]int, len(shapes)),
		byW: map[measure.Length][]int{}, byH: map[measure.Length][]int{}, seen: map[brickKey]bool{},
	}
	word, bit := 0, 0
	for s, n := range left {
		z.at[s] = -1
		if n == 0 {
			continue
		}
		need := bits.Len(uint(n)) + 1
		if bit+need > 64 {
			word, bit = word+1, 0
		}
		if word == len(counts{}) || need > 64 {
			return nil
		}
		z.at[s] = word*64 + bit
		z.limit[word] |= uint64(n) << bit
		bit += need
		z.guard[word] |= 1 << (bit - 1)
	}
	return z
}

// plus adds two counts; false if that is more than there are copies.
func (z *jigsaw) plus(a, b counts) (c counts, ok bool) {
	for i := range c {
		c[i] = a[i] + b[i]
		if ((z.limit[i]|z.guard[i])-c[i])&z.guard[i] != z.guard[i] {
			return c, false
		}
	}
	return c, true
}

func (z *jigsaw) one(s int) (c counts) {
	c[z.at[s]/64] = 1 << (z.at[s] % 64)
	return c
}

// build puts bricks together until none is left to add or max is reached.
func (z *jigsaw) build() {
	var width, length measure.Length
	for _, s := range z.stock {
		width, length = max(width, s.Width), max(length, s.Length)
	}
	var slopes []variant
	for i, s := range z.shapes {
		if z.at[i] < 0 {
			continue
		}
		for _, v := range s.variants(i) {
			if v.h <= length && v.w <= width && (v.need < 2 || z.isWidth(v.w)) {
				z.put(brick{singleBlock(v), z.one(i), float64(v.w)*float64(v.h) - s.area})
			}
			if s.sloped && !v.quarter {
				slopes = append(slopes, v)
			}
		}
	}
	for _, a := range slopes {
		for _, b := range slopes {
			z.putPair(a, b, length)
		}
	}
	for i := 0; i < len(z.bricks) && len(z.bricks) < z.max; i++ {
		z.extend(i, width, length)
	}
}

func (z *jigsaw) isWidth(w measure.Length) bool {
	for _, s := range z.stock {
		if s.Width == w {
			return true
		}
	}
	return false
}

func (z *jigsaw) putPair(a, b variant, length measure.Length) {
	u, ok := z.plus(z.one(a.shape), z.one(b.shape))
	if !ok {
		return
	}
	p := pairBlock(z.shapes, a, b, a.w)
	if p == nil || p.h > length || p.need == 2 && !z.isWidth(p.w) {
		return
	}
	waste := float64(p.w)*float64(p.h) - z.shapes[a.shape].area - z.shapes[b.shape].area
	if waste <= z.spread+1 {
		z.put(brick{p, u, max(waste, 0)})
	}
}

// put adds a brick unless one like it is there. Bricks of one blank may waste
// more than the spread (a slope alone); they lead nowhere by themselves.
func (z *jigsaw) put(k brick) {
	key := brickKey{k.u, k.b.w, k.b.h, k.b.need}
	if z.seen[key] || len(z.bricks) >= z.max {
		return
	}
	z.seen[key] = true
	i := len(z.bricks)
	z.bricks = append(z.bricks, k)
	z.byW[k.b.w] = append(z.byW[k.b.w], i)
	z.byH[k.b.h] = append(z.byH[k.b.h], i)
}

// extend joins brick i to every earlier one and to itself.
func (z *jigsaw) extend(i int, width, length measure.Length) {
	a := z.bricks[i]
	if a.waste > z.spread+1 {
		return
	}
	if z.spread == 0 { // only bricks of equal side can do
		for _, j := range upTo(z.byW[a.b.w], i) {
			z.stack(a, z.bricks[j], length)
		}
		for _, j := range upTo(z.byH[a.b.h], i) {
			z.row(a, z.bricks[j], width)
		}
		return
	}
	for j := 0; j <= i; j++ {
		z.stack(a, z.bricks[j], length)
		z.row(a, z.bricks[j], width)
	}
}

// upTo returns a copy of the indices not above i; they rise.
func upTo(list []int, i int) []int {
	return append([]int(nil), list[:sort.SearchInts(list, i+1)]...)
}

func (z *jigsaw) stack(a, b brick, length measure.Length) {
	h := a.b.h + b.b.h
	w := max(a.b.w, b.b.w)
	waste := a.waste + b.waste + float64(w-a.b.w)*float64(a.b.h) + float64(w-b.b.w)*float64(b.b.h)
	if h > length || waste > z.spread+1 {
		return
	}
	if u, ok := z.plus(a.u, b.u); ok {
		z.put(brick{stackOf(a.b, b.b), u, waste})
	}
}

func (z *jigsaw) row(a, b brick, width measure.Length) {
	need := a.b.need + b.b.need
	w, h := a.b.w+b.b.w, max(a.b.h, b.b.h)
	if w > width || need > 2 {
		return
	}
	if need == 2 { // both long edges are taken: the row spans its sheet
		full := measure.Length(0)
		for _, s := range z.stock {
			if s.Width >= w && (full == 0 || s.Width < full) {
				full = s.Width
			}
		}
		w = full
	}
	waste := a.waste + b.waste + float64(h-a.b.h)*float64(a.b.w) + float64(h-b.b.h)*float64(b.b.w) +
		float64(w-a.b.w-b.b.w)*float64(h)
	if waste > z.spread+1 {
		return
	}
	if u, ok := z.plus(a.u, b.u); ok {
		r := rowOf(a.b, b.b)
		r.w = w
		z.put(brick{r, u, waste})
	}
}

// sheets returns the bricks that fill a sheet but for the spread, least waste
// first, at most limit of them.
func (z *jigsaw) sheets(f *filler, limit int) []candidate {
	type full struct {
		c     candidate
		waste float64
	}
	var out []full
	none := make([]float64, len(z.shapes))
	for _, k := range z.bricks {
		for s, st := range z.stock {
			if k.b.w > st.Width || k.b.h > st.Length || wantsBoth(k.b) && k.b.w != st.Width {
				continue
			}
			waste := k.waste + float64(st.Width)*float64(st.Length) - float64(k.b.w)*float64(k.b.h)
			if waste <= z.spread+1 {
				out = append(out, full{f.candidate(s, k.b, none), waste})
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].waste < out[j].waste })
	if len(out) > limit {
		out = out[:limit]
	}
	cs := make([]candidate, len(out))
	for i, o := range out {
		cs[i] = o.c
	}
	return cs
}

// cover looks for sheets among full that use every copy left and cost at most
// budget. It gives up after nodes branchings.
type cover struct {
	full   []candidate
	with   [][]int // candidates by shape
	area   []float64
	rate   float64 // least cost per area
	cost   []int64
	nodes  int
	chosen []int
}

func (m *master) cover(full []candidate, left []int, budget int64, nodes int) *plan {
	v := &cover{full: full, nodes: nodes, with: make([][]int, len(left)), area: make([]float64, len(left))}
	v.rate = 1e300
	for _, s := range m.f.stock {
		v.rate = min(v.rate, float64(s.Cost)/(float64(s.Width)*float64(s.Length)))
	}
	var area float64
	for i, s := range m.f.shapes {
		v.area[i] = s.area
		area += s.area * float64(left[i])
	}
	for i, c := range full {
		v.cost = append(v.cost, m.f.stock[c.stock].Cost)
		for _, e := range c.u {
			v.with[e.shape] = append(v.with[e.shape], i)
		}
	}
	if !v.search(append([]int(nil), left...), budget, area) {
		return nil
	}
	p := &plan{}
	for _, i := range v.chosen {
		p.add(full[i], 1, v.cost[i])
	}
	return p
}

func (v *cover) search(rest []int, budget int64, area float64) bool {
	pick, ways := -1, 0
	for s, n := range rest {
		if n == 0 {
			continue
		}
		k := 0
		for _, i := range v.with[s] {
			if v.full[i].u.within(rest) {
				k++
			}
		}
		if pick < 0 || k < ways {
			pick, ways = s, k
		}
		if ways == 0 {
			return false
		}
	}
	if pick < 0 {
		return true
	}
	for _, i := range v.with[pick] {
		c := v.full[i]
		if !c.u.within(rest) || v.cost[i] > budget {
			continue
		}
		if v.nodes--; v.nodes < 0 {
			return false
		}
		a := area - c.u.value(v.area)
		if a*v.rate*(1-1e-9) > float64(budget-v.cost[i]) {
			continue
		}
		c.u.take(rest, 1)
		v.chosen = append(v.chosen, i)
		if v.search(rest, budget-v.cost[i], a) {
			return true
		}
		v.chosen = v.chosen[:len(v.chosen)-1]
		c.u.take(rest, -1)
	}
	return false
}
