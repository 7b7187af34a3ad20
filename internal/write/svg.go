package write

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"boardrun/internal/report"
)

// pen is how a mark is drawn where there is ink: weight in mm, dashes, colour.
// Meaning is carried by weight and dash; colour only helps.
type pen struct {
	width  float64
	dash   []float64
	colour string
}

var pens = map[report.Pen]pen{
	report.PenOutline: {0.25, nil, "#1f2a33"},
	report.PenJoint:   {0.7, nil, "#1f2a33"},
	report.PenHidden:  {0.7, []float64{2.4, 1}, "#1f2a33"},
	report.PenStud:    {0.13, []float64{1.6, 1}, "#6b7680"},
	report.PenAdded:   {0.35, []float64{0.5, 0.8}, "#1f2a33"},
	report.PenHole:    {0.25, nil, "#6b7680"},
	report.PenSlip:    {0.18, []float64{3, 0.8, 0.4, 0.8}, "#1f2a33"},
	report.PenDeck:    {0.9, nil, "#6b7680"},
	report.PenFloor:   {0.9, nil, "#6b7680"},
	report.PenDim:     {0.13, nil, "#1f2a33"},
	report.PenNote:    {0.13, nil, "#1f2a33"},
	report.PenWall:    {0.35, nil, "#1f5a8c"},
	report.PenUnread:  {0.6, nil, "#c8102e"},
	report.PenGround:  {0.1, nil, "#9aa4ab"},
	report.PenRoom:    {0.1, nil, "#9aa4ab"},
	report.PenJamb:    {0.2, nil, "#6b7680"},
	report.PenCeiling: {0.15, []float64{6, 1.2}, "#1f2a33"},
	report.PenKey:     {0.35, nil, "#9aa4ab"},
	report.PenMatch:   {0.5, []float64{5, 1, 1, 1, 1, 1}, "#1f2a33"},
}

// SVG writes a drawing at its own scale, in mm on paper, with a narrow margin:
// the extent counts the labels.
func SVG(w io.Writer, d *report.Picture) error {
	const margin = 4.0
	out := bufio.NewWriter(w)
	scale := 1.0 / report.DefaultScale
	if d.Scale > 0 {
		scale = 1 / d.Scale
	}
	paperWidth := float64(d.Max[0]-d.Min[0])*scale + 2*margin
	height := float64(d.Max[1]-d.Min[1])*scale + 2*margin
	x := func(v report.MM) float64 { return margin + float64(v-d.Min[0])*scale }
	y := func(v report.MM) float64 { return height - margin - float64(v-d.Min[1])*scale }
	fmt.Fprintf(out, `<svg xmlns="http://www.w3.org/2000/svg" width="%.2fmm" height="%.2fmm" viewBox="0 0 %.2f %.2f" font-family="Liberation Sans, Arial, sans-serif">`+"\n", paperWidth, height, paperWidth, height)
	fmt.Fprintf(out, "<title>%s</title>\n", escape(d.Title))
	fmt.Fprint(out, `<defs><pattern id="hatch" width="3" height="3" patternTransform="rotate(45)" patternUnits="userSpaceOnUse"><line x1="0" y1="0" x2="0" y2="3" stroke="#9aa4ab" stroke-width="0.2"/></pattern></defs>`+"\n")
	for i := range d.Marks {
		svgMark(out, &d.Marks[i], x, y)
	}
	fmt.Fprintln(out, "</svg>")
	return out.Flush()
}

func svgMark(out *bufio.Writer, m *report.Mark, x, y func(report.MM) float64) {
	if m.Text != "" {
		anchor := [...]string{"middle", "start", "end"}[m.Align]
		px, py := x(m.Points[0][0]), y(m.Points[0][1])
		weight := ""
		if m.Bold {
			weight = ` font-weight="bold"`
		}
		fmt.Fprintf(out, `<text x="%.2f" y="%.2f" font-size="%.1f" text-anchor="%s" dominant-baseline="central" fill="#1f2a33" stroke="#fff" stroke-width="0.7" paint-order="stroke"%s transform="rotate(%.2f %.2f %.2f)">%s</text>`+"\n",
			px, py, m.Size, anchor, weight, -m.Angle, px, py, escape(m.Text))
		return
	}
	p := pens[m.Pen]
	fill := "none"
	switch m.Fill {
	case report.FillHatch:
		fill = "url(#hatch)"
	case report.FillPale:
		fill = "#eef1f3"
	case report.FillSolid:
		fill = p.colour
	}
	dash := ""
	if len(p.dash) > 0 {
		dash = fmt.Sprintf(` stroke-dasharray="%s"`, strings.Trim(fmt.Sprint(p.dash), "[]"))
	}
	var pts strings.Builder
	for i, q := range m.Points {
		if i > 0 {
			pts.WriteByte(' ')
		}
		fmt.Fprintf(&pts, "%.2f,%.2f", x(q[0]), y(q[1]))
	}
	tag := "polyline"
	if m.Closed {
		tag = "polygon"
	}
	fmt.Fprintf(out, `<%s points="%s" fill="%s" stroke="%s" stroke-width="%.2f"%s/>`+"\n", tag, pts.String(), fill, p.colour, p.width, dash)
	if m.Fill == report.FillCross && len(m.Points) > 3 {
		lo, hi := m.Points[0], m.Points[0]
		for _, q := range m.Points {
			for k := range q {
				lo[k], hi[k] = min(lo[k], q[k]), max(hi[k], q[k])
			}
		}
		fmt.Fprintf(out, `<path d="M%.2f %.2fL%.2f %.2fM%.2f %.2fL%.2f %.2f" stroke="%s" stroke-width="%.2f"/>`+"\n",
			x(lo[0]), y(lo[1]), x(hi[0]), y(hi[1]), x(lo[0]), y(hi[1]), x(hi[0]), y(lo[1]), p.colour, p.width/2)
	}
}

// escape makes text from a drawing harmless in XML.
func escape(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return ""
	}
	return b.String()
}
