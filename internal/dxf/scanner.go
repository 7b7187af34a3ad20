package dxf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

const (
	// bufSize is the one buffer a file is read through. A value longer than it
	// is cut, with an entry in the audit.
	bufSize = 256 << 10
	// lookahead is kept in the buffer ahead of the reader, so that a pair is
	// nearly always whole in it.
	lookahead = 8 << 10
)

// kind says how the value of the current pair is held.
type kind uint8

const (
	text    kind = iota // val
	float               // f
	integer             // i
	chunk               // val, raw bytes of a binary file
)

// Scanner reads a file pair by pair. Between calls of Next the fields Code and
// Line and the methods Bytes, Float, Int and Handle describe the current pair.
type Scanner struct {
	Code int // group code
	Line int // line of the group code, counted from 1; 0 in a binary file

	kind kind
	val  []byte
	f    float64
	i    int64

	name string
	r    io.Reader
	buf  []byte
	pos  int // next byte to read
	end  int // end of what is in buf
	base int64
	term byte // line end: LF, or CR in files that have no LF
	next int  // line number of the next group code
	eof  bool // r is at its end

	binary  bool
	twoByte bool // binary, R13 and later
	utf8    bool // the file says by a mark that it is Unicode
	done    bool
	ended   bool // the EOF group was met
	err     error
	audit   audit
}

// NewScanner looks at how the file begins and returns a scanner at its first
// pair. The error is a *FormatError where the file is another format, or what
// r returned. name is used in messages only.
func NewScanner(name string, r io.Reader) (*Scanner, error) {
	s := &Scanner{name: name, r: r, buf: make([]byte, bufSize), term: '\n', next: 1}
	if err := s.fill(); err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", name, err)
	}
	head := s.buf[:s.end]
	switch {
	case bytes.HasPrefix(head, []byte(binarySentinel)):
		s.startBinary(head)
		return s, nil
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")):
		if err := s.startUTF16(unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM)); err != nil {
			return nil, err
		}
	case len(head) >= 4 && head[0] != 0 && head[1] == 0 && head[2] != 0 && head[3] == 0: // no mark
		if err := s.startUTF16(unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)); err != nil {
			return nil, err
		}
	case len(head) >= 4 && head[0] == 0 && head[1] != 0 && head[2] == 0 && head[3] != 0:
		if err := s.startUTF16(unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)); err != nil {
			return nil, err
		}
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		s.utf8 = true
		s.pos = 3
	}
	head = s.buf[s.pos:s.end]
	if e := sniff(name, head); e != nil {
		return nil, e
	}
	if bytes.IndexByte(head, '\n') < 0 && bytes.IndexByte(head, '\r') >= 0 {
		s.term = '\r'
	}
	return s, s.checkFirstLine(head)
}

func (s *Scanner) startBinary(head []byte) {
	s.binary = true
	s.pos = len(binarySentinel)
	rest := head[s.pos:]
	// The first group is a section's start (0) or a comment (999). With
	// one-byte codes that is 00 'S' or FF E7 03, with two 00 00 or E7 03.
	s.twoByte = len(rest) < 2 || rest[0] != 255 && rest[1] < ' '
}

func (s *Scanner) startUTF16(e encoding.Encoding) error {
	all := io.MultiReader(bytes.NewReader(append([]byte(nil), s.buf[:s.end]...)), s.r)
	s.r = transform.NewReader(all, e.NewDecoder())
	s.pos, s.end, s.eof, s.utf8 = 0, 0, false, true
	if err := s.fill(); err != nil {
		return fmt.Errorf("%s: UTF-16 text that cannot be decoded: %w", s.name, err)
	}
	return nil
}

// checkFirstLine refuses files that do not begin with a group code.
func (s *Scanner) checkFirstLine(head []byte) error {
	line := 1
	for len(head) > 0 {
		var l []byte
		l, head = cutLine(head, s.term)
		if len(bytes.TrimSpace(l)) > 0 {
			if _, ok := parseCode(l); ok {
				return nil
			}
			return &FormatError{s.name, fmt.Sprintf("a file that begins with %q on line %d where a group code (a whole number) must stand", clip(l), line),
				"export the drawing as DXF"}
		}
		line++
	}
	return nil
}

func clip(b []byte) string {
	if len(b) > 24 {
		return string(b[:24]) + "…"
	}
	return string(b)
}

// cutLine returns the first line of b without its end, and the rest.
func cutLine(b []byte, term byte) (line, rest []byte) {
	i := bytes.IndexByte(b, term)
	if i < 0 {
		return bytes.TrimSuffix(b, []byte("\r")), nil
	}
	return bytes.TrimSuffix(b[:i], []byte("\r")), b[i+1:]
}

// fill moves what is left to the front of the buffer and reads until it is
// full or the file ends.
func (s *Scanner) fill() error {
	s.base += int64(s.pos)
	m := copy(s.buf, s.buf[s.pos:s.end])
	s.pos = 0
	idle := 0
	for m < len(s.buf) && !s.eof {
		k, err := s.r.Read(s.buf[m:])
		m += k
		switch {
		case errors.Is(err, io.EOF):
			s.eof = true
		case err != nil:
			s.end = m
			s.eof = true
			s.err = fmt.Errorf("%s: cannot be read on: %w", s.name, err)
			return err
		case k == 0:
			if idle++; idle > 100 {
				s.end, s.eof = m, true
				return io.ErrNoProgress
			}
		}
	}
	s.end = m
	return nil
}

// Next moves to the next pair. It returns false at the group EOF, at the end
// of the data, and where the data cannot be read on; Err and Truncated tell.
func (s *Scanner) Next() bool {
	if s.binary {
		return s.nextBinary()
	}
	if s.end-s.pos < lookahead && !s.eof {
		s.fill() // an error is kept in s.err; what was read before it is used
	}
	b := s.buf[s.pos:s.end]
	i, code := 0, 0
	for i < len(b) && b[i] == ' ' {
		i++
	}
	first := i
	for i < len(b) && b[i]-'0' <= 9 {
		code = code*10 + int(b[i]-'0')
		i++
	}
	digits := i - first
	if i < len(b) && b[i] == '\r' && s.term == '\n' {
		i++
	}
	if digits == 0 || digits > 4 || code > maxCode || i >= len(b) || b[i] != s.term {
		return s.nextSlow()
	}
	i++
	j := bytes.IndexByte(b[i:], s.term)
	if j < 0 {
		return s.nextSlow()
	}
	s.pos += i + j + 1
	if j > 0 && b[i+j-1] == '\r' {
		j--
	}
	s.Code, s.kind, s.val = code, text, b[i:i+j]
	s.Line = s.next
	s.next += 2
	if code == 0 && j == 3 && string(s.val) == "EOF" {
		return s.stop(true)
	}
	return true
}

// stop ends the reading; ended says that the file's own end was met.
func (s *Scanner) stop(ended bool) bool {
	s.done, s.ended = true, ended
	s.base += int64(s.pos)
	s.pos, s.end, s.eof = 0, 0, true
	s.Code, s.kind, s.val = -1, text, nil
	return false
}

// Bytes returns the value as it stands in the file, code page and all. It is
// valid until the next call of Next. Numbers of a binary file give nil.
func (s *Scanner) Bytes() []byte {
	if s.kind == float || s.kind == integer {
		return nil
	}
	return s.val
}

// Float returns the value as a number; ok is false if it is none. Infinite and
// undefined numbers, which a binary file can hold, are none.
func (s *Scanner) Float() (x float64, ok bool) {
	switch s.kind {
	case text:
		return parseFloat(s.val)
	case float:
		return s.f, !math.IsNaN(s.f) && !math.IsInf(s.f, 0)
	case integer:
		return float64(s.i), true
	}
	return 0, false
}

// Int returns the value as a whole number; ok is false if it is none.
func (s *Scanner) Int() (v int64, ok bool) {
	switch s.kind {
	case text:
		return parseInt(s.val)
	case integer:
		return s.i, true
	case float:
		return int64(s.f), s.f == math.Trunc(s.f) && math.Abs(s.f) < 1e15
	}
	return 0, false
}

// Handle returns the value as a handle; ok is false if it is none.
func (s *Scanner) Handle() (h uint64, ok bool) {
	if s.kind != text {
		return 0, false
	}
	return parseHandle(s.val)
}

// Binary tells a binary file.
func (s *Scanner) Binary() bool { return s.binary }

// Unicode tells a file that says by its first bytes that it is Unicode,
// whatever its header claims.
func (s *Scanner) Unicode() bool { return s.utf8 }

// Truncated tells, once Next has returned false, that the data ended before
// the group EOF.
func (s *Scanner) Truncated() bool { return s.done && !s.ended }

// Err returns what kept the file from being read on; nil at its end.
func (s *Scanner) Err() error { return s.err }
