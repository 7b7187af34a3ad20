package layout

import (
	"math/rand/v2"
	"strings"
	"testing"

	"boardrun/internal/job"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

func byListing(name string) func(*run.Run, *rules.Set) {
	return func(r *run.Run, _ *rules.Set) { r.Listing, r.Rating = name, "1 h" }
}

// gaps returns the least distance between upright joints of neighbouring plies
// and between horizontal ones, control joints and excused ones left out.
func gaps(l *Layout) (upright, level Length) {
	upright, level = maxLength, maxLength
	for _, a := range l.Joints {
		for _, b := range l.Joints {
			if depth(b) != depth(a)+1 || a.Kind == ControlJoint || b.Kind == ControlJoint {
				continue
			}
			switch {
			case a.From.X == a.To.X && b.From.X == b.To.X:
				upright = min(upright, (a.Face.Station(a.From.X) - b.Face.Station(b.From.X)).Abs())
			case a.From.Y == a.To.Y && b.From.Y == b.To.Y:
				level = min(level, (a.From.Y - b.From.Y).Abs())
			}
		}
	}
	return upright, level
}

// Oracle: Gypsum Association fire designs WP 1200 (joints staggered 24 in on
// opposite sides, in the older edition horizontal ones too), WP 1201 (16 in),
// WP 1204 (24 in each layer and side), as held in a city's public record.
func TestSolve_listedStagger(t *testing.T) {
	half := stock("1/2 type X", inch(0.5), 48*in, 96*in, 120*in, 144*in)
	for name, tt := range map[string]struct {
		sketch
		least Length
	}{
		"WP 1200":                 {sketch{spacing: 24 * in, board: fourFoot()}, 24 * in},
		"WP 1200 on closer studs": {sketch{spacing: 16 * in, board: fourFoot()}, 24 * in},
		"WP 1201":                 {sketch{spacing: 16 * in, board: fourFoot()}, 16 * in},
		"WP 1204":                 {sketch{spacing: 24 * in, board: half, plies: 2}, 24 * in},
	} {
		for _, high := range []Length{120 * in, 168 * in, 190 * in} {
			s := tt.sketch
			s.length, s.deck, s.edit = 20*12*in, level(high), byListing(name[:7])
			l := s.best(t)
			if l.Status == "infeasible" {
				t.Errorf("%s, %v in: %v", name, high.Inches(), l.Exceptions)
			}
			upright, across := gaps(&l)
			if upright < tt.least || across < tt.least {
				t.Errorf("%s, %v in high: upright joints %v in apart, horizontal ones %v in; want %v", name, high.Inches(), upright.Inches(), across.Inches(), tt.least.Inches())
			}
			if msg := faults(&l, rules.Default(s.system)); msg != "" {
				t.Errorf("%s: %s", name, msg)
			}
		}
	}
}

// Random rated walls: the stagger holds or a person is asked.
func TestSolve_listedRandom(t *testing.T) {
	for seed := range uint64(60) {
		s := randomSketch(rand.New(rand.NewPCG(seed, 11)))
		s.plies, s.edit = 1, byListing("WP 1200")
		r, env := s.run()
		env.Most, env.Effort = 2, Quick
		for _, l := range Solve(r, env) {
			if msg := faults(&l, env.Rules); msg != "" {
				t.Errorf("seed %d: %s", seed, msg)
			}
			upright, across := gaps(&l)
			if (upright < 24*in || across < 24*in) && l.Status != "infeasible" {
				t.Errorf("seed %d: joints %v and %v in apart, status %s", seed, upright.Inches(), across.Inches(), l.Status)
			}
			for _, p := range l.Pieces {
				if p.Role == Leg {
					t.Errorf("seed %d: a leg in a rated wall", seed)
				}
			}
		}
	}
}

// A spec may ask for staggered tops without a rating.
func TestSolve_topStagger(t *testing.T) {
	s := sketch{length: 240 * in, spacing: 16 * in, deck: level(170 * in), board: fourFoot(),
		edit: func(_ *run.Run, set *rules.Set) { set.TopStagger = 24 * in }}
	l := s.best(t)
	if _, across := gaps(&l); across < 24*in || across == maxLength || l.Status == "infeasible" {
		t.Errorf("horizontal joints %v in apart, %s", across.Inches(), l.Status)
	}
	// One length that leaves no second height: a sheet is cut short.
	s.board = stock("4x10", inch(0.625), 48*in, 120*in)
	l = s.best(t)
	if _, across := gaps(&l); across < 24*in || across == maxLength {
		t.Errorf("one length: horizontal joints %v in apart; %v", across.Inches(), l.Exceptions)
	}
}

// An unlisted rating is refused, never invented: both sides are listed with the
// reason and what to do, the studs stay.
func TestSolve_unlisted(t *testing.T) {
	for name, edit := range map[string]func(*run.Run, *rules.Set){
		"unlisted design": byListing("XX 9"),
		"no design named": func(r *run.Run, _ *rules.Set) {
			r.Rating, r.Make = "2 h", &job.WallType{Rating: "2 h", Unlisted: "a rating wants the listed design"}
		},
	} {
		l := sketch{length: 240 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(), edit: edit}.best(t)
		if len(l.Pieces) != 0 || len(l.Studs) < 16 || l.Status != "infeasible" {
			t.Errorf("%s: %d pieces, %d studs, %s", name, len(l.Pieces), len(l.Studs), l.Status)
		}
		sides := 0
		for _, e := range l.Exceptions {
			if e.Code == codeNoLayout && e.Severity == plan.Person && strings.Contains(e.Message, "design") && strings.Contains(e.Did, "listing: none") {
				sides++
			}
		}
		if sides != 2 {
			t.Errorf("%s: %v", name, l.Exceptions)
		}
	}
}

// WP 1201 and 1204 have their boards along the studs; WP 1200 either way.
func TestSolve_listedAlong(t *testing.T) {
	for name, lies := range map[string]bool{"WP 1200": true, "WP 1201": false} {
		s := sketch{length: 240 * in, spacing: 16 * in, deck: level(96 * in), fixedTop: true, board: fourFoot(),
			edit: func(r *run.Run, set *rules.Set) { lying(r, set); byListing(name)(r, set) }}
		l := s.best(t)
		said := false
		for _, e := range l.Exceptions {
			said = said || e.Code == codeListing
		}
		if l.Faces[0].Ends != lies || said == lies {
			t.Errorf("%s: courses %v, %v", name, l.Faces[0].Ends, l.Exceptions)
		}
		if upright, across := gaps(&l); lies && (upright < 24*in || across < 24*in) {
			t.Errorf("%s: ends %v in apart, courses %v in", name, upright.Inches(), across.Inches())
		}
		if msg := faults(&l, rules.Default(s.system)); msg != "" {
			t.Errorf("%s: %s", name, msg)
		}
	}
}

// Whatever the stock, something comes back, and what no sheet covers is listed.
func TestSolve_stockTooShort(t *testing.T) {
	for _, splice := range []bool{false, true} {
		l := sketch{length: 96 * in, spacing: 16 * in, deck: level(240 * in), board: stock("4x4", inch(0.625), 48*in, 48*in),
			edit: func(_ *run.Run, set *rules.Set) { set.SpliceTops = splice }}.best(t)
		if got := says(l, codeTooHigh, plan.Person, "longest sheet"); got == splice || len(l.Pieces) == 0 {
			t.Errorf("splicing %v: %d pieces, %v", splice, len(l.Pieces), l.Exceptions)
		}
	}
}
