package cutting

import (
	"math/rand"
	"testing"

	"boardrun/internal/measure"
)

// setsOf returns the set relaxation of p with what planGroup makes of it.
func setsOf(p Problem, e Effort) (*sheetSets, groupPlan) {
	all := make([]int, len(p.Pieces))
	for i := range all {
		all[i] = i
	}
	stock := stockByBoard(p.Stock)["A"]
	g := planGroup(shapesOf(p.Pieces, all), stock, p.Keep, e)
	each := make([]int64, len(stock))
	for i, s := range stock {
		each[i] = s.Cost
	}
	return newSheetSets(newFiller(g.shapes, stock, 64), g.relaxed.left, nil, each, float64(each[0]), proofFor(Best).sets), g
}

// Nothing that lies on one sheet may be ruled out, in whatever order it is put
// together. Oracle: patterns of cut lists that the judge has passed
// (TestKnownOptimum), slanted cuts, tapered edges and turned pieces among them.
func TestSheetSets_allowEveryPattern(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	n := 0
	for seed := int64(0); seed < 120; seed++ {
		p, _ := known{4, 24, in / 8, int(seed % 4), seed%2 == 0}.make(rand.New(rand.NewSource(seed)))
		p.Keep.WasteNotches = true
		z, g := setsOf(p, Quick)
		if z == nil {
			continue
		}
		for _, c := range g.cuts {
			var ms []int32
			c.b.each(func(v variant) {
				w, h := g.shapes[v.shape].surely(v)
				for i, m := range z.members {
					if m.shape == v.shape && m.w == w && m.h == h {
						ms = append(ms, int32(i))
						return
					}
				}
				t.Fatalf("seed %d: no member for shape %d", seed, v.shape)
			})
			r.Shuffle(len(ms), func(i, j int) { ms[i], ms[j] = ms[j], ms[i] })
			z.length, z.chosen = z.stock[c.stock].Length, z.chosen[:0]
			for _, m := range ms {
				if !z.joins(m) {
					t.Fatalf("seed %d: a pattern of %d pieces is ruled out", seed, len(ms))
				}
				z.chosen = append(z.chosen, m)
			}
			n++
		}
	}
	if n < 300 {
		t.Errorf("only %d patterns", n)
	}
}

// By hand: of strips that want one tapered edge each two come out of a sheet
// whatever their width, so three need one and a half; five pieces of 5 ft two out
// of 12 ft, one out of 8 ft; a full piece of 7 ft and one of 4 ft share 12 ft
// although their areas would leave room for a strip that nowhere fits.
func TestSheetSets_byHand(t *testing.T) {
	ft := measure.Foot
	strip := Piece{Board: "A", Outline: rect(10*in, 7*ft), Left: Tapered}
	full := func(h measure.Length) Piece {
		return Piece{Board: "A", Outline: rect(48*in, h), Left: Tapered, Right: Tapered}
	}
	for _, c := range []struct {
		name   string
		pieces []Piece
		stock  []Stock
		want   float64 // sheets of the first length
	}{
		{"three strips", []Piece{strip, strip, strip}, boards(96), 1.5},
		{"five of 5 ft", []Piece{full(5 * ft), full(5 * ft), full(5 * ft), full(5 * ft), full(5 * ft)}, boards(96, 144), 2.5 * 1.5},
		{"a strip left over", []Piece{full(7 * ft), full(4 * ft), {Board: "A", Outline: rect(20*in, 2*ft)}}, boards(144), 1.5},
	} {
		for i := range c.pieces {
			c.pieces[i].ID = string(rune('a' + i))
		}
		p := Problem{Pieces: c.pieces, Stock: c.stock, Keep: Keep{WasteNotches: true}}
		z, _ := setsOf(p, Quick)
		if z == nil {
			t.Errorf("%s: nothing proven", c.name)
			continue
		}
		if got := z.bound(z, 100, never); got < c.want-1e-6 || got > c.want+1e-6 {
			t.Errorf("%s: %.4f sheets, by hand %.4f", c.name, got, c.want)
		}
	}
}
