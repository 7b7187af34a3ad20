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
		n, isNumber := parseInt(code)
		if !isNumber || n < 0 || n > maxCode {
			if s.passBadCode(code, line) {
				continue
			}
			return s.stop(false)
		}
		val, ok := s.readLine()
		if !ok { // a code without its value: the file was cut here
			return s.stop(false)
		}
		s.Code, s.kind, s.val, s.Line = int(n), text, val, line
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
// lost or added and it stands on the next one: the reading that gives three
// sound codes in a row wins, the pair being bad if neither or both do.
func (s *Scanner) passBadCode(code []byte, line int) bool {
	blankTail := len(bytes.TrimSpace(code)) == 0
	if s.end-s.pos < lookahead && !s.eof {
		example := clip(code)
		s.fill()
		code = []byte(example)
	}
	if blankTail && len(bytes.TrimSpace(s.buf[s.pos:s.end])) == 0 && s.eof {
		return false // blank lines at the end
	}
	if s.soundCodes(1) < 3 && s.soundCodes(0) >= 3 {
		s.audit.add(Finding{Code: "lines-out-of-step", Line: line, Example: clip(code), Did: "one line passed over"})
		return true
	}
	s.audit.add(Finding{Code: "bad-group-code", Line: line, Example: clip(code), Did: "group passed over"})
	_, ok := s.readLine()
	return ok
}

// soundCodes counts how many group codes stand in a row where they should if
// the next one is skip lines ahead, up to three; the end of the data counts.
func (s *Scanner) soundCodes(skip int) int {
	b := s.buf[s.pos:s.end]
	n := 0
	for line := 0; n < 3; line++ {
		if len(b) == 0 {
			return 3
		}
		var l []byte
		l, b = cutLine(b, s.term)
		if line < skip || (line-skip)%2 == 1 {
			continue
		}
		if c, ok := parseInt(l); !ok || c < 0 || c > maxCode {
			return n
		}
		n++
	}
	return n
}
