package write

import (
	"math"
	"slices"
	"strings"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"

	"boardrun/internal/report"
)

// grey is the one tone beside black; alert is for what can hurt, and is always
// bold too.
var (
	black = [3]int{0x1f, 0x2a, 0x33}
	grey  = [3]int{0x6b, 0x76, 0x80}
	pale  = [3]int{0xee, 0xf1, 0xf3}
	rule  = [3]int{0xc9, 0xd0, 0xd5}
	white = [3]int{255, 255, 255}
)

// ink puts text and lines on pages, in millimetres from the top left.
type ink struct {
	f       *fpdf.Fpdf
	letters *letters
	now     pen // in force on the page, so that it is not said again
	known   bool
}

const sans = "sans"

// newInk starts a document. Dates are fixed and the catalogue is sorted, so
// that the same takeoff gives the same bytes.
func newInk(metric bool, title string) *ink {
	size := "Letter"
	if metric {
		size = "A4"
	}
	f := fpdf.New("P", "mm", size, "")
	day := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	f.SetCreationDate(day)
	f.SetModificationDate(day)
	f.SetCatalogSort(true)
	f.SetProducer("boardrun", true)
	f.AddUTF8FontFromBytes(sans, "", liberationsansregular.TTF)
	f.AddUTF8FontFromBytes(sans, "B", liberationsansbold.TTF)
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetCellMargin(0)
	f.SetFont(sans, "", 8)
	k := &ink{f: f, letters: newLetters(liberationsansregular.TTF)}
	f.SetTitle(k.letters.shown(title), true)
	return k
}

func (k *ink) colour(c [3]int) { k.f.SetTextColor(c[0], c[1], c[2]) }
func (k *ink) stroke(c [3]int) { k.f.SetDrawColor(c[0], c[1], c[2]) }
func (k *ink) fill(c [3]int)   { k.f.SetFillColor(c[0], c[1], c[2]) }

const ptPerMM = 72 / 25.4

func (k *ink) font(size float64, bold bool) {
	style := ""
	if bold {
		style = "B"
	}
	k.f.SetFont(sans, style, size*ptPerMM)
}

// width is that of a text in the current font.
func (k *ink) width(s string) float64 { return k.f.GetStringWidth(s) }

// text writes one line, x at its left end, middle or right end, y at the middle
// of its small letters' height.
func (k *ink) text(x, y float64, s string, size float64, bold bool, a report.Align) {
	s = k.letters.shown(s)
	k.font(size, bold)
	switch a {
	case report.AlignCentre:
		x -= k.width(s) / 2
	case report.AlignRight:
		x -= k.width(s)
	}
	k.f.Text(x, y+0.35*size, s)
}

// fit shortens a text to a width in the given font.
func (k *ink) fit(s string, size float64, bold bool, w float64) string {
	s = k.letters.plain(s)
	k.font(size, bold)
	if k.width(s) <= w {
		return s
	}
	r := []rune(s)
	lo, hi := 0, len(r)
	for lo < hi { // the longest head that fits
		mid := (lo + hi + 1) / 2
		if k.width(string(r[:mid])+"…") <= w {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return string(r[:lo]) + "…"
}

// wrap breaks a text into lines of a width; a word that is too long is broken.
func (k *ink) wrap(s string, size float64, bold bool, w float64) []string {
	k.font(size, bold)
	var out []string
	for _, para := range strings.Split(k.letters.plain(s), "\n") {
		line := ""
		for _, word := range strings.Fields(para) {
			for k.width(word) > w && len(word) > 1 {
				cut := k.head(word, w)
				if line != "" {
					out = append(out, line)
					line = ""
				}
				out = append(out, word[:cut])
				word = word[cut:]
			}
			if word == "" {
				continue
			}
			if line != "" && k.width(line+" "+word) > w {
				out = append(out, line)
				line = ""
			}
			if line != "" {
				line += " "
			}
			line += word
		}
		if line != "" || len(out) == 0 {
			out = append(out, line)
		}
	}
	return out
}

// head is how many bytes of a word fit a width, at least one letter.
func (k *ink) head(word string, w float64) int {
	cut := 0
	for i := range word {
		if i > 0 && k.width(word[:i]) > w {
			break
		}
		cut = i
	}
	if cut == 0 {
		for i := range word {
			if i > 0 {
				return i
			}
		}
		return len(word)
	}
	return cut
}

// para writes a wrapped text from y down and returns where it ends.
func (k *ink) para(x, y, w float64, s string, size float64, bold bool) float64 {
	for _, l := range k.wrap(s, size, bold, w) {
		k.text(x, y+size*0.62, l, size, bold, report.AlignLeft)
		y += size * 1.28
	}
	return y
}

func (k *ink) line(x0, y0, x1, y1, w float64, c [3]int) {
	k.known = false
	k.f.SetDashPattern(nil, 0)
	k.f.SetLineWidth(w)
	k.stroke(c)
	k.f.Line(x0, y0, x1, y1)
}

// box is an empty box to tick.
func (k *ink) box(x, y, size float64) {
	k.known = false
	k.f.SetDashPattern(nil, 0)
	k.f.SetLineWidth(0.25)
	k.stroke(black)
	k.f.Rect(x, y, size, size, "D")
}

// frame places a picture: its point (u, v) stands at (x, y) on paper.
type frame struct {
	x, y, scale float64
	u, v        report.MM
}

func (f frame) at(p report.UV) (x, y float64) {
	return f.x + float64(p[0]-f.u)/f.scale, f.y - float64(p[1]-f.v)/f.scale
}

// picture draws a display list.
func (k *ink) picture(d *report.Picture, fr frame) {
	k.known = false
	for i := range d.Marks {
		if m := &d.Marks[i]; m.Text == "" && len(m.Points) > 1 {
			k.shape(m, fr)
		}
	}
	for i := range d.Marks {
		if m := &d.Marks[i]; m.Text != "" && len(m.Points) == 1 {
			k.label(m, fr)
		}
	}
	k.known = false
	k.f.SetDashPattern(nil, 0)
}

// take sets a pen, unless it is the one in hand.
func (k *ink) take(p pen) {
	if k.known && k.now.colour == p.colour && k.now.width == p.width && slices.Equal(k.now.dash, p.dash) {
		return
	}
	k.stroke(rgb(p.colour))
	k.f.SetLineWidth(p.width)
	k.f.SetDashPattern(p.dash, 0)
	k.now, k.known = p, true
}

func (k *ink) shape(m *report.Mark, fr frame) {
	p := pens[m.Pen]
	k.take(p)
	pts := make([]fpdf.PointType, len(m.Points))
	for i, q := range m.Points {
		pts[i].X, pts[i].Y = fr.at(q)
	}
	if !m.Closed {
		k.f.MoveTo(pts[0].X, pts[0].Y)
		for _, q := range pts[1:] {
			k.f.LineTo(q.X, q.Y)
		}
		k.f.DrawPath("D")
		return
	}
	switch m.Fill {
	case report.FillPale:
		k.fill(pale)
		k.f.Polygon(pts, "DF")
	case report.FillSolid:
		k.fill(rgb(p.colour))
		k.f.Polygon(pts, "DF")
	case report.FillHatch:
		k.hatch(pts)
		k.take(p)
		k.f.Polygon(pts, "D")
	case report.FillCross:
		k.fill(white)
		k.f.Polygon(pts, "DF")
		k.cross(pts, p)
	default:
		k.f.Polygon(pts, "D")
	}
}

func extent(pts []fpdf.PointType) (x0, y0, x1, y1 float64) {
	x0, y0, x1, y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, q := range pts {
		x0, x1 = min(x0, q.X), max(x1, q.X)
		y0, y1 = min(y0, q.Y), max(y1, q.Y)
	}
	return x0, y0, x1, y1
}

func (k *ink) cross(pts []fpdf.PointType, p pen) {
	x0, y0, x1, y1 := extent(pts)
	k.known = false
	k.f.SetLineWidth(p.width / 2)
	k.f.Line(x0, y0, x1, y1)
	k.f.Line(x0, y1, x1, y0)
}

// hatch fills an outline with thin lines at 45 degrees.
func (k *ink) hatch(pts []fpdf.PointType) {
	x0, y0, x1, y1 := extent(pts)
	step := max(2.4, (x1-x0+y1-y0)/400)
	k.f.ClipPolygon(pts, false)
	k.f.SetDashPattern(nil, 0)
	k.f.SetLineWidth(0.12)
	k.stroke(rule)
	h := y1 - y0
	for c := math.Ceil((x0-h)/step) * step; c < x1; c += step {
		k.f.Line(c, y1, c+h, y0)
	}
	k.f.ClipEnd()
	k.known = false
}

// label writes a label on cleared ground.
func (k *ink) label(m *report.Mark, fr frame) {
	s := k.letters.shown(m.Text)
	k.font(m.Size, m.Bold)
	w := k.width(s)
	x, y := fr.at(m.Points[0])
	dx := [...]float64{-w / 2, 0, -w}[m.Align]
	if m.Angle != 0 {
		k.f.TransformBegin()
		k.f.TransformRotate(m.Angle, x, y)
	}
	k.fill(white)
	k.f.Rect(x+dx-0.25, y-0.44*m.Size, w+0.5, 0.88*m.Size, "F")
	k.colour(black)
	k.f.Text(x+dx, y+0.35*m.Size, s)
	if m.Angle != 0 {
		k.f.TransformEnd()
	}
}

// rgb reads a pen's colour.
func rgb(s string) (c [3]int) {
	if len(s) != 7 {
		return c
	}
	for i := range c {
		for _, d := range s[1+2*i : 3+2*i] {
			c[i] = c[i]*16 + strings.IndexRune("0123456789abcdef", d)
		}
	}
	return c
}
