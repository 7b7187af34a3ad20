package dxf

import "bytes"

// nextSlow reads a pair that the short way in Next could not: at the end of the
// buffer or the file, a code with blanks behind it, a damaged code.
func (s *Scanner) nextSlow() bool {
	for !s.done {
		line := s.next
		code, ok := s.readLine()
		if !ok {
			return s.stop(false)
		}
		n, sound := parseCode(code)
		if !sound {
			if !s.passBadCode(code, line) {
				return s.stop(false)
			}
			continue
		}
		val, ok := s.readLine()
		if !ok { // a code without its value: the file was cut here
			return s.stop(false)
		}
		s.Code, s.kind, s.val, s.Line = n, text, val, line
		if n == 0 && string(bytes.TrimSpace(val)) == "EOF" {
			return s.stop(true)
		}
		return true
	}
	return false
}

// maxCode is the highest group code in use.
// Source: DXF Reference, "Group Codes in Numerical Order" (1071).
const maxCode = 1071

// parseCode reads a group code: digits with blanks around them.
func parseCode(line []byte) (int, bool) {
	b := bytes.TrimSpace(line)
	n := 0
	for _, c := range b {
		if c-'0' > 9 || n > maxCode {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, len(b) > 0 && n <= maxCode
}

// readLine returns the next line without its end; false at the end of the
// data. A line without an end is returned if it is the last: it may be cut.
func (s *Scanner) readLine() ([]byte, bool) {
	i := bytes.IndexByte(s.buf[s.pos:s.end], s.term)
	if i < 0 && !s.eof {
		s.fill()
		i = bytes.IndexByte(s.buf[s.pos:s.end], s.term)
	}
	if i < 0 {
		if s.pos == s.end {
			return nil, false
		}
		if s.eof {
			l := s.buf[s.pos:s.end]
			s.pos = s.end
			s.next++
			return bytes.TrimSuffix(l, []byte("\r")), true
		}
		return s.readLongLine(), true
	}
	l := s.buf[s.pos : s.pos+i]
	s.pos += i + 1
	s.next++
	return bytes.TrimSuffix(l, []byte("\r")), true
}

// readLongLine returns the first half of a line that does not fit the buffer
// and passes over the rest.
func (s *Scanner) readLongLine() []byte {
	s.audit.add(Finding{Code: "value-cut", Line: s.next, Example: clip(s.buf[:24]), Did: "value longer than 256 KiB cut"})
	keep := append([]byte(nil), s.buf[s.pos:s.pos+(s.end-s.pos)/2]...)
	for {
		s.pos = s.end
		s.fill()
		i := bytes.IndexByte(s.buf[:s.end], s.term)
		if i >= 0 {
			s.pos = i + 1
			break
		}
		if s.eof {
			s.pos = s.end
			break
		}
	}
	s.next++
	return keep
}

// passBadCode goes on behind a line that should hold a group code and does not.
// Either the pair is bad and the next code stands two lines on, or a line was
// lost or added and it stands on the next one. The reading that gives more sound
// codes in a row wins; in doubt the pair is bad.
func (s *Scanner) passBadCode(code []byte, line int) bool {
	if len(bytes.TrimSpace(code)) == 0 && !s.passBlankLines() {
		return false // blank lines at the end
	}
	if s.end-s.pos < lookahead && !s.eof {
		example := clip(code)
		s.fill()
		code = []byte(example)
	}
	if n := s.soundCodes(0); n >= 3 && n > s.soundCodes(1) {
		s.audit.add(Finding{Code: "lines-out-of-step", Line: line, Example: clip(code), Did: "one line passed over"})
		return true
	}
	s.audit.add(Finding{Code: "bad-group-code", Line: line, Example: clip(code), Did: "group passed over"})
	_, ok := s.readLine()
	return ok
}

// passBlankLines passes over blank lines; false if nothing follows them.
func (s *Scanner) passBlankLines() bool {
	for {
		if s.end-s.pos < lookahead && !s.eof {
			s.fill()
		}
		start, next := s.base+int64(s.pos), s.next
		line, ok := s.readLine()
		if !ok {
			return false
		}
		if len(bytes.TrimSpace(line)) > 0 {
			if start >= s.base { // step back to it, unless it was longer than the buffer
				s.pos, s.next = int(start-s.base), next
			}
			return true
		}
	}
}

// soundCodes counts how many group codes stand in a row where they should if
// the next one is skip lines ahead; the end of the data counts for all that
// could follow.
func (s *Scanner) soundCodes(skip int) int {
	const enough = 16
	b := s.buf[s.pos:s.end]
	n := 0
	for line := 0; n < enough; line++ {
		if len(b) == 0 {
			return enough
		}
		var l []byte
		l, b = cutLine(b, s.term)
		if line < skip || (line-skip)%2 == 1 {
			continue
		}
		if _, ok := parseCode(l); !ok {
			return n
		}
		n++
	}
	return n
}
