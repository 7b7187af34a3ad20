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
	Faces  [][5]float64 // unit normal, distance from the origin and area, by plane
}

// secondOpinion runs web-ifc on a model.
func secondOpinion(t *testing.T, node, lib, file string) map[string]opinion {
	t.Helper()
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

// facing adds up the faces that look along (x, y): all of them, and those of
// the outermost plane. A wall modelled layer by layer has all its layers in the
// first and its side alone in the second.
func (o opinion) facing(x, y float64) (all, outermost float64) {
	far := math.Inf(-1)
	for _, f := range o.Faces {
		if f[0]*x+f[1]*y > 1-1e-5 {
			all += f[4]
			far = max(far, f[3])
		}
	}
	for _, f := range o.Faces {
		if f[0]*x+f[1]*y > 1-1e-5 && f[3] > far-0.001 {
			outermost += f[4]
		}
	}
	return all, outermost
}

// heading of a side in plan and its area as read, the legs of a wall together.
type side struct{ x, y, area float64 }

func sidesOf(legs []subject) (sides []side, round bool) {
	add := func(x, y, area float64) {
		for i := range sides {
			if sides[i].x*x+sides[i].y*y > 1-1e-5 {
				sides[i].area += area
				return
			}
		}
		sides = append(sides, side{x, y, area})
	}
	for _, l := range legs {
		d := l.w.Axis[1].Sub(l.w.Axis[0])
		n := math.Hypot(float64(d.X), float64(d.Y))
		x, y := -float64(d.Y)/n, float64(d.X)/n
		add(x, y, l.q.LeftAreaM2)
		add(-x, -y, l.q.RightAreaM2)
		round = round || l.w.Arc != nil
	}
	return sides, round
}

const (
	byLayers   = "modelled layer by layer: web-ifc counts the faces between the layers too"
	behind     = "faces stand behind each other, each counted by web-ifc; what can be boarded is counted once"
	coarse     = "round: web-ifc has coarser chords"
	slanted    = "a side leans: web-ifc gives its own plane, here it is seen square to the wall"
	turnedFace = "faces of the mesh look inwards: web-ifc takes them for the other side"
	noMesh     = "web-ifc makes nothing of this body; the exporter's quantities agree"
	legEnds    = "the free end of one leg looks the way a side of another does: web-ifc counts both"
	guessedCut = "a window without an opening stands in the wall: cut out here, not by web-ifc"
)

// explained lists, by file and GlobalId, where the second opinion differs.
// Every entry must differ: one that agrees fails the test.
var explained = map[string]map[string]string{
	"anonymised-building-78-walls-tessellated.ifc": {
		"3yKL7w3aP50Qs40ucQ6M0z": byLayers,
		"3yKL7w3aP50Qs40ucQ6M2k": byLayers,
		"3yKL7w3aP50Qs40ucQ6M5R": byLayers,
		"3yKL7w3aP50Qs40ucQ6M7Z": byLayers,
		"3yKL7w3aP50Qs40ucQ6MHe": byLayers,
		"3yKL7w3aP50Qs40ucQ6MRv": byLayers,
		"3yKL7w3aP50Qs40ucQ6MU7": byLayers,
		"3yKL7w3aP50Qs40ucQ6NXm": byLayers,
		"3yKL7w3aP50Qs40ucQ6Nd2": byLayers,
		"3yKL7w3aP50Qs40ucQ6Nhu": byLayers,
		"3yKL7w3aP50Qs40ucQ6Nhw": byLayers,
		"3yKL7w3aP50Qs40ucQ6Nhx": byLayers,
		"3yKL7w3aP50Qs40ucQ6Nhz": byLayers,
	},
	"duplex-apartment.ifc": {
		"2O2Fr$t4X7Zf8NOew3FKau": turnedFace,
	},
	"pavilion-ifc4-no-storeys.ifc": {
		"0L$thCRqaHwRzx093rt3ko": legEnds,
		"0M0MzORqaHwRzx093rt3ko": legEnds,
		"0M0sSORqaHwRzx093rt3ko": legEnds,
		"0M1ieCRqaHwRzx093rt3ko": legEnds,
		"0M2G9KRqaHwRzx093rt3ko": legEnds,
		"0OLEO4RqaHwRzx093rt3ko": legEnds,
		"0ONTaSRqaHwRzx093rt3ko": legEnds,
	},
	"sample-house-ifc4.ifc": {
		"3cUkl32yn9qRSPvBJVyWy4": behind,
	},
	"tutorial-walls-openings-clipped.ifc": {
		"1Bg6FSoNzDMwh2dHDeO2B3": guessedCut,
	},
	"two-storey-clipped-walls-quantities.ifc": {
		"2S8PiWcbHBVvIkcplDcB88": slanted,
		"3WaiJWBPDEe8oyz6tpSAJn": slanted,
	},
	"wall-composite-profile.ifc": {
		"26aI5fmBWBJABaLrRFxgWH": noMesh,
	},
	"walls-under-roof-40-clips.ifc": {
		"2XwEpQ1t15Sfcu_FsoNXtq": coarse,
		"2_r1nG7eXBGQQpVhdNzCLJ": coarse,
	},
}

// Oracle: web-ifc 0.0.78, areas of its triangles by the direction they face.
func TestCrossCheck(t *testing.T) {
	lib := os.Getenv("WEBIFC")
	if lib == "" {
		t.Skip("WEBIFC does not name a folder with web-ifc 0.0.78: no second opinion")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed: no second opinion")
	}
	files, err := filepath.Glob(shared(t, "data/ifc") + "/*.ifc")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			p, q, err := readFile(file)
			if err != nil {
				t.Fatal(err)
			}
			legs := map[string][]subject{}
			for i, w := range p.Walls {
				if w.Kind != plan.Curtain {
					g := w.Sources[0].GUID
					legs[g] = append(legs[g], subject{q[i], w})
				}
			}
			if len(legs) > 0 {
				compareOpinions(t, filepath.Base(file), legs, secondOpinion(t, node, lib, file))
			}
		})
	}
}

func compareOpinions(t *testing.T, file string, legs map[string][]subject, by map[string]opinion) {
	for guid, l := range legs {
		sides, round := sidesOf(l)
		same := true
		var worst [2]float64
		for _, s := range sides {
			if all, outer := by[guid].facing(s.x, s.y); !round && !agree(s.area, all) && !agree(s.area, outer) {
				same, worst = false, [2]float64{s.area, all}
			}
		}
		why, listed := explained[file][guid]
		switch {
		case !same && !listed:
			t.Errorf("%s %s: a side has %.4f m², web-ifc %.4f", guid, l[0].w.Sources[0].Ref, worst[0], worst[1])
		case same && listed:
			t.Errorf("%s agrees and need not be explained by %q", guid, why)
		}
	}
}
