package write

import (
	"fmt"
	"math"

	"boardrun/internal/report"
)

// Scales a ruler has, largest first.
var (
	inchScales   = []float64{16, 24, 32, 48, 64, 96, 128, 192, 256, 384, 768}
	metricScales = []float64{20, 25, 50, 75, 100, 150, 200, 250, 500, 1000}
)

const (
	splitBeyond = 75 // a side that fits only at a smaller scale than 1 : this is split
	sideMargins = 50 // mm of paper for dimensions left and right of an elevation
	footMargins = 34 // above and below
)

// sideLayout is how one page's drawing stands on paper.
type sideLayout struct {
	wide  bool
	parts []report.View
	pics  []*report.Picture
}

// sides lays a page for every ply of every side of a wall.
func (b *booklet) sides() {
	storey := ""
	for i := range b.t.Faces {
		f := &b.t.Faces[i]
		if !f.Boarded || report.Strip(f) {
			continue
		}
		for _, y := range f.Plies {
			if len(b.w.Pieces(f, y.Ply)) == 0 {
				continue
			}
			if s := b.w.Storey(f); s != storey {
				storey = s
				b.side(f, y.Ply, "Storey "+s)
				continue
			}
			b.side(f, y.Ply, "")
		}
	}
}

func (b *booklet) side(f *report.Face, ply int, storey string) {
	key := fmt.Sprint(f.ID, "/", ply)
	lay := b.cached[key]
	if lay == nil {
		lay = b.choose(f, ply)
		b.cached[key] = lay
	}
	for i, v := range lay.parts {
		s := b.w.SidePage(f, ply, v)
		s.Part, s.Parts = i+1, len(lay.parts)
		b.sidePage(&s, lay, i, storey)
		storey = ""
	}
}

// scales are those of the job's rulers.
func (b *booklet) scales() []float64 {
	if b.w.Metric() {
		return metricScales
	}
	return inchScales
}

// stance is how a drawing stands on its page.
type stance uint8

const (
	upright stance = iota // over the lists
	turned                // over the lists, the page turned
	whole                 // the lists go on the next page
)

// drawingBox is the room for a drawing on a page.
func (b *booklet) drawingBox(s stance) (w, h float64) {
	p := b.k.f.GetPageSizeStr(paperName(b.w))
	switch s {
	case turned:
		return p.Ht - 2*margin, 104
	case whole:
		return p.Wd - 2*margin, p.Ht - 2*margin - 22
	}
	return p.Wd - 2*margin, 158
}

func (b *booklet) fits(s stance, wide, high, scale float64) bool {
	w, h := b.drawingBox(s)
	return wide/scale+sideMargins <= w && high/scale+footMargins <= h
}

// choose finds the largest scale at which a side fits, upright before turned.
// One that would be too small for its length is split; one too small for its
// height has a page for its drawing.
func (b *booklet) choose(f *report.Face, ply int) *sideLayout {
	u0, u1 := report.Span(f, ply)
	wide, high := float64(u1-u0), float64(b.w.Top(f))
	one := func(s stance, scale float64) *sideLayout {
		v := report.View{Scale: scale, From: u0, To: u1}
		return &sideLayout{wide: s == turned, parts: []report.View{v}, pics: []*report.Picture{b.w.Elevation(f, ply, v)}}
	}
	for _, scale := range b.scales() {
		if scale > splitBeyond {
			break
		}
		for _, s := range []stance{upright, turned} {
			if b.fits(s, wide, high, scale) {
				return one(s, scale)
			}
		}
	}
	for _, scale := range b.scales() {
		if b.fits(whole, wide, high, scale) && wide < 2*high {
			return one(whole, scale)
		}
	}
	return b.split(f, ply, high)
}

// split cuts a long side into parts at a readable scale.
func (b *booklet) split(f *report.Face, ply int, high float64) *sideLayout {
	s, scale := whole, b.scales()[len(b.scales())-1]
	for _, try := range b.scales() {
		switch {
		case try < 48:
		case b.fits(turned, 0, high, try) && try <= splitBeyond:
			s, scale = turned, min(scale, try)
		case b.fits(whole, 0, high, try):
			scale = min(scale, try)
		}
	}
	w, _ := b.drawingBox(s)
	lay := &sideLayout{wide: s == turned, parts: b.w.Parts(f, ply, report.MM((w-sideMargins)*scale), scale)}
	for _, v := range lay.parts {
		lay.pics = append(lay.pics, b.w.Elevation(f, ply, v))
	}
	return lay
}

// sidePage lays one page: drawing, facts, key plan, tables; what does not fit
// goes on the next.
func (b *booklet) sidePage(s *report.SidePage, lay *sideLayout, part int, storey string) {
	name := s.Name
	if s.Parts > 1 {
		name += fmt.Sprintf(", part %d of %d", s.Part, s.Parts)
	}
	if s.Layer != "" {
		name = s.Layer + ", " + name
	}
	d := lay.pics[part]
	y, bottom := b.open(lay.wide, s.Mark, name, b.scaleText(d.Scale))
	if storey != "" {
		b.k.f.Bookmark(b.k.letters.plain(storey), 0, 0)
	}
	b.here(s.Mark, s.Mark+" "+s.Name, 1)
	w, _ := b.size()
	pw, ph := float64(d.Max[0]-d.Min[0])/d.Scale, float64(d.Max[1]-d.Min[1])/d.Scale
	b.k.picture(d, frame{x: margin + (w-pw)/2, y: y + ph, scale: d.Scale, u: d.Min[0], v: d.Min[1]})
	y += ph + 3
	if bottom-y < 45 {
		y, bottom = b.open(false, s.Mark, name+", lists", "")
		y -= 1.5
	} else {
		b.k.line(margin, y, margin+w, y, 0.2, rule)
	}
	b.below(s, y+1.5, bottom)
}

func (b *booklet) scaleText(scale float64) string {
	names := map[float64]string{12: "1 in = 1 ft", 16: "3/4 in = 1 ft", 24: "1/2 in = 1 ft", 32: "3/8 in = 1 ft", 48: "1/4 in = 1 ft", 64: "3/16 in = 1 ft", 96: "1/8 in = 1 ft", 128: "3/32 in = 1 ft", 192: "1/16 in = 1 ft", 384: "1/32 in = 1 ft"}
	if n := names[scale]; n != "" && !b.w.Metric() {
		return fmt.Sprintf("scale %s (1 : %.0f)", n, scale)
	}
	return fmt.Sprintf("scale 1 : %.0f", scale)
}

// below lays facts and key plan at the left under the drawing, the lists beside
// them.
func (b *booklet) below(s *report.SidePage, y, bottom float64) {
	w, _ := b.size()
	col := 62.0
	facts := b.sideFacts(s, y, col, bottom)
	x := margin + col + 4
	sheets, tops := b.k.grid(s.Sheets, x, w-col-4), b.k.grid(s.Tops, x, w-col-4)
	cut := s.Cut
	if b.wide && len(s.Tops.Rows) > 0 {
		sheets.w = (w - col - 8) * 0.54
		tops.x, tops.w = x+sheets.w+4, (w-col-8)*0.46
		y0 := sheets.lay(y, bottom)
		y1 := tops.lay(y, bottom)
		if sheets.done() && tops.done() {
			cut = b.thumbs(cut, x, max(y0, y1), w-col-4, bottom)
		}
	} else if b.wide && len(cut) > 0 { // their pictures beside the list
		sheets.w = (w - col - 8) * 0.61
		sheets.lay(y, bottom)
		if sheets.done() {
			cut = b.thumbs(cut, x+sheets.w+4, y, (w-col-8)*0.39, bottom)
		}
	} else {
		y0 := sheets.lay(y, bottom)
		if sheets.done() {
			y0 = tops.lay(y0, bottom)
		}
		if sheets.done() && tops.done() {
			cut = b.thumbs(cut, x, y0, w-col-4, bottom)
		}
	}
	for !sheets.done() || !tops.done() || len(cut) > 0 || len(facts) > 0 {
		y, bottom := b.open(false, s.Mark, s.Name+", continued", "")
		w, _ := b.size()
		if len(facts) > 0 {
			y, facts = b.facts(facts, margin, y, bottom)
			y += 2
		}
		sheets.x, sheets.w, tops.x, tops.w = margin, w, margin, w
		if y = sheets.lay(y, bottom); sheets.done() {
			y = tops.lay(y, bottom)
		}
		if sheets.done() && tops.done() {
			cut = b.thumbs(cut, margin, y, w, bottom)
		}
	}
}

// sideFacts lays the facts of a side and its key plan under them; it returns
// the facts that found no room.
func (b *booklet) sideFacts(s *report.SidePage, y, col, bottom float64) []factLine {
	const planLeast = 21
	facts := b.factLines(s, col)
	room, need := bottom-planLeast, heightOf(facts[:len(s.Facts)])
	if len(s.Look) > 0 {
		need += 6.5 // at least where to look
	}
	if y+need > room {
		room = bottom // no key plan rather than no facts
	}
	facts = b.shorten(facts, len(s.Facts), room-y, col, s.Mark)
	end, facts := b.facts(facts, margin, y, room)
	b.keyPlan(s.Face, margin, end+1, col, bottom-end-1)
	return facts
}

// factLine is one fact on paper.
type factLine struct {
	name  string
	lines []string
	size  float64
	bold  bool
}

const factName = 16.0 // width of a fact's label

func (f *factLine) height() float64 { return float64(len(f.lines))*f.size*1.28 + 0.4 }

func heightOf(list []factLine) float64 {
	h := 0.0
	for i := range list {
		h += list[i].height()
	}
	return h
}

// factLines breaks a page's facts, and what wants a look, into lines.
func (b *booklet) factLines(s *report.SidePage, w float64) []factLine {
	var out []factLine
	for _, f := range s.Facts {
		bold := f[0] == "Start" || f[0] == "Flanges"
		out = append(out, factLine{f[0], b.k.wrap(f[1], 2.5, bold, w-factName), 2.5, bold})
	}
	for i, l := range s.Look {
		name := ""
		if i == 0 {
			name = "Look at"
		}
		out = append(out, factLine{name, b.k.wrap(l, 2.3, false, w-factName), 2.3, false})
	}
	return out
}

// shorten leaves out what wants a look beyond a height, and says so; the facts
// before it stay.
func (b *booklet) shorten(list []factLine, facts int, h, w float64, mark string) []factLine {
	n := len(list)
	for n > facts && heightOf(list[:n]) > h {
		n--
	}
	if n == len(list) {
		return list
	}
	rest := func(k int) factLine {
		name, more := "", " more"
		if k == facts {
			name, more = "Look at", ""
		}
		text := fmt.Sprintf("%d%s, in the takeoff's exceptions under %s", len(list)-k, more, mark)
		return factLine{name, b.k.wrap(text, 2.3, false, w-factName), 2.3, false}
	}
	last := rest(n)
	for n > facts && heightOf(list[:n])+last.height() > h {
		n--
		last = rest(n)
	}
	return append(list[:n:n], last)
}

// facts writes facts one under the other as far as they fit, and returns where
// it ends and what is left.
func (b *booklet) facts(list []factLine, x, y, bottom float64) (float64, []factLine) {
	k := b.k
	for len(list) > 0 {
		f := &list[0]
		if y+f.height() > bottom {
			break
		}
		k.colour(grey)
		k.text(x, y+1.6, f.name, 2.5, false, report.AlignLeft)
		k.colour(black)
		for i, l := range f.lines {
			k.text(x+factName, y+1.6+f.size*1.28*float64(i), l, f.size, f.bold, report.AlignLeft)
		}
		y += f.height()
		list = list[1:]
	}
	return y, list
}

// keyPlan shows where on its storey a side is; the storey under it is drawn
// once and used again.
func (b *booklet) keyPlan(f *report.Face, x, y, w, h float64) {
	const least = 20
	if h < least {
		return
	}
	h = min(h, 46)
	base := b.w.KeyBase(b.w.Storey(f))
	if len(base.Marks) == 0 {
		return
	}
	pad := min(8, h/4) // the arrow and the ring stand outside the walls
	scale := max(float64(base.Max[0]-base.Min[0])/(w-2*pad), float64(base.Max[1]-base.Min[1])/(h-2*pad), 1)
	fr := frame{x: x + pad, y: y + pad + float64(base.Max[1]-base.Min[1])/scale, scale: scale, u: base.Min[0], v: base.Min[1]}
	b.k.picture(base, fr)
	b.k.picture(b.w.KeySide(f, scale), fr)
}

// thumbs draws pieces with notches one by one, as far as they fit; it returns
// those that do not.
func (b *booklet) thumbs(cut []*report.Piece, x, y, w, bottom float64) []*report.Piece {
	if len(cut) == 0 {
		return nil
	}
	const least = 30.0
	wide, high := 34.0, 46.0
	rows := math.Floor((bottom - y - 5) / (least + 2))
	if rows < 1 {
		return cut
	}
	across := func(wide float64) float64 { return math.Floor((w + 2.5) / (wide + 2)) }
	for _, narrow := range []float64{28, 23} { // closer together rather than on a page of their own
		if rows*across(wide) < float64(len(cut)) {
			wide = narrow
		}
	}
	if float64(len(cut)) > across(wide) {
		high = min(high, (bottom-y-5)/rows-2)
	} else {
		high = min(high, bottom-y-5)
	}
	b.k.text(x, y+2, "Cut these, from start edge and bottom", 2.7, true, report.AlignLeft)
	y += 5
	for len(cut) > 0 && y+high <= bottom {
		at := x
		for len(cut) > 0 && at+wide <= x+w+0.5 {
			b.thumb(cut[0], at, y, wide, high)
			cut = cut[1:]
			at += wide + 2
		}
		y += high + 2
	}
	return cut
}

// thumb draws a piece as large as its box allows: dimensions take the same room
// on paper at any scale, the board takes the rest.
func (b *booklet) thumb(q *report.Piece, x, y, w, h float64) {
	const guess = 60.0
	extent := func(d *report.Picture) (pw, ph float64) {
		return float64(d.Max[0]-d.Min[0]) / d.Scale, float64(d.Max[1]-d.Min[1]) / d.Scale
	}
	wide, high := report.Size(q)
	d := b.w.PieceCut(q, guess)
	pw, ph := extent(d)
	scale := max(float64(wide)/max(w-pw+float64(wide)/guess, 3), float64(high)/max(h-ph+float64(high)/guess, 3), 15)
	for range 6 {
		d = b.w.PieceCut(q, scale)
		if pw, ph = extent(d); pw <= w && ph <= h {
			break
		}
		scale *= 1.1
	}
	b.k.picture(d, frame{x: x + (w-pw)/2, y: y + ph, scale: scale, u: d.Min[0], v: d.Min[1]})
}
