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

// readHosting reads which openings are in which elements, and what fills them.
func readHosting(r *part21.Reader) *relations {
	rel := &relations{}
	rel.voids = rel.read(r, ifcRelVoidsElement, 4, 5, false)
	rel.fills = rel.read(r, ifcRelFillsElement, 4, 5, false)
	return rel
}

// readRelations reads all relations.
func readRelations(r *part21.Reader) *relations {
	rel := readHosting(r)
	rel.parts = rel.read(r, ifcRelAggregates, 4, 5, false)
	rel.wholes = rel.parts.turned()
	rel.inside = rel.read(r, ifcRelContainedInSpatialStructure, 5, 4, true)
	rel.typed = rel.read(r, ifcRelDefinesByType, 5, 4, true)
	rel.props = rel.read(r, ifcRelDefinesByProperties, 5, 4, true)
	rel.makeup = rel.read(r, ifcRelAssociatesMaterial, 5, 4, true)
	j := rel.read(r, ifcRelConnectsPathElements, 5, 6, false)
	rel.joined = append(slices.Clone(j), j.turned()...).sorted()
	return rel
}

// read collects the relations of one kind: attributes one and many, each a
// reference or a list of them; turn gives links from many to one.
func (rel *relations) read(r *part21.Reader, k part21.Keyword, one, many int, turn bool) links {
	ids := r.File().Of(k)
	out := make(links, 0, len(ids))
	for _, id := range ids {
		rec, err := r.Get(id)
		if err != nil {
			rel.fault(err)
			continue
		}
		a := rec.Arg(one)
		b := rec.Arg(many)
		targets := b.List()
		if b.Kind == part21.Ref {
			targets = rec.Args[many : many+1]
		}
		if a.Ref() == 0 || len(targets) == 0 {
			rel.fault(r.File().Fail(id, "%s does not name both sides; it is left out", rec.Name))
			continue
		}
		for i := range targets {
			l := link{a.Ref(), targets[i].Ref()}
			if l.to == 0 {
				continue
			}
			if turn {
				l.from, l.to = l.to, l.from
			}
			out = append(out, l)
		}
		r.Reset()
	}
	return out.sorted()
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
