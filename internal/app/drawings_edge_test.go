package app

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/write"
)

// Sides that fit no page as they are, and names no typeface has: the booklet is
// whole, and told apart where it had to replace letters.
func TestPage_edges(t *testing.T) {
	job := func(deck string) string {
		return caseJob + "title: \"مرحبا שלום עולם 🐶 " + strings.Repeat("x", 480) + "\"\n" +
			"decks: [{storey: \"1\", level: " + deck + "}]\nstock: {5/8 type X: {sheets: {48in: [8ft, 10ft, 12ft]}}}\n"
	}
	door := plan.Opening{Kind: plan.Door, At: 880 * measure.Inch, Width: 38 * measure.Inch, Head: 341 * measure.Inch / 4, Mark: "🐶" + strings.Repeat("mark", 100), HeadBy: "attribute", Basis: "drawn"}
	for _, c := range []struct {
		name string
		wall caseWall
		say  []string // on the pages
	}{
		{"300 m long", caseWall{job: job("12ft"), length: 300 * measure.Metre, openings: []plan.Opening{door}}, []string{"part 2 of", "match line at", "hung this way"}},
		{"20 m high", caseWall{job: job("20m"), length: 20 * measure.Foot}, []string{"1-W001-L1", "slip line"}},
		{"20 m high and a strip wide", caseWall{job: job("20m"), length: 5 * measure.Foot}, []string{"1-W001-R1"}},
		{"100 m long and 20 m high", caseWall{job: job("20m"), length: 100 * measure.Metre}, []string{"part 3 of"}},
		{"40 mm long", caseWall{job: job("10ft"), length: 40 * measure.Millimetre}, []string{"No side of this job is boarded"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.wall.thick = 39 * measure.EighthInch
			all := strings.Join(pagesOf(t, c.wall.take(t)), "\n")
			for _, w := range append(c.say, "U+1F436", "question marks") {
				if !strings.Contains(spaced(all), w) {
					t.Errorf("%q is on no page", w)
				}
			}
		})
	}
}

// The samples' booklets: the same bytes twice, sound by qpdf, every piece and
// both heights of every top on the page of its side.
func TestPage_samples(t *testing.T) {
	for _, name := range []string{"vet-clinic", "library-wing"} {
		out := sample(t, name)
		var a, b bytes.Buffer
		if err := write.PDF(&a, out); err != nil {
			t.Fatal(err)
		}
		if err := write.PDF(&b, out); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: two writings of walls.pdf differ", name)
		}
		if _, err := exec.LookPath("qpdf"); err == nil {
			file := filepath.Join(t.TempDir(), "walls.pdf")
			if err := os.WriteFile(file, a.Bytes(), 0o666); err != nil {
				t.Fatal(err)
			}
			if msg, err := exec.Command("qpdf", "--check", file).CombinedOutput(); err != nil {
				t.Errorf("%s: qpdf --check: %v\n%s", name, err, msg)
			}
		} else {
			t.Log("qpdf is not installed: walls.pdf is not checked by it")
		}
		everyPieceOnItsPage(t, out)
	}
}
