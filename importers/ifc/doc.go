// Package ifc reads building models in IFC2X3, IFC4 and IFC4X3 and returns the
// plan: storeys, walls with the exact shape of both sides, openings, decks,
// ceilings, rooms, and the ledger.
//
// What enters: an .ifc file or an .ifczip archive (whatever it is called).
// What leaves: a plan.Plan on the grid, in the model's world coordinates, and
// for each wall the quantities in floats, unrounded. Heights and ratings in a
// model are claims: they are passed on as such.
//
// Words. The body of a wall is its solid shape. Its sides are the two planes
// that bound its thickness. A section is the region a plane cuts out of a
// solid; the section by a side is taken as the limit from within, so it is the
// face as it would be boarded. Walls of every construction (extrusions, cut by
// half spaces, B-reps, triangles) are brought to their sections by the left
// side, the right side and the middle, and all that follows works on these.
// No solids are ever combined in space.
//
// Frame of a wall: u along the axis from its first end, y to the left, v up
// from the floor of its storey.
package ifc
