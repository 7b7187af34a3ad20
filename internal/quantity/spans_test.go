package quantity

import (
	"reflect"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/layout"
	"boardrun/internal/run"
)

func spans(xs ...float64) []span {
	var out []span
	for i := 0; i+1 < len(xs); i += 2 {
		out = append(out, span{in(xs[i]), in(xs[i+1])})
	}
	return out
}

// TestSpans: intervals that touch leave nothing between them. Oracle: the sets
// written out by hand.
func TestSpans(t *testing.T) {
	square := geom.Rect{Max: geom.Pt{X: in(10), Y: in(20)}}.Poly()
	u := geom.Poly{{}, {X: in(30)}, {X: in(30), Y: in(9)}, {X: in(20), Y: in(9)}, {X: in(20), Y: in(3)}, {X: in(10), Y: in(3)}, {X: in(10), Y: in(9)}, {Y: in(9)}}
	for _, c := range []struct {
		name      string
		got, want []span
	}{
		{"meet", meet(spans(0, 10, 20, 30), spans(5, 25)), spans(5, 10, 20, 25)},
		{"meet, touching", meet(spans(0, 10), spans(10, 20)), nil},
		{"meet, ends together", meet(spans(0, 10, 12, 14), spans(2, 10, 12, 13)), spans(2, 10, 12, 13)},
		{"without, middle", without(spans(0, 10), in(4), in(6)), spans(0, 4, 6, 10)},
		{"without, touching below", without(spans(4, 10), in(0), in(4)), spans(4, 10)},
		{"without, touching above", without(spans(4, 10), in(10), in(12)), spans(4, 10)},
		{"without, all", without(spans(4, 10), in(4), in(10)), nil},
		{"without, the first of three", without(spans(0, 1, 4, 10, 20, 30), in(0), in(1)), spans(4, 10, 20, 30)},
		{"crossings, inside", crossings(square, in(5)), spans(0, 20)},
		{"crossings, at the left side", crossings(square, 0), spans(0, 20)},
		{"crossings, at the right side", crossings(square, in(10)), nil},
		{"crossings, a trough", crossings(u, in(15)), spans(0, 3)},
		{"crossings, a leg", crossings(u, in(25)), spans(0, 9)},
	} {
		if !reflect.DeepEqual(c.got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
}

// TestBoard_edge: a screw just the least distance from a hole or a side has
// board around it, one step nearer has none. Oracle: the distance itself.
func TestBoard_edge(t *testing.T) {
	edge := in(0.375)
	hole := geom.Rect{Min: geom.Pt{X: in(20), Y: in(30)}, Max: geom.Pt{X: in(28), Y: in(40)}}
	cut := &layout.Piece{Face: &run.Face{}, Outline: geom.Rect{Max: geom.Pt{X: in(48), Y: in(96)}}.Poly(), Cutouts: []geom.Poly{hole.Poly()}}
	routed := &layout.Piece{Face: &run.Face{Holes: []run.Hole{{Rect: hole}}}, Outline: cut.Outline}
	round := &layout.Piece{Face: &run.Face{Holes: []run.Hole{{Rect: hole, Shape: hole.Poly()}}}, Outline: cut.Outline}
	whole, split := spans(0, 96), spans(0, 30, 40, 96)
	for _, c := range []struct {
		name string
		p    *layout.Piece
		u    Length
		want []span
	}{
		{"left of the cut-out", cut, in(20) - edge, whole}, {"nearer", cut, in(20) - edge + 1, split},
		{"right of it", cut, in(28) + edge, whole}, {"nearer", cut, in(28) + edge - 1, split},
		{"left of a routed hole", routed, in(20) - edge, whole}, {"nearer", routed, in(20) - edge + 1, split},
		{"right of it", routed, in(28) + edge, whole}, {"nearer", routed, in(28) + edge - 1, split},
		{"a shaped hole is in the outline", round, in(24), whole},
		{"at the side", cut, edge, whole}, {"nearer", cut, edge - 2, nil},
		{"at the other side", cut, in(48) - edge, whole}, {"nearer", cut, in(48) - edge + 2, nil},
	} {
		if got := board(c.p, c.u, edge); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestFeet: oracle: by hand. A sheet over a door stands on both sides of it;
// a duct above the floor takes nothing away.
func TestFeet(t *testing.T) {
	p := &layout.Piece{Face: &run.Face{Holes: []run.Hole{
		{Rect: geom.Rect{Min: geom.Pt{X: in(10)}, Max: geom.Pt{X: in(30), Y: in(80)}}},
		{Rect: geom.Rect{Min: geom.Pt{X: in(35), Y: in(90)}, Max: geom.Pt{X: in(40), Y: in(94)}}}}},
		Outline: geom.Rect{Max: geom.Pt{X: in(48), Y: in(96)}}.Poly()}
	if got := feet(p); !reflect.DeepEqual(got, spans(0, 10, 30, 48)) {
		t.Errorf("routed: %v", got)
	}
	notched := &layout.Piece{Face: &run.Face{}, Outline: geom.Poly{{}, {X: in(10)}, {X: in(10), Y: in(80)}, {X: in(30), Y: in(80)}, {X: in(30)}, {X: in(48)}, {X: in(48), Y: in(96)}, {Y: in(96)}}}
	if got := feet(notched); !reflect.DeepEqual(got, spans(0, 10, 30, 48)) {
		t.Errorf("notched: %v", got)
	}
}

// TestLine: oracle: n(f, s, T) = ceil((T − f)/s) + 1, written out.
func TestLine(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want []Length
	}{
		{"whole spacings", line(in(16), in(16), in(48)), inches(16, 32, 48)},
		{"half a spacing left", line(in(16), in(16), in(56)), inches(16, 32, 48, 56)},
		{"less: the one before shares it", line(in(16), in(16), in(54)), inches(16, 32, 43, 54)},
		{"two only: nothing to share", line(in(16), in(16), in(18)), inches(16, 18)},
		{"top at the first", line(in(16), in(16), in(16)), inches(16)},
		{"top under the first", line(in(16), in(16), in(1)), inches(1)},
		{"top at the floor", line(in(16), in(16), 0), []Length{}},
		{"top a spacing under the first", line(in(24), in(16), in(8)), []Length{}},
		{"row: 48 in at 16", row(0, in(48), in(16), in(0.375), false), inches(4, 4+40./3, 4+80./3, 44)},
		{"row: one in the middle", row(in(10), in(18), in(16), in(0.375), false), inches(14)},
		{"row: just wide enough", row(0, in(0.75), in(16), in(0.375), false), inches(0.375)},
		{"row: too narrow", row(0, in(0.75)-2, in(16), in(0.375), false), nil},
		{"row: metric", row(0, 1200*mm, 400*mm, 10*mm, true), []Length{100 * mm, 100*mm + 1000*mm/3, 100*mm + 2000*mm/3, 1100 * mm}},
		{"between: 38 in at 8", between(in(10), in(48), in(8)), []Length{in(10) + in(38)/5, in(10) + in(76)/5, in(10) + in(114)/5, in(10) + in(152)/5}},
		{"between: one spacing", between(0, in(8), in(8)), []Length{}},
	} {
		if len(c.got) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
			continue
		}
		for i := range c.got {
			if (c.got[i] - c.want[i]).Abs() > 2 {
				t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
				break
			}
		}
	}
	if TrackCount(0, in(16), false) != 0 || TrackCount(in(48), in(16), false) != 4 || TrackCount(in(48), in(12), false) != 5 || TrackCount(in(8), in(12), false) != 1 {
		t.Error("track rows of 0, 48 at 16, 48 at 12, 8 in")
	}
}

// TestSplitAt: oracle: the share of the height by hand: 30 of 40 in below.
func TestSplitAt(t *testing.T) {
	for _, c := range []struct {
		lo, hi, length, ceiling float64
		below, above            float64
	}{
		{60, 100, 40, 90, 30, 10}, {60, 100, 50, 90, 37.5, 12.5}, // the second leans
		{60, 100, 40, 100, 40, 0}, {60, 100, 40, 60, 0, 40}, {60, 100, 40, 0, 40, 0},
	} {
		got := splitAt(in(c.lo), in(c.hi), in(c.length), in(c.ceiling))
		if want := (split{in(c.below), in(c.above)}); got != want {
			t.Errorf("%+v: %v, want %v", c, got, want)
		}
	}
}
