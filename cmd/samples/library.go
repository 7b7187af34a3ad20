package main

import "fmt"

// libraryWing draws one storey of an invented two-storey library wing, 24 × 14 m
// inside, by centrelines whose layers tell the thickness. Millimetres.
func libraryWing(storey int) *drawing {
	d := &drawing{unit: "mm", layers: []layer{
		{"A-WALL-CNTR-100", 7, false}, {"A-WALL-CNTR-125", 7, false}, {"A-WALL-CNTR-150", 7, false}, {"A-WALL-E", 8, false}, {"A-DOOR-IDEN", 3, false}, {"A-DOOR", 3, false}, {"A-GLAZ", 4, false},
		{"A-WALL-HEAD", 8, true}, {"A-AREA-IDEN", 2, false}, {"A-FLOR-CASE", 9, false}, {"A-ANNO-DIMS", 1, false}, {"A-ANNO-NOTE", 7, false}, {"S-COLS", 5, false},
	}}
	d.blocks = append(d.blocks, doorBlock("DOOR-910", 910, 44), windowBlock("LIGHT-1200", 1200, 125))
	if storey == 1 {
		d.libraryOne()
	} else {
		d.libraryTwo()
	}
	d.rects = append(d.rects, rect{box{0, 0, 24000, 14000}, "A-WALL-E"}, rect{box{-300, -300, 24300, 14300}, "A-WALL-E"}) // existing shell
	for _, x := range []float64{4200, 12600, 22800} {
		d.rects = append(d.rects, rect{box{x - 150, 13700, x + 150, 14000}, "S-COLS"})
	}
	d.measure("A-ANNO-DIMS", dim{pt{0, -400}, pt{24000, -400}, -900, "24000"})
	d.measure("A-ANNO-DIMS", dim{pt{-300, 0}, pt{-300, 14000}, -900, "14000"})
	for i, s := range []string{
		"INVENTED FIT-OUT FOR DEMONSTRATION", fmt.Sprintf("LIBRARY WING, LEVEL %d", storey), "WALLS BY CENTRELINES, THICKNESS IN THE LAYER'S NAME",
	} {
		d.texts = append(d.texts, text{pt{0, -2000 - 300*float64(i)}, 200, s, "A-ANNO-NOTE", false})
	}
	return d
}

// axis draws a centreline broken at its openings, each a door, a light or a
// plain gap.
type opening struct {
	at, width float64
	kind      string // door, light, gap
	mark      string
	height    float64
}

func (d *drawing) axis(layer string, x0, y0, x1, y1 float64, ops ...opening) {
	along := func(s float64) pt {
		if y0 == y1 {
			return pt{x0 + s, y0}
		}
		return pt{x0, y0 + s}
	}
	length := x1 - x0 + y1 - y0
	from := 0.0
	for _, o := range ops {
		a, b := along(from), along(o.at-o.width/2)
		d.line(layer, a.x, a.y, b.x, b.y)
		from = o.at + o.width/2
		d.place(along, y0 == y1, o)
	}
	a, b := along(from), along(length)
	d.line(layer, a.x, a.y, b.x, b.y)
}

func (d *drawing) place(along func(float64) pt, flat bool, o opening) {
	angle := 90.0
	if flat {
		angle = 0
	}
	in := insert{angle: angle, layer: "A-DOOR", attribs: [][2]string{{"MARK", o.mark}, {"WIDTH", fmt.Sprint(o.width)}, {"HEIGHT", fmt.Sprint(o.height)}}}
	switch o.kind {
	case "door":
		in.block, in.at = "DOOR-910", along(o.at-o.width/2)
	case "light":
		in.block, in.at, in.layer = "LIGHT-1200", along(o.at), "A-GLAZ"
		in.attribs = append(in.attribs, [2]string{"SILL", "900"})
	default: // jamb lines across the wall and the head dashed
		for _, s := range []float64{o.at - o.width/2, o.at + o.width/2} {
			p := along(s)
			if flat {
				d.line("A-WALL-HEAD", p.x, p.y-62.5, p.x, p.y+62.5)
			} else {
				d.line("A-WALL-HEAD", p.x-62.5, p.y, p.x+62.5, p.y)
			}
		}
		return
	}
	d.inserts = append(d.inserts, in)
}

func (d *drawing) libraryOne() {
	door := func(at float64, mark string) opening { return opening{at, 910, "door", mark, 2110} }
	d.axis("A-WALL-CNTR-125", 0, 5000, 24000, 5000, door(2000, "1.01"), opening{6500, 1200, "light", "L1", 1200}, door(10000, "1.02"), door(18000, "1.03"))
	d.axis("A-WALL-CNTR-125", 0, 7000, 24000, 7000, door(3000, "1.04"), opening{12000, 2400, "gap", "", 0}, door(21000, "1.05"))
	d.axis("A-WALL-CNTR-100", 8000, 0, 8000, 5000)
	d.axis("A-WALL-CNTR-100", 14000, 0, 14000, 5000, door(2500, "1.06"))
	d.axis("A-WALL-CNTR-150", 7500, 7000, 7500, 14000)
	d.axis("A-WALL-CNTR-150", 16500, 7000, 16500, 14000)
	d.axis("A-WALL-CNTR-100", 16500, 10500, 24000, 10500, door(5000, "1.07"))
	d.axis("A-WALL-CNTR-100", 20000, 0, 20000, 2200)
	for _, r := range []struct {
		x, y         float64
		number, name string
	}{
		{4000, 2500, "1.1", "WORKROOM"}, {11000, 2500, "1.2", "STUDY"}, {19000, 3800, "1.3", "LOCAL HISTORY"}, {12000, 6000, "1.4", "PASSAGE"},
		{3700, 10500, "1.5", "CHILDREN"}, {12000, 10500, "1.6", "READING HALL"}, {20000, 8700, "1.7", "PLANT"}, {20000, 12300, "1.8", "STACK"},
	} {
		d.text("A-AREA-IDEN", r.x, r.y, 250, r.name)
		d.text("A-AREA-IDEN", r.x, r.y-350, 200, r.number)
	}
	d.rects = append(d.rects, rect{box{600, 12800, 6800, 13400}, "A-FLOR-CASE"})
}

func (d *drawing) libraryTwo() {
	door := func(at float64, mark string) opening { return opening{at, 910, "door", mark, 2110} }
	d.axis("A-WALL-CNTR-125", 0, 6000, 24000, 6000, door(4000, "2.01"), door(12000, "2.02"), door(20000, "2.03"))
	d.axis("A-WALL-CNTR-125", 8000, 0, 8000, 6000)
	d.axis("A-WALL-CNTR-125", 16000, 0, 16000, 6000)
	d.axis("A-WALL-CNTR-150", 12000, 6000, 12000, 14000, opening{2000, 2000, "gap", "", 0})
	d.axis("A-WALL-CNTR-100", 12000, 10000, 24000, 10000, door(2500, "2.04"), door(9500, "2.05"))
	d.axis("A-WALL-CNTR-100", 18000, 10000, 18000, 14000)
	for _, r := range []struct {
		x, y         float64
		number, name string
	}{
		{4000, 3000, "2.1", "OFFICE"}, {12000, 3000, "2.2", "MEETING"}, {20000, 3000, "2.3", "ARCHIVE"}, {6000, 10000, "2.4", "GALLERY"},
		{18000, 8000, "2.5", "MUSIC"}, {15000, 12000, "2.6", "STAFF"}, {21000, 12000, "2.7", "STORE"},
	} {
		d.text("A-AREA-IDEN", r.x, r.y, 250, r.name)
		d.text("A-AREA-IDEN", r.x, r.y-350, 200, r.number)
	}
}
