package write

import (
	"fmt"

	"boardrun/internal/report"
)

// strips lists the ends of walls and the reveals of openings.
func (b *booklet) strips() {
	ends := b.k.grid(b.w.StripRows("end", "Ends of walls"), margin, 0)
	reveals := b.k.grid(b.w.StripRows("reveal", "Reveals of openings"), margin, 0)
	for first := true; !ends.done() || !reveals.done(); first = false {
		y, bottom := b.open(false, "Ends and reveals", "strips cut at the cutting station", "")
		if first {
			b.here("strips", "Ends and reveals", 0)
		}
		ends.w, _ = b.size()
		reveals.w = ends.w
		if y = ends.lay(y, bottom); ends.done() {
			reveals.lay(y, bottom)
		}
	}
}

// cuts draws how sheets are cut, like ones once.
func (b *booklet) cuts() {
	list := b.w.CutPatterns()
	const across, down = 4, 3
	for i := 0; i < len(list); i += across * down {
		y, bottom := b.open(false, "Cut list", "sheets that are cut, like ones together", "")
		if i == 0 {
			b.here("cuts", "Cut list", 0)
		}
		w, _ := b.size()
		cw, ch := (w+4)/across, (bottom-y+4)/down
		for n := range min(across*down, len(list)-i) {
			b.pattern(list[i+n], margin+float64(n%across)*cw, y+float64(n/across)*ch, cw-4, ch-4)
		}
	}
}

// pattern is one cell: heading, picture, marks.
func (b *booklet) pattern(c report.CutPattern, x, y, w, h float64) {
	k := b.k
	head := c.Sheets[0]
	if n := len(c.Sheets); n > 1 {
		head = fmt.Sprintf("%d × %s–%s", n, c.Sheets[0], c.Sheets[n-1])
	}
	k.text(x, y+1.5, k.fit(head, 2.8, true, w-4), 2.8, true, report.AlignLeft)
	k.box(x+w-3, y, 3)
	k.text(x, y+5, k.fit(c.Size+" "+c.Board, 2.4, false, w), 2.4, false, report.AlignLeft)
	foot := k.wrap(c.Marks, 2.1, false, w)
	if len(foot) > 10 {
		foot = append(foot[:9], "… and more: see the sides' pages")
	}
	tall := h - 8 - float64(len(foot))*2.7 - 1
	d := b.w.SheetCut(c, 1)
	pw, ph := float64(d.Max[0]-d.Min[0]), float64(d.Max[1]-d.Min[1])
	scale := max(pw/w, ph/tall)
	d = b.w.SheetCut(c, scale)
	k.picture(d, frame{x: x, y: y + 8 + float64(d.Max[1]-d.Min[1])/scale, scale: scale, u: d.Min[0], v: d.Min[1]})
	for i, l := range foot {
		k.text(x, y+h-float64(len(foot)-i)*2.7+1.2, l, 2.1, false, report.AlignLeft)
	}
}
