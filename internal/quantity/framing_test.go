package quantity

import (
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
)

// TestKickers: oracle: hand count: 20 ft at 48 in: 6, from ceiling-high framing
// to a deck 30 in above: 30 × 1.414 = 42.4, to the next inch 43.
func TestKickers(t *testing.T) {
	w := caseC1()
	w.deck, w.fixed, w.ceiling = geom.Level(0, in(240), in(144)), in(114), in(108)
	b := w.build()
	b.run.Deck = w.deck
	res := b.take()
	if got := countOf(res.Framing, ItemKicker, ""); got != 6 {
		t.Errorf("%d kickers, want 6: %+v", got, res.Framing)
	}
	if got := lengthOf(res.Framing, ItemKicker, ""); got != in(43) {
		t.Errorf("kicker %v in, want 43", got.Inches())
	}
	if lengthOf(res.Framing, ItemSlipTrack, "") != 0 || lengthOf(res.Framing, ItemTrack, "") != in(480) {
		t.Error("a wall under the ceiling has plain track top and bottom")
	}
}

// TestFlutes: oracle: hand count: 240 in across flutes of 6 in: 40; along them
// plates at 24 in: 11.
func TestFlutes(t *testing.T) {
	for _, c := range []struct {
		along string
		item  string
		want  int
	}{{"y", ItemFluteFill, 40}, {"x", ItemPlate, 11}} {
		b := caseC1().build()
		b.job.Decks = []job.Deck{{FluteDepth: in(1.5), FlutePitch: in(6), FluteAlong: c.along}}
		if got := countOf(b.take().Framing, c.item, ""); got != c.want {
			t.Errorf("flutes along %s: %d %s, want %d", c.along, got, c.item, c.want)
		}
	}
}

// TestStudEngagement: oracle: a 1-1/2 in leg less the 3/4 in gap leaves 3/4 in
// of stud in the track, under the 1 in of the rule.
func TestStudEngagement(t *testing.T) {
	b := caseC1().build()
	if es := b.take().Exceptions; len(es) != 0 {
		t.Errorf("2 in leg: %v", es)
	}
	b.job.Rules.SlipLeg = in(1.5)
	if es := b.take().Exceptions; len(es) != 1 || es[0].Code != "stud-engagement" {
		t.Errorf("1-1/2 in leg: %v", es)
	}
}
