package trace_test

import (
	"testing"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
	"boardrun/internal/measure"
)

// Oracle: the outline as drawn, falling 1 in 48 from west to east.
func TestTrace_decks(t *testing.T) {
	s := newSheet()
	c := s.common("A-ROOF-DECK", "POLYLINE")
	p := [4]orb.Point{{0, 0}, {9600, 0}, {9600, 6000}, {0, 6000}}
	z := [4]float64{3200, 3000, 3000, 3200}
	for i := range p {
		k := (i + 1) % 4
		s.d.Segments = append(s.d.Segments, linework.Segment{Common: c, A: p[i], B: p[k], ZA: z[i], ZB: z[k], Closed: true, Index: i})
	}
	m := trace.Mapping{Layers: []trace.LayerUse{{Pattern: "A-ROOF-*", Role: trace.Decks}}}
	got := trace.Trace(&s.d, m, trace.Options{Storey: "1"})
	if len(got.Decks) != 1 || len(got.Decks[0].Outline) != 4 {
		t.Fatalf("decks: %+v", got.Decks)
	}
	for _, q := range got.Decks[0].Plane {
		want := measure.FromMM(3200) - q.X/48
		if q.Z != want {
			t.Errorf("at x %.1f: %.4f, want %.4f mm", q.X.MM(), q.Z.MM(), want.MM())
		}
	}
	if l := got.Ledger[0]; l.Read != 1 || l.Used != 1 {
		t.Errorf("ledger %+v", l)
	}
}
