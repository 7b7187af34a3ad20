package trace

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"boardrun/internal/plan"
)

// doubts lists what a person should look at, the longest first.
func (t *tracer) doubts() {
	t.unreadLines()
	for _, k := range t.homeless {
		h := &t.marks.hosts[k]
		at := t.global(h.at)
		e := plan.Exception{
			Severity: plan.Person, Code: CodeHomeless, At: &at, Span: max(boundsOf(h.box[:]).W(), boundsOf(h.box[:]).H()),
			Message: "a door's swing stands in no wall", Did: "left out; map the layer of its wall, or leave the swing out",
		}
		if h.insert >= 0 {
			in := &t.d.Inserts[h.insert]
			e.Source = t.sourceOf(&in.Common)
			e.Message = fmt.Sprintf("%s block %q stands in no wall", h.role, in.Name)
			if t.betweenWalls(h) {
				e.Message += "; it closes a gap between walls that are not in line"
				e.Did = "left out: no board was measured over it; draw the wall over the door on a wall layer if it is boarded"
			}
		} else {
			e.Source = t.source(t.marks.swings[h.swings[0]].src)
		}
		t.out.Exceptions = append(t.out.Exceptions, e)
	}
	for _, g := range t.openGaps {
		at := t.global(g.at)
		e := plan.Exception{Severity: plan.Warning, Code: CodeGap, At: &at, Span: g.width,
			Message: fmt.Sprintf("two walls in line stop %s apart, with nothing drawn that makes the gap an opening", sizeText(g.width)),
			Did:     "left open, the walls end there; draw jambs, or close the gap"}
		if g.src >= 0 {
			e.Source = t.source(g.src)
		} else {
			e.Source.File = t.d.File
		}
		t.out.Exceptions = append(t.out.Exceptions, e)
	}
	t.nibs()
	for i := range t.out.Openings {
		t.openingDoubt(&t.out.Openings[i])
	}
	slices.SortStableFunc(t.out.Exceptions, func(a, b plan.Exception) int {
		return cmp.Or(-cmp.Compare(a.Severity, b.Severity), -cmp.Compare(a.Span, b.Span), cmp.Compare(a.Code, b.Code),
			cmp.Compare(a.At.Y, b.At.Y), cmp.Compare(a.At.X, b.At.X), cmp.Compare(a.Source.Ref, b.Source.Ref))
	})
}

// maxListed is how many unread lines are named one by one, the longest first;
// the others are added up. All are on the review page.
const maxListed = 100

// unreadLines lists the stretches of wall line that no wall explains.
func (t *tracer) unreadLines() {
	list := slices.Clone(t.unread)
	slices.SortFunc(list, func(a, b unread) int {
		return cmp.Or(-cmp.Compare(a.l, b.l), cmp.Compare(a.a.Y, b.a.Y), cmp.Compare(a.a.X, b.a.X), cmp.Compare(a.b.Y, b.b.Y), cmp.Compare(a.b.X, b.b.X))
	})
	for i, u := range list {
		sev := plan.Warning
		if u.l >= 300*mm {
			sev = plan.Person
		}
		a, b := t.global(u.a), t.global(u.b)
		if i == maxListed {
			var sum Length
			for _, v := range list[i:] {
				sum += v.l
			}
			t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
				Severity: plan.Warning, Code: CodeUnreadMore, Source: t.source(u.src), At: &a, Span: u.l,
				Message: fmt.Sprintf("%d more stretches of wall line, none longer than %s, %.1f m in all, have no partner", len(list)-i, sizeText(u.l), sum.Metres()),
				Did:     "left out; they are marked on the review page",
			})
			return
		}
		t.out.Exceptions = append(t.out.Exceptions, plan.Exception{
			Severity: sev, Code: CodeUnread, Source: t.source(u.src), At: &a, Span: u.l,
			Message: fmt.Sprintf("%s of wall line to (%.3f, %.3f) m has no partner", sizeText(u.l), b.X.Metres(), b.Y.Metres()),
			Did:     "left out; draw the other face, or take the line off the wall layer",
		})
	}
}

// betweenWalls reports whether a door that stands in no wall hangs on one and
// closes against another, or against the other side of the same.
func (t *tracer) betweenWalls(h *host) bool {
	near := func(p pt) bool {
		hit := false
		t.wallTree.search(150*mm, func(k int32) { hit = hit || t.offWall(&t.walls[k], p) <= float64(150*mm) }, p)
		return hit
	}
	hung, closed := false, false
	for _, i := range h.swings {
		b := &t.marks.swings[i]
		p, q := b.ends()
		hung = hung || near(b.ctr)
		closed = closed || near(p) || near(q)
	}
	return hung && (closed || len(h.swings) == 1)
}

// maxNib is the longest stub of wall that is a door's nib rather than a wall of
// its own. Source: own choice.
const maxNib = 300 * mm

// nibs lists short stubs that grow out of a wall and end in a jamb with nothing
// across from it: an opening's one side, the other of which was not found.
func (t *tracer) nibs() {
	for i := range t.walls {
		w := &t.walls[i]
		if w.dead || t.planWall[i] < 0 || len(w.pieces) > 1 || w.drawn() > maxNib || w.centre {
			continue
		}
		free, s := 0, w.s1()
		if w.ends[0] == freeEnd {
			free, s = free+1, w.s0()
		}
		if w.ends[1] == freeEnd {
			free++
		}
		var op opening
		if free != 1 || !t.jambAt(&w.strand, s, &op) {
			continue
		}
		at := t.global(t.bundles[w.fr].fr.from(s, (w.ra+w.rb)/2))
		e := plan.Exception{Severity: plan.Warning, Code: CodeGap, At: &at, Span: w.drawn(),
			Message: fmt.Sprintf("a stub of wall %s long ends as at an opening, and no wall stands across from it", sizeText(w.drawn())),
			Did:     "left as a stub; if it is the side of an opening, draw the other side or the head"}
		if list := t.wallSources(w); len(list) > 0 {
			e.Source = list[0]
		}
		t.out.Exceptions = append(t.out.Exceptions, e)
	}
}

// openingDoubt lists an opening that a person should look at.
func (t *tracer) openingDoubt(o *plan.Opening) {
	if o.Doubt == "" {
		return
	}
	w := &t.out.Walls[o.Wall]
	e := plan.Exception{Severity: plan.Warning, Code: CodeOpening, Span: o.Width, Message: o.Doubt,
		Did: fmt.Sprintf("taken as a %s opening %s wide", o.Kind, sizeText(o.Width))}
	if len(o.Sources) > 0 {
		e.Source = o.Sources[0]
	} else if len(w.Sources) > 0 {
		e.Source = w.Sources[0]
	}
	at := t.placeOf(o)
	e.At = &at
	t.out.Exceptions = append(t.out.Exceptions, e)
}

// doubt lists a wall that a person should look at.
func (t *tracer) doubt(code string, w plan.Wall, at pt, did string) {
	g := t.global(at)
	e := plan.Exception{Severity: plan.Person, Code: code, At: &g, Message: w.Doubt, Did: did,
		Span: round(math.Sqrt(norm2(w.Axis[1].Sub(w.Axis[0]))))}
	if len(w.Sources) > 0 {
		e.Source = w.Sources[0]
	}
	t.out.Exceptions = append(t.out.Exceptions, e)
}
