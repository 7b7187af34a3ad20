package run

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
)

// truth is what the generator of a test plan knows of it; testdata/README.md
// tells the keys.
type truth struct {
	Drawing string
	Types   []struct {
		ID          string
		ThicknessMM float64 `json:"thickness_mm"`
	}
	Runs []struct {
		ID          string
		AxisMM      [][2]float64 `json:"axis_mm"`
		LengthMM    float64      `json:"length_mm"`
		ThicknessMM float64      `json:"thickness_mm"`
		Type        string
		Start, End  string
		Arc         *struct {
			CentreMM [2]float64 `json:"centre_mm"`
			RadiusMM float64    `json:"radius_mm"`
			Start    float64    `json:"start_deg"`
			Sweep    float64    `json:"sweep_deg"`
		}
	}
	Openings []struct {
		ID, Run, Kind, Mark string
		UMM                 float64 `json:"u_mm"`
		WidthMM             float64 `json:"width_mm"`
		HeadMM              float64 `json:"head_mm"`
		SillMM              float64 `json:"sill_mm"`
	}
	Rooms []struct {
		ID          string
		PolygonMM   [][2]float64 `json:"polygon_mm"`
		PerimeterMM float64      `json:"perimeter_mm"`
		AreaM2      float64      `json:"area_m2"`
	}
	Junctions []struct {
		Kind string
		Runs []string
		AtMM [2]float64 `json:"at_mm"`
	}
}

func readTruth(t testing.TB, path string) *truth {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var tr truth
	if err := json.Unmarshal(data, &tr); err != nil {
		t.Fatal(err)
	}
	return &tr
}

func mmPt(p [2]float64) geom.Pt { return geom.Pt{X: measure.FromMM(p[0]), Y: measure.FromMM(p[1])} }

// dialect is how a plan's axes end, in the ways drawings are made.
type dialect int

const (
	nodeToNode dialect = iota // centrelines
	toFaces                   // stems stop at faces, corners at the outer face
)

// planOf builds a plan from the truth, and a job with a type per thickness.
func (tr *truth) planOf(how dialect) (*plan.Plan, *job.Job) {
	p := &plan.Plan{Storeys: []plan.Storey{{Name: "L1"}}, Drawings: []plan.Drawing{{File: "t.dxf", Storey: "L1"}}}
	index := map[string]int{}
	for i, r := range tr.Runs {
		w := plan.Wall{
			Storey: "L1", Axis: [2]geom.Pt{mmPt(r.AxisMM[0]), mmPt(r.AxisMM[len(r.AxisMM)-1])}, Tag: r.Type,
			Thickness: measure.FromMM(r.ThicknessMM), Ext: [2]bool{true, true},
			Sources: []plan.Source{{File: "t.dxf", Ref: fmt.Sprintf("%X", i+16)}},
		}
		if a := r.Arc; a != nil {
			w.Arc = &plan.Arc{Centre: mmPt(a.CentreMM), Radius: measure.FromMM(a.RadiusMM), Start: a.Start, Sweep: a.Sweep}
		}
		index[r.ID] = i
		p.Walls = append(p.Walls, w)
	}
	if how == toFaces {
		tr.drawToFaces(p)
	}
	kinds := map[string]plan.OpeningKind{"door": plan.Door, "window": plan.Window, "cased": plan.Framed}
	for _, o := range tr.Openings {
		i := index[o.Run]
		a := mmPt(tr.Runs[i].AxisMM[0])
		at := measure.FromMM(o.UMM)
		if w := p.Walls[i]; w.Arc == nil {
			l, _ := lineThrough(a, w.Axis[1])
			at += lineAlong(w.Axis[0], w.Axis[1], l.o) // the axis may begin elsewhere as drawn
		}
		p.Openings = append(p.Openings, plan.Opening{
			Wall: i, At: at, Width: measure.FromMM(o.WidthMM), Kind: kinds[o.Kind], Mark: o.Mark,
			Head: measure.FromMM(o.HeadMM), Sill: measure.FromMM(o.SillMM),
		})
	}
	j := testJob(measure.Metric)
	j.Decks = []job.Deck{{Level: 3 * measure.Metre}}
	for _, ty := range tr.Types {
		j.Types = append(j.Types, job.WallType{
			Name: ty.ID, StudDepth: measure.FromMM(ty.ThicknessMM - 25), Spacing: 400 * measure.Millimetre,
			Sides: [2]job.Side{{Plies: []string{"12.5"}}, {Plies: []string{"12.5"}}},
		})
	}
	return p, j
}

func lineAlong(a, b, p geom.Pt) Length {
	l, _ := lineThrough(a, b)
	return l.along(p)
}

// drawToFaces moves ends as a drawing of faces shows them: a stem ends at the
// face of the wall it meets, corners end at the outer face.
func (tr *truth) drawToFaces(p *plan.Plan) {
	old := make([]plan.Wall, len(p.Walls))
	copy(old, p.Walls)
	for i := range p.Walls {
		w := &p.Walls[i]
		w.Ext = [2]bool{}
		if w.Arc != nil {
			continue
		}
		for e, kind := range []string{tr.Runs[i].Start, tr.Runs[i].End} {
			if kind != "T" && kind != "L" {
				continue
			}
			other := meetsAt(old, i, e)
			if other < 0 {
				continue
			}
			l, length := lineThrough(old[i].Axis[1-e], old[i].Axis[e])
			m, _ := lineThrough(old[other].Axis[0], old[other].Axis[1])
			d := geom.MulDiv(old[other].Thickness/2, one, max(l.d.cross(m.d).Abs(), 1))
			if kind == "T" || thickerInLine(old, i, e) {
				d = -d
			}
			w.Axis[e] = l.at(length+d, 0)
		}
	}
}

// thickerInLine reports whether a thicker wall goes on where another ends: the
// thinner then ends at the far face of the corner that the thicker one makes.
func thickerInLine(walls []plan.Wall, i, e int) bool {
	l, _ := lineThrough(walls[i].Axis[0], walls[i].Axis[1])
	for k := range walls {
		m, _ := lineThrough(walls[k].Axis[0], walls[k].Axis[1])
		at := walls[k].Axis[0] == walls[i].Axis[e] || walls[k].Axis[1] == walls[i].Axis[e]
		if k != i && at && walls[k].Arc == nil && m.d.cross(l.d).Abs() < leastSin && walls[k].Thickness > walls[i].Thickness {
			return true
		}
	}
	return false
}

// meetsAt returns a wall whose axis passes the end of another.
func meetsAt(walls []plan.Wall, i, e int) int {
	for k := range walls {
		if k == i || walls[k].Arc != nil {
			continue
		}
		m, length := lineThrough(walls[k].Axis[0], walls[k].Axis[1])
		l, _ := lineThrough(walls[i].Axis[0], walls[i].Axis[1])
		q := walls[i].Axis[e]
		if s := m.along(q); m.left(q).Abs() < measure.Millimetre && s > -measure.Millimetre && s < length+measure.Millimetre && m.d.cross(l.d).Abs() > leastSin {
			return k
		}
	}
	return -1
}

// testJob is a job with rules, no slack and boards "12.5" and "5/8".
func testJob(sys measure.System) *job.Job {
	r := rules.Default(sys)
	return &job.Job{System: sys, Rules: r, Boards: []job.Board{
		{Name: "12.5", Thickness: 12500 * measure.Micrometre},
		{Name: "5/8", Thickness: 5 * measure.Inch / 8},
		{Name: "1/2", Thickness: measure.Inch / 2},
	}}
}

// truths lists the plans at hand: the one in testdata, and all of the shared
// collection where it is present.
func truths(t testing.TB) []string {
	list := []string{"testdata/library-a-closed-polylines.truth.json"}
	dir, _ := os.Getwd()
	for dir != filepath.Dir(dir) {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			break
		}
		dir = filepath.Dir(dir)
	}
	more, _ := filepath.Glob(filepath.Join(dir, "../shared/data/plans/*.truth.json"))
	if len(more) == 0 {
		t.Log("the shared plans are absent: only the one in testdata is tested")
	}
	return append(list, more...)
}

// TestRooms_perimeters adds up the parts of faces round every closed space.
// Oracle: the generator's own room outlines.
func TestRooms_perimeters(t *testing.T) {
	for _, path := range truths(t) {
		for name, how := range map[string]dialect{"node to node": nodeToNode, "to faces": toFaces} {
			t.Run(filepath.Base(path)+" "+name, func(t *testing.T) {
				tr := readTruth(t, path)
				p, j := tr.planOf(how)
				for _, r := range tr.Rooms {
					p.Rooms = append(p.Rooms, plan.Room{Storey: "L1", Name: r.ID, At: innerPoint(r.PolygonMM)})
				}
				set, err := Build(p, j)
				if err != nil {
					t.Fatal(err)
				}
				sums := map[string]Length{}
				for _, r := range set.Runs {
					for _, f := range r.Faces {
						for _, q := range f.Parts {
							sums[q.Room] += q.U1 - q.U0
						}
					}
				}
				var off, sum float64
				for _, r := range tr.Rooms {
					d := math.Abs(sums[r.ID].MM() - r.PerimeterMM)
					off, sum = off+d, sum+r.PerimeterMM
					if d > 2 {
						t.Logf("room %s: faces %.1f mm, perimeter %.1f", r.ID, sums[r.ID].MM(), r.PerimeterMM)
					}
				}
				if off > 0.001*sum {
					t.Errorf("perimeters are off by %.0f mm of %.0f", off, sum)
				}
				t.Logf("%d rooms, perimeters off by %.3f %%", len(tr.Rooms), 100*off/sum)
			})
		}
	}
}

// innerPoint returns a point inside a polygon: beside the middle of an edge.
func innerPoint(q [][2]float64) geom.Pt {
	rnd := rand.New(rand.NewSource(1))
	var poly geom.Poly
	for _, p := range q {
		poly = append(poly, mmPt(p))
	}
	r := poly.Bounds()
	for {
		p := geom.Pt{X: r.Min.X + Length(rnd.Int63n(int64(r.W()))), Y: r.Min.Y + Length(rnd.Int63n(int64(r.H())))}
		if inside(poly, p) {
			return p
		}
	}
}
