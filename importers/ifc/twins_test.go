package ifc

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"boardrun/internal/plan"
)

// bare drops what differs between two files of one model: their names and
// where things stand in them.
func bare(p *plan.Plan) *plan.Plan {
	q := *p
	q.Drawings, q.Exceptions, q.Ledger = slices.Clone(p.Drawings), slices.Clone(p.Exceptions), slices.Clone(p.Ledger)
	q.Drawings[0].File, q.Ledger[0].Drawing = "", ""
	blank := func(s []plan.Source) []plan.Source {
		s = slices.Clone(s)
		for i := range s {
			s[i].File, s[i].Line = "", 0
		}
		return s
	}
	q.Walls, q.Openings = slices.Clone(p.Walls), slices.Clone(p.Openings)
	for i := range q.Walls {
		q.Walls[i].Sources = blank(q.Walls[i].Sources)
	}
	for i := range q.Openings {
		q.Openings[i].Sources = blank(q.Openings[i].Sources)
	}
	q.Storeys, q.Decks, q.Ceilings, q.Rooms, q.Obstacles = slices.Clone(p.Storeys), nil, nil, nil, nil
	for i := range q.Storeys {
		q.Storeys[i].Source = plan.Source{}
	}
	for i := range q.Exceptions {
		q.Exceptions[i].Source.File, q.Exceptions[i].Source.Line = "", 0
	}
	return &q
}

func readText(t testing.TB, name string, b []byte, workers int) (*plan.Plan, []Quantities) {
	t.Helper()
	p, q, err := ReadQuantities(name, bytes.NewReader(b), int64(len(b)), Options{Workers: workers})
	if err != nil {
		t.Fatal(err)
	}
	return p, q
}

// Oracle: the same model packed by another tool; and every model of the corpus
// packed here, under a name that does not say so.
func TestTwins(t *testing.T) {
	a, _ := mustRead(t, "data/ifc/four-walls-one-floor.ifc")
	b, _ := mustRead(t, "data/ifc/four-walls-one-floor.ifczip")
	if len(a.Walls) != len(b.Walls) {
		t.Fatalf("%d and %d walls", len(a.Walls), len(b.Walls))
	}
	for i := range a.Walls { // the packed one is an older save: its walls alone are the same
		x, y := a.Walls[i], b.Walls[i]
		if x.Axis != y.Axis || x.Thickness != y.Thickness || x.Height != y.Height {
			t.Errorf("%s: %v %v %v, packed %v %v %v", x.Sources[0].GUID, x.Axis, x.Thickness, x.Height, y.Axis, y.Thickness, y.Height)
		}
	}
	files, _ := filepath.Glob(shared(t, "data/ifc") + "/*.ifc")
	for _, f := range files {
		if st, err := os.Stat(f); err != nil || st.Size() > 700_000 {
			continue
		}
		t.Run(filepath.Base(f), func(t *testing.T) {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			var z bytes.Buffer
			w := zip.NewWriter(&z)
			m, _ := w.Create("sub/model.IFC")
			m.Write(text)
			w.Close()
			p, pq := readText(t, "plain.ifc", text, 2)
			r, rq := readText(t, "packed.ifc", z.Bytes(), 2)
			if !reflect.DeepEqual(bare(p), bare(r)) {
				t.Error(cmp.Diff(bare(p), bare(r)))
			}
			if d := cmp.Diff(pq, rq); d != "" {
				t.Error(d)
			}
		})
	}
}

// Any number of workers and any order of the instances give the same plan.
func TestSame_workersAndOrder(t *testing.T) {
	for _, name := range []string{"fzk-haus-ifc4.ifc", "anonymised-building-78-walls-tessellated.ifc", "tutorial-walls-openings-clipped.ifc", "testhouse-breps-openings.ifc"} {
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(shared(t, "data/ifc/"+name))
			if err != nil {
				t.Fatal(err)
			}
			one, q1 := readText(t, "m.ifc", text, 1)
			five, q5 := readText(t, "m.ifc", text, 5)
			if !reflect.DeepEqual(one, five) {
				t.Error("workers:", cmp.Diff(one, five))
			}
			mixed, qm := readText(t, "m.ifc", shuffled(text), 2)
			if !reflect.DeepEqual(bare(one), bare(mixed)) {
				t.Error("order:", cmp.Diff(bare(one), bare(mixed)))
			}
			for _, q := range [][]Quantities{q5, qm} {
				if d := cmp.Diff(q1, q); d != "" {
					t.Error(d)
				}
			}
		})
	}
}

// shuffled returns a model with its instances in another order; seed 1.
func shuffled(text []byte) []byte {
	s := string(text)
	i := strings.Index(s, "DATA;") + len("DATA;")
	j := strings.LastIndex(s, "ENDSEC;")
	lines := strings.SplitAfter(s[i:j], ";\n")
	if strings.Contains(s, ";\r\n") {
		lines = strings.SplitAfter(s[i:j], ";\r\n")
	}
	rand.New(rand.NewSource(1)).Shuffle(len(lines), func(a, b int) { lines[a], lines[b] = lines[b], lines[a] })
	return []byte(s[:i] + "\n" + strings.Join(lines, "\n") + "\n" + s[j:])
}

// Oracle: gen_ifc.py of the corpus, which adds up what it draws: axis-parallel
// walls, one in ten under a slope, two in three with an opening.
func TestGenerated(t *testing.T) {
	py, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("python3 is not installed: nothing generates the model")
	}
	gen := shared(t, "bench/gen_ifc.py")
	for _, unit := range []string{"mm", "ft"} {
		t.Run(unit, func(t *testing.T) {
			out, truthFile := filepath.Join(t.TempDir(), "m.ifc"), filepath.Join(t.TempDir(), "m.json")
			if msg, err := exec.Command(py, gen, out, "--walls", "300", "--unit", unit, "--truth", truthFile).CombinedOutput(); err != nil {
				t.Fatalf("%v: %s", err, msg)
			}
			var truth struct {
				Walls, Openings, Doors, Windows int
				Gross                           float64 `json:"gross_side_area_m2"`
				Net                             float64 `json:"net_side_area_m2"`
			}
			b, err := os.ReadFile(truthFile)
			if err == nil {
				err = json.Unmarshal(b, &truth)
			}
			if err != nil {
				t.Fatal(err)
			}
			p, q, err := readFile(out)
			if err != nil {
				t.Fatal(err)
			}
			var gross, net, left, right float64
			for _, a := range q {
				gross, net, left, right = gross+a.GrossAreaM2, net+a.NetAreaM2, left+a.LeftAreaM2, right+a.RightAreaM2
			}
			for _, v := range []struct{ got, want float64 }{{gross, truth.Gross}, {net, truth.Net}, {left, truth.Net}, {right, truth.Net}} {
				if math.Abs(v.got/v.want-1) > 1e-6 {
					t.Errorf("%.6f m², the generator drew %.6f", v.got, v.want)
				}
			}
			doors, windows := 0, 0
			for _, o := range p.Openings {
				switch o.Kind {
				case plan.Door:
					doors++
				case plan.Window:
					windows++
				}
			}
			if len(p.Walls) != truth.Walls || len(p.Openings) != truth.Openings || doors != truth.Doors || windows != truth.Windows {
				t.Errorf("%d walls, %d openings, %d doors, %d windows; want %+v", len(p.Walls), len(p.Openings), doors, windows, truth)
			}
			for _, w := range p.Walls {
				if w.Kind != plan.Partition || len(w.Layers) != 3 {
					t.Fatalf("%+v", w)
				}
			}
		})
	}
}
