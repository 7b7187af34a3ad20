package cutting

import "testing"

// Oracle: by hand. Sheets of 8, 10 and 12: no sum is odd, none is 2, 4, 6 or 14.
func TestSums(t *testing.T) {
	s := newSums([]int64{8, 10, 12})
	for _, c := range []struct {
		x        float64
		up, down int64
	}{{0, 0, 0}, {1, 8, 0}, {8, 8, 8}, {9, 10, 8}, {13, 16, 12}, {14, 16, 12}, {15.5, 16, 12}, {17, 18, 16}, {100, 100, 100}, {101, 102, 100}} {
		if got := s.up(c.x); got != c.up {
			t.Errorf("up from %v: %d, want %d", c.x, got, c.up)
		}
		if got := s.down(int64(c.x)); got != c.down {
			t.Errorf("down from %v: %d, want %d", c.x, got, c.down)
		}
	}
}
