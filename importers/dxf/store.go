package dxf

import "math"

// The store keeps what was read in pages without pointers: nothing is copied
// when it grows, the garbage collector has nothing to follow, and a LINE takes
// 64 bytes.

// kind is the shape of a record's numbers; see the parsers for their order.
type kind uint8

const (
	kLine      kind = iota // x0 y0 x1 y1 [z0 z1 thickness nx ny nz]
	kPoly                  // width [elevation thickness nx ny nz] (x y [bulge] | x y z)…
	kArc                   // x y radius start end [z thickness nx ny nz]
	kPaths                 // (count closed (x y z)…)…
	kFill                  // pattern (count (x y z)…)…
	kText                  // string x y z height angle nx ny nz
	kInsert                // x y z sx sy sz angle columns rows dx dy nx ny nz
	kDimension             // string x y z measured block nx ny nz
	kOther                 // reason x y z (x y z)…
)

// flags of a record.
const (
	fInvisible = 1 << iota
	fClosed
	fBulge  // kPoly: vertices carry bulges
	fZ      // kPoly: vertices carry z
	fExt    // the numbers in brackets are there
	fFull   // kArc: CIRCLE
	fAttrib // kText: belongs to the INSERT before it; tag is its tag
	fCut    // kInsert: would close a cycle, not followed
)

// rec is one entity.
type rec struct {
	handle uint64 // 0: none
	data   uint32 // its numbers in the pool
	n      uint32 // how many
	line   uint32 // where it begins in the file, 0 in binary files
	layer  uint32
	ref    uint32 // kInsert: block; kText with fAttrib: tag
	ltype  uint16
	colour int16
	typ    uint16
	kind   kind
	flags  uint8
}

// Page sizes, in elements. Small ones waste little in small files.
const (
	recBits   = 10
	floatBits = 12
	byteBits  = 14
)

type store struct {
	recs   [][]rec
	n      uint32 // number of records
	floats [][]float64
	bytes  [][]byte
}

// add appends a record and returns its number.
func (s *store) add(r rec) uint32 {
	if s.n&(1<<recBits-1) == 0 {
		s.recs = append(s.recs, make([]rec, 1<<recBits))
	}
	s.recs[s.n>>recBits][s.n&(1<<recBits-1)] = r
	s.n++
	return s.n - 1
}

func (s *store) rec(i uint32) *rec { return &s.recs[i>>recBits][i&(1<<recBits-1)] }

// keep copies numbers into the pool. A run of numbers is never split; one
// longer than a page gets a page of its own.
func (s *store) keep(f []float64) (at, n uint32) {
	last := len(s.floats) - 1
	if last < 0 || cap(s.floats[last])-len(s.floats[last]) < len(f) {
		s.floats = append(s.floats, make([]float64, 0, max(1<<floatBits, len(f))))
		last++
	}
	p := &s.floats[last]
	at = uint32(last)<<floatBits | uint32(len(*p))
	*p = append(*p, f...)
	return at, uint32(len(f))
}

// data returns the numbers of a record.
func (s *store) data(r *rec) []float64 {
	off := r.data & (1<<floatBits - 1)
	return s.floats[r.data>>floatBits][off : off+r.n : off+r.n]
}

// keepString copies text into the pool and returns a number that finds it: the
// bits hold place and length.
func (s *store) keepString(t string) float64 {
	if t == "" {
		return math.Float64frombits(0)
	}
	last := len(s.bytes) - 1
	if last < 0 || cap(s.bytes[last])-len(s.bytes[last]) < len(t) {
		s.bytes = append(s.bytes, make([]byte, 0, max(1<<byteBits, len(t))))
		last++
	}
	p := &s.bytes[last]
	at := uint64(last)<<byteBits | uint64(len(*p))
	*p = append(*p, t...)
	// 24 bits of length (texts are cut at 256 KiB when read), 38 of place; the
	// two highest bits stay clear so that the number is never a NaN.
	return math.Float64frombits(at<<24 | uint64(len(t)))
}

// string returns the text that keepString stored.
func (s *store) string(f float64) string {
	v := math.Float64bits(f)
	n := v & (1<<24 - 1)
	if n == 0 {
		return ""
	}
	at := v >> 24
	off := at & (1<<byteBits - 1)
	return string(s.bytes[at>>byteBits][off : off+n])
}
