package trace_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/importers/trace"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
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

// deckLayer maps one layer as decks.
var deckLayer = trace.Mapping{Layers: []trace.LayerUse{{Pattern: "A-ROOF-*", Role: trace.Decks}}}

// heightOn is the height of a deck's plane at a point, in mm.
func heightOn(d plan.Deck, x, y float64) float64 {
	p := d.Plane
	ux, uy, uz := (p[1].X - p[0].X).MM(), (p[1].Y - p[0].Y).MM(), (p[1].Z - p[0].Z).MM()
	vx, vy, vz := (p[2].X - p[0].X).MM(), (p[2].Y - p[0].Y).MM(), (p[2].Z - p[0].Z).MM()
	x, y = x-p[0].X.MM(), y-p[0].Y.MM()
	n := ux*vy - uy*vx
	return p[0].Z.MM() + (x*vy-y*vx)/n*uz + (ux*y-uy*x)/n*vz
}

// Spot elevations on a deck layer give the plane; what lies off it is told.
// Oracle: hand sums: the plane z = 3000 + x/50; one of five spots 40 mm too high
// at the middle of a square moves the plane of least squares up by 8 mm and
// leaves a residual of 32 mm.
func TestTrace_spotElevations(t *testing.T) {
	for _, c := range []struct {
		name     string
		spots    []string
		at       [][2]float64
		outline  bool
		want     [2]float64 // heights at (0,0) and (10000,0)
		told     int
		residual float64
	}{
		{"three in a plane", []string{"+3000", "+3200", "+3000"}, [][2]float64{{0, 0}, {10000, 0}, {0, 10000}}, false, [2]float64{3000, 3200}, 1, 0},
		{"one, level", []string{"EL. 3.45m"}, [][2]float64{{5000, 5000}}, true, [2]float64{3450, 3450}, 1, 0},
		{"five, one off", []string{"3000", "3200", "3200", "3000", "3140"}, [][2]float64{{0, 0}, {10000, 0}, {10000, 10000}, {0, 10000}, {5000, 5000}}, false, [2]float64{3008, 3208}, 1, 32},
		{"none", nil, nil, true, [2]float64{0, 0}, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newSheet()
			for i, v := range c.spots {
				s.text("A-ROOF-ELEV", v, c.at[i][0], c.at[i][1])
			}
			if c.outline {
				for _, l := range ring(-100, -100, 10100, 10100) {
					s.line("A-ROOF-DECK", orb.Point{l[0], l[1]}, orb.Point{l[2], l[3]})
				}
			}
			p := trace.Trace(&s.d, deckLayer, trace.Options{Storey: "1"})
			if len(p.Decks) != 1 {
				t.Fatalf("%d decks", len(p.Decks))
			}
			for i, x := range []float64{0, 10000} {
				if got := heightOn(p.Decks[0], x, 0); math.Abs(got-c.want[i]) > 0.01 {
					t.Errorf("%.3f mm at x %.0f, want %.0f", got, x, c.want[i])
				}
			}
			n := 0
			for _, e := range p.Exceptions {
				if e.Code == trace.CodeDeckFit {
					n++
					if math.Abs(e.Span.MM()-c.residual) > 0.01 || (e.Severity == plan.Warning) != (c.residual > 0) {
						t.Errorf("%s, residual %.3f, want %.0f", e.Severity, e.Span.MM(), c.residual)
					}
				}
			}
			if n != c.told || (codes(p)[trace.CodeDeck] == 1) != (len(c.spots) == 0) {
				t.Errorf("told %v", codes(p))
			}
			if !p.Ledger[0].Balanced() || p.Ledger[0].Used != p.Ledger[0].Read {
				t.Errorf("ledger %+v", p.Ledger[0])
			}
		})
	}
}

// Faces in space are decks, each with its own plane; an upright one is none.
// Oracle: the corners as drawn.
func TestTrace_faceDecks(t *testing.T) {
	s := newSheet()
	face := func(p ...[3]float64) {
		s.d.Others = append(s.d.Others, linework.Other{Common: s.common("A-ROOF-DECK", "3DFACE"), At: orb.Point{p[0][0], p[0][1]}, Points: p, Reason: "a 3D face"})
	}
	face([3]float64{0, 0, 3000}, [3]float64{6000, 0, 3000}, [3]float64{6000, 4000, 3500}, [3]float64{0, 4000, 3500})
	face([3]float64{0, 4000, 3500}, [3]float64{6000, 4000, 3500}, [3]float64{3000, 8000, 3000}, [3]float64{3000, 8000, 3000})
	face([3]float64{0, 0, 0}, [3]float64{6000, 0, 0}, [3]float64{6000, 0, 3000}, [3]float64{0, 0, 3000})
	p := trace.Trace(&s.d, deckLayer, trace.Options{Storey: "1"})
	if len(p.Decks) != 2 || len(p.Decks[0].Outline) != 4 || len(p.Decks[1].Outline) != 3 {
		t.Fatalf("decks: %+v", p.Decks)
	}
	for _, c := range [][4]float64{{0, 3000, 2000, 3250}, {1, 3000, 6000, 3250}, {1, 3000, 8000, 3000}} {
		if got := heightOn(p.Decks[int(c[0])], c[1], c[2]); math.Abs(got-c[3]) > 0.01 {
			t.Errorf("deck %.0f at (%.0f, %.0f): %.3f, want %.0f", c[0], c[1], c[2], got, c[3])
		}
	}
	if l := p.Ledger[0]; l.Read != 3 || l.Used != 2 || !l.Balanced() {
		t.Errorf("ledger %+v", l)
	}
}
