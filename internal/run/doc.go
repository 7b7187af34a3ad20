// Package run turns wall segments into runs and faces: collinear touching
// segments of one type merge, junctions are solved once, and each side gets
// its own length, its own top under the deck, its holes and the boardable
// extent of each ply with laps. Marks and fingerprints are given here.
//
// A plan.Plan and a job.Job enter Build, a Set leaves it. Coordinates are the
// drawing's own, heights count from the storey's floor. The same walls give the
// same Set in any order, drawn from either end, or split into parts.
//
// Words inside the package, in the order of the stages:
//
//	band     a strip of wall with an axis and a thickness: a run to be, or
//	         structure that runs meet (existing walls, walls left out)
//	node     a place where bands meet; a free end is a node of its own
//	arm      what a band sends into a node: one where it ends, two where it passes
//	wedge    the room between an arm and the next counter-clockwise
//	cut      where an arm's side ends at a node: at the corner of its wedge
//	edge     a stretch of a band's side from corner to corner: what is seen
//	ring     the edges round a closed space, walked with the space on the left
//	face     one edge, or several where the board runs on behind a stem
//
// Invariants: the parts of faces round a closed room add up to its perimeter;
// a face's board is its finished length plus the lap at each end, less fit slack
// at inside corners; every wall of the plan is in a run's Sources or in Set.Left.
package run
