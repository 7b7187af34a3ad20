package quantity

import (
	"math"
	"strconv"

	"boardrun/internal/layout"
	"boardrun/internal/measure"
)

func itoa(n int) string { return strconv.Itoa(n) }

// decimal writes x with at most one decimal.
func decimal(x float64) string { return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64) }

// CuttingStation is where sheets are set down that give more than one piece or
// a piece above the lowest row, and the spare ones.
const CuttingStation = "cutting station"

// stocking fills in Result.Stocking: the sheets of the order again, by where
// they are set down. Sheets that stand whole on the side hung first are stood
// out in its room; those of the other side wait for inspection and insulation;
// all others go to the cutting station. Counts add up to the order's.
// Source: common practice, no source.
func (t *taker) stocking() {
	where := map[string]*layout.Piece{}
	of := map[string]*layout.Layout{}
	for _, l := range t.layouts {
		for i := range l.Pieces {
			where[l.Pieces[i].ID], of[l.Pieces[i].ID] = &l.Pieces[i], l
		}
	}
	var sum tally
	for _, b := range t.in.Bought {
		area, r := CuttingStation, ""
		if b.Count == 1 && len(b.Pieces) > 0 {
			l := of[b.Pieces[0]]
			if l != nil {
				r = l.Run.ID
			}
			if p := where[b.Pieces[0]]; l != nil && len(b.Pieces) == 1 && p.Role == layout.SheetPiece && standsOnFloor(p) {
				area = placeName(l, p)
			}
		}
		sum.add(t.stock(b.Board, b.Storey, area, b.Width, b.Length, b.Count, 0), r)
	}
	for _, o := range t.res.Order {
		if o.Item == ItemBoard && o.Allowance > 0 {
			sum.add(t.stock(o.Spec, o.Storey, CuttingStation, o.Width, o.Length, o.Allowance, o.Allowance), "")
		}
	}
	t.res.Stocking = sum.sorted()
}

func placeName(l *layout.Layout, p *layout.Piece) string {
	place := p.Face.Room
	if place == "" {
		place = "wall " + l.Run.ID
	}
	if hungFirst(l, p.Face) {
		return place + ", stood out for side 1"
	}
	return place + ", side 2 after inspection"
}

func (t *taker) stock(board, storey, area string, width, length Length, count, spare int) Item {
	it := Item{Item: ItemBoard, Spec: board, Width: width, Length: length, Count: count, Allowance: spare, Storey: storey, Area: area}
	it.AreaM2 = float64(count) * measure.Times(width, length).M2()
	it.MassKg = t.mass(board, it.AreaM2)
	return it
}
