// Package layout finds, for each run, where its studs stand and how the sheets
// of both sides hang on them: joints, hooks, rips, tops, and the pieces they
// make. It returns the few best layouts of a run so that cutting can choose.
//
// What enters: a run with its faces, the rules, the boards. What leaves:
// layouts, best first, with every bent rule listed by face and reason.
// Everything inside is in stations along the axis and heights above the
// storey's floor; pieces are turned into their face's frame at the end.
//
// Words used inside, besides those of the trade:
//
//	ply      one thickness of board of one face, with its depth through the wall
//	stretch  what lies between full-height frames and control joints
//	lane     the part of one ply in one stretch
//	column   what lies between two joints of a lane, floor to head
//	part     the height of a column between openings over all its width
//	bit      one piece of a part, between two horizontal joints
//	lay      one way to hang a lane: its joints; off, their place modulo the sheet
//	combo    one lay for each lane of a stretch
//	find     a whole layout as the search holds it, before pieces are cut
//	span     one way to hang a course
//	stack    the heights of the horizontal joints: of plies of even and of odd
//	         depth, which are alike unless a listing or the job staggers them
//
// The search, upright: full sheets allow one lay for each place of the first
// joint. The places that matter are listed (offsets), each lay is costed once
// for each set of horizontal joints, and lays are put together under every
// stud start that puts one of them on the grid. That is exact for one width of
// sheet a ply; the places of control joints and choices beyond the stated
// limits are not searched to the end, and Gap says so. Where nothing legal is
// found a sweep over the stations looks for the fewest narrow pieces, then for
// the least broken rule. Where a zone changes the board along the wall, its ply
// is cut into plies of one depth, one after the other, that meet on a stud.
//
// Lying, two courses on two sides are exact over ends on the grid and one length
// of sheet a course; more are taken in turn, the best partial layouts kept.
//
// Invariants: the pieces of a ply tile its outline less its holes; joints are
// the shared boundaries of pieces; joints along the studs stand on studs, off
// the bands of openings and apart from those of neighbouring plies, except as
// listed. The same run gives the same layouts.
package layout
