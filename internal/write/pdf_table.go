package write

import (
	"math"
	"strings"

	"boardrun/internal/report"
)

// grid is a table on paper being laid down: rows that do not fit go on the next
// page.
type grid struct {
	k     *ink
	b     report.Block
	x, w  float64
	size  float64
	next  int       // row to come
	ws    []float64 // of the columns, for the width wsFor
	wsFor float64
	link  func(row int) int // where a row leads; nil for nowhere
}

const (
	cellPad = 0.8
	wordPad = 1.6 // words keep clear of a number before them
	tickBox = 2.6
)

func (k *ink) grid(b report.Block, x, w float64) *grid {
	return &grid{k: k, b: b, x: x, w: w, size: 2.5}
}

func (g *grid) done() bool { return g.next >= len(g.b.Rows) }

// columns are the widths of the columns in mm: numbers and marks are never
// broken, words share what is left as their widths say.
func (g *grid) columns() []float64 {
	out := make([]float64, len(g.b.Columns))
	left, share := g.w, 0.0
	for i, c := range g.b.Columns {
		switch {
		case c.Kind == report.Box:
			out[i] = wordPad + (tickBox+0.7)*max(1, math.Round((c.Width-1.5)/2.6))
		case right(c.Kind) || i == 0:
			out[i] = g.natural(i)
		default:
			share += c.Width
			continue
		}
		left -= out[i]
	}
	for i, c := range g.b.Columns {
		if out[i] == 0 {
			out[i] = max(left, 0.3*g.w) * c.Width / share
		}
	}
	return out
}

// natural is how wide a column must be for its longest cell and the longest
// word of its head.
func (g *grid) natural(i int) float64 {
	w := 0.0
	g.k.font(2.2, false)
	for _, s := range strings.Fields(g.b.Columns[i].Head) {
		w = max(w, g.k.width(s))
	}
	for _, r := range g.b.Rows {
		g.k.font(g.size, r[i].Look == report.Strong)
		w = max(w, g.k.width(g.k.letters.plain(r[i].Text)))
	}
	return min(w+cellPad+wordPad+0.2, 0.4*g.w)
}

// lay writes the title, heads and as many rows as fit between y and bottom; it
// returns where it ends. Nothing is written where not even one row fits.
func (g *grid) lay(y, bottom float64) float64 {
	if g.done() {
		return y
	}
	if g.ws == nil || g.wsFor != g.w {
		g.ws, g.wsFor = g.columns(), g.w
	}
	k, ws := g.k, g.ws
	line := g.size * 1.28
	if y+4.2+2*line+g.rowHeight(g.next, ws) > bottom {
		return y
	}
	k.colour(black)
	k.text(g.x, y+2, g.b.Title, 2.7, true, report.AlignLeft)
	y += 4.2
	y = g.heads(y, ws)
	for !g.done() {
		h := g.rowHeight(g.next, ws)
		if y+h > bottom {
			break
		}
		g.row(y, ws)
		y += h
		k.line(g.x, y, g.x+g.w, y, 0.1, rule)
		g.next++
	}
	return y + 1.5
}

func (g *grid) heads(y float64, ws []float64) float64 {
	k := g.k
	lines, most := make([][]string, len(ws)), 1
	for i, c := range g.b.Columns {
		lines[i] = k.wrap(c.Head, 2.2, false, ws[i]-cellPad-wordPad)
		most = max(most, len(lines[i]))
	}
	x := g.x
	k.colour(grey)
	for i, c := range g.b.Columns {
		for n, l := range lines[i] {
			g.put(x, y+1.4+2.5*float64(n+most-len(lines[i])), ws[i], l, 2.2, false, right(c.Kind))
		}
		x += ws[i]
	}
	k.colour(black)
	y += 2.5*float64(most) + 0.4
	k.line(g.x, y, g.x+g.w, y, 0.3, black)
	return y
}

func right(kind report.Kind) bool { return kind != report.Words && kind != report.Box }

func (g *grid) put(x, y, w float64, s string, size float64, bold, right bool) {
	if right {
		g.k.text(x+w-cellPad, y, s, size, bold, report.AlignRight)
		return
	}
	g.k.text(x+wordPad, y, s, size, bold, report.AlignLeft)
}

func (g *grid) lines(row, i int, w float64) []string {
	c := g.b.Rows[row][i]
	if g.b.Columns[i].Kind == report.Box {
		return make([]string, (int(c.Num)+g.perLine(w)-1)/g.perLine(w))
	}
	return g.k.wrap(c.Text, g.size, c.Look == report.Strong, w-cellPad-wordPad)
}

// perLine is how many tick boxes stand beside one another.
func (g *grid) perLine(w float64) int { return max(1, int((w-wordPad)/(tickBox+0.7)+0.01)) }

func (g *grid) rowHeight(row int, ws []float64) float64 {
	n := 1
	for i := range ws {
		n = max(n, len(g.lines(row, i, ws[i])))
	}
	return float64(n)*g.size*1.28 + 1
}

func (g *grid) row(y float64, ws []float64) {
	x := g.x
	for i, c := range g.b.Columns {
		cell := g.b.Rows[g.next][i]
		if c.Kind == report.Box {
			for n := range int(cell.Num) {
				per := g.perLine(ws[i])
				g.k.box(x+wordPad+float64(n%per)*(tickBox+0.7), y+0.75+float64(n/per)*g.size*1.28, tickBox)
			}
		} else {
			for n, l := range g.lines(g.next, i, ws[i]) {
				g.put(x, y+0.5+g.size*(0.64+1.28*float64(n)), ws[i], l, g.size, cell.Look == report.Strong, right(c.Kind))
			}
		}
		x += ws[i]
	}
	if g.link == nil {
		return
	}
	if to := g.link(g.next); to != 0 {
		g.k.f.Link(g.x, y, g.w, g.rowHeight(g.next, ws), to)
	}
}
