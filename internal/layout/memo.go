package layout

import (
	"math/bits"
	"slices"
)

// costs are the columns of one ply, its joints between factory edges with the
// rules they break, and the length of its joints, under one set of horizontal
// joints. Lays of one ply, sets of control joints and sweeps from other stud
// starts share most of them.
type costs struct {
	rows     []Length
	columns  memo // by left side and width
	joints   memo // by station
	uprights memo // by station and kind
}

// known returns what is known of p under rows.
func (w *wall) known(p *ply, rows []Length) *costs {
	if w.env.whole {
		return &costs{rows: rows}
	}
	for _, c := range p.costs {
		if slices.Equal(c.rows, rows) {
			return c
		}
	}
	c := &costs{rows: rows}
	p.costs = append(p.costs, c)
	return c
}

// memo keeps tallies by a station and one more number: a table with open
// addresses, at most half full.
type memo struct {
	slots []slot
	kept  []tally
}

type slot struct {
	at, by Length
	n      int32 // place among kept and one more; 0 = free
}

// of returns what is kept under a key, good until the next call; make makes it
// the first time.
func (m *memo) of(at, by Length, make func() tally) *tally {
	if 2*(len(m.kept)+1) > len(m.slots) {
		m.grow()
	}
	s := m.find(at, by)
	if s.n == 0 {
		m.kept = append(m.kept, make())
		*s = slot{at, by, int32(len(m.kept))}
	}
	return &m.kept[s.n-1]
}

// find returns the slot that holds a key or would.
func (m *memo) find(at, by Length) *slot {
	mask := uint64(len(m.slots) - 1)
	// Fibonacci hashing: the high bits of a product with 2^64 / golden ratio.
	k := (uint64(at)<<24 ^ uint64(at)>>40 ^ uint64(by)) * 0x9E3779B97F4A7C15 >> (65 - bits.Len64(uint64(len(m.slots))))
	for ; ; k = (k + 1) & mask {
		if s := &m.slots[k]; s.n == 0 || s.at == at && s.by == by {
			return s
		}
	}
}

func (m *memo) grow() {
	old := m.slots
	m.slots = make([]slot, max(256, 4*len(old)))
	for i := range old {
		if old[i].n != 0 {
			*m.find(old[i].at, old[i].by) = old[i]
		}
	}
}
