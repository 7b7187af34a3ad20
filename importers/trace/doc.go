// Package trace turns the linework of a drawing into walls, openings, rooms
// and obstacles, and accounts for every entity on a mapped layer.
//
// What enters: a linework.Drawing (millimetres, blocks expanded), a Mapping
// that says what each layer holds, and Options. What leaves: a plan.Plan with
// one drawing's walls, openings, rooms, obstacles, texts, linework for the
// review page, ledger and exceptions.
//
// Glossary.
//
//   - edge: a maximal straight (or concentric) stretch of wall linework, lines
//     that overlap, touch or miss each other by less than Eps merged.
//   - frame: the coordinates of one direction: s along it, r across it, both on
//     the integer grid. An arc's frame is polar: s runs round its centre.
//   - slice: a stretch on which two edges face each other as the two faces of
//     one wall.
//   - strand: slices on one axis line of one thickness, in order.
//   - band: the area a wall covers.
//   - gap: a stretch of a strand without slices: a crossing wall, an opening,
//     a drafting slip, or a doubt.
//
// The way: clean (edges) → learn thicknesses → pair (slices) → strands →
// gaps and openings → nodes where walls meet → rooms → ledger. Curves, poche
// and centrelines join at the edges or at the strands.
// A second method, the thin faces of the linework as drawn, gives the walls'
// area once more; where the two differ a person is told. A drawing whose lines
// do not pair up is tried again with directions taken more loosely, and that is
// told too.
//
// Invariants. Nothing depends on the order of entities, on the direction of
// lines or on how a line is split. A plan turned by quarter turns gives the
// same lengths to the byte: every frame is reduced to the first quadrant by
// exact turns and all rounding is symmetric about zero. Products are written so
// that no compiler may fuse them, so all machines agree.
package trace
