package dxf

import (
	"math"
	"math/rand"
	"strconv"
	"strings"
	"testing"
)

func TestParseFloat(t *testing.T) {
	for _, c := range []struct {
		in   string
		want float64
		ok   bool
	}{
		{"0", 0, true}, {"1.5", 1.5, true}, {"-1.5", -1.5, true}, {"+2", 2, true}, {" 3.25 ", 3.25, true},
		{".5", .5, true}, {"5.", 5, true}, {"1e3", 1000, true}, {"1.5E-2", .015, true}, {"1.5D+2", 150, true},
		{"144.0000003", 144.0000003, true}, {"0.1", 0.1, true}, {"123456789012345678", 123456789012345678, true},
		{"0.30000000000000004", 0.30000000000000004, true}, {"9007199254740993", 9007199254740993, true},
		{"1.7976931348623157e308", math.MaxFloat64, true}, {"\t7", 7, true}, {"7\x00", 7, true},
		{"00000000000000000000001", 1, true},
		{"", 0, false}, {"-", 0, false}, {".", 0, false}, {"1e999", 0, false}, {"nan", 0, false}, {"inf", 0, false},
		{"0x1p3", 0, false}, {"1_0", 0, false}, {"1,5", 0, false}, {"1 2", 0, false}, {"abc", 0, false}, {"--1", 0, false},
	} {
		got, ok := parseFloat([]byte(c.in))
		if ok != c.ok || ok && got != c.want {
			t.Errorf("%q: got %v %v, want %v %v", c.in, got, ok, c.want, c.ok)
		}
	}
}

// Oracle: strconv.ParseFloat.
func TestParseFloat_random(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 200_000 {
		x := math.Float64frombits(r.Uint64())
		if math.IsNaN(x) || math.IsInf(x, 0) {
			continue
		}
		if r.Intn(3) > 0 {
			x = math.Ldexp(r.NormFloat64(), r.Intn(60)-20)
		}
		s := strconv.FormatFloat(x, "feg"[r.Intn(3)], r.Intn(20)-1, 64)
		if strings.Contains(s, "e+3") {
			continue
		}
		want, err := strconv.ParseFloat(s, 64)
		got, ok := parseFloat([]byte(s))
		if ok != (err == nil) || ok && got != want {
			t.Fatalf("%q: got %v %v, want %v", s, got, ok, want)
		}
	}
}

func TestParseInt(t *testing.T) {
	for _, c := range []struct {
		in   string
		want int64
		ok   bool
	}{
		{"0", 0, true}, {"     1", 1, true}, {"-62", -62, true}, {"+3", 3, true}, {"1.0", 1, true}, {"-2.000", -2, true}, {"7 ", 7, true},
		{"9223372036854775806", 0, false}, {"1.5", 0, false}, {"", 0, false}, {"x", 0, false}, {"1x", 0, false}, {"1e3", 1000, true},
	} {
		got, ok := parseInt([]byte(c.in))
		if ok != c.ok || ok && got != c.want {
			t.Errorf("%q: got %v %v, want %v %v", c.in, got, ok, c.want, c.ok)
		}
	}
}

func TestParseHandle(t *testing.T) {
	for _, c := range []struct {
		in   string
		want uint64
		ok   bool
	}{
		{"1F", 0x1F, true}, {"ff", 255, true}, {" 2A ", 42, true}, {"FFFFFFFFFFFFFFFF", math.MaxUint64, true},
		{"", 0, false}, {"XYZ", 0, false}, {"1FFFFFFFFFFFFFFFF", 0, false},
	} {
		got, ok := parseHandle([]byte(c.in))
		if ok != c.ok || ok && got != c.want {
			t.Errorf("%q: got %X %v, want %X %v", c.in, got, ok, c.want, c.ok)
		}
	}
}
