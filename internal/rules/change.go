package rules

import (
	"errors"
	"fmt"

	"boardrun/internal/measure"
)

// Convention is a way to count screws.
type Convention uint8

// Ways to count screws.
const (
	Positions Convention = iota // every screw has a position: the rules of this table
	C1                          // rows 3/8 in inside both ends of every line
)

// Default returns the rules of a job that changed nothing.
func Default(sys measure.System) *Set {
	s := &Set{System: sys}
	for i := range Table {
		Table[i].put(s, Table[i].Default[sys])
	}
	return s
}

// Lookup returns the rule of that id, nil if there is none.
func Lookup(id string) *Rule {
	for i := range Table {
		if Table[i].ID == id {
			return &Table[i]
		}
	}
	return nil
}

// ErrUnknown is wrapped by the error of Change for an id that is not in Table.
var ErrUnknown = errors.New("unknown rule")

// Change sets one rule as a job writes it. It refuses an unknown id (with the
// nearest known one), a fixed rule, a value that cannot be read and one beyond
// the rule's limits or that contradicts another rule; s is then unchanged.
// To change several rules that hang together, use Assign and then Check.
func (s *Set) Change(id, value string) error {
	old := *s
	if err := s.Assign(id, value); err != nil {
		return err
	}
	if errs := s.Check(); len(errs) > 0 {
		*s = old
		return errs[0]
	}
	return nil
}

// Assign is Change without the check of one rule against another.
func (s *Set) Assign(id, value string) error {
	r := Lookup(id)
	if r == nil {
		if near := Nearest(id, ids()); near != "" {
			return fmt.Errorf("%w %q: did you mean %q?", ErrUnknown, id, near)
		}
		return fmt.Errorf("%w %q: boardrun rules lists them", ErrUnknown, id)
	}
	if r.Fixed {
		return fmt.Errorf("%s is fixed: %s (%s)", id, r.Text, r.Source)
	}
	v, err := r.parse(value, s.System)
	if err != nil {
		return fmt.Errorf("%s: %w", id, err)
	}
	if err := r.within(v, s.System); err != nil {
		return err
	}
	r.put(s, v)
	return nil
}

func (r *Rule) within(v Value, sys measure.System) error {
	least, most := r.Min[sys], r.Max[sys]
	// A job may write a limit in the other system of units: 9.1 m and 30 ft
	// are the same rule.
	other := 1 - sys
	if r.Kind == Measure && (v == r.Min[other] || v == r.Max[other]) {
		return nil
	}
	switch {
	case v < least:
		return fmt.Errorf("%s: %s is below the least of %s (%s)", r.ID, r.Format(v, sys), r.Format(least, sys), r.Source)
	case most > 0 && v > most:
		return fmt.Errorf("%s: %s is above the most of %s (%s)", r.ID, r.Format(v, sys), r.Format(most, sys), r.Source)
	}
	return nil
}

// TrackScrew is the height of the track's leg that the lowest screw needs
// above the board's bottom edge: 3/8 in of board and 1/4 in of steel.
// Source: common practice, none published; the 3/8 in is the least edge
// distance of maker guides.
func TrackScrew(sys measure.System) Length {
	if sys == measure.Metric {
		return 15 * measure.Millimetre
	}
	return 5 * measure.EighthInch
}

// Check returns one error for each pair of rules that contradict one another,
// in the order of Table.
func (s *Set) Check() []error {
	var errs []error
	human := func(l Length) string { return measure.Human(l, s.System) }
	if most := s.TrackLeg - TrackScrew(s.System); s.FloorGap > most {
		errs = append(errs, fmt.Errorf("floor-gap: %s is above %s, the track leg of %s less %s: the track screw would miss the steel; take a track with longer legs (track-leg) or a smaller gap",
			human(s.FloorGap), human(most), human(s.TrackLeg), human(TrackScrew(s.System))))
	}
	for _, p := range []struct {
		id         string
		hard, warn Length
	}{
		{"jamb-band", s.JambBandHard, s.JambBandWarn}, {"stem", s.StemHard, s.StemWarn},
		{"rip", s.RipHard, s.RipWarn}, {"top", s.TopHard, s.TopWarn},
	} {
		if p.warn < p.hard {
			errs = append(errs, fmt.Errorf("%s-warn: %s is below %s, which is %s", p.id, human(p.warn), p.id, human(p.hard)))
		}
	}
	if s.TopScrew < s.EdgeDistance {
		errs = append(errs, fmt.Errorf("top-screw: %s is nearer to the edge than edge-distance, %s", human(s.TopScrew), human(s.EdgeDistance)))
	}
	return errs
}

func ids() []string {
	out := make([]string, 0, len(Table))
	for i := range Table {
		out = append(out, Table[i].ID)
	}
	return out
}
