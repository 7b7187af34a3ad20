package report

import (
	"math"
	"testing"

	"boardrun/internal/measure"
)

// A drop of 5/8 in type X, 13 sheets 4 by 12 ft and 4 of 54 in by 14 ft, on a
// floor that takes 40 psf.
// Source: 2.2 psf of board and 105.6 lb a 4 by 12 sheet, project manual and
// course notes (standards WT-4); a stack of n sheets is n times 2.2 psf, so 18 fit
// under 40 psf, an even number because board is bundled in pairs.
func TestDrops_byHand(t *testing.T) {
	lb := func(x float64) Kg { return Kg(x * measure.KgPerPound) }
	tk := &Takeoff{Job: JobInfo{System: "inch-pound", Delivery: &Delivery{FloorKPa: 40 * measure.KPaPerPsf}}}
	tk.Order = []Item{
		{Item: "board", Spec: "5/8 type X", WidthMM: 1219.2, LengthMM: 3657.6, Count: 12, Allowance: 1, MassKg: lb(13 * 105.6), Storey: "2"},
		{Item: "board", Spec: "5/8 type X", WidthMM: 1371.6, LengthMM: 4267.2, Count: 4, MassKg: lb(4 * 4.5 * 14 * 2.2), Storey: "2", Special: true, Note: "special order"},
		{Item: "stud", Spec: "362S125-18", LengthMM: 3657.6, Count: 30, Storey: "2"},
	}
	p := newPaper(tk)
	tabs := p.drops()
	if len(tabs) != 1 || tabs[0].Name != "Drop 2" {
		t.Fatalf("%d pages", len(tabs))
	}
	b := tabs[0].Blocks[0]
	at := map[string]int{}
	for i, c := range b.Columns {
		at[c.Key] = i
	}
	for r, want := range []map[string]float64{
		{"sheets": 13, "pairs": 6, "odd": 1, "each": 105.6, "mass": 1372.8, "one": 2.2, "load": 28.6, "most": 18},
		{"sheets": 4, "pairs": 2, "odd": 0, "each": 138.6, "mass": 554.4, "one": 2.2, "load": 8.8, "most": 18},
	} {
		for key, v := range want {
			if got := b.Rows[r][at[key]].Num; math.Abs(got-v) > 1e-3*v+1e-9 {
				t.Errorf("row %d, %s: %g, want %g", r, key, got, v)
			}
		}
	}
	if rest := tabs[0].Blocks[1]; len(rest.Rows) != 1 || rest.Rows[0][2].Num != 30 {
		t.Errorf("beside the board: %v", rest.Rows)
	}
}

func TestTabName(t *testing.T) {
	taken := map[string]bool{}
	for _, x := range []struct{ name, want string }{
		{"Drop 1", "Drop 1"}, {"Drop 1", "Drop 1 2"}, {"Drop a/b:c", "Drop a-b-c"},
		{"Drop of the very long storey above the library", "Drop of the very long storey ab"}, {"Drop ", "Drop"},
	} {
		if got := tabName(x.name, taken); got != x.want {
			t.Errorf("%q became %q, want %q", x.name, got, x.want)
		}
	}
}
