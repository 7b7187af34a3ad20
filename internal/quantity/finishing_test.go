package quantity

import (
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/run"
)

// ended is a run of C-1's size whose faces end as given; stem is lower.
func ended(id string, ceiling, deck Length, ends map[string][2]run.FaceEnd) (*run.Run, *layout.Layout, *job.Job) {
	w := caseC1()
	w.ceiling, w.deck = ceiling, geom.Level(0, in(240), deck)
	b := w.build()
	b.run.ID = id
	for _, f := range b.run.Faces {
		f.ID = id + f.ID[len("1-W001"):]
		f.Ends = ends[f.ID]
	}
	b.lay.Joints = nil
	return b.run, b.lay, b.job
}

type faceEnds = map[string][2]run.FaceEnd

// TestCorners: oracle: hand count. An L has one inside and one outside corner,
// each told once though both faces name it; a tee two inside ones of the stem's
// height; a free end two outside; an end against structure one trim a side.
func TestCorners(t *testing.T) {
	full, stem := in(118.75), in(108.75)
	structure := run.FaceEnd{Kind: run.EndStructure}
	inside := func(face string) run.FaceEnd { return run.FaceEnd{Kind: run.EndInside, Face: face} }
	outside := func(face string) run.FaceEnd { return run.FaceEnd{Kind: run.EndOutside, Face: face} }
	free := run.FaceEnd{Kind: run.EndFree, Face: "A-E1"}
	for _, c := range []struct {
		name               string
		a, b               faceEnds
		deckB              Length
		ceiling            Length
		inside, bead, trim Length
	}{
		{"L", faceEnds{"A-L1": {structure, inside("B-R1")}, "A-R1": {outside("B-L1"), structure}},
			faceEnds{"B-R1": {inside("A-L1"), structure}, "B-L1": {structure, outside("A-R1")}}, in(120), 0, full, full, 4 * full},
		{"tee", faceEnds{"A-L1": {structure, structure}, "A-R1": {structure, structure}},
			faceEnds{"B-R1": {inside("A-L1"), structure}, "B-L1": {structure, inside("A-L1")}}, in(110), 0, 2 * stem, 0, 4*full + 2*stem},
		{"free end", faceEnds{"A-L1": {structure, free}, "A-R1": {free, structure}}, nil, in(120), 0, 0, 2 * full, 2*full + 4*full},
	} {
		ra, la, j := ended("A", c.ceiling, in(120), c.a)
		rb, lb, _ := ended("B", c.ceiling, c.deckB, c.b)
		res := Take(Input{Job: j, Runs: &run.Set{Runs: []*run.Run{ra, rb}}, Layouts: []*layout.Layout{la, lb}})
		for _, x := range []struct {
			item string
			want Length
		}{{ItemInside, c.inside}, {ItemBead, c.bead}, {ItemTrim, c.trim}} {
			if got := lengthOf(res.Finishing, x.item, ""); got != x.want {
				t.Errorf("%s: %s %v in, want %v", c.name, x.item, got.Inches(), x.want.Inches())
			}
		}
	}
}

// TestCorners_ceiling: oracle: hand sum. Under a ceiling at 9 ft a corner from
// 1/2 in to 119-1/4 is split: 107-1/2 exposed, 11-1/4 above.
func TestCorners_ceiling(t *testing.T) {
	r, l, j := ended("A", in(108), in(120), faceEnds{"A-L1": {{Kind: run.EndInside, Face: "X"}, {Kind: run.EndOutside, Face: "X"}}})
	res := Take(Input{Job: j, Runs: &run.Set{Runs: []*run.Run{r}}, Layouts: []*layout.Layout{l}})
	for _, c := range []struct {
		item, spec string
		want       Length
	}{{ItemInside, SpecExposed, in(107.5)}, {ItemInside, SpecAbove, in(11.25)}, {ItemBead, SpecExposed, in(107.5)}, {ItemOutside, SpecAbove, in(11.25)}} {
		if got := lengthOf(res.Finishing, c.item, c.spec); got != c.want {
			t.Errorf("%s %s: %v in, want %v", c.item, c.spec, got.Inches(), c.want.Inches())
		}
	}
}

// TestCompound: oracle: published rates of 5 to 11 gal per 1000 sf: C-1 at
// level 4 lies between them; a level 0 wall takes none.
func TestCompound(t *testing.T) {
	litres := func(w wall) (n float64) {
		for _, f := range w.build().take().Finishing {
			if f.Item == ItemCompound {
				n += f.Litres
			}
		}
		return n
	}
	w := caseC1()
	w.ceiling = 0
	gal := litres(w) / litresPerGallon / (2 * 240 * 118.75 / 144) * 1000
	if gal < compoundRateText || gal > compoundRateHigh {
		t.Errorf("%.1f gal per 1000 sf, published 5 to 11", gal)
	}
	if l5 := func() float64 { w.finish = 5; return litres(w) }(); l5 <= gal {
		t.Error("level 5 takes a skim coat")
	}
}

// TestJoints_ceiling: oracle: hand sum. Under a ceiling at 9 ft each of C-1's
// four joints on side A has 107-1/2 in to finish and 11-1/4 to fire-tape; C-5's
// horizontal joint is hidden as the layout says.
func TestJoints_ceiling(t *testing.T) {
	w := caseC1()
	w.ceiling = in(108)
	res := w.build().one(run.Right).take()
	if a, b := lengthOf(res.Finishing, "tapered joint", SpecExposed), lengthOf(res.Finishing, "tapered joint", SpecAbove); a != in(430) || b != in(45) {
		t.Errorf("exposed %v, above %v, want 430 and 45", a.Inches(), b.Inches())
	}
	w = caseC5()
	w.ceiling = in(108)
	b := w.build().one(run.Right)
	for i := range b.lay.Joints {
		if j := &b.lay.Joints[i]; j.From.Y == j.To.Y {
			j.Exposed = false
		}
	}
	res = b.take()
	if got := lengthOf(res.Finishing, "butt joint", SpecAbove); got != in(240) {
		t.Errorf("horizontal joint above the ceiling: %v in, want 240", got.Inches())
	}
	// Low joints 4 × 120; of the tops 89.75 + 90.75 + 91.75 + 92.75; level 240.
	if got := lengthOf(res.Finishing, ItemTape, ""); got != in(480+365+240) {
		t.Errorf("tape %v in, want 1085", got.Inches())
	}
}
