package part21

import (
	"errors"
	"fmt"
	"math"
	"strconv"
)

// decoder parses one statement from data. With last unset the data may stop
// short of the statement's end, which gives errShort.
type decoder struct {
	voc   *Vocabulary
	data  []byte
	pos   int
	last  bool
	arena *arena
	stack []Value
	depth int
}

var errShort = errors.New("short")

// arena holds records, their values and texts until it is reset.
type arena struct {
	records []Record
	values  []Value
	bytes   []byte
}

func (a *arena) record(r Record) *Record {
	if len(a.records) == cap(a.records) {
		a.records = make([]Record, 0, 256)
	}
	a.records = append(a.records, r)
	return &a.records[len(a.records)-1]
}

func (a *arena) hold(vs []Value) []Value {
	if len(vs) == 0 {
		return nil
	}
	if a == nil {
		return append([]Value(nil), vs...)
	}
	if cap(a.values)-len(a.values) < len(vs) {
		a.values = make([]Value, 0, max(4096, len(vs)))
	}
	n := len(a.values)
	a.values = append(a.values, vs...)
	return a.values[n : n+len(vs) : n+len(vs)]
}

func (a *arena) holdBytes(b []byte) []byte {
	if a == nil {
		return append([]byte(nil), b...)
	}
	if cap(a.bytes)-len(a.bytes) < len(b) {
		a.bytes = make([]byte, 0, max(16<<10, len(b)))
	}
	n := len(a.bytes)
	a.bytes = append(a.bytes, b...)
	return a.bytes[n : n+len(b) : n+len(b)]
}

// fault returns errShort where data merely stops, else what is wrong.
func (d *decoder) fault(format string, args ...any) error {
	if d.pos >= len(d.data) && !d.last {
		return errShort
	}
	return fmt.Errorf(format, args...)
}

// skip moves past blanks and comments and returns the next byte, 0 at the end.
func (d *decoder) skip() byte {
	for d.pos < len(d.data) {
		c := d.data[d.pos]
		switch {
		case c > ' ' && c != '/':
			return c
		case c == '/':
			if d.pos+1 >= len(d.data) {
				d.pos = len(d.data)
				return 0
			}
			if d.data[d.pos+1] != '*' {
				return c
			}
			rest := skipBlank(d.data[d.pos:])
			if len(rest) == len(d.data)-d.pos { // not closed within data
				d.pos = len(d.data)
				return 0
			}
			d.pos = len(d.data) - len(rest)
		default:
			d.pos++
		}
	}
	return 0
}

// instance parses #1=NAME(…) or #1=(A(…)B(…)).
func (d *decoder) instance(id ID) (Record, error) {
	if d.skip() != '#' {
		return Record{}, d.fault("no instance here")
	}
	d.pos++
	_, n, _ := parseID(d.data[d.pos:])
	d.pos += n
	if d.skip() != '=' {
		return Record{}, d.fault("= expected")
	}
	d.pos++
	if d.skip() != '(' {
		return d.simple(id)
	}
	d.pos++
	var rec Record
	for n := 0; d.skip() != ')'; n++ {
		part, err := d.simple(id)
		if err != nil {
			return rec, err
		}
		if n == 0 {
			rec = part
		} else {
			rec.More = append(rec.More, part)
		}
	}
	d.pos++
	return rec, nil
}

// simple parses NAME(…).
func (d *decoder) simple(id ID) (Record, error) {
	d.skip()
	key, w := d.keyword()
	if len(w) == 0 {
		return Record{}, d.fault("keyword expected")
	}
	name := d.voc.Name(key)
	if key == 0 {
		name = string(w)
	}
	args, err := d.parameters()
	return Record{ID: id, Key: key, Name: name, Args: args}, err
}

// keyword reads a name and finds it in the vocabulary; the name in capitals.
func (d *decoder) keyword() (Keyword, []byte) {
	w := word(d.data[d.pos:])
	d.pos += len(w)
	key := d.voc.Find(w)
	if key != 0 {
		return key, w
	}
	for _, c := range w {
		if c >= 'a' && c <= 'z' {
			up := make([]byte, len(w))
			for i, c := range w {
				if c >= 'a' && c <= 'z' {
					c -= 32
				}
				up[i] = c
			}
			return d.voc.Find(up), up
		}
	}
	return 0, w
}

// parameters parses ( value , … ).
func (d *decoder) parameters() ([]Value, error) {
	if d.skip() != '(' {
		return nil, d.fault("( expected")
	}
	if d.depth++; d.depth > MaxDepth {
		return nil, fmt.Errorf("lists are nested more than %d deep", MaxDepth)
	}
	defer func() { d.depth-- }()
	d.pos++
	base := len(d.stack)
	if d.skip() == ')' {
		d.pos++
		return nil, nil
	}
	for {
		v, err := d.value()
		if err != nil {
			return nil, err
		}
		d.stack = append(d.stack, v)
		switch d.skip() {
		case ',':
			d.pos++
		case ')':
			d.pos++
			vs := d.arena.hold(d.stack[base:])
			d.stack = d.stack[:base]
			return vs, nil
		default:
			return nil, d.fault(", or ) expected after parameter %d", len(d.stack)-base)
		}
	}
}

func (d *decoder) value() (Value, error) {
	switch c := d.skip(); {
	case c == '$':
		d.pos++
		return Value{Kind: Null}, nil
	case c == '*':
		d.pos++
		return Value{Kind: Derived}, nil
	case c == '#':
		id, n, ok := parseID(d.data[d.pos+1:])
		d.pos += 1 + n
		if !ok || d.pos >= len(d.data) {
			return Value{}, d.fault("bad reference")
		}
		return Value{Kind: Ref, bits: uint64(id)}, nil
	case c == '\'':
		return d.quoted()
	case c == '(':
		vs, err := d.parameters()
		return Value{Kind: List, list: vs}, err
	case c == '.':
		return d.between('.', Enum)
	case c == '"':
		return d.between('"', Binary)
	case c >= '0' && c <= '9' || c == '-' || c == '+':
		return d.number()
	case isWord(c):
		key, w := d.keyword()
		if key == 0 && d.pos < len(d.data) {
			w = d.arena.holdBytes(w)
		}
		vs, err := d.parameters()
		return Value{Kind: Typed, Key: key, text: w, list: vs}, err
	default:
		return Value{}, d.fault("unexpected %q", c)
	}
}

func (d *decoder) quoted() (Value, error) {
	for i := d.pos + 1; i < len(d.data); i++ {
		if d.data[i] != '\'' {
			continue
		}
		if i+1 < len(d.data) && d.data[i+1] == '\'' {
			i++
			continue
		}
		if i+1 == len(d.data) && !d.last {
			break // a doubled apostrophe may go on
		}
		t := d.arena.holdBytes(d.data[d.pos+1 : i])
		d.pos = i + 1
		return Value{Kind: String, text: t}, nil
	}
	d.pos = len(d.data)
	return Value{}, d.fault("text is never closed")
}

func (d *decoder) between(q byte, k Kind) (Value, error) {
	for i := d.pos + 1; i < len(d.data); i++ {
		switch c := d.data[i]; {
		case c == q:
			t := d.arena.holdBytes(d.data[d.pos+1 : i])
			d.pos = i + 1
			return Value{Kind: k, text: t}, nil
		case !isWord(c):
			return Value{}, fmt.Errorf("%q within an enumeration or binary", c)
		}
	}
	d.pos = len(d.data)
	return Value{}, d.fault("enumeration or binary is never closed")
}

var pow10 = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// number reads an integer or real. Up to 15 digits and a small exponent are
// exact by one multiplication or division (Clinger 1990); the rest goes to
// strconv.
func (d *decoder) number() (Value, error) {
	b := d.data[d.pos:]
	i, neg := 0, false
	if b[0] == '-' || b[0] == '+' {
		neg = b[0] == '-'
		i++
	}
	var m uint64
	digits, exp := 0, 0
	kind := Int
	for ; i < len(b); i++ {
		c := b[i]
		if c >= '0' && c <= '9' {
			m = m*10 + uint64(c-'0')
			digits++
			if kind == Real {
				exp--
			}
		} else if c == '.' && kind == Int {
			kind = Real
		} else {
			break
		}
	}
	if i < len(b) && (b[i] == 'E' || b[i] == 'e') {
		e, n := exponent(b[i+1:])
		kind, exp, i = Real, exp+e, i+1+n
	}
	d.pos += i
	if i == len(b) {
		return Value{}, d.fault("the statement ends in a number")
	}
	v := Value{Kind: kind}
	switch {
	case digits == 0:
		return Value{}, fmt.Errorf("a number without digits")
	case digits <= 15 && exp <= 0 && exp >= -22:
		v.num = float64(m) / pow10[-exp]
	case digits <= 15 && exp > 0 && exp <= 22:
		v.num = float64(m) * pow10[exp]
	default:
		f, err := strconv.ParseFloat(string(b[:i]), 64)
		if err != nil && (math.IsInf(f, 0) || f == 0 && !errors.Is(err, strconv.ErrRange)) {
			return Value{}, fmt.Errorf("number %.30q is out of range", b[:i])
		}
		v.num = f
		return v, nil
	}
	if neg {
		v.num = -v.num
	}
	return v, nil
}

// exponent reads what follows an E and returns it and its length.
func exponent(b []byte) (e, n int) {
	neg := false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		neg = b[0] == '-'
		n++
	}
	for ; n < len(b) && b[n] >= '0' && b[n] <= '9'; n++ {
		e = min(e*10+int(b[n]-'0'), 100000)
	}
	if neg {
		e = -e
	}
	return e, n
}
