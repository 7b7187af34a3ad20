package quantity

import (
	"fmt"
	"sort"

	"boardrun/internal/geom"
	"boardrun/internal/layout"
)

// TopRow is one piece of the tops list, its members in cutting order: marks at
// top and bottom (Left, Right), then centres, then length, then width, then
// cut-outs. Left and Right are as the hanger sees it, rounded down to 1/8 in or
// 1 mm so that it fits; Exact are the heights of the drawing. Rows of one Like
// number are cut alike and stand together.
type TopRow struct {
	Run, Storey, Face string
	Ply               int
	Piece             string
	Board             string
	Role              string
	Left, Right       Length
	Exact             [2]Length
	Breaks            []geom.Pt // other heights: from the starting edge, rounded down
	Centres           []Length  // from the starting edge
	Width             Length
	CutOuts           []CutOut
	Straight          bool
	Datum             bool // hung first: full width, fewest cut-outs; the others are measured off it
	Order             int
	Like              int
}

// tops fills in Result.Tops by run, face and ply, in cutting order.
func (t *taker) tops() {
	step := t.sys.CutStep()
	for _, l := range t.layouts {
		var rows []TopRow
		for i := range l.Pieces {
			p := &l.Pieces[i]
			if p.Role != layout.Top && p.Role != layout.Header && p.Role != layout.Leg {
				continue
			}
			left, right, straight := ends(p)
			row := TopRow{Run: l.Run.ID, Storey: l.Run.Storey, Face: p.Face.ID, Ply: p.Ply, Piece: p.ID, Board: p.Board, Role: p.Role.String(),
				Left: left.FloorTo(step), Right: right.FloorTo(step), Exact: [2]Length{left, right}, Centres: centres(l, p),
				Width: p.Outline.Bounds().W(), CutOuts: cutOuts(l, p), Straight: straight, Order: p.Order}
			for k := 1; k+1 < len(p.Heights); k++ {
				u := p.Heights[k].X
				if fromRight(l, p) {
					u = row.Width - u
				}
				row.Breaks = append(row.Breaks, geom.Pt{X: u, Y: p.Heights[k].Y.FloorTo(step)})
			}
			rows = append(rows, row)
		}
		markDatum(rows)
		sort.SliceStable(rows, func(i, k int) bool { return topBefore(&rows[i], &rows[k]) })
		for i := range rows {
			rows[i].Like = 1
			if i > 0 && rows[i].Face == rows[i-1].Face && rows[i].Ply == rows[i-1].Ply {
				rows[i].Like = rows[i-1].Like
				if !alike(&rows[i], &rows[i-1]) {
					rows[i].Like++
				}
			}
		}
		t.res.Tops = append(t.res.Tops, rows...)
	}
}

// markDatum chooses the first top of each face and ply: the widest with the
// fewest cut-outs, the earlier of equals.
func markDatum(rows []TopRow) {
	best := map[string]int{}
	for i := range rows {
		r := &rows[i]
		if r.Role != layout.Top.String() {
			continue
		}
		key := fmt.Sprint(r.Face, "/", r.Ply)
		k, ok := best[key]
		if !ok {
			best[key] = i
			continue
		}
		b := &rows[k]
		switch {
		case r.Width != b.Width:
			ok = r.Width > b.Width
		case len(r.CutOuts) != len(b.CutOuts):
			ok = len(r.CutOuts) < len(b.CutOuts)
		default:
			ok = r.Order < b.Order
		}
		if ok {
			best[key] = i
		}
	}
	for _, i := range best {
		rows[i].Datum = true
	}
}

func topBefore(a, b *TopRow) bool {
	switch {
	case a.Face != b.Face:
		return a.Face < b.Face
	case a.Ply != b.Ply:
		return a.Ply < b.Ply
	case a.Board != b.Board:
		return a.Board < b.Board
	case a.Straight != b.Straight:
		return a.Straight
	case a.Left != b.Left:
		return a.Left < b.Left
	case a.Right != b.Right:
		return a.Right < b.Right
	case a.Width != b.Width:
		return a.Width > b.Width
	}
	if x, y := cutText(a), cutText(b); x != y {
		return x < y
	}
	return a.Order < b.Order
}

// alike reports whether two rows are cut the same way.
func alike(a, b *TopRow) bool {
	return a.Board == b.Board && a.Left == b.Left && a.Right == b.Right && a.Width == b.Width && cutText(a) == cutText(b)
}

// cutText spells what is cut besides length and width, for comparing.
func cutText(r *TopRow) string { return fmt.Sprint(len(r.CutOuts), r.CutOuts, r.Centres, r.Breaks) }
