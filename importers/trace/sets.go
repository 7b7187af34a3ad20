package trace

// sets are disjoint sets of the numbers 0 … n−1; each is told by its least
// member.
type sets []int32

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

// of returns the set that i is in.
func (s sets) of(i int32) int32 {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join makes one of the sets of i and k.
func (s sets) join(i, k int32) {
	a, b := s.of(i), s.of(k)
	s[max(a, b)] = min(a, b)
}
