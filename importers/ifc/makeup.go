package ifc

import (
	"slices"
	"strings"
	"sync"

	"boardrun/importers/ifc/part21"
	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// typeInfo is what a wall, door or window type says of its occurrences.
type typeInfo struct {
	name, predefined string
	props            map[string]string // Pset_…Common, by property name
}

// typeCache keeps types and layer sets, which many walls share.
type typeCache struct {
	sync.Mutex
	types map[part21.ID]*typeInfo
	sets  map[part21.ID]*layerSet
}

// layerSet is a make-up: layers in the order of the file.
type layerSet struct {
	name   string
	layers []plan.MaterialLayer
}

// typeOf returns the type of an element; nil if it has none that can be read.
func (m *model) typeOf(g *geo, id part21.ID) *typeInfo {
	t := m.rel.typed.first(id)
	if t == 0 {
		return nil
	}
	m.types.Lock()
	defer m.types.Unlock()
	if m.types.types == nil {
		m.types.types = map[part21.ID]*typeInfo{}
	}
	if info, ok := m.types.types[t]; ok {
		return info
	}
	var info *typeInfo
	if rec, err := g.r.Get(t); err == nil {
		info = &typeInfo{name: rec.Arg(2).Text(), props: map[string]string{}}
		if rec.Key == ifcWallType {
			info.predefined = rec.Arg(9).Enum()
		}
		sets := rec.Arg(5).List()
		for i := range sets {
			g.commonProps(sets[i].Ref(), info.props)
		}
		for _, l := range m.rel.props.of(t) {
			g.commonProps(l.to, info.props)
		}
	}
	m.types.types[t] = info
	return info
}

func (m *model) typeName(g *geo, rec *part21.Record) string {
	if t := m.typeOf(g, rec.ID); t != nil && t.name != "" {
		return t.name
	}
	return rec.Arg(4).Text()
}

// commonProps adds the properties of a set called Pset_…Common to props, names
// in lower case: exporters differ in capitals.
func (g *geo) commonProps(id part21.ID, props map[string]string) {
	set, err := g.r.Get(id)
	if err != nil || set.Key != ifcPropertySet {
		return
	}
	name := set.Arg(2).Text()
	if !strings.HasPrefix(name, "Pset_") || !strings.HasSuffix(name, "Common") {
		return
	}
	l := set.Arg(4).List()
	for i := range l {
		p, err := g.r.Get(l[i].Ref())
		if err != nil {
			continue
		}
		v := p.Arg(2)
		if p.Key == ifcPropertyEnumeratedValue && len(v.List()) > 0 {
			v = &v.List()[0]
		}
		s := v.Text()
		if s == "" {
			s = v.Enum()
		}
		if s != "" {
			props[strings.ToLower(p.Arg(0).Text())] = s
		}
	}
}

// describe adds type, make-up, rating, status and kind to a wall. A property of
// the wall itself overrides that of its type (ISO 16739-1, IfcRelDefinesByType).
func (m *model) describe(g *geo, w *found, rec *part21.Record) {
	t := m.typeOf(g, rec.ID)
	props := map[string]string{}
	for _, l := range m.rel.props.of(rec.ID) {
		g.commonProps(l.to, props)
	}
	predefined := rec.Arg(8).Enum()
	if t != nil {
		for k, v := range t.props {
			if _, ok := props[k]; !ok {
				props[k] = v
			}
		}
		if predefined == "" || predefined == "NOTDEFINED" {
			predefined = t.predefined
		}
	}
	w.wall.TypeName = m.typeName(g, rec)
	set, reversed := m.layersOf(g, rec.ID)
	if set != nil {
		w.wall.Layers = slices.Clone(set.layers)
		if reversed {
			slices.Reverse(w.wall.Layers)
		}
		if w.wall.TypeName == "" {
			w.wall.TypeName = set.name
		}
	}
	if w.wall.TypeName == "" {
		w.wall.TypeName = props["reference"]
	}
	w.wall.Tag = tagOf(w.wall.TypeName)
	w.wall.Rating = ratingOf(props["firerating"])
	w.wall.Status = statusOf(props["status"])
	w.wall.Kind = kindOf(w, predefined)
}

// tagOf returns what people call a type: of "family:type:number", as authoring
// tools write it, the type.
func tagOf(name string) string {
	parts := strings.Split(name, ":")
	if n := len(parts); n > 1 && strings.Trim(parts[n-1], "0123456789") == "" {
		parts = parts[:n-1]
	}
	return strings.TrimSpace(parts[len(parts)-1])
}

// ratingOf returns a rating as written; "" for what templates leave in its place
// ("_FIRE-RATING_", "<undefined>", "n/a"). Source: models seen.
func ratingOf(s string) string {
	s = strings.TrimSpace(s)
	switch strings.Trim(strings.ToLower(s), "_<>[]()-. ") {
	case "", "fire-rating", "fire rating", "firerating", "fire_rating", "undefined", "notdefined", "unset", "unknown", "none", "n/a", "na":
		return ""
	}
	return s
}

// statusOf reads Pset_WallCommon.Status (PEnum_ElementStatus): DEMOLISH and
// TEMPORARY go, EXISTING stays, anything else is new.
func statusOf(s string) plan.Status {
	switch strings.ToUpper(s) {
	case "EXISTING":
		return plan.Existing
	case "DEMOLISH", "TEMPORARY":
		return plan.Demolish
	}
	return plan.New
}

// layersOf returns the make-up of an element or of its type, and whether its
// layers run right to left as seen along the axis. Layers of a usage are
// stacked from its offset towards +y, the left, if the sense is POSITIVE
// (ISO 16739-1, IfcMaterialLayerSetUsage), so the first is then the rightmost.
func (m *model) layersOf(g *geo, id part21.ID) (set *layerSet, reversed bool) {
	ids := m.rel.makeup.of(id)
	if len(ids) == 0 {
		if ids = m.rel.makeup.of(m.rel.typed.first(id)); len(ids) == 0 {
			return nil, false
		}
	}
	rec, err := g.r.Get(ids[0].to)
	if err != nil {
		m.note(plan.Warning, CodeMaterialUnread, ids[0].to, message(err), "the make-up of the walls it belongs to is not known")
		return nil, false
	}
	reversed = true
	setID := rec.ID
	if rec.Key == ifcMaterialLayerSetUsage {
		reversed = !rec.Arg(2).Is("NEGATIVE")
		setID = rec.Arg(0).Ref()
	}
	m.types.Lock()
	defer m.types.Unlock()
	if m.types.sets == nil {
		m.types.sets = map[part21.ID]*layerSet{}
	}
	if s, ok := m.types.sets[setID]; ok {
		return s, reversed
	}
	s := g.layerSet(setID)
	m.types.sets[setID] = s
	return s, reversed
}

// layerSet reads a layer set, or any other material as layers without
// thickness; nil if it cannot be read.
func (g *geo) layerSet(id part21.ID) *layerSet {
	rec, err := g.r.Get(id)
	if err != nil {
		return nil
	}
	s := &layerSet{}
	add := func(name string, mm float64) {
		s.layers = append(s.layers, plan.MaterialLayer{Name: name, Thickness: measure.FromMM(mm)})
	}
	switch rec.Key {
	case ifcMaterial:
		add(rec.Arg(0).Text(), 0)
	case ifcMaterialLayerSet:
		s.name = rec.Arg(1).Text()
		l := rec.Arg(0).List()
		for i := range l {
			layer, err := g.r.Get(l[i].Ref())
			if err != nil {
				continue
			}
			name := g.materialName(layer.Arg(0).Ref())
			if name == "" {
				name = layer.Arg(3).Text()
			}
			add(name, layer.Arg(1).Float()*g.unit.mm)
		}
	case ifcMaterialList:
		l := rec.Arg(0).List()
		for i := range l {
			add(g.materialName(l[i].Ref()), 0)
		}
	case ifcMaterialConstituentSet:
		s.name = rec.Arg(0).Text()
		l := rec.Arg(2).List()
		for i := range l {
			if c, err := g.r.Get(l[i].Ref()); err == nil {
				add(g.materialName(c.Arg(2).Ref()), 0)
			}
		}
	default:
		return nil
	}
	return s
}

func (g *geo) materialName(id part21.ID) string {
	if rec, err := g.r.Get(id); err == nil && rec.Key == ifcMaterial {
		return rec.Arg(0).Text()
	}
	return ""
}
