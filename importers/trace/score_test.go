package trace_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardrun/importers/dxf"
	"boardrun/importers/linework"
	"boardrun/importers/trace"
	"boardrun/internal/plan"
)

// truth is what a generated plan is known to hold.
type truth struct {
	Runs []struct {
		ID        string        `json:"id"`
		Type      string        `json:"type"`
		Axis      [2][2]float64 `json:"axis_mm"`
		Length    float64       `json:"length_mm"`
		Thickness float64       `json:"thickness_mm"`
		Arc       *struct {
			Centre [2]float64 `json:"centre_mm"`
			Radius float64    `json:"radius_mm"`
			Start  float64    `json:"start_deg"`
			Sweep  float64    `json:"sweep_deg"`
		} `json:"arc"`
	} `json:"runs"`
	Openings []struct {
		ID     string     `json:"id"`
		Kind   string     `json:"kind"`
		Mark   string     `json:"mark"`
		Centre [2]float64 `json:"centre_mm"`
		Width  float64    `json:"width_mm"`
		Head   float64    `json:"head_mm"`
	} `json:"openings"`
	Rooms []struct {
		ID        string       `json:"id"`
		Name      string       `json:"name"`
		Perimeter float64      `json:"perimeter_mm"`
		Area      float64      `json:"area_m2"`
		Polygon   [][2]float64 `json:"polygon_mm"`
	} `json:"rooms"`
	Unit float64 `json:"mm_per_drawing_unit"`
}

func readTruth(t testing.TB, file string) truth {
	t.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var out truth
	if err := json.Unmarshal(raw, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

func readDrawing(t testing.TB, file string, unitMM float64) *linework.Drawing {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	d, _, err := dxf.Read(filepath.Base(file), f, dxf.Options{UnitMM: unitMM})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// band is a wall as the scorer sees it: points every 10 mm along its axis.
type band struct {
	xy, dir [][2]float64
	t, step float64
}

func straight(a, b [2]float64, th float64) band {
	l := math.Hypot(b[0]-a[0], b[1]-a[1])
	n := max(1, int(l/10))
	w := band{t: th, step: l / float64(n)}
	d := [2]float64{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
	for i := 0; i < n; i++ {
		u := (float64(i) + 0.5) * w.step
		w.xy = append(w.xy, [2]float64{a[0] + d[0]*u, a[1] + d[1]*u})
		w.dir = append(w.dir, d)
	}
	return w
}

func curved(c [2]float64, r, start, sweep, th float64) band {
	l := r * math.Abs(sweep) * math.Pi / 180
	n := max(1, int(l/10))
	w := band{t: th, step: l / float64(n)}
	for i := 0; i < n; i++ {
		a := (start + sweep*(float64(i)+0.5)/float64(n)) * math.Pi / 180
		w.xy = append(w.xy, [2]float64{c[0] + r*math.Cos(a), c[1] + r*math.Sin(a)})
		w.dir = append(w.dir, [2]float64{-math.Sin(a), math.Cos(a)})
	}
	return w
}

func bandOf(w plan.Wall) band {
	if w.Arc != nil {
		return curved([2]float64{w.Arc.Centre.X.MM(), w.Arc.Centre.Y.MM()}, w.Arc.Radius.MM(), w.Arc.Start, w.Arc.Sweep, w.Thickness.MM())
	}
	return straight([2]float64{w.Axis[0].X.MM(), w.Axis[0].Y.MM()}, [2]float64{w.Axis[1].X.MM(), w.Axis[1].Y.MM()}, w.Thickness.MM())
}

// share is how much of the length of as lies in a band of bs that is parallel
// within 5 degrees and as thick within 3 mm, axis within 5 mm of axis. Stretches
// near another of as that runs across count neither way.
func share(as, bs []band) float64 {
	var found, total float64
	for _, s := range shares(as, bs) {
		found += s[0]
		total += s[1]
	}
	if total == 0 {
		return 1
	}
	return found / total
}

// shares is share wall by wall: the length found and the length that counts.
func shares(as, bs []band) [][2]float64 {
	out := make([][2]float64, len(as))
	grid := map[[2]int][]int{}
	cell := func(p [2]float64) [2]int { return [2]int{int(math.Floor(p[0] / 500)), int(math.Floor(p[1] / 500))} }
	type at struct {
		w int
		p [2]float64
		d [2]float64
	}
	var all []at
	put := func(k int, w band) {
		for i, p := range w.xy {
			grid[cell(p)] = append(grid[cell(p)], len(all))
			all = append(all, at{k, p, w.dir[i]})
		}
	}
	for k, w := range bs {
		put(k, w)
	}
	for k, a := range as {
		for i, p := range a.xy {
			if nearNode(as, k, p, a.dir[i]) {
				continue
			}
			out[k][1] += a.step
			c := cell(p)
			hit := false
			for dx := -1; dx <= 1 && !hit; dx++ {
				for dy := -1; dy <= 1 && !hit; dy++ {
					for _, j := range grid[[2]int{c[0] + dx, c[1] + dy}] {
						q := &all[j]
						b := &bs[q.w]
						lat := math.Abs((p[0]-q.p[0])*q.d[1] - (p[1]-q.p[1])*q.d[0])
						lon := math.Abs((p[0]-q.p[0])*q.d[0] + (p[1]-q.p[1])*q.d[1])
						par := math.Abs(a.dir[i][0]*q.d[1] - a.dir[i][1]*q.d[0])
						if math.Abs(b.t-a.t) <= 3 && lat <= 5 && lon <= b.step && par < math.Sin(5*math.Pi/180) {
							hit = true
							break
						}
					}
				}
			}
			if hit {
				out[k][0] += a.step
			}
		}
	}
	return out
}

// nearNode reports whether a point of wall k lies in the band of a wall across.
func nearNode(as []band, k int, p, d [2]float64) bool {
	for j := range as {
		if j == k {
			continue
		}
		b := &as[j]
		h := b.t/2 + as[k].t
		if p[0] < min(b.xy[0][0], b.xy[len(b.xy)-1][0])-3000 || p[0] > max(b.xy[0][0], b.xy[len(b.xy)-1][0])+3000 ||
			p[1] < min(b.xy[0][1], b.xy[len(b.xy)-1][1])-3000 || p[1] > max(b.xy[0][1], b.xy[len(b.xy)-1][1])+3000 {
			continue
		}
		for i := 0; i < len(b.xy); i += 5 {
			q, e := b.xy[i], b.dir[i]
			if math.Abs(d[0]*e[1]-d[1]*e[0]) > 0.1 && math.Hypot(p[0]-q[0], p[1]-q[1]) < h+50 {
				return true
			}
		}
	}
	return false
}

// score holds the truth against a plan.
type score struct{ recall, precision, openRecall, openPrecision float64 }

func scoreOf(tr truth, p *plan.Plan) score {
	var want, got []band
	for _, r := range tr.Runs {
		if r.Arc != nil {
			want = append(want, curved(r.Arc.Centre, r.Arc.Radius, r.Arc.Start, r.Arc.Sweep, r.Thickness))
		} else {
			want = append(want, straight(r.Axis[0], r.Axis[1], r.Thickness))
		}
	}
	for _, w := range p.Walls {
		got = append(got, bandOf(w))
	}
	s := score{recall: share(want, got), precision: share(got, want)}
	matched := make([]bool, len(p.Openings))
	n := 0
	for _, o := range tr.Openings {
		for i, q := range p.Openings {
			c := openingCentre(p, q)
			if !matched[i] && math.Hypot(c[0]-o.Centre[0], c[1]-o.Centre[1]) <= 25 && math.Abs(q.Width.MM()-o.Width) <= 5 {
				matched[i] = true
				n++
				break
			}
		}
	}
	s.openRecall = float64(n) / float64(len(tr.Openings))
	s.openPrecision = float64(n) / float64(max(1, len(p.Openings)))
	return s
}

// openingCentre is where an opening's middle lies in the drawing, in mm.
func openingCentre(p *plan.Plan, o plan.Opening) [2]float64 {
	w := p.Walls[o.Wall]
	u := o.At.MM()
	if w.Arc != nil {
		r := w.Arc.Radius.MM()
		a := w.Arc.Start*math.Pi/180 + math.Copysign(u/r, w.Arc.Sweep)
		return [2]float64{w.Arc.Centre.X.MM() + r*math.Cos(a), w.Arc.Centre.Y.MM() + r*math.Sin(a)}
	}
	a, b := w.Axis[0], w.Axis[1]
	dx, dy := b.X.MM()-a.X.MM(), b.Y.MM()-a.Y.MM()
	l := math.Hypot(dx, dy)
	return [2]float64{a.X.MM() + dx*u/l, a.Y.MM() + dy*u/l}
}

// Oracle: the generator's truth beside each drawing.
func TestTrace_plans(t *testing.T) {
	files, err := filepath.Glob("testdata/plans/*.dxf")
	if err != nil || len(files) < 6 {
		t.Fatalf("plans missing: %v %v", files, err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".dxf")
		t.Run(name, func(t *testing.T) {
			tr := readTruth(t, strings.TrimSuffix(file, ".dxf")+".truth.json")
			d := readDrawing(t, file, tr.Unit)
			p := trace.Trace(d, trace.Propose(d), trace.Options{Storey: "1"})
			s := scoreOf(tr, p)
			if s.recall < 0.999 || s.precision < 0.999 {
				t.Errorf("walls: recall %.4f precision %.4f", s.recall, s.precision)
			}
			if s.openRecall < 1 || s.openPrecision < 1 {
				t.Errorf("openings: recall %.4f precision %.4f", s.openRecall, s.openPrecision)
			}
			if len(p.Walls) != len(tr.Runs) {
				t.Errorf("%d walls, the truth has %d", len(p.Walls), len(tr.Runs))
			}
			for _, l := range p.Ledger {
				if !l.Balanced() {
					t.Errorf("ledger does not add up: %+v", l)
				}
				if l.WallLineUsedMM < 0.98*l.WallLineMM {
					t.Errorf("only %.0f of %.0f mm of wall line used", l.WallLineUsedMM, l.WallLineMM)
				}
			}
			checkMarks(t, tr, p)
			checkTags(t, tr, p)
		})
	}
}

// checkMarks compares kind, mark and head of the doors that carry attributes.
func checkMarks(t *testing.T, tr truth, p *plan.Plan) {
	t.Helper()
	for _, o := range tr.Openings {
		if o.Kind != "door" {
			continue
		}
		for _, q := range p.Openings {
			c := openingCentre(p, q)
			if math.Hypot(c[0]-o.Centre[0], c[1]-o.Centre[1]) > 25 {
				continue
			}
			if q.Kind != plan.Door || q.Mark != o.Mark {
				t.Errorf("opening %s: got %s %q, want door %q", o.ID, q.Kind, q.Mark, o.Mark)
			}
			if math.Abs(q.Head.MM()-o.Head) > 1 || q.HeadBy != "attribute" {
				t.Errorf("opening %s: head %.1f by %q, want %.1f by attribute", o.ID, q.Head.MM(), q.HeadBy, o.Head)
			}
		}
	}
}

// checkTags compares the tags written beside the walls with their types.
func checkTags(t *testing.T, tr truth, p *plan.Plan) {
	t.Helper()
	n := 0
	for _, r := range tr.Runs {
		for _, w := range p.Walls {
			a, b := w.Axis[0], w.Axis[1]
			same := func(q, s [2]float64) bool {
				return math.Hypot(a.X.MM()-q[0], a.Y.MM()-q[1]) < 5 && math.Hypot(b.X.MM()-s[0], b.Y.MM()-s[1]) < 5
			}
			if w.Tag == "" || !same(r.Axis[0], r.Axis[1]) && !same(r.Axis[1], r.Axis[0]) {
				continue
			}
			n++
			if w.Tag != r.Type {
				t.Errorf("run %s has tag %q, want %q", r.ID, w.Tag, r.Type)
			}
		}
	}
	if n < 10 {
		t.Errorf("only %d walls have a tag", n)
	}
}
