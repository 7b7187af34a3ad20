package ifc

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/geom"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// source says where an instance stands; its line is left to exceptions, as
// finding it reads the file.
func (m *model) source(id part21.ID, rec *part21.Record) plan.Source {
	s := plan.Source{File: m.f.Name, Ref: id.String()}
	if rec != nil {
		s.Entity, s.GUID = rec.Name, rec.Arg(0).Text()
	}
	return s
}

// tell collects an exception about instance id; its line is looked up. Several
// goroutines may call it; the order is settled at the end.
func (m *model) tell(id part21.ID, e plan.Exception) {
	if e.Source.File = m.f.Name; id != 0 {
		e.Source.Line = m.f.LineOf(id)
	}
	m.mu.Lock()
	m.exceptions = append(m.exceptions, e)
	m.mu.Unlock()
}

// note tells of an instance that is not at hand.
func (m *model) note(sev plan.Severity, code string, id part21.ID, msg, did string) {
	e := plan.Exception{Severity: sev, Code: code, Message: msg, Did: did}
	if id != 0 {
		e.Source = m.source(id, nil)
	}
	m.tell(id, e)
}

// noteOf tells of an element whose record is at hand.
func (m *model) noteOf(sev plan.Severity, code string, rec *part21.Record, msg, did string) {
	m.tell(rec.ID, plan.Exception{Severity: sev, Code: code, Message: msg, Did: did, Source: m.source(rec.ID, rec)})
}

// noteAt is noteOf with the place of the element, where it has one.
func (m *model) noteAt(g *geo, sev plan.Severity, code string, rec *part21.Record, msg, did string) {
	e := plan.Exception{Severity: sev, Code: code, Message: msg, Did: did, Source: m.source(rec.ID, rec)}
	if p, err := g.place(rec.Arg(5).Ref()); err == nil {
		at := gridXY(p.o)
		e.At = &at
	}
	m.tell(rec.ID, e)
}

// doubts tells of every wall and opening that was read and should be looked at.
func (m *model) doubts(p *plan.Plan, used []*found) {
	for i, w := range p.Walls {
		if w.Doubt == "" {
			continue
		}
		at, sev := w.Axis[0], plan.Warning
		if used[i].grave {
			sev = plan.Person
		}
		m.tell(used[i].id, plan.Exception{Severity: sev, Code: CodeWallDoubt, Message: "wall of type " + quote(w.TypeName) + ": " + w.Doubt,
			Did: "measured as it is; compare it with the model", Source: w.Sources[0], At: &at, Span: measure.FromMM(used[i].q.LengthMM)})
	}
	for _, o := range p.Openings {
		if o.Doubt == "" {
			continue
		}
		w := used[o.Wall]
		at := w.placeOf(o)
		m.tell(part21.ID(number(o.Sources[0].Ref)), plan.Exception{Severity: plan.Warning, Code: CodeOpeningDoubt, Message: "opening in wall " + w.id.String() + ": " + o.Doubt,
			Did: fmt.Sprintf("taken as a %s %.0f mm wide", o.Kind, o.Width.MM()), Source: o.Sources[0], At: &at, Span: o.Width})
	}
}

// tellFile turns what the scan found odd into exceptions.
func (m *model) tellFile() {
	for _, d := range m.f.Duplicates {
		m.note(plan.Warning, CodeDuplicate, d.ID, fmt.Sprintf("the instance name is used again on line %d", m.f.Line(d.And)),
			fmt.Sprintf("the first one counts, on line %d", m.f.Line(d.Offset)))
	}
	for _, s := range m.f.Strays {
		e := plan.Exception{Severity: plan.Warning, Code: CodeStatement, Message: fmt.Sprintf("%q is no instance", s.Text), Did: "it is skipped",
			Source: plan.Source{File: m.f.Name, Line: m.f.Line(s.Offset)}}
		m.exceptions = append(m.exceptions, e)
	}
	for _, e := range m.rel.broken {
		m.exceptions = append(m.exceptions, plan.Exception{Severity: plan.Warning, Code: CodeRelationUnread, Message: e.Msg, Did: "the relation is left out",
			Source: plan.Source{File: m.f.Name, Line: e.Line, Ref: e.ID.String()}})
	}
}

// finish closes the ledger and sorts the exceptions: gravest first, then by the
// length concerned.
func (m *model) finish(g *geo, p *plan.Plan) {
	l := m.ledger(g)
	p.Ledger = []plan.Ledger{l}
	m.noWalls(l)
	slices.SortStableFunc(m.exceptions, func(a, b plan.Exception) int {
		return cmp.Or(-cmp.Compare(a.Severity, b.Severity), -cmp.Compare(a.Span, b.Span), cmp.Compare(number(a.Source.Ref), number(b.Source.Ref)),
			cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message), cmp.Compare(a.Source.Line, b.Source.Line))
	})
	p.Exceptions = append(p.Exceptions, m.exceptions...)
}

// number returns the id in a reference "#12"; 0 if there is none.
func number(ref string) uint64 {
	n, _ := strconv.ParseUint(strings.TrimPrefix(ref, "#"), 10, 64)
	return n
}

// message returns what is wrong without the file and line, which the exception
// carries itself.
func message(err error) string {
	var e *part21.Error
	if errors.As(err, &e) && e.ID != 0 {
		return e.ID.String() + " " + e.Msg
	}
	return err.Error()
}

// placeOf returns where an opening stands in plan: on the axis of its wall.
func (w *found) placeOf(o plan.Opening) geom.Pt {
	if w.round {
		return w.wall.Axis[0]
	}
	return gridXY(w.frame.inverse().point(vec{o.At.MM(), 0, 0}))
}
