package app

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"strings"
	"testing"

	"boardrun/internal/job"
	"boardrun/internal/layout"
	"boardrun/internal/report"
	"boardrun/internal/run"
)

// told is what a takeoff says of one run and of nothing beside it.
func told(t *testing.T, out *report.Takeoff) map[string]string {
	t.Helper()
	say := map[string]string{}
	add := func(id string, v any) {
		b, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		say[id] += string(b) + "\n"
	}
	of := map[string]string{}
	for _, r := range out.Runs {
		add(r.ID, r)
	}
	for _, f := range out.Faces {
		of[f.ID] = f.Run
		add(f.Run, f)
	}
	for _, p := range out.Pieces {
		p.Sheet = "" // sheets are shared between runs
		add(of[p.Face], p)
	}
	for _, j := range out.Joints {
		add(of[j.Face], j)
	}
	for _, s := range out.Screws {
		add(of[s.Face], s)
	}
	return say
}

// A partition that ends free in the room is drawn 4 ft longer.
func TestMetamorphic_oneWallLonger(t *testing.T) {
	const more = 48 * 25.4
	longer := func(d *drawn) {
		for _, e := range d.entities {
			if e.kind() != "LINE" || e.text(10) != "20000.0" || e.text(20) != "0.0" || e.text(11) != "20000.0" || e.text(21) != "2200.0" {
				continue
			}
			for i := range e {
				if e[i].code == 21 {
					e[i].value = digits(2200 + more)
				}
			}
			return
		}
	}
	was, is := plain(t, "library-wing"), variant{sample: "library-wing", draw: longer}.must(t)
	a, b := told(t, was), told(t, is)
	var changed []string
	for id := range a {
		if a[id] != b[id] {
			changed = append(changed, id)
		}
	}
	if len(changed) != 1 || len(a) != len(b) {
		t.Fatalf("runs %v changed, of %d and %d; want one", changed, len(a), len(b))
	}
	length := func(out *report.Takeoff) (one, hung, gross float64) {
		for _, r := range out.Runs {
			if r.ID == changed[0] {
				one = float64(r.LengthMM)
			}
		}
		for _, q := range out.Bound {
			hung += float64(q.HungM2)
		}
		for _, f := range out.Faces {
			gross += float64(f.GrossM2)
		}
		return one, hung, gross
	}
	l0, h0, g0 := length(was)
	l1, h1, g1 := length(is)
	if math.Abs(l1-l0-more) > 0.1 {
		t.Errorf("the run is %.2f mm longer, want %.2f", l1-l0, more)
	}
	if h1-h0 <= 0 || math.Abs((h1-h0)-(g1-g0)) > 0.001 {
		t.Errorf("board hung grows by %.4f m², the faces by %.4f", h1-h0, g1-g0)
	}
	// Two sides as high as those of the wall before, no opening.
	if want := (g1 - g0) / (more / 1000) / 2; want < 2.8 || want > 2.86 {
		t.Errorf("the sides grow by %.4f m² a metre, want the height of 2.838 m", want)
	}
	if boardArea(is) < boardArea(was) {
		t.Errorf("less board bought: %.2f m², was %.2f", boardArea(is), boardArea(was))
	}
}

// Without a price list the prices that choose the layout are those that are
// added up; with one they only steer.
func TestMetamorphic_lowerPrice(t *testing.T) {
	want := variant{sample: "vet-clinic", job: withoutList}.must(t).Cost.Total
	for _, c := range [][2]string{
		{"4x8: 14.20", "4x8: 12.00"},
		{"4x9: 16.00", "4x9: 14.00"},
		{"4x10: 17.75", "4x10: 15.00"},
		{"4x12: 21.30", "4x12: 18.00"},
		{"tapered: 1.10", "tapered: 0.70"},
		{"butt: 3.30", "butt: 1.10"},
		{"cut: 0.90", "cut: 0.20"},
		{"added-stud: 14", "added-stud: 3"},
		{"screws-per-1000: 11.50", "screws-per-1000: 9"},
	} {
		t.Run(c[1], func(t *testing.T) {
			got := variant{sample: "vet-clinic", job: func(s string) string { return withoutList(replace(c[0], c[1])(s)) }}.must(t).Cost.Total
			if got > want {
				t.Errorf("total %.2f, was %.2f at %s", got, want, c[0])
			}
		})
	}
}

// runsOf builds the runs of a sample under a changed job.
func runsOf(t *testing.T, name string, change func(string) string) (*job.Job, *run.Set) {
	t.Helper()
	j, dir := variant{sample: name, job: change}.write(t)
	read, err := job.Read(j)
	if err != nil {
		t.Fatal(dir, err)
	}
	p, err := readDrawings(read)
	if err != nil {
		t.Fatal(err)
	}
	set, err := run.BuildFrom(p, read, nil)
	if err != nil {
		t.Fatal(err)
	}
	return read, set
}

// best is the best layout of each run.
func best(t *testing.T, name string, change func(string) string) map[string]*layout.Layout {
	t.Helper()
	j, set := runsOf(t, name, change)
	out := map[string]*layout.Layout{}
	for _, r := range set.Runs {
		if l := layout.Solve(r, layout.Env{Rules: j.Rules, Boards: j.Board, Prices: j.Prices, Effort: layout.Quick}); len(l) > 0 {
			out[r.ID] = &l[0]
		}
	}
	return out
}

func compareCost(a, b layout.Cost) int {
	return cmp.Or(cmp.Compare(a.Money, b.Money), cmp.Compare(a.Area, b.Area), cmp.Compare(a.Joints, b.Joints), cmp.Compare(a.Pieces, b.Pieces), cmp.Compare(a.Added, b.Added))
}

// Relaxing a rule adds layouts and takes none away: an exact optimum can't get
// dearer, and nothing legal before becomes an exception.
func TestMetamorphic_ruleRelaxed(t *testing.T) {
	for _, name := range someSamples() {
		strict := best(t, name, nil)
		compared := 0
		for _, rule := range []string{"rip: 2in", "jamb-band: 3in", "stem: 3in", "rip: 3in, jamb-band: 4in"} {
			t.Run(name+" "+rule, func(t *testing.T) {
				eased := best(t, name, func(s string) string {
					return strings.Replace(s, "\nstock:", "\nrules: {"+rule+"}\nstock:", 1)
				})
				exact := 0
				for id, was := range strict {
					is := eased[id]
					if is == nil {
						t.Errorf("%s: no layout any more", id)
						continue
					}
					if was.Status != "optimal" || is.Status != "optimal" {
						continue
					}
					exact++
					if compareCost(is.Cost, was.Cost) > 0 {
						t.Errorf("%s: costs %+v, was %+v", id, is.Cost, was.Cost)
					}
				}
				compared += exact
			})
		}
		if compared == 0 {
			t.Errorf("%s: no exact run to compare", name)
		}
	}
}

// Any one entity of a wall layer taken away: something says so, in the account
// of the drawing and in a run or in an exception.
func TestMetamorphic_oneEntityDeleted(t *testing.T) {
	say := func(out *report.Takeoff) (runs map[string]string, exceptions map[string]int) {
		exceptions = map[string]int{}
		for _, e := range out.Exceptions {
			exceptions[e.Severity+e.Code+e.Message]++
		}
		runs = told(t, out)
		for _, o := range out.Openings {
			runs[o.Run] += fmt.Sprint(o.Kind, o.UMM, o.WidthMM, o.HeadMM, o.Source)
		}
		return runs, exceptions
	}
	for name, sampleSize := range map[string]int{"vet-clinic": 20, "library-wing": 4} {
		was := plain(t, name)
		runs, exceptions := say(was)
		var wall []int
		first := map[string]string{"vet-clinic": "plan.dxf", "library-wing": "level-1.dxf"}[name]
		d := readDrawn(t, "../../samples/"+name+"/"+first)
		for i, e := range d.entities {
			if strings.HasPrefix(e.text(8), "A-WALL") && e.text(8) != "A-WALL-IDEN" {
				wall = append(wall, i)
			}
		}
		rand.New(rand.NewSource(7)).Shuffle(len(wall), func(i, k int) { wall[i], wall[k] = wall[k], wall[i] })
		if testing.Short() {
			sampleSize /= 3
		} else if long() {
			sampleSize = len(wall)
		}
		for _, k := range wall[:min(sampleSize, len(wall))] {
			e := d.entities[k]
			t.Run(fmt.Sprintf("%s %s %s %s", name, e.kind(), e.text(5), e.text(8)), func(t *testing.T) {
				is, err := variant{sample: name, draw: func(d *drawn) {
					if k < len(d.entities) && d.entities[k].text(5) == e.text(5) && d.entities[k].text(10) == e.text(10) && d.entities[k].text(20) == e.text(20) {
						d.entities = append(d.entities[:k:k], d.entities[k+1:]...)
					}
				}}.take(t)
				if err != nil {
					return // refused: loud enough
				}
				if reflect.DeepEqual(is.Ledger, was.Ledger) {
					t.Error("the ledger does not tell")
				}
				r, x := say(is)
				if reflect.DeepEqual(r, runs) && reflect.DeepEqual(x, exceptions) && !endCap(e) {
					t.Error("no run changes and no exception tells")
				}
			})
		}
	}
}

// endCap tells a line no longer than a wall is thick: the cap of a free end,
// which both faces of the wall tell without it. Nothing hangs on it.
func endCap(e placed) bool {
	return e.kind() == "LINE" && math.Hypot(num(e.text(11))-num(e.text(10)), num(e.text(21))-num(e.text(20))) < 8
}
