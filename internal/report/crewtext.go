package report

import "boardrun/internal/measure"

// Cautions stand on the first page of what the crew is given. Common practice
// and the trade's own warnings; local codes and licensed practice govern.
var Cautions = []string{
	"These pages are a layout and an estimate, not a design. Local codes, the contract drawings, the listed designs and the decisions of licensed people come before anything printed here.",
	"Rated walls: board, layers, joints, screws and the head of the wall follow the listed design to the letter. Where these pages differ, the listing holds: stop and ask.",
	"Heavy sheets: weigh them in mind before lifting. Pieces marked TWO PEOPLE take two; local law may ask for two sooner. Stack flat, in pairs, never leaning where they can fall, and check that the floor carries the stack.",
	"Lifts, ladders and scaffolds: only trained people, on level floor, brakes on, guard rails up; nobody under a raised sheet; no board carried up a ladder. Keep clear of live wires and sprinkler heads.",
	"Dust: cutting and sanding gypsum board and compound make dust that may hold silica. Score and snap rather than saw, draw dust off where it is made, wear the mask the site rules ask for.",
	"Knives and screws: cut away from the hand, gloves on for steel studs and tracks, eyes covered when cutting overhead. Look behind the board before screwing: wires, pipes, gas.",
	"A measured height beats a printed one: the deck is rarely quite as drawn. Measure left and right of every top before it is cut.",
}

// Step is one step of hanging a side.
type Step struct{ Title, Text string }

// Steps are the hanging steps of vertical sheets on steel studs, printed once.
// Common practice, none published; spacings are the rules in force.
func (w *Draft) Steps() []Step {
	p := w.p
	l := func(id string, v measure.Length) string { return p.cut(w.ruleLength(id, v)).Text + " " + p.inName() }
	low := pick(p.sys, "6, 4 and 2 ft", "1800, 1200 and 600 mm")
	marks := pick(p.sys, "16 and 32", "400 and 800")
	return []Step{
		{"Mark", "Before a sheet stands, mark its centres top and bottom from the starting edge: " + marks + ", or what its row says. The studs are pulled to the marks, never the marks to the studs."},
		{"First sheet", "At the start end. Set it up off the floor by the floor gap, plumb its far edge by laser, and screw it off whole: it is the datum of the side."},
		{"Joint edge", "Next sheet tight to the edge. Three screws down the joint edge at " + low + "."},
		{"Spacer", "A spacer of " + pick(p.sys, "1/2 in", "12 mm") + " stands just inside the far mark at the floor. No bottom screw beside it yet."},
		{"Far edge", "One track screw at the far edge. Pull the far stud to its mark; screws at " + low + "."},
		{"Track", "Spacer out. The rest of the track row."},
		{"Setting screws", "From the ladder or lift: one setting screw near the top in every stud crossed, on the marks. That is the tack pass; go on to the next sheet."},
		{"Screw off", "After the whole run stands: edges at " + l("screw-edge", 12*measure.Inch) + ", field at " + l("screw-field", 16*measure.Inch) + ", beside, over and under openings at " + l("screw-opening", 8*measure.Inch) +
			". At least " + l("edge-distance", 3*measure.EighthInch) + " from edges and ends. Studs further apart than " + l("wide-spacing", 16*measure.Inch) + ": " + l("screw-wide", 12*measure.Inch) + " everywhere."},
		{"Slip line", "Nothing is screwed above the slip line: not board, not stud, not jamb. The deck must move."},
		{"Tops", "First the top that is full width with the fewest cut-outs: the others are measured off its edge and squared from its head. Measure left and right of each. A top is screwed off at once."},
		{"Second side", "After inspection and insulation. It starts at the same end of the wall, so that no joint stands opposite a joint."},
	}
}

// ReadingNotes say how lengths and pictures are to be read.
func (w *Draft) ReadingNotes() []string {
	unit := "Cut sizes are inches and eighths, rounded down: 94-3/8."
	if w.Metric() {
		unit = "Cut sizes are whole millimetres, rounded down."
	}
	return []string{
		unit + " Width is along the wall; left and right are as you face the side.",
		"Numbers under the floor are stud centres from the starting edge of the side; bold ones carry a joint.",
		"Heavy line: joint to finish; one that is named control joint stays open and takes its bead, in every layer. Heavy dashes: joint above the ceiling. Dotted with a wedge: stud added for a joint. Thin solid upright: jamb, corner or tee.",
		"White: whole sheet or hook. Hatched: top. Grey: rip, header or leg. Crossed: opening.",
		"Notches and cut-outs are measured from the piece's own starting edge and its bottom; the small wedge marks that corner.",
	}
}
