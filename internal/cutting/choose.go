package cutting

import (
	"cmp"
	"encoding/binary"
	"slices"
	"sort"

	"boardrun/internal/parallel"
)

// Option is one way to hang a run: the pieces it makes and what it costs beside
// its sheets. Cost is in the unit of Stock.Cost and added to it; Rest breaks
// ties, less is better.
type Option struct {
	Pieces     []Piece
	Cost, Rest int64
}

// Choose picks one option for each run such that sheets and options together
// cost least, as far as it looks: beginning with the first of each, it tries for
// one run after the other whether another option, with the sheets of the groups
// it touches planned anew, comes out cheaper, until a pass finds nothing or
// passes are used up. What is cut from what decides, not a share of a sheet a
// piece. Groups of up to mostPieces pieces are planned with Best before a change
// stands; larger ones with Quick, so there whoever calls has to compare the end
// with the beginning. Options with more pieces than the first that no sheet gives
// are left aside. The result depends on the arguments alone.
func Choose(runs [][]Option, stock []Stock, keep Keep, passes int) []int {
	c := newChooser(runs, stock, keep)
	for ; passes > 0; passes-- {
		moved := false
		for r := range c.runs {
			moved = c.improve(r) || moved
		}
		if !moved {
			break
		}
	}
	return c.at
}

// chooser holds the options as counts of shapes by group, and what the sheets
// of a group cost for every set of counts already asked for.
type chooser struct {
	stock map[string][]Stock
	keep  Keep
	shape []*shape // all different shapes
	key   []string // of each shape, for order
	runs  [][]ways
	at    []int
	zones map[groupKey]counted // of the options at
	cost  map[Effort]map[string]int64
}

// counted is how many of each shape are wanted.
type counted map[int]int

// ways is an option as the chooser sees it.
type ways struct {
	zones      map[groupKey]counted
	keys       []groupKey // of zones, sorted
	cost, rest int64
	ok         bool
}

func newChooser(runs [][]Option, stock []Stock, keep Keep) *chooser {
	c := &chooser{
		stock: stockByBoard(stock), keep: keep.withDefaults(), at: make([]int, len(runs)),
		zones: map[groupKey]counted{}, cost: map[Effort]map[string]int64{Quick: {}, Best: {}},
	}
	seen := map[string]int{}
	for _, options := range runs {
		var out []ways
		least := 0
		for k, o := range options {
			w := ways{zones: map[groupKey]counted{}, cost: o.Cost, rest: o.Rest}
			bad := 0
			for _, p := range o.Pieces {
				if fault(p, c.stock[p.Board]) != "" {
					bad++
					continue
				}
				g := groupKey{p.Board, p.Group}
				if w.zones[g] == nil {
					w.zones[g] = counted{}
					w.keys = append(w.keys, g)
				}
				w.zones[g][c.number(p, seen)] += max(p.Count, 1)
			}
			if k == 0 {
				least = bad
			}
			w.ok = bad <= least
			sort.Slice(w.keys, func(i, j int) bool { return less(w.keys[i], w.keys[j]) })
			out = append(out, w)
		}
		c.runs = append(c.runs, out)
		if len(out) > 0 {
			c.put(out[0], 1)
		}
	}
	return c
}

func less(a, b groupKey) bool { return a.board < b.board || a.board == b.board && a.group < b.group }

// number returns the number of p's shape.
func (c *chooser) number(p Piece, seen map[string]int) int {
	o := quarterTurns(tidy(p.Outline), 0)
	key := shapeKey(p, o)
	i, ok := seen[key]
	if !ok {
		i = len(c.shape)
		seen[key] = i
		c.shape, c.key = append(c.shape, newShape(p, o)), append(c.key, key)
	}
	return i
}

// put adds an option to the zones n times; n may be −1.
func (c *chooser) put(w ways, n int) {
	for _, g := range w.keys {
		if c.zones[g] == nil {
			c.zones[g] = counted{}
		}
		for s, k := range w.zones[g] {
			if c.zones[g][s] += n * k; c.zones[g][s] == 0 {
				delete(c.zones[g], s)
			}
		}
	}
}

// improve tries the other options of run r and reports whether one is taken.
func (c *chooser) improve(r int) bool {
	options := c.runs[r]
	if len(options) < 2 {
		return false
	}
	now := options[c.at[r]]
	touched := slices.Clone(now.keys)
	for _, w := range options {
		touched = append(touched, w.keys...)
	}
	slices.SortFunc(touched, func(a, b groupKey) int { return cmp.Or(cmp.Compare(a.board, b.board), cmp.Compare(a.group, b.group)) })
	touched = slices.Compact(touched)
	// Only options whose area alone does not rule them out are planned.
	c.put(now, -1)
	defer func() { c.put(c.runs[r][c.at[r]], 1) }()
	tried := make([][]counted, len(options))
	for _, g := range touched {
		if c.zones[g].size() > mostChosen {
			return false
		}
	}
	var asked []question
	for k, w := range options {
		if !w.ok {
			continue
		}
		for _, g := range touched {
			tried[k] = append(tried[k], sum(c.zones[g], w.zones[g]))
		}
		if k == c.at[r] {
			for i, g := range touched {
				asked = append(asked, settling(g, tried[k][i]), question{g, tried[k][i], Quick})
			}
		}
	}
	c.answer(asked)
	value := func(k int, e Effort) int64 {
		v := options[k].cost
		for i, g := range touched {
			q := question{g, tried[k][i], Quick}
			if e == Best {
				q = settling(g, tried[k][i])
			}
			v += c.of(q)
		}
		return v
	}
	best, quick := value(c.at[r], Best), value(c.at[r], Quick)
	asked = asked[:0]
	var live []int
	low := map[int]int64{}
	for k := range options {
		if k == c.at[r] || tried[k] == nil {
			continue
		}
		floor := options[k].cost
		for i, g := range touched {
			floor += c.floor(g, tried[k][i])
		}
		if floor > best || floor == best && options[k].rest >= options[c.at[r]].rest {
			continue
		}
		live, low[k] = append(live, k), floor
	}
	if largest(tried[c.at[r]]) > mostPieces && len(live) > mostTried {
		slices.SortStableFunc(live, func(a, b int) int {
			return cmp.Or(cmp.Compare(low[a], low[b]), cmp.Compare(options[a].rest, options[b].rest))
		})
		live = live[:mostTried]
	}
	for _, k := range live {
		for i, g := range touched {
			asked = append(asked, question{g, tried[k][i], Quick})
		}
	}
	c.answer(asked)
	slices.SortStableFunc(live, func(a, b int) int {
		return cmp.Or(cmp.Compare(value(a, Quick), value(b, Quick)), cmp.Compare(options[a].rest, options[b].rest))
	})
	for n, k := range live {
		if n == mostProved || value(k, Quick) > quick {
			break
		}
		asked = asked[:0]
		for i, g := range touched {
			asked = append(asked, settling(g, tried[k][i]))
		}
		c.answer(asked)
		if v := value(k, Best); v < best || v == best && options[k].rest < options[c.at[r]].rest {
			c.at[r] = k
			return true
		}
	}
	return false
}

// mostProved is how many options of one run are planned with Best a pass,
// mostPieces the size of a group up to which that is done. In larger ones
// mostTried options of a run are planned at all, above mostChosen none.
const mostProved, mostPieces, mostTried, mostChosen = 2, 48, 4, 600

// size is how many pieces are wanted.
func (w counted) size() (n int) {
	for _, k := range w {
		n += k
	}
	return n
}

func largest(ws []counted) (n int) {
	for _, w := range ws {
		n = max(n, w.size())
	}
	return n
}

// settling is the question whose answer decides.
func settling(g groupKey, want counted) question {
	if want.size() > mostPieces {
		return question{g, want, Quick}
	}
	return question{g, want, Best}
}

func sum(a, b counted) counted {
	out := make(counted, len(a)+len(b))
	for s, n := range a {
		out[s] += n
	}
	for s, n := range b {
		out[s] += n
	}
	return out
}

// question asks what the sheets of one group cost for some pieces.
type question struct {
	group groupKey
	want  counted
	e     Effort
}

// name tells questions of one answer alike, whatever the group is called.
func (q question) name() string {
	ids := make([]int, 0, len(q.want))
	for s := range q.want {
		ids = append(ids, s)
	}
	sort.Ints(ids)
	b := append([]byte(q.group.board), 0)
	for _, s := range ids {
		b = binary.AppendUvarint(binary.AppendUvarint(b, uint64(s)), uint64(q.want[s]))
	}
	return string(b)
}

// answer works out what is not known yet, on all cores.
func (c *chooser) answer(asked []question) {
	var open []question
	var names []string
	for _, q := range asked {
		if _, known := c.cost[q.e][q.name()]; !known {
			c.cost[q.e][q.name()] = 0
			open, names = append(open, q), append(names, q.name())
		}
	}
	out := make([]int64, len(open))
	parallel.Each(len(open), func(i int) {
		stock := c.stock[open[i].group.board]
		if len(open[i].want) > 0 {
			g := planGroup(c.shapes(open[i].want), stock, c.keep, open[i].e)
			out[i] = g.cost(stock)
		}
	})
	for i, q := range open {
		c.cost[q.e][names[i]] = out[i]
	}
}

func (c *chooser) of(q question) int64 { return c.cost[q.e][q.name()] }

// shapes returns the shapes wanted, as planGroup takes them.
func (c *chooser) shapes(want counted) []*shape {
	ids := make([]int, 0, len(want))
	for s := range want {
		ids = append(ids, s)
	}
	sort.Slice(ids, func(i, j int) bool {
		a, b := ids[i], ids[j]
		return shapeBefore(c.shape[a], c.shape[b], c.key[a], c.key[b])
	})
	out := make([]*shape, len(ids))
	for i, s := range ids {
		sh := *c.shape[s]
		sh.copies = make([]copyRef, want[s])
		out[i] = &sh
	}
	return out
}

// floor is the least that sheets for the pieces wanted can cost by their area.
func (c *chooser) floor(g groupKey, want counted) int64 {
	if len(want) == 0 {
		return 0
	}
	shapes := c.shapes(want)
	left := make([]int, len(shapes))
	for i, s := range shapes {
		left[i] = len(s.copies)
	}
	return newRelaxed(shapes, left, c.stock[g.board], c.keep.WasteNotches, Quick).cost
}
