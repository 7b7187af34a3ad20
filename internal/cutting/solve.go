package cutting

import (
	"fmt"
	"math"
	"sort"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/parallel"
)

// Solve returns a cut list for p. It never fails: what cannot be cut is listed
// in Unplaced. The result depends on p and e alone, not on the order of pieces,
// the machine or the number of its cores.
func Solve(p Problem, e Effort) Solution {
	p.Keep = p.Keep.withDefaults()
	stock := stockByBoard(p.Stock)
	groups, keys, unplaced := groupsOf(p, stock)
	results := make([]groupResult, len(keys))
	parallel.Each(len(keys), func(i int) {
		k := keys[i]
		results[i] = solveGroup(p, k, groups[k], stock[k.board], e)
	})
	var s Solution
	s.Unplaced = unplaced
	for _, r := range results {
		s.Unplaced = append(s.Unplaced, r.unplaced...)
		for _, sh := range r.sheets {
			sh.ID = fmt.Sprintf("S%04d", len(s.Sheets)+1)
			s.Sheets = append(s.Sheets, sh)
		}
	}
	sort.SliceStable(s.Unplaced, func(i, j int) bool { return s.Unplaced[i].Piece < s.Unplaced[j].Piece })
	s.Bounds = boundsOf(s.Sheets, results)
	return s
}

// stockByBoard sorts the sheets on sale by width, then length, drops sizes that
// cannot be and all but the cheapest of equal ones. Where a board has a sheet
// without a cost, its sheets are compared by area.
func stockByBoard(all []Stock) map[string][]Stock {
	out := map[string][]Stock{}
	byArea := map[string]bool{}
	for _, s := range all {
		if s.Width <= 0 || s.Length <= 0 || s.Width > maxSheet || s.Length > maxSheet {
			continue
		}
		byArea[s.Board] = byArea[s.Board] || s.Cost <= 0
		out[s.Board] = append(out[s.Board], s)
	}
	for board, list := range out {
		unit := int64(areaUnit)
		for _, k := range list {
			if int64(k.Width)*int64(k.Length)%unit != 0 {
				unit = 1 // sizes nobody sells: exact first
			}
		}
		for i := range list {
			if byArea[board] {
				list[i].Cost = int64(list[i].Width) * int64(list[i].Length) / unit
			}
		}
		sort.Slice(list, func(i, j int) bool {
			a, b := list[i], list[j]
			if a.Width != b.Width {
				return a.Width < b.Width
			}
			if a.Length != b.Length {
				return a.Length < b.Length
			}
			return a.Cost < b.Cost
		})
		kept := list[:0]
		for _, s := range list {
			if n := len(kept); n == 0 || kept[n-1].Width != s.Width || kept[n-1].Length != s.Length {
				kept = append(kept, s)
			}
		}
		out[board] = kept
	}
	return out
}

// groupsOf sorts pieces into groups and sets aside those that cannot be cut.
func groupsOf(p Problem, stock map[string][]Stock) (map[groupKey][]int, []groupKey, []Unplaced) {
	groups := map[groupKey][]int{}
	var keys []groupKey
	var bad []Unplaced
	for i, pc := range p.Pieces {
		if why := fault(pc, stock[pc.Board]); why != "" {
			bad = append(bad, Unplaced{pc.ID, pc.Board, why})
			continue
		}
		k := groupKey{pc.Board, pc.Group}
		if groups[k] == nil {
			keys = append(keys, k)
		}
		groups[k] = append(groups[k], i)
	}
	sort.Slice(keys, func(i, j int) bool {
		if keys[i].board != keys[j].board {
			return keys[i].board < keys[j].board
		}
		return keys[i].group < keys[j].group
	})
	return groups, keys, bad
}

// fault says why a piece can be cut from none of the sheets, or "".
func fault(p Piece, stock []Stock) string {
	b := p.Outline.Bounds()
	switch {
	case len(p.Outline) < 3 || twiceArea(p.Outline) == 0:
		return "its outline has no area"
	case b.W() > maxSheet || b.H() > maxSheet:
		return "it is longer than 50 m"
	case !isSimple(p.Outline):
		return "its outline crosses itself"
	case len(stock) == 0:
		return fmt.Sprintf("no sheet of board %q is on sale", p.Board)
	case (p.Left == Tapered || p.Right == Tapered) && (p.Bottom == Tapered || p.Top == Tapered):
		return "it wants tapered edges on neighbouring sides; a sheet has them on opposite sides only"
	}
	s := newShape(p, quarterTurns(tidy(p.Outline), 0))
	for _, k := range stock {
		for _, v := range s.variants(0) {
			if v.fits(k.Width, k.Length) && (!s.uncut || isRect(s.outline) && v.w == k.Width && v.h == k.Length) {
				return ""
			}
		}
	}
	size := fmt.Sprintf("%.1f × %.1f mm", b.W().MM(), b.H().MM())
	if s.uncut {
		return "it must stay uncut, and no sheet on sale is " + size
	}
	return "no sheet on sale holds " + size + " with the edges it wants"
}

// isSimple reports whether no two sides of p cross; touching is allowed.
func isSimple(p geom.Poly) bool {
	n := len(p)
	for i := 0; i < n; i++ {
		for j := i + 2; j < n; j++ {
			a, b, c, d := p[i], p[(i+1)%n], p[j], p[(j+1)%n]
			if opposite(cross(a, b, c), cross(a, b, d)) && opposite(cross(c, d, a), cross(c, d, b)) {
				return false
			}
		}
	}
	return true
}

func opposite(a, b int64) bool { return a > 0 && b < 0 || a < 0 && b > 0 }

// groupResult is the cut list of one group with its lower bounds.
type groupResult struct {
	key      groupKey
	sheets   []Sheet
	unplaced []Unplaced
	bound    lower
}

func solveGroup(p Problem, key groupKey, members []int, stock []Stock, e Effort) groupResult {
	shapes := shapesOf(p.Pieces, members)
	g := planGroup(shapes, stock, p.Keep, e)
	r := groupResult{key: key, bound: g.relaxed.lower()}
	for _, c := range g.given {
		r.bound.cost += stock[c.stock].Cost * int64(c.times)
		r.bound.area = r.bound.area.Add(times(leastArea(c.b, stock), int64(c.times)))
	}
	y := laying{pieces: p.Pieces, shapes: g.shapes, next: make([]int, len(g.shapes)), keep: p.Keep, fillings: g.fillings}
	for _, c := range append(g.given, g.cuts...) {
		for k := 0; k < c.times; k++ {
			s := stock[c.stock]
			sheet := Sheet{Board: key.board, Group: key.group, Width: s.Width, Length: s.Length, Cost: s.Cost}
			y.sheet = &sheet
			y.place(c.b, geom.Rect{Max: geom.Pt{X: s.Width, Y: s.Length}})
			r.sheets = append(r.sheets, sheet)
		}
	}
	return r
}

// groupPlan is what is cut for one group, before it is drawn on sheets.
type groupPlan struct {
	shapes   []*shape  // what blocks speak of
	given    []planned // what there is no choice about: uncut pieces, those that lie alone
	cuts     []planned
	fillings map[pocketKey][]*block
	relaxed  *relaxed // of all but the given
}

// planGroup chooses the sheets and patterns of one group.
func planGroup(shapes []*shape, stock []Stock, keep Keep, e Effort) groupPlan {
	if keep.WasteNotches {
		shapes = alike(shapes)
	}
	left := make([]int, len(shapes))
	notched := false
	for i, s := range shapes {
		left[i] = len(s.copies)
		notched = notched || len(s.pocket) > 0
	}
	g := groupPlan{shapes: shapes, given: takeUncut(shapes, left, stock)}
	if !notched {
		g.given = append(g.given, takeAlone(shapes, left, stock)...)
	}
	g.relaxed = newRelaxed(shapes, left, stock, keep.WasteNotches, e)
	if !keep.WasteNotches {
		g.fillings = fillPockets(shapes, left, stock, 1024)
	}
	if anyLeft(left) {
		g.cuts = search(shapes, left, stock, g.relaxed, e).cuts
	}
	return g
}

// cost is what the sheets of a plan cost.
func (g *groupPlan) cost(stock []Stock) (sum int64) {
	for _, list := range [][]planned{g.given, g.cuts} {
		for _, c := range list {
			sum += stock[c.stock].Cost * int64(c.times)
		}
	}
	return sum
}

// takeUncut gives every piece that must stay uncut a sheet of its size.
func takeUncut(shapes []*shape, left []int, stock []Stock) []planned {
	var out []planned
	for i, s := range shapes {
		if !s.uncut {
			continue
		}
		best := -1
		var b *block
		for k, st := range stock {
			for _, v := range s.variants(i) {
				if v.w == st.Width && v.h == st.Length && (best < 0 || st.Cost < stock[best].Cost) {
					best, b = k, singleBlock(v)
				}
			}
		}
		out = append(out, planned{candidate{stock: best, b: b, u: b.u}, left[i]})
		left[i] = 0
	}
	return out
}

// leastArea is the area of the smallest sheet that holds b.
func leastArea(b *block, stock []Stock) measure.Area {
	least := measure.Area(math.MaxInt64)
	for _, k := range stock {
		if b.h <= k.Length && (b.w == k.Width || b.w < k.Width && b.need < 2) {
			least = min(least, measure.Times(k.Width, k.Length))
		}
	}
	return least
}
