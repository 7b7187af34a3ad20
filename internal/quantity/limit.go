package quantity

import (
	"boardrun/internal/layout"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// limitHeight warns where a run's tallest field stud is above the limiting
// height of the user's table, or the table does not have that stud. Without a
// table nothing is said: limiting heights are the stud maker's.
// Source: the user's table; composite tables assume board on both sides, which
// is not looked at here.
func (t *taker) limitHeight(l *layout.Layout) {
	if len(t.in.Job.Limits) == 0 {
		return
	}
	var tall Length
	for i := range l.Studs {
		if s := &l.Studs[i]; s.Kind != layout.CrippleStud {
			tall = max(tall, s.Length)
		}
	}
	if tall == 0 {
		return
	}
	spec, _ := t.studSpec(l, layout.FieldStud)
	e := plan.Exception{Severity: plan.Warning, Code: "limiting-height", Target: l.Run.ID, Did: "taken off all the same; ask who designs the partition"}
	h, ok := t.in.Job.Limit(spec, l.Run.Spacing)
	switch {
	case !ok:
		e.Message = "the table of limiting heights has no " + spec + " at " + measure.Human(l.Run.Spacing, t.sys)
	case tall > h.Height:
		e.Message = "studs to " + measure.Wall(tall, t.sys) + " are taller than " + measure.Wall(h.Height, t.sys) + ", the limiting height of " + spec + " at " + measure.Human(h.Spacing, t.sys) + " (" + h.Where + ")"
	default:
		return
	}
	t.res.Exceptions = append(t.res.Exceptions, e)
}
