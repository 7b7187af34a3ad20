package quantity

import "boardrun/internal/layout"

// LabourRow is the board to hang of one wall type on one storey, every ply
// counted, in m². Openings under 32 sf do not shorten the work: their area is
// in Openings and in Weighted. High is what hangs above the rule's height.
// Sources: AWCI, Practical Estimating part 2: about 40 % more labour above
// 10 ft; construction course notes: openings under 32 sf not deducted.
type LabourRow struct {
	Storey, Type string
	Hung         float64
	High         float64
	Openings     float64
	Weighted     float64 // (Hung − High + Openings) + High × LabourHigh
}

func (t *taker) labour() {
	at := map[[2]string]int{}
	for _, l := range t.layouts {
		k := [2]string{l.Run.Storey, l.Run.Type}
		i, ok := at[k]
		if !ok {
			i = len(t.res.Labour)
			at[k] = i
			t.res.Labour = append(t.res.Labour, LabourRow{Storey: k[0], Type: k[1]})
		}
		row := &t.res.Labour[i]
		for n := range l.Pieces {
			a := l.Pieces[n].Area.M2()
			row.Hung += a
			row.High += a * highShare(&l.Pieces[n], t.set.HighWork)
		}
		for _, f := range l.Run.Faces {
			for h := range f.Holes {
				if r := f.Holes[h].Rect; f.Boarded && Deducted(r.W(), r.H()) == 0 {
					row.Openings += float64(len(f.Plies)) * r.W().Metres() * r.H().Metres()
				}
			}
		}
	}
	for i := range t.res.Labour {
		r := &t.res.Labour[i]
		r.Weighted = r.Hung - r.High + r.Openings + r.High*t.set.LabourHigh
	}
}

// highShare is the part of a piece above a height, by its bounds.
func highShare(p *layout.Piece, height Length) float64 {
	b := p.Outline.Bounds()
	switch {
	case height <= 0 || b.Max.Y <= height || b.H() == 0:
		return 0
	case b.Min.Y >= height:
		return 1
	}
	return float64(b.Max.Y-height) / float64(b.H())
}
