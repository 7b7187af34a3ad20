package layout

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"boardrun/internal/run"
)

// bruteWall is a small wall in whole inches, one sheet of 10 ft high.
type bruteWall struct {
	length, spacing int
	openings        [][3]int // from, to, head
	sides           int
}

func (b bruteWall) sketch() sketch {
	s := sketch{length: Length(b.length) * in, spacing: Length(b.spacing) * in, deck: level(120 * in), board: stock("4x10", inch(0.625), 48*in, 120*in), oneSided: b.sides == 1}
	for _, o := range b.openings {
		s.openings = append(s.openings, door(Length(o[0])*in, Length(o[1])*in, Length(o[2])*in))
	}
	return s
}

// outcome is what the brute force compares: studs added, board and joint in
// square and plain inches, pieces.
type outcome struct {
	added  int
	area   float64
	joints float64
	pieces int
}

func (a outcome) less(b outcome) bool {
	const slack = 0.01 // a stacked header is charged a grid unit more
	switch {
	case a.added != b.added:
		return a.added < b.added
	case a.area < b.area-slack || a.area > b.area+slack:
		return a.area < b.area
	case a.joints < b.joints-slack || a.joints > b.joints+slack:
		return a.joints < b.joints
	}
	return a.pieces < b.pieces
}

const boardHigh = 118.75

// sequences lists all joints of full 48 in sheets with rips at the ends, at
// every whole inch, that keep off the openings.
func (b bruteWall) sequences(pairs bool) [][]int {
	var out [][]int
	if b.length <= 48 {
		out = append(out, nil)
	}
	for c := 1; c <= 48; c++ {
		var js []int
		ok := true
		for x := c; x < b.length; x += 48 {
			js = append(js, x)
			for _, o := range b.openings {
				if abs(x-o[0]) < 6 || abs(x-o[1]) < 6 {
					ok = false
				}
			}
		}
		if len(js) == 0 || !ok {
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

func abs(x int) int { return max(x, -x) }

// cost charges a set of sequences: sheets, rips two to a sheet at best, header
// strips by how many fit a sheet.
func (b bruteWall) cost(sides [][]int, start int) outcome {
	var o outcome
	var rips []strip
	for _, js := range sides {
		at := 0
		for _, x := range append(slices.Clone(js), b.length) {
			h := boardHigh
			for _, d := range b.openings {
				if d[0] <= at && x <= d[1] {
					h = 119.25 - float64(d[2])
				}
			}
			length := 120 / float64(int(120/h))
			if x-at == 48 {
				o.area += 48 * length
			} else {
				rips = append(rips, strip{float64(x - at), length})
			}
			o.pieces++
			at = x
		}
		for _, x := range js {
			if (x-start)%b.spacing != 0 {
				o.added++
			}
			o.joints += boardHigh
			for _, d := range b.openings {
				if d[0] < x && x < d[1] {
					o.joints -= float64(d[2]) - 0.5
				}
			}
		}
	}
	o.area += pairUpStrips(rips)
	return o
}

// strip is a narrow piece, in inches.
type strip struct{ width, length float64 }

// pairUpStrips is the least board that strips take, two to a sheet of 48 in where
// they fit: every pairing tried.
func pairUpStrips(rest []strip) float64 {
	if len(rest) == 0 {
		return 0
	}
	best := 48*rest[0].length + pairUpStrips(rest[1:])
	for i := 1; i < len(rest); i++ {
		if rest[0].width+rest[i].width <= 48 {
			others := append(slices.Clone(rest[1:i]), rest[i+1:]...)
			best = min(best, 48*max(rest[0].length, rest[i].length)+pairUpStrips(others))
		}
	}
	return best
}

// optimum tries everything at every stud start.
func (b bruteWall) optimum() (best outcome, found bool) {
	for _, pairs := range []bool{false, true} {
		seqs := b.sequences(pairs)
		for start := range b.spacing {
			for _, x := range seqs {
				if b.sides == 1 {
					if o := b.cost([][]int{x}, start); !found || o.less(best) {
						best, found = o, true
					}
					continue
				}
				for _, y := range seqs {
					if slices.ContainsFunc(x, func(j int) bool { return slices.ContainsFunc(y, func(k int) bool { return abs(j-k) < 2 }) }) {
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

// Oracle: brute force over every whole inch of 500 small walls.
func TestSolve_bruteForce(t *testing.T) {
	legal := 0
	for seed := range uint64(500) {
		rng := rand.New(rand.NewPCG(seed, 3))
		b := bruteWall{length: 30 + rng.IntN(150), spacing: 16, sides: 1 + rng.IntN(2)}
		if rng.IntN(3) == 0 {
			b.spacing = 24
		}
		for at := rng.IntN(40); len(b.openings) < rng.IntN(3); {
			width := 24 + 2*rng.IntN(20)
			if at+width > b.length {
				break
			}
			b.openings = append(b.openings, [3]int{at, at + width, 80 + rng.IntN(8)})
			at += width + 6 + rng.IntN(40)
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
		for _, p := range l.Pieces {
			if p.Role == Leg {
				got.pieces-- // a strip the building makes, whatever the layout
			}
		}
		if l.Status != "optimal" || got.less(want) || want.less(got) {
			t.Errorf("seed %d: %+v: got %+v %s, want %+v; left %s right %s", seed, b, got, l.Status, want,
				stationsOf(l, run.Left, 1, in), stationsOf(l, run.Right, 1, in))
			if t.Failed() && seed > 100 {
				break
			}
		}
	}
	t.Log(fmt.Sprint(legal, " of 500 have a legal layout"))
}
