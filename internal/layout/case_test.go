package layout

import (
	"fmt"
	"math"
	"testing"

	"boardrun/internal/measure"
	"boardrun/internal/run"
)

// The worked cases: numbers computed by hand from the rules.

// Oracle for all: hand sums.
func TestCase_plainWall(t *testing.T) {
	l := sketch{length: 240 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot()}.best(t)
	same(t, "A", stationsOf(l, run.Left, 1, in), "48 96 144 192")
	same(t, "B", stationsOf(l, run.Right, 1, in), "32 80 128 176 224")
	near(t, "sf", squareFeet(l.Pieces), 395.8, 0.05)
	// 5 + 5 sheets of 40 sf: B's 32 and 16 in rips share one.
	same(t, "sheets", l.Cost.Area, measure.Times(48*in, 120*in)*10)
	near(t, "A lf", jointFeet(l, run.Left, true), 39.6, 0.05)
	near(t, "B lf", jointFeet(l, run.Right, true), 49.5, 0.05)
	studs(t, l, FieldStud, 16, inch(119.25))
	for _, j := range l.Joints {
		same(t, "kind", j.Kind, TaperedJoint)
	}
	for _, p := range l.Pieces {
		near(t, "height", p.Heights[0].Y.Inches(), 118.75, 0)
	}
}

func same[T comparable](t *testing.T, what string, got, want T) {
	t.Helper()
	if got != want {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func near(t *testing.T, what string, got, want, slack float64) {
	t.Helper()
	if math.Abs(got-want) > slack+1e-9 {
		t.Errorf("%s: got %.4f, want %.4f", what, got, want)
	}
}

// jointFeet adds up the joints of a side, along the studs or across them.
func jointFeet(l Layout, side run.Side, along bool) float64 {
	var sum Length
	for _, j := range l.Joints {
		if j.Face.Side == side && (j.From.X == j.To.X) == along {
			sum += j.To.X - j.From.X + j.To.Y - j.From.Y
		}
	}
	return sum.Feet()
}

// studs checks how many studs of a kind there are and, unless length is 0,
// how long they all are.
func studs(t *testing.T, l Layout, kind StudKind, count int, length Length) {
	t.Helper()
	n := 0
	for _, s := range l.Studs {
		if s.Kind != kind {
			continue
		}
		n++
		if length != 0 && s.Length != length {
			t.Errorf("%v stud %s is %v in, want %v", kind, s.ID, s.Length.Inches(), length.Inches())
		}
	}
	same(t, fmt.Sprint(kind, " studs"), n, count)
}
