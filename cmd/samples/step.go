package main

import (
	"crypto/md5"
	"fmt"
	"io"
	"math/big"
	"strconv"
	"strings"
)

// step writes a model as an ISO 10303-21 exchange file. Instances are numbered
// in the order they are added.
type step struct {
	n    int
	data strings.Builder
}

type (
	ref   int    // an instance
	enum  string // .NAME.
	real  float64
	typed struct { // TYPE(value)
		name  string
		value any
	}
	list []any
)

// derived is the value of an attribute that a subtype derives.
const derived = enum("*")

// add writes an instance. Values are nil ($), string, bool, int, real, ref,
// enum, typed and list.
func (s *step) add(entity string, values ...any) ref {
	s.n++
	fmt.Fprintf(&s.data, "#%d=%s%s;\n", s.n, entity, value(list(values)))
	return ref(s.n)
}

func value(v any) string {
	switch v := v.(type) {
	case nil:
		return "$"
	case string: // the texts here are plain ASCII
		return "'" + strings.ReplaceAll(strings.ReplaceAll(v, `\`, `\\`), "'", "''") + "'"
	case bool:
		if v {
			return ".T."
		}
		return ".F."
	case int:
		return strconv.Itoa(v)
	case real:
		return number(float64(v))
	case ref:
		return "#" + strconv.Itoa(int(v))
	case enum:
		if v == derived {
			return "*"
		}
		return "." + string(v) + "."
	case typed:
		return v.name + "(" + value(v.value) + ")"
	case list:
		parts := make([]string, len(v))
		for i := range v {
			parts[i] = value(v[i])
		}
		return "(" + strings.Join(parts, ",") + ")"
	}
	panic(fmt.Sprintf("no such value in an exchange file: %T", v))
}

// number writes a REAL: a decimal point always, the exponent in a capital.
func number(x float64) string {
	if x == 0 {
		return "0." // never −0
	}
	t := strings.ToUpper(strconv.FormatFloat(x, 'g', -1, 64))
	m, e, exp := strings.Cut(t, "E")
	if !strings.Contains(m, ".") {
		m += "."
	}
	if exp {
		return m + "E" + e
	}
	return m
}

// reals is a list of numbers.
func reals(x ...float64) list {
	out := make(list, len(x))
	for i := range x {
		out[i] = real(x[i])
	}
	return out
}

// refs is a list of instances.
func refs(r ...ref) list {
	out := make(list, len(r))
	for i := range r {
		out[i] = r[i]
	}
	return out
}

// globalID is a GlobalId made from a name, the same every time: 128 bits in 22
// characters of the alphabet that ISO 16739-1 gives for IfcGloballyUniqueId.
func globalID(name string) string {
	const digits = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"
	sum := md5.Sum([]byte(name))
	n := new(big.Int).SetBytes(sum[:])
	var out [22]byte
	for i := len(out) - 1; i >= 0; i-- {
		var d big.Int
		n.DivMod(n, big.NewInt(64), &d)
		out[i] = digits[d.Int64()]
	}
	return string(out[:])
}

// write writes the whole file. The date is not that of the day: the same
// building gives the same bytes.
func (s *step) write(w io.Writer, name string) error {
	_, err := fmt.Fprintf(w, `ISO-10303-21;
HEADER;
FILE_DESCRIPTION(('ViewDefinition [DesignTransferView_V1.0]'),'2;1');
FILE_NAME(%s,'2026-01-01T00:00:00',('invented'),('invented'),'boardrun samples','boardrun samples','');
FILE_SCHEMA(('IFC4'));
ENDSEC;
DATA;
%sENDSEC;
END-ISO-10303-21;
`, value(name), s.data.String())
	return err
}
