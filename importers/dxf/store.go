package dxf

import (
	"math"
	"unsafe"
)

// The store keeps what was read as one stream of 64-bit words in pages without
// pointers: nothing is copied when it grows, the garbage collector has nothing
// to follow, and a LINE takes 40 or 48 bytes. Records are read in the order they
// were written:
//
//	word 0   style (22 bits), payload length (28), flags (12)
//	word 1   line (30 bits), low half of the handle (32)
//	word 2   the whole handle, only with fWide
//	payload  numbers by kind, see below
//
// The two highest bits of words 0 and 1 are clear and handles are split, so that
// no word read as a float64 is a NaN that a copy might change.

// kind is the shape of a record's payload. What stands in brackets is there by
// the flag that is named.
type kind uint8

const (
	kLine      kind = iota // x0 y0 x1 (y1 but fLevel) fExt[z0 z1 thickness]
	kPoly                  // width fExt[z thickness nx ny nz] (x y fBulge[bulge] fZ[z])…
	kArc                   // x y radius start end fExt[z thickness nx ny nz]
	kPaths                 // (count closed (x y z)…)…
	kFill                  // pattern (count (x y z)…)…
	kText                  // string x y height fTurned[angle] fAttrib[tag] fExt[z nx ny nz]
	kInsert                // block x y angle sx sy fExt[z sz columns rows dx dy nx ny nz]
	kDimension             // string block x y measured fExt[z nx ny nz]
	kOther                 // reason x y z (x y z)…
)

// flags of a record.
const (
	fInvisible = 1 << iota
	fClosed
	fBulge
	fZ
	fExt
	fFull   // kArc: CIRCLE
	fAttrib // kText: belongs to the INSERT before it
	fTurned // kText: angle is not 0
	fLevel  // kLine: y1 is y0
	fCut    // kInsert: would close a cycle, not followed
	fWide   // the handle has more than 32 bits
)

// style is what many entities share.
type style struct {
	layer  uint32
	ltype  uint16
	colour int16
	typ    uint16
	kind   kind
}

// rec is a record taken apart.
type rec struct {
	style
	flags  uint16
	line   uint32 // where it begins in the file, 0 in binary files
	handle uint64 // 0: none
	x      []float64
}

// span is a run of records by their places in the stream, end excluded.
type span struct{ first, end uint32 }

const (
	pageBits = 12 // words of a page; a longer record gets a page of its own
	pageMask = 1<<pageBits - 1
	byteBits = 14

	maxStyles = 1 << 22
	maxLine   = 1 << 30
)

type store struct {
	pages  [][]float64
	styles []style
	byKey  map[style]uint32
	last   style
	lastN  uint32
	bytes  [][]byte
}

// here is the place behind the last record.
func (s *store) here() uint32 {
	n := len(s.pages)
	if n == 0 {
		return 0
	}
	return uint32(n-1)<<pageBits + uint32(min(len(s.pages[n-1]), 1<<pageBits))
}

// add appends a record.
func (s *store) add(st style, flags uint16, line uint32, handle uint64, payload []float64) {
	head := 2
	wide := handle >= 1<<32
	if wide {
		head = 4
		flags |= fWide
	}
	need := head + len(payload)
	n := len(s.pages) - 1
	if n < 0 || cap(s.pages[n])-len(s.pages[n]) < need {
		s.pages = append(s.pages, make([]float64, 0, max(1<<pageBits, need)))
		n++
	}
	p := s.pages[n]
	w0 := uint64(s.style(st))<<40 | uint64(len(payload))<<12 | uint64(flags)
	w1 := uint64(min(line, maxLine-1))<<32 | handle&(1<<32-1)
	p = append(p, math.Float64frombits(w0), math.Float64frombits(w1))
	if wide {
		p = append(p, float64(handle>>32), 0)
	}
	s.pages[n] = append(p, payload...)
}

// style numbers a style. Beyond the limit the last number stands in: no file
// that was not made to do harm holds four million.
func (s *store) style(st style) uint32 {
	if st == s.last && s.byKey != nil {
		return s.lastN
	}
	if s.byKey == nil {
		s.byKey = map[style]uint32{}
	}
	n, ok := s.byKey[st]
	if !ok {
		if len(s.styles) == maxStyles {
			return maxStyles - 1
		}
		n = uint32(len(s.styles))
		s.styles = append(s.styles, st)
		s.byKey[st] = n
	}
	s.last, s.lastN = st, n
	return n
}

// locate returns the page and the place in it of a record.
func (s *store) locate(pos uint32) (page []float64, off int, at uint32) {
	for {
		page, off = s.pages[pos>>pageBits], int(pos&pageMask)
		// Else the page had no room for this record.
		if off < len(page) {
			return page, off, pos
		}
		pos = (pos>>pageBits + 1) << pageBits
	}
}

// next takes the record at pos apart and returns the place of the next one.
func (s *store) next(pos uint32, r *rec) uint32 {
	page, off, pos := s.locate(pos)
	w0, w1 := math.Float64bits(page[off]), math.Float64bits(page[off+1])
	r.style = s.styles[w0>>40]
	r.flags = uint16(w0 & (1<<12 - 1))
	r.line = uint32(w1 >> 32)
	r.handle = w1 & (1<<32 - 1)
	head := 2
	if r.flags&fWide != 0 {
		r.handle |= uint64(page[off+2]) << 32
		head = 4
	}
	n := int(w0 >> 12 & (1<<28 - 1))
	end := off + head + n
	r.x = page[off+head : end : end]
	if end >= 1<<pageBits { // a full page, or one of a single long record
		return (pos>>pageBits + 1) << pageBits
	}
	return pos&^pageMask + uint32(end)
}

// mark sets flags of a record.
func (s *store) mark(pos uint32, flags uint16) {
	page, off, _ := s.locate(pos)
	page[off] = math.Float64frombits(math.Float64bits(page[off]) | uint64(flags))
}

// keepString copies text into the store and returns a number that finds it: its
// bits hold place and length.
func (s *store) keepString(t string) float64 {
	if t == "" {
		return 0
	}
	n := len(s.bytes) - 1
	if n < 0 || cap(s.bytes[n])-len(s.bytes[n]) < len(t) {
		s.bytes = append(s.bytes, make([]byte, 0, max(1<<byteBits, len(t))))
		n++
	}
	at := uint64(n)<<byteBits | uint64(len(s.bytes[n]))
	s.bytes[n] = append(s.bytes[n], t...)
	// 24 bits of length (texts are cut at 256 KiB when read), 38 of place.
	return math.Float64frombits(at<<24 | uint64(len(t)))
}

// string returns the text that keepString stored, without copying it: the pages
// are not written again.
func (s *store) string(f float64) string {
	v := math.Float64bits(f)
	n := v & (1<<24 - 1)
	if n == 0 {
		return ""
	}
	at := v >> 24
	off := at & (1<<byteBits - 1)
	return bytesString(s.bytes[at>>byteBits][off : off+n])
}

// bytesString turns bytes that are never written again into a string.
func bytesString(b []byte) string { return unsafe.String(unsafe.SliceData(b), len(b)) }
