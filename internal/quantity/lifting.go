package quantity

import "boardrun/internal/layout"

// Where a piece takes two people.
const (
	LiftFloor = "floor"
	LiftHigh  = "lift"
)

// TwoPeople says where a piece takes two people: on the floor by its mass, on a
// lift by its mass or its longer side; "" where one will do. Pieces that start
// above reach are hung from a lift. Local law comes first.
// Source: common practice, no source; for comparison 51 lb (23 kg) is the
// baseline of the US institute for occupational safety, and a Washington State
// project flagged boards over 90 lb.
func (s *Screwer) TwoPeople(p *layout.Piece) string {
	box := p.Outline.Bounds()
	switch {
	case s.set.LiftFloorKg > 0 && p.MassKg > s.set.LiftFloorKg:
		return LiftFloor
	case box.Min.Y < s.settings.LiftReach:
		return ""
	case s.set.LiftHighKg > 0 && p.MassKg > s.set.LiftHighKg:
		return LiftHigh
	case s.set.LiftLength > 0 && max(box.W(), box.H()) > s.set.LiftLength:
		return LiftHigh
	}
	return ""
}

func (t *taker) lifting() {
	for _, l := range t.layouts {
		for i := range l.Pieces {
			if w := t.screws.TwoPeople(&l.Pieces[i]); w != "" {
				t.res.Lifting[l.Pieces[i].ID] = w
			}
		}
	}
}
