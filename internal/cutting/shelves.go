package cutting

import (
	"math/bits"

	"boardrun/internal/measure"
)

// shelves finds the bricks that can lie against another with little waste. They
// are sorted by the side they join along, in steps of an inch, and roughly by the
// other side.
type shelves struct {
	side [][sizes][]int32
}

// sizes is how many classes of the other side are told apart: below 6 in, below
// 12, below 24 and so on.
const (
	sizes     = 6
	sideStep  = measure.Inch
	leastSize = 6 * measure.Inch
)

func sizeOf(l measure.Length) int {
	return min(bits.Len64(uint64(l/leastSize)), sizes-1)
}

// put adds brick i, along × other.
func (s *shelves) put(i int32, along, other measure.Length) {
	k := int(along / sideStep)
	for len(s.side) <= k {
		s.side = append(s.side, [sizes][]int32{})
	}
	n := sizeOf(other)
	s.side[k][n] = append(s.side[k][n], i)
}

// near calls f for the bricks that lie against one of along × other such that
// their other sides come to at most longest and what is lost beside the shorter
// can be within room; some that do not are among them.
func (s *shelves) near(along, other, longest measure.Length, room float64, f func(i int32)) {
	for k := range s.side {
		low := measure.Length(k) * sideStep
		longer := float64(low-along) * float64(other) // lost if it is longer than along
		if longer > room {
			return
		}
		shorter := float64(along - low - sideStep)
		for n, list := range s.side[k] {
			least := measure.Length(0)
			if n > 0 {
				least = leastSize << (n - 1)
			}
			if other+least > longest || shorter > 0 && shorter*float64(least) > room {
				break
			}
			for _, i := range list {
				f(i)
			}
		}
	}
}
