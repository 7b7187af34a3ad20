package parallel

import (
	"slices"
	"testing"
)

func TestEach(t *testing.T) {
	for _, n := range []int{0, 1, 7, 1000} {
		got := make([]int, n)
		Each(n, func(i int) { got[i] += i + 1 })
		if i := slices.IndexFunc(got, func(v int) bool { return v == 0 }); i >= 0 {
			t.Errorf("%d of %d was not done", i, n)
		}
		for i, v := range got {
			if v != i+1 {
				t.Errorf("%d of %d was done more than once", i, n)
			}
		}
	}
}
