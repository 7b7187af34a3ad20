package layout

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// teller collects what a layout has to be looked at for.
type teller struct {
	*wall
	f   *find
	out *Layout
}

// tell lists every rule that f bends or breaks, by face and reason, and marks
// the joints that are excused.
func (w *wall) tell(f *find, out *Layout) {
	t := teller{w, f, out}
	out.Status = "optimal"
	for _, l := range f.lays {
		t.joints(l)
		t.columns(l)
	}
	t.courses()
	t.shared()
	t.stems()
	t.headers()
	t.rows()
	t.changes()
	t.staggers()
	t.controls()
	if len(f.controls) > 0 {
		out.Gap = "control joints are tried with full sheets from either end, spread evenly, and in steps of a part of a sheet"
	}
	if w.pruned {
		out.Gap += "; of many plies and faces only the best choices are put together"
	}
	if f.swept {
		out.Gap += "; no layout obeys every rule: found by a sweep over the studs that charges each narrow piece a sheet of its own"
	}
	if out.Gap = strings.TrimPrefix(out.Gap, "; "); out.Gap != "" {
		out.Status = "feasible"
	}
	for _, e := range out.Exceptions {
		if e.Severity == plan.Person && e.Code != codeControl {
			out.Status = "infeasible"
		}
	}
	slices.SortStableFunc(out.Exceptions, func(a, b plan.Exception) int {
		return cmp.Or(-cmp.Compare(a.Severity, b.Severity), cmp.Compare(a.Target, b.Target), cmp.Compare(a.Code, b.Code))
	})
}

func (t *teller) add(sev plan.Severity, code, target, did, format string, args ...any) {
	e := exception(sev, code, target, did, format, args...)
	if len(t.Sources) > 0 {
		e.Source = t.Sources[0]
	}
	for _, old := range t.out.Exceptions {
		if old.Code == code && old.Target == target && old.Message == e.Message {
			return
		}
	}
	t.out.Exceptions = append(t.out.Exceptions, e)
}

// say writes a length as people read it.
func (w *wall) say(l Length) string { return measure.Human(l, w.env.Rules.System) }

// from says how far u is from a face's left end.
func (t *teller) from(p *ply, station Length) string { return t.say(p.face.U(station)) }

func (w *wall) opening(h *hole) string {
	if h.opening >= 0 && h.opening < len(w.Openings) {
		return w.Openings[h.opening].ID
	}
	return "a hole"
}

// excuse marks the joints of p at x.
func (t *teller) excuse(p *ply, x Length, code string) {
	for i := range t.out.Joints {
		j := &t.out.Joints[i]
		if j.Face == p.face && j.Ply == p.spec.Number && j.From.X == j.To.X && p.face.Station(j.From.X) == x && j.Exception == "" {
			j.Exception = code
		}
	}
}

// joints lists joints in the bands of openings.
func (t *teller) joints(l *lay) {
	p, r := l.lane.ply, t.env.Rules
	for _, x := range l.joints {
		hard, warn := t.judge(p, x)
		if !hard && !warn {
			continue
		}
		d, h := p.nearest(x)
		if hard {
			t.excuse(p, x, codeJambBand)
			t.add(plan.Person, codeJambBand, p.face.ID,
				fmt.Sprintf("hung so; the nearest legal change is to move the joint %s, or a narrower band in the job's rules", t.say(r.JambBandHard-d)),
				"no legal layout: the joint at %s is %s from the side of %s, the rule is at least %s",
				t.from(p, x), t.say(d), t.opening(h), t.say(r.JambBandHard))
			continue
		}
		t.add(plan.Warning, codeJambBand, p.face.ID, "allowed", "the joint at %s is %s from the side of %s, less than %s",
			t.from(p, x), t.say(d), t.opening(h), t.say(r.JambBandWarn))
	}
}

// nearEnd lists an end of a course near an opening.
func (t *teller) nearEnd(s *span, x Length) {
	p, r := s.ply, t.env.Rules
	d, h := p.nearest(x)
	if h == nil || d >= r.JambBandWarn || h.y1+r.JambBandHard <= s.lo || h.y0-r.JambBandHard >= s.hi {
		return
	}
	t.add(plan.Warning, codeJambBand, p.face.ID, "allowed", "the end at %s is %s from the side of %s, less than %s",
		t.from(p, x), t.say(d), t.opening(h), t.say(r.JambBandWarn))
}

// nearest returns the banded hole whose side is nearest to x and how near.
func (p *ply) nearest(x Length) (d Length, near *hole) {
	d = maxLength
	for i := range p.holes {
		h := &p.holes[i]
		if e := min((x - h.x0).Abs(), (x - h.x1).Abs()); h.banded && e < d {
			d, near = e, h
		}
	}
	return d, near
}

// columns lists narrow pieces, low tops, tongues and closed holes.
func (t *teller) columns(l *lay) {
	p, r := l.lane.ply, t.env.Rules
	id := p.face.ID
	l.columns(func(i int, a, b Length) {
		bits, _ := t.fill(p, a, b, t.f.rows.of(p), b-a < p.width)
		for _, c := range bits {
			t.bit(p, a, b, c, len(bits) > 1)
		}
		if b-a >= p.width || len(l.joints) == 0 {
			return
		}
		at := t.from(p, a)
		switch {
		case b-a < r.RipHard:
			t.add(plan.Person, codeRip, id, "hung so; move an opening, or a lesser rip in the job's rules",
				"no legal layout: a rip at %s is %s wide, the rule is at least %s", at, t.say(b-a), t.say(r.RipHard))
		case i > 0 && i < len(l.joints):
			t.add(plan.Warning, codeNarrow, id, "hung so: full sheets put a joint too near an opening's side",
				"a piece %s wide stands between full sheets at %s", t.say(b-a), at)
		case b-a < r.RipWarn:
			t.add(plan.Warning, codeRip, id, "allowed", "the rip at %s is %s wide, less than %s", at, t.say(b-a), t.say(r.RipWarn))
		}
	})
	if l.twoRips() {
		t.add(plan.Warning, codeRip, id, "factory edges to the joint, cut edges in the corners", "two rips stand side by side: a full sheet leaves no legal rest")
	}
}

func (t *teller) bit(p *ply, a, b Length, c bit, cut bool) {
	r, id := t.env.Rules, p.face.ID
	at := t.from(p, a)
	if h, most := c.peak(p, a, b), c.lengths[len(c.lengths)-1]; h > most {
		t.add(plan.Person, codeTooHigh, id, "listed with that height; give the board longer sheets, or allow more horizontal joints",
			"a piece at %s is %s high, the longest sheet is %s", at, t.say(h), t.say(most))
	}
	low := c.low(p, a, b)
	switch {
	case !cut:
	case low < r.TopHard:
		t.add(plan.Person, codeTop, id, "hung so; another sheet length, or a lower one in the job's rules",
			"no legal layout: a piece at %s is %s high at its low side, the rule is at least %s", at, t.say(max(0, low)), t.say(r.TopHard))
	case low < r.TopWarn:
		t.add(plan.Warning, codeTop, id, "allowed", "a piece at %s is %s high at its low side, less than %s", at, t.say(low), t.say(r.TopWarn))
	}
	top := c.top
	if top == 0 {
		top = p.top.Max(a, b)
	}
	for i := range p.holes {
		h := &p.holes[i]
		if h.x1 <= a || h.x0 >= b || h.x0 <= a && h.x1 >= b || h.y1 <= c.bottom || h.y0 >= top {
			continue
		}
		over := c.lowOver(p, h)
		if h.first && h.x0 > a && h.x1 < b && h.y0 > c.bottom && h.y1 < over {
			t.add(plan.Person, codeClosed, id, "scored and folded round it, the paper as hinge; or put a joint across it",
				"no legal layout: a closed hole goes round %s, which is there before the board", t.opening(h))
		}
		if !h.banded {
			continue
		}
		for _, tongue := range [2]Length{h.y0 - c.bottom, over - h.y1} {
			if tongue > 0 && tongue < r.StemWarn {
				t.add(plan.Warning, codeStem, id, "hung so", "the tongue over or under %s is %s high, less than %s", t.opening(h), t.say(tongue), t.say(r.StemWarn))
			}
		}
	}
}

// shared lists joints of neighbouring plies that are too near each other.
func (t *teller) shared() {
	for i, a := range t.f.lays {
		for _, b := range t.f.lays[i+1:] {
			if !a.lane.neighbours(b.lane.ply) {
				continue
			}
			for _, x := range a.stands() {
				for _, y := range b.stands() {
					t.pair(a.lane.ply, b.lane.ply, x, y)
				}
			}
		}
	}
}

func (t *teller) pair(p, q *ply, x, y Length) {
	d := (x - y).Abs()
	switch {
	case d < max(t.env.Rules.Flange, 1):
		t.excuse(p, x, codeShared)
		t.excuse(q, y, codeShared)
		for _, id := range []string{p.face.ID, q.face.ID} {
			t.add(plan.Person, codeShared, id, "hung so; another stud spacing or start would part them",
				"no legal layout: joints of neighbouring plies share the stud at station %s", t.say(x))
		}
	case d < t.distance(p, q) && t.listing != nil:
		for _, id := range []string{p.face.ID, q.face.ID} {
			t.add(plan.Person, codeNear, id, "hung so, each on a stud of its own; another stud start or spacing, or openings elsewhere, would part them",
				"no legal layout: joints of neighbouring plies are %s apart at station %s, %s staggers them by %s", t.say(d), t.say(x), t.listing.Name, t.say(t.distance(p, q)))
		}
	case d < t.distance(p, q):
		t.add(plan.Warning, codeNear, q.face.ID, "hung so, each on a stud of its own",
			"joints of neighbouring plies are %s apart at station %s, less than a bay", t.say(d), t.say(x))
	}
}

// rows notes horizontal joints in one line: GA-216 asks for staggered ends.
func (t *teller) rows() {
	if t.f.rows.none() {
		return
	}
	for _, fl := range t.out.Faces {
		if len(fl.Breaks) == 0 || !slices.ContainsFunc(t.out.Joints, func(j Joint) bool { return j.Face == fl.Face && j.From.Y == j.To.Y }) {
			continue
		}
		var at []string
		for _, v := range fl.Breaks {
			at = append(at, t.say(v))
		}
		sev := plan.Note
		if t.rated() {
			sev = plan.Warning
		}
		t.add(sev, codeInLine, fl.Face.ID, "one straight line, as the trade hangs it; a listed design may want a stagger",
			"its tops stand on a horizontal joint at %s; GA-216-2024 4.6.7 asks for staggered ends", strings.Join(at, " and "))
	}
}
