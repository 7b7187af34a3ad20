package write

import (
	"fmt"
	"io"
	"strings"

	"boardrun/internal/report"
)

// PDF writes walls.pdf: cautions and index, the hanging steps, a page for every
// ply of every boarded side, ends and reveals, and how the sheets are cut.
// Letter in the inch-pound system, A4 in the metric.
func PDF(w io.Writer, t *report.Takeoff) error {
	_, err := Booklet(w, t)
	return err
}

// Booklet writes the same and returns the letters of names that its typeface
// lacks; they stand as question marks and are told on the first page.
//
// It is laid out twice: the index needs the numbers of pages that come after
// it, and the first page the letters that are missing.
func Booklet(w io.Writer, t *report.Takeoff) ([]rune, error) {
	first := newBooklet(t, report.NewDraft(t), nil)
	first.lay()
	if err := first.k.f.Error(); err != nil {
		return nil, fmt.Errorf("walls.pdf: %w", err)
	}
	b := newBooklet(t, first.w, first)
	b.lay()
	return b.k.letters.lost(), b.k.f.Output(w)
}

const margin = 10.0

// booklet is the document being laid out.
type booklet struct {
	t      *report.Takeoff
	w      *report.Draft
	k      *ink
	before *booklet       // the first time it was laid out, nil then
	page   map[string]int // of a side or section, by name
	links  map[string]int // fpdf's links to them
	wide   bool           // the page is turned
	// sections are those the rows of the index lead to.
	sections []string
	cached   map[string]*sideLayout
}

func newBooklet(t *report.Takeoff, w *report.Draft, before *booklet) *booklet {
	b := &booklet{t: t, w: w, k: newInk(w.Metric(), t.Job.Title), before: before, page: map[string]int{}, links: map[string]int{}, cached: map[string]*sideLayout{}}
	if before != nil {
		b.cached = before.cached
	}
	return b
}

func (b *booklet) lay() {
	b.front()
	b.index()
	b.steps()
	b.sides()
	b.strips()
	b.cuts()
}

// size is that of the page, inside its margins.
func (b *booklet) size() (w, h float64) {
	w, h = b.k.f.GetPageSize()
	return w - 2*margin, h - 2*margin
}

// open begins a page and returns where its content starts and must end. The
// mark stands large at its head.
func (b *booklet) open(wide bool, mark, name, note string) (y, bottom float64) {
	o := "P"
	if wide {
		o = "L"
	}
	b.wide = wide
	b.k.f.AddPageFormat(o, b.k.f.GetPageSizeStr(paperName(b.w)))
	k := b.k
	k.colour(black)
	w, h := b.size()
	k.font(6, true)
	mark = k.fit(mark, 6, true, w*0.6)
	k.text(margin, margin+3.2, mark, 6, true, report.AlignLeft)
	k.font(6, true)
	x := margin + k.width(mark) + 4
	k.text(margin+w, margin+1.6, k.fit(b.t.Job.Title, 2.6, false, w*0.4), 2.6, false, report.AlignRight)
	k.colour(grey)
	k.text(margin+w, margin+5.2, strings.TrimSpace(b.t.Job.Stamp+"  "+note), 2.6, true, report.AlignRight)
	k.colour(black)
	k.text(x, margin+3.6, k.fit(name, 3.6, false, w*0.62-(x-margin)), 3.6, false, report.AlignLeft)
	k.line(margin, margin+8.2, margin+w, margin+8.2, 0.4, black)
	b.foot(w, h)
	return margin + 10.5, margin + h - 4
}

func paperName(w *report.Draft) string {
	if w.Metric() {
		return "A4"
	}
	return "Letter"
}

func (b *booklet) foot(w, h float64) {
	k := b.k
	y := margin + h + 0.5
	k.colour(grey)
	k.text(margin, y, "Rated walls follow their listed design. Local codes and licensed practice come first. Measure before cutting.", 2.1, false, report.AlignLeft)
	of := ""
	if b.before != nil {
		of = fmt.Sprintf(" of %d", b.before.k.f.PageCount())
	}
	k.text(margin+w, y, fmt.Sprintf("page %d%s", k.f.PageNo(), of), 2.1, false, report.AlignRight)
	k.colour(black)
}

// here notes that a side or section begins on this page, with its bookmark.
func (b *booklet) here(name, bookmark string, level int) {
	if _, ok := b.page[name]; ok {
		return
	}
	b.page[name] = b.k.f.PageNo()
	if bookmark != "" {
		b.k.f.Bookmark(b.k.letters.plain(bookmark), level, 0)
	}
	b.k.f.SetLink(b.linkTo(name), 0, b.k.f.PageNo())
}

func (b *booklet) linkTo(name string) int {
	l, ok := b.links[name]
	if !ok {
		l = b.k.f.AddLink()
		b.links[name] = l
	}
	return l
}
