package cutting

import (
	"fmt"
	"math/rand"
	"testing"

	"boardrun/internal/measure"
)

// distinctLengths is n pieces as wide as the sheet, no two alike.
func distinctLengths(r *rand.Rand, n int) Problem {
	p := Problem{Stock: boards(96, 120, 144)}
	seen := map[measure.Length]bool{}
	for len(p.Pieces) < n {
		l := measure.Length(12*64+r.Intn(120*64)) * measure.SixtyFourth
		if seen[l] {
			continue
		}
		seen[l] = true
		p.Pieces = append(p.Pieces, Piece{ID: fmt.Sprintf("%04d", len(p.Pieces)), Board: "A", Outline: rect(48*in, l), Left: Tapered, Right: Tapered})
	}
	return p
}

// distinctTops is n sloped tops, no two alike, with a rip for every fifth.
func distinctTops(r *rand.Rand, n int) Problem {
	p := distinctLengths(r, n)
	for i := range p.Pieces {
		h := p.Pieces[i].Outline.Bounds().H()/2 + 6*in
		if i%5 == 4 {
			p.Pieces[i].Outline, p.Pieces[i].Right = slope(measure.Length(8+r.Intn(30))*in, h, h+in/2), CutEdge
		} else {
			p.Pieces[i].Outline = slope(48*in, h, h+in)
		}
	}
	return p
}

// walls is a job of n walls of about 20 ft, two sides, in groups of a few walls
// (rooms): whole sheets, hooks beside doors, tops, rips and headers.
func walls(r *rand.Rand, n int) Problem {
	p := Problem{Stock: boards(96, 120, 144)}
	add := func(room int, o Piece) {
		o.ID, o.Board, o.Group = fmt.Sprintf("P%05d", len(p.Pieces)), "A", fmt.Sprintf("room %03d", room)
		p.Pieces = append(p.Pieces, o)
	}
	for w := 0; w < n; w++ {
		deck := measure.Length(126+r.Intn(60)) * in
		for side := 0; side < 2; side++ {
			for k := 0; k < 4; k++ {
				add(w/4, Piece{Outline: rect(48*in, 120*in), Left: Tapered, Right: Tapered, Uncut: k == 0})
				h := deck - 120*in + measure.Length(k)*in
				add(w/4, Piece{Outline: slope(48*in, h, h+in), Left: Tapered, Right: Tapered})
			}
			add(w/4, Piece{Outline: hook(48*in, 120*in, measure.Length(8+r.Intn(20))*in, 85*in), Left: Tapered, Right: Tapered})
			rip := measure.Length(6*8+r.Intn(40*8)) * in / 8
			add(w/4, Piece{Outline: rect(rip, 120*in), Left: Tapered})
			add(w/4, Piece{Outline: slope(rip, deck-116*in, deck-116*in+rip/48), Left: Tapered})
		}
	}
	return p
}

func BenchmarkSolve(b *testing.B) {
	cases := []struct {
		name string
		p    Problem
	}{
		{"60 lengths", distinctLengths(rand.New(rand.NewSource(1)), 60)},
		{"300 lengths", distinctLengths(rand.New(rand.NewSource(1)), 300)},
		{"60 tops", distinctTops(rand.New(rand.NewSource(1)), 60)},
		{"300 tops", distinctTops(rand.New(rand.NewSource(1)), 300)},
		{"200 walls", walls(rand.New(rand.NewSource(1)), 200)},
	}
	for _, c := range cases {
		for _, e := range []Effort{Quick, Best} {
			b.Run(fmt.Sprintf("%s %v", c.name, []string{"quick", "best"}[e]), func(b *testing.B) {
				var s Solution
				for i := 0; i < b.N; i++ {
					s = Solve(c.p, e)
				}
				sf := func(a Total) float64 { return a.M2() / 0.3048 / 0.3048 }
				b.ReportMetric(sf(s.Bounds[0].Bought), "sf-bought")
				b.ReportMetric(sf(s.Bounds[0].ForThese), "sf-bound")
				b.ReportMetric(float64(len(s.Sheets)), "sheets")
			})
		}
	}
}
