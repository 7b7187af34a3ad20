package app

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"boardrun/internal/report"
)

// Oracle of all these: the sample itself. What a change of the drawing or of
// the job must do to the takeoff is known without knowing the takeoff.

// bare is all of a takeoff but where in the file a thing stands.
func bare(t *testing.T, out *report.Takeoff) string {
	t.Helper()
	b, err := json.Marshal(out)
	if err != nil {
		t.Fatal(err)
	}
	var v report.Takeoff
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatal(err)
	}
	v.Job.File = ""
	for i := range v.Runs {
		v.Runs[i].Source, v.Runs[i].Fingerprint = nil, ""
	}
	for i := range v.Openings {
		v.Openings[i].Source = nil
	}
	for i := range v.Pieces {
		v.Pieces[i].Fingerprint = ""
	}
	for i := range v.Standing {
		v.Standing[i].Source = nil
	}
	for i := range v.Exceptions {
		e := &v.Exceptions[i]
		e.Source, e.Line = report.Source{}, ""
	}
	v.Ledger = nil
	b, err = json.MarshalIndent(v, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// measured is what is read off the plan, without the walls' marks: these are
// numbered in the order the walls stand on the sheet.
func measured(t *testing.T, out *report.Takeoff) string {
	t.Helper()
	var s []string
	add := func(kind string, v ...any) {
		b, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		s = append(s, kind+" "+string(b))
	}
	for _, r := range out.Runs {
		add("run", r.Storey, r.Type, r.LengthMM, r.ThicknessMM, r.Rating)
	}
	for _, f := range out.Faces {
		add("face", f.Boarded, f.Room, f.LengthMM, f.FinishedMM, f.GrossM2, f.NetM2, f.HeightBy, f.CeilingMM, len(f.Plies))
	}
	for _, q := range out.Openings {
		add("opening", q.Kind, q.Mark, q.WidthMM, q.SillMM, q.HeadMM, q.RoughMM)
	}
	for _, q := range out.Rooms {
		add("room", q.Name, q.Number, q.PerimeterMM, q.AreaM2, q.CeilingMM)
	}
	for _, q := range out.Finishing {
		if q.Item == "insulation" {
			add("insulation", q.Spec, q.AreaM2, q.Storey)
		}
	}
	slices.Sort(s)
	return strings.Join(s, "\n")
}

// differs tells the first lines in which two texts differ.
func differs(want, got string) string {
	if want == got {
		return ""
	}
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	var out []string
	for i, j := 0, 0; (i < len(a) || j < len(b)) && len(out) < 12; {
		switch {
		case i < len(a) && j < len(b) && a[i] == b[j]:
			i, j = i+1, j+1
		case j >= len(b) || i < len(a) && !slices.Contains(b[j:min(len(b), j+400)], a[i]):
			out = append(out, "- "+a[i])
			i++
		default:
			out = append(out, "+ "+b[j])
			j++
		}
	}
	return strings.Join(out, "\n")
}

var bothSamples = []string{"vet-clinic", "library-wing"}

func TestMetamorphic_orderEndsAndPiecesOfLinesDoNotMatter(t *testing.T) {
	shuffle := func(seed int64) func(*drawn) {
		return func(d *drawn) {
			rand.New(rand.NewSource(seed)).Shuffle(len(d.entities), func(i, k int) { d.entities[i], d.entities[k] = d.entities[k], d.entities[i] })
		}
	}
	for _, name := range someSamples() {
		want := bare(t, plain(t, name))
		for _, c := range []struct {
			name string
			draw func(*drawn)
		}{
			{"shuffled", shuffle(1)},
			{"shuffled otherwise", shuffle(2)},
			{"lines reversed", (*drawn).reverse},
			{"lines in seven pieces", func(d *drawn) { d.split(7) }},
			{"all of it", func(d *drawn) { d.split(7); d.reverse(); shuffle(3)(d) }},
		} {
			t.Run(name+" "+c.name, func(t *testing.T) {
				if d := differs(want, bare(t, variant{sample: name, draw: c.draw}.must(t))); d != "" {
					t.Error(d)
				}
			})
		}
	}
}

// turnedDecks are the samples' deck points after a motion.
var turnedDecks = map[string]map[string]func(string) string{
	"vet-clinic": {
		"quarter":       replace("[72ft, 0, 11'-0\"]", "[0, 72ft, 11'-0\"]", "[0, 40ft, 12'-8\"]", "[-40ft, 0, 12'-8\"]"),
		"half":          replace("[72ft, 0, 11'-0\"]", "[-72ft, 0, 11'-0\"]", "[0, 40ft, 12'-8\"]", "[0, -40ft, 12'-8\"]"),
		"three-quarter": replace("[72ft, 0, 11'-0\"]", "[0, -72ft, 11'-0\"]", "[0, 40ft, 12'-8\"]", "[40ft, 0, 12'-8\"]"),
		"mirrored":      replace("[72ft, 0, 11'-0\"]", "[-72ft, 0, 11'-0\"]"),
	},
	"library-wing": {
		"quarter":       replace("[24m, 0, 3.0m]", "[0, 24m, 3.0m]", "[0, 14m, 3.9m]", "[-14m, 0, 3.9m]"),
		"half":          replace("[24m, 0, 3.0m]", "[-24m, 0, 3.0m]", "[0, 14m, 3.9m]", "[0, -14m, 3.9m]"),
		"three-quarter": replace("[24m, 0, 3.0m]", "[0, -24m, 3.0m]", "[0, 14m, 3.9m]", "[14m, 0, 3.9m]"),
		"mirrored":      replace("[24m, 0, 3.0m]", "[-24m, 0, 3.0m]"),
	},
}

// Layouts of a wall read from its other end may be others of about the same
// cost: the layout is no exact optimum of the whole. All that is measured is
// equal to the last digit.
func TestMetamorphic_turnedPlanMeasuresTheSame(t *testing.T) {
	for _, name := range someSamples() {
		still := plain(t, name)
		want := measured(t, still)
		for turn, m := range map[string]motion{"quarter": quarter, "half": half, "three-quarter": threeQuarter} {
			t.Run(name+" "+turn, func(t *testing.T) {
				got := variant{sample: name, draw: func(d *drawn) { d.move(m) }, job: turnedDecks[name][turn]}.must(t)
				if d := differs(want, measured(t, got)); d != "" {
					t.Error(d)
				}
				aboutAsGood(t, still, got)
			})
		}
	}
}

// aboutAsGood wants board and cost within one in a hundred.
func aboutAsGood(t *testing.T, want, got *report.Takeoff) {
	t.Helper()
	if w, g := boardArea(want), boardArea(got); math.Abs(w-g) > 0.01*w {
		t.Errorf("%.2f m² bought, want about %.2f", g, w)
	}
	if want.Cost != nil && math.Abs(want.Cost.Total-got.Cost.Total) > 0.01*want.Cost.Total {
		t.Errorf("costs %.2f, want about %.2f", got.Cost.Total, want.Cost.Total)
	}
}

// lengths are the run lengths by type, sorted.
func lengths(out *report.Takeoff) map[string][]float64 {
	l := map[string][]float64{}
	for _, r := range out.Runs {
		l[r.Storey+" "+r.Type] = append(l[r.Storey+" "+r.Type], float64(r.LengthMM))
	}
	for _, v := range l {
		slices.Sort(v)
	}
	return l
}

func sameLengths(t *testing.T, want, got *report.Takeoff, within float64) {
	t.Helper()
	a, b := lengths(want), lengths(got)
	for typ, w := range a {
		g := b[typ]
		if len(g) != len(w) {
			t.Errorf("%s: %d runs, want %d", typ, len(g), len(w))
			continue
		}
		for i := range w {
			if math.Abs(w[i]-g[i]) > within {
				t.Errorf("%s: a run of %.4f mm, want %.4f", typ, g[i], w[i])
			}
		}
	}
	if len(a) != len(b) {
		t.Errorf("types %v, want %v", b, a)
	}
}

func boardArea(out *report.Takeoff) float64 {
	sum := 0.0
	for _, b := range out.Bound {
		sum += float64(b.AreaM2)
	}
	return sum
}

func TestMetamorphic_mirroredPlanKeepsLengths(t *testing.T) {
	for _, name := range someSamples() {
		t.Run(name, func(t *testing.T) {
			want := plain(t, name)
			got := variant{sample: name, draw: func(d *drawn) { d.move(mirrorX) }, job: turnedDecks[name]["mirrored"]}.must(t)
			sameLengths(t, want, got, 0.4)
			if len(got.Openings) != len(want.Openings) || len(got.Rooms) != len(want.Rooms) {
				t.Errorf("%d openings, %d rooms; want %d, %d", len(got.Openings), len(got.Rooms), len(want.Openings), len(want.Rooms))
			}
			aboutAsGood(t, want, got)
		})
	}
}

func TestMetamorphic_otherUnitKeepsLengths(t *testing.T) {
	toMM := func(d *drawn) {
		m := still
		m.scale = 25.4
		d.move(m)
		d.header("$INSUNITS", "4")
		d.header("$MEASUREMENT", "1")
		d.header("$LUNITS", "2")
		d.attribs(25.4)
	}
	toInch := func(d *drawn) {
		m := still
		m.scale = 1 / 25.4
		d.move(m)
		d.header("$INSUNITS", "1")
		d.header("$MEASUREMENT", "0")
		d.attribs(1 / 25.4)
	}
	for name, draw := range map[string]func(*drawn){"vet-clinic": toMM, "library-wing": toInch} {
		t.Run(name, func(t *testing.T) {
			want := plain(t, name)
			got := variant{sample: name, draw: draw}.must(t)
			sameLengths(t, want, got, 0.4)
			aboutAsGood(t, want, got)
			if name == "vet-clinic" { // 25.4 is exact in both: equal to the last digit
				if d := differs(measured(t, want), measured(t, got)); d != "" {
					t.Error(d)
				}
			}
		})
	}
}

// attribs scales what the attributes of doors and windows say.
func (d *drawn) attribs(by float64) {
	for _, e := range d.entities {
		for i, p := range e {
			if p.code != 2 || p.value != "WIDTH" && p.value != "HEIGHT" && p.value != "SILL" {
				continue
			}
			for k := i; e[k].code != 0; k-- {
				if e[k].code == 1 {
					e[k].value = digits(num(e[k].value) * by)
				}
			}
		}
	}
}

// A jog of 0.3 mm of every coordinate is drawing noise.
func TestMetamorphic_noiseKeepsWallsAndSheets(t *testing.T) {
	jog := func(seed int64) func(*drawn) {
		return func(d *drawn) {
			r := rand.New(rand.NewSource(seed))
			unit := 1.0
			for i, p := range d.head {
				if p == (pair{9, "$INSUNITS"}) && d.head[i+1].value == "1" {
					unit = 25.4
				}
			}
			for _, e := range d.entities {
				for i := range e {
					if e[i].code == 10 || e[i].code == 11 || e[i].code == 20 || e[i].code == 21 {
						e[i].value = digits(num(e[i].value) + (r.Float64()*2-1)*0.3/unit)
					}
				}
			}
		}
	}
	for _, name := range someSamples() {
		want := plain(t, name)
		for seed := int64(1); seed <= 3; seed++ {
			t.Run(fmt.Sprint(name, seed), func(t *testing.T) {
				got := variant{sample: name, draw: jog(seed)}.must(t)
				if len(got.Runs) != len(want.Runs) || len(got.Openings) != len(want.Openings) {
					t.Errorf("%d walls, %d openings; want %d, %d", len(got.Runs), len(got.Openings), len(want.Runs), len(want.Openings))
				}
				if g, w := len(got.Sheets), len(want.Sheets); g > w+w/50 || g < w-w/50 {
					t.Errorf("%d sheets, want %d within 2 in a hundred", g, w)
				}
				sameLengths(t, want, got, 2.5)
			})
		}
	}
}
