package cutting

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// ListError is one fault of a list of pieces. Line and Column count from 1, the
// column in characters.
type ListError struct {
	File         string
	Line, Column int
	Msg          string
}

func (e *ListError) Error() string {
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Column, e.Msg)
}

// listColumns are the columns of a list of pieces; the first three must be there.
var listColumns = []string{"mark", "width", "left height", "board", "right height", "count"}

const (
	needColumns  = 3
	maxListLine  = 1 << 16
	maxListCount = 10000  // copies of one piece
	maxListTotal = 100000 // copies in all
	maxListFault = 20     // faults told at once
)

// ReadList reads a list of pieces: comma-separated, one piece a line, a header
// first with the columns mark, board, width, left height, right height, count in
// any order. board, right height and count may be missing or empty: no board, as
// high as left, 1. Lengths are written as people write them; an inch mark needs
// no quoting. Pieces have a level bottom, plumb sides and a straight top; none
// wants a factory edge.
//
// The error, if any, joins up to 20 *ListError, each with file, line and column.
func ReadList(file string, r io.Reader, sys measure.System) ([]Piece, error) {
	l := &listReader{file: file, sys: sys, seen: map[string]int{}}
	sc := bufio.NewScanner(r)
	sc.Buffer(make([]byte, 4096), maxListLine)
	for sc.Scan() && len(l.faults) < maxListFault {
		l.line++
		l.read(strings.TrimSuffix(sc.Text(), "\r"))
	}
	if err := sc.Err(); errors.Is(err, bufio.ErrTooLong) {
		l.fail(l.line+1, 1, "the line is longer than %d bytes; is this a list of pieces?", maxListLine)
	} else if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	if l.at == nil && len(l.faults) == 0 {
		l.fail(max(l.line, 1), 1, "no header; the first line must be %s", "mark,board,width,left height,right height,count")
	} else if len(l.pieces) == 0 && len(l.faults) == 0 {
		l.fail(l.line, 1, "no pieces below the header")
	}
	if len(l.faults) > 0 {
		return nil, errors.Join(l.faults...)
	}
	return l.pieces, nil
}

type listReader struct {
	file   string
	sys    measure.System
	line   int
	at     map[string]int // column index by name, once the header is read
	fields int
	seen   map[string]int // line by mark
	total  int
	pieces []Piece
	faults []error
}

func (l *listReader) fail(line, column int, format string, args ...any) {
	l.faults = append(l.faults, &ListError{l.file, line, column, fmt.Sprintf(format, args...)})
}

// field is one cell and the column of its first character.
type field struct {
	text   string
	column int
}

func (l *listReader) read(line string) {
	if l.line == 1 {
		line = strings.TrimPrefix(line, "\ufeff")
	}
	if !utf8.ValidString(line) {
		l.fail(l.line, 1, "the line is not UTF-8; save the list as UTF-8")
		return
	}
	if strings.TrimSpace(line) == "" {
		return
	}
	cells, ok := l.split(line)
	switch {
	case !ok:
	case l.at == nil:
		l.header(cells)
	case len(cells) != l.fields:
		l.fail(l.line, cells[len(cells)-1].column, "%d fields where the header has %d", len(cells), l.fields)
	default:
		l.piece(cells)
	}
}

// split parts a line at its commas. A field may be quoted, quotes inside then
// doubled; a quote further in an unquoted field is an inch mark.
func (l *listReader) split(line string) ([]field, bool) {
	var out []field
	rs := []rune(line)
	for i := 0; ; i++ {
		for i < len(rs) && (rs[i] == ' ' || rs[i] == '\t') {
			i++
		}
		start, text := i, []rune(nil)
		if i < len(rs) && rs[i] == '"' {
			closed := false
			for i++; i < len(rs) && !closed; i++ {
				switch {
				case rs[i] != '"':
					text = append(text, rs[i])
				case i+1 < len(rs) && rs[i+1] == '"':
					text = append(text, '"')
					i++
				default:
					closed = true
				}
			}
			for i < len(rs) && (rs[i] == ' ' || rs[i] == '\t') {
				i++
			}
			if !closed || i < len(rs) && rs[i] != ',' {
				l.fail(l.line, start+1, "a quoted field does not end before the next comma; double the quotes inside it")
				return nil, false
			}
			start++
		} else {
			for i < len(rs) && rs[i] != ',' {
				text = append(text, rs[i])
				i++
			}
		}
		out = append(out, field{strings.TrimRight(string(text), " \t"), start + 1})
		if i >= len(rs) {
			return out, true
		}
	}
}

func (l *listReader) header(cells []field) {
	at := map[string]int{}
	for i, c := range cells {
		name := strings.Join(strings.Fields(strings.ToLower(c.text)), " ")
		known := false
		for _, k := range listColumns {
			known = known || k == name
		}
		if _, twice := at[name]; !known {
			l.fail(l.line, c.column, "unknown column %q; the columns are mark, board, width, left height, right height, count", c.text)
		} else if twice {
			l.fail(l.line, c.column, "column %q is there twice", name)
		}
		at[name] = i
	}
	for _, k := range listColumns[:needColumns] {
		if _, ok := at[k]; !ok {
			l.fail(l.line, 1, "no column %q in the header", k)
		}
	}
	l.at, l.fields = at, len(cells)
	if len(l.faults) > 0 {
		l.fields = -1 // nothing below can be read
	}
}

func (l *listReader) piece(cells []field) {
	if l.fields < 0 {
		return
	}
	before := len(l.faults)
	get := func(name string) field {
		if i, ok := l.at[name]; ok {
			return cells[i]
		}
		return field{"", 1}
	}
	mark := get("mark")
	if mark.text == "" {
		l.fail(l.line, mark.column, "a piece needs a mark")
	} else if first, twice := l.seen[mark.text]; twice {
		l.fail(l.line, mark.column, "mark %q is on line %d already; give the number in count", mark.text, first)
	}
	l.seen[mark.text] = l.line
	w, left := l.length(get("width"), false), l.length(get("left height"), true)
	right := left
	if c := get("right height"); c.text != "" {
		right = l.length(c, true)
	}
	count := l.count(get("count"))
	if len(l.faults) == before && w < leastStrip {
		l.fail(l.line, get("width").column, "width %q is under 3 mm (1/8 in): no knife cuts a strip so narrow; is the unit right?", get("width").text)
	}
	if len(l.faults) == before && (left-right).Abs() > steepest*w {
		l.fail(l.line, get("left height").column, "its top rises or falls by more than %d times its width; is a height or the width in another unit?", steepest)
	}
	if len(l.faults) == before && left == 0 && right == 0 {
		l.fail(l.line, get("left height").column, "both heights are 0")
	}
	if len(l.faults) > before {
		return
	}
	l.pieces = append(l.pieces, Piece{ID: mark.text, Board: get("board").text, Outline: trapezoid(w, left, right), Count: count})
}

// leastStrip is the narrowest piece a list may ask for: the step that cuts are
// measured by. Source: common practice, no source.
const leastStrip = 3 * measure.Millimetre

// steepest is the steepest top that is taken for one. Source: common practice, no
// source: decks and stairs rise far less.
const steepest = 100

func trapezoid(w, left, right measure.Length) geom.Poly {
	o := geom.Poly{{}, {X: w}}
	if right > 0 {
		o = append(o, geom.Pt{X: w, Y: right})
	}
	if left > 0 {
		o = append(o, geom.Pt{Y: left})
	}
	return o
}

func (l *listReader) length(c field, zero bool) measure.Length {
	v, err := measure.Parse(c.text, l.sys)
	var pe *measure.ParseError
	switch {
	case errors.As(err, &pe):
		l.fail(l.line, c.column+utf8.RuneCountInString(c.text[:pe.Offset]), "length %q: %s", c.text, pe.Msg)
	case err != nil:
		l.fail(l.line, c.column, "%v", err)
	case v < 0 || v == 0 && !zero:
		l.fail(l.line, c.column, "length %q must be above 0", c.text)
	case v > maxSheet:
		l.fail(l.line, c.column, "length %q is above 50 m; is the unit right?", c.text)
	}
	return v
}

func (l *listReader) count(c field) int {
	n := 1
	if c.text != "" {
		v, err := strconv.Atoi(c.text)
		if err != nil || v < 1 || v > maxListCount {
			l.fail(l.line, c.column, "count %q must be a whole number from 1 to %d", c.text, maxListCount)
			return 1
		}
		n = v
	}
	if l.total += n; l.total > maxListTotal {
		l.fail(l.line, c.column, "more than %d pieces in all; split the list", maxListTotal)
		l.fields = -1
	}
	return n
}

// ParseStock reads sheets on sale as written on a command line:
//
//	48in:96in,120in,144in     one width, its lengths
//	48in:96in;54in:144in      several widths
//
// Errors name the text and the character where it is wrong. The result has no
// board and no cost.
func ParseStock(s string, sys measure.System) ([]Stock, error) {
	var out []Stock
	at := 0 // bytes of s before the part read
	for _, size := range strings.Split(s, ";") {
		width, lengths, ok := strings.Cut(size, ":")
		if !ok {
			return nil, stockError(s, at, "write a width, a colon and lengths, such as 48in:96in,120in,144in")
		}
		w, err := stockLength(s, at, width, sys)
		if err != nil {
			return nil, err
		}
		pos := at + len(width) + 1
		for _, t := range strings.Split(lengths, ",") {
			v, err := stockLength(s, pos, t, sys)
			if err != nil {
				return nil, err
			}
			if v < w {
				return nil, stockError(s, pos, fmt.Sprintf("length %q is less than the width; write width:lengths", strings.TrimSpace(t)))
			}
			out = append(out, Stock{Width: w, Length: v})
			pos += len(t) + 1
		}
		at += len(size) + 1
	}
	return out, nil
}

func stockLength(s string, at int, text string, sys measure.System) (measure.Length, error) {
	v, err := measure.Parse(text, sys)
	var pe *measure.ParseError
	switch {
	case errors.As(err, &pe):
		return 0, stockError(s, at+pe.Offset, pe.Msg)
	case err != nil:
		return 0, stockError(s, at, err.Error())
	case v <= 0 || v > maxSheet:
		return 0, stockError(s, at, fmt.Sprintf("%q must be above 0 and at most 50 m", strings.TrimSpace(text)))
	}
	return v, nil
}

func stockError(s string, at int, msg string) error {
	return fmt.Errorf("stock %q: character %d: %s", s, utf8.RuneCountInString(s[:min(at, len(s))])+1, msg)
}

// ListProblem offers the sheets on sale for every board of a list.
func ListProblem(pieces []Piece, stock []Stock) Problem {
	p := Problem{Pieces: pieces}
	seen := map[string]bool{}
	for _, pc := range pieces {
		if !seen[pc.Board] {
			seen[pc.Board] = true
			for _, s := range stock {
				s.Board = pc.Board
				p.Stock = append(p.Stock, s)
			}
		}
	}
	return p
}
