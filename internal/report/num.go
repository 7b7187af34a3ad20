package report

import (
	"bytes"
	"strconv"

	"boardrun/internal/geom"
	"boardrun/internal/measure"
)

// MM is a length in millimetres, written with up to six decimals: a Length
// comes out exact.
type MM float64

// M2 is an area in square metres, written with up to nine decimals.
type M2 float64

// Kg is a mass in kilograms, written with up to four decimals.
type Kg float64

// UV is a point in millimetres.
type UV [2]MM

// Poly is a closed outline, first point not repeated.
type Poly []UV

// MarshalJSON writes the number without an exponent and without trailing
// zeros.
func (v MM) MarshalJSON() ([]byte, error) { return decimal(float64(v), 6), nil }

// MarshalJSON is like that of MM.
func (v M2) MarshalJSON() ([]byte, error) { return decimal(float64(v), 9), nil }

// MarshalJSON is like that of MM.
func (v Kg) MarshalJSON() ([]byte, error) { return decimal(float64(v), 4), nil }

func decimal(v float64, digits int) []byte {
	b := strconv.AppendFloat(nil, v, 'f', digits, 64)
	b = bytes.TrimRight(b, "0")
	b = bytes.TrimSuffix(b, []byte("."))
	if len(b) == 0 || bytes.Equal(b, []byte("-0")) || bytes.Equal(b, []byte("-")) {
		return []byte("0")
	}
	return b
}

// Millimetres converts a Length exactly.
func Millimetres(l measure.Length) MM { return MM(l.MM()) }

// Point converts a point.
func Point(p geom.Pt) UV { return UV{Millimetres(p.X), Millimetres(p.Y)} }

// Outline converts a polygon; nil becomes an empty one.
func Outline(p geom.Poly) Poly {
	q := make(Poly, len(p))
	for i, a := range p {
		q[i] = Point(a)
	}
	return q
}

// Outlines converts polygons.
func Outlines(ps []geom.Poly) []Poly {
	q := make([]Poly, len(ps))
	for i, p := range ps {
		q[i] = Outline(p)
	}
	return q
}
