package cutting

import (
	"cmp"
	"math/bits"
	"slices"

	"boardrun/internal/measure"
)

// The jigsaw puts blanks together bottom-up wherever next to nothing is lost,
// as Wang did for guillotine cutting (Operations Research 31, 1983), and looks
// for sheets that come out full. It is what finds a plan without waste when
// there is one; with much waste to give away it stops early and adds little.
type jigsaw struct {
	shapes        []*shape
	stock         []Stock
	copies        tally
	at            []counter // of each shape
	spread        float64   // waste allowed in a brick, in units²
	max           int       // bricks kept
	width, length measure.Length
	bricks        []brick
	like          map[brickKey][]int32 // bricks that hold the same
	tall, wide    shelves              // by width first, and by height first
}

// counts packs one small counter per shape, each with a guard bit above it.
type counts [4]uint64

// counter says where in counts a shape is counted; mask is 0 if it is not.
type counter struct {
	word, bit int
	mask      uint64
}

func (n counter) of(c *counts) int { return int(c[n.word] >> n.bit & n.mask) }

// tally is how many copies of each shape there are, packed.
type tally struct{ limit, guard counts }

// within reports whether c asks for no more copies than t has.
func (t *tally) within(c *counts) bool {
	for i := range c {
		if ((t.limit[i]|t.guard[i])-c[i])&t.guard[i] != t.guard[i] {
			return false
		}
	}
	return true
}

func (c *counts) plus(d *counts) (sum counts) {
	for i := range c {
		sum[i] = c[i] + d[i]
	}
	return sum
}

// brick is a block that is built only if it is wanted: blanks, or two bricks
// side by side or one above the other.
type brick struct {
	w, h  measure.Length
	need  int8
	kind  blockKind
	a, b  int32  // of row, stack: the bricks it is made of
	whole *block // of single, pair
	u     counts
	waste float64
}

type brickKey struct {
	u    counts
	need int8
}

// newJigsaw returns nil if the counters of all shapes do not fit.
func newJigsaw(shapes []*shape, left []int, stock []Stock, spread float64, most int) *jigsaw {
	z := &jigsaw{shapes: shapes, stock: stock, spread: spread, max: most, at: make([]counter, len(shapes)), like: map[brickKey][]int32{}}
	for _, s := range stock {
		z.width, z.length = max(z.width, s.Width), max(z.length, s.Length)
	}
	word, bit := 0, 0
	for s, n := range left {
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
		z.at[s] = counter{word, bit, 1<<(need-1) - 1}
		z.copies.limit[word] |= uint64(n) << bit
		bit += need
		z.copies.guard[word] |= 1 << (bit - 1)
	}
	return z
}

// packed returns u as counts.
func (z *jigsaw) packed(u use) (c counts) {
	for _, e := range u {
		c[z.at[e.shape].word] += uint64(e.n) << z.at[e.shape].bit
	}
	return c
}

// build puts bricks together until none is left to add or max is reached.
func (z *jigsaw) build() {
	var slopes []variant
	for i, s := range z.shapes {
		if z.at[i].mask == 0 {
			continue
		}
		for _, v := range s.variants(i) {
			if v.h <= z.length && v.w <= z.width && (v.need < 2 || z.isWidth(v.w)) {
				z.putWhole(singleBlock(v), float64(v.w)*float64(v.h)-s.area)
			}
			if s.sloped && !v.quarter {
				slopes = append(slopes, v)
			}
		}
	}
	for _, a := range slopes {
		for _, b := range slopes {
			z.putPair(a, b)
		}
	}
	for i := 0; i < len(z.bricks) && len(z.bricks) < z.max; i++ {
		z.extend(i)
	}
}

func (z *jigsaw) isWidth(w measure.Length) bool {
	return slices.ContainsFunc(z.stock, func(s Stock) bool { return s.Width == w })
}

func (z *jigsaw) putPair(a, b variant) {
	p := pairBlock(z.shapes, a, b, a.w)
	if p == nil || p.h > z.length || p.need == 2 && !z.isWidth(p.w) {
		return
	}
	waste := float64(p.w)*float64(p.h) - z.shapes[a.shape].area - z.shapes[b.shape].area
	if waste <= z.spread+1 {
		z.putWhole(p, max(waste, 0))
	}
}

// putWhole adds blanks as a brick. One blank may waste more than the spread (a
// slope alone); it leads nowhere by itself.
func (z *jigsaw) putWhole(b *block, waste float64) {
	z.put(brick{w: b.w, h: b.h, need: int8(b.need), kind: b.kind, whole: b, u: z.packed(b.u), waste: waste})
}

// put adds a brick unless there are too few copies for it or one that holds the
// same is as small.
func (z *jigsaw) put(k brick) {
	if len(z.bricks) >= z.max || !z.copies.within(&k.u) {
		return
	}
	key := brickKey{k.u, k.need}
	for _, i := range z.like[key] {
		if z.bricks[i].w <= k.w && z.bricks[i].h <= k.h {
			return
		}
	}
	i := int32(len(z.bricks))
	z.like[key] = append(z.like[key], i)
	z.bricks = append(z.bricks, k)
}

// extend joins brick i to every earlier one and to itself.
func (z *jigsaw) extend(i int) {
	a := &z.bricks[i]
	if a.waste > z.spread+1 {
		return
	}
	room := z.spread + 1 - a.waste
	z.tall.put(int32(i), a.w, a.h)
	z.wide.put(int32(i), a.h, a.w)
	z.tall.near(a.w, a.h, z.length, room, func(j int32) { z.stack(int32(i), j) })
	z.wide.near(a.h, a.w, z.width, room, func(j int32) { z.row(int32(i), j) })
}

func (z *jigsaw) stack(i, j int32) {
	a, b := &z.bricks[i], &z.bricks[j]
	h, w := a.h+b.h, max(a.w, b.w)
	if h > z.length {
		return
	}
	waste := a.waste + b.waste + float64(w-a.w)*float64(a.h) + float64(w-b.w)*float64(b.h)
	if waste <= z.spread+1 {
		z.put(brick{w: w, h: h, need: max(a.need, b.need), kind: stack, a: i, b: j, u: a.u.plus(&b.u), waste: waste})
	}
}

func (z *jigsaw) row(i, j int32) {
	a, b := &z.bricks[i], &z.bricks[j]
	need := a.need + b.need
	w, h := a.w+b.w, max(a.h, b.h)
	if w > z.width || need > 2 {
		return
	}
	inside := w
	if need == 2 { // both long edges are taken: the row spans its sheet
		full := measure.Length(0)
		for _, s := range z.stock {
			if s.Width >= w && (full == 0 || s.Width < full) {
				full = s.Width
			}
		}
		w = full
	}
	waste := a.waste + b.waste + float64(h-a.h)*float64(a.w) + float64(h-b.h)*float64(b.w) + float64(w-inside)*float64(h)
	if waste <= z.spread+1 {
		z.put(brick{w: w, h: h, need: need, kind: row, a: i, b: j, u: a.u.plus(&b.u), waste: waste})
	}
}

// block builds brick i.
func (z *jigsaw) block(i int32) *block {
	k := &z.bricks[i]
	switch k.kind {
	case stack:
		return stackOf(z.block(k.a), z.block(k.b))
	case row:
		r := rowOf(z.block(k.a), z.block(k.b))
		r.w = k.w
		return r
	}
	return k.whole
}

// fullSheet is a brick that fills a sheet but for some waste.
type fullSheet struct {
	brick int32
	stock int
	u     counts
	waste float64
}

// sheets returns the bricks that fill a sheet but for the spread, least waste
// first, at most limit of them. Of those that hold the same only the cheapest
// sheet is there.
func (z *jigsaw) sheets(limit int) []fullSheet {
	var out []fullSheet
	place := map[counts]int{}
	for i := range z.bricks {
		k := &z.bricks[i]
		for s, st := range z.stock {
			if k.w > st.Width || k.h > st.Length || k.need == 2 && k.w != st.Width {
				continue
			}
			waste := k.waste + float64(st.Width)*float64(st.Length) - float64(k.w)*float64(k.h)
			if waste > z.spread+1 {
				continue
			}
			f := fullSheet{int32(i), s, k.u, waste}
			if at, ok := place[k.u]; !ok {
				place[k.u] = len(out)
				out = append(out, f)
			} else if st.Cost < z.stock[out[at].stock].Cost {
				out[at] = f
			}
		}
	}
	slices.SortStableFunc(out, func(a, b fullSheet) int { return cmp.Compare(a.waste, b.waste) })
	return out[:min(len(out), limit)]
}

// candidate builds the pattern of a full sheet.
func (z *jigsaw) candidate(f fullSheet) candidate {
	b := z.block(f.brick)
	return candidate{stock: f.stock, b: b, u: b.u}
}
