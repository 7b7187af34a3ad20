package main

import (
	"fmt"
	"math"
)

// makeup is a wall type: its name and its layers from one side to the other.
type makeup struct {
	name   string
	layers []material
	height float64 // of its walls; 0 = to the deck
}

// use is the predefined type of the make-up's walls.
func (q makeup) use() enum {
	if q.name == "SHELL" {
		return "SOLIDWALL"
	}
	return "PARTITIONING"
}

type material struct {
	name  string
	thick float64
}

// The make-ups of the fit-out and of the shell. P1 stops above the ceiling.
var makeups = []makeup{
	{"P1", []material{{board, 0.625}, {"Metal stud 3-5/8", 3.625}, {board, 0.625}}, ceilingHeight + 6},
	{"P2", []material{{board, 0.625}, {"Metal stud 3-5/8", 3.625}, {board, 0.625}}, 0},
	{"P3", []material{{board, 0.625}, {board, 0.625}, {"Metal stud 3-5/8", 3.625}, {board, 0.625}, {board, 0.625}}, 0},
	{"P4", []material{{board, 0.625}, {"Metal stud 6", 6}, {board, 0.625}}, 0},
	{"SHELL", []material{{"Concrete masonry", shellThick}}, 0},
}

const board = "Gypsum board 5/8"

// makeupOf tells the make-up of one of the clinic's walls, as its tag and layer
// do on the plan.
func makeupOf(w wall) int {
	switch {
	case w.layer == "A-WALL-E":
		return 4
	case w.thick == p3Thick:
		return 2
	case w.thick == p4Thick:
		return 3
	case w.layer == "A-WALL-FULL":
		return 1
	}
	return 0
}

// joint is a wall's end at another wall: the axis goes on to the other's axis,
// the body stops before or behind it.
type joint struct {
	wall, through int
	atEnd         bool   // of wall; else at its start
	where         string // on through: ATPATH, ATSTART, ATEND
	past          bool   // the body covers the corner
}

// clinicJoints are the clinic's joints: the walls of the plan that end at
// another, which goes through.
var clinicJoints = []joint{
	{2, 0, false, "ATSTART", false}, {2, 1, true, "ATSTART", false}, {3, 0, false, "ATEND", false}, {3, 1, true, "ATEND", false},
	{4, 6, false, "ATEND", true}, {4, 3, true, "ATPATH", false}, {5, 2, false, "ATPATH", false}, {5, 3, true, "ATPATH", false},
	{6, 0, false, "ATPATH", false}, {6, 4, true, "ATSTART", false},
	{7, 0, false, "ATPATH", false}, {7, 4, true, "ATPATH", false}, {8, 0, false, "ATPATH", false}, {8, 4, true, "ATPATH", false},
	{9, 0, false, "ATPATH", false}, {9, 4, true, "ATPATH", false}, {10, 0, false, "ATPATH", false}, {10, 4, true, "ATPATH", false},
	{11, 5, false, "ATPATH", false}, {11, 1, true, "ATPATH", false}, {12, 5, false, "ATPATH", false}, {12, 1, true, "ATPATH", false},
	{13, 5, false, "ATPATH", false}, {13, 1, true, "ATPATH", false}, {14, 5, false, "ATPATH", false}, {14, 1, true, "ATPATH", false},
	{15, 14, false, "ATPATH", false}, {15, 3, true, "ATPATH", false}, {16, 5, false, "ATPATH", false},
}

// vetModel writes the clinic of the plan as a building model: the same walls,
// openings and rooms, and the sloped deck as a roof slab.
func vetModel() *model {
	c := vetClinic()
	m := &model{name: "vet-clinic"}
	m.begin("Veterinary clinic, interior fit-out", "Veterinary clinic", "Level 1")
	walls := make([]ref, len(c.walls))
	for i := range c.walls {
		walls[i] = m.wall(&c, i)
	}
	m.contained = append(m.contained, walls...)
	m.wallTypes(&c, walls)
	m.connect(walls)
	m.openings(&c, walls)
	m.deck(&c)
	for i, b := range c.columns {
		place := m.at(0, 0, 0, 1, 0)
		m.contained = append(m.contained, m.add("IFCCOLUMN", m.id(fmt.Sprint("column ", i)), nil, fmt.Sprint("C", i+1), nil, nil, place,
			m.shape("SweptSolid", m.block(b, 0, deck(b.y0))), nil, enum("COLUMN")))
	}
	for i, b := range c.counters {
		place := m.at(0, 0, 0, 1, 0)
		m.contained = append(m.contained, m.add("IFCFURNITURE", m.id(fmt.Sprint("counter ", i)), nil, "Counter", nil, nil, place,
			m.shape("SweptSolid", m.block(b, 0, 36)), nil, enum("SHELF")))
	}
	for _, r := range c.rooms {
		place := m.at(0, 0, 0, 1, 0)
		m.spaces = append(m.spaces, m.add("IFCSPACE", m.id("space "+r.number), nil, r.number, nil, nil, place,
			m.shape("SweptSolid", m.block(r.floor, 0, r.ceiling)), r.name, enum("ELEMENT"), enum("INTERNAL"), nil))
	}
	m.end()
	return m
}

// course is where a wall begins, which way it runs and how long its axis is.
func (w wall) course() (start pt, cos, sin, length float64) {
	dx, dy := w.x1-w.x0, w.y1-w.y0
	length = math.Hypot(dx, dy)
	return pt{w.x0, w.y0}, dx / length, dy / length, length
}

// wall writes a wall: its axis between the axes it joins, its body stopping at
// the faces it meets, cut under the deck where it goes that high.
func (m *model) wall(c *clinic, i int) ref {
	w := c.walls[i]
	start, cos, sin, length := w.course()
	place := m.at(start.x, start.y, 0, cos, sin)
	body := box{0, -w.thick / 2, length, w.thick / 2}
	axis := [2]float64{0, length}
	for _, j := range clinicJoints {
		if j.wall != i {
			continue
		}
		back := c.walls[j.through].thick / 2
		if j.past {
			back = -back
		}
		// Walls of the fit-out are drawn to the face of the shell, others to axes.
		switch shell := c.walls[j.through].thick == shellThick && w.thick != shellThick; {
		case shell && j.atEnd:
			axis[1] += back
		case shell:
			axis[0] -= back
		case j.atEnd:
			body.x1 -= back
		default:
			body.x0 += back
		}
	}
	line := m.add("IFCPOLYLINE", refs(m.point(axis[0], 0), m.point(axis[1], 0)))
	curve := m.add("IFCSHAPEREPRESENTATION", m.axis, "Axis", "Curve2D", refs(line))
	kind := makeups[makeupOf(w)]
	height, form := kind.height, "SweptSolid"
	if i == 15 {
		height = c.rooms[len(c.rooms)-1].ceiling + 6 // above the higher ceiling beside it
	}
	var solid ref
	if height > 0 {
		solid = m.block(body, 0, height)
	} else {
		form = "Clipping"
		solid = m.underDeck(m.block(body, 0, deck(c.h+shellThick)+1), start, cos, sin)
	}
	return m.add("IFCWALL", m.id(fmt.Sprint("wall ", i)), nil, fmt.Sprintf("%s-%02d", kind.name, i), nil, nil, place, m.shape(form, solid, curve), nil, kind.use())
}

// underDeck cuts off what stands above the deck, in the frame of a wall.
func (m *model) underDeck(solid ref, start pt, cos, sin float64) ref {
	// Upward normal of the deck (0, −rise, 1), turned into the wall's frame.
	normal := m.direction(-deckRise*sin, -deckRise*cos, 1)
	along := m.direction(1, 0, deckRise*sin)
	plane := m.add("IFCPLANE", m.add("IFCAXIS2PLACEMENT3D", m.point(0, 0, deck(start.y)), normal, along))
	return m.add("IFCBOOLEANCLIPPINGRESULT", enum("DIFFERENCE"), solid, m.add("IFCHALFSPACESOLID", plane, false))
}

// wallTypes writes the make-ups with their layers and gives every wall its own,
// the stack of layers centred on the axis; and what stands already its status.
func (m *model) wallTypes(c *clinic, walls []ref) {
	materials := map[string]ref{}
	for k, q := range makeups {
		var of []ref
		thick := 0.0
		for i := range c.walls {
			if makeupOf(c.walls[i]) == k {
				of = append(of, walls[i])
			}
		}
		var layers []ref
		for _, l := range q.layers {
			if materials[l.name] == 0 {
				materials[l.name] = m.add("IFCMATERIAL", l.name, nil, nil)
			}
			layers = append(layers, m.add("IFCMATERIALLAYER", materials[l.name], real(l.thick), nil, nil, nil, nil, nil))
			thick += l.thick
		}
		set := m.add("IFCMATERIALLAYERSET", refs(layers...), q.name, nil)
		t := m.add("IFCWALLTYPE", m.id("type "+q.name), nil, q.name, nil, nil, nil, nil, nil, nil, q.use())
		m.add("IFCRELASSOCIATESMATERIAL", m.id("layers of type "+q.name), nil, nil, nil, refs(t), set)
		use := m.add("IFCMATERIALLAYERSETUSAGE", set, enum("AXIS2"), enum("POSITIVE"), real(-thick/2), nil)
		m.add("IFCRELASSOCIATESMATERIAL", m.id("layers of "+q.name), nil, nil, nil, refs(of...), use)
		m.add("IFCRELDEFINESBYTYPE", m.id("type of "+q.name), nil, nil, nil, refs(of...), t)
		state := "NEW"
		if q.name == "SHELL" {
			state = "EXISTING"
		}
		m.statusOf(q.name, state, of)
	}
}

// connect writes which wall ends at which.
func (m *model) connect(walls []ref) {
	for _, j := range clinicJoints {
		end := enum("ATSTART")
		if j.atEnd {
			end = "ATEND"
		}
		m.add("IFCRELCONNECTSPATHELEMENTS", m.id(fmt.Sprint("joint ", j.wall, j.through)), nil, nil, nil, nil,
			walls[j.wall], walls[j.through], list{}, list{}, enum(j.where), end)
	}
}

// Sizes of what stands in an opening over its leaf: a welded frame with 2 in
// faces, and 1/4 in of play round it.
const (
	frameFaces = 2.0
	framePlay  = 0.25
)

// openings writes the rough openings and what fills them.
func (m *model) openings(c *clinic, walls []ref) {
	for _, q := range c.doors {
		width, height := doorWidth+2*frameFaces, doorHeight+frameFaces
		void, place := m.void(c, walls, q.wall, q.at, "door "+q.mark, width+framePlay, 0, height+framePlay)
		leaf := m.shape("SweptSolid", m.block(box{-doorWidth / 2, -0.875, doorWidth / 2, 0.875}, 0, doorHeight))
		d := m.add("IFCDOOR", m.id("door "+q.mark), nil, q.mark, nil, nil, place, leaf, nil,
			real(height), real(width), enum("DOOR"), enum("SINGLE_SWING_LEFT"), nil)
		m.fill("door "+q.mark, void, d)
	}
	m.void(c, walls, c.wrapped.wall, c.wrapped.centre, "wrapped", c.wrapped.width, 0, wrappedHead)
	void, place := m.void(c, walls, c.light.wall, c.light.centre, "light", c.light.width, lightSill, lightHeight)
	glass := m.shape("SweptSolid", m.block(box{-c.light.width / 2, -0.125, c.light.width / 2, 0.125}, 0, lightHeight))
	w := m.add("IFCWINDOW", m.id("window W1"), nil, "W1", nil, nil, place, glass, nil,
		real(lightHeight), real(c.light.width), enum("WINDOW"), enum("SINGLE_PANEL"), nil)
	m.fill("light", void, w)
}

// void cuts an opening into a wall and returns it with the placement of its
// middle at its sill.
func (m *model) void(c *clinic, walls []ref, i int, at float64, name string, width, sill, height float64) (opening, place ref) {
	w := c.walls[i]
	start, cos, sin, _ := w.course()
	p := pt{at, start.y}
	if sin != 0 {
		p = pt{start.x, at}
	}
	place = m.at(p.x, p.y, sill, cos, sin)
	b := box{-width / 2, -w.thick, width / 2, w.thick}
	opening = m.add("IFCOPENINGELEMENT", m.id("opening "+name), nil, "Opening "+name, nil, nil, place, m.shape("SweptSolid", m.block(b, 0, height)), nil, enum("OPENING"))
	m.add("IFCRELVOIDSELEMENT", m.id("voids "+name), nil, nil, nil, walls[i], opening)
	return opening, place
}

func (m *model) fill(name string, void, by ref) {
	m.add("IFCRELFILLSELEMENT", m.id("fills "+name), nil, nil, nil, void, by)
	m.contained = append(m.contained, by)
}

// deck writes the roof as a slab laid in the slope, 6 in thick, out to the
// outside of the shell.
func (m *model) deck(c *clinic) {
	const thick = 6.0
	south, north := -shellThick, c.h+shellThick
	slope := math.Hypot(1, deckRise)
	up, east := m.direction(0, -deckRise, 1), m.direction(1, 0, 0)
	place := m.add("IFCLOCALPLACEMENT", m.origin, m.add("IFCAXIS2PLACEMENT3D", m.point(0, south, deck(south)), up, east))
	body := m.block(box{-shellThick, 0, c.w + shellThick, (north - south) * slope}, 0, thick)
	roof := m.add("IFCROOF", m.id("roof"), nil, "Roof", nil, nil, m.at(0, 0, 0, 1, 0), nil, nil, enum("SHED_ROOF"))
	slab := m.add("IFCSLAB", m.id("roof slab"), nil, "Roof deck", nil, nil, place, m.shape("SweptSolid", body), nil, enum("ROOF"))
	m.aggregate("roof", roof, slab)
	m.contained = append(m.contained, roof)
}
