package write

import (
	"fmt"
	"io"
	"sort"
	"strings"
	"unicode"

	"boardrun/internal/dxf"
	"boardrun/internal/report"
)

// Scales that labels are sized for: model millimetres per millimetre on paper.
const (
	planScale = 100
	sideScale = report.DefaultScale
)

// PlanDXF writes the walls found over the original's coordinates and in its
// unit, on layers of our own, so that it can be laid over the drawing in any
// viewer. Several storeys have a layer each.
func PlanDXF(w io.Writer, t *report.Takeoff) error {
	unit, code := drawingUnit(t)
	out := newCAD(code, unit)
	storeys, used := storeysOf(t), map[string]bool{}
	for _, s := range storeys {
		suffix := ""
		if len(storeys) > 1 {
			word := layerWord(s)
			for n := 2; used[word]; n++ { // names in letters no layer may have look alike
				word = fmt.Sprintf("%s_%d", layerWord(s), n)
			}
			used[word] = true
			suffix = "-" + word
		}
		out.add(report.Plan(t, s), report.UV{}, planScale, suffix)
	}
	return out.d.Write(w)
}

// WallsDXF writes the elevation of every ply of every boarded side, one beside
// the other, a row for each wall. Its unit is that of the job: inches or
// millimetres.
func WallsDXF(w io.Writer, t *report.Takeoff) error {
	unit, code := 25.4, 1
	if t.Job.System == "metric" {
		unit, code = 1, 4
	}
	out := newCAD(code, unit)
	const gap = 1500
	var y, tall report.MM
	var x report.MM
	run := ""
	draft := report.NewDraft(t)
	for i := range t.Faces {
		f := &t.Faces[i]
		if !f.Boarded {
			continue
		}
		if f.Run != run {
			y, x, tall, run = y-tall-2*gap, 0, 0, f.Run
		}
		for _, p := range f.Plies {
			d := draft.Elevation(f, p.Ply, report.View{})
			if len(d.Marks) == 0 {
				continue
			}
			out.add(d, report.UV{x - d.Min[0], y - d.Min[1]}, sideScale, "")
			out.title(d.Title+elevationWord(len(f.Plies), p.Ply), report.UV{x, y - 900})
			x += d.Max[0] - d.Min[0] + gap
			tall = max(tall, d.Max[1]-d.Min[1])
		}
	}
	return out.d.Write(w)
}

func elevationWord(plies, ply int) string {
	switch {
	case plies == 1:
		return ""
	case ply == 1:
		return ", base layer"
	case ply == plies:
		return ", face layer"
	}
	return ", layer " + string(rune('0'+ply))
}

// drawingUnit is the unit of the drawings, where they agree, else millimetres.
func drawingUnit(t *report.Takeoff) (mm float64, insUnits int) {
	mm = 0
	for _, d := range t.Drawings {
		if d.UnitMM <= 0 || mm != 0 && d.UnitMM != mm {
			return 1, 4
		}
		mm = d.UnitMM
	}
	for code, v := range map[int]float64{1: 25.4, 2: 304.8, 4: 1, 5: 10, 6: 1000} {
		if mm == v {
			return mm, code
		}
	}
	return 1, 4
}

func storeysOf(t *report.Takeoff) []string {
	seen := map[string]bool{}
	var out []string
	add := func(s string) {
		if !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	for i := range t.Runs {
		add(t.Runs[i].Storey)
	}
	for i := range t.Standing {
		add(t.Standing[i].Storey)
	}
	sort.Strings(out)
	return out
}

// layerWord keeps of a storey's name what a layer may be called, at most 60
// letters: a name of a layer has 255.
func layerWord(s string) string {
	if r := []rune(s); len(r) > 60 {
		s = string(r[:60])
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r >= '0' && r <= '9', r >= 'A' && r <= 'Z':
			return r
		case r >= 'a' && r <= 'z':
			return r - 'a' + 'A'
		}
		return '_'
	}, s)
}

// cad collects drawings into one file.
type cad struct {
	d      *dxf.Drawing
	mm     float64
	layers map[string]bool
}

func newCAD(insUnits int, mm float64) *cad {
	d := &dxf.Drawing{InsUnits: insUnits, LUnits: 2}
	if insUnits > 2 {
		d.Measurement = 1
	}
	return &cad{d: d, mm: mm, layers: map[string]bool{}}
}

// layerLooks gives the layers colours that differ in brightness too.
var layerLooks = map[string]dxf.Layer{
	report.LayerPiece: {Colour: 7}, report.LayerJoint: {Colour: 5}, report.LayerStud: {Colour: 8, Linetype: "Center"}, report.LayerHole: {Colour: 9},
	report.LayerDeck: {Colour: 6, Linetype: "Dashed"}, report.LayerDim: {Colour: 8}, report.LayerNote: {Colour: 7},
	report.LayerWall: {Colour: 5}, report.LayerWallLeft: {Colour: 8, Linetype: "Dashed"}, report.LayerWallStay: {Colour: 9},
	report.LayerWallGone: {Colour: 9, Linetype: "Dot"}, report.LayerObstacle: {Colour: 9}, report.LayerRoom: {Colour: 9, Linetype: "Dot"}, report.LayerDoubt: {Colour: 6},
}

func (c *cad) layer(name, suffix string) string {
	full := name + suffix
	if !c.layers[full] {
		c.layers[full] = true
		l := layerLooks[name]
		l.Name = full
		if l.Colour == 0 {
			l.Colour = 7
		}
		c.d.Layers = append(c.d.Layers, l)
	}
	return full
}

func (c *cad) at(p, move report.UV) [2]float64 {
	return [2]float64{float64(p[0]+move[0]) / c.mm, float64(p[1]+move[1]) / c.mm}
}

func (c *cad) add(d *report.Picture, move report.UV, scale float64, suffix string) {
	for i := range d.Marks {
		m := &d.Marks[i]
		pen := dxf.Pen{Layer: c.layer(m.Layer, suffix)}
		switch {
		case m.Text != "":
			t := dxf.Text{Pen: pen, At: c.at(m.Points[0], move), Height: m.Size * scale / c.mm, Angle: m.Angle, Value: textLine(m.Text), V: dxf.Middle}
			t.H = [...]dxf.HAlign{dxf.Centre, dxf.Left, dxf.Right}[m.Align]
			c.d.Entities = append(c.d.Entities, t)
		case len(m.Points) > 1:
			q := dxf.Polyline{Pen: pen, Closed: m.Closed}
			for _, p := range m.Points {
				v := c.at(p, move)
				q.Vertices = append(q.Vertices, dxf.Vertex{X: v[0], Y: v[1]})
			}
			c.d.Entities = append(c.d.Entities, q)
		}
	}
}

// textLine is a text as one line of a drawing: names come from files that may
// hold line ends and other control characters, which would end the entity.
func textLine(s string) string {
	s = strings.Join(strings.FieldsFunc(strings.ToValidUTF8(s, "?"), func(r rune) bool {
		return unicode.IsControl(r) || r == '\u2028' || r == '\u2029'
	}), " ")
	const most = 250 // letters; the longest line group code 1 may hold is 2000 bytes
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

func (c *cad) title(s string, at report.UV) {
	c.d.Entities = append(c.d.Entities, dxf.Text{
		Pen: dxf.Pen{Layer: c.layer(report.LayerNote, "")}, At: c.at(at, report.UV{}), Height: 5 * sideScale / c.mm, Value: textLine(s),
	})
}
