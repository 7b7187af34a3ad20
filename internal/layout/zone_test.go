package layout

import (
	"math/rand/v2"
	"strings"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// zoned lays out a sketch whose left side has wet board over [from, to].
func zoned(t *testing.T, s sketch, from, to Length) Layout {
	t.Helper()
	r, env := s.run()
	wet := *s.board
	wet.Name = "5/8 wet"
	known := env.Boards
	env.Boards = func(name string) *job.Board {
		if name == wet.Name {
			return &wet
		}
		return known(name)
	}
	f := r.Faces[0]
	for i := range f.Plies {
		f.Plies[i].Zones = []run.Zone{{Board: wet.Name, Rect: geom.Rect{
			Min: geom.Pt{X: from, Y: f.Bottom}, Max: geom.Pt{X: to, Y: f.Top.Max(0, f.Length)}}}}
	}
	env.Effort, env.Most = Quick, 2
	return Solve(r, env)[0]
}

// wetFrom returns the extent of the wet pieces of the left side, in u.
func wetFrom(l Layout, ply int) (lo, hi Length) {
	lo, hi = maxLength, minLength
	for _, p := range ofSide(l, run.Left) {
		if b := p.Outline.Bounds(); p.Ply == ply && p.Board == "5/8 wet" {
			lo, hi = min(lo, b.Min.X), max(hi, b.Max.X)
		}
	}
	return lo, hi
}

// A zone along part of the length: the board changes exactly there, on a stud,
// and no other joint shares it. Oracle: the zone's own ends.
func TestSolve_zoneAlong(t *testing.T) {
	for _, ends := range [][2]Length{{0, 100 * in}, {100 * in, 240 * in}, {77 * in, 183 * in}, {60 * in, 61 * in}} {
		for _, plies := range []int{1, 2} {
			l := zoned(t, sketch{length: 240 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(), plies: plies}, ends[0], ends[1])
			if msg := faults(&l, rules.Default(0)); msg != "" {
				t.Errorf("%v, %d plies: %s", ends, plies, msg)
			}
			if lo, hi := wetFrom(l, plies); lo != ends[0] || hi != ends[1] {
				t.Errorf("%v, %d plies: wet board from %v to %v in; %v", ends, plies, lo.Inches(), hi.Inches(), l.Exceptions)
			}
			if z := l.Faces[0].Zones[0]; len(z) != 1 || z[0].Rect.Min.X != ends[0] || z[0].Rect.Max.X != ends[1] {
				t.Errorf("%v: told zones %v", ends, z)
			}
		}
	}
}

// A zone that ends in the band of a door's jamb grows out of it: listed, and the
// rest stands. Oracle: the band of 6 in, US Navy NAVEDTRA 14044.
func TestSolve_zoneEndNearOpening(t *testing.T) {
	s := sketch{length: 240 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(),
		openings: []run.Opening{door(100*in, 140*in, 84*in)}}
	// The left side counts u from the other end: the door is at u 100 to 140.
	l := zoned(t, s, 0, 97*in)
	if msg := faults(&l, rules.Default(0)); msg != "" {
		t.Error(msg)
	}
	if _, hi := wetFrom(l, 1); hi != 106*in {
		t.Errorf("wet board to %v in, want 106", hi.Inches())
	}
	if !says(l, codeZone, plan.Warning, "goes on to") {
		t.Errorf("nothing said: %v", l.Exceptions)
	}
}

// Boarded as framed, the zone grows to the next stud. Oracle: studs at 4 + 16k in.
func TestSolve_zoneAsFramed(t *testing.T) {
	s := sketch{length: 240 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(), oneSided: true,
		edit: func(r *run.Run, _ *rules.Set) { r.Framing, r.FirstStud = job.BoardAsFramed, 4*in }}
	l := zoned(t, s, 0, 100*in) // u 100 is station 140: the next stud out is at 132, u 108
	if _, hi := wetFrom(l, 1); hi != 108*in {
		t.Errorf("wet board to %v in, want 108; %v", hi.Inches(), l.Exceptions)
	}
	if l.Cost.Added != 0 {
		t.Errorf("%d studs added", l.Cost.Added)
	}
}

func says(l Layout, code string, sev plan.Severity, part string) bool {
	for _, e := range l.Exceptions {
		if e.Code == code && e.Severity == sev && (strings.Contains(e.Message, part) || strings.Contains(e.Did, part)) {
			return true
		}
	}
	return false
}

// Random walls with random zones: every ply tiles, joints keep to the rules or
// are listed.
func TestSolve_zonesRandom(t *testing.T) {
	for seed := range uint64(60) {
		rng := rand.New(rand.NewPCG(seed, 12))
		s := randomSketch(rng)
		a := Length(rng.Int64N(int64(s.length/in))) * in
		b := a + Length(1+rng.Int64N(200))*in
		l := zoned(t, s, a, min(b, s.length))
		if msg := faults(&l, rules.Default(0)); msg != "" {
			t.Errorf("seed %d: %s\n%v", seed, msg, l.Exceptions)
		}
	}
}
