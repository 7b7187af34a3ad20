package layout

import (
	"math"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
)

// round is a pipe of radius r at station x, height v, as a figure of 24 corners.
func round(x, v, r Length) geom.Poly {
	out := make(geom.Poly, 24)
	for i := range out {
		a := float64(i) * math.Pi / 12
		out[i] = geom.Pt{X: x + Length(float64(r)*math.Cos(a)), Y: v + Length(float64(r)*math.Sin(a))}
	}
	return out
}

// Three round pipes, put in after the board, lie in one sheet: it is one piece
// with three round cut-outs, its area less theirs. Installed first, each has a
// joint across it or a person is asked to score and fold the board round it.
// Oracle: area of a figure of 24 corners, 12 r² sin 15°.
func TestSolve_roundPipes(t *testing.T) {
	for _, first := range []bool{false, true} {
		s := sketch{length: 144 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot(), oneSided: true}
		for _, x := range []Length{56, 64, 72} {
			o := window(x*in-2*in, x*in+2*in, 58*in, 62*in)
			o.Kind, o.First = plan.Penetration, first
			s.openings = append(s.openings, o)
		}
		r, env := s.run()
		f := r.Faces[0]
		for i, x := range []Length{56, 64, 72} {
			f.Holes[i].Rect = geom.Rect{Min: geom.Pt{X: f.U(x*in + 2*in), Y: 58 * in}, Max: geom.Pt{X: f.U(x*in - 2*in), Y: 62 * in}}
			f.Holes[i].Shape = round(f.U(x*in), 60*in, 2*in)
		}
		l := Solve(r, env)[0]
		area, holes := 0.0, 0
		for _, p := range l.Pieces {
			area += p.Area.SqFt() * 144
			holes = max(holes, len(p.Cutouts))
			for _, c := range p.Cutouts {
				if len(c) != 24 {
					t.Errorf("%s: a cut-out of %d corners", p.ID, len(c))
				}
			}
		}
		want := 144*(120-0.75-0.5) - 3*12*4*math.Sin(math.Pi/12)
		if math.Abs(area-want) > 0.001 {
			t.Errorf("first %v: %.4f sq in of board, want %.4f", first, area, want)
		}
		if !first && holes != 3 {
			t.Errorf("after the board: %d cut-outs in one piece", holes)
		}
		if first && holes > 0 && !says(l, codeClosed, plan.Person, "scored and folded") {
			t.Errorf("before the board: closed holes and nothing said: %v", l.Exceptions)
		}
		if msg := jointFaults(&l, rules.Default(0)); msg != "" {
			t.Error(msg)
		}
	}
}
