package layout

import (
	"fmt"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/run"
)

// why says in one or two sentences why the layout is what it is: the hanging
// end and first piece, the stud start, the stack; and what the runner-up costs
// more.
func (w *wall) why(f, next *find) string {
	if f.first == nil {
		return "No side is boarded: studs only."
	}
	var b strings.Builder
	end := "start"
	if f.fromEnd {
		end = "end"
	}
	side := "left"
	if f.first.face.Side == run.Right {
		side = "right"
	}
	switch {
	case len(f.spans) > 0:
		fmt.Fprintf(&b, "Courses across the studs, the top one first, from the %s of the wall, %s side first; studs start at %s", end, side, w.say(f.start))
	case f.startWidth(f.first, f.fromEnd) == f.first.width:
		fmt.Fprintf(&b, "Hang from the %s of the wall, %s side first, with an uncut sheet; studs start at %s", end, side, w.say(f.start))
	default:
		fmt.Fprintf(&b, "Hang from the %s of the wall, %s side first, with a %s piece because %s; studs start at %s",
			end, side, w.say(f.startWidth(f.first, f.fromEnd)), w.noUncut(f), w.say(f.start))
	}
	b.WriteString(w.whyRows(f))
	if f.swept {
		b.WriteString(". No layout obeys every rule: see the exceptions")
	}
	if f.added > 0 {
		fmt.Fprintf(&b, ". %d studs are added under joints that no legal layout puts on the grid", f.added)
	}
	b.WriteString(w.whyNext(f, next))
	b.WriteString(".")
	return b.String()
}

// noUncut says why the first side does not begin with a whole sheet.
func (w *wall) noUncut(f *find) string {
	p := f.first
	x := p.s0 + p.width
	if f.fromEnd {
		x = p.s1 - p.width
	}
	if x <= p.s0 || x >= p.s1 {
		return "the wall is no wider"
	}
	if hard, _ := w.judge(p, x); hard {
		d, h := p.nearest(x)
		return fmt.Sprintf("a full sheet would put a joint %s from the side of %s", w.say(d), w.opening(h))
	}
	for i := range p.holes {
		if h := &p.holes[i]; h.first && h.x1 > p.s0 && h.x0 < p.s1 {
			return fmt.Sprintf("a joint has to cross %s, which is there first", w.opening(h))
		}
	}
	return "full sheets from there meet an opening or leave too narrow a rip further on"
}

func (w *wall) whyRows(f *find) string {
	if len(f.spans) > 0 {
		return ""
	}
	if f.rows.none() {
		return ", one sheet high"
	}
	bottom := w.plies[0].bottom
	at := make([]string, len(f.rows[0]))
	for i, v := range f.rows[0] {
		at[i] = w.say(v - bottom)
		bottom = v
	}
	text := ", " + strings.Join(at, " + ") + " and tops to the head"
	if w.hides(f.rows.all()) {
		text += ", the joint out of sight above the ceiling"
	}
	return text
}

// whyNext says what the runner-up costs more, by the first member that
// differs.
func (w *wall) whyNext(f, next *find) string {
	if next == nil {
		return ""
	}
	more := func(i int) int64 { return next.score[i] - f.score[i] }
	switch {
	case more(byBroken) > 0:
		return ". The runner-up bends more rules"
	case more(byMoney) > 0:
		return fmt.Sprintf(". The runner-up costs %.2f more", float64(more(byMoney))/1e4)
	case more(byAdded) > 0:
		return fmt.Sprintf(". The runner-up adds %d more studs", more(byAdded))
	case more(byArea) > 0:
		if w.env.Rules.System == measure.Metric {
			return fmt.Sprintf(". The runner-up takes %.2f m² more board", measure.Area(more(byArea)).M2())
		}
		return fmt.Sprintf(". The runner-up takes %.1f sf more board", measure.Area(more(byArea)).SqFt())
	case more(byJoints) > 0:
		return ". The runner-up has more joint to finish"
	case more(byPieces) > 0:
		return ". The runner-up has more pieces"
	case more(byWarnings) > 0:
		return ". The runner-up costs the same with more to look at"
	}
	return ". The runner-up costs the same"
}
