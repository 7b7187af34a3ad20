package cutting

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"boardrun/internal/measure"
)

// oneSheet is a published instance: one sheet, the pieces worth most on it.
type oneSheet struct {
	p      Problem
	profit []float64
}

func readOneSheet(t *testing.T, base string, unlimited bool) oneSheet {
	t.Helper()
	bin := csvInts(t, base+"_bins.csv")[0]
	var o oneSheet
	var n, w, h []int
	for _, x := range csvInts(t, base+"_items.csv") {
		copies, told := x["COPIES"]
		if !told {
			copies = 1
		}
		if unlimited {
			copies = (bin["WIDTH"] / x["WIDTH"]) * (bin["HEIGHT"] / x["HEIGHT"])
		}
		profit, priced := x["PROFIT"]
		if !priced {
			profit = x["WIDTH"] * x["HEIGHT"]
		}
		if copies > 0 {
			n, w, h, o.profit = append(n, copies), append(w, x["WIDTH"]), append(h, x["HEIGHT"]), append(o.profit, float64(profit))
		}
	}
	o.p = flatProblem(bin["WIDTH"], bin["HEIGHT"], n, w, h, false)
	return o
}

// value returns what the pattern at these profits is worth and what no set of
// pieces for the sheet is worth more than; 0 if that took too long.
func (o oneSheet) value() (found, most float64) {
	all := make([]int, len(o.p.Pieces))
	for i := range all {
		all[i] = i
	}
	shapes := shapesOf(o.p.Pieces, all)
	left, price := make([]int, len(shapes)), make([]float64, len(shapes))
	for i, s := range shapes {
		left[i] = len(s.copies)
		for _, c := range s.copies { // of pieces alike the dearest
			price[i] = max(price[i], o.profit[c.piece])
		}
	}
	f := newFiller(shapes, o.p.Stock, 4096)
	for _, c := range f.patterns(price, left) {
		found = max(found, c.value)
	}
	z := newSheetSets(f, left, nil, []int64{1}, 1, setLimits{rows: 200, looks: 3 << 22})
	y := make([]float64, len(z.copies))
	for _, m := range z.members {
		y[m.row] = price[m.shape]
	}
	if over, ok := z.price(y); ok {
		most = over
	}
	return found, most
}

// Oracle: values of one sheet published for Beasley's gcut (any number of each
// piece) and Christofides and Whitlock's cgcut, guillotine cuts without limit of
// stages, and of two-stage instances. No pattern may be worth more, except than
// two stages, and no set less. How near a pattern at given prices comes is
// reported: it is what columns are generated with.
func TestPublished_oneSheet(t *testing.T) {
	dir := filepath.Join(published(t), "2d")
	for _, set := range []struct {
		dir, name, value string
		unlimited        bool // any number of each piece
		stages           bool // the optimum is of two stages
	}{
		{"gcut_beasley1985", "file", "optimal_value_oriented_unlimited_stages", true, false},
		{"cgcut_christofides1977", "file", "optimal_value_constrained_guillotine_oriented", false, false},
		{"knapsack_2stage", "instance", "best_value", false, true},
	} {
		var sum, worst, n float64
		sets := 0
		worst = 1
		for _, r := range table(t, filepath.Join(dir, set.dir, "OPTIMA.tsv")) {
			base := filepath.Join(dir, set.dir, r[set.name])
			want, err := strconv.ParseFloat(r[set.value], 64)
			if _, missing := os.Stat(base + "_bins.csv"); err != nil || missing != nil {
				continue
			}
			found, most := readOneSheet(t, base, set.unlimited).value()
			if found > want+0.5 && !set.stages {
				t.Errorf("%s %s: a pattern worth %.0f, the optimum is %.0f", set.dir, r[set.name], found, want)
			}
			if most > 0 {
				sets++
				if most < want-0.5 {
					t.Errorf("%s %s: sets are worth %.0f at most, the optimum is %.0f", set.dir, r[set.name], most, want)
				}
			}
			sum, worst, n = sum+found/want, min(worst, found/want), n+1
		}
		t.Logf("%s: %.0f instances, patterns at %.1f %% of the best value, %.1f %% the worst; sets searched through in %d", set.dir, n, 100*sum/n, 100*worst, sets)
		if n == 0 {
			t.Errorf("%s: no instance", set.dir)
		}
	}
}

// Reported, not required: Hopper's rectangles cut up without waste. One sheet is
// the optimum, but not by straight cuts: put together by equal sides in every
// way, turned or not, the pieces of T1 and T2 make no rectangle larger than a
// quarter of the sheet.
func TestPublished_hopper(t *testing.T) {
	dir := filepath.Join(published(t), "2d", "zero_waste_guillotine_hopper2000_t")
	files, _ := filepath.Glob(filepath.Join(dir, "t[12]*_bins.csv"))
	two := 0
	for _, f := range files {
		p := readOneSheet(t, f[:len(f)-len("_bins.csv")], false).p
		for i := range p.Pieces {
			p.Pieces[i].Turn = true
		}
		s := Solve(p, Best)
		mustPass(t, p, s)
		if len(s.Sheets) <= 2 {
			two++
		}
		if s.Bounds[0].Hung != (Total{}).Plus(measure.Times(p.Stock[0].Width, p.Stock[0].Length)) {
			t.Errorf("%s: the pieces do not make up the sheet", filepath.Base(f))
		}
	}
	t.Logf("%d of %d on two sheets", two, len(files))
}
