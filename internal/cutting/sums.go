package cutting

import "math"

// sums knows what whole numbers of sheets can cost together.
type sums struct {
	unit  int64   // all costs are multiples of it
	steps []int64 // each cost in units
	can   []bool  // sums in units from 0 on; grown when asked
}

// mostSums is how far sums are told apart; beyond it every multiple of the unit
// counts as one. Keeps the table small; sheets that cost next to nothing need it.
const mostSums = 1 << 20

func newSums(each []int64) *sums {
	s := &sums{can: []bool{true}}
	for _, c := range each {
		for a, b := s.unit, c; ; a, b = b, a%b {
			if b == 0 {
				s.unit = a
				break
			}
		}
	}
	for _, c := range each {
		s.steps = append(s.steps, c/s.unit)
	}
	return s
}

// reaches reports whether n units are a sum.
func (s *sums) reaches(n int64) bool {
	for k := int64(len(s.can)); k <= n; k++ {
		can := false
		for _, c := range s.steps {
			can = can || c <= k && s.can[k-c]
		}
		s.can = append(s.can, can)
	}
	return s.can[n]
}

// up returns the least sum not below x.
func (s *sums) up(x float64) int64 {
	x *= 1 - 1e-9 // guards against float noise lifting a bound by a sheet
	if x <= 0 {
		return 0
	}
	n := int64(math.Ceil(x / float64(s.unit)))
	for n <= mostSums && !s.reaches(n) {
		n++
	}
	return n * s.unit
}

// down returns the greatest sum not above x, which is not below 0.
func (s *sums) down(x int64) int64 {
	n := x / s.unit
	for n <= mostSums && !s.reaches(n) {
		n--
	}
	return n * s.unit
}

// roundUp returns the least sum of whole numbers of sheets not below x.
func roundUp(x float64, each []int64) int64 { return newSums(each).up(x) }
