package rules

import (
	"errors"
	"fmt"
	"strings"

	"boardrun/internal/measure"
)

// Listing is a published fire-rated wall whose fastening pattern is held here
// as data. A rated type names one; an unlisted rating is refused, not
// invented, and of two rules that both apply the stricter holds
// (ASTM C840 1.2.1).
type Listing struct {
	Name      string
	Rating    string
	StudDepth Length // least
	Mil       int    // least; "20 gauge" is taken as structural, 33 mil
	Spacing   Length // greatest
	Boards    []ListedBoard
	Base      Length // screw spacing of base plies, everywhere
	Edge      Length // face ply: at joints along the studs
	Field     Length // face ply: at studs between
	Track     Length // face ply: at floor and ceiling tracks
	Stagger   Length // joints staggered on opposite sides by this, at least
	Either    bool   // boards parallel or perpendicular to the studs
	Note      string
	Source    string
}

// ListedBoard is one ply of each side, base first.
type ListedBoard struct {
	Kind      string
	Thickness Length
}

var typeX58 = ListedBoard{"type X", 5 * eighth}
var typeX12 = ListedBoard{"type X", 4 * eighth}

// Listings is sorted by name.
var Listings = []Listing{
	{Name: "WP 1200", Rating: "1 h", StudDepth: 29 * eighth, Mil: 18, Spacing: 24 * measure.Inch,
		Boards: []ListedBoard{typeX58}, Edge: 8 * measure.Inch, Field: 12 * measure.Inch, Track: 12 * measure.Inch,
		Stagger: 24 * measure.Inch, Either: true,
		Note:   "1 in type S screws; 4-7/8 in thick; 6 psf",
		Source: "Gypsum Association fire design WP 1200 (generic), as held in a city's public record"},
	{Name: "WP 1201", Rating: "1 h", StudDepth: 20 * eighth, Mil: 33, Spacing: 16 * measure.Inch,
		Edge: 8 * measure.Inch, Field: 12 * measure.Inch, Track: 12 * measure.Inch, Stagger: 16 * measure.Inch,
		Note:   "proprietary: the board is the one the design names; take its name from there",
		Source: "Gypsum Association fire design WP 1201 (proprietary), as held in a city's public record"},
	{Name: "WP 1204", Rating: "1 h", StudDepth: 28 * eighth, Mil: 33, Spacing: 24 * measure.Inch,
		Boards: []ListedBoard{typeX12, typeX12}, Base: 12 * measure.Inch, Edge: 12 * measure.Inch, Field: 12 * measure.Inch,
		Track: 12 * measure.Inch, Stagger: 24 * measure.Inch,
		Note:   "type S-12 screws; studs fixed both sides top and bottom by weld or 1/2 in pan-head screws",
		Source: "Gypsum Association fire design WP 1204 (generic), as held in a city's public record"},
}

// ErrUnlisted is wrapped by the error of FindListing.
var ErrUnlisted = errors.New("unlisted fire design")

// FindListing returns the listing that a job or a drawing calls name: case,
// spaces, hyphens and a leading "GA" do not matter.
func FindListing(name string) (*Listing, error) {
	want := strings.TrimPrefix(squeeze(name), "ga")
	var names []string
	for i := range Listings {
		if squeeze(Listings[i].Name) == want {
			return &Listings[i], nil
		}
		names = append(names, Listings[i].Name)
	}
	return nil, fmt.Errorf("%w %q: the patterns held are %s; a pattern is never invented: board it by the design itself and give its screws under rules",
		ErrUnlisted, name, strings.Join(names, ", "))
}

func squeeze(s string) string {
	return strings.NewReplacer(" ", "", "-", "", "_", "", ".", "", "file", "", "no", "").Replace(strings.ToLower(s))
}

// Departs returns what of a make-up is not as the listing has it, one line
// each: a departure goes back to the architect.
func (l *Listing) Departs(studDepth Length, mil int, spacing Length, sides [2][]ListedBoard) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, l.Name+": "+fmt.Sprintf(format, args...)) }
	human := func(v Length) string { return measure.Human(v, measure.InchPound) }
	if studDepth < l.StudDepth-tolerance {
		say("studs at least %s deep, these are %s", human(l.StudDepth), human(studDepth))
	}
	if mil != 0 && mil < l.Mil {
		say("studs at least %d mil, these are %d", l.Mil, mil)
	}
	if spacing > l.Spacing {
		say("studs at most %s apart, these are %s", human(l.Spacing), human(spacing))
	}
	for i, side := range sides {
		if l.Boards == nil {
			break
		}
		if len(side) != len(l.Boards) {
			say("%d plies on each side, the %s side has %d", len(l.Boards), [2]string{"left", "right"}[i], len(side))
			continue
		}
		for n, b := range l.Boards {
			if (side[n].Thickness-b.Thickness).Abs() > tolerance || !strings.Contains(side[n].Kind, b.Kind) {
				say("ply %d of the %s side is %s %s; the design has %s %s (type C and type X may not replace one another)",
					n+1, [2]string{"left", "right"}[i], human(side[n].Thickness), side[n].Kind, human(b.Thickness), b.Kind)
			}
		}
	}
	return out
}

// Screws are the screw spacings of a face.
type Screws struct{ Edge, Field, Opening, Track Length }

// Spacings returns the screw spacings of one ply at that stud spacing. listing
// may be nil; base says that other plies cover this one. The stricter of the
// rules and the listing holds.
func (s *Set) Spacings(studs Length, listing *Listing, base bool) Screws {
	out := Screws{s.ScrewEdge, s.ScrewField, s.ScrewOpening, s.ScrewField}
	if studs > s.WideSpacing {
		out = Screws{min(s.ScrewEdge, s.ScrewWide), s.ScrewWide, min(s.ScrewOpening, s.ScrewWide), s.ScrewWide}
	}
	if listing == nil {
		return out
	}
	edge, field, track := listing.Edge, listing.Field, listing.Track
	if base && listing.Base > 0 {
		edge, field, track = listing.Base, listing.Base, listing.Base
	}
	return Screws{Stricter(out.Edge, edge), Stricter(out.Field, field), Stricter(out.Opening, edge), Stricter(out.Track, track)}
}

// Stricter returns the closer of two spacings; 0 is no rule.
// Source: ASTM C840 1.2.1.
func Stricter(a, b Length) Length {
	if a == 0 || b == 0 {
		return max(a, b)
	}
	return min(a, b)
}

// Verdict is how a distance stands to a pair of limits.
type Verdict uint8

// Verdicts.
const (
	Allowed Verdict = iota
	Warned          // allowed, listed, costs
	Refused
)

// Judge returns Refused below hard, Warned below warn. It serves joints at
// jamb lines, stems, rips and tops alike.
func Judge(d, hard, warn Length) Verdict {
	switch {
	case d < hard:
		return Refused
	case d < warn:
		return Warned
	}
	return Allowed
}
