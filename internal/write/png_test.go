package write

import (
	"bytes"
	"encoding/xml"
	"image"
	"image/png"
	"math"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"boardrun/internal/report"
)

// Oracle: areas by hand, as shares of ink: a square of 20 mm filled, a line of
// 0.7 mm × 30 mm, a ring of 2 mm outlines.
func TestPNG_inkIsWhereItBelongs(t *testing.T) {
	at := func(marks ...report.Mark) image.Image {
		t.Helper()
		var b bytes.Buffer
		d := &report.Picture{Scale: 1, Max: report.UV{40, 40}, Marks: marks}
		w, h, err := PNG(&b, d)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		if img.Bounds().Dx() != w || w != 220 || h != 220 { // 40 mm and twice 2 mm at 5 dots
			t.Fatalf("%d × %d dots, said %d × %d, want 220", img.Bounds().Dx(), img.Bounds().Dy(), w, h)
		}
		return img
	}
	ink := func(img image.Image) (dots float64) {
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				r, g, b, _ := img.At(x, y).RGBA()
				bright := (299*float64(r) + 587*float64(g) + 114*float64(b)) / 1000 / 257
				dots += (255 - bright) / 215
			}
		}
		return dots
	}
	square := rect(10, 10, 30, 30)
	for _, c := range []struct {
		name string
		mark report.Mark
		want float64 // dots of full ink
	}{
		{"filled", report.Mark{Pen: report.PenJoint, Fill: report.FillSolid, Closed: true, Points: square}, 103.5 * 103.5},
		{"a line", report.Mark{Pen: report.PenJoint, Points: []report.UV{{5, 20}, {35, 20}}}, 3.5 * 150},
		{"an outline", report.Mark{Pen: report.PenJoint, Closed: true, Points: square}, 4 * 3.5 * 100},
	} {
		img := at(c.mark)
		if got := ink(img); math.Abs(got-c.want) > 0.03*c.want {
			t.Errorf("%s: ink of %.0f dots, want %.0f", c.name, got, c.want)
		}
		if r, _, _, _ := img.At(3, 3).RGBA(); r != 0xffff {
			t.Errorf("%s: ink in the corner", c.name)
		}
	}
	if got := ink(at(report.Mark{Text: "48 × 120", Size: 5, Points: []report.UV{{20, 20}}})); got < 200 || got > 1500 {
		t.Errorf("writing takes %.0f dots of ink", got)
	}
	if got := ink(at(report.Mark{Text: "🐶", Size: 5, Points: []report.UV{{20, 20}}})); got < 20 {
		t.Errorf("a letter the typeface lacks leaves %.0f dots of ink: no question mark", got)
	}
}

func TestPNG_oddDrawings(t *testing.T) {
	nan, far := report.MM(math.NaN()), report.MM(1e12)
	for name, d := range map[string]*report.Picture{
		"nothing":  {},
		"no scale": {Max: report.UV{10, 10}},
		"NaN":      {Scale: 40, Max: report.UV{nan, 10}, Marks: []report.Mark{{Points: []report.UV{{nan, nan}, {1, 1}}}, {Text: "x", Points: []report.UV{{nan, 1}}, Size: 3}}},
		"wide":     {Scale: 1, Max: report.UV{far, far}, Marks: []report.Mark{{Fill: report.FillHatch, Closed: true, Points: rect(0, 0, far, far)}, {Points: []report.UV{{0, 0}, {far, far}}}}},
		"point":    {Scale: 40, Marks: []report.Mark{{Closed: true, Fill: report.FillCross, Points: []report.UV{{1, 1}}}, {Points: []report.UV{{1, 1}}}}},
	} {
		var b bytes.Buffer
		if _, _, err := PNG(&b, d); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		b.Reset()
		if err := SVG(&b, d); err != nil {
			t.Errorf("%s: SVG: %v", name, err)
		}
		if err := xml.Unmarshal(b.Bytes(), new(struct{})); err != nil {
			t.Errorf("%s: SVG: %v", name, err)
		}
	}
}

// The charts draw cells of their sheet, and the sums there are those of the
// takeoff. Oracle: the workbook read back by its library; sums by hand.
func TestXLSX_pictures(t *testing.T) {
	x := building(30, 0, report.UV{}, hostile)
	var hung float64
	for i := range x.Pieces {
		x.Pieces[i].AreaM2 = 3
		hung += 3
		x.Pieces[i].Sheet = "S1"
	}
	x.Sheets = []report.Sheet{{ID: "S1", WidthMM: 30000, LengthMM: 40000, Placements: []report.Placement{{Piece: x.Pieces[0].ID}}, Offcuts: []report.Offcut{{OutlineMM: rect(0, 0, 2000, 1000), Kept: true}}}}
	var b bytes.Buffer
	if err := XLSX(&b, x); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows("Pictures", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	all := ""
	for _, r := range rows {
		all += strings.Join(r, "|") + "\n"
	}
	for _, want := range []string{"|900\n", "|1200|3|2|1195|"} { // 300 pieces of 3 m²; 1200 bought, one piece hung, 2 kept
		if !strings.Contains(all, want) {
			t.Errorf("no row with %q in\n%s", want, all)
		}
	}
	if hung != 900 {
		t.Fatalf("the building hangs %v m²", hung)
	}
	pictures, err := f.GetPictureCells("Pictures")
	if err != nil || len(pictures) == 0 || len(pictures) > report.MostPictures {
		t.Errorf("%d pictures, want 1 to %d: %v", len(pictures), report.MostPictures, err)
	}
}
