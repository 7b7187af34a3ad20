package app

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"boardrun/internal/report"
	"boardrun/internal/write"
)

// Oracle: hand sum over the orders of two jobs.
func TestOrders_addUpJobs(t *testing.T) {
	board := func(n, allowance int) report.Item {
		return report.Item{Item: "board", Spec: "5/8 type X", WidthMM: 1219.2, LengthMM: 3048, Count: n, Allowance: allowance, MassKg: report.Kg(n) * 40}
	}
	jobs := []report.OrderOf{
		{Job: "a", System: "inch-pound", Order: []report.Item{board(10, 2), board(3, 1)}},
		{Job: "b", System: "inch-pound", Order: []report.Item{board(5, 1), {Item: "corner bead", LengthMM: 3048, Count: 4}}},
		{Job: "c", System: "metric", Order: []report.Item{board(7, 1)}},
	}
	var b bytes.Buffer
	if err := write.OrdersXLSX(&b, jobs, []string{"d.yaml"}); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows("Order", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	all := ""
	for _, r := range rows {
		all += strings.Join(r, "|") + "\n"
	}
	for _, want := range []string{"board|5/8 type X|4x10|22|", "|a, b", "d.yaml"} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in\n%s", want, all)
		}
	}
	if got := f.GetSheetList(); len(got) != 4 {
		t.Errorf("sheets: %v", got)
	}
}

// BenchmarkBatch takes off 100 jobs of 50 walls each, workbook and JSON.
func BenchmarkBatch(b *testing.B) {
	dir := b.TempDir()
	for i := range 100 {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("plan%d.dxf", i)), fiftyWalls(b, i), 0o666); err != nil {
			b.Fatal(err)
		}
		text := fmt.Sprintf("job: job%d\nunits: inch-pound\ndrawings: [{file: plan%d.dxf, storey: \"1\", unit: in, layers: {A-WALL: wall}}]\nceilings: 9ft\n"+
			"types: [{name: P, match: [{layer: A-WALL}], stud: 3-5/8in, mil: 18, spacing: 16in, both: {boards: 5/8 type X, height: ceiling + 6in}}]\n", i, i)
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("job%03d.yaml", i)), []byte(text), 0o666); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		o := takeoffOptions{jobs: []string{dir}, dir: filepath.Join(dir, "out"), effort: "quick", only: []string{"xlsx", "json"}}
		if err := runTakeoff(context.Background(), &env{out: io.Discard, err: io.Discard}, o); err != nil && err != (exitError{Exceptions}) {
			b.Fatal(err)
		}
	}
}

// fiftyWalls draws 50 free walls of 9 to 30 ft in five rows.
func fiftyWalls(b *testing.B, seed int) []byte {
	b.Helper()
	var buf bytes.Buffer
	buf.WriteString("  0\nSECTION\n  2\nENTITIES\n")
	for i := range 50 {
		x, y := float64(i%10)*400, float64(i/10)*200
		l := 108 + float64((i*37+seed*11)%252)
		for _, d := range []float64{0, 4.875} {
			fmt.Fprintf(&buf, "  0\nLINE\n  8\nA-WALL\n 10\n%g\n 20\n%g\n 11\n%g\n 21\n%g\n", x, y+d, x+l, y+d)
		}
	}
	buf.WriteString("  0\nENDSEC\n  0\nEOF\n")
	return buf.Bytes()
}
