package quantity

import (
	"sort"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/layout"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"

	"pgregory.net/rapid"
)

// randomWall draws a wall with a sloped deck, or under a ceiling, with a door
// or a window or neither, in one or two rows.
func randomWall(t *rapid.T) wall {
	eighth := func(lo, hi int, name string) Length {
		return Length(rapid.IntRange(lo*8, hi*8).Draw(t, name)) * (inch / 8)
	}
	w := wall{length: eighth(60, 400, "length"), spacing: in(16)}
	if rapid.Bool().Draw(t, "24 in studs") {
		w.spacing = in(24)
	}
	if rapid.Bool().Draw(t, "under a ceiling") {
		w.fixed = eighth(96, 132, "top")
	} else {
		w.deck = geom.Profile{{X: 0, Y: eighth(108, 220, "deck left")}, {X: w.length, Y: eighth(108, 220, "deck right")}}
		if w.deck.Min(0, w.length) > in(150) {
			w.breaks = inches(120.5)
		}
	}
	cols := func(name string) []Length {
		var js []Length
		k := rapid.IntRange(1, 3).Draw(t, name)
		for u := Length(k) * w.spacing; u < w.length; u += in(48) {
			js = append(js, u)
		}
		return js
	}
	w.a, w.b = cols("start a"), cols("start b")
	if w.length > in(100) && rapid.Bool().Draw(t, "opening") {
		h := hole{u0: eighth(20, 50, "jamb"), v0: in(0.5), kind: plan.Door}
		h.u1 = h.u0 + eighth(20, 40, "width")
		h.v1 = eighth(70, 90, "head")
		if rapid.Bool().Draw(t, "window") {
			h.v0, h.kind = eighth(20, 50, "sill"), plan.Window
		}
		w.holes = append(w.holes, h)
		apart := func(js []Length) (out []Length) {
			for _, j := range js { // joints beside a jamb are for the layout to avoid
				if (j-h.u0).Abs() > in(6) && (j-h.u1).Abs() > in(6) {
					out = append(out, j)
				}
			}
			return out
		}
		w.a, w.b = apart(w.a), apart(w.b)
	}
	if len(w.breaks) > 0 && rapid.Bool().Draw(t, "duct") {
		u, v := eighth(10, 40, "duct left"), eighth(125, 130, "duct bottom")
		w.holes = append(w.holes, hole{u0: u, u1: u + eighth(4, 30, "duct width"), v0: v, v1: v + in(12), kind: plan.Penetration, sealed: true})
	}
	return w
}

// TestScrews_properties: oracle: the rules themselves. No two screws of a line
// further apart than the pattern, first and last within one spacing of what
// holds the line there; none nearer than 3/8 in to a side of the piece or of a
// hole; none above the slip line.
func TestScrews_properties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := randomWall(t).build()
		if rapid.Bool().Draw(t, "field at 12 in") {
			b.job.Rules.ScrewField = in(12)
		}
		s := NewScrewer(b.job, Defaults(b.job.System))
		for i := range b.lay.Pieces {
			p := &b.lay.Pieces[i]
			pat, _ := s.Pattern(b.lay, p.Face, p.Ply)
			checkPiece(t, s.set, p, pat, s.Screws(b.lay, p))
		}
	})
}

func checkPiece(t *rapid.T, set *rules.Set, p *layout.Piece, pat Pattern, screws []Screw) {
	lines := map[int][]Screw{}
	for _, sc := range screws {
		if d := sideDistance(p, sc.At); d < set.EdgeDistance {
			t.Fatalf("%s: screw %s at %v, %v in is %v in from a side", p.ID, sc.Place, sc.At.X.Inches(), sc.At.Y.Inches(), d.Inches())
		}
		if p.Face.Head == run.Slip {
			if line := p.Face.Top.At(sc.At.X) - set.SlipLeg - set.SlipClear; sc.At.Y > line+inch/16 {
				t.Fatalf("%s: screw %s at %v in is above the slip line %v", p.ID, sc.Place, sc.At.Y.Inches(), line.Inches())
			}
		}
		if sc.Line >= 0 {
			lines[sc.Line] = append(lines[sc.Line], sc)
		}
	}
	if p.Outline.Bounds().W() >= in(6) && len(lines) == 0 {
		t.Fatalf("%s: no screws", p.ID)
	}
	for n, line := range lines {
		sort.Slice(line, func(i, k int) bool { return line[i].At.Y < line[k].At.Y })
		most := pat.Field
		for _, sc := range line {
			if sc.Place == PlaceEdge {
				most = pat.Edge
			}
		}
		checkEnds(t, set, p, n, line, most)
		for i := 1; i < len(line); i++ {
			gap := line[i].At.Y - line[i-1].At.Y
			if overHole(p, line[i-1].At, line[i].At) {
				continue
			}
			if gap > most {
				t.Fatalf("%s line %d: screws %v in apart, at most %v", p.ID, n, gap.Inches(), most.Inches())
			}
			if gap <= 0 {
				t.Fatalf("%s line %d: two screws at %v", p.ID, n, line[i].At.Y.Inches())
			}
		}
	}
}

// checkEnds: a line begins and stops no further than one spacing from what
// holds the board there: a track row, a joint's first screw, the slip line, a
// head or sill row.
func checkEnds(t *rapid.T, set *rules.Set, p *layout.Piece, n int, line []Screw, most Length) {
	first, last := line[0].At, line[len(line)-1].At
	board := crossings(p.Outline, first.X)
	low, top := board[0].lo, board[len(board)-1].hi
	if gap := first.Y - low; gap > most+in(0.5) && !overHole(p, geom.Pt{X: first.X, Y: low}, first) {
		t.Fatalf("%s line %d: first screw %v in above the board's lower edge", p.ID, n, gap.Inches())
	}
	free := most + in(0.5)
	if p.Face.Head == run.Slip && top > p.Face.Top.At(last.X)-in(0.5) {
		free = set.SlipLeg + set.SlipClear + in(0.01)
	}
	if gap := top - last.Y; gap > free && !overHole(p, last, geom.Pt{X: last.X, Y: top}) {
		t.Fatalf("%s line %d: last screw %v in below the board's upper edge, at most %v", p.ID, n, gap.Inches(), free.Inches())
	}
}

// overHole reports whether a hole lies between two screws of one line, or so
// near beside them that no board is left to screw.
func overHole(p *layout.Piece, a, b geom.Pt) bool {
	for i := range p.Face.Holes {
		r := p.Face.Holes[i].Rect
		if edge := in(0.375); a.X > r.Min.X-edge && a.X < r.Max.X+edge && a.Y <= r.Min.Y && b.Y >= r.Max.Y {
			return true
		}
	}
	return false
}

// sideDistance is the least distance from a point to the sides of the piece
// and of its holes, along u or v; the tops of these walls are near enough level
// for that. Negative outside.
func sideDistance(p *layout.Piece, at geom.Pt) Length {
	best := Length(1) << 40
	inside := false
	for _, c := range crossings(p.Outline, at.X) {
		if at.Y >= c.lo && at.Y <= c.hi {
			inside = true
			best = min(best, at.Y-c.lo, c.hi-at.Y)
		}
	}
	if !inside {
		return -1
	}
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%len(p.Outline)]
		if a.X == b.X && at.Y > min(a.Y, b.Y) && at.Y < max(a.Y, b.Y) {
			best = min(best, (at.X - a.X).Abs())
		}
	}
	for _, c := range p.Cutouts {
		r := c.Bounds()
		du := max(r.Min.X-at.X, at.X-r.Max.X)
		dv := max(r.Min.Y-at.Y, at.Y-r.Max.Y)
		best = min(best, max(du, dv))
	}
	return best
}

// TestTake_deterministic: oracle: the same input in another order gives the
// same result.
func TestTake_deterministic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := randomWall(t).build()
		in := b.input()
		for i := range b.lay.Pieces {
			in.Bought = append(in.Bought, Bought{Board: "5/8 X", Width: 48 * inch, Length: 144 * inch, Storey: "1", Count: 1, Pieces: []string{b.lay.Pieces[i].ID}})
		}
		one := Take(in)
		b.lay.Studs = rapid.Permutation(b.lay.Studs).Draw(t, "studs")
		in.Bought = rapid.Permutation(in.Bought).Draw(t, "bought")
		two := Take(in)
		if dump(one.Order) != dump(two.Order) || dump(one.Framing) != dump(two.Framing) || dump(one.Stocking) != dump(two.Stocking) || dump(one.Screws) != dump(two.Screws) {
			t.Fatalf("order matters:\n%s\n%s", dump(one.Order), dump(two.Order))
		}
		balance(t, one, len(in.Bought))
	})
}

// balance: what is stocked is what is ordered, and that is the sheets of the
// cut list and the allowance.
func balance(t *rapid.T, r *Result, sheets int) {
	ordered, spare, stocked := 0, 0, 0
	for _, o := range r.Order {
		if o.Item == ItemBoard {
			ordered += o.Count
			spare += o.Allowance
		}
	}
	for _, s := range r.Stocking {
		stocked += s.Count
	}
	if ordered != stocked || ordered-spare != sheets || ordered%2 != 0 {
		t.Fatalf("%d sheets, %d spare, ordered %d, stocked %d", sheets, spare, ordered, stocked)
	}
}
