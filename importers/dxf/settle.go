package dxf

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"boardrun/importers/linework"
	"boardrun/internal/plan"
)

// CodeUnitContradicts is the exception where the drawing is surely in another
// unit than its header, or than the job, says.
const CodeUnitContradicts = "unit-contradicts"

// Settle decides what a drawing's coordinates are taken for, scales the drawing
// by it and says how it was decided. jobMM is the job's word in millimetres per
// drawing unit, 0 if it has none; it always counts. Without it the header counts
// unless the drawing surely contradicts it; a silent header leaves the best
// candidate, assumed. Wherever header and drawing differ a person is needed, and
// both readings are named.
func Settle(d *linework.Drawing, jobMM float64) (plan.Unit, []plan.Exception) {
	j := JudgeUnit(d)
	best := j.Best()
	out := plan.Unit{Header: j.Header.Name, Evidence: best.Evidence}
	var exc []plan.Exception
	note := func(sev plan.Severity, code, msg, did string) {
		exc = append(exc, plan.Exception{Severity: sev, Code: code, Message: msg, Did: did, Source: plan.Source{File: d.File}})
	}
	const remedy = "give the unit in the job file, or a known dimension, to settle it"
	switch {
	case jobMM > 0:
		out.Used, out.MM = nameOf(jobMM), jobMM
		if j.Sure() && abs(best.Unit.MM-jobMM) > 1e-6*jobMM {
			note(plan.Warning, CodeUnitContradicts, fmt.Sprintf("the job says %s and the drawing looks like %s (%s)", out.Used, best.Unit.Name, first(best.Evidence)),
				"taken as the job says")
		}
	case j.Contradicts(), j.Header.MM > 0 && best.Unit.Code != j.Header.Code && tooSmall(d, j.Header):
		out.Used, out.MM, out.Assumed = best.Unit.Name, best.Unit.MM, true
		note(plan.Person, CodeUnitContradicts, fmt.Sprintf("the header says %s and the drawing is in %s (%s)", j.Header.Name, best.Unit.Name, first(best.Evidence)),
			fmt.Sprintf("taken as %s; %s", best.Unit.Name, remedy))
	case j.Header.MM > 0:
		out.Used, out.MM = j.Header.Name, j.Header.MM
		if best.Unit.Code != j.Header.Code {
			out.Evidence = j.of(j.Header)
			note(plan.Person, CodeUnitContradicts, fmt.Sprintf("the header says %s, but the drawing looks more like %s, though not surely (%s)", j.Header.Name, best.Unit.Name, first(best.Evidence)),
				fmt.Sprintf("taken as %s; %s", j.Header.Name, remedy))
		} else {
			out.Evidence = j.of(j.Header)
		}
	default:
		out.Used, out.MM, out.Assumed = best.Unit.Name, best.Unit.MM, true
		sev := plan.Person
		if j.Sure() {
			sev = plan.Warning
		}
		note(sev, CodeNoUnit, fmt.Sprintf("the header gives no unit; %s fits best (%s)", best.Unit.Name, first(best.Evidence)),
			fmt.Sprintf("taken as %s; %s", best.Unit.Name, remedy))
	}
	Rescale(d, out.MM)
	return out, exc
}

// tooSmall reports whether the drawing would be less than leastBuilding across
// in a unit: no plan of a building, whatever the header says.
func tooSmall(d *linework.Drawing, u Unit) bool {
	box := orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	for i := range d.Segments {
		box = box.Extend(d.Segments[i].A).Extend(d.Segments[i].B)
	}
	across := max(box.Max[0]-box.Min[0], box.Max[1]-box.Min[1])
	if d.UnitMM > 0 {
		across /= d.UnitMM
	}
	return across > 0 && across*u.MM < leastBuilding
}

// leastBuilding is in mm. Source: own choice.
const leastBuilding = 1500

// of returns the evidence about a unit.
func (j Judgement) of(u Unit) []string {
	for _, c := range j.Candidates {
		if c.Unit.Code == u.Code {
			return c.Evidence
		}
	}
	return nil
}

func first(s []string) string {
	if len(s) == 0 {
		return "nothing speaks for any other"
	}
	return s[0]
}

// nameOf names a factor: the unit's name if it is one of the table.
func nameOf(mm float64) string {
	for _, u := range units[1:] {
		if abs(u.MM-mm) <= 1e-9*mm {
			return u.Name
		}
	}
	return fmt.Sprintf("%g mm", mm)
}
