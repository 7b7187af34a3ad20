package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"testing"
)

// Oracle: the committed files; a change here goes with `go generate ./cmd/samples`.
func TestSamples_areWhatThisWrites(t *testing.T) {
	for name, write := range samples() {
		var got bytes.Buffer
		if err := write(&got); err != nil {
			t.Fatal(err)
		}
		want, err := os.ReadFile(filepath.Join("..", "..", "samples", filepath.FromSlash(name)))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got.Bytes(), want) {
			t.Errorf("%s is not what this writes: run go generate ./cmd/samples", name)
		}
	}
}

// Oracle: ISO 10303-21, every reference has its instance; ISO 16739-1, a
// GlobalId is 22 characters, the first at most 3, and no two are alike.
func TestModel_isWhole(t *testing.T) {
	text := vetModel().data.String()
	instances := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^(#\d+)=`).FindAllStringSubmatch(text, -1) {
		instances[m[1]] = true
	}
	for _, r := range regexp.MustCompile(`#\d+`).FindAllString(text, -1) {
		if !instances[r] {
			t.Errorf("%s is referred to and not there", r)
		}
	}
	seen := map[string]bool{}
	ids := regexp.MustCompile(`=IFC\w+\('([0-3][0-9A-Za-z_$]{21})',\$`).FindAllStringSubmatch(text, -1)
	for _, m := range ids {
		if seen[m[1]] {
			t.Errorf("GlobalId %s twice", m[1])
		}
		seen[m[1]] = true
	}
	if len(ids) < 100 {
		t.Errorf("only %d GlobalIds", len(ids))
	}
}

// Oracle: ISO 10303-21, 6.4: a REAL has digits and a point before the exponent.
func TestNumber(t *testing.T) {
	for x, want := range map[float64]string{0: "0.", 12: "12.", -0.5: "-0.5", 1e-5: "1.E-05", 1.25e30: "1.25E+30", 4.875 / 2: "2.4375"} {
		if got := number(x); got != want {
			t.Errorf("%g: %s, want %s", x, got, want)
		}
	}
}
