package trace

// slice is a stretch on which edges a and b (by rising r) are the two faces of
// one wall.
type slice struct {
	a, b   int32
	s0, s1 Length
}

// pairUp finds the slices of a bundle: in every strip the set of pairs of the
// greatest weight in which no face serves two walls. Material lies on one side
// of a face only, so the sides alternate of themselves, and the room faces of a
// narrow closet lose against the two walls they belong to.
func pairUp(b *bundle, h *thickness) {
	last := make([]int32, len(b.edges)) // newest slice of each lower face, +1
	var m matcher
	sweep(b.edges, maxThick, func(chain []int32, s0, s1 Length) {
		for _, p := range m.match(b, h, chain) {
			a, c := chain[p[0]], chain[p[1]]
			if k := last[a]; k > 0 {
				if s := &b.slices[k-1]; s.b == c && s.s1 == s0 {
					s.s1 = s1
					continue
				}
			}
			b.slices = append(b.slices, slice{a, c, s0, s1})
			last[a] = int32(len(b.slices))
		}
	})
}

// unexplained is the price of a line that serves no wall, in weights of a sure
// pair: three lines are one wall drawn with a line inside it rather than a
// thin wall and a stray line.
const unexplained = 0.3

// thinWall is a thickness that lines 2 in apart have which are furring, a frame
// or a sill more often than a wall: they are a wall only where nothing better is
// to be made of them. Source: common practice, none published.
const thinWall = 60 * mm

// matcher holds the scratch of the chain's dynamic programme.
type matcher struct {
	best []float64
	from [][2]int32
	out  [][2]int32
}

// match returns the pairs of the heaviest matching of a chain, as positions in
// it. A pair may reach over one or two lines that lie inside the wall.
func (m *matcher) match(b *bundle, h *thickness, chain []int32) [][2]int32 {
	n := len(chain)
	m.best = append(m.best[:0], 0)
	m.from = append(m.from[:0], [2]int32{-1, 0})
	for j := 1; j <= n; j++ {
		best, from := m.best[j-1]-unexplained, [2]int32{-1, 0}
		for i := j - 1; i >= 1 && i >= j-1-maxInside; i-- {
			w := b.weight(h, chain[i-1:j])
			// strictly better only: equal weights keep the thinner wall
			if w > 0 && m.best[i-1]+w > best+1e-9 {
				best, from = m.best[i-1]+w, [2]int32{int32(i - 1), int32(j - 1)}
			}
		}
		m.best = append(m.best, best)
		m.from = append(m.from, from)
	}
	m.out = m.out[:0]
	for j := n; j > 0; {
		if f := m.from[j]; f[0] >= 0 {
			m.out = append(m.out, f)
			j = int(f[0])
		} else {
			j--
		}
	}
	return m.out
}

// weight is how much the first and the last edge of a row look like the faces
// of one wall; 0: not at all.
func (b *bundle) weight(h *thickness, row []int32) float64 {
	lo, hi := &b.edges[row[0]], &b.edges[row[len(row)-1]]
	t := hi.r - lo.r
	if t < minThick || t > maxThick {
		return 0
	}
	x := float64(b.on(lo.r, hi.r)) / float64(max(t, minWall))
	if x < 0.75 {
		return 0
	}
	w := h.likely(t) * (1 - 0.35*float64(t)/float64(maxThick)) * min(1, 0.2+x/2.5)
	if t < thinWall {
		w *= 0.3
	}
	switch inside := len(row) - 2; {
	case inside == 0:
	case !absorbs(b.edges, row):
		w *= 0.85
	case h.drawn == DrawnStud:
		w *= 0.6
	}
	return w
}
