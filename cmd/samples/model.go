package main

import "math"

// model is a building model while it is written: the file, and the instances
// that many others refer to.
type model struct {
	step
	name              string // begins every GlobalId's name
	body, axis        ref    // sub-contexts of representations
	origin            ref    // placement of the site, building and storey
	storey            ref
	world             ref // axis placement at the origin
	contained, spaces []ref
}

// id is the GlobalId of something in the model by its name there.
func (m *model) id(what string) string { return globalID(m.name + "/" + what) }

func (m *model) point(x ...float64) ref     { return m.add("IFCCARTESIANPOINT", reals(x...)) }
func (m *model) direction(x ...float64) ref { return m.add("IFCDIRECTION", reals(x...)) }

// at is a local placement with x along (cos, sin) of the storey.
func (m *model) at(x, y, z, cos, sin float64) ref {
	var along any
	var up any
	if cos != 1 {
		up, along = m.direction(0, 0, 1), m.direction(cos, sin, 0)
	}
	return m.add("IFCLOCALPLACEMENT", m.origin, m.add("IFCAXIS2PLACEMENT3D", m.point(x, y, z), up, along))
}

// begin writes the project in inches down to one storey on the ground.
func (m *model) begin(project, building, storey string) {
	o := m.point(0, 0, 0)
	m.world = m.add("IFCAXIS2PLACEMENT3D", o, nil, nil)
	context := m.add("IFCGEOMETRICREPRESENTATIONCONTEXT", nil, "Model", 3, real(1e-5), m.world, nil)
	sub := func(name string, view enum) ref {
		return m.add("IFCGEOMETRICREPRESENTATIONSUBCONTEXT", name, "Model", derived, derived, derived, derived, context, nil, view, nil)
	}
	m.axis, m.body = sub("Axis", "GRAPH_VIEW"), sub("Body", "MODEL_VIEW")
	p := m.add("IFCPROJECT", m.id("project"), nil, project, "invented", nil, nil, nil, refs(context), m.units())
	m.origin = m.add("IFCLOCALPLACEMENT", nil, m.world)
	site := m.add("IFCSITE", m.id("site"), nil, "Site", nil, nil, m.origin, nil, nil, enum("ELEMENT"), nil, nil, nil, nil, nil)
	b := m.add("IFCBUILDING", m.id("building"), nil, building, nil, nil, m.origin, nil, nil, enum("ELEMENT"), nil, nil, nil)
	m.storey = m.add("IFCBUILDINGSTOREY", m.id("storey"), nil, storey, nil, nil, m.origin, nil, nil, enum("ELEMENT"), real(0))
	m.aggregate("project", p, site)
	m.aggregate("site", site, b)
	m.aggregate("building", b, m.storey)
}

// units are inches with their areas, and degrees of angle.
func (m *model) units() ref {
	dims := func(n ...any) ref { return m.add("IFCDIMENSIONALEXPONENTS", n...) }
	convert := func(kind enum, name string, d ref, unit ref, typ string, factor float64) ref {
		f := m.add("IFCMEASUREWITHUNIT", typed{typ, real(factor)}, unit)
		return m.add("IFCCONVERSIONBASEDUNIT", d, kind, name, f)
	}
	metre := m.add("IFCSIUNIT", derived, enum("LENGTHUNIT"), nil, enum("METRE"))
	square := m.add("IFCSIUNIT", derived, enum("AREAUNIT"), nil, enum("SQUARE_METRE"))
	radian := m.add("IFCSIUNIT", derived, enum("PLANEANGLEUNIT"), nil, enum("RADIAN"))
	return m.add("IFCUNITASSIGNMENT", refs(
		convert("LENGTHUNIT", "INCH", dims(1, 0, 0, 0, 0, 0, 0), metre, "IFCRATIOMEASURE", 0.0254),
		convert("AREAUNIT", "SQUARE INCH", dims(2, 0, 0, 0, 0, 0, 0), square, "IFCRATIOMEASURE", 0.0254*0.0254),
		convert("PLANEANGLEUNIT", "DEGREE", dims(0, 0, 0, 0, 0, 0, 0), radian, "IFCPLANEANGLEMEASURE", math.Pi/180),
	))
}

// end puts everything into the storey.
func (m *model) end() {
	m.add("IFCRELCONTAINEDINSPATIALSTRUCTURE", m.id("contained"), nil, nil, nil, refs(m.contained...), m.storey)
	m.aggregate("storey", m.storey, m.spaces...)
}

func (m *model) aggregate(what string, whole ref, parts ...ref) {
	m.add("IFCRELAGGREGATES", m.id("aggregates "+what), nil, nil, nil, whole, refs(parts...))
}

// block is a rectangle of the local xy plane extruded upwards.
func (m *model) block(b box, z, height float64) ref {
	centre := m.add("IFCAXIS2PLACEMENT2D", m.point((b.x0+b.x1)/2, (b.y0+b.y1)/2), nil)
	profile := m.add("IFCRECTANGLEPROFILEDEF", enum("AREA"), nil, centre, real(b.x1-b.x0), real(b.y1-b.y0))
	foot := m.add("IFCAXIS2PLACEMENT3D", m.point(0, 0, z), nil, nil)
	return m.add("IFCEXTRUDEDAREASOLID", profile, foot, m.direction(0, 0, 1), real(height))
}

// shape is the representation of a product by one solid; kind is SweptSolid or
// Clipping.
func (m *model) shape(kind string, solid ref, more ...ref) ref {
	r := m.add("IFCSHAPEREPRESENTATION", m.body, "Body", kind, refs(solid))
	return m.add("IFCPRODUCTDEFINITIONSHAPE", nil, nil, refs(append(more, r)...))
}

// statusOf gives walls their Pset_WallCommon.Status, new or existing.
func (m *model) statusOf(name, status string, of []ref) {
	states := list{}
	for _, s := range []string{"NEW", "EXISTING", "DEMOLISH", "TEMPORARY", "OTHER", "NOTKNOWN", "UNSET"} {
		states = append(states, typed{"IFCLABEL", s})
	}
	e := m.add("IFCPROPERTYENUMERATION", "PEnum_ElementStatus", states, nil)
	p := m.add("IFCPROPERTYENUMERATEDVALUE", "Status", nil, list{typed{"IFCLABEL", status}}, e)
	s := m.add("IFCPROPERTYSET", m.id("status "+name), nil, "Pset_WallCommon", nil, refs(p))
	m.add("IFCRELDEFINESBYPROPERTIES", m.id("status of "+name), nil, nil, nil, refs(of...), s)
}
