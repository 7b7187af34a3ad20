package app

import (
	"bytes"
	"os/exec"
	"strings"
	"testing"

	"boardrun/internal/report"
	"boardrun/internal/write"
)

// The letter of a sample says what the takeoff says: sum, exclusions and every
// question. Oracle: takeoff.json, and pdftotext's reading of the page.
func TestScope_samples(t *testing.T) {
	for _, name := range []string{"vet-clinic", "library-wing"} {
		out := sample(t, name)
		s := report.NewDraft(out).Scope()
		var a, b bytes.Buffer
		if err := write.Scope(&a, out); err != nil {
			t.Fatal(err)
		}
		if err := write.Scope(&b, out); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: two writings of scope.pdf differ (%v)", name, err)
		}
		if _, err := exec.LookPath("pdftotext"); err != nil {
			t.Skip("pdftotext is not installed: scope.pdf is not read back")
		}
		text := spaced(strings.Join(textOf(t, "scope.pdf", out, write.Scope), " "))
		if (out.Cost != nil) != strings.Contains(text, "For the sum of") || s.Sum != "" && !strings.Contains(text, s.Sum) {
			t.Errorf("%s: the sum %q is not on the page", name, s.Sum)
		}
		for _, list := range [][]string{s.Excluded, s.Included, s.Rests} {
			for _, want := range list {
				if !strings.Contains(text, spaced(want)) {
					t.Errorf("%s: %q is not on the page", name, want)
				}
			}
		}
		if len(s.Questions) == 0 {
			t.Errorf("%s asks nothing", name)
		}
		for _, q := range s.Questions {
			if q.Storey == "" {
				t.Errorf("%s: %q has no storey, so no plan", name, q.Text)
			}
			if words := strings.Fields(q.Text); !strings.Contains(text, strings.Join(words[:4], " ")) {
				t.Errorf("%s: %q is not asked on the page", name, q.Text)
			}
		}
	}
}
