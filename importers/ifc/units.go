package ifc

import (
	"math"
	"strings"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/plan"
)

// units are the factors from the file's numbers to mm and radians.
type units struct {
	mm, radians float64
	header      string // as the file names its length unit
	name        string // what the coordinates were taken for
	evidence    []string
}

// prefixes of SI units. Source: ISO 16739-1, IfcSIPrefix.
var prefixes = map[string]float64{
	"EXA": 1e18, "PETA": 1e15, "TERA": 1e12, "GIGA": 1e9, "MEGA": 1e6, "KILO": 1e3, "HECTO": 1e2, "DECA": 10, "": 1,
	"DECI": 1e-1, "CENTI": 1e-2, "MILLI": 1e-3, "MICRO": 1e-6, "NANO": 1e-9, "PICO": 1e-12, "FEMTO": 1e-15, "ATTO": 1e-18,
}

// readUnits reads the project's unit assignment. A model that does not say its
// length unit is refused: a takeoff in the wrong unit looks like a takeoff.
func readUnits(r *part21.Reader) (units, error) {
	f := r.File()
	u := units{radians: 1}
	for _, id := range unitAssignments(r) {
		set, err := r.Get(id)
		if err != nil {
			return u, err
		}
		for i := range set.Arg(0).List() {
			rec, err := r.Get(set.Arg(0).List()[i].Ref())
			if err != nil {
				continue // an unread unit matters only if it is the length unit, and then it is missed below
			}
			switch rec.Arg(1).Enum() {
			case "LENGTHUNIT":
				metres, name, ok := unitFactor(r, rec, 0)
				if !ok || metres <= 0 || math.IsInf(metres, 0) {
					return u, f.Fail(rec.ID, "the length unit cannot be read")
				}
				if u.mm == 0 {
					u.mm, u.header, u.name = metres*1000, name, strings.ToLower(name)
					u.evidence = []string{"IfcUnitAssignment names " + name}
				}
			case "PLANEANGLEUNIT":
				if rad, _, ok := unitFactor(r, rec, 0); ok && rad > 0 {
					u.radians = rad
				}
			}
		}
	}
	if u.mm == 0 {
		return u, &part21.Error{File: f.Name, Msg: "the model does not say its length unit (IfcUnitAssignment)", Do: "export it with units"}
	}
	// A metre written 0.9999… or a foot 0.30480000…: the number meant is exact.
	for _, exact := range []float64{1, 10, 100, 1000, 25.4, 304.8, 914.4} {
		if math.Abs(u.mm/exact-1) < 1e-9 {
			u.mm = exact
		}
	}
	return u, nil
}

// unitAssignments returns the project's assignment, or every one of the file if
// the project names none.
func unitAssignments(r *part21.Reader) []part21.ID {
	for _, id := range r.File().Of(ifcProject) {
		if p, err := r.Get(id); err == nil && p.Arg(8).Ref() != 0 {
			return []part21.ID{p.Arg(8).Ref()}
		}
	}
	return r.File().Of(ifcUnitAssignment)
}

// unitFactor returns the size of a named unit in metres or radians.
func unitFactor(r *part21.Reader, rec *part21.Record, depth int) (factor float64, name string, ok bool) {
	if depth > 4 {
		return 0, "", false
	}
	switch rec.Key {
	case ifcSIUnit:
		p, known := prefixes[rec.Arg(2).Enum()]
		return p, strings.TrimSpace(rec.Arg(2).Enum() + " " + rec.Arg(3).Enum()), known
	case ifcConversionBasedUnit, ifcConversionBasedUnitWithOffset:
		name := rec.Arg(2).Text()
		m, err := r.Get(rec.Arg(3).Ref())
		if err != nil {
			return 0, "", false
		}
		value, isNumber := m.Arg(0).Number()
		base, err := r.Get(m.Arg(1).Ref())
		if err != nil || !isNumber {
			return 0, "", false
		}
		f, _, ok := unitFactor(r, base, depth+1)
		return value * f, name, ok
	}
	return 0, "", false
}

// told returns the unit for the plan.
func (u units) told() plan.Unit {
	return plan.Unit{Header: u.header, Used: u.name, MM: u.mm, Evidence: u.evidence}
}
