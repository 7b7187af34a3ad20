package write

import (
	"fmt"
	"io"

	"boardrun/internal/report"
)

// Scope writes scope.pdf, the letter that goes with a bid: what is not in it
// first, then what is, what it rests on, and what is asked, each with a small
// plan of its place. Who it is from and to, and until when it holds, are lines to
// fill in. Letter in the inch-pound system, A4 in the metric.
func Scope(w io.Writer, t *report.Takeoff) error {
	d := report.NewDraft(t)
	first := &scopeLetter{booklet: newBooklet(t, d, nil), scope: d.Scope()}
	first.lay()
	if err := first.k.f.Error(); err != nil {
		return fmt.Errorf("scope.pdf: %w", err)
	}
	l := &scopeLetter{booklet: newBooklet(t, d, first.booklet), scope: first.scope}
	l.lay()
	return l.k.f.Output(w)
}

type scopeLetter struct {
	*booklet
	scope report.Scope
}

func (l *scopeLetter) lay() {
	y, bottom := l.open(false, "Scope of work", l.t.Job.Name, "")
	k := l.k
	w, _ := l.size()
	y = k.para(margin, y+1, w, l.t.Job.Title, 5, true) + 2
	for _, pair := range [2][2]string{{"To", "From"}, {"Date", "Good until"}} {
		for i, head := range pair {
			x := margin + float64(i)*w/2
			k.text(x, y+2.5, head, 3, false, report.AlignLeft)
			k.line(x+20, y+4.2, x+w/2-6, y+4.2, 0.2, grey)
		}
		y += 7.5
	}
	if l.scope.Sum != "" {
		y = k.para(margin, y+1, w, "For the sum of "+l.scope.Sum+", by the lines of the workbook's sheet Prices.", 3.6, true) + 1
	}
	stamp := ""
	switch l.t.Job.Stamp {
	case "BUDGET":
		stamp = "This is a budget figure: every input nobody gave is a default listed below. It is no offer until they are confirmed."
	case "BUILD":
		stamp = "Measured on site."
	}
	if stamp != "" {
		y = k.para(margin, y, w, stamp, 3.1, true) + 1
	}
	k.line(margin, y, margin+w, y, 0.3, black)
	y = l.points(y+3, "Not included", l.scope.Excluded, bottom)
	y = l.points(y+3, "Included", l.scope.Included, l.end())
	y = l.points(y+3, "What this rests on", l.scope.Rests, l.end())
	y = l.points(y+3, "Conditions", scopeConditions, l.end())
	y = l.asked(y + 3)
	if lost := l.lostLetters(); lost != "" {
		l.points(y+3, "Names", []string{lost}, l.end())
	}
}

// end is where the content of the page in hand must end.
func (l *scopeLetter) end() float64 {
	_, h := l.size()
	return margin + h - 4
}

// scopeConditions defer to those who decide.
var scopeConditions = []string{
	report.Exclusions[2],
	"Rated walls are built to the listed design that the contract documents name; a rating without a listing is not priced until it is named.",
	"Heights follow the drawings; the deck is measured on site before tops are cut, and what differs is told.",
	"Floors carry the stacks of board that are set down on them; who answers for the structure says how much.",
}

// asked lists the questions, each with its place.
func (l *scopeLetter) asked(y float64) float64 {
	if len(l.scope.Questions) == 0 {
		return y
	}
	k := l.k
	w, _ := l.size()
	const wide, high = 62.0, 40.0
	head := true
	for i := range l.scope.Questions {
		q := &l.scope.Questions[i]
		if y+high+3 > l.end() {
			y, _ = l.open(false, "Scope of work", "questions", "")
			head = true
		}
		if head {
			k.text(margin, y+2, "Questions", 4, true, report.AlignLeft)
			y += 6
			head = false
		}
		l.spot(q, margin, y, wide, high)
		x := margin + wide + 5
		k.text(x, y+2, fmt.Sprint(i+1), 3.6, true, report.AlignLeft)
		bottom := k.para(x+7, y, w-wide-12, q.Text, 3.1, false)
		if q.Storey != "" {
			bottom = k.para(x+7, bottom, w-wide-12, "Storey "+q.Storey, 2.6, false)
		}
		for n := 0; n < 2 && bottom+8 < y+high; n++ {
			bottom += 8
			k.line(x+7, bottom, margin+w, bottom, 0.2, grey)
		}
		y += high + 3
	}
	return y
}

// spot draws the plan round the place of a question, its wall solid.
func (l *scopeLetter) spot(q *report.Question, x, y, wide, high float64) {
	k := l.k
	k.border(x, y, wide, high)
	base := l.w.KeyBase(q.Storey)
	if len(base.Marks) == 0 {
		k.text(x+wide/2, y+high/2, "no plan of the place", 2.6, false, report.AlignCentre)
		return
	}
	about := l.w.Spot(q, 1)
	lo, hi := base.Min, base.Max
	if len(about.Marks) > 0 {
		const round = 4000 // mm shown round the place
		for a := range 2 {
			lo[a], hi[a] = max(lo[a], about.Min[a]-round), min(hi[a], about.Max[a]+round)
		}
	}
	const pad = 3
	scale := max(float64(hi[0]-lo[0])/(wide-2*pad), float64(hi[1]-lo[1])/(high-2*pad), 1)
	fr := frame{
		x: x + wide/2 - float64(hi[0]-lo[0])/scale/2, y: y + high/2 + float64(hi[1]-lo[1])/scale/2, scale: scale, u: lo[0], v: lo[1],
	}
	k.f.ClipRect(x, y, wide, high, false)
	k.picture(base, fr)
	k.picture(l.w.Spot(q, scale), fr)
	k.f.ClipEnd()
	k.known = false
}

// border is an empty frame round a picture.
func (k *ink) border(x, y, w, h float64) {
	k.known = false
	k.f.SetDashPattern(nil, 0)
	k.f.SetLineWidth(0.2)
	k.stroke(rule)
	k.f.Rect(x, y, w, h, "D")
}
