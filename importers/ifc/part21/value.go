package part21

import "strconv"

// ID is an instance name: the digits behind '#'. 0 names no instance.
type ID uint64

func (id ID) String() string { return "#" + strconv.FormatUint(uint64(id), 10) }

// Kind is the kind of a parameter.
type Kind uint8

// Kinds of parameter.
const (
	Null    Kind = iota // $
	Derived             // *
	Ref                 // #12
	Int                 // 12
	Real                // 1.2E3
	String              // 'text', still encoded
	Enum                // .WORD., text without the dots
	Binary              // "0F", text without the quotes
	List                // (…)
	Typed               // KEYWORD(…)
)

// Value is one parameter of a record. It lives until its Reader decodes past a
// Reset.
type Value struct {
	Kind Kind
	Key  Keyword // of a Typed value, 0 if not in the vocabulary
	bits uint64  // Ref: id; Int, Real: see num
	num  float64
	text []byte  // String, Enum, Binary; keyword of Typed
	list []Value // List, Typed
}

// IsNull reports whether v is $ or *.
func (v *Value) IsNull() bool { return v.Kind == Null || v.Kind == Derived }

// Ref returns the id v refers to, 0 if v is no reference.
func (v *Value) Ref() ID {
	if v.Kind == Ref {
		return ID(v.bits)
	}
	return 0
}

// Number returns v as a float, looking into a typed value; ok is false if v is
// not a number.
func (v *Value) Number() (f float64, ok bool) {
	switch v.Kind {
	case Int, Real:
		return v.num, true
	case Typed:
		if len(v.list) == 1 {
			return v.list[0].Number()
		}
	}
	return 0, false
}

// Float returns v as a float, 0 if it is not a number.
func (v *Value) Float() float64 { f, _ := v.Number(); return f }

// Enum returns the word of an enumeration or logical, in capitals; "" for
// other kinds. It looks into a typed value.
func (v *Value) Enum() string {
	switch v.Kind {
	case Enum:
		return string(v.text)
	case Typed:
		if len(v.list) == 1 {
			return v.list[0].Enum()
		}
	}
	return ""
}

// Is reports whether v is the enumeration word given.
func (v *Value) Is(word string) bool { return v.Kind == Enum && string(v.text) == word }

// Text returns a string as UTF-8, looking into a typed value; "" for other
// kinds.
func (v *Value) Text() string {
	switch v.Kind {
	case String:
		return decodeText(v.text)
	case Typed:
		if len(v.list) == 1 {
			return v.list[0].Text()
		}
	}
	return ""
}

// List returns the members of a list, or of a typed value; nil for other kinds.
func (v *Value) List() []Value { return v.list }

// Record is one decoded instance. A complex instance, #1=(A(…)B(…)), has its
// first part here and the others in More.
type Record struct {
	ID   ID
	Key  Keyword // 0 if the keyword is not in the vocabulary
	Name string  // the keyword in capitals
	Args []Value
	More []Record
}

var null Value

// Arg returns the i-th parameter, counting from 0; a null if the record is
// shorter.
func (r *Record) Arg(i int) *Value {
	if i < 0 || i >= len(r.Args) {
		return &null
	}
	return &r.Args[i]
}

// Part returns the part of a complex instance with the given keyword, r itself
// if it is that; nil if there is none.
func (r *Record) Part(k Keyword) *Record {
	if r.Key == k {
		return r
	}
	for i := range r.More {
		if r.More[i].Key == k {
			return &r.More[i]
		}
	}
	return nil
}

// Keyword is the number of an entity or type name in a Vocabulary; 0 is a name
// that is not in it.
type Keyword uint16

// Vocabulary numbers the names a caller works with.
type Vocabulary struct {
	names []string // by keyword; names[0] is ""
	table []Keyword
	mask  uint32
}

// NewVocabulary numbers names from 1 in the order given. Names are in capitals
// and differ.
func NewVocabulary(names ...string) *Vocabulary {
	size := 64
	for size < 8*len(names) {
		size *= 2
	}
	v := &Vocabulary{names: append([]string{""}, names...), table: make([]Keyword, size), mask: uint32(size - 1)}
	for i, n := range names {
		h := hash([]byte(n)) & v.mask
		for v.table[h] != 0 {
			h = (h + 1) & v.mask
		}
		v.table[h] = Keyword(i + 1)
	}
	return v
}

// Name returns the name of k.
func (v *Vocabulary) Name(k Keyword) string {
	if int(k) < len(v.names) {
		return v.names[k]
	}
	return ""
}

// Len returns the number of names.
func (v *Vocabulary) Len() int { return len(v.names) - 1 }

// Find returns the number of a name in capitals, 0 if there is none.
func (v *Vocabulary) Find(name []byte) Keyword {
	h := hash(name) & v.mask
	for {
		k := v.table[h]
		if k == 0 || v.names[k] == string(name) {
			return k
		}
		h = (h + 1) & v.mask
	}
}

// hash mixes length and a few letters: enough to tell entity names apart, and
// the scan calls it once per instance.
func hash(s []byte) uint32 {
	n := uint32(len(s))
	if n < 8 {
		h := n
		for _, c := range s {
			h = h*31 + uint32(c)
		}
		return h
	}
	a := uint32(s[3]) | uint32(s[4])<<8 | uint32(s[5])<<16 | uint32(s[6])<<24
	b := uint32(s[n/2]) | uint32(s[n-1])<<8 | uint32(s[n-3])<<16 | uint32(s[n-4])<<24
	h := a*0x9E3779B1 ^ (b+n)*0x85EBCA77
	return h ^ h>>15
}
