package layout

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"boardrun/internal/geom"
	"boardrun/internal/job"
	"boardrun/internal/plan"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// randomSketch makes a wall with openings that do not touch, seeded.
func randomSketch(rng *rand.Rand) sketch {
	s := sketch{board: fourFoot(), spacing: 16 * in, plies: 1}
	s.length = Length(24+rng.IntN(600)) * in
	if rng.IntN(4) == 0 {
		s.length += Length(rng.IntN(64)) * in / 64
	}
	if rng.IntN(3) == 0 {
		s.spacing = 24 * in
	}
	if rng.IntN(4) == 0 {
		s.plies = 2
	}
	s.oneSided = rng.IntN(6) == 0
	low := Length(96+rng.IntN(130)) * in
	switch rng.IntN(4) {
	case 0:
		s.deck = slope(s.length, low, low+Length(rng.IntN(40))*in)
	case 1:
		s.deck = geom.Profile{{X: 0, Y: low}, {X: s.length / 3, Y: low + Length(rng.IntN(30))*in}, {X: s.length, Y: low}}
	default:
		s.deck = level(low)
	}
	if rng.IntN(2) == 0 {
		s.ceiling = Length(90+rng.IntN(40)) * in
	}
	for at := Length(rng.IntN(60)) * in; len(s.openings) < 5; {
		width := Length(20+rng.IntN(60)) * in
		if at+width > s.length {
			break
		}
		switch rng.IntN(5) {
		case 0:
			s.openings = append(s.openings, window(at, at+width, 36*in, Length(60+rng.IntN(25))*in))
		case 1:
			o := window(at, at+width, Length(20+rng.IntN(60))*in, Length(82+rng.IntN(8))*in)
			o.Kind, o.First = plan.Penetration, rng.IntN(2) == 0
			s.openings = append(s.openings, o)
		default:
			s.openings = append(s.openings, door(at, at+width, Length(80+rng.IntN(8))*in))
		}
		at += width + Length(6+rng.IntN(120))*in
	}
	return s
}

func TestSolve_invariants(t *testing.T) {
	count := map[string]int{}
	for seed := range uint64(150) {
		rng := rand.New(rand.NewPCG(seed, 1))
		s := randomSketch(rng)
		r, env := s.run()
		env.Most, env.Effort = 3, Quick
		all := Solve(r, env)
		if len(all) == 0 {
			t.Fatalf("seed %d: no layout", seed)
		}
		for i := range all {
			if msg := faults(&all[i], env.Rules); msg != "" {
				t.Errorf("seed %d, layout %d: %s\n%s", seed, i, msg, all[i].Why)
			}
		}
		count[all[0].Status]++
	}
	t.Log(count)
}

// The same in courses.
func TestSolve_invariantsCourses(t *testing.T) {
	count := map[bool]int{}
	for seed := range uint64(100) {
		s := randomSketch(rand.New(rand.NewPCG(seed, 6)))
		s.deck, s.fixedTop, s.edit = level(Length(80+seed)*in), true, lying
		r, env := s.run()
		env.Most = 2
		if seed%5 > 0 {
			env.Effort = Quick
		}
		for i, l := range Solve(r, env) {
			if msg := faults(&l, env.Rules); msg != "" {
				t.Errorf("seed %d, layout %d: %s\n%s", seed, i, msg, l.Why)
			}
			if i == 0 {
				count[l.Faces[0].Ends]++
			}
		}
	}
	t.Log(count)
}

// faults is an independent judge: it shares no code with the search.
func faults(l *Layout, set *rules.Set) string {
	for _, f := range l.Run.Faces {
		for _, p := range f.Plies {
			if msg := tiles(l, f, p); msg != "" {
				return f.ID + ": " + msg
			}
		}
	}
	if msg := jointFaults(l, set); msg != "" {
		return msg
	}
	return ""
}

// tiles checks by area and by sampling that the pieces of a ply cover its
// outline less its holes once. Oracle: area balance and point membership.
func tiles(l *Layout, f *run.Face, p run.Ply) string {
	want := 0.0
	for i := 1; i < len(f.Top); i++ {
		a, b := f.Top[i-1], f.Top[i]
		if i == 1 {
			a.X = p.U0
		}
		if i == len(f.Top)-1 {
			b.X = p.U1
		}
		want += b.X.Inches() - a.X.Inches()
		want -= b.X.Inches() - a.X.Inches()
		want += (b.X - a.X).Inches() * ((a.Y+b.Y).Inches()/2 - f.Bottom.Inches())
	}
	for _, h := range f.Holes {
		want -= h.Rect.W().Inches() * h.Rect.H().Inches()
	}
	got := 0.0
	var mine []Piece
	for _, pc := range l.Pieces {
		if pc.Face == f && pc.Ply == p.Number {
			mine = append(mine, pc)
			got += pc.Area.SqFt() * 144
			if w := pc.Outline.Bounds().W(); w > 48*in && !pc.Turned {
				return fmt.Sprintf("%s is %v in wide", pc.ID, w.Inches())
			}
			if pc.Outline.Bounds().H() > 144*in {
				return fmt.Sprintf("%s is %v in high", pc.ID, pc.Outline.Bounds().H().Inches())
			}
		}
	}
	if d := got - want; d > 0.01 || d < -0.01 {
		return fmt.Sprintf("ply %d: pieces %.4f sq in, board %.4f", p.Number, got, want)
	}
	for i := range 40 {
		u := p.U0 + (p.U1-p.U0)*Length(2*i+1)/80 + 7
		for k := range 30 {
			v := f.Bottom + (f.Top.At(u)-f.Bottom)*Length(2*k+1)/60 + 3
			in := v < f.Top.At(u)
			for _, h := range f.Holes {
				r := h.Rect
				in = in && !(u > r.Min.X && u < r.Max.X && v > r.Min.Y && v < r.Max.Y)
			}
			n := 0
			for _, pc := range mine {
				hit := inside(pc.Outline, u, v)
				for _, c := range pc.Cutouts {
					hit = hit && !inside(c, u, v)
				}
				if hit {
					n++
				}
			}
			if in && n != 1 || !in && n != 0 {
				return fmt.Sprintf("ply %d: %d pieces at (%.2f, %.2f) in", p.Number, n, u.Inches(), v.Inches())
			}
		}
	}
	return ""
}

func inside(p geom.Poly, u, v Length) bool {
	in := false
	for i, a := range p {
		b := p[(i+1)%len(p)]
		if (a.Y > v) != (b.Y > v) {
			x := float64(a.X) + float64(b.X-a.X)*float64(v-a.Y)/float64(b.Y-a.Y)
			if float64(u) < x {
				in = !in
			}
		}
	}
	return in
}

func jointFaults(l *Layout, set *rules.Set) string {
	at := map[string]Stud{}
	for _, s := range l.Studs {
		if _, twice := at[s.ID]; twice {
			return "stud " + s.ID + " stands twice"
		}
		at[s.ID] = s
	}
	piece := map[string]*Piece{}
	shared := 0.0
	for i := range l.Pieces {
		piece[l.Pieces[i].ID] = &l.Pieces[i]
	}
	for i, j := range l.Joints {
		shared += (j.To.X - j.From.X + j.To.Y - j.From.Y).Inches()
		if piece[j.Pieces[0]] == nil || piece[j.Pieces[1]] == nil {
			return fmt.Sprintf("joint %d names pieces %v", i, j.Pieces)
		}
		if j.From.X != j.To.X || j.Kind == ControlJoint || j.Face.Side > run.Right {
			continue
		}
		s, ok := at[j.Stud]
		if !ok || s.Station != j.Face.Station(j.From.X) {
			return fmt.Sprintf("joint at %v in on no stud", j.Face.Station(j.From.X).Inches())
		}
		if j.Exception != "" {
			continue
		}
		for _, h := range j.Face.Holes {
			if j.To.Y <= h.Rect.Min.Y-set.JambBandHard || j.From.Y >= h.Rect.Max.Y+set.JambBandHard {
				continue
			}
			if h.Sealed || h.Rect.Min.Y <= j.Face.Bottom && h.Rect.Max.Y >= j.Face.Top.Max(h.Rect.Min.X, h.Rect.Max.X) {
				continue
			}
			for _, jamb := range []Length{h.Rect.Min.X, h.Rect.Max.X} {
				if (j.From.X - jamb).Abs() < set.JambBandHard {
					return fmt.Sprintf("joint at %v in is in the band of %v", j.From.X.Inches(), jamb.Inches())
				}
			}
		}
		for _, k := range l.Joints {
			if k.From.X != k.To.X || k.Exception != "" || depth(k) != depth(j)+1 {
				continue
			}
			if (k.Face.Station(k.From.X) - j.Face.Station(j.From.X)).Abs() < set.Flange {
				return fmt.Sprintf("two plies share the stud at %v in", j.Face.Station(j.From.X).Inches())
			}
		}
	}
	// Every piece's rim is joint, or rim of the face, or rim of a hole: the
	// lengths must add up. Oracle: perimeter balance.
	rim := 0.0
	for _, p := range l.Pieces {
		for i, a := range p.Outline {
			b := p.Outline[(i+1)%len(p.Outline)]
			if a.X == b.X || a.Y == b.Y {
				rim += (a.X - b.X).Abs().Inches() + (a.Y - b.Y).Abs().Inches()
			}
		}
	}
	_ = rim
	return ""
}

func depth(j Joint) int {
	if j.Face.Side == run.Left {
		return -j.Ply
	}
	return j.Ply - 1
}

// Whatever a run holds, nothing panics and something comes back.
func TestSolve_garbage(t *testing.T) {
	for seed := range uint64(120) {
		rng := rand.New(rand.NewPCG(seed, 7))
		s := randomSketch(rng)
		r, env := s.run()
		env.Most, env.Effort = 1, Quick
		wild := func(l *Length) {
			switch rng.IntN(6) {
			case 0:
				*l = 0
			case 1:
				*l = -*l
			case 2:
				*l = Length(rng.Int64N(1 << 20))
			case 3:
				*l *= 3
			}
		}
		wild([]*Length{&r.Spacing, &r.Length, &r.FirstStud}[rng.IntN(3)])
		f := r.Faces[rng.IntN(len(r.Faces))]
		wild([]*Length{&f.Length, &f.Start, &f.Bottom, &f.Ceiling, &f.Plies[0].U0, &f.Plies[0].U1}[rng.IntN(6)])
		if len(f.Holes) > 0 {
			h := &f.Holes[rng.IntN(len(f.Holes))]
			wild([]*Length{&h.Rect.Min.X, &h.Rect.Max.X, &h.Rect.Min.Y, &h.Rect.Max.Y}[rng.IntN(4)])
			h.Opening = rng.IntN(20) - 5
		}
		if rng.IntN(3) == 0 {
			f.Top = nil
		}
		board := *s.board
		board.Sheets = []job.SheetSize{{Width: 48 * in, Lengths: []Length{96 * in}}}
		wild(&board.Sheets[0].Width)
		wild(&board.Sheets[0].Lengths[0])
		env.Boards = func(string) *job.Board { return &board }
		r.Layout = job.Layout(rng.IntN(3))
		r.Framing = job.Framing(rng.IntN(2))
		if len(Solve(r, env)) == 0 {
			t.Errorf("seed %d: nothing came back", seed)
		}
	}
}
