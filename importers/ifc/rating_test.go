package ifc

import "testing"

// Oracle: the words by hand; the first stands in models of a template.
func TestRatingOf(t *testing.T) {
	for s, want := range map[string]string{
		"_FIRE-RATING_": "", "<Undefined>": "", "n/a": "", "-": "", "": "", " NOTDEFINED ": "",
		"EI 60": "EI 60", " 1 hr": "1 hr", "F30": "F30", "one hour": "one hour", "REI-90": "REI-90",
	} {
		if got := ratingOf(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}
