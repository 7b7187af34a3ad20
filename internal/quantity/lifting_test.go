package quantity

import (
	"math"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/run"
)

// TestTwoPeople: oracle: the rule's two classes: on the floor over 100 lb, on a
// lift over 8 ft or 75 lb. O-35: 4x12x5/8 is 105.6 lb.
func TestTwoPeople(t *testing.T) {
	w := wall{length: in(96), deck: geom.Level(0, in(96), in(260)), breaks: inches(144.5), a: inches(48), b: inches(32, 80)}
	b := w.build()
	s := NewScrewer(b.job, Defaults(0))
	ps := b.pieces(run.Right)
	low, top := ps[0], ps[2]
	if kg := low.MassKg / measure.KgPerPound; math.Abs(kg-105.6) > 1e-6 {
		t.Errorf("O-35: %v lb", kg)
	}
	if got := s.TwoPeople(low); got != LiftFloor {
		t.Errorf("105.6 lb on the floor: %q", got)
	}
	if got := s.TwoPeople(top); got != LiftHigh { // 114-3/4 in high, 84 lb
		t.Errorf("top of %v in, %.0f lb: %q", top.Outline.Bounds().H().Inches(), top.MassKg/measure.KgPerPound, got)
	}
	if got := s.TwoPeople(caseC1().build().pieces(run.Right)[0]); got != "" {
		t.Errorf("87 lb standing on the floor: %q", got)
	}
}
