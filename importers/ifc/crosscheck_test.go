package ifc

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"boardrun/internal/plan"
)

// opinion is what another library makes of one wall.
type opinion struct {
	Volume float64
	Faces  [][4]float64 // unit normal and area, by direction
}

// secondOpinion runs web-ifc on a model; it skips the test where node or the
// library is not there.
func secondOpinion(t *testing.T, file string) map[string]opinion {
	t.Helper()
	lib := os.Getenv("WEBIFC")
	if lib == "" {
		t.Skip("WEBIFC does not name a folder with web-ifc 0.0.78: no second opinion")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed: no second opinion")
	}
	script, err := filepath.Abs("../../.ci/crosscheck/webifc.mjs")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, script, file)
	cmd.Env = append(os.Environ(), "WEBIFC="+lib)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v", script, err)
	}
	var by map[string]opinion
	if err := json.Unmarshal(out, &by); err != nil {
		t.Fatal(err)
	}
	return by
}

// sides adds up the faces that look left and right of a wall's axis.
func (o opinion) sides(w plan.Wall) (left, right float64) {
	d := w.Axis[1].Sub(w.Axis[0])
	l := math.Hypot(float64(d.X), float64(d.Y))
	nx, ny := -float64(d.Y)/l, float64(d.X)/l
	for _, f := range o.Faces {
		switch c := f[0]*nx + f[1]*ny; {
		case c > 1-1e-5:
			left += f[3]
		case c < -1+1e-5:
			right += f[3]
		}
	}
	return left, right
}
