package app

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// BenchmarkTakeoff takes off floors of rooms in a grid, from the drawing to the
// workbook. What a wall costs should not grow with their number.
func BenchmarkTakeoff(b *testing.B) {
	for _, walls := range []int{200, 2000, 5000} {
		b.Run(fmt.Sprintf("walls=%d", walls), func(b *testing.B) {
			dir := b.TempDir()
			drawn, plan := floors(walls)
			if err := os.WriteFile(filepath.Join(dir, "plan.dxf"), plan, 0o666); err != nil {
				b.Fatal(err)
			}
			text := "job: floors\nunits: inch-pound\ndrawings: [{file: plan.dxf, storey: \"1\", unit: in, layers: {A-WALL: wall, A-DOOR: door}}]\nceilings: 9ft\n" +
				"types: [{name: P, match: [{layer: A-WALL}], stud: 3-5/8in, mil: 18, spacing: 16in, both: {boards: 5/8 type X, height: ceiling + 6in}}]\n" +
				"frames: [{name: D, for: door, kind: knock-down, sizes-are: drawn, height: 84in}]\n"
			job := filepath.Join(dir, "job.yaml")
			if err := os.WriteFile(job, []byte(text), 0o666); err != nil {
				b.Fatal(err)
			}
			o := takeoffOptions{jobs: []string{job}, dir: filepath.Join(dir, "out"), effort: "quick", only: []string{"xlsx"}}
			for b.Loop() {
				if err := runTakeoff(context.Background(), &env{out: io.Discard, err: io.Discard}, o); err != nil && err != (exitError{Exceptions}) {
					b.Fatal(err)
				}
			}
			b.ReportMetric(b.Elapsed().Seconds()*1e3/float64(b.N*drawn), "ms/wall")
		})
	}
}

// floors draws floors of 8 by 6 rooms of 10 to 18 ft, 110 walls each, a door in
// two of three inner walls, and returns how many walls there are and the
// drawing.
func floors(least int) (walls int, drawing []byte) {
	const cols, rows, thick = 8, 6, 4.875
	var buf bytes.Buffer
	buf.WriteString("  0\nSECTION\n  2\nENTITIES\n")
	seed := uint32(1)
	random := func(n int) int {
		seed = seed*1664525 + 1013904223 // Numerical Recipes
		return int(seed>>8) % n
	}
	for floor := 0; walls < least; floor++ {
		grid := func(n int) []float64 {
			at := []float64{0}
			for range n {
				at = append(at, at[len(at)-1]+120+float64(random(96*8))/8)
			}
			return at
		}
		xs, ys := grid(cols), grid(rows)
		ox, oy := float64(floor%10)*2400, float64(floor/10)*2000
		line := func(layer string, across bool, u0, v0, u1, v1 float64) {
			if !across {
				u0, v0, u1, v1 = v0, u0, v1, u1
			}
			fmt.Fprintf(&buf, "  0\nLINE\n  8\n%s\n 10\n%g\n 20\n%g\n 11\n%g\n 21\n%g\n", layer, ox+u0, oy+v0, ox+u1, oy+v1)
		}
		wall := func(across bool, a, b, at float64, outer bool) {
			walls++
			a, b = a+thick/2, b-thick/2
			cuts := []float64{a, b}
			if !outer && random(3) > 0 {
				door := a + 12 + float64(random(int(b-a-64)*8))/8
				cuts = []float64{a, door, door + 36, b}
				line("A-DOOR", across, door, at, door+36, at)
				line("A-WALL", across, door, at-thick/2, door, at+thick/2)
				line("A-WALL", across, door+36, at-thick/2, door+36, at+thick/2)
			}
			for i := 0; i < len(cuts); i += 2 {
				line("A-WALL", across, cuts[i], at-thick/2, cuts[i+1], at-thick/2)
				line("A-WALL", across, cuts[i], at+thick/2, cuts[i+1], at+thick/2)
			}
		}
		for j, y := range ys {
			for i := range cols {
				wall(true, xs[i], xs[i+1], y, j == 0 || j == rows)
			}
		}
		for i, x := range xs {
			for j := range rows {
				wall(false, ys[j], ys[j+1], x, i == 0 || i == cols)
			}
		}
	}
	buf.WriteString("  0\nENDSEC\n  0\nEOF\n")
	return walls, buf.Bytes()
}
