package measure

import (
	"fmt"
	"math/big"
	"strings"
	"unicode/utf8"
)

// ParseError says where in a written length reading stopped, and why.
type ParseError struct {
	Text   string // as given
	Offset int    // in bytes, 0 ≤ Offset ≤ len(Text)
	Msg    string // what is wrong and what to write
}

func (e *ParseError) Error() string {
	return fmt.Sprintf("length %q: %s (at character %d)", e.Text, e.Msg, utf8.RuneCountInString(e.Text[:e.Offset])+1)
}

// maxText is far beyond any length a person writes; it bounds the work on
// hostile input.
const maxText = 64

// maxLength is 10 000 km: map coordinates fit, and sums of a thousand such
// lengths stay far from the end of int64.
const maxLength = 1e7 * Metre

// Parse reads a length as people write it:
//
//	9'-6 1/2"   9'6-1/2   9' 6½″   4 ft 6 in   9'   114.5in   114 1/2"   3/8"
//	2900mm   290 cm   2.9m
//
// Grammar: a sign may lead; feet may be followed by inches, whose mark may then
// be left out; inches are whole, decimal, a fraction, or whole and fraction
// parted by a space or a hyphen. A number without a unit is refused with
// advice in the words of sys, except 0. Unit words ignore case.
//
// The result is the grid length nearest to what is written, halves away from
// zero: exact for every fraction down to 1/64 in and for tenths of a
// micrometre times 1.25. Errors are *ParseError.
func Parse(s string, sys System) (Length, error) {
	p := &parser{text: s, sys: sys}
	if len(s) > maxText {
		return 0, p.fail(maxText, "too long for a length")
	}
	l, err := p.length()
	if err != nil {
		return 0, err
	}
	return l, nil
}

// parser is a recursive-descent reader; pos is a byte offset into text.
type parser struct {
	text string
	pos  int
	sys  System
}

func (p *parser) fail(at int, format string, args ...any) *ParseError {
	at = min(at, len(p.text))
	for at > 0 && at < len(p.text) && !utf8.RuneStart(p.text[at]) {
		at--
	}
	return &ParseError{Text: p.text, Offset: at, Msg: fmt.Sprintf(format, args...)}
}

// length = [sign] quantity.
func (p *parser) length() (Length, error) {
	p.space()
	start := p.pos
	if start == len(p.text) {
		return 0, p.fail(start, "empty; write a length such as %s", p.example())
	}
	negative := p.take("-") || p.take("−")
	v, err := p.quantity()
	if err != nil {
		return 0, err
	}
	p.space()
	if p.pos < len(p.text) {
		return 0, p.fail(p.pos, "%q does not belong to a length; write %s", p.text[p.pos:], p.example())
	}
	l, ok := toGrid(v)
	if !ok {
		return 0, p.fail(start, "more than 10000 km")
	}
	if negative {
		l = -l
	}
	return l, nil
}

// quantity = "0" | number unit | feet [inches]. The value is in grid units.
func (p *parser) quantity() (*big.Rat, error) {
	start := p.pos
	n, whole, err := p.number()
	if err != nil {
		return nil, err
	}
	p.space()
	at := p.pos
	unit, ok := p.unit()
	switch {
	case !ok && p.pos == len(p.text) && n.Sign() == 0:
		return n, nil
	case !ok && p.pos == len(p.text):
		return nil, p.fail(p.pos, "a number without a unit; say the unit: %s", p.example())
	case !ok:
		return nil, p.fail(at, "%q is no unit; use ', \", ft, in, mm, cm or m, as in %s", p.text[at:], p.example())
	}
	v := scale(n, unit)
	if unit != Foot {
		return v, nil
	}
	in, err := p.inchesAfterFeet(start, whole)
	if err != nil {
		return nil, err
	}
	return v.Add(v, scale(in, Inch)), nil
}

// inchesAfterFeet = [sep] number [inch mark]; zero where nothing follows.
func (p *parser) inchesAfterFeet(start int, wholeFeet bool) (*big.Rat, error) {
	p.space()
	if p.take("-") || p.take("–") {
		p.space()
		if p.pos == len(p.text) {
			return nil, p.fail(p.pos, "inches are missing after the hyphen")
		}
	}
	if p.pos == len(p.text) {
		return new(big.Rat), nil
	}
	at := p.pos
	n, _, err := p.number()
	if err != nil {
		return nil, err
	}
	if !wholeFeet {
		return nil, p.fail(start, "feet with a fraction take no inches")
	}
	if n.Cmp(big.NewRat(12, 1)) >= 0 {
		return nil, p.fail(at, "12 inches or more after feet; did you mean another digit?")
	}
	p.space()
	unitAt := p.pos
	if unit, ok := p.unit(); ok && unit != Inch {
		return nil, p.fail(unitAt, "only inches may follow feet")
	}
	return n, nil
}

// number = decimal | digits [sep fraction] | fraction. whole tells that it is
// digits alone.
func (p *parser) number() (n *big.Rat, whole bool, err error) {
	if f, ok := p.vulgar(); ok {
		return f, false, nil
	}
	at := p.pos
	digits := p.digits()
	if p.take(".") {
		decimals := p.digits()
		if digits == "" && decimals == "" {
			return nil, false, p.fail(at, "a number is missing")
		}
		n, _ = new(big.Rat).SetString("0" + digits + "." + decimals + "0")
		return n, false, nil
	}
	if digits == "" {
		return nil, false, p.fail(at, "a number is missing; write %s", p.example())
	}
	if strings.HasPrefix(p.text[p.pos:], ",") {
		return nil, false, p.fail(p.pos, "a comma can be read two ways; write a decimal point, and nothing between thousands")
	}
	n, _ = new(big.Rat).SetString(digits)
	if p.take("/") || p.take("⁄") {
		f, err := p.denominator(at, n)
		return f, false, err
	}
	f, err := p.fractionAfter()
	if err != nil || f == nil {
		return n, true, err
	}
	return n.Add(n, f), false, nil
}

// fractionAfter = [sep] (vulgar | digits "/" digits); nil and no move where
// none follows.
func (p *parser) fractionAfter() (*big.Rat, error) {
	back := p.pos
	p.space()
	if p.take("-") || p.take("–") {
		p.space()
	}
	if f, ok := p.vulgar(); ok {
		return f, nil
	}
	at := p.pos
	digits := p.digits()
	if digits == "" || at == back || !(p.take("/") || p.take("⁄")) {
		p.pos = back
		return nil, nil
	}
	n, _ := new(big.Rat).SetString(digits)
	return p.denominator(at, n)
}

func (p *parser) denominator(at int, n *big.Rat) (*big.Rat, error) {
	digits := p.digits()
	d, ok := new(big.Rat).SetString("0" + digits)
	switch {
	case !ok || d.Sign() == 0:
		return nil, p.fail(p.pos, "a number other than 0 is missing under the fraction bar")
	case n.Cmp(d) >= 0:
		return nil, p.fail(at, "the fraction is 1 or more; write the whole inches before it")
	}
	return n.Quo(n, d), nil
}

var vulgars = map[rune][2]int64{
	'½': {1, 2}, '¼': {1, 4}, '¾': {3, 4}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8},
	'⅓': {1, 3}, '⅔': {2, 3}, '⅙': {1, 6}, '⅚': {5, 6}, '⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5},
}

func (p *parser) vulgar() (*big.Rat, bool) {
	r, size := utf8.DecodeRuneInString(p.text[p.pos:])
	f, ok := vulgars[r]
	if !ok {
		return nil, false
	}
	p.pos += size
	return big.NewRat(f[0], f[1]), true
}

func (p *parser) digits() string {
	start := p.pos
	for p.pos < len(p.text) && '0' <= p.text[p.pos] && p.text[p.pos] <= '9' {
		p.pos++
	}
	return p.text[start:p.pos]
}

func (p *parser) space() {
	for p.take(" ") || p.take("\t") || p.take("\u00a0") || p.take("\u202f") {
	}
}

func (p *parser) take(s string) bool {
	if strings.HasPrefix(p.text[p.pos:], s) {
		p.pos += len(s)
		return true
	}
	return false
}

// units in the order tried: no word stands before one that it begins.
var units = []struct {
	word string
	unit Length
}{
	{"''", Inch}, {"′′", Inch}, {"’’", Inch}, {"\"", Inch}, {"″", Inch}, {"”", Inch},
	{"'", Foot}, {"′", Foot}, {"’", Foot},
	{"inches", Inch}, {"inch", Inch}, {"in.", Inch}, {"in", Inch},
	{"feet", Foot}, {"foot", Foot}, {"ft.", Foot}, {"ft", Foot},
	{"mm", Millimetre}, {"cm", Centimetre}, {"metres", Metre}, {"metre", Metre}, {"meters", Metre}, {"meter", Metre}, {"m", Metre},
}

// unit takes a unit mark or word. A word must not run on into further letters:
// "5min" is not five metres.
func (p *parser) unit() (Length, bool) {
	rest := p.text[p.pos:]
	for _, u := range units {
		if len(rest) < len(u.word) || !strings.EqualFold(rest[:len(u.word)], u.word) {
			continue
		}
		if after := rest[len(u.word):]; isLetter(u.word[0]) && after != "" && isLetter(after[0]) {
			continue
		}
		p.pos += len(u.word)
		return u.unit, true
	}
	return 0, false
}

func isLetter(b byte) bool { return 'a' <= b|0x20 && b|0x20 <= 'z' }

// example is a well-written length for advice.
func (p *parser) example() string {
	if p.sys == Metric {
		return "1200mm or 2.9m"
	}
	return `48in or 9'-6 1/2"`
}

func scale(n *big.Rat, unit Length) *big.Rat {
	return new(big.Rat).Mul(n, new(big.Rat).SetInt64(int64(unit)))
}

// toGrid rounds v ≥ 0 to the nearest whole unit, halves up.
func toGrid(v *big.Rat) (Length, bool) {
	if v.Cmp(new(big.Rat).SetInt64(int64(maxLength))) > 0 {
		return 0, false
	}
	num := new(big.Int).Lsh(v.Num(), 1)
	num.Add(num, v.Denom())
	return Length(num.Quo(num, new(big.Int).Lsh(v.Denom(), 1)).Int64()), true
}
