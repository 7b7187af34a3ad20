package part21

import (
	"bytes"
	"errors"
	"io"
)

// statement is what stands between two semicolons and is no instance: section
// words and header entries.
type statement struct {
	off  int64
	text string
}

// segment is what one goroutine found between two offsets of the file.
type segment struct {
	start, stop int64 // first statement; where the statement after the last begins
	last        int64 // its last semicolon, −1 if it has none
	runs        []run
	offs        pages4
	lists       [][]ID // by keyword
	others      []statement
	strays      int
	err         *Error // unfinished string, comment or statement, with offset in errOff
	errOff      int64
}

// pages4 is a growing list of offsets that is never copied.
type pages4 struct {
	pages [][]uint32
	n     uint32
}

const pageBits = 13

func (p *pages4) add(v uint32) {
	if p.n&(1<<pageBits-1) == 0 {
		p.pages = append(p.pages, make([]uint32, 1<<pageBits))
	}
	p.pages[p.n>>pageBits][p.n&(1<<pageBits-1)] = v
	p.n++
}

func (p *pages4) at(i uint32) uint32 { return p.pages[i>>pageBits][i&(1<<pageBits-1)] }

// scanner walks statements through one buffer that slides over the file.
type scanner struct {
	src  io.ReaderAt
	size int64
	buf  []byte
	base int64 // offset of buf[0] in the file
	n    int   // bytes of buf that hold file
	pos  int
	io   error
}

const scanChunk = 256 << 10

func newScanner(src io.ReaderAt, size, off int64) *scanner {
	return &scanner{src: src, size: size, base: off, buf: make([]byte, scanChunk)}
}

// more slides the buffer so that it starts at keep and reads on; false at the
// end of the file or on a read error. Positions shift down by keep.
func (s *scanner) more(keep int) bool {
	copy(s.buf, s.buf[keep:s.n])
	s.n -= keep
	s.base += int64(keep)
	if s.n == len(s.buf) {
		s.buf = append(s.buf, make([]byte, len(s.buf))...)
	}
	want := len(s.buf) - s.n
	if left := s.size - s.base - int64(s.n); int64(want) > left {
		want = int(left)
	}
	if want <= 0 {
		return false
	}
	m, err := s.src.ReadAt(s.buf[s.n:s.n+want], s.base+int64(s.n))
	s.n += m
	if err != nil && !(errors.Is(err, io.EOF) && m == want) {
		s.io = err
		return false
	}
	return m > 0
}

var errOpen = errors.New("open")

// blank moves pos past white space and comments; false at the end of the file.
// An unclosed comment gives errOpen with pos at its start.
func (s *scanner) blank() (bool, error) {
	for {
		for s.pos < s.n && isSpace(s.buf[s.pos]) {
			s.pos++
		}
		if s.pos+1 >= s.n {
			at := s.pos
			s.pos = 0
			if s.more(at) {
				continue
			}
			return s.n > 0, nil
		}
		if s.buf[s.pos] != '/' || s.buf[s.pos+1] != '*' {
			return true, nil
		}
		end, ok := s.find(2, "*/")
		if !ok {
			return false, errOpen
		}
		s.pos += end + 2
	}
}

// find returns where pat next stands, counted from pos, looking from there plus
// from; the bytes between pos and it are kept in the buffer.
func (s *scanner) find(from int, pat string) (int, bool) {
	for {
		if s.pos+from < s.n {
			var i int
			if len(pat) == 1 {
				i = bytes.IndexByte(s.buf[s.pos+from:s.n], pat[0])
			} else {
				i = bytes.Index(s.buf[s.pos+from:s.n], []byte(pat))
			}
			if i >= 0 {
				return from + i, true
			}
			from = max(from, s.n-s.pos-len(pat)+1)
		}
		if s.n-s.pos > MaxRecord {
			return from, false
		}
		at := s.pos
		s.pos = 0
		if !s.more(at) {
			return from, false
		}
	}
}

// end returns the length of the statement at pos, without its semicolon. On
// errOpen the length is where the unclosed string, comment or statement starts.
func (s *scanner) end() (int, error) {
	n, ok := s.find(0, ";")
	if ok {
		t := s.buf[s.pos : s.pos+n]
		if bytes.IndexByte(t, '\'') < 0 && bytes.IndexByte(t, '/') < 0 {
			return n, nil
		}
	}
	return s.careful()
}

// careful is end for statements with strings or comments.
func (s *scanner) careful() (int, error) {
	i := 0
	for {
		b := s.buf[s.pos:s.n]
		for i < len(b) && !special[b[i]] {
			i++
		}
		if i+1 >= len(b) && (i >= len(b) || b[i] == '/') {
			if len(b) > MaxRecord {
				return 0, errOpen
			}
			at := s.pos
			s.pos = 0
			if s.more(at) {
				continue
			}
			return 0, errOpen
		}
		switch b[i] {
		case ';':
			return i, nil
		case '\'':
			j, ok := s.find(i+1, "'")
			if !ok {
				return i, errOpen
			}
			i = j + 1
		default:
			if b[i+1] != '*' {
				i++
				break
			}
			j, ok := s.find(i+2, "*/")
			if !ok {
				return i, errOpen
			}
			i = j + 2
		}
	}
}

var special = [256]bool{';': true, '\'': true, '/': true}

func isSpace(c byte) bool {
	return c == ' ' || c == '\n' || c == '\r' || c == '\t' || c == '\f' || c == 0
}

// scan reads statements from offset start on until the first one that follows
// a semicolon at or behind limit.
func (f *File) scan(start, limit int64) *segment {
	g := &segment{start: start, lists: make([][]ID, f.voc.Len()+1)}
	s := newScanner(f.src, f.size, start)
	for g.last = -1; g.last < limit; {
		more, err := s.blank()
		g.stop = s.base + int64(s.pos)
		if err != nil {
			g.fail(s, 0, "comment opened here is never closed", "export the model again")
			return g
		}
		if !more {
			break
		}
		n, err := s.end()
		if err != nil {
			g.unfinished(s, n)
			return g
		}
		g.take(f, s.buf[s.pos:s.pos+n], s.base+int64(s.pos))
		s.pos += n + 1
		g.last = s.base + int64(s.pos) - 1
	}
	if s.io != nil {
		g.fail(s, 0, "cannot be read: "+s.io.Error(), "")
		return g
	}
	if _, err := s.blank(); err != nil {
		g.fail(s, 0, "comment opened here is never closed", "export the model again")
	}
	g.stop = s.base + int64(s.pos)
	return g
}

func (g *segment) fail(s *scanner, at int, msg, do string) {
	g.errOff = s.base + int64(s.pos+at)
	g.err = &Error{Msg: msg, Do: do}
}

// unfinished says how a statement fails to end.
func (g *segment) unfinished(s *scanner, at int) {
	if s.io != nil {
		g.fail(s, 0, "cannot be read: "+s.io.Error(), "")
		return
	}
	rest := s.buf[s.pos:s.n]
	switch {
	case len(rest) > MaxRecord:
		g.fail(s, 0, "one statement is longer than 128 MiB", "export the model with a coarser mesh")
	case at < len(rest) && rest[at] == '\'':
		g.fail(s, at, "text opened here is never closed: the file is incomplete or damaged", "copy or export it again")
	case at < len(rest) && rest[at] == '/':
		g.fail(s, at, "comment opened here is never closed", "export the model again")
	default:
		g.fail(s, 0, "the file is incomplete: it ends within this statement", "copy or export it again")
	}
	if len(rest) > 1 && rest[0] == '#' {
		id, _, _ := parseID(rest[1:])
		g.err.ID = id
	}
}

// take files one statement.
func (g *segment) take(f *File, t []byte, off int64) {
	if len(t) > 1 && t[0] == '#' {
		if id, n, ok := parseID(t[1:]); ok {
			t = skipBlank(t[1+n:])
			if len(t) > 0 && t[0] == '=' {
				g.instance(f, id, skipBlank(t[1:]), off)
				return
			}
		}
	}
	if len(t) == 0 {
		return
	}
	g.strays++
	if len(g.others) < 64 {
		g.others = append(g.others, statement{off, string(t[:min(len(t), 64<<10)])})
	}
}

func (g *segment) instance(f *File, id ID, t []byte, off int64) {
	ord := g.offs.n
	g.offs.add(uint32(off))
	if k := len(g.runs) - 1; k >= 0 && g.runs[k].first+ID(g.runs[k].n) == id {
		g.runs[k].n++
	} else {
		g.runs = append(g.runs, run{first: id, ord: ord, n: 1})
	}
	if len(t) > 0 && t[0] == '(' { // complex instance: each part counts
		for _, k := range f.partKeys(t) {
			g.lists[k] = append(g.lists[k], id)
		}
		return
	}
	if k := f.voc.Find(word(t)); k != 0 && f.keep[k] {
		g.lists[k] = append(g.lists[k], id)
	} else if k == 0 && len(t) > 0 && t[0] >= 'a' {
		if k := f.voc.Find(bytes.ToUpper(word(t))); k != 0 && f.keep[k] {
			g.lists[k] = append(g.lists[k], id)
		}
	}
}

// partKeys returns the wanted keywords at the top of a complex instance.
func (f *File) partKeys(t []byte) []Keyword {
	var keys []Keyword
	depth := 0
	for i := 0; i < len(t); i++ {
		switch c := t[i]; {
		case c == '(':
			depth++
		case c == ')':
			depth--
		case c == '\'':
			j := bytes.IndexByte(t[i+1:], '\'')
			if j < 0 {
				return keys
			}
			i += j + 1
		case depth == 1 && isWord(c):
			w := word(t[i:])
			if k := f.voc.Find(bytes.ToUpper(w)); k != 0 && f.keep[k] {
				keys = append(keys, k)
			}
			i += len(w) - 1
		}
	}
	return keys
}

// word returns the keyword at the start of t.
func word(t []byte) []byte {
	i := 0
	for i < len(t) && isWord(t[i]) {
		i++
	}
	return t[:i]
}

var wordByte = func() (t [256]bool) {
	for c := '0'; c <= '9'; c++ {
		t[c] = true
	}
	for c := 'A'; c <= 'Z'; c++ {
		t[c], t[c+32] = true, true
	}
	t['_'], t['-'], t['!'] = true, true, true
	return t
}()

func isWord(c byte) bool { return wordByte[c] }

// skipBlank drops white space and whole comments from the front of t.
func skipBlank(t []byte) []byte {
	for {
		for len(t) > 0 && isSpace(t[0]) {
			t = t[1:]
		}
		if len(t) < 4 || t[0] != '/' || t[1] != '*' {
			return t
		}
		i := bytes.Index(t[2:], []byte("*/"))
		if i < 0 {
			return t
		}
		t = t[i+4:]
	}
}

// parseID reads the digits of an instance name and returns how many there are;
// not ok without digits or beyond 2^63.
func parseID(t []byte) (id ID, n int, ok bool) {
	for n < len(t) && t[n] >= '0' && t[n] <= '9' {
		if id > (1<<63-1)/10 {
			return 0, n, false
		}
		id = id*10 + ID(t[n]-'0')
		n++
	}
	return id, n, n > 0
}
