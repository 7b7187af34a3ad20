package ifc

import (
	"cmp"
	"slices"

	"boardrun/importers/ifc/part21"
)

// wanted are the keywords whose instances are listed while the file is scanned.
var wanted = []part21.Keyword{
	ifcProject, ifcSite, ifcBuilding, ifcBuildingStorey, ifcSpace,
	ifcWall, ifcWallStandardCase, ifcWallElementedCase, ifcCurtainWall,
	ifcOpeningElement, ifcOpeningStandardCase, ifcVoidingFeature,
	ifcDoor, ifcDoorStandardCase, ifcWindow, ifcWindowStandardCase,
	ifcSlab, ifcSlabStandardCase, ifcSlabElementedCase, ifcRoof, ifcCovering,
	ifcColumn, ifcColumnStandardCase,
	ifcRelVoidsElement, ifcRelFillsElement, ifcRelAggregates, ifcRelContainedInSpatialStructure,
	ifcRelDefinesByProperties, ifcRelDefinesByType, ifcRelAssociatesMaterial, ifcRelConnectsPathElements,
	ifcUnitAssignment,
}

var wallKeys = []part21.Keyword{ifcWall, ifcWallStandardCase, ifcWallElementedCase}

// link is one directed relation between two instances.
type link struct{ from, to part21.ID }

// links are sorted by from, then to, without repetition.
type links []link

func (l links) sorted() links {
	slices.SortFunc(l, func(a, b link) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to)) })
	return slices.Compact(l)
}

// of returns the links that start at id.
func (l links) of(id part21.ID) links {
	i, _ := slices.BinarySearchFunc(l, id, func(a link, id part21.ID) int { return cmp.Compare(a.from, id) })
	j := i
	for j < len(l) && l[j].from == id {
		j++
	}
	return l[i:j]
}

// first returns the least target of the links that start at id, 0 if none.
func (l links) first(id part21.ID) part21.ID {
	if of := l.of(id); len(of) > 0 {
		return of[0].to
	}
	return 0
}

func (l links) turned() links {
	out := make(links, len(l))
	for i, a := range l {
		out[i] = link{a.to, a.from}
	}
	return out.sorted()
}

// relations are the objectified relations of a model as plain links.
type relations struct {
	voids  links           // element → opening
	fills  links           // opening → door or window
	parts  links           // whole → part
	wholes links           // part → whole
	inside links           // element → storey or other spatial structure
	typed  links           // element → type
	props  links           // element or type → property set or quantity
	makeup links           // element or type → material
	joined links           // wall → wall, both ways, path connections
	broken []*part21.Error // the first that could not be read
}

// relationKind says where a relation's sides stand among the attributes, and
// which links it gives: from one to many, or turned round.
type relationKind struct {
	key       part21.Keyword
	one, many int
	turn      bool
	into      *links
}

// readHosting reads which openings are in which elements, and what fills them.
func readHosting(r *part21.Reader) *relations {
	rel := &relations{}
	rel.read(r, []relationKind{{ifcRelVoidsElement, 4, 5, false, &rel.voids}, {ifcRelFillsElement, 4, 5, false, &rel.fills}})
	return rel
}

// readRelations reads all relations.
func readRelations(r *part21.Reader) *relations {
	rel := &relations{}
	rel.read(r, []relationKind{
		{ifcRelVoidsElement, 4, 5, false, &rel.voids},
		{ifcRelFillsElement, 4, 5, false, &rel.fills},
		{ifcRelAggregates, 4, 5, false, &rel.parts},
		{ifcRelContainedInSpatialStructure, 5, 4, true, &rel.inside},
		{ifcRelDefinesByType, 5, 4, true, &rel.typed},
		{ifcRelDefinesByProperties, 5, 4, true, &rel.props},
		{ifcRelAssociatesMaterial, 5, 4, true, &rel.makeup},
		{ifcRelConnectsPathElements, 5, 6, false, &rel.joined},
	})
	rel.wholes = rel.parts.turned()
	rel.joined = append(rel.joined, rel.joined.turned()...).sorted()
	return rel
}

// read collects the relations of some kinds in the order of their ids, which is
// mostly that of the file, so that the file is read once.
func (rel *relations) read(r *part21.Reader, kinds []relationKind) {
	type item struct {
		id   part21.ID
		kind int
	}
	var items []item
	for k, kind := range kinds {
		ids := r.File().Of(kind.key)
		*kind.into = make(links, 0, len(ids))
		items = slices.Grow(items, len(ids))
		for _, id := range ids {
			items = append(items, item{id, k})
		}
	}
	slices.SortFunc(items, func(a, b item) int { return cmp.Compare(a.id, b.id) })
	for _, it := range items {
		rec, err := r.Get(it.id)
		if err != nil {
			rel.fault(err)
			continue
		}
		rel.take(r.File(), rec, kinds[it.kind])
		r.Reset()
	}
	for _, kind := range kinds {
		*kind.into = kind.into.sorted()
	}
}

// take adds the links of one relation. Each side is a reference or a list of
// them.
func (rel *relations) take(f *part21.File, rec *part21.Record, k relationKind) {
	one, many := rec.Arg(k.one).Ref(), rec.Arg(k.many)
	targets := many.List()
	if many.Kind == part21.Ref {
		targets = rec.Args[k.many : k.many+1]
	}
	if one == 0 || len(targets) == 0 {
		rel.fault(f.Fail(rec.ID, "%s does not name both sides", rec.Name))
		return
	}
	for i := range targets {
		l := link{one, targets[i].Ref()}
		if l.to == 0 {
			continue
		}
		if k.turn {
			l.from, l.to = l.to, l.from
		}
		*k.into = append(*k.into, l)
	}
}

func (rel *relations) fault(err error) {
	if e, ok := err.(*part21.Error); ok && len(rel.broken) < 20 {
		rel.broken = append(rel.broken, e)
	}
}

// walls returns the ids of all walls of the file, ascending.
func walls(f *part21.File) []part21.ID { return all(f, wallKeys...) }

func all(f *part21.File, keys ...part21.Keyword) []part21.ID {
	var ids []part21.ID
	for _, k := range keys {
		ids = append(ids, f.Of(k)...)
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}
