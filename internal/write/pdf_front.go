package write

import (
	"fmt"
	"strings"

	"boardrun/internal/report"
)

// front is the first page: what the job is, what is not in it, and the
// cautions. They stand before any number.
func (b *booklet) front() {
	y, bottom := b.open(false, "Wall sheets", b.t.Job.Name, "")
	b.here("front", "Cautions and exclusions", 0)
	k := b.k
	w, _ := b.size()
	y = k.para(margin, y+1, w, b.t.Job.Title, 5, true) + 1
	k.line(margin, y, margin+w, y, 0.3, black)
	y = b.points(y+3, "Cautions", report.Cautions, bottom)
	y = b.points(y+3, "Not in these pages", append(append([]string{}, report.Exclusions...), b.t.Job.Notes...), bottom)
	y = b.points(y+3, "Open questions", b.doubts(), bottom)
	if lost := b.lostLetters(); lost != "" {
		b.points(y+3, "Names", []string{lost}, bottom)
	}
}

// points writes a headed list; it runs on over pages.
func (b *booklet) points(y float64, title string, list []string, bottom float64) float64 {
	if len(list) == 0 {
		return y
	}
	k := b.k
	w, _ := b.size()
	k.text(margin, y+2, title, 4, true, report.AlignLeft)
	y += 6
	for _, s := range list {
		if h := float64(len(k.wrap(s, 3.1, false, w-5))) * 3.1 * 1.28; y+h > bottom {
			y, bottom = b.open(false, "Wall sheets", "cautions and exclusions, continued", "")
		}
		k.fill(black)
		k.f.Rect(margin, y+1.1, 1.4, 1.4, "F")
		y = k.para(margin+4, y, w-5, s, 3.1, false) + 1.3
	}
	return y
}

// doubts counts what needs a person, and names the first.
func (b *booklet) doubts() []string {
	var out []string
	n := 0
	for _, e := range b.t.Exceptions {
		if e.Severity != "person" {
			continue
		}
		if n++; n <= 8 {
			s := e.Message
			if e.Target != "" {
				s = e.Target + ": " + s
			}
			out = append(out, s)
		}
	}
	if n > 8 {
		out = append(out, fmt.Sprintf("and %d more: see the takeoff's list of exceptions", n-8))
	}
	if a := len(b.t.Job.Assumptions); a > 0 {
		out = append(out, fmt.Sprintf("Inputs of the job that were assumed: %d; see the takeoff's list of assumptions", a))
	}
	return out
}

// lostLetters tells which letters of names are missing, once that is known.
func (b *booklet) lostLetters() string {
	if b.before == nil {
		return ""
	}
	lost := b.before.k.letters.lost()
	if len(lost) == 0 {
		return ""
	}
	var codes []string
	for i, r := range lost {
		if i == 12 {
			codes = append(codes, fmt.Sprintf("and %d more", len(lost)-i))
			break
		}
		codes = append(codes, fmt.Sprintf("U+%04X", r))
	}
	return "Letters this print lacks stand as question marks: " + strings.Join(codes, ", ") + ". The names are whole in takeoff.json."
}

// index lists the sides with their pages.
func (b *booklet) index() {
	g := b.k.grid(b.indexRows(), margin, 0)
	g.size = 2.8
	g.link = func(row int) int {
		if b.before == nil || b.before.page[b.sections[row]] == 0 {
			return 0
		}
		return b.linkTo(b.sections[row])
	}
	for first := true; first || !g.done(); first = false {
		y, bottom := b.open(false, "Index", "a page for each side of each wall", "")
		if first {
			b.here("index", "Index", 0)
		}
		g.w, _ = b.size()
		y = g.lay(y, bottom)
		if g.done() {
			b.indexNote(y)
		}
	}
}

// indexNote says why sides have no page.
func (b *booklet) indexNote(y float64) {
	boarded, hung := 0, 0
	for i := range b.t.Faces {
		if f := &b.t.Faces[i]; f.Boarded {
			boarded++
			if b.w.Hung(f) {
				hung++
			}
		}
	}
	w, _ := b.size()
	switch {
	case boarded == 0:
		b.k.para(margin, y+2, w, "No side of this job is boarded.", 3.1, true)
	case hung < boarded:
		b.k.para(margin, y+2, w, fmt.Sprintf("Sides without a page (%d of %d) have no layout: the takeoff's exceptions say why.", boarded-hung, boarded), 3.1, true)
	}
}

func (b *booklet) indexRows() report.Block {
	bl := report.Block{Title: "Sides"}
	for _, c := range []struct {
		head  string
		width float64
		kind  report.Kind
	}{{"Side", 22, 0}, {"Which", 34, 0}, {"Type", 12, 0}, {"Length", 15, 1}, {"Board height", 22, 1}, {"Start", 8, 0}, {"Hung", 9, 0}, {"Sheets", 8, 1}, {"Tops", 7, 1}, {"Page", 7, 1}} {
		bl.Columns = append(bl.Columns, report.Column{Head: c.head, Width: c.width, Kind: c.kind})
	}
	b.sections = nil
	for i := range b.t.Faces {
		f := &b.t.Faces[i]
		if !f.Boarded {
			continue
		}
		b.sections = append(b.sections, faceSection(f))
		page := ""
		if b.before != nil {
			page = "none"
			if n := b.before.page[faceSection(f)]; n > 0 && b.w.Hung(f) {
				page = fmt.Sprint(n)
			}
		}
		var row []report.Cell
		for n, s := range append(b.w.IndexRow(f), page) {
			if n == 1 || n == 2 {
				s = b.k.fit(s, 2.8, false, 60)
			}
			row = append(row, report.T(s))
		}
		row[0], row[9] = row[0].As(report.Strong), row[9].As(report.Strong)
		bl.Rows = append(bl.Rows, row)
	}
	return bl
}

// faceSection is the name of the section a face's page is in.
func faceSection(f *report.Face) string {
	if report.Strip(f) {
		return "strips"
	}
	return f.ID
}

// steps prints once how a side is hung and how the pages are read.
func (b *booklet) steps() {
	y, bottom := b.open(false, "How to hang", "the steps, once for all sides", "")
	b.here("steps", "How to hang", 0)
	k := b.k
	w, _ := b.size()
	left := w * 0.6
	top := y
	for i, s := range b.w.Steps() {
		k.text(margin, y+2, fmt.Sprint(i+1), 4.2, true, report.AlignLeft)
		k.text(margin+8, y+2, s.Title, 3.3, true, report.AlignLeft)
		y = k.para(margin+8, y+4.2, left-12, s.Text, 3, false) + 2.4
	}
	b.screwLegend(margin+left+4, top, w-left-4)
	y = max(y+2, top+120)
	k.line(margin, y, margin+w, y, 0.3, black)
	b.points(y+2, "How to read a page", b.w.ReadingNotes(), bottom)
}

// screwLegend draws the tack pass and the finished screws of a full sheet.
func (b *booklet) screwLegend(x, y, w float64) {
	k := b.k
	k.text(x, y+2, "Screws of a full sheet", 3.3, true, report.AlignLeft)
	half := (w - 6) / 2
	for i, name := range []string{"tack pass", "in the end"} {
		scale := 1220 / half
		d := b.w.ScrewPattern(i == 0, scale)
		ph := float64(d.Max[1]-d.Min[1]) / scale
		at := x + float64(i)*(half+6)
		k.picture(d, frame{x: at, y: y + 7 + ph, scale: scale, u: d.Min[0], v: d.Min[1]})
		k.text(at+half/2, y+7+ph+3, name, 2.8, true, report.AlignCentre)
	}
	k.para(x, y+7+3050/(1220/half)+7, w, "Rings: the tack pass, joint edge at the left already held by the sheet before. Dots: all screws once screwed off. Rows at the floor are the track row.", 2.6, false)
}
