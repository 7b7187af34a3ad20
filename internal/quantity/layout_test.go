package quantity

import (
	"math"
	"testing"

	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/run"

	"pgregory.net/rapid"
)

// solve lets the layout choose joints and studs for a wall.
func (w wall) solve() (*built, bool) {
	b := w.build()
	b.job.Rules.FitSlack = 0
	lengths := inches(96, 120, 144)
	width := in(48)
	if w.turned {
		width = in(54)
	}
	if w.sys == measure.Metric {
		lengths, width = []Length{3000 * mm}, 1200*mm
	}
	b.job.Boards[0].Sheets = append(b.job.Boards[0].Sheets, sheetSize(width, lengths))
	b.run.Fixed = []run.Fixed{{Station: 0, Kind: "end"}, {Station: b.run.Length, Kind: "end"}}
	for i := range b.run.Openings {
		if o := &b.run.Openings[i]; o.Sill <= in(0.5) {
			o.Sill = 0
		}
	}
	all := layout.Solve(b.run, layout.Env{Rules: b.job.Rules, Boards: b.job.Board})
	if len(all) == 0 {
		return b, false
	}
	b.lay = &all[0]
	return b, true
}

// TestLayouts_cases: the counts of the worked cases again, from layouts that
// were chosen and not drawn by hand. Oracle: cases C-1, C-2 and C-8.
func TestLayouts_cases(t *testing.T) {
	b, ok := caseC1().solve()
	if !ok {
		t.Fatal("C-1: no layout")
	}
	res := b.take()
	sums := map[string]int{}
	for _, s := range res.Screws {
		sums[s.Face] += s.Count
	}
	if a, c := sums["1-W001-R1"], sums["1-W001-L1"]; a+c != 413 || min(a, c) != 200 {
		t.Errorf("C-1: screws %v, want 200 and 213", sums)
	}
	if n := countOf(res.Framing, ItemStud, ""); n != 16 {
		t.Errorf("C-1: %d studs, want 16", n)
	}
	if got := lengthOf(res.Finishing, "tapered joint", "").Feet(); math.Abs(got-89.0625) > 1e-6 {
		t.Errorf("C-1: flat joints %v lf, want 39.6 + 49.5", got)
	}

	b, _ = caseC2().solve()
	res = b.take()
	if n := countOf(res.Framing, ItemStud, ""); n != 17 {
		t.Errorf("C-2: %d studs, want 15 and 2 cripples: %v", n, res.Studs)
	}
	if got := lengthOf(res.Framing, ItemTrack, ""); got != in(154) {
		t.Errorf("C-2: bottom track %v in, want 154", got.Inches())
	}

	b, _ = caseC8().solve()
	if got := lengthOf(b.take().Sealant, "", ""); got != 0 {
		t.Error("no item has no name")
	}
	if got := lengthOf(b.take().Sealant, ItemAcoustic, "penetration"); got != in(156) {
		t.Errorf("C-8: %v in of seal, want 156", got.Inches())
	}
}

// TestLayouts_screws holds the properties of screws on chosen layouts.
func TestLayouts_screws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, ok := randomWall(t).solve()
		if !ok {
			return
		}
		s := NewScrewer(b.job, Defaults(b.job.System))
		for i := range b.lay.Pieces {
			p := &b.lay.Pieces[i]
			pat, _ := s.Pattern(b.lay, p.Face, p.Ply)
			checkPiece(t, s.set, p, pat, s.Screws(b.lay, p))
		}
	})
}
