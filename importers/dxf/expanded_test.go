package dxf

import (
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"
)

// decompose prints, for each file, the length of the linework of modelspace by
// type with all inserts decomposed.
const decompose = `
import sys, math, ezdxf
from ezdxf import path
def explode(entities):
    for e in entities:
        if e.dxftype() != "INSERT": yield e
        elif e.mcount > 1:
            for i in e.multi_insert(): yield from explode(i.virtual_entities())
        else: yield from explode(e.virtual_entities())
def length(e):
    p = path.make_path(e)
    v = list(p.flattening(1e-5, segments=256)) if p.has_curves else list(p.control_vertices())
    return sum(math.hypot(b.x - a.x, b.y - a.y) for a, b in zip(v, v[1:]))
for n, f in enumerate(sys.argv[1:]):
    total = {}
    for e in explode(ezdxf.readfile(f).modelspace()):
        t = e.dxftype()
        if t in ("LINE", "LWPOLYLINE", "ARC", "CIRCLE", "ELLIPSE"): total[t] = total.get(t, 0) + length(e)
    for t in total: print(n, t, "%.9g" % total[t])
`

// Oracle: ezdxf 0.18.1, every insert decomposed.
func TestExpanded(t *testing.T) {
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		t.Skip("python3-ezdxf is not there")
	}
	files := []string{"house-plan-aia-bound-xrefs.dxf", "nested-insert-levels.dxf", "minsert-with-attribs.dxf",
		"mirrored-extrusion-0-0-minus1.dxf", "villa-plan-wall-high-low.dxf", "door-blocks-with-wipeout-on-wall.dxf",
		"dynamic-block-flip.dxf", "custom-blocks.dxf", "hatches-with-arc-edges.dxf", "insert-with-attribute.dxf"}
	args := []string{"-c", decompose}
	for _, f := range files {
		args = append(args, shared(t, "data", "dxf", f))
	}
	out, err := exec.Command(python, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	ours := make([]map[string]float64, len(files))
	for i, f := range files {
		d, _, err := readShared(t, Options{UnitMM: 1}, "data", "dxf", f)
		if err != nil {
			t.Fatal(err)
		}
		ours[i] = map[string]float64{}
		for _, s := range d.Segments {
			ours[i][s.Type] += math.Hypot(s.B[0]-s.A[0], s.B[1]-s.A[1])
		}
		for _, a := range d.Arcs {
			ours[i][a.Type] += a.Radius * (a.End - a.Start) * math.Pi / 180
		}
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	for _, l := range lines {
		var n int
		var typ string
		var want float64
		if _, err := fmt.Sscan(l, &n, &typ, &want); err != nil {
			t.Fatalf("%q: %v", l, err)
		}
		// Both flatten ellipses, each its own way.
		if got := ours[n][typ]; math.Abs(got-want) > 2e-4*math.Max(want, 1e-3) {
			t.Errorf("%s: %s %g long, want %g", files[n], typ, got, want)
		}
	}
	if len(lines) < 18 {
		t.Errorf("only %d lines:\n%s", len(lines), out)
	}
}
