package ifc

import (
	"cmp"
	"fmt"
	"slices"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// storey is a level of the model; z is its floor in the world, in mm.
type storey struct {
	id   part21.ID
	name string
	z    float64
	guid string
}

// readStoreys reads all storeys, lowest first. Names that repeat get the
// building's name before them, so that a name means one storey.
func (m *model) readStoreys(g *geo) {
	for _, id := range m.f.Of(ifcBuildingStorey) {
		rec, err := g.r.Get(id)
		if err != nil {
			m.note(plan.Warning, CodeStoreyUnread, id, err.Error(), "its walls are put on no storey")
			continue
		}
		s := storey{id: id, name: rec.Arg(2).Text(), guid: rec.Arg(0).Text()}
		if s.name == "" {
			s.name = rec.Arg(7).Text()
		}
		p, err := g.place(rec.Arg(5).Ref())
		s.z = p.o.z
		if err != nil {
			// The placement fails again, with its message, at each wall.
			s.z = rec.Arg(9).Float() * g.unit.mm
		}
		m.storeys = append(m.storeys, s)
	}
	slices.SortFunc(m.storeys, func(a, b storey) int {
		return cmp.Or(cmp.Compare(a.z, b.z), cmp.Compare(a.name, b.name), cmp.Compare(a.guid, b.guid))
	})
	m.nameStoreys(g)
	g.r.Reset()
}

func (m *model) nameStoreys(g *geo) {
	count := map[string]int{}
	for _, s := range m.storeys {
		count[s.name]++
	}
	for i := range m.storeys {
		s := &m.storeys[i]
		if count[s.name] > 1 {
			if b, err := g.r.Get(m.rel.wholes.first(s.id)); err == nil && b.Arg(2).Text() != "" {
				s.name = b.Arg(2).Text() + " " + s.name
			}
		}
	}
	seen := map[string]int{}
	for i := range m.storeys {
		s := &m.storeys[i]
		if s.name == "" {
			s.name = fmt.Sprintf("Level %d", i+1)
		}
		if seen[s.name]++; seen[s.name] > 1 {
			s.name = fmt.Sprintf("%s (%d)", s.name, seen[s.name])
		}
	}
	m.storeyAt = map[part21.ID]int{}
	for i, s := range m.storeys {
		m.storeyAt[s.id] = i
	}
}

// storeyOf returns the number of the storey an element stands in: the one it
// is contained in, directly or through what it is part of; −1 if none.
func (m *model) storeyOf(id part21.ID) int {
	for range maxNesting {
		if i, ok := m.storeyAt[id]; ok {
			return i
		}
		next := m.rel.inside.first(id)
		if next == 0 {
			next = m.rel.wholes.first(id)
		}
		if next == 0 {
			break
		}
		id = next
	}
	return -1
}

// storeyUnder returns the highest storey whose floor is at least clear mm below
// z; −1 if none.
func (m *model) storeyUnder(z, clear float64) int {
	for i := len(m.storeys) - 1; i >= 0; i-- {
		if m.storeys[i].z <= z-clear {
			return i
		}
	}
	return -1
}

func (m *model) storeyName(i int) string {
	if i < 0 {
		return ""
	}
	return m.storeys[i].name
}

func (m *model) storeyZ(i int) float64 {
	if i < 0 {
		return 0
	}
	return m.storeys[i].z
}

func (m *model) planStoreys() []plan.Storey {
	var out []plan.Storey
	for _, s := range m.storeys {
		out = append(out, plan.Storey{Name: s.name, Elevation: measure.FromMM(s.z),
			Source: plan.Source{File: m.f.Name, Ref: s.id.String(), GUID: s.guid, Entity: "IFCBUILDINGSTOREY"}})
	}
	return out
}
