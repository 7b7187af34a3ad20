package layout

import (
	"math/rand/v2"
	"slices"
	"testing"

	"boardrun/internal/job"
	"boardrun/internal/rules"
	"boardrun/internal/run"
)

// Widths are mixed where that saves a joint: 102 in of board are one sheet of 54
// and one of 48, not three of 48. Oracle: 54 + 48 = 102.
func TestSolve_mixedCourses(t *testing.T) {
	board := &job.Board{Name: "54 and 48", Kind: "type X", Thickness: inch(0.625), MassM2: 10.7,
		Sheets: []job.SheetSize{{Width: 48 * in, Lengths: []Length{96 * in, 144 * in}}, {Width: 54 * in, Lengths: []Length{96 * in, 144 * in}}}}
	for _, tt := range []struct {
		height float64 // of the board
		widths []Length
	}{{102, []Length{54 * in, 48 * in}}, {96, []Length{48 * in, 48 * in}}, {108, []Length{54 * in, 54 * in}}, {99, []Length{54 * in, 48 * in}}, {150, []Length{54 * in, 48 * in, 48 * in}}} {
		l := sketch{length: 144 * in, spacing: 16 * in, deck: level(inch(tt.height + 0.5)), fixedTop: true, board: board, edit: lying}.best(t)
		if msg := faults(&l, rules.Default(0)); msg != "" {
			t.Errorf("%v in: %s", tt.height, msg)
		}
		var tops []Length // of joints across the studs
		for _, j := range l.Joints {
			if j.From.Y == j.To.Y && !slices.Contains(tops, j.From.Y) {
				tops = append(tops, j.From.Y)
			}
		}
		if len(tops) != len(tt.widths)-1 {
			t.Errorf("%v in: %d joints across, want %d; %s", tt.height, len(tops), len(tt.widths)-1, l.Why)
		}
	}
}

// bruteCourses is a small wall of two courses in whole inches.
type bruteCourses struct {
	length, spacing, sides int
	door                   [3]int // from, to, head; to 0 = none
	lengths                []int
}

const courseHigh = 48

// bruteCourse is a course, or what a door leaves of it.
type bruteCourse struct {
	row, s0, s1 int
	lo          float64
}

func (b bruteCourses) courses() []bruteCourse {
	upper := bruteCourse{0, 0, b.length, 48.5}
	if b.door[1] == 0 {
		return []bruteCourse{upper, {1, 0, b.length, 0.5}}
	}
	return []bruteCourse{upper, {1, 0, b.door[0], 0.5}, {1, b.door[1], b.length, 0.5}}
}

// hangings lists all ways to hang one course: whole sheets of one length from
// one end, ends on the grid.
func (b bruteCourses) hangings(c bruteCourse, start int) (out [][]int, sheets []int) {
	for _, sheet := range b.lengths {
		step := sheet - sheet%b.spacing
		if c.s1-c.s0 <= sheet {
			out, sheets = append(out, nil), append(sheets, sheet)
		}
		for first := c.s0 + 1; first <= c.s0+sheet && first < c.s1; first++ {
			if (first-start)%b.spacing != 0 {
				continue
			}
			var js []int
			for x := first; x < c.s1; x += step {
				js = append(js, x)
				if c.s1-x <= sheet {
					break
				}
			}
			ok := true
			least := min(float64(b.spacing), float64(c.s1-c.s0)/2)
			if float64(js[0]-c.s0) < least || float64(c.s1-js[len(js)-1]) < least {
				ok = false
			}
			for _, x := range js {
				if b.door[1] > 0 && float64(b.door[2])+6 > c.lo && (abs(x-b.door[0]) < 6 || abs(x-b.door[1]) < 6) {
					ok = false
				}
			}
			if ok {
				out, sheets = append(out, js), append(sheets, sheet)
			}
		}
	}
	return out, sheets
}

// bestArea packs pieces end to end into sheets in every way.
func bestArea(pieces, lengths []int) int {
	least := 1 << 30
	var bins []int
	var put func(i int)
	put = func(i int) {
		if i == len(pieces) {
			sum := 0
			for _, f := range bins {
				for _, l := range lengths {
					if f <= l {
						sum += l
						break
					}
				}
			}
			least = min(least, sum)
			return
		}
		for k := range bins {
			if bins[k]+pieces[i] <= lengths[len(lengths)-1] {
				bins[k] += pieces[i]
				put(i + 1)
				bins[k] -= pieces[i]
			}
		}
		bins = append(bins, pieces[i])
		put(i + 1)
		bins = bins[:len(bins)-1]
	}
	put(0)
	return least
}

// optimum returns the least board, in inches of sheet, of all legal hangings.
func (b bruteCourses) optimum() (least int, found bool) {
	least = 1 << 30
	starts := []int{0, b.length % b.spacing}
	for d := range b.spacing {
		if b.door[1] > 0 {
			starts = append(starts, d)
		}
	}
	courses := b.courses()
	each := len(courses)
	for _, start := range starts {
		hang, sheets := make([][][]int, each), make([][]int, each)
		for k, c := range courses {
			hang[k], sheets[k] = b.hangings(c, start)
		}
		var choose func(n int, js [6][]int, rests [2][]int, whole int)
		choose = func(n int, js [6][]int, rests [2][]int, whole int) {
			if n == each*b.sides {
				found = true
				least = min(least, whole+bestArea(rests[0], b.lengths)+bestArea(rests[1], b.lengths))
				return
			}
			k := n % each
			c := courses[k]
		next:
			for i, h := range hang[k] {
				for m := range n {
					apart := 2 // across the wall: not on one stud
					if m/each == n/each {
						if apart = b.spacing; courses[m%each].row == c.row {
							continue
						}
					}
					for _, x := range h {
						for _, y := range js[m] {
							if abs(x-y) < apart {
								continue next
							}
						}
					}
				}
				sheet, at, sum := sheets[k][i], c.s0, whole
				rest := rests
				rest[c.row] = slices.Clone(rests[c.row])
				for _, x := range append(slices.Clone(h), c.s1) {
					if w := x - at; 2*w > sheet && sheet-w < b.spacing {
						sum += sheet
					} else {
						rest[c.row] = append(rest[c.row], w)
					}
					at = x
				}
				j := js
				j[n] = h
				choose(n+1, j, rest, sum)
			}
		}
		choose(0, [6][]int{}, [2][]int{}, 0)
	}
	return least, found
}

// Oracle: brute force over every hanging of two courses on one or two sides of
// small walls: the least board, or nothing legal.
func TestSolve_bruteCourses(t *testing.T) {
	legal := 0
	for seed := range uint64(500) {
		rng := rand.New(rand.NewPCG(seed, 13))
		b := bruteCourses{length: 60 + rng.IntN(150), spacing: 16, sides: 1 + rng.IntN(2), lengths: []int{96, 144}}
		if rng.IntN(3) == 0 {
			b.spacing = 24
		}
		if rng.IntN(2) == 0 {
			if b.sides == 2 { // three courses a side: the brute force takes its time
				b.length = 60 + rng.IntN(60)
			}
			at := 12 + rng.IntN(max(1, b.length-60))
			if at+36 < b.length-12 {
				b.door = [3]int{at, at + 36, 84}
			}
		}
		want, found := b.optimum()
		s := sketch{length: Length(b.length) * in, spacing: Length(b.spacing) * in, deck: level(inch(96.5)), fixedTop: true, edit: lying,
			board: stock("4 ft", inch(0.625), courseHigh*in, 96*in, 144*in), oneSided: b.sides == 1}
		if b.door[1] > 0 {
			s.openings = []run.Opening{door(Length(b.door[0])*in, Length(b.door[1])*in, Length(b.door[2])*in)}
		}
		l := s.best(t)
		if found != l.Faces[0].Ends {
			t.Errorf("seed %d: %+v: brute force finds courses: %v, the layout has them: %v", seed, b, found, l.Faces[0].Ends)
			continue
		}
		if !found {
			continue
		}
		legal++
		if got := l.Cost.Area.SqFt() * 144 / courseHigh; got < float64(want)-0.01 || got > float64(want)+0.01 {
			t.Errorf("seed %d: %+v: %v in of sheet, brute force %d; %s", seed, b, got, want, l.Gap)
		}
	}
	t.Log(legal, " of 500 have legal courses")
}

// Relaxing a rule never raises an exact optimum, in courses either. Oracle: the
// same wall under the stricter rule.
func TestSolve_relaxingCourses(t *testing.T) {
	for seed := range uint64(15) {
		rng := rand.New(rand.NewPCG(seed, 19))
		s := sketch{length: Length(80+rng.IntN(120)) * in, spacing: 16 * in, deck: level(inch(96.5)), fixedTop: true, edit: lying,
			board: fourFoot(), oneSided: rng.IntN(2) == 0}
		s.openings = []run.Opening{door(30*in, 66*in, 84*in)}
		r, env := s.run()
		env.Most = 1
		strict := *env.Rules
		strict.EndStaggerBays, strict.JambBandHard = 2, 9*in
		eased := env.Rules
		env.Rules = &strict
		hard := Solve(r, env)[0]
		env.Rules = eased
		easy := Solve(r, env)[0]
		if hard.Faces[0].Ends && (!easy.Faces[0].Ends || easy.Cost.Area > hard.Cost.Area) {
			t.Errorf("seed %d: %.1f sf, %.1f sf under the stricter rules", seed, easy.Cost.Area.SqFt(), hard.Cost.Area.SqFt())
		}
	}
}
