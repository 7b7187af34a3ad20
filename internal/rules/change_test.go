package rules_test

import (
	"errors"
	"strings"
	"testing"

	"boardrun/internal/measure"
	. "boardrun/internal/rules"
)

var systems = []measure.System{measure.InchPound, measure.Metric}

func TestTable(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Table {
		if seen[r.ID] {
			t.Errorf("%s twice", r.ID)
		}
		seen[r.ID] = true
		if r.Text == "" || r.Source == "" || r.Group == "" {
			t.Errorf("%s: text, source or group missing", r.ID)
		}
		for _, sys := range systems {
			s := Default(sys)
			if got := r.Get(s); got != r.Default[sys] {
				t.Errorf("%s, %v: %d in the set, %d in the table", r.ID, sys, got, r.Default[sys])
			}
			if r.Fixed {
				continue
			}
			// Every default survives being written and read again.
			if err := s.Change(r.ID, r.Format(r.Default[sys], sys)); err != nil {
				t.Errorf("%s, %v: %v", r.ID, sys, err)
			}
			if r.Kind != Kilos && *s != *Default(sys) {
				t.Errorf("%s, %v: writing and reading the default changed the set", r.ID, sys)
			}
		}
	}
	for _, sys := range systems {
		if errs := Default(sys).Check(); len(errs) > 0 {
			t.Errorf("%v: defaults contradict: %v", sys, errs)
		}
	}
}

func TestChange(t *testing.T) {
	tests := []struct {
		name, id, value string
		sys             measure.System
		says            string // "" accepted
	}{
		// O-42: GA-216-2024 4.6.11, at least 1/4 in.
		{"O-42 floor gap below 1/4 in", "floor-gap", "3/16in", measure.InchPound, "least of 1/4in (GA-216"},
		{"floor gap at 1/4 in", "floor-gap", "1/4in", measure.InchPound, ""},
		{"floor gap below 6 mm", "floor-gap", "5mm", measure.Metric, "least of 6mm"},
		// Hand: track leg 1-1/4 − 5/8 = 5/8.
		{"floor gap at the track's limit", "floor-gap", "5/8in", measure.InchPound, ""},
		{"floor gap above the track's limit", "floor-gap", "3/4in", measure.InchPound, "track screw would miss"},
		{"fixed", "joint-on-stud", "no", measure.InchPound, "is fixed"},
		{"misspelt", "flor-gap", "1/2in", measure.InchPound, `did you mean "floor-gap"`},
		{"no near word", "colour", "red", measure.InchPound, "boardrun rules lists them"},
		{"no unit", "deck-gap", "1", measure.InchPound, "say the unit"},
		{"screws too far", "screw-field", "24in", measure.InchPound, "above the most"},
		{"warn below hard", "rip-warn", "4in", measure.InchPound, "below rip, which is 6 in"},
		{"screw off the board", "top-screw", "3/8in", measure.InchPound, ""},
		{"control joints, the other system's number", "control-joint", "30ft", measure.Metric, ""},
		{"count", "end-stagger", "2", measure.InchPound, ""},
		{"count of zero", "end-stagger", "0", measure.InchPound, "below the least"},
		{"not a count", "end-stagger", "1.5", measure.InchPound, "not a whole number"},
		{"per cent", "damage", "5 %", measure.InchPound, ""},
		{"negative", "damage", "-1", measure.InchPound, "not a number"},
		{"yes", "splice-tops", "no", measure.InchPound, ""},
		{"maybe", "splice-tops", "maybe", measure.InchPound, "yes or no"},
		{"mass", "lift-floor", "51lb", measure.InchPound, ""},
		{"mass without unit", "lift-floor", "51", measure.InchPound, "say the unit"},
		{"choice", "screw-counting", "c1", measure.InchPound, ""},
		{"no such choice", "screw-counting", "c2", measure.InchPound, "positions or C1"},
	}
	for _, tt := range tests {
		s := Default(tt.sys)
		err := s.Change(tt.id, tt.value)
		switch {
		case tt.says == "" && err != nil:
			t.Errorf("%s: %v", tt.name, err)
		case tt.says != "" && (err == nil || !strings.Contains(err.Error(), tt.says)):
			t.Errorf("%s: error %v, want %q", tt.name, err, tt.says)
		case tt.says != "" && *s != *Default(tt.sys):
			t.Errorf("%s: refused, yet the set changed", tt.name)
		}
	}
	if err := Default(measure.Metric).Change("nosuch", "1"); !errors.Is(err, ErrUnknown) {
		t.Errorf("error %v, want ErrUnknown", err)
	}
}

// Two rules that hang together are changed in either order.
func TestAssign_order(t *testing.T) {
	for _, order := range [][2]string{{"track-leg", "floor-gap"}, {"floor-gap", "track-leg"}} {
		s := Default(measure.InchPound)
		values := map[string]string{"track-leg": "2in", "floor-gap": "3/4in"}
		for _, id := range order {
			if err := s.Assign(id, values[id]); err != nil {
				t.Fatal(err)
			}
		}
		if errs := s.Check(); len(errs) > 0 {
			t.Errorf("%v: %v", order, errs)
		}
	}
}

func TestNearest(t *testing.T) {
	known := []string{"ceiling", "decks", "frames", "stock"}
	for word, want := range map[string]string{
		"celing": "ceiling", "decsk": "decks", "frame": "frames", "xyz": "", "stokc": "stock", "": "", strings.Repeat("x", 90): "",
	} {
		if got := Nearest(word, known); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", word, got, want)
		}
	}
}
