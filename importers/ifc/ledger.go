package ifc

import (
	"cmp"
	"slices"
	"strings"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/plan"
)

// placed returns the ids of everything that stands somewhere in the building:
// walls, openings, doors, windows, slabs, roofs, coverings, spaces and columns;
// whatever else a storey contains; and the parts of all these.
func (m *model) placed() []part21.ID {
	ids := all(m.f, wallKeys...)
	ids = append(ids, all(m.f, ifcCurtainWall, ifcOpeningElement, ifcOpeningStandardCase, ifcDoor, ifcDoorStandardCase, ifcWindow, ifcWindowStandardCase,
		ifcSlab, ifcSlabStandardCase, ifcSlabElementedCase, ifcRoof, ifcCovering, ifcSpace, ifcColumn, ifcColumnStandardCase)...)
	for _, l := range m.rel.inside {
		ids = append(ids, l.from)
	}
	for _, l := range m.rel.voids {
		ids = append(ids, l.to)
	}
	spatial := all(m.f, ifcProject, ifcSite, ifcBuilding, ifcBuildingStorey)
	for _, l := range m.rel.parts {
		if _, found := slices.BinarySearch(spatial, l.from); !found {
			ids = append(ids, l.to)
		}
	}
	slices.Sort(ids)
	ids = slices.Compact(ids)
	return slices.DeleteFunc(ids, func(id part21.ID) bool {
		_, found := slices.BinarySearch(spatial, id)
		return found
	})
}

// ledger accounts for every placed element: what nobody has used or given a
// reason for is told by its kind.
func (m *model) ledger(g *geo) plan.Ledger {
	l := plan.Ledger{Drawing: m.f.Name}
	reasons := map[string]int{}
	for _, id := range m.placed() {
		l.Read++
		reason, ok := m.used[id]
		if !ok {
			reason = m.unusedReason(g, id)
		}
		if reason == "" {
			l.Used++
		} else {
			reasons[reason]++
		}
		g.r.Reset()
	}
	for r, n := range reasons {
		l.Ignored = append(l.Ignored, plan.Reason{Reason: r, Count: n})
	}
	slices.SortFunc(l.Ignored, func(a, b plan.Reason) int { return cmp.Compare(a.Reason, b.Reason) })
	return l
}

func (m *model) unusedReason(g *geo, id part21.ID) string {
	rec, err := g.r.Get(id)
	if err != nil {
		m.note(plan.Warning, CodeElementUnread, id, message(err), "it is left out")
		return "unreadable"
	}
	switch rec.Key {
	case ifcDoor, ifcDoorStandardCase, ifcWindow, ifcWindowStandardCase:
		return "door or window in no wall"
	case ifcOpeningElement, ifcOpeningStandardCase, ifcVoidingFeature:
		return "opening of an element that is no wall"
	}
	return "not a wall, opening, deck or room: " + strings.ToLower(rec.Name)
}

// noWalls says when a model has no wall, and what stands in for them. Where it
// has walls that cannot be used, these have been told one by one.
func (m *model) noWalls(l plan.Ledger) {
	if len(walls(m.f)) > 0 || len(m.f.Of(ifcCurtainWall)) > 0 {
		return
	}
	msg := "the model has no wall (IfcWall)"
	for _, r := range l.Ignored {
		if strings.Contains(r.Reason, "proxy") {
			msg += "; its elements are exported as proxies"
		}
	}
	m.note(plan.Person, CodeNoWalls, 0, msg, "export the walls as IfcWall")
}
