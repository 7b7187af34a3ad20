package ifc

import (
	"cmp"
	"fmt"
	"slices"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/plan"
)

// assemble puts walls and openings into the plan, in an order that the file's
// does not decide: storey, then GlobalId, then place.
func (m *model) assemble(all []*found) (*plan.Plan, []Quantities) {
	p := &plan.Plan{Storeys: m.planStoreys()}
	p.Drawings = []plan.Drawing{{File: m.f.Name, Format: "IFC", Version: m.schema, Unit: m.unit.told()}}
	used := slices.Clone(all)
	slices.SortStableFunc(used, func(a, b *found) int {
		return cmp.Or(cmp.Compare(a.storey, b.storey), cmp.Compare(a.guid, b.guid),
			comparePt(a.wall.Axis[0], b.wall.Axis[0]), comparePt(a.wall.Axis[1], b.wall.Axis[1]))
	})
	openings := 0
	for _, w := range used {
		openings += len(w.cuts)
	}
	q := make([]Quantities, 0, len(used))
	p.Walls, p.Openings = make([]plan.Wall, 0, len(used)), make([]plan.Opening, 0, openings)
	for i, w := range used {
		p.Walls = append(p.Walls, w.wall)
		q = append(q, w.q)
		for j := range w.cuts {
			o := w.opening(&w.cuts[j])
			o.Wall = i
			for j := range o.Sources {
				o.Sources[j].File = m.f.Name
			}
			p.Openings = append(p.Openings, o)
		}
	}
	m.join(p, used)
	m.tellKinds(p)
	m.doubts(p, used)
	return p, q
}

// join records the path connections between walls. Of walls in legs, each leg
// has the connections of the whole.
func (m *model) join(p *plan.Plan, used []*found) {
	at := map[part21.ID][]int{}
	for i, w := range used {
		at[w.id] = append(at[w.id], i)
	}
	for i, w := range used {
		for _, l := range m.rel.joined.of(w.id) {
			p.Walls[i].Joined = append(p.Walls[i].Joined, at[l.to]...)
		}
		slices.Sort(p.Walls[i].Joined)
	}
}

// tellKinds gives, for each type of wall that is not boarded as a matter of
// course, one note with the reason.
func (m *model) tellKinds(p *plan.Plan) {
	type key struct {
		kind plan.WallKind
		typ  string
	}
	count := map[key]int{}
	first := map[key]plan.Source{}
	layers := map[key]string{}
	var keys []key
	for _, w := range p.Walls {
		k := key{w.Kind, w.TypeName}
		if w.Kind == plan.Partition {
			continue
		}
		if count[k] == 0 {
			keys = append(keys, k)
			first[k] = w.Sources[0]
			layers[k] = layerNames(w.Layers)
		}
		count[k]++
	}
	why := map[plan.WallKind]string{
		plan.Masonry: "masonry or concrete (%s)", plan.Glazed: "glazed (%s)", plan.Low: "low or a parapet (%s)",
		plan.ShaftWall: "a shaft wall (%s)", plan.Curtain: "a curtain wall (%s)",
	}
	did := map[plan.WallKind]string{
		plan.Masonry: "lined only where the job says so", plan.Glazed: "not boarded", plan.Low: "boarded only where the job says so",
		plan.ShaftWall: "measured, not laid out", plan.Curtain: "not boarded",
	}
	for _, k := range keys {
		m.exceptions = append(m.exceptions, plan.Exception{Severity: plan.Note, Code: CodeWallKind, Source: first[k],
			Message: fmt.Sprintf("wall type %s (%d) is taken as %s", quote(k.typ), count[k], fmt.Sprintf(why[k.kind], layers[k])), Did: did[k.kind]})
	}
}

func layerNames(l []plan.MaterialLayer) string {
	if len(l) == 0 {
		return "no material told"
	}
	s := ""
	for i, a := range l {
		if i > 0 {
			s += ", "
		}
		s += a.Name
		if a.Thickness > 0 {
			s += fmt.Sprintf(" %.4g mm", a.Thickness.MM())
		}
	}
	return s
}
