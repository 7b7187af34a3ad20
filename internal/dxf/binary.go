package dxf

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
)

// valueType is how a group's value stands in a binary file.
type valueType uint8

const (
	typeUnknown valueType = iota
	typeString
	typeDouble
	typeInt8
	typeInt16
	typeInt32
	typeInt64
	typeChunk
)

// valueTypes gives the type by group code. Ranges are inclusive.
// Source: DXF Reference, "Group Code Value Types". Codes 280 to 289 are whole
// numbers of 16 bits in every release that was met.
var valueTypes = func() (t [maxCode + 1]valueType) {
	for _, r := range []struct {
		from, to int
		t        valueType
	}{
		{0, 9, typeString}, {10, 59, typeDouble}, {60, 79, typeInt16}, {90, 99, typeInt32},
		{100, 109, typeString}, {110, 149, typeDouble}, {160, 169, typeInt64}, {170, 179, typeInt16},
		{210, 239, typeDouble}, {270, 289, typeInt16}, {290, 299, typeInt8}, {300, 309, typeString},
		{310, 319, typeChunk}, {320, 369, typeString}, {370, 389, typeInt16}, {390, 399, typeString},
		{400, 409, typeInt16}, {410, 419, typeString}, {420, 429, typeInt32}, {430, 439, typeString},
		{440, 459, typeInt32}, {460, 469, typeDouble}, {470, 481, typeString}, {999, 1003, typeString},
		{1004, 1004, typeChunk}, {1005, 1009, typeString}, {1010, 1059, typeDouble},
		{1060, 1070, typeInt16}, {1071, 1071, typeInt32},
	} {
		for c := r.from; c <= r.to; c++ {
			t[c] = r.t
		}
	}
	return t
}()

// size is the length of a value of fixed length in bytes.
var size = [...]int{typeDouble: 8, typeInt8: 1, typeInt16: 2, typeInt32: 4, typeInt64: 8, typeChunk: 0}

func (s *Scanner) nextBinary() bool {
	if s.done {
		return false
	}
	if s.end-s.pos < lookahead && !s.eof {
		s.fill()
	}
	code, ok := s.binaryCode()
	if !ok {
		return s.stop(false)
	}
	s.Code = code
	t := typeUnknown
	if code <= maxCode {
		t = valueTypes[code]
	}
	switch t {
	case typeUnknown:
		s.audit.add(Finding{Code: "bad-binary-code", Offset: s.Offset(), Example: fmt.Sprint(code),
			Did: "the length of its value is unknown; the file could not be read on"})
		return s.stop(false)
	case typeString:
		ok = s.binaryString()
	case typeChunk:
		ok = s.binaryChunk()
	default:
		ok = s.binaryNumber(t)
	}
	if !ok {
		return s.stop(false)
	}
	if code == 0 && string(s.val) == "EOF" {
		return s.stop(true)
	}
	return true
}

func (s *Scanner) binaryCode() (int, bool) {
	b := s.buf[s.pos:s.end]
	switch {
	case s.twoByte:
		if len(b) < 2 {
			return 0, false
		}
		s.pos += 2
		return int(binary.LittleEndian.Uint16(b)), true
	case len(b) > 0 && b[0] != 255:
		s.pos++
		return int(b[0]), true
	case len(b) >= 3:
		s.pos += 3
		return int(binary.LittleEndian.Uint16(b[1:])), true
	}
	return 0, false
}

func (s *Scanner) binaryString() bool {
	i := bytes.IndexByte(s.buf[s.pos:s.end], 0)
	if i < 0 && !s.eof {
		s.fill()
		i = bytes.IndexByte(s.buf[s.pos:s.end], 0)
	}
	if i < 0 {
		return false // cut, or longer than any string a writer may put
	}
	s.kind, s.val = text, s.buf[s.pos:s.pos+i]
	s.pos += i + 1
	return true
}

func (s *Scanner) binaryChunk() bool {
	b := s.buf[s.pos:s.end]
	if len(b) < 1 || len(b) < 1+int(b[0]) {
		return false
	}
	s.kind, s.val = chunk, b[1:1+int(b[0])]
	s.pos += 1 + int(b[0])
	return true
}

func (s *Scanner) binaryNumber(t valueType) bool {
	b := s.buf[s.pos:s.end]
	if len(b) < size[t] {
		return false
	}
	s.pos += size[t]
	s.kind, s.val = integer, nil
	switch t {
	case typeDouble:
		s.kind, s.f = float, math.Float64frombits(binary.LittleEndian.Uint64(b))
	case typeInt8:
		s.i = int64(b[0])
	case typeInt16:
		s.i = int64(int16(binary.LittleEndian.Uint16(b)))
	case typeInt32:
		s.i = int64(int32(binary.LittleEndian.Uint32(b)))
	case typeInt64:
		s.i = int64(binary.LittleEndian.Uint64(b))
	}
	return true
}
