package trace_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardrun/importers/trace"
	"boardrun/internal/geom"
)

func perimeterMM(p geom.Poly) (per, area float64) {
	for i := range p {
		a, b := p[i], p[(i+1)%len(p)]
		per += math.Hypot(b.X.MM()-a.X.MM(), b.Y.MM()-a.Y.MM())
		area += (a.X.MM()*b.Y.MM() - b.X.MM()*a.Y.MM()) / 2e6
	}
	return per, area
}

// Every room of the truth is found, closed, with its perimeter within 0.1 %,
// and named by the writing in it.
// Oracle: the generator's room polygons.
func TestTrace_rooms(t *testing.T) {
	files, _ := filepath.Glob("testdata/plans/*.dxf")
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".dxf"), func(t *testing.T) {
			tr := readTruth(t, strings.TrimSuffix(file, ".dxf")+".truth.json")
			d := readDrawing(t, file, tr.Unit)
			p := trace.Trace(d, trace.Propose(d), trace.Options{Storey: "1"})
			if len(p.Rooms) != len(tr.Rooms) {
				t.Errorf("%d rooms, the truth has %d", len(p.Rooms), len(tr.Rooms))
			}
			used := map[int]bool{}
			for _, want := range tr.Rooms {
				best := -1
				for i, r := range p.Rooms {
					per, area := perimeterMM(r.Outline)
					if !used[i] && math.Abs(per-want.Perimeter) <= 0.001*want.Perimeter && math.Abs(area-want.Area) <= 0.002*want.Area &&
						math.Hypot(r.Outline[0].X.MM()-nearest(want.Polygon, r.Outline[0])[0], r.Outline[0].Y.MM()-nearest(want.Polygon, r.Outline[0])[1]) < 50 {
						best = i
					}
				}
				if best < 0 {
					t.Errorf("room %s %q not found: perimeter %.0f mm, area %.3f m²", want.ID, want.Name, want.Perimeter, want.Area)
					continue
				}
				used[best] = true
				if strings.HasPrefix(want.Name, "CLOSET") { // drawn with its number only
					if p.Rooms[best].Number == "" {
						t.Errorf("room %s %q has no number", want.ID, want.Name)
					}
					continue
				}
				if got := p.Rooms[best].Name; got != want.Name {
					t.Errorf("room %s is named %q, want %q", want.ID, got, want.Name)
				}
			}
		})
	}
}

// Rooms of the plans that were cut out of models: where the drawing has all faces
// of a room, its perimeter is the model's within 0.1 %, the ends of stubs counted.
// Oracle: the truth beside each drawing, made from the model's own sections.
func TestTrace_roomsOfModels(t *testing.T) {
	for name, rooms := range map[string]int{"from-ifc-fzk-haus-ifc4-erdgeschoss": 4, "from-ifc-duplex-apartment-level-2": 1} {
		file := filepath.Join("../../../shared/data/plans", name)
		if _, err := os.Stat(file + ".dxf"); err != nil {
			t.Skipf("the collection of plans is not here: %v", err)
		}
		tr := readTruth(t, file+".truth.json")
		d := readDrawing(t, file+".dxf", tr.Unit)
		p := trace.Trace(d, trace.Propose(d), trace.Options{Storey: "1"})
		found := 0
		for _, want := range tr.Rooms {
			for _, r := range p.Rooms {
				if per, area := perimeterMM(r.Outline); math.Abs(per-want.Perimeter) <= 0.001*want.Perimeter && math.Abs(area-want.Area) <= 0.002*want.Area {
					found++
					break
				}
			}
		}
		if found < rooms {
			t.Errorf("%s: %d rooms with the model's perimeter, want %d of %d", name, found, rooms, len(tr.Rooms))
		}
	}
}

func nearest(ps [][2]float64, q geom.Pt) [2]float64 {
	best := ps[0]
	for _, p := range ps {
		if math.Hypot(p[0]-q.X.MM(), p[1]-q.Y.MM()) < math.Hypot(best[0]-q.X.MM(), best[1]-q.Y.MM()) {
			best = p
		}
	}
	return best
}
