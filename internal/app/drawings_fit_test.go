package app

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
	"boardrun/internal/report"
	"boardrun/internal/write"
)

// The paper test: from what a side's page says in words and numbers alone,
// pieces are cut out and laid on the elevation drawn on the same page. They
// must fill the side, within what rounding to the cut step takes.
//
// Oracle: the areas of github.com/peterstace/simplefeatures, which knows
// nothing of boards.

// paperPiece is a piece cut as its row says: x from its starting edge, y from its
// bottom, millimetres.
type paperPiece struct {
	mark          string
	width         float64
	start, far    float64 // heights
	shape         string
	centres       []float64
	fromStartLeft bool
}

// readRows reads a list of a side's page as a hanger does: by the heads of its
// columns.
func readRows(t *testing.T, b report.Block, sys measure.System, left bool) []paperPiece {
	t.Helper()
	num := func(s string) float64 { return printed(t, s, sys) }
	var out []paperPiece
	for _, row := range b.Rows {
		at := map[string]string{}
		for c := range b.Columns {
			at[b.Columns[c].Key] = row[c].Text
		}
		p := paperPiece{width: num(at["width"]), start: num(at["left"]), far: num(at["right"]), shape: at["shape"] + at["cut"], fromStartLeft: left}
		if !left {
			p.start, p.far = p.far, p.start
		}
		for _, c := range strings.Split(at["marks"], ", ") {
			if c != "" {
				p.centres = append(p.centres, num(c))
			}
		}
		first, last, many := strings.Cut(at["mark"], "–")
		if !many {
			last = first
		}
		for n := number(first); n <= number(last); n++ {
			p.mark = fmt.Sprintf("%02d", n)
			out = append(out, p)
		}
	}
	return out
}

// printed reads a length as pages print it: bare cut sizes are inches or
// millimetres.
func printed(t *testing.T, s string, sys measure.System) float64 {
	t.Helper()
	switch {
	case sys == measure.Metric && !strings.HasSuffix(s, "m"):
		s += "mm"
	case sys == measure.InchPound && !strings.HasSuffix(s, "\""):
		s += "in"
	}
	l, err := measure.Parse(s, sys)
	if err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return l.MM()
}

var (
	notchText = regexp.MustCompile(`(?:notch|cut-out) (\S+) × ([^ ,]+)(?: \(round it[^)]*\))?, (full width|start side|far side|(\S+) from start edge), (bottom|top|(\S+) up)`)
	bendText  = regexp.MustCompile(`top bends: (\S+) at (\S+) from start edge`)
)

// cut makes the piece from its words.
func (p *paperPiece) cut(t *testing.T, sys measure.System) sf.Geometry {
	t.Helper()
	num := func(s string) float64 { return printed(t, s, sys) }
	blank := [][2]float64{{0, 0}, {p.width, 0}, {p.width, p.far}}
	bends := bendText.FindAllStringSubmatch(p.shape, -1)
	for i := len(bends) - 1; i >= 0; i-- {
		blank = append(blank, [2]float64{num(bends[i][2]), num(bends[i][1])})
	}
	g := polygon(t, append(blank, [2]float64{0, p.start}))
	notches := notchText.FindAllStringSubmatch(p.shape, -1)
	if said := strings.Count(p.shape, "notch ") + strings.Count(p.shape, "cut-out "); said != len(notches) {
		t.Errorf("%s: of %d cuts in %q a hanger understands %d", p.mark, said, p.shape, len(notches))
	}
	for _, m := range notches {
		w, h := num(m[1]), num(m[2])
		x, y := 0.0, 0.0
		switch {
		case m[3] == "far side":
			x = p.width - w
		case m[4] != "":
			x = num(m[4])
		}
		switch {
		case m[5] == "top":
			y = max(p.start, p.far) - h
		case m[6] != "":
			y = num(m[6])
		}
		g = must(t)(sf.Difference(g, polygon(t, [][2]float64{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}})))
	}
	return g
}

func must(t *testing.T) func(sf.Geometry, error) sf.Geometry {
	return func(g sf.Geometry, err error) sf.Geometry {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
}

func polygon(t *testing.T, ring [][2]float64) sf.Geometry {
	t.Helper()
	var b strings.Builder
	b.WriteString("POLYGON((")
	for i := range len(ring) + 1 {
		if i > 0 {
			b.WriteByte(',')
		}
		p := ring[i%len(ring)]
		b.WriteString(strconv.FormatFloat(p[0], 'f', -1, 64) + " " + strconv.FormatFloat(p[1], 'f', -1, 64))
	}
	b.WriteString("))")
	g, err := sf.UnmarshalWKT(b.String())
	if err != nil {
		t.Fatalf("%v: %v", ring, err)
	}
	return g
}

func ring(o []report.UV) [][2]float64 {
	out := make([][2]float64, len(o))
	for i, p := range o {
		out[i] = [2]float64{float64(p[0]), float64(p[1])}
	}
	return out
}

// laid puts a piece at the place of the drawing where its mark stands.
func laid(g sf.Geometry, drawn []report.UV, left bool) sf.Geometry {
	x, y := math.Inf(1), math.Inf(1)
	if !left {
		x = math.Inf(-1)
	}
	for _, p := range drawn {
		y = min(y, float64(p[1]))
		if left {
			x = min(x, float64(p[0]))
		} else {
			x = max(x, float64(p[0]))
		}
	}
	return g.TransformXY(func(q sf.XY) sf.XY {
		if left {
			return sf.XY{X: x + q.X, Y: y + q.Y}
		}
		return sf.XY{X: x - q.X, Y: y + q.Y}
	})
}

// onPaper is what the page of one ply of a side draws: the outlines of its
// pieces and their cut-outs by mark, and the places of its studs.
func onPaper(t *testing.T, d *report.Picture) (pieces map[string][]report.UV, cutouts map[string][][]report.UV, studs []float64) {
	t.Helper()
	pieces, cutouts = map[string][]report.UV{}, map[string][][]report.UV{}
	for i := range d.Marks {
		m := &d.Marks[i]
		switch {
		case m.Layer == report.LayerPiece && m.Closed:
			pieces[report.ShortMark(m.Ref)] = m.Points
		case m.Layer == report.LayerHole && m.Closed && m.Ref != "":
			cutouts[report.ShortMark(m.Ref)] = append(cutouts[report.ShortMark(m.Ref)], m.Points)
		case m.Layer == report.LayerStud && !m.Closed:
			studs = append(studs, float64(m.Points[0][0]))
		}
	}
	for i := range d.Marks {
		m := &d.Marks[i]
		o := pieces[m.Text]
		if o == nil || !m.Bold || m.Layer != report.LayerNote {
			continue
		}
		if at := m.Points[0]; !contains(o, at) && at[1] < top(o) { // above the deck it has a leader
			t.Errorf("%s: the mark %s stands outside its piece", d.Name, m.Text)
		}
	}
	return pieces, cutouts, studs
}

func top(o []report.UV) report.MM {
	v := o[0][1]
	for _, p := range o {
		v = max(v, p[1])
	}
	return v
}

// contains is the even-odd rule.
func contains(o []report.UV, at report.UV) bool {
	in := false
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if (a[1] > at[1]) != (b[1] > at[1]) && at[0] < a[0]+(b[0]-a[0])*(at[1]-a[1])/(b[1]-a[1]) {
			in = !in
		}
	}
	return in
}

// layOut cuts and lays all pieces of one ply of a side; step is the cut step in
// mm. It returns how many it laid.
func layOut(t *testing.T, w *report.Draft, f *report.Face, ply int, sys measure.System) int {
	t.Helper()
	step := sys.CutStep().MM()
	page := w.SidePage(f, ply, report.View{})
	_, left := report.Start(f, ply)
	drawn, cutouts, studs := onPaper(t, w.Elevation(f, ply, report.View{Scale: 48}))
	all, slack, n := sf.Geometry{}, 0.0, 0
	for _, p := range append(readRows(t, page.Sheets, sys, left), readRows(t, page.Tops, sys, left)...) {
		o := drawn[p.mark]
		if o == nil {
			t.Errorf("%s ply %d: %s is listed and not drawn", f.ID, ply, p.mark)
			continue
		}
		delete(drawn, p.mark)
		n++
		there := polygon(t, ring(o))
		for _, c := range cutouts[p.mark] {
			there = must(t)(sf.Difference(there, polygon(t, ring(c))))
		}
		here := laid(p.cut(t, sys), o, left)
		edge := there.Boundary().Length()
		if d := must(t)(sf.SymmetricDifference(here, there)).Area(); d > step*edge {
			t.Errorf("%s ply %d: %s cut as listed (%g, %g / %g, %s) differs by %.0f mm² from its place", f.ID, ply, p.mark, p.width, p.start, p.far, p.shape, d)
		}
		// Not larger than its place anywhere but in notches, which are cut short of
		// the opening by less than a step.
		if wide, room := here.Envelope().Width(), there.Envelope().Width(); wide > room+1e-6 {
			t.Errorf("%s ply %d: %s is %.2f wide in a place of %.2f", f.ID, ply, p.mark, wide, room)
		}
		slack += step * edge
		all = must(t)(sf.Union(all, here))
		marksAreStuds(t, f, ply, &p, o, studs, step)
	}
	for mark := range drawn {
		t.Errorf("%s ply %d: %s is drawn and not listed", f.ID, ply, mark)
	}
	for _, y := range f.Plies {
		if y.Ply != ply {
			continue
		}
		side := polygon(t, ring(y.OutlineUV))
		for _, h := range f.HolesUV {
			side = must(t)(sf.Difference(side, polygon(t, ring(h))))
		}
		if d := must(t)(sf.SymmetricDifference(all, side)).Area(); d > slack {
			t.Errorf("%s ply %d: the pieces laid leave or overlap %.0f mm², rounding gives at most %.0f", f.ID, ply, d, slack)
		}
	}
	return n
}

// marksAreStuds holds the centres to mark on a piece against the studs drawn
// behind it.
func marksAreStuds(t *testing.T, f *report.Face, ply int, p *paperPiece, o []report.UV, studs []float64, step float64) {
	t.Helper()
	x0, x1 := math.Inf(1), math.Inf(-1)
	for _, q := range o {
		x0, x1 = min(x0, float64(q[0])), max(x1, float64(q[0]))
	}
	for _, c := range p.centres {
		at, near := x0+c, math.Inf(1)
		if !p.fromStartLeft {
			at = x1 - c
		}
		for _, s := range studs {
			near = min(near, math.Abs(s-at))
		}
		if near > step {
			t.Errorf("%s ply %d: %s is to be marked at %g, the next stud drawn is %.1f mm away", f.ID, ply, p.mark, c, near)
		}
	}
}

func layAll(t *testing.T, out *report.Takeoff) int {
	t.Helper()
	sys := measure.InchPound
	if out.Job.System == measure.Metric.String() {
		sys = measure.Metric
	}
	w, n := report.NewDraft(out), 0
	for i := range out.Faces {
		f := &out.Faces[i]
		if !f.Boarded || report.Strip(f) {
			continue
		}
		for _, y := range f.Plies {
			n += layOut(t, w, f, y.Ply, sys)
		}
	}
	return n
}

func TestPaper_piecesCutAsListedFillTheSide(t *testing.T) {
	for _, name := range []string{"vet-clinic", "library-wing", "vet-clinic-ifc"} {
		t.Run(name, func(t *testing.T) {
			out := sample(t, name)
			n := layAll(t, out)
			strips := 0
			for i := range out.Pieces {
				if report.Strip(faceOf(out, out.Pieces[i].Face)) {
					strips++
				}
			}
			if n+strips != len(out.Pieces) {
				t.Errorf("%d pieces laid and %d strips, the takeoff has %d", n, strips, len(out.Pieces))
			}
		})
	}
}

// The pages of a takeoff.json read back are those of the takeoff it was written
// from. Oracle: the takeoff before it was written.
func TestPaper_ofAFileReadBack(t *testing.T) {
	wall := caseWall{
		job:    fmt.Sprintf(slopeJob, "118in", "24ft", "170in", "118in") + "frames: [{name: D, for: door, kind: knock-down, sizes-are: rough}]\n",
		length: 24 * measure.Foot, thick: 39 * measure.EighthInch,
		openings: []plan.Opening{{Kind: plan.Door, At: 88 * measure.Inch, Width: 38 * measure.Inch, Head: 85 * measure.Inch, HeadBy: "attribute", Basis: "drawn"}},
	}
	out, notched := wall.take(t), 0
	for i := range out.Pieces {
		if len(out.Pieces[i].BlankMM) > 0 {
			notched++
		}
	}
	if notched == 0 {
		t.Fatal("no piece of the wall is notched: nothing could be lost")
	}
	var file bytes.Buffer
	if err := write.JSON(&file, out); err != nil {
		t.Fatal(err)
	}
	var back report.Takeoff
	if err := json.Unmarshal(file.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	var a, b bytes.Buffer
	if err := write.PDF(&a, out); err != nil {
		t.Fatal(err)
	}
	if err := write.PDF(&b, &back); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("walls.pdf differs once takeoff.json was read back")
	}
}

// Walls that want every word of the list: cut-outs in a closed piece, notches
// at the top, a deck that bends over a sheet, sheets across the studs, a window.
func TestPaper_hardSides(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 88 * measure.Inch, Width: 38 * measure.Inch, Head: 85 * measure.Inch, HeadBy: "attribute", Basis: "drawn"}
	duct := func(at, sill measure.Length) plan.Opening {
		return plan.Opening{Kind: plan.Penetration, At: at, Width: 12 * measure.Inch, Sill: sill, Head: sill + 10*measure.Inch, HeadBy: "drawn", Basis: "drawn"}
	}
	window := plan.Opening{Kind: plan.Window, At: 120 * measure.Inch, Width: 61 * measure.Inch, Sill: 36 * measure.Inch, Head: 90 * measure.Inch, HeadBy: "attribute", Basis: "drawn"}
	stock := "stock: {5/8 type X: {sheets: {48in: [8ft, 10ft, 12ft]}}}\n"
	frame := "frames: [{name: D, for: door, kind: knock-down, sizes-are: rough}, {name: W, for: window, kind: knock-down, sizes-are: rough}]\n"
	flat := "decks: [{storey: \"1\", level: 11'-3\"}]\n"
	for _, c := range []struct {
		name string
		job  string
		open []plan.Opening
	}{
		{"duct within one sheet", caseJob + flat + stock, []plan.Opening{duct(90*measure.Inch, 60*measure.Inch)}},
		{"duct at the head", caseJob + flat + stock, []plan.Opening{duct(90*measure.Inch, 123*measure.Inch)}},
		{"door and window", caseJob + flat + stock + frame, []plan.Opening{door, {Kind: plan.Window, At: 190 * measure.Inch, Width: 61 * measure.Inch, Sill: 36 * measure.Inch, Head: 90 * measure.Inch, HeadBy: "attribute", Basis: "drawn"}}},
		{"slope, tops, window", fmt.Sprintf(slopeJob, "170in", "24ft", "190in", "170in") + frame, []plan.Opening{window}},
		{"deck that bends", caseJob + stock + "decks: [{storey: \"1\", points: [[0, 0, 120in], [11ft, 0, 131in], [0, 16ft, 120in]], outline: [[0, -9ft], [11ft, -9ft], [11ft, 9ft], [0, 9ft]]}, {storey: \"1\", points: [[11ft, 0, 131in], [24ft, 0, 118in], [11ft, 16ft, 131in]], outline: [[11ft, -9ft], [25ft, -9ft], [25ft, 9ft], [11ft, 9ft]]}]\n", nil},
		{"sheets across the studs", strings.Replace(caseJob, "spacing: 16in,", "spacing: 16in, layout: horizontal,", 1) + flat + stock + frame, []plan.Opening{door}},
	} {
		t.Run(c.name, func(t *testing.T) {
			wall := caseWall{job: c.job, length: 24 * measure.Foot, thick: 39 * measure.EighthInch, openings: c.open}
			if n := layAll(t, wall.take(t)); n < 8 {
				t.Errorf("only %d pieces laid", n)
			}
		})
	}
}
