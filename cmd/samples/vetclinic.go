package main

import "fmt"

// vetPlan draws the clinic's floor plan as an architect would.
func vetPlan() *drawing {
	c := vetClinic()
	d := &drawing{unit: "inch", layers: []layer{
		{"A-WALL", 7, false}, {"A-WALL-FULL", 7, false}, {"A-WALL-E", 8, false}, {"A-DOOR", 3, false}, {"A-DOOR-IDEN", 3, false}, {"A-GLAZ", 4, false},
		{"A-WALL-HEAD", 8, true}, {"A-WALL-IDEN", 2, false}, {"A-AREA-IDEN", 2, false}, {"A-FLOR-CASE", 9, false}, {"A-FLOR-PATT", 9, false},
		{"A-ANNO-DIMS", 1, false}, {"A-ANNO-NOTE", 7, false}, {"A-ANNO-TTLB", 7, false}, {"A-COLS", 5, false},
	}}
	ws := c.walls
	var gaps []gap
	d.blocks = append(d.blocks, doorBlock("DOOR-SINGLE", doorWidth, 1.75), windowBlock("LIGHT-48", 48, p1Thick))
	for _, q := range c.doors {
		gaps = append(gaps, gap{q.wall, q.at, doorWidth})
		d.door(ws[q.wall], q.at, doorWidth, q.mark, q.mirror)
	}
	gaps = append(gaps, c.wrapped, c.light)
	d.head(ws[c.wrapped.wall], c.wrapped.centre, c.wrapped.width)
	d.inserts = append(d.inserts, insert{
		block: "LIGHT-48", at: pt{ws[c.light.wall].x0, c.light.centre}, angle: 90, layer: "A-GLAZ",
		attribs: [][2]string{{"MARK", "W1"}, {"WIDTH", "48"}, {"HEIGHT", "42"}, {"SILL", "42"}},
	})
	d.lines = append(d.lines, faces(ws, gaps, nil, "", "A-WALL")...)
	for _, q := range c.columns {
		d.rects = append(d.rects, rect{q, "A-COLS"})
	}
	d.vetNames(c.rooms)
	d.vetNotes(&c)
	return d
}

// door places a door: a gap in a wall with its block at the hinge jamb.
func (d *drawing) door(w wall, at, clear float64, mark string, mirror bool) {
	in := insert{block: "DOOR-SINGLE", layer: "A-DOOR", mirror: mirror,
		attribs: [][2]string{{"MARK", mark}, {"WIDTH", "36"}, {"HEIGHT", "84"}}}
	jamb := at - clear/2
	if mirror {
		jamb = at + clear/2
	}
	if w.y0 == w.y1 {
		in.at = pt{jamb, w.y0}
	} else {
		in.at, in.angle = pt{w.x0, jamb}, 90
	}
	d.inserts = append(d.inserts, in)
}

// head draws the two dashed head lines of an opening without a door.
func (d *drawing) head(w wall, at, width float64) {
	b := gap{0, at, width}.box([]wall{w})
	if w.y0 == w.y1 {
		d.line("A-WALL-HEAD", b.x0, b.y0, b.x1, b.y0)
		d.line("A-WALL-HEAD", b.x0, b.y1, b.x1, b.y1)
		return
	}
	d.line("A-WALL-HEAD", b.x0, b.y0, b.x0, b.y1)
	d.line("A-WALL-HEAD", b.x1, b.y0, b.x1, b.y1)
}

// vetNames writes the rooms' names and the walls' tags.
func (d *drawing) vetNames(rooms []space) {
	for _, r := range rooms {
		d.text("A-AREA-IDEN", r.x, r.y, 8, r.name)
		d.text("A-AREA-IDEN", r.x, r.y-12, 6, r.number)
	}
	for _, t := range []struct {
		x, y float64
		s    string
	}{
		{430, 224, "P2"}, {700, 262, "P2"}, {178, 40, "P2"}, {324, 60, "P1"}, {444, 60, "P1"}, {564, 60, "P1"}, {708, 60, "P1"}, {276, 440, "P1"},
		{470, 440, "P3"}, {590, 440, "P3"}, {742, 340, "P4"}, {840, 372, "P1"}, {84, 236, "P1"},
	} {
		d.tag("A-WALL-IDEN", t.x, t.y, 7, t.s)
	}
}

func (d *drawing) vetNotes(c *clinic) {
	w, h := c.w, c.h
	for _, q := range c.counters {
		d.rects = append(d.rects, rect{q, "A-FLOR-CASE"})
	}
	d.hatches = append(d.hatches, hatch{box{762, 280, 860, 380}, "A-FLOR-PATT"})
	x := []float64{0, 192, 312, 432, 552, 696, w}
	for i := 1; i < len(x); i++ {
		d.measure("A-ANNO-DIMS", dim{pt{x[i-1], -8}, pt{x[i], -8}, -40, feet(x[i] - x[i-1])})
	}
	d.measure("A-ANNO-DIMS", dim{pt{0, -8}, pt{w, -8}, -70, feet(w)})
	d.measure("A-ANNO-DIMS", dim{pt{-8, 0}, pt{-8, h}, -50, feet(h)})
	for i, s := range []string{
		"INVENTED FIT-OUT FOR DEMONSTRATION", "VETERINARY CLINIC, FLOOR PLAN", "DIMENSIONS TO WALL CENTRES",
		"UNDERSIDE OF DECK 11'-0\" AT SOUTH, 12'-8\" AT NORTH; CEILINGS 9'-0\"", "P1 3-5/8 STUD, 5/8 EACH SIDE, TO CEILING + 6", "P2 AS P1, TO DECK", "P3 3-5/8 STUD, TWO PLIES EACH SIDE, TO DECK", "P4 6 STUD, 5/8 EACH SIDE, TO DECK",
	} {
		d.texts = append(d.texts, text{pt{0, -110 - 12*float64(i)}, 7, s, "A-ANNO-NOTE", false})
	}
	for _, o := range []float64{0, 6} { // title block with a double border
		b := box{-100 - o, -240 - o, w + 60 + o, h + 60 + o}
		d.line("A-ANNO-TTLB", b.x0, b.y0, b.x1, b.y0)
		d.line("A-ANNO-TTLB", b.x1, b.y0, b.x1, b.y1)
		d.line("A-ANNO-TTLB", b.x1, b.y1, b.x0, b.y1)
		d.line("A-ANNO-TTLB", b.x0, b.y1, b.x0, b.y0)
	}
}

// feet writes whole inches in feet and inches.
func feet(in float64) string { return fmt.Sprintf("%d'-%d\"", int(in)/12, int(in)%12) }
