package app

import (
	"bytes"
	"context"
	"io"
	"math"
	"slices"
	"testing"

	"boardrun/internal/dxf"
	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/report"
	"boardrun/internal/write"
)

// outline is a polyline of a drawing, in the drawing's unit.
type outline struct {
	layer  string
	closed bool
	x, y   []float64
}

func (o *outline) area() float64 {
	s := 0.0
	for i := range o.x {
		k := (i + 1) % len(o.x)
		s += (o.x[i]-o.x[0])*(o.y[k]-o.y[0]) - (o.x[k]-o.x[0])*(o.y[i]-o.y[0])
	}
	return math.Abs(s) / 2
}

func (o *outline) length() float64 {
	n := len(o.x) - 1
	return math.Hypot(o.x[n]-o.x[0], o.y[n]-o.y[0])
}

// outlines reads the light polylines of a DXF back through the project's own
// reader of group codes.
func outlines(t *testing.T, file []byte) []outline {
	t.Helper()
	s, err := dxf.NewScanner("walls.dxf", bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	var out []outline
	in := false
	for s.Next() {
		if s.Code == 0 {
			if in = string(s.Bytes()) == "LWPOLYLINE"; in {
				out = append(out, outline{})
			}
			continue
		}
		if !in {
			continue
		}
		o := &out[len(out)-1]
		switch s.Code {
		case 8:
			o.layer = string(s.Bytes())
		case 70:
			v, _ := s.Int()
			o.closed = v&1 == 1
		case 10:
			v, _ := s.Float()
			o.x = append(o.x, v)
		case 20:
			v, _ := s.Float()
			o.y = append(o.y, v)
		}
	}
	if err := s.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

// walls.dxf shows each piece with its area and each joint with its length, as
// takeoff.json has them. Oracle: area balance, piece by piece.
func TestWallsDXF_isTheLayout(t *testing.T) {
	duct := caseWall{
		job:    caseJob + "decks: [{storey: \"1\", level: 18'-0\"}]\nstock: {5/8 type X: {sheets: {48in: [8ft, 10ft]}}}\n",
		length: 12 * measure.Foot, thick: 39 * measure.EighthInch,
		openings: []plan.Opening{{Kind: plan.Penetration, At: 72 * measure.Inch, Width: 24 * measure.Inch, Sill: 150 * measure.Inch, Head: 164 * measure.Inch, HeadBy: "drawn", Basis: "drawn"}},
	}
	for name, out := range map[string]*report.Takeoff{"vet-clinic": sample(t, "vet-clinic"), "library-wing": sample(t, "library-wing"), "C-8": duct.take(t)} {
		unit := 25.4
		if out.Job.System == "metric" {
			unit = 1
		}
		var b bytes.Buffer
		if err := write.WallsDXF(&b, out); err != nil {
			t.Fatal(err)
		}
		var pieces, joints, wantPieces, wantJoints []float64
		for _, o := range outlines(t, b.Bytes()) {
			switch {
			case o.layer == report.LayerPiece && o.closed:
				pieces = append(pieces, o.area()*unit*unit/1e6)
			case o.layer == report.LayerJoint && !o.closed:
				joints = append(joints, o.length()*unit)
			}
		}
		for i := range out.Pieces {
			q := &out.Pieces[i]
			a := float64(q.AreaM2)
			for _, c := range q.CutoutsUV {
				a += (&outline{x: column(c, 0), y: column(c, 1)}).area() / 1e6
			}
			wantPieces = append(wantPieces, a)
		}
		for i := range out.Joints {
			q := &out.Joints[i]
			wantJoints = append(wantJoints, math.Hypot(float64(q.ToUV[0]-q.FromUV[0]), float64(q.ToUV[1]-q.FromUV[1])))
		}
		same(t, name+": areas of pieces, m²", pieces, wantPieces, 1e-6)
		same(t, name+": lengths of joints, mm", joints, wantJoints, 1e-3)
	}
}

func column(p report.Poly, k int) []float64 {
	out := make([]float64, len(p))
	for i, q := range p {
		out[i] = float64(q[k])
	}
	return out
}

// same compares two lists of numbers as sets with repetition.
func same(t *testing.T, what string, got, want []float64, within float64) {
	t.Helper()
	slices.Sort(got)
	slices.Sort(want)
	if len(got) != len(want) || len(got) == 0 {
		t.Errorf("%s: %d drawn, %d in the takeoff", what, len(got), len(want))
		return
	}
	for i := range got {
		if math.Abs(got[i]-want[i]) > within {
			t.Errorf("%s: %.6f drawn, %.6f in the takeoff", what, got[i], want[i])
			return
		}
	}
}

// What is not taken off stands on the plan: the shell and the columns of the
// clinic, the same from its plan and its model, and a wall that no type fits.
// Oracle: by hand, the clinic's shell is four walls round three columns; a wall of 3 m × 100 mm has an outline of 0.3 m².
func TestPlanDXF_showsWhatIsNotTakenOff(t *testing.T) {
	areas := func(out *report.Takeoff, layer string) (list []float64) {
		t.Helper()
		var b bytes.Buffer
		if err := write.PlanDXF(&b, out); err != nil {
			t.Fatal(err)
		}
		for _, o := range outlines(t, b.Bytes()) {
			if o.layer == layer && o.closed {
				list = append(list, o.area())
			}
		}
		return list
	}
	for _, name := range []string{"vet-clinic", "vet-clinic-ifc"} {
		out := sample(t, name)
		if n := len(areas(out, report.LayerWallStay)); n != 4 {
			t.Errorf("%s: %d existing walls in plan.dxf, want 4", name, n)
		}
		columns := areas(out, report.LayerObstacle)
		if len(columns) != 3 {
			t.Errorf("%s: %d columns in plan.dxf, want 3", name, len(columns))
		}
	}
	j, err := job.Parse("case.yaml", []byte(caseJob+"decks: [{storey: \"1\", level: 10'-0\"}]\nstock: {5/8 type X: {sheets: {48in: [10ft]}}}\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	source := []plan.Source{{File: "case.dxf", Ref: "1A"}}
	wall := func(y measure.Length, thick measure.Length, s plan.Status) plan.Wall {
		return plan.Wall{Storey: "1", Axis: [2]geom.Pt{{Y: y}, {X: 3 * measure.Metre, Y: y}}, Thickness: thick, Status: s, Sources: source}
	}
	p := &plan.Plan{
		Drawings: []plan.Drawing{{File: "case.dxf", Storey: "1", Unit: plan.Unit{MM: 1}}},
		Walls: []plan.Wall{
			wall(0, 39*measure.EighthInch, plan.New), wall(3*measure.Metre, 100*measure.Millimetre, plan.New),
			wall(6*measure.Metre, 100*measure.Millimetre, plan.Demolish), wall(9*measure.Metre, 100*measure.Millimetre, plan.Existing),
		},
	}
	out, err := (&pipeline{effort: "quick", out: io.Discard}).assemble(context.Background(), j, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, layer := range []string{report.LayerWallLeft, report.LayerWallGone, report.LayerWallStay} {
		if got := areas(out, layer); len(got) != 1 || math.Abs(got[0]-0.3e6) > 1 {
			t.Errorf("%s: outlines of %v mm², want one of 300000", layer, got)
		}
	}
	// The plan gave no linework, as a model: the walls' outlines stand for it.
	if len(out.Linework) != 4 {
		t.Errorf("%d outlines to look at, want 4", len(out.Linework))
	}
}
