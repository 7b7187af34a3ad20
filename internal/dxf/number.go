package dxf

import (
	"math"
	"strconv"
	"unsafe"
)

// pow10 holds the powers of ten that a float64 holds exactly.
var pow10 = [...]float64{
	1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// parseFloat reads a decimal number with blanks around it. It refuses what a
// DXF file cannot mean: words for infinity, hexadecimal, digit separators.
//
// Most coordinates have less than 16 digits: mantissa and power of ten are then
// both exact in a float64 and one division rounds correctly (Clinger 1990).
// The others go to strconv, which also rounds correctly.
func parseFloat(b []byte) (float64, bool) {
	i, n := 0, len(b)
	for i < n && (b[i] == ' ' || b[i] == '\t') {
		i++
	}
	start, neg := i, false
	if i < n && (b[i] == '-' || b[i] == '+') {
		neg = b[i] == '-'
		i++
	}
	var m uint64
	first := i
	for i < n && b[i]-'0' <= 9 {
		m = m*10 + uint64(b[i]-'0')
		i++
	}
	digits, frac := i-first, 0
	if i < n && b[i] == '.' {
		i++
		f := i
		for i < n && b[i]-'0' <= 9 {
			m = m*10 + uint64(b[i]-'0')
			i++
		}
		frac = i - f
		digits += frac
	}
	if digits == 0 {
		return 0, false
	}
	if i == n && digits <= 19 && m < 1<<53 {
		x := float64(m) / pow10[frac]
		if neg {
			x = -x
		}
		return x, true
	}
	return slowFloat(b[start:])
}

// slowFloat reads what the short way cannot: many digits, an exponent, blanks
// behind the number.
func slowFloat(b []byte) (float64, bool) {
	n := len(b)
	for n > 0 && (b[n-1] == ' ' || b[n-1] == '\t' || b[n-1] == 0) {
		n--
	}
	b = b[:n]
	for _, c := range b {
		switch {
		case c-'0' <= 9, c == '.', c == '-', c == '+', c == 'e', c == 'E':
		case c == 'd' || c == 'D': // Fortran exponent, seen in exports of surveys
			return slowFloat(withE(b))
		default:
			return 0, false
		}
	}
	if n == 0 {
		return 0, false
	}
	x, err := strconv.ParseFloat(unsafe.String(unsafe.SliceData(b), n), 64)
	return x, err == nil
}

func withE(b []byte) []byte {
	c := append([]byte(nil), b...)
	for i := range c {
		if c[i] == 'd' || c[i] == 'D' {
			c[i] = 'e'
		}
	}
	return c
}

// parseInt reads a whole number with blanks around it; a fraction of zeros is
// let pass because some writers put "1.0" where a whole number belongs.
func parseInt(b []byte) (int64, bool) {
	i, n := 0, len(b)
	for i < n && (b[i] == ' ' || b[i] == '\t') {
		i++
	}
	neg := false
	if i < n && (b[i] == '-' || b[i] == '+') {
		neg = b[i] == '-'
		i++
	}
	first := i
	var v int64
	for i < n && b[i]-'0' <= 9 {
		if v > (math.MaxInt64-9)/10 {
			return 0, false
		}
		v = v*10 + int64(b[i]-'0')
		i++
	}
	if i == first {
		return 0, false
	}
	for i < n && (b[i] == ' ' || b[i] == '\t' || b[i] == 0) {
		i++
	}
	if i < n {
		f, ok := parseFloat(b[first:])
		if !ok || f != math.Trunc(f) || f > 1e15 {
			return 0, false
		}
		v = int64(f)
	}
	if neg {
		v = -v
	}
	return v, true
}

// parseHandle reads a handle: up to 16 hexadecimal digits.
func parseHandle(b []byte) (uint64, bool) {
	var h uint64
	digits := 0
	for _, c := range b {
		var d byte
		switch {
		case c-'0' <= 9:
			d = c - '0'
		case c >= 'A' && c <= 'F':
			d = c - 'A' + 10
		case c >= 'a' && c <= 'f':
			d = c - 'a' + 10
		case c == ' ' || c == '\t':
			continue
		default:
			return 0, false
		}
		if digits++; digits > 16 {
			return 0, false
		}
		h = h<<4 | uint64(d)
	}
	return h, digits > 0
}
