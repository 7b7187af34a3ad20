package app

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/report"
	"boardrun/internal/write"
)

var update = flag.Bool("update", false, "rewrite golden files")

// The picture at the head of README.md is a side of the sample clinic as it is
// drawn today. Regression: our own earlier output, looked at.
func TestSVG_pictureOfTheReadme(t *testing.T) {
	out := sample(t, "vet-clinic")
	f := faceOf(out, "1-W012-L1")
	if f == nil {
		t.Fatal("the clinic has no side 1-W012-L1")
	}
	var b bytes.Buffer
	if err := write.SVG(&b, report.NewDraft(out).Elevation(f, 1, report.View{Scale: 32})); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join("..", "..", "samples", "vet-clinic", "side.svg")
	if *update {
		if err := os.WriteFile(name, b.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(b.Bytes(), want) {
		t.Errorf("%s is not what is drawn today: look at the difference, then go test ./internal/app -run PictureOfTheReadme -update", name)
	}
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(readme, []byte("samples/vet-clinic/side.svg")) {
		t.Error("README.md does not show the picture")
	}
}

// Each side is a picture in sides.zip that an XML reader takes, whatever the
// names in the drawing are. Oracle: encoding/xml, archive/zip.
func TestSides_ofEveryKind(t *testing.T) {
	long := caseWall{
		job:    caseJob + "title: \"<script>alert(1)</script> שלום 🐶\"\ndecks: [{storey: \"1\", level: 20m}]\nstock: {5/8 type X: {sheets: {48in: [8ft, 10ft, 12ft]}}}\n",
		length: 300 * measure.Metre, thick: 39 * measure.EighthInch,
		openings: []plan.Opening{{Kind: plan.Door, At: 88 * measure.Inch, Width: 38 * measure.Inch, Head: 85 * measure.Inch, Mark: `</text><script>🐶"'&` + strings.Repeat("mark", 125), HeadBy: "attribute", Basis: "drawn"}},
	}
	short := caseWall{job: strings.Replace(long.job, "20m", "10ft", 1), length: 40 * measure.Millimetre, thick: 39 * measure.EighthInch}
	for _, c := range []struct {
		name string
		out  *report.Takeoff
	}{
		{"vet-clinic", sample(t, "vet-clinic")}, {"300 m long and 20 m high", long.take(t)}, {"40 mm long", short.take(t)}, {"nothing", &report.Takeoff{}},
	} {
		var b, again bytes.Buffer
		for _, w := range []io.Writer{&b, &again} {
			if err := write.Sides(w, c.out); err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
		}
		if !bytes.Equal(b.Bytes(), again.Bytes()) {
			t.Errorf("%s: two writings of sides.zip differ", c.name)
		}
		z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		want := 0
		for i := range c.out.Faces {
			if f := &c.out.Faces[i]; f.Boarded && !report.Strip(f) {
				want += len(f.Plies)
			}
		}
		if len(z.File) != max(want, 1) {
			t.Errorf("%s: %d pictures, want %d", c.name, len(z.File), want)
		}
		for _, f := range z.File {
			if strings.HasSuffix(f.Name, ".svg") {
				soundSVG(t, c.name, f)
			}
		}
	}
}

// soundSVG reads one picture: it is well formed, holds no element but those of
// a drawing, and no number that is none.
func soundSVG(t *testing.T, name string, f *zip.File) {
	t.Helper()
	r, err := f.Open()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	d := xml.NewDecoder(r)
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Errorf("%s, %s: %v", name, f.Name, err)
			return
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		switch e.Name.Local {
		case "svg", "title", "defs", "pattern", "line", "polyline", "polygon", "path", "text":
		default:
			t.Errorf("%s, %s: element %s", name, f.Name, e.Name.Local)
		}
		for _, a := range e.Attr {
			if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
				t.Errorf("%s, %s: %s=%q", name, f.Name, a.Name.Local, a.Value)
			}
		}
	}
}
