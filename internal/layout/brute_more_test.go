package layout

import (
	"math/rand/v2"
	"slices"
	"testing"

	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// bruteFull is a small wall in whole inches, one sheet of 10 ft high, with
// windows, ducts that are there first, two plies on one side, a rating, and the
// studs as framed.
type bruteFull struct {
	length, spacing int
	openings        [][4]int // from, to, sill, head; sill 0 = a door
	duct            [2]int   // from, to, 60 to 80 in high, before board; to 0 = none
	sides, plies    int
	rated           bool
	framed          int // first stud as measured; −1 = free
}

func (b bruteFull) sketch() sketch {
	s := sketch{length: Length(b.length) * in, spacing: Length(b.spacing) * in, deck: level(120 * in),
		board: stock("4x10", inch(0.625), 48*in, 120*in), oneSided: b.sides == 1, plies: b.plies}
	for _, o := range b.openings {
		if o[2] == 0 {
			s.openings = append(s.openings, door(Length(o[0])*in, Length(o[1])*in, Length(o[3])*in))
		} else {
			s.openings = append(s.openings, window(Length(o[0])*in, Length(o[1])*in, Length(o[2])*in, Length(o[3])*in))
		}
	}
	if b.duct[1] > 0 {
		o := window(Length(b.duct[0])*in, Length(b.duct[1])*in, 60*in, 80*in)
		o.Kind, o.First = plan.Penetration, true
		s.openings = append(s.openings, o)
	}
	s.edit = func(r *run.Run, _ *rules.Set) {
		if b.rated {
			r.Rating = "1 h"
		}
		if b.framed >= 0 {
			r.Framing, r.FirstStud = framed, Length(b.framed)*in
		}
	}
	return s
}

// sequences lists all joints of full sheets with rips at the ends, at every
// whole inch, off the openings' bands, with a joint across the duct.
func (b bruteFull) sequences(pairs bool) (out [][]int) {
	if b.length <= 48 && b.duct[1] == 0 {
		out = append(out, nil)
	}
	for c := 1; c <= 48; c++ {
		var js []int
		ok, crossed := true, b.duct[1] == 0
		for x := c; x < b.length; x += 48 {
			js = append(js, x)
			for _, o := range b.openings {
				ok = ok && abs(x-o[0]) >= 6 && abs(x-o[1]) >= 6
			}
			crossed = crossed || x >= b.duct[0] && x <= b.duct[1]
		}
		if len(js) == 0 || !ok || !crossed {
			continue
		}
		first, last := js[0], b.length-js[len(js)-1]
		if first < 6 || last < 6 || !pairs && len(js) == 1 && first < 48 && last < 48 {
			continue
		}
		out = append(out, js)
	}
	return out
}

// cost is that of bruteWall, with what is under a window.
func (b bruteFull) cost(plies [][]int, start int) outcome {
	var o outcome
	var rips []strip
	share := func(h float64) float64 { return 120 / float64(int(120/h)) }
	for _, js := range plies {
		at := 0
		for _, x := range append(slices.Clone(js), b.length) {
			heights := []float64{boardHigh}
			for _, d := range b.openings {
				if d[0] <= at && x <= d[1] {
					heights = []float64{119.25 - float64(d[3])}
					if d[2] > 0 {
						heights = append(heights, float64(d[2])-0.5)
					}
				}
			}
			for _, h := range heights {
				if x-at == 48 {
					o.area += 48 * share(h)
				} else {
					rips = append(rips, strip{float64(x - at), share(h)})
				}
				o.pieces++
			}
			at = x
		}
		for _, x := range js {
			if (x-start)%b.spacing != 0 { // of either sign
				o.added++
			}
			o.joints += boardHigh
			for _, d := range b.openings {
				if d[0] < x && x < d[1] {
					o.joints -= float64(d[3]) - max(0.5, float64(d[2]))
				}
			}
			if b.duct[1] > 0 && b.duct[0] <= x && x <= b.duct[1] {
				o.joints -= 20.5 // a quarter of an inch clear all round
			}
		}
	}
	o.area += pairUpStrips(rips)
	return o
}

func (b bruteFull) optimum() (best outcome, found bool) {
	apart := 2 // two sides: never one stud
	if b.rated || b.plies == 2 {
		apart = b.spacing
	}
	starts := make([]int, 0, b.spacing)
	for s := range b.spacing {
		if b.framed < 0 || s == b.framed%b.spacing {
			starts = append(starts, s)
		}
	}
	n := b.sides * b.plies
	for _, pairs := range []bool{false, true} {
		seqs := b.sequences(pairs)
		for _, start := range starts {
			for _, x := range seqs {
				if n == 1 {
					if o := b.cost([][]int{x}, start); !found || o.less(best) {
						best, found = o, true
					}
					continue
				}
				for _, y := range seqs {
					if slices.ContainsFunc(x, func(j int) bool { return slices.ContainsFunc(y, func(k int) bool { return abs(j-k) < apart }) }) {
						continue
					}
					if o := b.cost([][]int{x, y}, start); !found || o.less(best) {
						best, found = o, true
					}
				}
			}
		}
		if found {
			return best, true
		}
	}
	return best, false
}

// Oracle: brute force over every whole inch of 500 small walls with windows,
// ducts, two plies, ratings and studs as framed.
func TestSolve_bruteForceFeatures(t *testing.T) {
	legal, bad := 0, 0
	for seed := range uint64(500) {
		rng := rand.New(rand.NewPCG(seed, 17))
		b := bruteFull{length: 40 + rng.IntN(130), spacing: 16, sides: 1, plies: 1 + rng.IntN(2), framed: -1}
		if rng.IntN(3) == 0 {
			b.spacing = 24
		}
		if b.plies == 1 && rng.IntN(3) > 0 {
			b.sides, b.rated = 2, rng.IntN(2) == 0
		}
		if rng.IntN(4) == 0 {
			b.framed = rng.IntN(b.spacing)
		}
		at := 12 + rng.IntN(40)
		if width := 24 + 2*rng.IntN(16); rng.IntN(3) > 0 && at+width+12 < b.length {
			b.openings = append(b.openings, [4]int{at, at + width, 36 * rng.IntN(2), 80 + rng.IntN(8)})
			at += width + 12 + rng.IntN(40)
		}
		if width := 6 + rng.IntN(20); rng.IntN(3) == 0 && at+width+12 < b.length {
			b.duct = [2]int{at, at + width}
		}
		want, found := b.optimum()
		l := b.sketch().best(t)
		if !found {
			if l.Status == "optimal" {
				t.Errorf("seed %d: %+v: brute force finds nothing legal, the layout says optimal", seed, b)
			}
			continue
		}
		legal++
		got := outcome{l.Cost.Added, l.Cost.Area.SqFt() * 144, Length(l.Cost.Joints).Inches(), l.Cost.Pieces}
		if l.Status != "optimal" || got.less(want) || want.less(got) {
			if bad++; bad < 12 {
				t.Errorf("seed %d: %+v: got %+v %s, want %+v; left %s %s right %s; %s", seed, b, got, l.Status, want,
					stationsOf(l, run.Left, 1, in), stationsOf(l, run.Left, 2, in), stationsOf(l, run.Right, 1, in), l.Gap)
			}
		}
	}
	t.Log(legal, " of 500 have a legal layout;", bad, "differ")
}
