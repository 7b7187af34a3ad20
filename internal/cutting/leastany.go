package cutting

import (
	"math"

	"boardrun/internal/measure"
)

// Column is the ways to cut one column of a wall.
type Column []Fill

// Fill is one way to cut a column: the blanks it takes and the length of
// horizontal joint in it.
type Fill struct {
	Blanks []Blank
	Level  measure.Length
}

// Lane is the ways to hang a part of a ply: each the numbers of its columns.
type Lane struct {
	Columns []Column
	Ways    [][]int32
}

// Hanging is what is to be hung in one board by walls that share offcuts: for
// each ply the choices of its lanes, and the net area in mm² of what else there
// is, of which no more is known.
type Hanging struct {
	Plies [][][]Lane
	Net   float64
	Level measure.Length // how much horizontal joint there may be in Plies
	Met   float64        // m² that are known to be enough
}

// LeastOfAny returns an area in m² of whole sheets that no choice of ways gets
// below that has no more horizontal joint than h allows, however the blanks are
// cut, if nothing from outside is used. Blanks are priced (see worth) and
// horizontal joints too, every ply takes its cheapest way, and the prices are
// changed in turn with the ways as in a game of two, which drives the two
// together (Robinson, Annals of Mathematics 54, 1951): prices answer the mean of
// the ways so far, ways the mean of the prices. The least of any prices is a
// bound (Lagrange), so stopping early is no harm.
func LeastOfAny(h Hanging, stock []Stock, e Effort) float64 {
	g := newGame(h)
	if !g.sheets(stock) {
		return LeastSheets(h.Net/1e6, stock)
	}
	g.play(areaWorth(g.width, g.lengths[len(g.lengths)-1], g.step), 0)
	whole := func(area float64) float64 { return LeastSheets((area+h.Net)/1e6, stock) }
	best, enough := whole(g.mean), h.Met
	if best < enough {
		best = max(best, g.counted(e))
	}
	g.start()
	g.fine = mostLevel
	g.play(areaWorth(g.width, g.lengths[len(g.lengths)-1], g.step), 0)
	for round, since := 0, 0; round < gameRounds(e) && since < patience && best < enough-1e-9; round++ {
		g.answer(g.dearest)
		since++
		if v := whole(g.mean); v > best {
			best, since = v, 0
		}
		enough = min(enough, whole(g.value)) // no prices prove more
	}
	return best
}

// patience is how many rounds without a better bound end a game.
const patience = 12

// counted bounds by the number of sheets longer than each length on sale: a
// blank longer than it comes out of none but those, and of two such blanks on
// one line of a sheet there is no room for both.
func (g *game) counted(e Effort) float64 {
	longest := g.lengths[len(g.lengths)-1]
	var area float64
	more := 0.0 // sheets longer than the one looked at
	for i := len(g.lengths) - 1; i >= 0; i-- {
		over := measure.Length(0)
		if i > 0 {
			over = g.lengths[i-1]
		}
		if 2*over < longest {
			break
		}
		n := 0.0
		g.start()
		g.fine = 2 / g.width.MM() // a sheet for half a joint
		for range gameRounds(e) {
			g.answer(func(_ map[int]float64, k int) *worth {
				return countWorth(g.width, longest, over, g.step, g.scales[k])
			})
			n = max(n, math.Ceil(g.mean-1e-6))
		}
		if n > more {
			area += (n - more) * measure.Times(g.width, g.lengths[i]).M2()
			more = n
		}
	}
	return area
}

func gameRounds(e Effort) int {
	if e == Best {
		return 20
	}
	return 4
}
