package cutting

import (
	"math"
	"slices"

	"boardrun/internal/measure"
)

// game is prices against ways.
type game struct {
	width, step measure.Length
	lengths     []measure.Length
	scales      []scale
	known       []barPool // of each scale
	blanks      []Blank
	plies       [][][]lane
	allowed     float64   // horizontal joint in mm
	sum         []float64 // of each blank over the prices so far, weighed
	now         []float64 // mean of each blank
	want        []float64 // of each blank over the ways so far, weighed
	turns       float64
	levelSum    float64 // of the price of a mm of horizontal joint
	level       float64 // mean of it
	levelWant   float64 // horizontal joint over the ways so far, weighed
	fine        float64 // price of a mm of horizontal joint while there is too much
	mean        float64 // least under the mean of the prices
	value       float64 // what the dearest prices make of the mean of the ways
}

type lane struct {
	columns [][]fill
	ways    [][]int32
	least   []float64 // scratch: of each column
	pick    []int     // and which way to cut it
}

type fill struct {
	blanks []int32 // numbers
	level  float64 // mm
}

// sheets sets the sheets that prices are for; false where they are of several
// widths.
func (g *game) sheets(stock []Stock) bool {
	for _, s := range stock {
		if g.width != 0 && g.width != s.Width {
			return false
		}
		g.width = s.Width
		g.lengths = append(g.lengths, s.Length)
	}
	if len(g.lengths) == 0 {
		return false
	}
	slices.Sort(g.lengths)
	g.lengths = slices.Compact(g.lengths)
	g.step = max(1, 2*g.lengths[len(g.lengths)-1]/2304)
	g.scales = []scale{nil}
	for _, part := range []measure.Length{2, 3, 4} {
		t := g.width / part
		g.scales = append(g.scales, above(g.width, t), mixed(above(g.width, t), asIs))
	}
	g.known = make([]barPool, len(g.scales))
	g.start()
	return true
}

func newGame(h Hanging) *game {
	g := &game{allowed: h.Level.MM()}
	number := map[Blank]int32{}
	for _, choice := range h.Plies {
		var lanes [][]lane
		for _, c := range choice {
			var ls []lane
			for _, l := range c {
				ls = append(ls, g.newLane(l, number))
			}
			lanes = append(lanes, ls)
		}
		g.plies = append(g.plies, lanes)
	}
	return g
}

// start begins anew, without prices and ways.
func (g *game) start() {
	n := len(g.blanks)
	g.sum, g.now, g.want = make([]float64, n), make([]float64, n), make([]float64, n)
	g.turns, g.levelSum, g.levelWant, g.value = 0, 0, 0, math.Inf(1)
}

func (g *game) newLane(l Lane, number map[Blank]int32) lane {
	out := lane{ways: l.Ways, least: make([]float64, len(l.Columns)), pick: make([]int, len(l.Columns))}
	for _, c := range l.Columns {
		var fills []fill
		for _, f := range c {
			n := fill{level: f.Level.MM()}
			for _, b := range f.Blanks {
				id, ok := number[b]
				if !ok {
					id = int32(len(g.blanks))
					number[b] = id
					g.blanks = append(g.blanks, b)
				}
				n.blanks = append(n.blanks, id)
			}
			fills = append(fills, n)
		}
		out.columns = append(out.columns, fills)
	}
	return out
}

// answer plays the prices, of those that make gives for each scale, that make
// the mean of the ways so far dearest.
func (g *game) answer(make func(need map[int]float64, scale int) *worth) {
	total := max(1, g.turns*(g.turns+1)/2)
	var best *worth
	most, value := 0.0, 0.0
	for k, by := range g.scales {
		f := make(g.needs(by), k)
		if f == nil {
			continue
		}
		var v float64
		for i, n := range g.want {
			if n > 0 {
				v += float64(n / total * f.of(g.blanks[i]))
			}
		}
		value = max(value, v, f.most)
		if best == nil || v > most {
			most, best = v, f
		}
	}
	if best == nil {
		return
	}
	level := 0.0
	if over := g.levelWant/total - g.allowed; over > 0 {
		level = g.fine
		value += level * over
	}
	if g.turns > 0 {
		g.value = min(g.value, value)
	}
	g.play(best, level)
}

// needs is the lengths of double bars that the mean of the ways so far takes
// where widths are scaled so.
func (g *game) needs(by scale) map[int]float64 {
	total := max(1, g.turns*(g.turns+1)/2)
	f := &worth{width: g.width, step: g.step, by: by, value: []float64{0}}
	out := map[int]float64{}
	for i, n := range g.want {
		if n > 0 {
			f.lengths(g.blanks[i], n/total, out)
		}
	}
	return out
}

// dearest prices lengths by the linear programme.
func (g *game) dearest(need map[int]float64, k int) *worth {
	return dearest(need, g.width, g.step, g.lengths, g.scales[k], &g.known[k])
}

// mostLevel is the highest price in mm² of a mm of horizontal joint.
const mostLevel = 500

// play adds prices to the mean, takes the cheapest ways under it and adds them
// to the mean of ways.
func (g *game) play(f *worth, level float64) {
	g.turns++
	for i, b := range g.blanks {
		g.sum[i] += float64(g.turns * f.of(b))
	}
	g.levelSum += float64(g.turns * level)
	total := g.turns * (g.turns + 1) / 2
	for i := range g.now {
		g.now[i] = g.sum[i] / total
	}
	g.level = g.levelSum / total
	g.mean = g.least() - float64(g.level*g.allowed)
}

// least returns what the cheapest way of every ply is worth, and adds its blanks
// to what is wanted.
func (g *game) least() float64 {
	var sum float64
	for _, choice := range g.plies {
		best, at := 0.0, -1
		for c, lanes := range choice {
			var v float64
			for i := range lanes {
				w, _ := g.cheapest(&lanes[i])
				v += w
			}
			if at < 0 || v < best {
				best, at = v, c
			}
		}
		if at < 0 {
			continue
		}
		sum += best
		for i := range choice[at] {
			g.take(&choice[at][i])
		}
	}
	return sum
}

// cheapest returns what the cheapest way of l is worth, and its number.
func (g *game) cheapest(l *lane) (float64, int) {
	for c, fills := range l.columns {
		l.least[c], l.pick[c] = 0, -1
		for k, f := range fills {
			v := float64(g.level * f.level)
			for _, id := range f.blanks {
				v += g.now[id]
			}
			if l.pick[c] < 0 || v < l.least[c] {
				l.least[c], l.pick[c] = v, k
			}
		}
	}
	best, at := 0.0, -1
	for i, way := range l.ways {
		var v float64
		for _, c := range way {
			v += l.least[c]
		}
		if at < 0 || v < best {
			best, at = v, i
		}
	}
	return best, at
}

// take adds the cheapest way of l to what is wanted.
func (g *game) take(l *lane) {
	_, at := g.cheapest(l)
	for _, c := range l.ways[at] {
		f := l.columns[c][l.pick[c]]
		g.levelWant += g.turns * f.level
		for _, id := range f.blanks {
			g.want[id] += g.turns
		}
	}
}
