package dxf

import (
	"bytes"
	"fmt"
	"io"
	"testing"
)

// lines is a drawing of n lines.
func lines(n int) *Drawing {
	d := &Drawing{Layers: []Layer{{Name: "A-WALL", Colour: 7}}}
	for i := range n {
		x := float64(i) * 1.0625
		d.Entities = append(d.Entities, Line{Pen: Pen{Layer: "A-WALL"}, A: [2]float64{x, 4.4375}, B: [2]float64{x + 144, 4.4375}})
	}
	return d
}

// BenchmarkScanner reads every pair, and every coordinate as a number.
func BenchmarkScanner(b *testing.B) {
	var ascii bytes.Buffer
	if err := lines(20_000).Write(&ascii); err != nil {
		b.Fatal(err)
	}
	pairs := []any{0, "SECTION", 2, "ENTITIES"}
	for i := range 20_000 {
		x := float64(i) * 1.0625
		pairs = append(pairs, 0, "LINE", 5, fmt.Sprintf("%X", i+256), 8, "A-WALL", 10, x, 20, 4.4375, 30, 0.0, 11, x+144, 21, 4.4375, 31, 0.0)
	}
	for name, data := range map[string][]byte{"ascii": ascii.Bytes(), "binary": binaryPairs(true, append(pairs, 0, "EOF")...)} {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				s, err := NewScanner("b.dxf", bytes.NewReader(data))
				if err != nil {
					b.Fatal(err)
				}
				for s.Next() {
					if s.Code >= 10 && s.Code < 40 {
						s.Float()
					}
				}
			}
		})
	}
}

func BenchmarkParseFloat(b *testing.B) {
	for _, s := range []string{"144.0625", "0.0", "-1532.4375000001", "0.30000000000000004"} {
		b.Run(s, func(b *testing.B) {
			v := []byte(s)
			for b.Loop() {
				parseFloat(v)
			}
		})
	}
}

func BenchmarkWrite(b *testing.B) {
	d := lines(20_000)
	b.ReportAllocs()
	for b.Loop() {
		if err := d.Write(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
