package ifc

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"boardrun/internal/plan"
)

var sampleModel = filepath.Join("..", "..", "samples", "vet-clinic-ifc", "model.ifc")

// Oracle: the sizes the clinic is drawn from, by hand.
func TestRead_sampleClinic(t *testing.T) {
	p, q, err := readFile(sampleModel)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range p.Exceptions {
		if e.Severity > plan.Note {
			t.Error(e)
		}
	}
	if len(p.Walls) != 17 || len(p.Openings) != 12 || len(p.Rooms) != 13 || len(p.Decks) != 1 || len(p.Obstacles) != 3 {
		t.Fatalf("%d walls, %d openings, %d rooms, %d decks, %d columns; want 17, 12, 13, 1, 3", len(p.Walls), len(p.Openings), len(p.Rooms), len(p.Decks), len(p.Obstacles))
	}
	const inch = 25.4
	lengths := map[string]float64{ // by type, between the faces the bodies stop at
		"P1":    4*(210-4.875/2) + (204 - 4.875/2) + (108 - 7.25/2) + (60 - 4.875/2),
		"P2":    672 + 4.875/2 + 864 + 210 - 4.875/2,
		"P3":    2 * (204 - 4.875/2),
		"P4":    204 - 4.875/2,
		"SHELL": 2*880 + 2*480,
	}
	for i := range p.Walls {
		w := &p.Walls[i]
		lengths[w.TypeName] -= q[i].LengthMM / inch
		if want := w.TypeName == "SHELL"; (w.Status == plan.Existing) != want {
			t.Errorf("%s: status %s", w.TypeName, w.Status)
		}
	}
	for name, left := range lengths {
		if math.Abs(left) > 1e-6 {
			t.Errorf("%s: %g in of wall missing", name, left)
		}
	}
}

// Oracle: web-ifc 0.0.78.
func TestCrossCheck_sampleClinic(t *testing.T) {
	lib := os.Getenv("WEBIFC")
	if lib == "" {
		t.Skip("WEBIFC does not name a folder with web-ifc 0.0.78: no second opinion")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed: no second opinion")
	}
	p, q, err := readFile(sampleModel)
	if err != nil {
		t.Fatal(err)
	}
	legs := map[string][]subject{}
	for i, w := range p.Walls {
		g := w.Sources[0].GUID
		legs[g] = append(legs[g], subject{q[i], w})
	}
	path, err := filepath.Abs(sampleModel)
	if err != nil {
		t.Fatal(err)
	}
	compareOpinions(t, "model.ifc", legs, secondOpinion(t, node, lib, path))
}
