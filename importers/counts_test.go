package importers

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"testing"

	"boardrun/internal/plan"
)

// models returns the folder of models beside the project, or skips.
func models(t *testing.T) string {
	t.Helper()
	dir := filepath.Join("..", "..", "shared", "data")
	if _, err := os.Stat(dir); err != nil {
		t.Skip("../shared is not beside the project: its models are not surveyed")
	}
	return dir
}

// fewer are walls of a file that are rightly not counted.
var fewer = map[string]struct {
	n   int
	why string
}{
	"tessellated-house-ifc4.ifc": {5, "4 are made of other walls and counted by them; the body of 1 is swept along a surface, which is not supported, and listed"},
}

// Oracle: instances of IfcWall and its subtypes in each file, counted in the
// text of the file by a script that knows nothing of this package. ifcXML is
// refused, with a line that says so.
func TestLook_countsWallsOfModels(t *testing.T) {
	dir := models(t)
	f, err := os.Open(filepath.Join(dir, "golden", "counts.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		t.Run(row[0], func(t *testing.T) {
			s, err := Look(filepath.Join(dir, "ifc", row[0]), "")
			if row[1][:3] == "XML" {
				if err == nil {
					t.Fatal("ifcXML was read")
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			want, err := strconv.Atoi(row[4])
			if err != nil {
				t.Fatal(err)
			}
			if want -= fewer[row[0]].n; s.Counts.Walls != want {
				t.Errorf("%d walls, want %d (%s)", s.Counts.Walls, want, fewer[row[0]].why)
			}
		})
	}
}

// Oracle: the numbers of the walls, by hand.
func TestJoin_keepsWhatBelongsTogether(t *testing.T) {
	one := &plan.Plan{Walls: []plan.Wall{{Joined: []int{1}}, {Joined: []int{0}}}, Openings: []plan.Opening{{Wall: 1}}}
	two := &plan.Plan{Walls: []plan.Wall{{Joined: []int{1, 2}}, {Joined: []int{0}}, {Joined: []int{0}}}, Openings: []plan.Opening{{Wall: 0}}}
	p := Join([]*plan.Plan{one, two})
	var joined [][]int
	for i := range p.Walls {
		joined = append(joined, p.Walls[i].Joined)
	}
	if want := [][]int{{1}, {0}, {3, 4}, {2}, {2}}; !reflect.DeepEqual(joined, want) {
		t.Errorf("joined %v, want %v", joined, want)
	}
	if p.Openings[0].Wall != 1 || p.Openings[1].Wall != 2 {
		t.Errorf("openings in walls %d and %d, want 1 and 2", p.Openings[0].Wall, p.Openings[1].Wall)
	}
	if two.Walls[0].Joined[0] != 1 {
		t.Error("the plan that was joined is changed")
	}
}
