package app

import (
	"context"
	"fmt"
	"io"
	"math/rand"
	"strings"
	"testing"

	"boardrun/internal/check"
	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// randomPlan makes a building of walls on a coarse grid: corners, tees,
// crossings, free ends, doors, windows, wrapped openings and ducts.
func randomPlan(r *rand.Rand) *plan.Plan {
	p := &plan.Plan{Drawings: []plan.Drawing{{File: "random.dxf", Format: "DXF", Storey: "1", Unit: plan.Unit{Used: "inch", MM: 25.4}}}}
	thick := []measure.Length{39 * measure.EighthInch, 49 * measure.EighthInch, 58 * measure.EighthInch}
	pos := func(n int) measure.Length { return measure.Length(r.Intn(n)*12+r.Intn(4)) * measure.Inch }
	wall := func(a, b geom.Pt) {
		if a == b {
			return
		}
		w := plan.Wall{Storey: "1", Axis: [2]geom.Pt{a, b}, Thickness: thick[r.Intn(len(thick))], Layer: "W",
			Sources: []plan.Source{{File: "random.dxf", Ref: fmt.Sprintf("%X", 0x100+len(p.Walls)), Layer: "W", Entity: "LINE"}}}
		p.Walls = append(p.Walls, w)
	}
	x := []measure.Length{0, pos(20) + 6*measure.Foot}
	x = append(x, x[1]+pos(20)+5*measure.Foot)
	y := []measure.Length{0, pos(14) + 6*measure.Foot}
	y = append(y, y[1]+pos(14)+5*measure.Foot)
	wall(geom.Pt{X: x[0], Y: y[0]}, geom.Pt{X: x[2], Y: y[0]})
	wall(geom.Pt{X: x[0], Y: y[2]}, geom.Pt{X: x[2], Y: y[2]})
	wall(geom.Pt{X: x[0], Y: y[0]}, geom.Pt{X: x[0], Y: y[2]})
	wall(geom.Pt{X: x[2], Y: y[0]}, geom.Pt{X: x[2], Y: y[2]})
	if r.Intn(2) == 0 {
		wall(geom.Pt{X: x[0], Y: y[1]}, geom.Pt{X: x[2], Y: y[1]})
		if r.Intn(2) == 0 { // crossing
			wall(geom.Pt{X: x[1], Y: y[0]}, geom.Pt{X: x[1], Y: y[2]})
		} else { // tee
			wall(geom.Pt{X: x[1], Y: y[0]}, geom.Pt{X: x[1], Y: y[1]})
		}
	} else { // free end
		wall(geom.Pt{X: x[1], Y: y[0]}, geom.Pt{X: x[1], Y: y[1] - measure.Foot})
	}
	for i := range p.Walls {
		randomOpenings(r, p, i)
	}
	return p
}

func randomOpenings(r *rand.Rand, p *plan.Plan, i int) {
	w := &p.Walls[i]
	d := w.Axis[1].Sub(w.Axis[0])
	length := max(d.X.Abs(), d.Y.Abs())
	at := measure.Foot + measure.Length(r.Intn(60))*measure.Inch
	for at+6*measure.Foot < length && r.Intn(4) > 0 {
		o := plan.Opening{Wall: i, Basis: "drawn", HeadBy: "attribute", Sources: []plan.Source{{File: "random.dxf", Ref: fmt.Sprintf("%X", 0x800+len(p.Openings)), Entity: "INSERT"}}}
		switch r.Intn(4) {
		case 0:
			o.Kind, o.Width, o.Sill, o.Head = plan.Window, measure.Length(24+r.Intn(48))*measure.Inch, 36*measure.Inch, 84*measure.Inch
		case 1:
			o.Kind, o.Width, o.Head = plan.Wrapped, measure.Length(36+r.Intn(36))*measure.Inch, 96*measure.Inch
		default:
			o.Kind, o.Width, o.Head = plan.Door, 36*measure.Inch, 84*measure.Inch
		}
		o.At = at + o.Width/2
		p.Openings = append(p.Openings, o)
		at += o.Width + measure.Length(18+r.Intn(90))*measure.Inch
	}
}

// randomJob makes a job file for it.
func randomJob(r *rand.Rand) string {
	pick := func(s ...string) string { return s[r.Intn(len(s))] }
	height := func() string { return pick("to deck", "to deck", "ceiling + 6in", "to ceiling", `10'-0"`) }
	var b strings.Builder
	fmt.Fprintf(&b, "job: random\nunits: inch-pound\nstamp: BID\ndrawings:\n  - {file: random.dxf, storey: \"1\", drawn: finish}\ntypes:\n")
	spacing := pick("16in", "16in", "24in")
	fmt.Fprintf(&b, "  - {name: A, match: [{thickness: 4-7/8in}], stud: 3-5/8in, mil: 18, spacing: %s, both: {boards: 5/8 type X}, left: {height: %s}, right: {height: %s}}\n", spacing, height(), height())
	fmt.Fprintf(&b, "  - {name: B, match: [{thickness: 6-1/8in}], stud: 3-5/8in, mil: 18, spacing: %s, both: {boards: [5/8 type X, 5/8 type X]}, left: {height: %s}, right: {height: %s}}\n", spacing, height(), height())
	fmt.Fprintf(&b, "  - {name: C, match: [{thickness: 7-1/4in}], stud: 6in, mil: 33, spacing: 16in, both: {boards: 5/8 type X, height: %s}}\n", height())
	fmt.Fprintf(&b, "ceilings: {default: %s}\n", pick(`8'-0"`, `9'-0"`, `9'-6"`))
	low := 110 + r.Intn(120)
	fmt.Fprintf(&b, "decks:\n  - {storey: \"1\", points: [[0, 0, %din], [40ft, 0, %din], [0, 40ft, %din]]}\n", low, low+r.Intn(30), low+r.Intn(20))
	fmt.Fprintf(&b, "frames:\n  - {name: D, for: door, kind: %s, sizes-are: leaf}\n  - {name: W, for: window, kind: knock-down, sizes-are: rough}\n  - {name: O, for: wrapped, kind: none}\n", pick("welded", "knock-down", "slip-on"))
	fmt.Fprintf(&b, "stock:\n  5/8 type X: {sheets: {48in: [%s]}}\n", pick("8ft, 10ft, 12ft", "8ft, 9ft, 10ft, 12ft, 14ft", "10ft, 12ft"))
	fmt.Fprintf(&b, "offcuts: %s\n", pick("run", "room", "storey", "job"))
	return b.String()
}

// Oracle: the independent judge (internal/check), which shares no code with the
// layout or the cutting.
func TestRandomJobs_passTheJudge(t *testing.T) {
	n := 60
	if testing.Short() {
		n = 12
	}
	for seed := 1; seed <= n; seed++ {
		r := rand.New(rand.NewSource(int64(seed)))
		p := randomPlan(r)
		text := randomJob(r)
		j, err := job.Parse("random.yaml", []byte(text), nil)
		if err != nil {
			t.Fatalf("seed %d: %v\n%s", seed, err, text)
		}
		effort := "quick"
		if seed%12 == 0 {
			effort = "best" // with the bound for any layout, which the judge holds against what is bought
		}
		out, err := (&pipeline{effort: effort, out: io.Discard}).assemble(context.Background(), j, p, nil)
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		obj := check.Takeoff(out, check.InchLimits)
		for i, o := range obj {
			if i == 30 {
				t.Errorf("seed %d: and %d more", seed, len(obj)-i)
				break
			}
			t.Errorf("seed %d: %s", seed, o)
		}
	}
}
