package cutting

import "boardrun/internal/measure"

// part is something that can be stacked along a sheet: one block, several times.
type part struct {
	b     *block
	h     measure.Length
	value float64
	max   int
	// class > 0 marks a sloped blank as wide as the sheet: parts of one class
	// have equal slopes and pair up head to tail along one slanted cut, the
	// first of a pair taking h, the second close.
	class int
	close measure.Length
}

// shelf is the dynamic programme that stacks parts along a sheet: for every
// bucket of length the most valuable stack, with its exact length. It is exact
// where all lengths are multiples of the bucket, else nearly so; what it returns
// always fits.
type shelf struct {
	step  measure.Length
	n     int // buckets
	val   []float64
	len   []measure.Length
	moves []move
	from  [][]int32 // per move and state: state before + 1, 0 = not taken
	spare [][]int32 // rows to be used again
}

type move struct{ part, times, parity int }

const parities = 2 // all pairs closed, or one still open

// reset prepares s for parts, keeping its memory.
func (s *shelf) reset(parts []part, longest measure.Length, maxBuckets int) {
	g := longest
	for _, p := range parts {
		g = gcd(g, p.h)
		if p.class > 0 {
			g = gcd(g, p.close)
		}
	}
	if longest/g > measure.Length(maxBuckets) {
		g = (longest + measure.Length(maxBuckets) - 1) / measure.Length(maxBuckets)
	}
	s.step, s.n = g, int(longest/g)+1
	s.spare = append(s.spare, s.from...)
	s.from, s.moves = s.from[:0], s.moves[:0]
}

func gcd(a, b measure.Length) measure.Length {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// run fills the table. parts of one class must be neighbours.
func (s *shelf) run(parts []part, longest measure.Length) {
	size := s.n * parities
	if cap(s.val) < size {
		s.val, s.len = make([]float64, size), make([]measure.Length, size)
	}
	s.val, s.len = s.val[:size], s.len[:size]
	clear(s.len)
	for i := range s.val {
		s.val[i] = -1
	}
	s.val[0] = 0
	for i, p := range parts {
		if p.value <= 0 || p.h > longest {
			continue
		}
		if p.class > 0 {
			least := min(p.h, p.close)
			for k := min(p.max, int(longest/max(least, 1))); k > 0; k-- {
				s.slopedMove(i, p, longest)
			}
			if i+1 == len(parts) || parts[i+1].class != p.class {
				s.endClass()
			}
			continue
		}
		left := min(p.max, int(longest/p.h))
		for k := 1; left > 0; k *= 2 {
			k = min(k, left)
			s.flatMove(i, k, p, longest)
			left -= k
		}
	}
}

func (s *shelf) row() []int32 {
	var r []int32
	size := s.n * parities
	if n := len(s.spare); n > 0 && cap(s.spare[n-1]) >= size {
		r = s.spare[n-1][:size]
		s.spare = s.spare[:n-1]
		clear(r)
	} else {
		r = make([]int32, size)
	}
	s.from = append(s.from, r)
	return r
}

func (s *shelf) flatMove(i, times int, p part, longest measure.Length) {
	row := s.row()
	s.moves = append(s.moves, move{i, times, 0})
	h, v := p.h*measure.Length(times), p.value*float64(times)
	for k := s.n - 1; k >= 0; k-- {
		if s.val[k] >= 0 && s.len[k]+h <= longest {
			s.offer(row, k, int((s.len[k]+h)/s.step), s.val[k]+v, s.len[k]+h)
		}
	}
}

func (s *shelf) slopedMove(i int, p part, longest measure.Length) {
	row := s.row()
	s.moves = append(s.moves, move{i, 1, 1})
	for k := s.n - 1; k >= 0; k-- {
		closed, open := s.val[k], s.val[s.n+k]
		cl, ol := s.len[k], s.len[s.n+k]
		if closed >= 0 && cl+p.h <= longest {
			s.offer(row, k, s.n+int((cl+p.h)/s.step), closed+p.value, cl+p.h)
		}
		if open >= 0 && ol+p.close <= longest {
			s.offer(row, s.n+k, int((ol+p.close)/s.step), open+p.value, ol+p.close)
		}
	}
}

// endClass gives up an open pair: its blank stays alone.
func (s *shelf) endClass() {
	row := s.row()
	s.moves = append(s.moves, move{-1, 0, 0})
	for k := 0; k < s.n; k++ {
		if s.val[s.n+k] >= 0 {
			s.offer(row, s.n+k, k, s.val[s.n+k], s.len[s.n+k])
		}
		s.val[s.n+k] = -1
	}
}

func (s *shelf) offer(row []int32, from, to int, v float64, l measure.Length) {
	if v > s.val[to]+1e-12 || v >= s.val[to]-1e-12 && l < s.len[to] {
		s.val[to], s.len[to] = v, l
		row[to] = int32(from) + 1
	}
}

// best returns the most valuable stack not longer than length, as part indices
// in the order they were taken; parts of a class pair up as they come.
func (s *shelf) best(length measure.Length) (taken []int, value float64) {
	at := 0
	for k := 0; k < s.n; k++ {
		if s.val[k] > s.val[at]+1e-12 && s.len[k] <= length {
			at = k
		}
	}
	value = s.val[at]
	for m := len(s.moves) - 1; m >= 0; m-- {
		if f := s.from[m][at]; f != 0 {
			for k := 0; k < s.moves[m].times; k++ {
				taken = append(taken, s.moves[m].part)
			}
			at = int(f) - 1
		}
	}
	for i, j := 0, len(taken)-1; i < j; i, j = i+1, j-1 {
		taken[i], taken[j] = taken[j], taken[i]
	}
	return taken, value
}
