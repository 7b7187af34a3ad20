package main

import "fmt"

// vetClinic draws an invented veterinary clinic, 72 × 40 ft inside an existing
// shell, under a roof that rises from south to north. Inches.
func vetClinic() *drawing {
	d := &drawing{unit: "inch", layers: []layer{
		{"A-WALL", 7, false}, {"A-WALL-FULL", 7, false}, {"A-WALL-E", 8, false}, {"A-DOOR", 3, false}, {"A-DOOR-IDEN", 3, false}, {"A-GLAZ", 4, false},
		{"A-WALL-HEAD", 8, true}, {"A-WALL-IDEN", 2, false}, {"A-AREA-IDEN", 2, false}, {"A-FLOR-CASE", 9, false}, {"A-FLOR-PATT", 9, false},
		{"A-ANNO-DIMS", 1, false}, {"A-ANNO-NOTE", 7, false}, {"A-ANNO-TTLB", 7, false}, {"A-COLS", 5, false},
	}}
	const (
		p1 = 4.875 // 3-5/8 stud, 5/8 each side
		p3 = 6.125 // 3-5/8 stud, two plies each side
		p4 = 7.25  // 6 stud, 5/8 each side
		ex = 8.0
		w  = 864.0 // inside the shell
		h  = 480.0
	)
	half := ex / 2
	shell := []wall{
		{-ex, -half, w + ex, -half, ex, "A-WALL-E"}, {-ex, h + half, w + ex, h + half, ex, "A-WALL-E"},
		{-half, -half, -half, h + half, ex, "A-WALL-E"}, {w + half, -half, w + half, h + half, ex, "A-WALL-E"},
	}
	ws := append(shell,
		wall{192, 210, w, 210, p1, "A-WALL-FULL"}, // 4 corridor, south side
		wall{0, 276, w, 276, p1, "A-WALL-FULL"},   // 5 corridor, north side
		wall{192, 0, 192, 210, p1, "A-WALL-FULL"}, // 6 reception
		wall{312, 0, 312, 210, p1, "A-WALL"},      // 7 exam 1 | exam 2
		wall{432, 0, 432, 210, p1, "A-WALL"},      // 8 exam 2 | exam 3
		wall{552, 0, 552, 210, p1, "A-WALL"},      // 9 exam 3 | pharmacy
		wall{696, 0, 696, 210, p1, "A-WALL"},      // 10 pharmacy | laboratory
		wall{264, 276, 264, h, p1, "A-WALL"},      // 11 treatment | surgery
		wall{456, 276, 456, h, p3, "A-WALL-FULL"}, // 12 surgery | isolation
		wall{576, 276, 576, h, p3, "A-WALL-FULL"}, // 13 isolation | kennel
		wall{756, 276, 756, h, p4, "A-WALL-FULL"}, // 14 kennel | wet rooms
		wall{756, 384, w, 384, p1, "A-WALL"},      // 15 toilet | store
		wall{96, 276, 96, 216, p1, "A-WALL"},      // 16 wing wall at the scales, free end
	)
	type door struct {
		wall   int
		at     float64
		mark   string
		mirror bool
	}
	doors := []door{
		{4, 252, "101", false}, {4, 372, "102", false}, {4, 492, "103", false}, {4, 620, "104", true}, {4, 780, "105", false},
		{5, 360, "201", false}, {5, 516, "202", true}, {5, 660, "203", false}, {5, 810, "204", true}, {14, 432, "205", false},
	}
	const clear = 36.0
	var gaps []gap
	d.blocks = append(d.blocks, doorBlock("DOOR-SINGLE", clear, 1.75), windowBlock("LIGHT-48", 48, p1))
	for _, q := range doors {
		gaps = append(gaps, gap{q.wall, q.at, clear})
		d.door(ws[q.wall], q.at, clear, q.mark, q.mirror)
	}
	gaps = append(gaps, gap{5, 150, 72}) // wrapped opening to the treatment room
	d.head(ws[5], 150, 72)
	gaps = append(gaps, gap{6, 105, 48}) // borrowed light, reception to exam 1
	d.inserts = append(d.inserts, insert{
		block: "LIGHT-48", at: pt{192, 105}, angle: 90, layer: "A-GLAZ",
		attribs: [][2]string{{"MARK", "W1"}, {"WIDTH", "48"}, {"HEIGHT", "42"}, {"SILL", "42"}},
	})
	d.lines = append(d.lines, faces(ws, gaps, nil, "", "A-WALL")...)
	for _, c := range []pt{{24, 24}, {24, 456}, {840, 24}} {
		d.rects = append(d.rects, rect{box{c.x - 4, c.y - 4, c.x + 4, c.y + 4}, "A-COLS"})
	}
	d.vetRooms()
	d.vetNotes(w, h)
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

func (d *drawing) vetRooms() {
	rooms := []struct {
		x, y         float64
		number, name string
	}{
		{90, 130, "100", "RECEPTION"}, {252, 110, "101", "EXAM 1"}, {372, 110, "102", "EXAM 2"}, {492, 110, "103", "EXAM 3"}, {624, 110, "104", "PHARMACY"},
		{780, 110, "105", "LABORATORY"}, {520, 243, "106", "CORRIDOR"}, {130, 390, "200", "TREATMENT"}, {360, 390, "201", "SURGERY"}, {516, 390, "202", "ISOLATION"},
		{666, 390, "203", "KENNEL"}, {810, 330, "204", "TOILET"}, {810, 432, "205", "STORE"},
	}
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

func (d *drawing) vetNotes(w, h float64) {
	for _, c := range []box{{556, 4, 580, 190}, {700, 4, 724, 190}, {270, 452, 450, 476}, {4, 452, 200, 476}} { // counters
		d.rects = append(d.rects, rect{c, "A-FLOR-CASE"})
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
