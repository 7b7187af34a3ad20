package main

// clinic is an invented veterinary clinic, 72 × 40 ft inside an existing shell,
// under a roof that rises 1/2 in per ft from south to north. Inches; the plan
// and the model are drawn from this one description.
type clinic struct {
	w, h     float64 // inside the shell
	walls    []wall
	doors    []doorway
	wrapped  gap     // opening without a frame
	light    gap     // borrowed light
	columns  []box   // existing
	counters []box   // floor-mounted
	rooms    []space // in the order of their numbers
}

// Thicknesses of the finished walls.
const (
	p1Thick    = 4.875 // 3-5/8 stud, 5/8 each side; P2 likewise
	p3Thick    = 6.125 // 3-5/8 stud, two plies each side
	p4Thick    = 7.25  // 6 stud, 5/8 each side
	shellThick = 8.0
)

// Heights above the floor, and sizes of doors.
const (
	deckSouth     = 132.0 // underside of the deck along the inside of the south wall
	deckRise      = 1.0 / 24
	ceilingHeight = 108.0
	doorWidth     = 36.0 // leaf
	doorHeight    = 84.0
	lightSill     = 42.0
	lightHeight   = 42.0
	wrappedHead   = 96.0
)

// doorway is a door in a wall: at is its centre along the wall, in drawing
// coordinates.
type doorway struct {
	wall   int
	at     float64
	mark   string
	mirror bool
}

// space is a room: where its name stands and, as rectangles between finished
// faces, its floor.
type space struct {
	x, y         float64
	number, name string
	floor        box
	ceiling      float64
}

func vetClinic() clinic {
	const half = shellThick / 2
	c := clinic{w: 864, h: 480}
	w, h := c.w, c.h
	c.walls = []wall{
		{-shellThick, -half, w + shellThick, -half, shellThick, "A-WALL-E"}, {-shellThick, h + half, w + shellThick, h + half, shellThick, "A-WALL-E"},
		{-half, -half, -half, h + half, shellThick, "A-WALL-E"}, {w + half, -half, w + half, h + half, shellThick, "A-WALL-E"},
		{192, 210, w, 210, p1Thick, "A-WALL-FULL"}, // 4 corridor, south side
		{0, 276, w, 276, p1Thick, "A-WALL-FULL"},   // 5 corridor, north side
		{192, 0, 192, 210, p1Thick, "A-WALL-FULL"}, // 6 reception
		{312, 0, 312, 210, p1Thick, "A-WALL"},      // 7 exam 1 | exam 2
		{432, 0, 432, 210, p1Thick, "A-WALL"},      // 8 exam 2 | exam 3
		{552, 0, 552, 210, p1Thick, "A-WALL"},      // 9 exam 3 | pharmacy
		{696, 0, 696, 210, p1Thick, "A-WALL"},      // 10 pharmacy | laboratory
		{264, 276, 264, h, p1Thick, "A-WALL"},      // 11 treatment | surgery
		{456, 276, 456, h, p3Thick, "A-WALL-FULL"}, // 12 surgery | isolation
		{576, 276, 576, h, p3Thick, "A-WALL-FULL"}, // 13 isolation | kennel
		{756, 276, 756, h, p4Thick, "A-WALL-FULL"}, // 14 kennel | wet rooms
		{756, 384, w, 384, p1Thick, "A-WALL"},      // 15 toilet | store
		{96, 276, 96, 216, p1Thick, "A-WALL"},      // 16 wing wall at the scales, free end
	}
	c.doors = []doorway{
		{4, 252, "101", false}, {4, 372, "102", false}, {4, 492, "103", false}, {4, 620, "104", true}, {4, 780, "105", false},
		{5, 360, "201", false}, {5, 516, "202", true}, {5, 660, "203", false}, {5, 810, "204", true}, {14, 432, "205", false},
	}
	c.wrapped = gap{5, 150, 72} // to the treatment room
	c.light = gap{6, 105, 48}   // reception to exam 1
	c.columns = []box{{20, 20, 28, 28}, {20, 452, 28, 460}, {836, 20, 844, 28}}
	c.counters = []box{{556, 4, 580, 190}, {700, 4, 724, 190}, {270, 452, 450, 476}, {4, 452, 200, 476}}
	c.rooms = vetRooms(w, h)
	return c
}

func vetRooms(w, h float64) []space {
	const p1, p3, p4 = p1Thick / 2, p3Thick / 2, p4Thick / 2
	south, corridor, north := 210-p1, 276-p1, 276+p1
	return []space{
		{90, 130, "100", "RECEPTION", box{0, 0, 192 - p1, corridor}, ceilingHeight},
		{252, 110, "101", "EXAM 1", box{192 + p1, 0, 312 - p1, south}, ceilingHeight},
		{372, 110, "102", "EXAM 2", box{312 + p1, 0, 432 - p1, south}, ceilingHeight},
		{492, 110, "103", "EXAM 3", box{432 + p1, 0, 552 - p1, south}, ceilingHeight},
		{624, 110, "104", "PHARMACY", box{552 + p1, 0, 696 - p1, south}, ceilingHeight},
		{780, 110, "105", "LABORATORY", box{696 + p1, 0, w, south}, ceilingHeight},
		{520, 243, "106", "CORRIDOR", box{192 - p1, 210 + p1, w, corridor}, ceilingHeight},
		{130, 390, "200", "TREATMENT", box{0, north, 264 - p1, h}, ceilingHeight},
		{360, 390, "201", "SURGERY", box{264 + p1, north, 456 - p3, h}, ceilingHeight},
		{516, 390, "202", "ISOLATION", box{456 + p3, north, 576 - p3, h}, ceilingHeight},
		{666, 390, "203", "KENNEL", box{576 + p3, north, 756 - p4, h}, ceilingHeight},
		{810, 330, "204", "TOILET", box{756 + p4, north, w, 384 - p1}, ceilingHeight},
		{810, 432, "205", "STORE", box{756 + p4, 384 + p1, w, h}, 120},
	}
}

// deck is the underside of the structure above a line across the slope.
func deck(y float64) float64 { return deckSouth + y*deckRise }
