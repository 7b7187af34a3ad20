package layout

import (
	"fmt"
	"slices"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/run"
)

// why says in two or three sentences, in the trade's words, why the layout is
// what it is: the hanging end and first piece, the stud start, the stack; what
// studs are added for; and what the next layout that differs costs more. rest
// are the other layouts, best first.
func (w *wall) why(f *find, rest []*find) string {
	if f.first == nil {
		if len(w.plies) == 0 && len(w.strips) == 0 && refused(w.Run) != "" {
			return "No side is boarded: its rating has no listed design to board it by. Studs only."
		}
		return "No side is boarded: studs only."
	}
	parts := []string{w.whyEnd(f) + w.whyStuds(f) + w.whyStack(f)}
	if f.swept {
		parts = append(parts, "No layout obeys every rule: see the exceptions")
	}
	if f.added > 0 {
		parts = append(parts, w.whyAdded(f))
	}
	if s := w.whyNext(f, rest); s != "" {
		parts = append(parts, s)
	}
	return strings.Join(parts, ". ") + "."
}

// whyEnd says which side goes up first, from which of its ends as seen by a
// person facing it, and with what.
func (w *wall) whyEnd(f *find) string {
	side, end := "Left", "right"
	if f.first.face.Side == run.Right {
		side, end = "Right", "left"
	}
	if f.fromEnd {
		end = map[string]string{"left": "right", "right": "left"}[end]
	}
	if w.oneSided() {
		side = "Hang"
	} else {
		side += " side first,"
	}
	switch width := f.startWidth(f.first, f.fromEnd); {
	case len(f.spans) > 0:
		return fmt.Sprintf("%s from its %s end, courses across the studs, the top one first", side, end)
	case width == f.first.width:
		return fmt.Sprintf("%s from its %s end with an uncut sheet", side, end)
	default:
		return fmt.Sprintf("%s from its %s end with a piece %s wide, because %s", side, end, w.say(width), w.noUncut(f))
	}
}

func (w *wall) oneSided() bool {
	for _, p := range w.plies {
		if p.face.Side != w.plies[0].face.Side {
			return false
		}
	}
	return true
}

// whyStuds says where the studs begin and what stands on them.
func (w *wall) whyStuds(f *find) string {
	if w.Spacing <= 0 {
		return "; studs under joints only"
	}
	text := fmt.Sprintf("; studs at %s from %s", w.say(w.Spacing), w.say(mod(f.start, w.Spacing)))
	switch {
	case w.Framing == framed:
		return text + ", as framed"
	case len(f.spans) > 0 || f.swept:
		return text
	}
	for _, l := range f.lays {
		if l.lane.ply != f.first || len(l.joints) == 0 {
			continue
		}
		x := l.joints[0]
		if f.fromEnd {
			x = l.joints[len(l.joints)-1]
		}
		if mod(x-f.start, w.Spacing) == 0 {
			return text + ", so that its first joint stands on one"
		}
		return text + ", which puts most of the other joints on them"
	}
	return text
}

// whyStack says what stands on what, and where the joint between is seen.
func (w *wall) whyStack(f *find) string {
	if len(f.spans) > 0 {
		return ""
	}
	if f.rows.none() {
		return "; one sheet reaches the head"
	}
	text := "; " + w.stackOf(f.rows[0])
	if !slices.Equal(f.rows[0], f.rows[1]) && w.topStagger() > 0 {
		text = fmt.Sprintf("; %s on one side, %s on the other, their joints staggered", w.stackOf(f.rows[0]), w.stackOf(f.rows[1]))
	}
	ceiling := Length(0)
	for _, p := range w.plies {
		ceiling = max(ceiling, p.ceiling)
	}
	switch {
	case w.hides(f.rows.all()):
		text += ", the joint out of sight above the ceiling"
	case ceiling > 0:
		text += ", the joint in sight: sheets that would hide it cost more or leave too low a top"
	}
	return text
}

func (w *wall) stackOf(rows []Length) string {
	if len(rows) == 0 {
		return "one sheet to the head"
	}
	bottom := w.plies[0].bottom
	at := make([]string, len(rows))
	for i, v := range rows {
		at[i] = w.say(v - bottom)
		bottom = v
	}
	return strings.Join(at, " + ") + " sheets and tops to the head"
}

// whyAdded says why studs stand off the grid.
func (w *wall) whyAdded(f *find) string {
	what := fmt.Sprintf("%d studs are added", f.added)
	if f.added == 1 {
		what = "1 stud is added"
	}
	switch {
	case f.swept:
		return what + " under joints off the grid"
	case w.studsPriced():
		return what + " under joints off the grid: at the job's prices no layout without them costs less"
	}
	return what + " under joints, because no layout with all joints on the grid is legal"
}

// noUncut says why the first side does not begin with a whole sheet: the first
// thing full sheets from there come to grief at.
func (w *wall) noUncut(f *find) string {
	p := f.first
	at, step, end := p.s0, p.width, p.s1
	if f.fromEnd {
		at, step, end = p.s1, -p.width, p.s0
	}
	if p.s1-p.s0 <= p.width {
		return "the wall is no wider"
	}
	for n := 1; ; n++ {
		x := at + step
		if step > 0 && x >= end || step < 0 && x <= end {
			break
		}
		if hard, _ := w.judge(p, x); hard {
			d, h := p.nearest(x)
			return fmt.Sprintf("the joint after %s would stand %s from the side of %s, nearer than %s", sheetsOf(n), w.say(d), w.opening(h), w.say(w.env.Rules.JambBandHard))
		}
		at = x
	}
	if rest := (end - at).Abs(); rest < w.env.Rules.RipHard {
		return fmt.Sprintf("full sheets would leave a rip of %s at the other end", w.say(rest))
	}
	for i := range p.holes {
		if h := &p.holes[i]; h.first && h.x1 > p.s0 && h.x0 < p.s1 {
			return fmt.Sprintf("a joint has to cross %s, which is there first", w.opening(h))
		}
	}
	if w.env.Prices != nil {
		return "full sheets from there cost more over the whole wall"
	}
	return "full sheets from there take more studs, board or joint over the whole wall"
}

func sheetsOf(n int) string {
	if n == 1 {
		return "one full sheet"
	}
	return fmt.Sprintf("%d full sheets", n)
}

// whyNext says what the best layout that costs more costs more, by the first
// member that differs; of layouts that all cost the same, what decided.
func (w *wall) whyNext(f *find, rest []*find) string {
	if len(rest) == 0 {
		return ""
	}
	for _, next := range rest {
		if s := w.dearer(f, next); s != "" {
			return "The next best " + s
		}
	}
	for _, t := range []struct {
		by   int
		text string
	}{
		{byStart, "this one begins with an uncut sheet"},
		{byWarnings, "this one leaves least to look at"},
		{byGrid, "this one has its studs from the board's edge"},
	} {
		if rest[0].score[t.by] > f.score[t.by] {
			return "Others cost the same; " + t.text
		}
	}
	return "Others cost the same and differ only in where the first sheet stands"
}

// dearer says what g costs more than f; "" if nothing.
func (w *wall) dearer(f, g *find) string {
	more := func(i int) int64 { return g.score[i] - f.score[i] }
	switch {
	case more(byBroken) > 0:
		return "bends more rules"
	case more(byTier) > 0:
		return "puts its horizontal joints where they are worse placed"
	case more(byMoney) > 0:
		return strings.TrimSpace(fmt.Sprintf("costs %s %.2f", w.env.Prices.Currency, float64(more(byMoney))/1e4)) + " more"
	case more(byAdded) == 1:
		return "adds one more stud"
	case more(byAdded) > 0:
		return fmt.Sprintf("adds %d more studs", more(byAdded))
	case more(byArea) > 0 && w.env.Rules.System == measure.Metric:
		return fmt.Sprintf("takes %.2f m² more board", measure.Area(more(byArea)).M2())
	case more(byArea) > 0:
		return fmt.Sprintf("takes %.1f sf more board", measure.Area(more(byArea)).SqFt())
	case more(byJoints) > 0:
		return "has more joint to finish"
	case more(byPieces) > 0:
		return "has more pieces"
	}
	return ""
}
